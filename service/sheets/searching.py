"""Whether a sheet is what somebody looks for: by words in any of our languages, by the name of a format, by size.

A size is found in any order and unit: '210 x 148', '14.8 × 21 cm' and '5 1/2 x 8.5 in'. Without a unit it may be any of them.
Accents, case and the endings of plurals do not matter.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator, Mapping
from typing import Any

from service.language.spoken import LANGUAGES, catalogue
from service.sheets.format.lengths import NotAQuantity, parse_length_mm
from service.sheets.formats import DL_ENVELOPE, DL_LEAFLET, ISO

SAME_MM = 0.6
"""Sizes that differ by less are the same to somebody who looks for them: 8.5 in is said to be 216 mm. Ours, no source."""

_NUMBER = r"\d+(?:[.,]\d+)?(?: \d+/\d+)?|\d+/\d+"
_UNIT = r"mm|cm|m|inches|inch|in|\"|″|zoll|po"
_SIZE = re.compile(rf"({_NUMBER})\s*({_UNIT})?\s*[x×*]\s*({_NUMBER})\s*({_UNIT})?(?![\w])", re.IGNORECASE)
_UNITS_MEANT = {"zoll": "in", "po": "in", "″": "in", '"': "in"}
_ENDINGS = ("s", "x", "n", "en", "e")
_SHORTEST_STEM = 4


def fits(
    sheet: Mapping[str, Any],
    product: str | None = None,
    region: str | None = None,
    purpose: str | None = None,
    q: str | None = None,
) -> bool:
    """Whether a sheet (its complete document) fits all that is given. `region` also finds sheets that name none; `q` is words
    and sizes to find.
    """
    regions = sheet.get("regions") or ()
    return (
        (product is None or _is_product(sheet, product.lower()))
        and (region is None or not regions or region.upper() in regions)
        and (purpose is None or sheet.get("purpose", "print") == purpose)
        and (q is None or is_meant(sheet, q))
    )


def _is_product(sheet: Mapping[str, Any], product: str) -> bool:
    """By its own name, or by that of another product which it stands for too: `menu` of the alias `menu-a4`."""
    return sheet.get("product") == product or any(str(one).startswith(f"{product}-") for one in sheet.get("aliases") or ())


def is_meant(sheet: Mapping[str, Any], q: str) -> bool:
    """Whether all words are said of the sheet, and each size is one of its own."""
    sizes, said = list(sizes_of(sheet)), _folded(" ".join(_said_of(sheet)))
    wanted = _SIZE.findall(q)
    words = _folded(_SIZE.sub(" ", q)).split()
    return all(_is_among(sizes, one) for one in wanted) and all(_is_said(word, said) for word in words)


def sizes_of(sheet: Mapping[str, Any]) -> Iterator[tuple[float, float]]:
    """Every trimmed size that the sheet takes, mm, the shorter side first."""
    trim = sheet.get("trim") or {}
    for one in (trim, *trim.get("alternatives", ())):
        if "width" in one and "height" in one:
            width, height = sorted((parse_length_mm(one["width"]), parse_length_mm(one["height"])))
            yield width, height


def _said_of(sheet: Mapping[str, Any]) -> Iterator[str]:
    for key in ("id", "title", "product", "summary"):
        yield str(sheet.get(key) or "")
    for key in ("title", "summary"):
        if text := sheet.get(key):
            yield from (catalogue(language).gettext(text) for language in LANGUAGES)
    yield from (*sheet.get("names", ()), *sheet.get("aliases", ()))
    for width, height in sizes_of(sheet):
        for name, size in (*ISO.items(), ("DL", DL_ENVELOPE), ("DL", DL_LEAFLET)):
            if _same((width, height), (min(size), max(size))):
                yield name


# --- Words ------------------------------------------------------------------------------------------------------------


def _folded(text: str) -> str:
    """Without case and accents; 'ß' is 'ss'."""
    spread = unicodedata.normalize("NFKD", text.casefold())
    return "".join(one for one in spread if not unicodedata.combining(one))


def _is_said(word: str, said: str) -> bool:
    if word in said:
        return True
    stems = (word.removesuffix(ending) for ending in _ENDINGS if word.endswith(ending))
    return any(len(stem) >= _SHORTEST_STEM and stem in said for stem in stems)


# --- Sizes ------------------------------------------------------------------------------------------------------------


def _is_among(sizes: list[tuple[float, float]], wanted: tuple[str, str, str, str]) -> bool:
    one, unit, other, unit_of_both = wanted
    units = [unit_of_both or unit] if unit_of_both or unit else ["mm", "cm", "in"]
    for name in units:
        meant = _UNITS_MEANT.get(name.lower(), name.lower())
        try:
            first = parse_length_mm(f"{one.replace(',', '.')} {_UNITS_MEANT.get(unit.lower(), unit.lower()) or meant}")
            second = parse_length_mm(f"{other.replace(',', '.')} {meant}")
        except NotAQuantity:
            continue
        if any(_same(size, (min(first, second), max(first, second))) for size in sizes):
            return True
    return False


def _same(one: tuple[float, float], other: tuple[float, float]) -> bool:
    return all(abs(a - b) <= SAME_MM for a, b in zip(one, other, strict=True))
