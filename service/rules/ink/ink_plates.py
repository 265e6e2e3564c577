"""Rules on ink plates: how much ink stacks up, and plates on which nothing prints."""

from __future__ import annotations

from collections.abc import Iterator

from service.language.spoken import say, say_many
from service.language.wording import area as area_told
from service.language.wording import first_few, number, pages_phrase, quoted, starting_on_pages
from service.pdf.facts.geometry import Box
from service.pdf.facts.ink_names import PROCESS_INKS, same_ink
from service.pdf.facts.measurements import Measurements, Page, PlateFacts, Unmeasured
from service.rules.base import LEFT_OUT, Finding, NotMeasured, Outcome, Place, always, plates_of, rule
from service.rules.sightings import within
from service.sheets.model import ColorAsked, SpecSheet

LEAST_AREA_MM2 = 1.0
"""Less is no finding, whatever the sheet allows: a seam between two objects is one pixel wide. Common practice, no source."""


@rule(
    "ink.total",
    asks=lambda sheet: sheet.color if sheet.color and sheet.color.ink_limit_percent is not None else None,
    asked_by="color.ink_limit",
    level="must",
    source="common practice, no source: each printing condition has its limit, and the printer knows which is his",
    measured={"ink_max_percent": "the most ink that holds over 1 mm², all printing inks together",
              "area_mm2": "how much of the worst page is over the limit", **LEFT_OUT},
    required={"maximum_percent": "most ink in total", "area_mm2": "how much of a page may be over it"},
)  # fmt: skip
def ink_total(measurements: Measurements, color: ColorAsked) -> Iterator[Outcome]:
    """No more ink lies on the paper in one place than it can take.

    Why: too much ink does not dry. It sets off on the next sheet, smears in folding, sticks in the pile, and dark parts of
    pictures fill in.
    Remedy: convert pictures with the printer's profile, whose limit it keeps; mix rich blacks within the limit.
    Knows: all printing inks of every spot of the page and its bleed, overprint and transparency included; finishing inks that
    the sheet names do not count. Small areas over the limit pass.
    Cannot know: how the printer's software will convert RGB and Lab colours: they are counted as the file's own printing
    condition, or else a plain formula, would print them.
    """
    limit = color.ink_limit_percent or 0.0
    over: list[tuple[Page, PlateFacts, float]] = []
    for item in plates_of(measurements):
        if isinstance(item, NotMeasured):
            yield item
            continue
        page, plates = item
        area = plates.area_beyond_limit_mm2(limit)
        if area > max(color.ink_area_mm2, LEAST_AREA_MM2):
            over.append((page, plates, area))
    if over:
        yield _too_much(over, limit, color.ink_area_mm2)


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
            "{on_page} all inks together are too much: {area} lie over the {limit} % that the printer takes.",
            on_page=on_page,
            area=area,
            limit=limit,
        )
    return say(
        "{on_page} all inks together reach {peak} %; {area} lie over the {limit} % that the printer takes.",
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
            "{on_pages} all inks together are too much: more than {allowed} mm² of each lie over the {limit} % that the printer "
            "takes.",
            on_pages=on_pages,
            allowed=allowed_mm2,
            limit=limit,
        )
    return say(
        "{on_pages} all inks together reach {peak} %; more than {allowed} mm² of each lie over the {limit} % that the printer "
        "takes.",
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
        yield say("Take the registration colour out of the artwork: it is every ink at 100 %.")
    if pictures:
        yield say("Convert the pictures to CMYK with the printer's profile, which keeps the limit.")
    if others or not (registration or pictures):
        yield say("Mix blacks and dark colours with at most {limit} % of all inks together.", limit=number(limit, 0))


def _places(plates: PlateFacts, limit: float) -> Iterator[Box]:
    """Over this limit; where measuring was asked about others, what is over a higher one, or at least the worst place."""
    known = [one for one in plates.heavy_ink if one.limit_percent >= limit]
    if known:
        yield from min(known, key=lambda one: one.limit_percent).boxes_mm
    elif plates.ink_max_box_mm is not None:
        yield plates.ink_max_box_mm


@rule(
    "ink.empty-plate",
    asks=always,
    asked_by="always",
    level="should",
    source="ISO 32000-2:2020, 8.6.6.4 and 8.6.6.5 (Separation, DeviceN); that an empty plate is a mistake is common practice",
    measured={"inks": "spot inks whose plate is empty on every page, as the file spells them", **LEFT_OUT},
    required={"empty": "false: something prints in every spot ink"},
)
def ink_empty_plate(measurements: Measurements, sheet: SpecSheet) -> Iterator[Outcome]:
    """Something prints on the plate of every spot ink.

    Why: a plate is made, charged and washed up for nothing; or what should print in that ink is white, covered up or missing.
    Remedy: find the objects in that swatch and mend them, or delete them and the swatch.
    Knows: the spot inks of objects on the pages, and that nothing of them lands inside the bleed. An empty plate of a finishing
    ink that the sheet requires is finish.plate's.
    Cannot know: swatches that no object uses; they make no plate.
    """
    empty: dict[str, list[Page]] = {}
    prints: set[str] = set()
    unknown = False
    for item in plates_of(measurements):
        if isinstance(item, NotMeasured):
            yield item
            unknown = True
            continue
        page, plates = item
        for one in plates.inks:
            if not one.empty:
                prints.add(one.ink)
            elif one.ink not in PROCESS_INKS:
                empty.setdefault(one.ink, []).append(page)
    inks = [ink for ink in sorted(empty.keys() - prints) if not _is_required_finish(ink, sheet)]
    if inks and not unknown:
        yield _nothing_prints(inks, empty)


def _is_required_finish(ink: str, sheet: SpecSheet) -> bool:
    """finish.plate tells of it: one cause is told once."""
    told = sheet.levels.get("finish.plate") != "off"
    return told and any(one.required and same_ink(one.ink) == same_ink(ink) for one in sheet.finishes)


def _nothing_prints(inks: list[str], empty: dict[str, list[Page]]) -> Finding:
    pages = {page.number: page for ink in inks for page in empty[ink]}
    numbers = tuple(sorted(pages))
    names = first_few([quoted(one) for one in inks])
    return Finding(
        message=say_many(
            "{pages}: {count} spot ink ({names}) is used, but its plate is empty: nothing prints in it inside the bleed.",
            "{pages}: {count} spot inks ({names}) are used, but their plates are empty: nothing prints in them inside the bleed.",
            len(inks),
            pages=pages_phrase(numbers),
            names=names,
        ),
        remedy=say(
            "Look for objects in this swatch that are white, at 0 %, covered up or outside the page; mend them, or delete "
            "them and the swatch."
        ),
        measured={"inks": inks},
        required={"empty": False},
        pages=numbers,
        places=tuple(
            Place(page.number, box)
            for page in pages.values()
            if not isinstance(page.content, Unmeasured)
            for use in page.content.spots
            if use.ink in inks
            for box in use.boxes_mm
        ),
    )
