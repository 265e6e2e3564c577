"""Quantities as printers write them: lengths, sizes of type, percentages, sizes of files, resolutions.

* A length is a number with its unit ('3 mm', '0.125 in', '1/8 in', '3 1/2 in', '9 pt', '8.5 cm') or a plain number of mm.
* A size of type or a width of line is the same in points; a plain number is points.
* Units are exact: 1 in = 25.4 mm by definition, 1 pt = 1/72 in (ISO 32000-2:2020, 8.3.2.3), 1 MB = 10^6 and 1 MiB = 2^20 bytes
  (IEC 80000-13).
* What could be read two ways ('1,5 mm', '3' as text) is refused, and so is anything negative: `NotAQuantity` says what to write.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Mapping
from decimal import Decimal
from fractions import Fraction

from service.language.spoken import say, to_say
from service.pdf.facts.geometry import MM_PER_INCH, POINTS_PER_INCH

EXACT_MM_PER_INCH = Fraction(str(MM_PER_INCH))
_MM = Fraction(1)
_PT = EXACT_MM_PER_INCH / POINTS_PER_INCH

_LENGTH_UNITS: Mapping[str, Fraction] = {
    **{"mm": _MM, "cm": 10 * _MM, "m": 1000 * _MM},
    **dict.fromkeys(("in", "inch", "inches", '"', "″"), EXACT_MM_PER_INCH),
    **dict.fromkeys(("pt", "point", "points"), _PT),
}
_TYPE_UNITS: Mapping[str, Fraction] = {unit: millimetres / _PT for unit, millimetres in _LENGTH_UNITS.items()}
_PERCENT_UNITS: Mapping[str, Fraction] = {"%": Fraction(1), "percent": Fraction(1)}
_BYTE_UNITS: Mapping[str, Fraction] = {
    **dict.fromkeys(("b", "byte", "bytes"), Fraction(1)),
    **{"kb": Fraction(10**3), "mb": Fraction(10**6), "gb": Fraction(10**9)},
    **{"kib": Fraction(2**10), "mib": Fraction(2**20), "gib": Fraction(2**30)},
}
_RESOLUTION_UNITS: Mapping[str, Fraction] = {"ppi": Fraction(1), "dpi": Fraction(1)}
_AREA_UNITS: Mapping[str, Fraction] = dict.fromkeys(("mm²", "mm2"), Fraction(1))

_LENGTH = to_say("a length such as '3 mm', '0.125 in', '1/8 in' or '9 pt', or a plain number of millimetres")
_TYPE = to_say("a size such as '5 pt' or '2 mm', or a plain number of points")
_PERCENT = to_say("a percentage such as '300 %', or a plain number")
_BYTES = to_say("a size such as '100 MB' or '95 MiB', or a plain number of bytes")
_RESOLUTION = to_say("a resolution such as 300 or '300 ppi'")
_AREA = to_say("an area such as '15 mm²', or a plain number of square millimetres")

_WRITTEN = re.compile(
    r"(?P<sign>[-+]?)(?P<number>[0-9]+ +[0-9]+/[0-9]+|[0-9]+/[0-9]+|[0-9]+(?:\.[0-9]+)?|\.[0-9]+)"
    r" *(?P<unit>[^0-9\s.,/+-][^0-9\s]*2?)?"
)
LONGEST_TEXT = 60
LARGEST_LENGTH_MM = 100_000
"""100 m: longer than any printed sheet, short enough for every later sum."""
LARGEST_NUMBER = 10**12
SMALLEST_NUMBER = Fraction(1, 10_000)
"""Nothing above zero that is smaller: a tenth of a micrometre, far below anything that is compared."""


class NotAQuantity(ValueError):
    """The text is the end of a sentence that begins with the key: 'must be a length such as …; found '3 furlongs''."""


def parse_length_mm(value: object) -> float:
    length = _quantity(value, _LENGTH_UNITS, _LENGTH)
    if length > LARGEST_LENGTH_MM:
        raise NotAQuantity(say("must be at most 100 m; found {found}", found=shown(value)))
    return float(length)


def parse_type_pt(value: object) -> float:
    """A size of type or a width of line in points."""
    return float(_quantity(value, _TYPE_UNITS, _TYPE))


def parse_percent(value: object) -> float:
    return float(_quantity(value, _PERCENT_UNITS, _PERCENT))


def parse_ppi(value: object) -> float:
    return float(_quantity(value, _RESOLUTION_UNITS, _RESOLUTION))


def parse_area_mm2(value: object) -> float:
    return float(_quantity(value, _AREA_UNITS, _AREA))


def parse_bytes(value: object) -> int:
    """Whole bytes, rounded down."""
    size = int(_quantity(value, _BYTE_UNITS, _BYTES))
    if size < 1:
        raise NotAQuantity(say("must be at least one byte; found {found}", found=shown(value)))
    return size


def _quantity(value: object, units: Mapping[str, Fraction], what: str) -> Fraction:
    amount = _of_text(value, units, what) if isinstance(value, str) else _of_number(value, what)
    if amount < 0:
        raise NotAQuantity(say("must not be negative; found {found}", found=shown(value)))
    if amount > LARGEST_NUMBER:
        raise NotAQuantity(say("is larger than a sheet takes; found {found}", found=shown(value)))
    if 0 < amount < SMALLEST_NUMBER:
        raise NotAQuantity(say("is smaller than a sheet takes; found {found}", found=shown(value)))
    return amount


def _of_number(value: object, what: str) -> Fraction:
    if isinstance(value, bool) or not isinstance(value, int | float) or not (isinstance(value, int) or math.isfinite(value)):
        raise NotAQuantity(say("must be {what}; found {found}", what=say(what), found=shown(value)))
    return Fraction(value)


def _of_text(text: str, units: Mapping[str, Fraction], what: str) -> Fraction:
    if "," in text:
        raise NotAQuantity(say("must be {what}, with a point and no comma; found {found}", what=say(what), found=shown(text)))
    written = _WRITTEN.fullmatch(text.strip()) if len(text) <= LONGEST_TEXT else None
    if written is None:
        raise NotAQuantity(say("must be {what}; found {found}", what=say(what), found=shown(text)))
    unit = written["unit"]
    if unit is None:
        raise NotAQuantity(
            say(
                "is a text and needs its unit: it must be {what} (a number is written without quotation marks); found "
                "the text {found}",
                what=say(what), found=shown(text),
            )
        )
    if unit.lower() not in units:
        raise NotAQuantity(
            say("has a unit that is not known here: it must be {what}; found {found}", what=say(what), found=shown(text))
        )
    try:
        amount = sum((Fraction(part) for part in written["number"].split()), Fraction(0)) * units[unit.lower()]
    except ZeroDivisionError:
        raise NotAQuantity(say("must be {what}; found {found}", what=say(what), found=shown(text))) from None
    return -amount if written["sign"] == "-" else amount


UNITS_READ: Mapping[Callable[[object], float], tuple[str, ...]] = {
    parse_length_mm: tuple(_LENGTH_UNITS),
    parse_type_pt: tuple(_TYPE_UNITS),
    parse_percent: tuple(_PERCENT_UNITS),
    parse_ppi: tuple(_RESOLUTION_UNITS),
    parse_area_mm2: tuple(_AREA_UNITS),
    parse_bytes: tuple(_BYTE_UNITS),
}
"""The units that each of these knows, in lowercase."""


# --- The way back -----------------------------------------------------------------------------------------------------


def plain_decimal(value: float) -> str:
    """Without exponent and trailing zeros, with every digit that the value needs: 85.0 → '85', 3.175 → '3.175'."""
    text = format(Decimal(repr(float(value))), "f")
    return text.rstrip("0").rstrip(".") if "." in text else text


def whole_where_possible(value: float) -> int | float:
    return int(value) if float(value).is_integer() else value


def bytes_text(size: int) -> str | int:
    """In the largest unit that divides it: 100000000 → '100 MB'; a plain number of bytes where none does."""
    for unit in ("GiB", "GB", "MiB", "MB", "KiB", "kB"):
        whole, rest = divmod(size, int(_BYTE_UNITS[unit.lower()]))
        if whole and not rest:
            return f"{whole} {unit}"
    return size


def shown(value: object) -> str:
    """What was found, short enough for a message."""
    if value is None:
        return say("nothing")
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int) and abs(value) > LARGEST_NUMBER:
        return say("a very large number")
    if isinstance(value, str | int | float):
        text = repr(value[:LONGEST_TEXT] if isinstance(value, str) else value)
        return text if len(text) <= 2 + LONGEST_TEXT else f"{text[:LONGEST_TEXT]}…'"
    if isinstance(value, Mapping):
        return say("a block of keys")
    return say("a list") if isinstance(value, list | tuple) else say("something else")
