"""The ink plates of a piece of a page, pixel for pixel those of its picture (`page_brief.Frame`).

The piece need not keep within the paper: beyond the MediaBox nothing is painted (ISO 32000-2:2020, 14.11.2.2).
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
import pikepdf

from service.pdf.content.resources import Shared
from service.pdf.facts.geometry import Box
from service.pdf.facts.unknown import Unmeasured
from service.pdf.pages.page_boxes import DeclaredPage, read_page, ruler
from service.pdf.plates.colors.inks import Tints
from service.pdf.plates.page_plates import plates_or_reason
from service.pdf.plates.separation import Coverage, PageToSeparate, Plates
from service.pdf.reading.opening import OpenedPdf
from service.pdf.reading.reading_errors import READING_ERRORS
from service.proofs.picture.page_brief import Frame


@dataclass(frozen=True)
class PageInFile:
    """A page where it stands in the opened file."""

    pdf: OpenedPdf
    number: int
    media_mm: Box

    @property
    def page(self) -> pikepdf.Dictionary:
        return self.pdf.pdf.pages[self.number - 1].obj

    @property
    def declared(self) -> DeclaredPage:
        return read_page(self.page, has_size=self.number not in self.pdf.without_size)

    def in_user_space(self, area_mm: Box) -> Box:
        """The same area in default user space."""
        declared, media = self.declared, self.media_mm
        back = ruler(declared.media_pt, declared.rotation, declared.user_unit).inverse()
        assert back is not None, "a ruler flattens nothing"
        return back.box(Box(area_mm.x0 - media.x0, area_mm.y0 - media.y0, area_mm.x1 - media.x0, area_mm.y1 - media.y0))


def framed_plates(
    one: PageInFile, frame: Frame, inks: Sequence[str], to_process: Callable[[Tints], Tints]
) -> Plates | Unmeasured:
    """Plates of exactly the frame's pixels; `to_process` as in `page_plates`."""
    try:
        declared = one.declared
        user_space = one.in_user_space(frame.area_mm)
        page = PageToSeparate(one.page, user_space, frame.area_mm, declared.rotation, declared.user_unit, inks)
        shared = Shared(one.pdf.pdf)
    except READING_ERRORS:
        return Unmeasured("The page's separations cannot be made: the page or the file's list of layers is damaged.")
    made = plates_or_reason(one.pdf.pdf, page, shared, to_process, frame.ppi)
    if isinstance(made, Unmeasured):
        return made
    coverage = {ink: _on_paper(plate, frame, one.media_mm) for ink, plate in made.coverage.items()}
    return Plates(frame.area_mm, frame.ppi, coverage, made.converted, made.picture_steps_percent)


def _on_paper(plate: Coverage, frame: Frame, media_mm: Box) -> Coverage:
    width, height = frame.size_px
    within = frame.pixels_within(media_mm)
    cut = np.zeros((height, width), np.uint8)
    piece = plate[within]  # a plate is made of all pixels that the area touches, perhaps one more than are shown
    cut[: plate.shape[0], : plate.shape[1]][within] = piece
    return cut
