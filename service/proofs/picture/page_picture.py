"""The picture of a page as PNG: as it will print (`printed_page`), its boxes and findings drawn upon it, a legend below."""

from __future__ import annotations

from pathlib import Path

from PIL import Image

from service.pdf.facts.unknown import Failure, Unmeasured
from service.pdf.reading.opening import opened
from service.proofs.picture.framed_plates import PageInFile
from service.proofs.picture.markers.legend import Legend, with_legend
from service.proofs.picture.markers.lettering import scale_at
from service.proofs.picture.markers.marking import mark_up
from service.proofs.picture.page_brief import PictureBrief, made_to_line
from service.proofs.picture.printed_page import printed
from service.proofs.picture.written_png import png


def page_picture(path: Path, brief: PictureBrief) -> bytes | Unmeasured:
    """One line that says how it was made, then the PNG (`page_brief.read_picture`); or why there is none."""
    with opened(path) as pdf:
        if isinstance(pdf, Failure):
            return pdf.reason
        shown = printed(PageInFile(pdf, brief.page.number, brief.page.media_mm), path, brief.page.inks, brief.frame)
    if isinstance(shown, Unmeasured):
        return shown
    picture = Image.fromarray(shown.pixels)
    if brief.legend:
        scale = scale_at(brief.frame.ppi)
        mark_up(picture, brief.frame, brief.lines, brief.marks, scale)
        notes = (*brief.notes, brief.if_rendered) if shown.made.of == "rendering" else brief.notes
        picture = with_legend(picture, Legend(brief.lines, brief.marks, brief.marks_heading, notes), scale)
    return made_to_line(shown.made) + png(picture, brief.frame.ppi)
