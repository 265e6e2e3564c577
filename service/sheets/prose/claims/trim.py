"""Which of the sizes in a text is the trimmed page.

* Words decide first: 'trim size', 'Endformat', 'format fini' before 'size', and that before a size that just stands there.
* A size 'including bleed' gives the trim once the bleed is known, and the bleed once the trim is known.
* Sizes that contradict each other give no trim but a question.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from service.language.spoken import say, to_say
from service.language.wording import set_apart
from service.sheets.format.lengths import plain_decimal
from service.sheets.formats import KNOWN_IN, KNOWN_MM
from service.sheets.prose.claims.claim import Claim, Doubt
from service.sheets.prose.words.sizes import Size, orientation_in
from service.sheets.prose.words.statements import Statement

_CLOSE_MM = Fraction(1, 20)
_SAME_PRODUCT_MM = Fraction(8, 10)
"""'3.5 × 2 in (89 × 51 mm)' is one size."""
_BOOKLET = re.compile(
    r"\bbooklets?\b|\bbrochures?\b|\bbroschur\w*|\bmagazin\w*|\bprogrammes?\b|\bzines?\b|\bbooks?\b|\bheft\w*|\bsaddle"
    r"|\bstapled\b|\bmultiples? (?:of|de)\b|\bbrosch\w+|\bkatalog\w*|\bcatalog\w*|\bpiqu\w+|\bnewsletters?\b"
)
_ONLY_ONE = re.compile(
    r"\borientation\b|\bonly\b|\bformat\b|\bausrichtung\b|\bnur\b|\bmust\b|\bpages?\b|\bseiten?\b|\bmuss\b"
    r"|\buniquement\b|\bseulement\b|\ball\b|format|\bsupply\b|\bset\b|\bportrait [-(]|\bupright\b"
)
_UPRIGHT, _ACROSS = re.compile(r"portrait|hochformat|upright"), re.compile(r"landscape|querformat|paysage")
_MAY_SAY_A_WAY = re.compile(r"portrait|hoch|upright|francaise|vertical|landscape|quer|paysage|italienne")


@dataclass(frozen=True)
class SaidOfPages:
    """What the sentences of a text say of the page without its size: looked for once, and asked for each product."""

    booklet: bool
    both_ways: bool
    """A sentence names portrait and landscape."""
    ways: tuple[tuple[Statement, str], ...]
    """Each sentence that names one of them."""


def said_of_pages(statements: Sequence[Statement]) -> SaidOfPages:
    ways = ((one, orientation_in(one.text)) for one in statements if _MAY_SAY_A_WAY.search(one.text))
    return SaidOfPages(
        any(_BOOKLET.search(one.text) for one in statements),
        any(_UPRIGHT.search(one.text) and _ACROSS.search(one.text) for one in statements),
        tuple((one, way) for one, way in ways if way),
    )


def trim_claims(sizes: Sequence[Size], pages: SaidOfPages, bleed: Fraction | None) -> tuple[list[Claim], list[Doubt]]:
    """Claims for trim.width, trim.height and trim.orientation; what stays open."""
    said = [one for one in sizes if not one.example and one.role not in ("safe", "other")]
    pool = _of_the_page(said, pages.booklet)
    chosen, doubts = _the_trim(pool, [one for one in said if one.role == "with bleed"], bleed)
    if chosen is None:
        return [], [*doubts, *_orientation_alone(pages)]
    claims = [
        Claim("trim.width", chosen.width_written, chosen.start, chosen.end, 3, chosen.width_mm),
        Claim("trim.height", chosen.height_written, chosen.start, chosen.end, 3, chosen.height_mm),
    ]
    if chosen.doubtful:
        question = say("DL was read as 99 × 210 mm (an envelope as 110 × 220 mm): is that the size meant?")
        doubts.append(Doubt("trim", question, chosen.start, chosen.end))
    return claims + list(_orientation(pages, sizes, chosen)), doubts


def bleed_from_sizes(sizes: Sequence[Size], trim: tuple[Fraction, Fraction] | None) -> Claim | None:
    """The bleed that a size including bleed leaves around the trim, where it is even."""
    if trim is None:
        return None
    around = [
        (one, *_added(one, trim)) for one in sizes if one.role in ("with bleed", "document") and not one.named and not one.example
    ]
    even = [(one, across) for one, across, down in around if across == down and 0 < across <= 10]
    if not even or len({across for _, across in even}) > 1:
        return None
    one, across = even[0]
    return Claim("bleed.minimum", _millimetres(across), one.start, one.end, 1, across)


def margin_from_sizes(sizes: Sequence[Size], trim: tuple[Fraction, Fraction] | None) -> Claim | None:
    """The quiet zone that a safe area leaves inside the trim, where it is even."""
    for one in sizes:
        if trim is None or one.role != "safe" or one.example:
            continue
        across, down = _added(one, trim)
        if across == down and 0 < -across <= 30:
            return Claim("margin.minimum", _millimetres(-across), one.start, one.end, 1, -across)
    return None


def live_area_from_sizes(sizes: Sequence[Size], trim: tuple[Fraction, Fraction] | None) -> list[Claim]:
    """The one safe area that is told, where it leaves no even quiet zone or the trim is not known."""
    areas = [one for one in sizes if one.role == "safe" and one.told and not one.example and not one.named]
    if len(_different(areas)) != 1:
        return []
    one = areas[0]
    if trim is not None and not all(0 <= -left <= _WIDEST_MARGIN_MM for left in _added(one, trim)):
        return []
    return [
        Claim("margin.live_area.width", one.width_written, one.start, one.end, 1, one.width_mm),
        Claim("margin.live_area.height", one.height_written, one.start, one.end, 1, one.height_mm),
    ]


_WIDEST_MARGIN_MM = 120


def _added(one: Size, trim: tuple[Fraction, Fraction]) -> tuple[Fraction, Fraction]:
    """On each side, across and down; of a size that was said the other way round as well."""
    across, down = (one.width_mm - trim[0]) / 2, (one.height_mm - trim[1]) / 2
    if across != down:
        turned = (one.width_mm - trim[1]) / 2, (one.height_mm - trim[0]) / 2
        if turned[0] == turned[1]:
            return turned
    return across, down


def _of_the_page(said: Sequence[Size], booklet: bool) -> list[Size]:
    """Of a leaflet the open size, of a booklet the closed one."""
    folded, flat = [one for one in said if one.role == "folded"], [one for one in said if one.role == "flat"]
    if flat and not (booklet and folded):
        return flat
    if folded and booklet:
        return folded
    return [one for one in said if one.role not in ("with bleed", "folded")]


def _the_trim(pool: Sequence[Size], with_bleed: Sequence[Size], bleed: Fraction | None) -> tuple[Size | None, list[Doubt]]:
    strong = [one for one in pool if one.role in ("trim", "folded", "flat") and one.told]
    for group in (strong, [one for one in pool if one.role in ("size", "document") and one.told]):
        if not group:
            continue
        kinds = _different(_without_grown(group, bleed))
        if len(kinds) > 1 and group is strong and any(_grown(one, kinds[0], bleed) for one in kinds[1:]):
            kinds = kinds[:1]
        if len(kinds) > 1:
            return None, [_several(kinds)]
        one = kinds[0]
        return _shrunk(one, bleed, sure=False) if group is not strong and _may_be_grown(one, bleed) else (one, [])
    kinds = _different(with_bleed)
    if len(kinds) == 1:
        return _shrunk(kinds[0], bleed, sure=True)
    return None, [_several(kinds)] if kinds else []


def _may_be_grown(one: Size, bleed: Fraction | None) -> bool:
    """Whether the size is less usual than itself without the bleed: '91 × 61 mm with 3 mm bleed'."""
    if one.named or _usual(one.width_mm, one.height_mm):
        return False
    if bleed is None:
        return one.role == "document"
    return _usual(one.width_mm - 2 * bleed, one.height_mm - 2 * bleed)


def _usual(width: Fraction, height: Fraction) -> bool:
    low, high = sorted((width, height))
    in_inches = (round(float(low / Fraction(254, 10)), 3), round(float(high / Fraction(254, 10)), 3))
    return (float(low), float(high)) in KNOWN_MM or in_inches in KNOWN_IN


_WITH_ITS_BLEED = to_say("The size is said with its bleed, and the bleed is not said: what is the trimmed size?")
_PERHAPS_WITH_BLEED = to_say("This size may be with bleed or without: what is the trimmed size?")


def _shrunk(one: Size, bleed: Fraction | None, *, sure: bool) -> tuple[Size | None, list[Doubt]]:
    if bleed is None:
        return None, [Doubt("trim", say(_WITH_ITS_BLEED if sure else _PERHAPS_WITH_BLEED), one.start, one.end)]
    width, height = one.width_mm - 2 * bleed, one.height_mm - 2 * bleed
    return Size(width, height, _millimetres(width), _millimetres(height), "trim", one.start, one.end), []


def _grown(one: Size, smaller: Size, bleed: Fraction | None) -> bool:
    across, down = _added(one, (smaller.width_mm, smaller.height_mm))
    return across == down and 0 < across <= 10 and (bleed is None or across == bleed) and not one.named


def _without_grown(group: Sequence[Size], bleed: Fraction | None) -> list[Size]:
    """Without the sizes that are another of the group plus the bleed."""
    few = _different(group)[:12]
    return [one for one in few if not any(other is not one and _grown(one, other, bleed) for other in few)] or list(few)


def _different(sizes: Iterable[Size]) -> list[Size]:
    """One of each size: the first that was said, but numbers before names."""
    kept: list[Size] = []
    for one in sorted(sizes, key=lambda size: size.named):
        same = [other for other in kept if _same(one, other)]
        if not same:
            kept.append(one)
        if len(kept) > 40:
            break
    return sorted(kept, key=lambda size: size.start)


def _same(one: Size, other: Size) -> bool:
    """Turned sizes are the same page; so is a size in another unit right beside it."""
    sides, others = sorted((one.width_mm, one.height_mm)), sorted((other.width_mm, other.height_mm))
    differs = max(abs(a - b) for a, b in zip(sides, others, strict=True))
    units = {one.width_written.split()[-1], other.width_written.split()[-1]}
    return differs <= (_SAME_PRODUCT_MM if len(units) > 1 or one.named or other.named else _CLOSE_MM)


def _several(kinds: Sequence[Size]) -> Doubt:
    sizes = set_apart(f"{one.width_written} × {one.height_written}" for one in kinds[:6])
    question = say("Several sizes are said ({sizes}): which one is this sheet for?", sizes=sizes)
    return Doubt("trim", question, kinds[0].start, kinds[0].end)


def _orientation(pages: SaidOfPages, sizes: Sequence[Size], chosen: Size) -> Iterator[Claim]:
    """Where only one of portrait and landscape is said, of the page or of this size."""
    said = [(one, way) for one, way in pages.ways if len(one.text) < 45 or _ONLY_ONE.search(one.text) or _has_size(one, sizes)]
    ways = {way for _, way in said}
    if pages.both_ways or len(ways) != 1:
        return
    statement, way = said[0]
    shape = "portrait" if chosen.width_mm < chosen.height_mm else "landscape"
    if chosen.width_mm == chosen.height_mm or way == shape:
        yield Claim("trim.orientation", str(way), statement.start, statement.end)


_STANDS = {
    "portrait": to_say("The page is to be portrait, and its size is not known: what is it?"),
    "landscape": to_say("The page is to be landscape, and its size is not known: what is it?"),
}


def _orientation_alone(pages: SaidOfPages) -> Iterator[Doubt]:
    """A sheet takes no orientation without the size that it is of."""
    for one, way in pages.ways:
        if _ONLY_ONE.search(one.text):
            yield Doubt("trim.orientation", say(_STANDS[way]), one.start, one.end)
            return


def _has_size(statement: Statement, sizes: Sequence[Size]) -> bool:
    return any(statement.start <= one.start < statement.end for one in sizes)


def _millimetres(value: Fraction) -> str:
    return f"{plain_decimal(round(float(value), 3))} mm"
