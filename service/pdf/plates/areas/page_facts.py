"""What a page's plates say: ink in total, coverage, blank pages, empty plates, how far ink reaches into the bleed.

Finishing inks (foil, varnish, cut lines) are left out of the total and of the reach where measuring is told which they are;
a page that carries only them is not blank all the same.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

import numpy as np

from service.pdf.facts.geometry import MM_PER_INCH, Box, Sides
from service.pdf.facts.ink_names import same_ink
from service.pdf.facts.page import Page
from service.pdf.facts.painted.content import MOST_PLACES
from service.pdf.facts.painted.images import Image
from service.pdf.facts.plates import FinishingPlate, HeavyInk, InkCoverage, Outline, PlateFacts, most_within_percent
from service.pdf.facts.unknown import NotAsked, Unmeasured
from service.pdf.plates.areas.black_ground import seen_on_plates
from service.pdf.plates.areas.frame import Frame
from service.pdf.plates.areas.ink_squares import ink_map, tinted_regions
from service.pdf.plates.areas.outline import outline_of
from service.pdf.plates.areas.picture_ink import ink_in_pictures
from service.pdf.plates.areas.pieces import pieces_of
from service.pdf.plates.areas.reach import INK_FROM, Objects, Reach, reach
from service.pdf.plates.areas.total_ink import Total, area_by_percent, counts_of, most_ink, regions_over
from service.pdf.plates.separation import Coverage, Plates
from service.pdf.question import Question

UPRIGHT_MM = 0.1
"""A picture whose sides are as long as those of its box is not turned."""
NEAR_THE_EDGE_MM = 1.0
"""Objects that end further inside have no part in what stands at the trim."""
NO_MAP = NotAsked("Where ink lies on the page was not asked for.")
FAINTEST = 2
"""Of 255: what is fainter is a rounding of white."""


def with_plates(page: Page, plates: Plates | Unmeasured, question: Question) -> Page:
    """The page with all that its plates say, or with the reason why they say nothing; plain ink stands at no edge."""
    if isinstance(plates, Unmeasured):
        reach = Sides[float | None](None, None, None, None) if isinstance(plates, NotAsked) else plates
        return replace(page, plates=plates, bleed_reach_mm=reach, ink_max_percent=plates)
    left_out = tuple(ink for ink in plates.coverage if _is_finishing(ink, question))
    total = _total(plates, left_out)
    sides = _reach(page, plates, total)
    most, facts = _facts(page, plates, total, left_out, question)
    stops = sorted((stop for side in sides for stop in side.stops), key=lambda stop: stop.from_mm - stop.to_mm)
    content = page.content
    if not isinstance(content, Unmeasured):
        overprints = seen_on_plates(content.overprints, plates, left_out, Frame(plates.area_mm, total.shape))
        content = replace(content, overprints=overprints, images=_with_steps(content.images, plates))
    return replace(
        page,
        content=content,
        plates=replace(facts, edge_stops=tuple(stops[:MOST_PLACES])),
        bleed_reach_mm=Sides(*(side.reach_mm for side in sides)),
        ink_max_percent=most,
    )


def _with_steps(images: tuple[Image, ...], plates: Plates) -> tuple[Image, ...]:
    """How far their tones go from pixel to pixel, of those that the plates had to decode whole."""
    steps = {number: round(step, 2) for number, step in plates.picture_steps_percent.items()}
    known = (None if one.object_number is None else steps.get(one.object_number) for one in images)
    return tuple(one if step is None else replace(one, step_percent=step) for one, step in zip(images, known, strict=True))


def _is_finishing(ink: str, question: Question) -> bool:
    return same_ink(ink) in {same_ink(one) for one in question.finishing_inks}


def _total(plates: Plates, left_out: Sequence[str]) -> Total:
    """All printing inks added; a page without ink has one white pixel."""
    shape = next((one.shape for one in plates.coverage.values()), (1, 1))
    total = np.zeros(shape, dtype=np.uint16)
    for ink, coverage in plates.coverage.items():
        if ink not in left_out:
            np.add(total, coverage, out=total)
    return total


# --- What is on the page ---


def _facts(page: Page, plates: Plates, total: Total, left_out: tuple[str, ...], question: Question) -> tuple[float, PlateFacts]:
    frame = Frame(plates.area_mm, total.shape)
    trimmed, bleeding = frame.part(page.boxes_mm.trim), frame.part(_bleeding(page))
    printed = total[bleeding]
    counts = counts_of(printed)
    most = most_ink(printed, counts, frame.pixel_mm2)
    heavy = []
    for limit in question.ink_limits_percent if printed.size else ():
        most_within = most_within_percent(limit, len(plates.coverage) - len(left_out))
        regions = regions_over(printed, counts, most_within, frame.pixel_mm2, MOST_PLACES)
        if regions:
            heavy.append(HeavyInk(limit, tuple(frame.box(one, bleeding) for one in regions)))
    inks = tuple(
        InkCoverage(
            ink,
            round(float(coverage[trimmed].mean()) / 2.55, 3) if coverage[trimmed].size else 0.0,
            bool((coverage[bleeding] < FAINTEST).all()),
        )
        for ink, coverage in plates.coverage.items()
    )
    facts = PlateFacts(
        ppi=round(plates.ppi, 1),
        converted=plates.converted,
        blank=all(bool((coverage[trimmed] < INK_FROM).all()) for coverage in plates.coverage.values()),
        inks=inks,
        left_out=left_out,
        ink_area_mm2=area_by_percent(counts, frame.pixel_mm2) if plates.coverage and printed.size else (),
        ink_max_box_mm=frame.box(most.where, bleeding) if most.where else None,
        heavy_ink=tuple(heavy),
        edge_stops=(),
        ink_map=ink_map(total, plates) if question.where_ink_lies else NO_MAP,
        finishing=tuple(_finishing(ink, plates, frame, bleeding) for ink in left_out),
        picture_ink_mm=_ink_in_pictures(page, total if not left_out else _total(plates, ()), frame),
        pieces=_followed(pieces_of, question.piece_inks, page, plates, total, frame),
        outline=_followed(outline_of, question.cutting_inks, page, plates, total, frame),
    )
    return most.percent, facts


def _ink_in_pictures(page: Page, everything: Total, frame: Frame) -> tuple[Box | None, ...]:
    images = () if isinstance(page.content, Unmeasured) else page.content.images
    return ink_in_pictures([one.visible_box_mm for one in images], page.boxes_mm.trim, everything, frame)


def _finishing(ink: str, plates: Plates, frame: Frame, bleeding: tuple[slice, slice]) -> FinishingPlate:
    coverage = plates.coverage[ink]
    least, regions = tinted_regions(coverage[bleeding], frame.pixel_mm2, MOST_PLACES)
    return FinishingPlate(ink, ink_map(coverage, plates), least, tuple(frame.box(one, bleeding) for one in regions))


def _followed(
    by: Callable[[Coverage, Total, Frame, Box, Sequence[Box], Sequence[Box]], Outline | None],
    inks: Sequence[str], page: Page, plates: Plates, total: Total, frame: Frame,
) -> Outline | None:
    """What the line in the first of these inks that has a plate cuts out."""
    names = {same_ink(one) for one in inks}
    lines = [coverage for ink, coverage in plates.coverage.items() if same_ink(ink) in names]
    if not lines:
        return None
    runs = () if isinstance(page.content, Unmeasured) else page.content.text_runs
    texts = [run.ink_mm if isinstance(run.ink_mm, Box) else run.box_mm for run in runs]
    return by(lines[0], total, frame, page.boxes_mm.trim, _objects(page).may_be_white, texts)


def _bleeding(page: Page) -> Box:
    """The trimmed page with its bleed; where the file does not say how deep that is, marks and slug may stand beyond the trim."""
    trim = page.boxes_mm.trim
    return trim.union(page.boxes_mm.bleed) if page.bleed_declared else trim


# --- What reaches the bleed ---


def _reach(page: Page, plates: Plates, total: Total) -> tuple[Reach, Reach, Reach, Reach]:
    """Top, right, bottom, left."""
    trim, objects = page.boxes_mm.trim, _objects(page)
    depths = page.bleed_mm
    return (
        reach(total, plates.area_mm, trim, "top", depths.top, objects),
        reach(total, plates.area_mm, trim, "right", depths.right, objects),
        reach(total, plates.area_mm, trim, "bottom", depths.bottom, objects),
        reach(total, plates.area_mm, trim, "left", depths.left, objects),
    )


def _objects(page: Page) -> Objects:
    """Of the walk; without it everything is told from the plates alone."""
    if isinstance(page.content, Unmeasured):
        return Objects()
    artwork = () if isinstance(page.content.artwork, Unmeasured) else page.content.artwork
    may_be_white = [one.visible_box_mm for one in page.content.images if _is_upright(one)]
    may_be_white += [one.box_mm for one in artwork if one.kind == "shading"]
    inner = page.boxes_mm.trim.grown(-NEAR_THE_EDGE_MM)
    near_the_edge = [*(one.visible_box_mm for one in page.content.images), *(one.box_mm for one in artwork)]
    return Objects(may_be_white, [box for box in near_the_edge if not inner.contains(box, slack=0)])


def _is_upright(image: Image) -> bool:
    """Not turned, or by a right angle."""
    width, height = image.width_px / image.ppi_x * MM_PER_INCH, image.height_px / image.ppi_y * MM_PER_INCH
    box = image.box_mm
    return any(
        abs(width - across) < UPRIGHT_MM and abs(height - down) < UPRIGHT_MM
        for across, down in ((box.width, box.height), (box.height, box.width))
    )
