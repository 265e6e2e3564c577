"""The rule on how much ink stacks up."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from service.language.spoken import say
from service.language.wording import area as area_told
from service.language.wording import number, starting_on_pages
from service.pdf.facts.geometry import Box
from service.pdf.facts.page import Page
from service.pdf.facts.plates import PlateFacts
from service.pdf.facts.unknown import Unmeasured
from service.rules.base import LEFT_OUT, Finding, Outcome, Place, rule
from service.rules.product_asked import registration_is_told
from service.rules.seen import PagesWithPlates, PlainPages, both, not_measured_on, plain_pages_of, plates_of
from service.rules.sightings import within
from service.sheets.model import Block, SpecSheet

_CONVERTED = ("rgb", "lab", "multicolor")

LEAST_AREA_MM2 = 1.0
"""Less is no finding, whatever the sheet allows: a seam between two objects is one pixel wide. Common practice, no source."""


@dataclass(frozen=True, kw_only=True)
class TotalAsked(Block):
    limit_percent: float
    preferred_percent: float | None
    area_mm2: float
    registration_is_told: bool


def _total_asked(sheet: SpecSheet) -> TotalAsked | None:
    color = sheet.color
    if color is None or color.ink_limit_percent is None:
        return None
    return TotalAsked(
        limit_percent=color.ink_limit_percent,
        preferred_percent=color.ink_preferred_percent,
        area_mm2=color.ink_area_mm2,
        registration_is_told=registration_is_told(sheet),
        level=color.level,
        note=color.note,
    )


@rule(
    "ink.total",
    needs=both(plates_of, plain_pages_of),
    asks=_total_asked,
    asked_by="color.ink_limit, color.ink_preferred",
    level="must",
    source="common practice, no source: each printing condition has its limit, and the printer knows which is his",
    measured={"ink_max_percent": "the most ink that holds over 1 mm², all printing inks together",
              "area_mm2": "how much of the worst page is over the limit", **LEFT_OUT},
    required={"maximum_percent": "most ink in total", "preferred_percent": "ink in total that prints well",
              "area_mm2": "how much of a page may be over it"},
)
def ink_total(seen: tuple[PagesWithPlates, PlainPages], asked: TotalAsked) -> Iterator[Outcome]:
    """No more ink lies on the paper in one place than it can take.

    Why: too much ink does not dry. It sets off on the next sheet, smears in folding, sticks in the pile, and dark parts of
    pictures fill in.
    Remedy: convert pictures with the printer's profile, whose limit it keeps; mix rich blacks within the limit.
    Knows: all printing inks of every spot of the page and its bleed, overprint and transparency included; finishing inks that
    the sheet names do not count. Small areas over the limit pass.
    Cannot know: how the printer's software will convert RGB and Lab colours, and so how much ink they will be: a place that
    is heavy only where such colours lie is our estimate and no finding (color.space speaks of them). Nor is one that is
    heavy only in registration colour, which is color.registration's.
    """
    pages, plain = seen
    yield from _not_told_by_colors(plain, min(asked.limit_percent, asked.preferred_percent or asked.limit_percent))
    over = _pages_over(asked.limit_percent, pages, asked)
    if over:
        yield _too_much(over, asked.limit_percent, asked.area_mm2)
    if asked.preferred_percent is not None:
        told = {page.number for page, _, _ in over}
        others = tuple((page, plates) for page, plates in pages if page.number not in told)
        heavy = _pages_over(asked.preferred_percent, others, asked)
        if heavy:
            yield _more_than_preferred(heavy, asked.preferred_percent, asked.area_mm2)


def _not_told_by_colors(plain: PlainPages, limit: float) -> Iterator[Outcome]:
    """Pages measured for a sheet with a higher limit, whose colours allow for more than this one."""
    unknown: dict[Unmeasured, list[int]] = {}
    for page, most in plain:
        if most > limit and isinstance(page.plates, Unmeasured):
            unknown.setdefault(page.plates, []).append(page.number)
    return (not_measured_on(numbers, why) for why, numbers in unknown.items())


_Over = list[tuple[Page, PlateFacts, float]]


def _pages_over(limit: float, pages: PagesWithPlates, asked: TotalAsked) -> _Over:
    over: _Over = []
    for page, plates in pages:
        area = plates.area_beyond_limit_mm2(limit)
        if area > max(asked.area_mm2, LEAST_AREA_MM2) and not _told_elsewhere(page, plates, asked, limit):
            over.append((page, plates, area))
    return over


def _more_than_preferred(over: _Over, preferred: float, allowed_mm2: float) -> Finding:
    message = say(
        "{on_pages} all inks together are more than the {percent} % that the printer would rather have.",
        on_pages=starting_on_pages(tuple(page.number for page, _, _ in over)), percent=number(preferred, 0),
    )
    required = {"preferred_percent": preferred, "area_mm2": allowed_mm2}
    return replace(_too_much(over, preferred, allowed_mm2), message=message, preferred=True, required=required)


def _told_elsewhere(page: Page, plates: PlateFacts, asked: TotalAsked, limit: float) -> bool:
    """In every heavy place lie colours without inks of their own (RGB, Lab), so that their ink is what we converted them to, or
    registration colour.
    """
    if isinstance(page.content, Unmeasured):
        return plates.converted
    families = (*(_CONVERTED if plates.converted else ()), *(("registration",) if asked.registration_is_told else ()))
    boxes = [box for use in page.content.colors if use.family in families for box in use.boxes_mm]
    heavy = tuple(_places(plates, limit))
    return bool(heavy) and all(within(box, boxes) for box in heavy)


def _too_much(over: list[tuple[Page, PlateFacts, float]], limit: float, allowed_mm2: float) -> Finding:
    numbers = tuple(page.number for page, _, _ in over)
    worst, _, area = max(over, key=lambda one: one[2])
    known = [page.ink_max_percent for page, _, _ in over if not isinstance(page.ink_max_percent, Unmeasured)]
    most = max(known, default=limit)
    peak = number(most, 0) if most > limit else None
    if len(numbers) == 1:
        message = _told_of_one(numbers, peak, area_told(area), number(limit, 0))
    else:
        worst_told = say("On page {page}, the worst, it is {area}.", page=worst.number, area=area_told(area))
        message = f"{_told_of_many(numbers, peak, number(allowed_mm2, 0), number(limit, 0))} {worst_told}"
    return Finding(
        message=message,
        remedy=" ".join([*_ways_out(over, limit), say("Then export again.")]),
        measured={"ink_max_percent": most, "area_mm2": round(area, 1)},
        required={"maximum_percent": limit, "area_mm2": allowed_mm2},
        pages=numbers,
        places=tuple(Place(page.number, box) for page, plates, _ in over for box in _places(plates, limit)),
    )


def _told_of_one(numbers: tuple[int, ...], peak: str | None, area: str, limit: str) -> str:
    on_page = starting_on_pages(numbers)
    if peak is None:
        return say(
            "{on_page} the total ink coverage is too high: {area} lie over the {limit} % that the printer takes.",
            on_page=on_page,
            area=area,
            limit=limit,
        )
    return say(
        "{on_page} the total ink coverage reaches {peak} %; {area} lie over the {limit} % that the printer takes.",
        on_page=on_page,
        peak=peak,
        area=area,
        limit=limit,
    )


def _told_of_many(numbers: tuple[int, ...], peak: str | None, allowed_mm2: str, limit: str) -> str:
    """Of each page what it has in excess of what may be over the limit."""
    on_pages = starting_on_pages(numbers)
    if peak is None:
        return say(
            "{on_pages} the total ink coverage is too high: more than {allowed} mm² of each lie over the {limit} % "
            "that the printer takes.",
            on_pages=on_pages,
            allowed=allowed_mm2,
            limit=limit,
        )
    return say(
        "{on_pages} the total ink coverage reaches {peak} %; more than {allowed} mm² of each lie over the {limit} % "
        "that the printer takes.",
        on_pages=on_pages,
        peak=peak,
        allowed=allowed_mm2,
        limit=limit,
    )


def _ways_out(over: list[tuple[Page, PlateFacts, float]], limit: float) -> Iterator[str]:
    """What helps with what lies in the heavy places: registration colour, pictures, other objects."""
    registration, pictures, others = False, False, False
    for page, plates, _ in over:
        heavy = tuple(_places(plates, limit))
        if isinstance(page.content, Unmeasured) or not heavy:
            pictures = others = True
            continue
        everywhere = [box for use in page.content.colors if use.family == "registration" for box in use.boxes_mm]
        images = [one.visible_box_mm for one in page.content.images]
        registration = registration or any(within(box, everywhere) for box in heavy)
        pictures = pictures or any(within(box, images) for box in heavy)
        others = others or not all(within(box, [*images, *everywhere]) for box in heavy)
    if registration:
        yield say("Take the registration colour out of the artwork: it prints every ink at 100 %.")
    if pictures:
        yield say(
            "Convert the pictures to CMYK once more from their originals, with the profile that the printer names, and "
            "look that the limit is kept."
        )
    if others or not (registration or pictures):
        yield say("Mix blacks and dark colours with at most {limit} % of all inks together.", limit=number(limit, 0))


def _places(plates: PlateFacts, limit: float) -> Iterator[Box]:
    """Over this limit; where measuring looked at others, what is over a higher one, or at least the worst place."""
    known = [one for one in plates.heavy_ink if one.limit_percent >= limit]
    if known:
        yield from min(known, key=lambda one: one.limit_percent).boxes_mm
    elif plates.ink_max_box_mm is not None:
        yield plates.ink_max_box_mm
