"""Where the page is trimmed, and how much bleed it has: the declared boxes first, then what can be worked out.

In this order: TrimBox; ArtBox; crop marks found in the artwork; a CropBox smaller than the MediaBox (the default of
ISO 32000-2:2020, 14.11.2.1); the media less a symmetric bleed, where that gives a size that was asked about; the media.
A CropBox that takes some millimetres off a page of a size that was asked about, and leaves none, is a view of that page.
A worked-out trim is a likely one, never a certain one: the source goes with it.
"""

from __future__ import annotations

from collections.abc import Iterator

from service.pdf.facts.geometry import MM_PER_POINT, SLACK_MM, Box, Sides
from service.pdf.facts.page import PageBoxes, TrimSource
from service.pdf.pages.page_boxes import DeclaredPage
from service.pdf.question import Question

SAME_SIZE_MM = 0.5
"""Two sizes within this are one product: PWG 5101.1 as CUPS matches it (`_PWG_EPSILON` of cups/pwg-private.h)."""

_MOST_CUT_OFF_MM = 10.0
"""Of one edge, by a CropBox that only hides white, or bleed and marks. One that leaves a small part of the page means it. Ours,
no source.
"""


def find_trim(declared: DeclaredPage, question: Question, crop_mark_box_pt: Box | None = None) -> tuple[Box, TrimSource]:
    """The trim in user space, and where it was found. `crop_mark_box_pt`: the rectangle that crop marks point at, if any."""
    media = declared.media_pt
    trim, art = declared.in_force_pt("trim"), declared.in_force_pt("art")
    if trim:
        return trim, "trim_box"
    if art:
        return art, "art_box"
    marked = crop_mark_box_pt.intersection(media) if crop_mark_box_pt else None
    if marked and marked.area > 0:
        return marked, "crop_marks"
    mm = MM_PER_POINT * declared.user_unit
    crop = declared.crop_pt
    if not crop.contains(media, slack=SLACK_MM / mm) and not _is_a_view(crop, media, mm, question):
        return crop, "crop_box"
    bleed_mm = _bleed_to_asked_size(media.width * mm, media.height * mm, question) or 0.0
    if bleed_mm:
        return media.grown(-bleed_mm / mm), "media_minus_bleed"
    return media, "media_box"


def _is_a_view(crop: Box, media: Box, mm: float, question: Question) -> bool:
    cut_off = max(crop.x0 - media.x0, crop.y0 - media.y0, media.x1 - crop.x1, media.y1 - crop.y1) * mm
    return (
        cut_off <= _MOST_CUT_OFF_MM
        and _bleed_to_asked_size(media.width * mm, media.height * mm, question) is not None
        and _bleed_to_asked_size(crop.width * mm, crop.height * mm, question) is None
    )


def _bleed_to_asked_size(width_mm: float, height_mm: float, question: Question) -> float | None:
    """The bleed that leaves a size that was asked about, the nearest first; 0 where it is that size, None where none does."""
    fits = [
        (off, bleed)
        for width, height in _either_way(question)
        for bleed in (0.0, *question.bleeds_mm)
        if (off := max(abs(width_mm - width - 2 * bleed), abs(height_mm - height - 2 * bleed))) <= SAME_SIZE_MM
        and 2 * bleed < min(width_mm, height_mm)
    ]
    return min(fits)[1] if fits else None


def _either_way(question: Question) -> Iterator[tuple[float, float]]:
    """The sizes asked about, upright and on their side: Rotate may have turned the page."""
    for width, height in question.trim_sizes_mm:
        yield width, height
        yield height, width


def bleed_around(boxes: PageBoxes, *, bleed_declared: bool) -> Sides[float]:
    """What lies beyond the trim on each side as displayed, mm: in the BleedBox where there is one, else in the media."""
    outer, trim = boxes.bleed if bleed_declared else boxes.media, boxes.trim
    return Sides(
        top=max(0.0, trim.y0 - outer.y0),
        right=max(0.0, outer.x1 - trim.x1),
        bottom=max(0.0, outer.y1 - trim.y1),
        left=max(0.0, trim.x0 - outer.x0),
    )
