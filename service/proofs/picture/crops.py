"""Pieces of pages for a report, and small pictures of whole pages: all of one check in one go, each page separated once.

A page is made as fine as the finest of its pieces needs, within a bound of pixels; each piece is scaled from that. One that
cannot be made, or for which no time is left, is told as such and keeps no other back.
"""

from __future__ import annotations

import time
from collections.abc import Iterator, Sequence
from pathlib import Path

from PIL import Image

from service.pdf.facts.geometry import Box
from service.pdf.facts.unknown import Failure, Unmeasured
from service.pdf.reading.opening import OpenedPdf, opened
from service.proofs.picture.crops_brief import MOST_CROP_PIXELS, MOST_CROPS, CropBrief, CropsBrief, pack_crops
from service.proofs.picture.framed_plates import PageInFile
from service.proofs.picture.markers.marking import mark_up
from service.proofs.picture.page_brief import Frame, ppi_of
from service.proofs.picture.printed_page import printed
from service.proofs.picture.written_png import png

_MOST_PIXELS_OF_A_PAGE = 6_000_000
"""A4 at 200 ppi has 4 million."""


def draw_crops(path: Path, brief: CropsBrief) -> bytes | Unmeasured:
    """All of them packed (`crops_brief.read_crops`), or why there are none."""
    until = time.monotonic() + brief.seconds
    drawn: list[bytes | None] = [None] * len(brief.crops)
    with opened(path) as pdf:
        if isinstance(pdf, Failure):
            return pdf.reason
        for places in _by_page(brief.crops):
            if time.monotonic() > until:
                break
            for place, picture in zip(places, _of_page(pdf, path, [brief.crops[place] for place in places]), strict=True):
                drawn[place] = picture
    return pack_crops(drawn)


def _by_page(crops: Sequence[CropBrief]) -> list[list[int]]:
    """The places in the list of the crops of each page."""
    pages: dict[int, list[int]] = {}
    for place, crop in enumerate(crops[:MOST_CROPS]):
        width, height = crop.size_px
        if width * height <= MOST_CROP_PIXELS:
            pages.setdefault(crop.page.number, []).append(place)
    return list(pages.values())


def _of_page(pdf: OpenedPdf, path: Path, crops: Sequence[CropBrief]) -> Iterator[bytes | None]:
    page, area = crops[0].page, crops[0].area_mm
    for crop in crops:
        area = area.union(crop.area_mm)
    frame = Frame(area, ppi_of(area, max(crop.ppi for crop in crops), _MOST_PIXELS_OF_A_PAGE))
    shown = printed(PageInFile(pdf, page.number, page.media_mm), path, page.inks, frame)
    whole = None if isinstance(shown, Unmeasured) else Image.fromarray(shown.pixels)
    for crop in crops:
        yield None if whole is None else png(_piece(whole, frame, crop), crop.ppi)


def _piece(whole: Image.Image, frame: Frame, crop: CropBrief) -> Image.Image:
    x0, y0, x1, y1 = frame.px(crop.area_mm).intersection(Box(0, 0, *whole.size)) or (0, 0, *whole.size)
    piece = whole.resize(crop.size_px, Image.Resampling.LANCZOS, box=(x0, y0, max(x1, x0 + 0.1), max(y1, y0 + 0.1)))
    mark_up(piece, Frame(crop.area_mm, crop.ppi), crop.lines, crop.marks, crop.scale)
    return piece
