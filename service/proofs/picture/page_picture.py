"""The picture of a page as PNG: as it will print (`printed_page`), its boxes and findings drawn upon it, a legend below."""

from __future__ import annotations

import io
from pathlib import Path

from PIL import Image

from service.pdf.facts.unknown import Failure, Unmeasured
from service.pdf.reading.opening import opened
from service.proofs.picture.framed_plates import PageInFile
from service.proofs.picture.legend import Legend, with_legend
from service.proofs.picture.lettering import scale_at
from service.proofs.picture.marking import mark_up
from service.proofs.picture.page_brief import PictureAsked, made_to_line
from service.proofs.picture.printed_page import printed


def page_picture(path: Path, asked: PictureAsked) -> bytes | Unmeasured:
    """One line that says how it was made, then the PNG (`page_brief.read_picture`); or why there is none."""
    with opened(path) as pdf:
        if isinstance(pdf, Failure):
            return pdf.reason
        shown = printed(PageInFile(pdf, asked.page.number, asked.page.media_mm), path, asked.page.inks, asked.frame)
    if isinstance(shown, Unmeasured):
        return shown
    picture = Image.fromarray(shown.pixels)
    if asked.legend:
        scale = scale_at(asked.frame.ppi)
        mark_up(picture, asked.frame, asked.lines, asked.marks, scale)
        notes = (*asked.notes, asked.if_rendered) if shown.made.of == "rendering" else asked.notes
        picture = with_legend(picture, Legend(asked.lines, asked.marks, asked.marks_heading, notes), scale)
    return made_to_line(shown.made) + png(picture, asked.frame.ppi)


def png(picture: Image.Image, ppi: float) -> bytes:
    written = io.BytesIO()
    picture.save(written, "PNG", dpi=(ppi, ppi), compress_level=4)
    return written.getvalue()
