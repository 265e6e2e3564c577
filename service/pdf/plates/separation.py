"""One page as ink plates: an 8-bit coverage array for each ink, by PDFium over rewritten content.

* Cyan, magenta and yellow share a rendering, black and up to two spots the next, and so on (see `rewriting`). Where overprint or
  a blend mode treats inks of one rendering differently, each gets its own.
* The resolution keeps within a budget of pixels, whatever size a page claims; the one that was used is told.
* Boxes, Rotate and UserUnit are honoured: arrays stand as the page is displayed, over its media.
"""

from __future__ import annotations

import io
from collections.abc import Callable, Iterator, Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace
from math import ceil

import numpy as np
import numpy.typing as npt
import pikepdf
import pypdfium2
import pypdfium2.raw as raw
from pikepdf import Array, Dictionary, Name

from service.pdf.content.appearances import printed_appearances
from service.pdf.content.kept import Kept
from service.pdf.content.resources import Resources, Shared
from service.pdf.facts.geometry import MM_PER_INCH, POINTS_PER_INCH, Box, Matrix
from service.pdf.facts.ink_names import PROCESS_INKS
from service.pdf.plates.colors.inks import InkTable, Tints
from service.pdf.plates.colors.overprint import MixedTreatment
from service.pdf.plates.pictures.recolored import Picture, Pictures
from service.pdf.plates.rewriting.color_runs import ColorRuns
from service.pdf.plates.rewriting.objects import form_for, refuse_knockout, rgb_group
from service.pdf.plates.rewriting.rewriter import Rewriter, State
from service.pdf.plates.rewriting.table import HANDLERS
from service.pdf.reading.page_tree import inherited
from service.pdf.reading.streams import page_streams

Coverage = npt.NDArray[np.uint8]
"""(rows, columns), 255 = full tint."""
MOST_PIXELS = 30_000_000
"""Of one rendering: A0 at 100 ppi has 15 million."""
_WORTH_A_THREAD_PIXELS = 500_000
"""Of one rendering: a card, which has 90,000, is painted before a thread has begun. Ours, no source."""
JUDGING_PPI = 100.0


@dataclass(frozen=True)
class Plates:
    """Coverage of every ink on one page."""

    area_mm: Box
    """What the arrays cover, ruler mm: the media, and up to a pixel beyond its right and bottom."""
    ppi: float
    coverage: Mapping[str, Coverage]
    """Process inks first, then spots, as the page uses them."""
    converted: bool
    """RGB or Lab colours were converted to the process inks."""
    picture_steps_percent: Mapping[int, float]
    """By the numbers of pictures in the file: the largest step from pixel to pixel, of those that were decoded whole."""


@dataclass(frozen=True)
class PageToSeparate:
    """A page with what measuring knows of it."""

    page: pikepdf.Dictionary
    media_pt: Box
    """User space."""
    area_mm: Box
    """The same in ruler mm."""
    rotation: int
    user_unit: float
    inks: Sequence[str]


def separate(
    source: pikepdf.Pdf,
    asked: PageToSeparate,
    shared: Shared,
    to_process: Callable[[Tints], Tints],
    ppi: float = JUDGING_PPI,
    kept: Kept[Picture] | None = None,
) -> Plates:
    """The page's plates. Raises what reading raises, and TooMuchWork; a page without ink has no plates.

    `kept`: from the file's other pages, whose `to_process` is the same.
    """
    across, down = (side * asked.user_unit / POINTS_PER_INCH for side in (asked.media_pt.width, asked.media_pt.height))
    ppi = min(ppi, (MOST_PIXELS / max(across * down, 1e-6)) ** 0.5)
    work = _Work(source, asked, shared, to_process, Pictures(of_file=kept), ColorRuns(), ppi)
    columns, rows = pixels_of(asked.area_mm, ppi)
    coverage: dict[str, Coverage] = {}
    converted = False
    for rewritten, painted in _with_paintings(_rewritings(work, asked.inks), columns, rows):
        converted |= rewritten.converted
        coverage |= painted
    x0, y0, _, _ = asked.area_mm
    area = Box(x0, y0, x0 + columns / ppi * MM_PER_INCH, y0 + rows / ppi * MM_PER_INCH)
    empty = [ink for ink in asked.inks if ink not in coverage]
    coverage |= {ink: np.zeros((rows, columns), np.uint8) for ink in empty}
    return Plates(area, ppi, {ink: coverage[ink] for ink in asked.inks}, converted, work.pictures.steps_percent)


