"""What a browser sends of a form that somebody leaves as it is."""

from __future__ import annotations

from collections.abc import Sequence

from service.web.writing.controls import Group, Listing, Part


def filled(parts: Sequence[Part]) -> dict[str, list[str]]:
    sent: dict[str, list[str]] = {}
    for part in parts:
        if isinstance(part, Listing):
            sent |= {entry.name: [""] for entry in part.entries} | filled(part.entries)
        elif isinstance(part, Group):
            sent |= filled((*part.usual, *part.more))
        elif part.kind == "ticks":
            sent[part.name] = list(part.ticked)
        else:
            sent[part.name] = [part.value]
    return sent
