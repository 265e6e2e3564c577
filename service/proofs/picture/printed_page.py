"""A piece of a page in screen colours as it will print: its ink plates put together again, on white paper.

* What overprints and knocks out does so as on the press, since the plates are made as those that the check measures; only RGB
  of a file without an output intent becomes inks in its own way (`screen_inks`).
* Process inks go together through the file's output intent's profile, else as PDFium shows DeviceCMYK (`preview.screen_color`);
  each spot ink is laid over them as a filter of its own colour (`ink_hues`): the channels multiply. Ours, a common model.
* Where the plates cannot be made, the page is shown as PDFium renders it for printing, without overprint.
* Beyond the MediaBox there is no paper, and the desk shows (`DESK`).

A screen shows no ink: the printer's own proof is what counts for colour.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import numpy as np
import numpy.typing as npt
import pypdfium2
import pypdfium2.raw as raw

from service.pdf.facts.ink_names import PROCESS_INKS
from service.pdf.facts.unknown import Unmeasured
from service.pdf.plates.page_plates import to_process_inks
from service.pdf.plates.separation import Plates
from service.pdf.reading.reading_errors import READING_ERRORS
from service.proofs.picture.framed_plates import PageInFile, framed_plates
from service.proofs.picture.ink_hues import InkHues
from service.proofs.picture.page_brief import Frame, Made
from service.proofs.picture.screen_inks import process_that_looks_like

Pixels = npt.NDArray[np.uint8]
"""(rows, columns, 3), sRGB."""

DESK = (228, 221, 208)
"""What lies around the paper: of the service's own warm greys, plainly darker than white paper."""

_PIXELS_AT_ONCE = 1 << 17
"""What is worked out stays in the processor's own memory. Ours, no source."""
_MOST_PICKED = 0.5
"""Of the pixels: where more have ink, picking them out costs more than converting all. Ours, no source."""


@dataclass(frozen=True)
class Shown:
    pixels: Pixels
    made: Made


def printed(one: PageInFile, path: Path, inks: tuple[str, ...] | None, frame: Frame) -> Shown | Unmeasured:
    """The piece of the page; plainly rendered where its plates cannot be made (`inks` None: they were not measured)."""
    if inks is None:
        return _rendered(one, path, frame)
    try:
        hues = InkHues(one.pdf.pdf, one.page, inks)
        to_process = to_process_inks(one.pdf.pdf)[0] if hues.through_profile else process_that_looks_like
        plates = framed_plates(one, frame, inks, to_process)
        if isinstance(plates, Unmeasured):
            return _rendered(one, path, frame)
        pixels = put_together(plates, hues, frame.size_px)
    except READING_ERRORS:
        return _rendered(one, path, frame)
    return Shown(_on_desk(pixels, one, frame), Made("plates", "output intent" if hues.through_profile else "common reader"))


def put_together(plates: Plates, hues: InkHues, size_px: tuple[int, int]) -> Pixels:
    width, height = size_px
    pixels = np.full((height, width, 3), 255, np.uint8)
    step = max(1, _PIXELS_AT_ONCE // width)
    for start in range(0, height, step):
        band = slice(start, min(start + step, height))
        _process_inks(plates, hues, band, pixels[band])
        for ink, coverage in plates.coverage.items():
            if ink not in PROCESS_INKS and coverage[band].any():
                over = hues.curve(ink)[coverage[band]].astype(np.uint16)
                pixels[band] = (pixels[band] * over + 127) // 255
    return pixels


def _process_inks(plates: Plates, hues: InkHues, band: slice, pixels: Pixels) -> None:
    """Only where there is ink: paper is white whatever a profile says. Each pixel is converted by itself."""
    found = [(at, plates.coverage[ink][band]) for at, ink in enumerate(PROCESS_INKS) if ink in plates.coverage]
    inks = np.zeros(pixels.shape[:2], np.uint8)
    for _, coverage in found:
        inks |= coverage
    inked = inks != 0
    count = np.count_nonzero(inked)
    if not count:
        return
    everywhere = count > _MOST_PICKED * inked.size
    tints = np.zeros((*inked.shape, 4) if everywhere else (1, count, 4), np.uint8)
    for at, coverage in found:
        tints[:, :, at] = coverage if everywhere else coverage[inked]
    converted = hues.colors.process(tints)
    if everywhere:
        pixels[:] = converted
        pixels[~inked] = 255
    else:
        pixels[inked] = converted[0]


def _on_desk(pixels: Pixels, one: PageInFile, frame: Frame) -> Pixels:
    """The same array."""
    rows, columns = frame.pixels_within(one.media_mm)
    for beyond in (pixels[: rows.start], pixels[rows.stop :], pixels[:, : columns.start], pixels[:, columns.stop :]):
        beyond[:] = DESK
    return pixels


# --- Without plates ---------------------------------------------------------------------------------------------------


def _rendered(one: PageInFile, path: Path, frame: Frame) -> Shown | Unmeasured:
    """As PDFium renders it for printing. Its boxes are set to the piece, in memory only."""
    width, height = frame.size_px
    try:
        area = one.in_user_space(frame.area_mm)
        with pypdfium2.PdfDocument(path) as document:
            page = document[one.number - 1]
            page.set_mediabox(*area)
            page.set_cropbox(*area)
            page.close()
            bitmap = pypdfium2.PdfBitmap.new_native(width, height, raw.FPDFBitmap_BGRx)
            bitmap.fill_rect((255, 255, 255, 255), 0, 0, width, height)
            how = raw.FPDF_ANNOT | raw.FPDF_PRINTING | raw.FPDF_NO_CATCH
            raw.FPDF_RenderPageBitmap(bitmap, document[one.number - 1], 0, 0, width, height, 0, how)
            pixels = bitmap.to_numpy()[:, :, 2::-1].copy()
    except (*READING_ERRORS, pypdfium2.PdfiumError):
        return Unmeasured("The page cannot be shown: it is damaged.")
    return Shown(_on_desk(pixels, one, frame), Made("rendering", "common reader"))