@dataclass(frozen=True)
class _Work:
    """What all renderings of one page have in common, and what they remember for each other."""

    source: pikepdf.Pdf
    asked: PageToSeparate
    shared: Shared
    to_process: Callable[[Tints], Tints]
    pictures: Pictures
    color_runs: ColorRuns
    ppi: float


@dataclass(frozen=True)
class _Rewritten:
    """The page for up to three inks, as a PDF of its own."""

    inks: tuple[str, ...]
    pdf: bytes
    used: tuple[str, ...]
    """Those among the inks that anything on the page holds: the plates of the others are empty."""
    converted: bool


def _rewritings(work: _Work, inks: Sequence[str]) -> Iterator[_Rewritten]:
    """The page once for each rendering that it needs; inks that nothing holds take no room in one."""
    first, *others = [*_renderings(inks)] or [()]
    if not first:
        return
    for group in (first, *others):
        try:
            rewritten = _rewritten(work, group)
            together = _packed(work, rewritten, others) if group is first else None
            yield together or rewritten
            if together:
                return
        except MixedTreatment:
            for ink in group:
                yield _rewritten(work, (ink,))


def _packed(work: _Work, first: _Rewritten, others: list[tuple[str, ...]]) -> _Rewritten | None:
    """All inks in one rendering, where the first one has room for those of the only other; None where it has not."""
    if len(others) != 1 or not first.used or len(first.used) + len(others[0]) > 3:
        return None
    try:
        return _rewritten(work, (*first.used, *others[0]))
    except MixedTreatment:
        return None


def pixels_of(area_mm: Box, ppi: float) -> tuple[int, int]:
    """Columns and rows that cover the area, the last ones perhaps in part."""
    return max(ceil(area_mm.width / MM_PER_INCH * ppi - 1e-3), 1), max(ceil(area_mm.height / MM_PER_INCH * ppi - 1e-3), 1)


def _renderings(inks: Sequence[str]) -> Iterator[tuple[str, ...]]:
    """Cyan, magenta and yellow together, since non-separable modes need them so; then black and the spots by threes."""
    first = tuple(ink for ink in inks if ink in PROCESS_INKS[:3])
    if first:
        yield first
    rest = [ink for ink in inks if ink not in first]
    for start in range(0, len(rest), 3):
        yield tuple(rest[start : start + 3])


def rendered_together(inks: Sequence[str], ink: str) -> tuple[str, ...]:
    """Those of a page's inks that one plate cannot be made without; empty where the page has no such ink."""
    return next((some for some in _renderings(inks) if ink in some), ())


