"""What was measured beside what is asked, as lines of a small table: numbers that face each other; the message has the rest."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

from service.language import wording
from service.language.spoken import say, say_about, to_say
from service.language.wording import (
    area,
    asked_length,
    asked_size,
    listed_or,
    millimetres,
    number,
    percent,
    plain_number,
    points,
    ppi,
    ppi_under,
    size,
)
from service.proofs.report.records import Comparison
from service.rules.base import Finding, Value

_AT_LEAST, _AT_MOST, _PREFERABLY = to_say("at least {amount}"), to_say("at most {amount}"), to_say("preferably {amount}")
_EXACTLY = to_say("{amount}")

Written = Callable[[float], str]


@dataclass(frozen=True)
class _Compared:
    what: str
    measured: str
    """Key of what was measured."""
    written: Written
    asked: tuple[tuple[str, str], ...]
    """Keys of what is asked, each with its words; those that a finding has are listed."""
    asked_written: Written | None = None
    """Where it is written otherwise than what was measured."""


def stored_size(size_bytes: float) -> str:
    """So exactly that a size just over its limit does not read like the limit."""
    return wording.stored_size(size_bytes, exactly=True)


def whole_percent(value: float) -> str:
    return percent(value, 0)


def _count(value: float) -> str:
    return plain_number(value, 0)


_RESOLUTION = _Compared(
    to_say("Resolution"), "ppi", ppi,
    (("minimum_ppi", _AT_LEAST), ("preferred_ppi", _PREFERABLY), ("maximum_ppi", _AT_MOST)),
)
_FROM_TRIM = to_say("Distance from the trim")

_COMPARED: Mapping[str, tuple[_Compared, ...]] = {
    "file.size": (_Compared(to_say("Size of the file"), "size_bytes", stored_size, (("maximum_bytes", _AT_MOST),)),),
    "pages.count": (
        _Compared(to_say("Pages"), "pages", _count, (("allowed", _EXACTLY), ("minimum", _AT_LEAST), ("maximum", _AT_MOST))),
    ),
    "pages.multiple": (_Compared(to_say("Pages"), "pages", _count, (("multiple_of", to_say("a multiple of {amount}")),)),),
    "trim.scale": (_Compared(to_say("Scale"), "percent", percent, (("percent", _EXACTLY),)),),
    "margin.text": (_Compared(_FROM_TRIM, "distance_mm", millimetres, (("minimum_mm", _AT_LEAST),), asked_length),),
    "margin.artwork": (_Compared(_FROM_TRIM, "distance_mm", millimetres, (("minimum_mm", _AT_LEAST),), asked_length),),
    "marks.crop": (_Compared(to_say("Corners with crop marks"), "corners", _count, (("corners", _EXACTLY),)),),
    "marks.offset": (_Compared(_FROM_TRIM, "offset_mm", millimetres, (("offset_minimum_mm", _AT_LEAST),), asked_length),),
    "image.resolution": (_RESOLUTION,),
    "image.resolution-bilevel": (_RESOLUTION,),
    "image.excess": (_RESOLUTION,),
    "preview.legible": (_RESOLUTION,),
    "image.compression": (
        _Compared(to_say("JPEG quality, of 100"), "quality", _count, (("quality", _AT_LEAST),)),
        _Compared(to_say("Bits per pixel"), "bits_per_pixel", lambda value: number(value, 2), (("bits_per_pixel", _AT_LEAST),)),
    ),
    "image.distorted": (_Compared(to_say("Stretched by"), "percent", percent, (("percent", _AT_MOST),)),),
    "color.spots": (_Compared(to_say("Spot inks"), "count", _count, (("maximum", _AT_MOST),)),),
    "ink.total": (
        _Compared(to_say("Total ink"), "ink_max_percent", whole_percent, (("maximum_percent", _AT_MOST),)),
        _Compared(to_say("Area over that"), "area_mm2", area, (("area_mm2", _AT_MOST),)),
    ),
    "text.size": (_Compared(to_say("Size of the type"), "size_pt", points, (("minimum_pt", _AT_LEAST),)),),
    "line.width": (_Compared(to_say("Width of the line"), "width_pt", points, (("minimum_pt", _AT_LEAST),)),),
    "spine.width": (_Compared(to_say("Spine"), "spine_mm", millimetres, (("spine_mm", _EXACTLY),)),),
    "finish.plate": (_Compared(to_say("Lightest tint"), "tint_percent", percent, (("tint_percent", _EXACTLY),)),),
}

_ON_SIDES = {
    "top": to_say("At the top"),
    "right": to_say("At the right"),
    "bottom": to_say("At the bottom"),
    "left": to_say("At the left"),
}


def comparisons_of(rule: str, finding: Finding) -> tuple[Comparison, ...]:
    return (*_sizes(finding), *_sides(finding), *_numbers(rule, finding))


def _sizes(finding: Finding) -> Iterator[Comparison]:
    measured, asked = _pair(finding.measured), _pair(finding.required)
    if measured and asked:
        tolerance = _number(finding.required, "tolerance_mm")
        wanted = asked_size(*asked)
        if tolerance is not None:
            wanted = say("{size}, give or take {tolerance}", size=wanted, tolerance=millimetres(tolerance))
        yield Comparison(say("Trimmed size"), size(*measured), wanted)
    elif (width := _number(finding.measured, "width_mm")) and (wide := _number(finding.required, "width_mm")):
        yield Comparison(say("Trimmed width"), millimetres(width), millimetres(wide))


def _pair(values: Mapping[str, Value]) -> tuple[float, float] | None:
    width, height = _number(values, "width_mm"), _number(values, "height_mm")
    return None if width is None or height is None else (width, height)


def _sides(finding: Finding) -> Iterator[Comparison]:
    """A line for each side, or one where all four are alike."""
    found = {side: value for side in _ON_SIDES if (value := _number(finding.measured, f"{side}_mm")) is not None}
    limits = (("minimum_mm", _AT_LEAST), ("maximum_mm", _AT_MOST))
    asked = _asked(limits, finding.required, asked_length)
    if not found or not asked:
        return
    written = {side: millimetres(value) for side, value in found.items()}
    if len(written) == len(_ON_SIDES) and len(set(written.values())) == 1:
        yield Comparison(say("On every side"), written["top"], asked)
    else:
        yield from (Comparison(say(_ON_SIDES[side]), text, asked) for side, text in written.items())


def _numbers(rule: str, finding: Finding) -> Iterator[Comparison]:
    for one in _COMPARED.get(rule, ()):
        value = _number(finding.measured, one.measured)
        asked = _asked(one.asked, finding.required, one.asked_written or one.written)
        if value is not None and asked:
            yield Comparison(say(one.what), _measured(one, value, finding.required), asked)


def _measured(one: _Compared, value: float, required: Mapping[str, Value]) -> str:
    """As the message writes it: 71.6 ppi under a limit of 72 is not '72 ppi'."""
    limit = _number(required, "minimum_ppi") or _number(required, "preferred_ppi")
    return ppi_under(value, limit) if one.measured == "ppi" and limit and value < limit else one.written(value)


def _asked(keys: tuple[tuple[str, str], ...], required: Mapping[str, Value], written: Written) -> str:
    """'at least 200 ppi, preferably 300 ppi'; empty where nothing of it is asked."""
    said = []
    for key, words in keys:
        value = required.get(key)
        if isinstance(value, list | tuple):
            texts = [written(one) for one in value if isinstance(one, int | float)]
            said += [say(words, amount=listed_or(texts))] if texts else []
        elif (amount := _number(required, key)) is not None:
            said.append(say(words, amount=written(amount)) if amount or words != _AT_MOST else say_about("spot inks", "none"))
    return ", ".join(said)


def _number(values: Mapping[str, Value], key: str) -> float | None:
    value = values.get(key)
    return None if isinstance(value, bool) or not isinstance(value, int | float) else float(value)
