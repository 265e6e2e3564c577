"""Whether a sheet is what somebody looks for: by words in any of our languages, by the name of a format, by size.

A size is found in any order and unit: '210 x 148', '14.8 × 21 cm' and '5 1/2 x 8.5 in'. Without a unit it may be any of
them. One that is of no product may be that of one with bleed around it: '216 x 303' is A4. Accents, case, small words, the
endings of plurals and what stands before the last part of a compound do not matter.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Iterator, Mapping
from itertools import pairwise
from typing import Any

from service.language.spoken import LANGUAGES, catalogue
from service.sheets.format.lengths import NotAQuantity, parse_length_mm
from service.sheets.formats import C6_C5, DL_ENVELOPE, DL_LEAFLET, ISO
from service.sheets.usual_names import SMALL_WORDS, usual_names

SAME_MM = 0.6
"""Sizes that differ by less are the same to somebody who looks for them: 8.5 in is said to be 216 mm. Ours, no source."""

Sizes = tuple[tuple[float, float], ...]
"""Trimmed sizes, mm, the shorter side first."""

_NUMBER = r"\d+(?:[.,]\d+)?(?: \d+/\d+)?|\d+/\d+"
_UNIT = r"mm|cm|m|inches|inch|in|\"|″|zoll|pouces|pouce|po|pulgadas|pt"
_SIZE = re.compile(
    rf"({_NUMBER})\s*({_UNIT})?\s*(?:[x×*]|\b(?:by|mal|auf|sur|par|por)\b)\s*({_NUMBER})\s*({_UNIT})?(?![\w])", re.IGNORECASE
)
_ONE_SIDE = re.compile(rf"(?<![\w.,/])({_NUMBER})\s*({_UNIT})(?![\w])", re.IGNORECASE)
_UNITS_MEANT = {"zoll": "in", "pouce": "in", "pouces": "in", "po": "in", "pulgadas": "in", "″": "in", '"': "in"}
_FRACTIONS = {"½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8"}
_ENDINGS = ("s", "x", "n", "en", "e")
_SHORTEST_STEM, _SHORTEST_HEAD = 4, 6
_BLEEDS_MM = (1.0, 2.0, 3.0, 3.175, 4.0, 5.0, 6.35)
"""What may lie around the product on each side where a size is that of none."""


def found(
    documents: Iterable[Mapping[str, Any]],
    product: str | None = None,
    region: str | None = None,
    purpose: str | None = None,
    q: str | None = None,
    trim: Sizes | None = None,
) -> list[Mapping[str, Any]]:
    """Those of the sheets (complete documents) that fit all that is given; where a size among the words is that of no product,
    those that it is with some bleed around them. `trim`: as `sizes_meant` reads one.
    """
    documents = [one for one in documents if trim is None or is_of_size(sizes_of(one), trim)]
    fitting = [one for one in documents if fits(one, product, region, purpose, q)]
    if fitting or q is None or not _SIZE.search(_plainly(q)):
        return fitting
    return [one for one in documents if fits(one, product, region, purpose, q, with_bleed=True)]


def fits(
    sheet: Mapping[str, Any],
    product: str | None = None,
    region: str | None = None,
    purpose: str | None = None,
    q: str | None = None,
    *,
    with_bleed: bool = False,
) -> bool:
    """Whether a sheet (its complete document) fits all that is given. `region` also finds sheets that name none; `q` is words
    and sizes to find.
    """
    regions = sheet.get("regions") or ()
    return (
        (product is None or _is_product(sheet, product.lower()))
        and (region is None or not regions or region.upper() in regions)
        and (purpose is None or sheet.get("purpose", "print") == purpose)
        and (q is None or is_meant(sheet, q, with_bleed=with_bleed))
    )


def _is_product(sheet: Mapping[str, Any], product: str) -> bool:
    """By its own name, or by that of another product which it stands for too: `menu` of the alias `menu-a4`."""
    return sheet.get("product") == product or any(str(one).startswith(f"{product}-") for one in sheet.get("aliases") or ())


def is_meant(sheet: Mapping[str, Any], q: str, *, with_bleed: bool = False) -> bool:
    """Whether all words are said of the sheet, and each size is one of its own; `with_bleed`: or that with bleed around it."""
    q = _plainly(q)
    sizes, said = [*sizes_of(sheet), *_sizes_in_the_title(sheet)], _folded(" ".join(_said_of(sheet)))
    wanted = _SIZE.findall(q)
    rest = _SIZE.sub(" ", q)
    sides = _ONE_SIDE.findall(rest)
    words = [word for word in re.split(r"[\s,;·#()]+", _folded(_ONE_SIDE.sub(" ", rest))) if word]
    few = [word for word in words if word not in _FOLDED_SMALL_WORDS] or words
    bleeds = _BLEEDS_MM if with_bleed else (0.0,)
    if not all(_is_among(sizes, one, bleeds) for one in wanted) or not all(_is_a_side(sizes, *one) for one in sides):
        return False
    heads = {name for name in re.split(r"[^\w]+", said) if len(name) >= _SHORTEST_HEAD}
    return all(_is_said(word, said) or any(word.endswith(name) for name in heads) for word in few)


def _plainly(q: str) -> str:
    """Fractions as digits, and the German name of a third of A4 as its sign."""
    for sign, digits in _FRACTIONS.items():
        q = re.sub(rf"(\d)\s*{sign}", rf"\g<1> {digits}", q).replace(sign, digits)
    return re.sub(r"\bdin[ -]?lang\b", "DL", q, flags=re.IGNORECASE)


def sizes_of(sheet: Mapping[str, Any]) -> Iterator[tuple[float, float]]:
    """Every trimmed size that the sheet takes, mm, the shorter side first. A folded product has that of its closed state too, a
    cover that of its page.
    """
    trim, spine = sheet.get("trim") or {}, sheet.get("spine") or {}
    for one in (trim, *trim.get("alternatives", ())):
        if "width" in one and "height" in one:
            yield _in_order(parse_length_mm(one["width"]), parse_length_mm(one["height"]))
        if "width" in one and "height" in one and sheet.get("folds") and (one is trim or "folds" in one):
            at = one.get("folds", [fold["at"] for fold in sheet["folds"]])
            folds = [{**fold, "at": place} for fold, place in zip(sheet["folds"], at, strict=True)]
            yield _closed(parse_length_mm(one["width"]), parse_length_mm(one["height"]), folds)
    if "page_width" in spine and "page_height" in spine:
        yield _in_order(parse_length_mm(spine["page_width"]), parse_length_mm(spine["page_height"]))


def _sizes_in_the_title(sheet: Mapping[str, Any]) -> Iterator[tuple[float, float]]:
    """What it is called by: a folder of 9 × 12 in is laid out flat by the printer's die, a table tent has a foot besides."""
    for written in _SIZE.findall(_plainly(str(sheet.get("title") or ""))):
        yield from _read_sizes(*written) if written[1] or written[3] else ()


