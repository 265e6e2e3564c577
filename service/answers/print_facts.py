"""What the file is as a print file, as the answers carry it: the records of `facts.document`, key by key."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import asdict
from typing import Any

from service.language.spoken import say
from service.language.wording import reason
from service.pdf.facts.document import ActiveContent, Document, Identification, Linearization, Profile

PARTS = ("identification", "output_intents", "profiles", "layers", "features", "active_content", "linearization")


def print_facts(document: Document, known: Callable[[Any, str], Any]) -> dict[str, Any]:
    """`known` gives a value, or null and notes the reason under that JSON pointer."""
    return {part: _plain(known(getattr(document, part), f"/document/{part}")) for part in PARTS}


def _plain(value: Any) -> Any:
    if value is None:
        return None
    if isinstance(value, tuple):
        return [_plain(one) for one in value]
    fields = asdict(value)
    if isinstance(value, Linearization):
        fields["faults"] = [reason(one) for one in value.faults]
    if isinstance(value, Profile):
        fields["damage"] = value.damage and say(value.damage)
    if isinstance(value, Identification) and value.metadata is not None and value.metadata.damage:
        fields["metadata"]["damage"] = say(value.metadata.damage)
    if isinstance(value, ActiveContent) and value.box_mm is not None:
        fields["box_mm"] = [round(one, 3) + 0.0 for one in value.box_mm]
    return fields
