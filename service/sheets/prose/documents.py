"""From one claim a key to the document of a draft: lists in their order, and nothing that a sheet does not take."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from typing import Any

from service.language.spoken import say
from service.language.wording import quoted
from service.sheets.format.validation import SheetRefused, read_sheet
from service.sheets.prose.claims.claim import Claim, Doubt, Value
from service.sheets.prose.ours.lines import demand_said, place_said

_LISTS = ("finishes", "papers", "margin.by_pages", "trim.alternatives")
"""Whose entries are blocks of their own."""
_ORDER = (
    *("file", "pages", "trim", "bleed", "margin", "marks", "color", "images", "text", "lines", "fonts", "transparency"),
    *("finishes", "papers", "levels"),
)


def drafted(kept: Mapping[str, Claim]) -> tuple[dict[str, Any], dict[str, Claim], list[Doubt]]:
    """The sheet document, the claims that it holds, and what a sheet does not take (two values that cannot both be).

    The claims stand by the paths that they had; their own paths are those of the document.
    """
    remaining = dict(kept)
    doubts: list[Doubt] = []
    for _ in range(len(kept) + 1):
        places = numbered(remaining)
        document = document_of({places[path]: claim.value for path, claim in remaining.items()})
        if not document:
            return {}, {}, doubts
        try:
            read_sheet(document)
        except SheetRefused as refused:
            wrong = _concerned(refused, places)
            doubts += [
                Doubt(
                    list_of(path) or path,
                    say(
                        "{value} was read, and it does not fit: {why}",
                        value=quoted(demand_said(path, remaining[path].value), 200), why=why,
                    ),
                    remaining[path].start,
                    remaining[path].end,
                )
                for path, why in wrong.items()
            ]
            remaining = {path: claim for path, claim in remaining.items() if path not in wrong}
        else:
            return document, {path: replace(claim, path=places[path]) for path, claim in remaining.items()}, doubts
    return {}, {}, doubts


def list_of(path: str) -> str | None:
    """The list that a path leads into."""
    return next((one for one in _LISTS if path.startswith(f"{one}.")), None)


def numbered(paths: Iterable[str]) -> dict[str, str]:
    """'papers.uncoated.name' → 'papers.0.name', in the order of the paths; steps by pages in the order of their counts."""
    entries: dict[str, list[str]] = {}
    for path in paths:
        if (mine := list_of(path)) is not None:
            entry = path[len(mine) + 1 :].split(".")[0]
            known = entries.setdefault(mine, [])
            known += [] if entry in known else [entry]
    if "margin.by_pages" in entries:
        entries["margin.by_pages"].sort(key=int)
    found: dict[str, str] = {}
    for path in paths:
        mine = list_of(path)
        if mine is None:
            found[path] = path
        else:
            entry, _, key = path[len(mine) + 1 :].partition(".")
            found[path] = f"{mine}.{entries[mine].index(entry)}.{key}"
    return found


def _concerned(refused: SheetRefused, places: Mapping[str, str]) -> dict[str, str]:
    """The paths that a refusal speaks of; all that are left where it speaks of none of them."""
    wrong: dict[str, str] = {}
    for place, why in refused.errors:
        path = place.strip("/").replace("/", ".")
        why = _in_words(path, why)
        for one, stands in places.items():
            if path and (stands == path or stands.startswith(f"{path}.") or path.startswith(f"{stands}.")):
                wrong[one] = why
    if wrong:
        return wrong
    blocks = {place.strip("/").split("/")[0] for place, _ in refused.errors}
    first, told = refused.errors[0]
    why = _in_words(first.strip("/").replace("/", "."), told)
    inside = {one: why for one in places if one.split(".")[0] in blocks}
    return inside or dict.fromkeys(places, why)


def _in_words(path: str, why: str) -> str:
    """A refusal that begins with its key says the name of the place instead, as the questions do."""
    return f"{quoted(place_said(path), 200)}{why[len(path) :]}" if path and why.startswith(f"{path} ") else why


def document_of(values: Mapping[str, Value]) -> dict[str, Any]:
    """By the paths of the document."""
    document: dict[str, Any] = {block: {} for block in _ORDER}
    for path, value in values.items():
        *blocks, key = _parts(path)
        node: Any = document
        for block in blocks:
            node = node.setdefault(block, {})
        node[key] = value
    return {block: _with_lists(inside) for block, inside in document.items() if inside}


def _parts(path: str) -> list[str]:
    """The name of a rule has a dot of its own."""
    return path.split(".", 1) if path.startswith("levels.") else path.split(".")


def _with_lists(node: Any) -> Any:
    """Blocks whose keys are the numbers of a list, as that list."""
    if not isinstance(node, dict):
        return node
    inside = {key: _with_lists(value) for key, value in node.items()}
    return [inside[key] for key in sorted(inside, key=int)] if inside and all(map(str.isdigit, inside)) else inside