def _in_order(one: float, other: float) -> tuple[float, float]:
    return min(one, other), max(one, other)


def _closed(width: float, height: float, folds: Iterable[Mapping[str, Any]]) -> tuple[float, float]:
    """Its widest panel by its highest."""
    at: dict[str, list[float]] = {"vertical": [], "horizontal": []}
    for fold in folds:
        at.get(str(fold.get("axis")), []).append(parse_length_mm(fold["at"]))
    panels = ([0.0, *sorted(places), length] for places, length in ((at["vertical"], width), (at["horizontal"], height)))
    across, down = (max(end - start for start, end in pairwise(edges)) for edges in panels)
    return _in_order(across, down)


def _said_of(sheet: Mapping[str, Any]) -> Iterator[str]:
    for key in ("id", "title", "product", "summary"):
        yield str(sheet.get(key) or "")
    for key in ("title", "summary"):
        if text := sheet.get(key):
            yield from (catalogue(language).gettext(text) for language in LANGUAGES)
    yield from (*sheet.get("names", ()), *sheet.get("aliases", ()), *usual_names(sheet))
    for width, height in sizes_of(sheet):
        for name, size in (*ISO.items(), ("DL", DL_ENVELOPE), ("DL", DL_LEAFLET), ("C6/C5 C6/5", C6_C5)):
            if _same((width, height), (min(size), max(size))):
                yield name


# --- Words ------------------------------------------------------------------------------------------------------------


def _folded(text: str) -> str:
    """Without case and accents; 'ß' is 'ss'."""
    spread = unicodedata.normalize("NFKD", text.casefold())
    return "".join(one for one in spread if not unicodedata.combining(one))


_FOLDED_SMALL_WORDS = frozenset(_folded(word) for word in SMALL_WORDS)


def _is_said(word: str, said: str) -> bool:
    if word in said:
        return True
    stems = (word.removesuffix(ending) for ending in _ENDINGS if word.endswith(ending))
    return any(len(stem) >= _SHORTEST_STEM and stem in said for stem in stems)


# --- Sizes ------------------------------------------------------------------------------------------------------------


def sizes_meant(trim: str) -> Sizes | None:
    """What '85x55', '3.5 x 2 in' or 'A5' may stand for: without a unit, one size for each of them. None: no size."""
    named = {name.lower(): size for name, size in ISO.items()}.get(trim.strip().lower())
    if named:
        return (_in_order(*named),)
    written = _SIZE.fullmatch(_plainly(trim).strip())
    return tuple(_read_sizes(*written.groups())) if written else None


def is_of_size(sizes: Iterable[tuple[float, float]], meant: Sizes) -> bool:
    return any(_same(one, other) for one in sizes for other in meant)


def _read_sizes(one: str, unit: str | None, other: str, unit_of_both: str | None) -> Iterator[tuple[float, float]]:
    for name in [unit_of_both or unit] if unit_of_both or unit else ["mm", "cm", "in"]:
        first, second = _millimetres(one, unit or name or ""), _millimetres(other, name or "")
        if first is not None and second is not None:
            yield _in_order(first, second)


def _is_among(sizes: list[tuple[float, float]], wanted: tuple[str, str, str, str], bleeds_mm: Iterable[float]) -> bool:
    for meant in _read_sizes(*wanted):
        if any(_same((width + 2 * bleed, height + 2 * bleed), meant) for bleed in bleeds_mm for width, height in sizes):
            return True
    return False


def _is_a_side(sizes: list[tuple[float, float]], number: str, unit: str) -> bool:
    length = _millimetres(number, unit)
    return length is not None and any(abs(side - length) <= SAME_MM for size in sizes for side in size)


def _millimetres(number: str, unit: str) -> float | None:
    try:
        return parse_length_mm(f"{number.replace(',', '.')} {_UNITS_MEANT.get(unit.lower(), unit.lower())}")
    except NotAQuantity:
        return None


def _same(one: tuple[float, float], other: tuple[float, float]) -> bool:
    return all(abs(a - b) <= SAME_MM for a, b in zip(one, other, strict=True))
