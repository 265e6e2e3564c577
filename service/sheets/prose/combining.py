"""From claims to one value a key: what agrees is taken, what contradicts itself is left out and told as open."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from fractions import Fraction
from typing import Any

from service.language.spoken import say
from service.sheets.format.validation import SheetRefused, read_sheet
from service.sheets.prose.claims.claim import Claim, Doubt, Value

_ALIKE = Fraction(9, 100)
"""'3 mm' and '1/8 in' are one demand said twice."""
_LEVELLED = ("bleed", "margin", "lines", "text")
"""Blocks that carry one demand, so that 'recommended' may lower all of it."""


def combined(claims: Iterable[Claim]) -> tuple[dict[str, Claim], list[Doubt]]:
    """One claim a path, in the order of the text, and the contradictions."""
    by_path: dict[str, list[Claim]] = {}
    for claim in claims:
        by_path.setdefault(claim.path, []).append(claim)
    _make_room_for_the_minimum(by_path)
    kept: dict[str, Claim] = {}
    doubts: list[Doubt] = []
    for path, said in by_path.items():
        heaviest = max(claim.weight for claim in said)
        group = [claim for claim in said if claim.weight == heaviest]
        group = [claim for claim in group if not claim.recommended] or group
        different = _different(group)
        if len(different) == 1:
            kept[path] = different[0]
        else:
            values = "; ".join(shown(claim.value) for claim in different[:6])
            question = say("Several values are said ({values}): which one holds?", values=values)
            doubts.append(Doubt(path, question, different[1].start, different[1].end))
    return kept, doubts


def _make_room_for_the_minimum(by_path: dict[str, list[Claim]]) -> None:
    """'300 dpi, minimum 200 dpi': the 300 is what is preferred."""
    for kind in ("contone_ppi", "bilevel_ppi"):
        said = by_path.get(f"images.{kind}.minimum", [])
        firm = [claim for claim in said if claim.weight == 3]
        plain = [claim for claim in said if claim.weight == 2]
        if firm and plain and _size(plain[0]) > _size(firm[0]) and len(_different(plain)) == 1:
            by_path.setdefault(f"images.{kind}.preferred", []).append(
                Claim(f"images.{kind}.preferred", plain[0].value, plain[0].start, plain[0].end, 2, plain[0].size)
            )
        preferred = by_path.get(f"images.{kind}.preferred", [])
        if firm and preferred and {_size(one) for one in preferred} <= {_size(one) for one in firm}:
            del by_path[f"images.{kind}.preferred"]


def _size(claim: Claim) -> Fraction:
    return claim.size if claim.size is not None else Fraction(0)


def _different(group: Sequence[Claim]) -> list[Claim]:
    """At most a handful: more is a contradiction all the same."""
    kept: list[Claim] = []
    for claim in group:
        if len(kept) > 8:
            break
        if not any(agree(claim, other) for other in kept):
            kept.append(claim)
    return kept


def agree(one: Claim, other: Claim) -> bool:
    """Whether both ask the same: '3 mm' and '1/8 in' do."""
    if one.size is not None and other.size is not None and isinstance(one.value, str) and isinstance(other.value, str):
        if one.value.split()[-1] == other.value.split()[-1]:
            return one.size == other.size
        return abs(one.size - other.size) <= max(one.size, other.size) * _ALIKE
    if isinstance(one.value, list) and isinstance(other.value, list):
        return sorted(map(str, one.value)) == sorted(map(str, other.value))
    return one.value == other.value


def with_levels(kept: Mapping[str, Claim]) -> dict[str, Claim]:
    """A block whose every demand was only recommended is an observation, not a must."""
    levelled = dict(kept)
    for block in _LEVELLED:
        mine = [claim for path, claim in kept.items() if path.startswith(f"{block}.")]
        if mine and all(claim.recommended for claim in mine):
            levelled[f"{block}.level"] = Claim(f"{block}.level", "should", mine[0].start, mine[0].end)
    return levelled


def drafted(kept: Mapping[str, Claim]) -> tuple[dict[str, Any], dict[str, Claim], list[Doubt]]:
    """The sheet document, the claims that it holds, and what a sheet does not take (two values that cannot both be)."""
    remaining = dict(kept)
    doubts: list[Doubt] = []
    for _ in range(len(kept) + 1):
        document = document_of({path: claim.value for path, claim in remaining.items()})
        if not document:
            return {}, {}, doubts
        try:
            read_sheet(document)
        except SheetRefused as refused:
            wrong = _concerned(refused, remaining)
            doubts += [
                Doubt(
                    path,
                    say("{value} was read, and it does not fit: {why}", value=shown(remaining[path].value), why=why),
                    remaining[path].start,
                    remaining[path].end,
                )
                for path, why in wrong.items()
            ]
            remaining = {path: claim for path, claim in remaining.items() if path not in wrong}
        else:
            return document, remaining, doubts
    return {}, {}, doubts


def _concerned(refused: SheetRefused, remaining: Mapping[str, Claim]) -> dict[str, str]:
    """The paths that a refusal speaks of; all that are left where it speaks of none of them."""
    wrong: dict[str, str] = {}
    for place, why in refused.errors:
        path = place.strip("/").replace("/", ".")
        for one in remaining:
            if path and (one == path or one.startswith(f"{path}.") or path.startswith(f"{one}.")):
                wrong[one] = why
    if wrong:
        return wrong
    blocks = {place.strip("/").split("/")[0] for place, _ in refused.errors}
    inside = {one: refused.errors[0][1] for one in remaining if one.split(".")[0] in blocks}
    return inside or dict.fromkeys(remaining, refused.errors[0][1])


_ORDER = ("file", "pages", "trim", "bleed", "margin", "marks", "color", "images", "text", "lines", "fonts", "transparency")


def document_of(values: Mapping[str, Value]) -> dict[str, Any]:
    document: dict[str, Any] = {block: {} for block in _ORDER}
    for path, value in values.items():
        node = document
        *blocks, key = path.split(".")
        for block in blocks:
            node = node.setdefault(block, {})
        node[key] = value
    return {block: inside for block, inside in document.items() if inside}


def shown(value: Value) -> str:
    return ", ".join(map(str, value)) if isinstance(value, list) else str(value)
