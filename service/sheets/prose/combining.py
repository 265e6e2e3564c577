"""From claims to one value a key: what agrees is taken, what contradicts itself is left out and told as open."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction

from service.language.spoken import say
from service.language.wording import set_apart
from service.sheets.prose.claims.claim import Claim, Doubt
from service.sheets.prose.ours.lines import value_said

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
    _make_room_for_the_better(by_path)
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
            values = set_apart(value_said(path, claim.value) for claim in different[:6])
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


_PREFERRED_BESIDE = (
    ("bleed.minimum", "bleed.preferred", 1),
    ("margin.minimum", "margin.preferred", 1),
    ("color.ink_limit", "color.ink_preferred", -1),
)
"""A limit, the key for what is better, and which way better lies."""


def _make_room_for_the_better(by_path: dict[str, list[Claim]]) -> None:
    """'At least 3 mm, 5 mm recommended': the 5 stands beside the 3. What is recommended and no better is only a contradiction."""
    for limit, better, way in _PREFERRED_BESIDE:
        said = by_path.get(limit, [])
        firm, wished = [one for one in said if not one.recommended and one.weight], [one for one in said if one.recommended]
        if len(_different(firm)) == 1 and len(_different(wished)) == 1 and way * (_size(wished[0]) - _size(firm[0])) > 0:
            by_path[limit] = firm
            by_path.setdefault(better, []).append(replace(wished[0], path=better, recommended=False))


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


_EDGES = ("head", "foot", "binding", "outer")


def with_the_least_edge(kept: Mapping[str, Claim]) -> dict[str, Claim]:
    """Where all four edges are said apart, the least of them is what each side has."""
    whole = dict(kept)
    for block in ("bleed", "margin"):
        edges = [kept[path] for edge in _EDGES if (path := f"{block}.{edge}") in kept]
        if len(edges) == len(_EDGES) and f"{block}.minimum" not in kept:
            whole[f"{block}.minimum"] = replace(min(edges, key=_size), path=f"{block}.minimum")
    return whole


def with_levels(kept: Mapping[str, Claim]) -> dict[str, Claim]:
    """A block whose every demand was only recommended is an observation, not a must."""
    levelled = dict(kept)
    for block in _LEVELLED:
        mine = [claim for path, claim in kept.items() if path.startswith(f"{block}.")]
        if mine and all(claim.recommended for claim in mine):
            levelled[f"{block}.level"] = Claim(f"{block}.level", "should", mine[0].start, mine[0].end)
    return levelled