def _rewritten(work: _Work, inks: tuple[str, ...]) -> _Rewritten:
    asked, table = work.asked, InkTable(inks, work.to_process)
    with pikepdf.new() as out:
        rewriter = Rewriter(HANDLERS, work.source, out, table, work.shared, work.pictures, work.color_runs)
        scale = work.ppi * asked.user_unit / POINTS_PER_INCH
        columns, rows = pixels_of(asked.area_mm, work.ppi)
        whole = _of_whole_pixels(asked, columns / scale, rows / scale)
        to_pixels = Matrix(scale, 0, 0, scale, -whole.x0 * scale, -whole.y0 * scale)
        rewriter.state = State(ctm=to_pixels, placed=True)
        rewriter.media_px = to_pixels.box(whole)
        made = Dictionary()
        data = page_content(rewriter, asked.page, made)
        page = Dictionary(Type=Name.Page, MediaBox=Array(list(whole)), Resources=made, Rotate=asked.rotation)
        page.Contents = out.make_indirect(pikepdf.Stream(out, data))
        group = asked.page.get("/Group")
        if isinstance(group, Dictionary):
            page.Group = rgb_group(group)
        out.pages.append(pikepdf.Page(out.make_indirect(page)))
        written = io.BytesIO()
        out.save(written, compress_streams=False, stream_decode_level=pikepdf.StreamDecodeLevel.none)
    return _Rewritten(inks, written.getvalue(), tuple(ink for ink in inks if ink in table.used), table.converted)


def _painted(rewritten: _Rewritten, columns: int, rows: int) -> dict[str, Coverage]:
    """The coverage of the inks that are used; nothing is painted where none is."""
    if not rewritten.used:
        return {}
    with pypdfium2.PdfDocument(rewritten.pdf) as document:
        bitmap = pypdfium2.PdfBitmap.new_native(columns, rows, raw.FPDFBitmap_BGRx)
        bitmap.fill_rect((255, 255, 255, 255), 0, 0, columns, rows)
        raw.FPDF_RenderPageBitmap(bitmap, document[0], 0, 0, columns, rows, 0, raw.FPDF_NO_CATCH)
        blue_green_red = bitmap.to_numpy()
        return {ink: 255 - blue_green_red[:, :, 2 - at] for at, ink in enumerate(rewritten.inks) if ink in rewritten.used}


def _with_paintings(
    rewritings: Iterator[_Rewritten], columns: int, rows: int
) -> Iterator[tuple[_Rewritten, dict[str, Coverage]]]:
    """With the coverage of each; where it takes long, PDFium paints one rendering while the next is rewritten."""
    if columns * rows < _WORTH_A_THREAD_PIXELS:
        yield from ((one, _painted(one, columns, rows)) for one in rewritings)
        return
    with ThreadPoolExecutor(1) as painter:
        paintings = [(one, painter.submit(_painted, one, columns, rows)) for one in rewritings]
        yield from ((one, painting.result()) for one, painting in paintings)


def _of_whole_pixels(asked: PageToSeparate, across_pt: float, down_pt: float) -> Box:
    """The media, enlarged on the displayed page's right and bottom to whole pixels, so that nothing is stretched."""
    x0, y0, x1, y1 = asked.media_pt
    width, height = (down_pt, across_pt) if asked.rotation in (90, 270) else (across_pt, down_pt)
    left = x1 - width if asked.rotation in (180, 270) else x0
    bottom = y1 - height if asked.rotation in (0, 270) else y0
    return Box(left, bottom, left + width, bottom + height)


def page_content(rewriter: Rewriter, page: pikepdf.Dictionary, made: Dictionary) -> bytes:
    """The page's own content, then the appearances of the annotations that print."""
    resources, group = Resources(inherited(page, "/Resources"), rewriter.shared), page.get("/Group")
    if isinstance(group, Dictionary) and bool(group.get("/K")):
        refuse_knockout(rewriter, page_streams(page), resources, None)
    pieces = [rewriter.begun() + rewriter.stream(data, resources, rewriter.state, made) for data in page_streams(page)]
    frame, page_state = rewriter.frame, rewriter.state
    for matrix, appearance in printed_appearances(page, rewriter.shared):
        frame.made, frame.source = made, resources
        rewriter.state = replace(page_state, ctm=matrix.then(page_state.ctm))
        form = frame.name("/XObject", form_for(rewriter, appearance))
        pieces.append(rewriter.begun() + b"q %s cm %s Do Q" % (b" ".join(b"%.6f" % value for value in matrix), form))
    return b"\n".join(b"q\n%s\nQ" % piece for piece in pieces)
