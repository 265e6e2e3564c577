"""What the fork server draws while nobody asks, so that no picture has to wait for what a first one works out: typefaces, tables.

Only the fork server imports this.
"""

from __future__ import annotations

import tempfile
from contextlib import suppress
from pathlib import Path

import numpy as np

from service.pdf.facts.geometry import Box
from service.pdf.facts.ink_names import PROCESS_INKS
from service.pdf.facts.unknown import Unmeasured
from service.pdf.usual_page import usual_page
from service.proofs.picture.page_brief import Frame, Line, Mark, PageToShow, PictureBrief
from service.proofs.picture.page_picture import page_picture
from service.proofs.preview.reader_color import COLUMNS, ROWS, as_pdfium_shows

_PAPER, _TRIM = Box(0, 0, 31.75, 25.4), Box(3, 3, 28, 22)
BRIEF = PictureBrief(
    PageToShow(1, (*PROCESS_INKS, "Foil"), _PAPER),
    Frame(_PAPER.grown(5), 100.0),
    legend=True,
    lines=(Line("bleed", _PAPER, "Bleed"), Line("fold", Box(15, 3, 15, 22), "Fold"), Line("trim", _TRIM, "Trim")),
    marks=(Mark(1, "must", (Box(5, 5, 9, 9),), "Resolution"), Mark(2, "should", (Box(12, 5, 14, 9),), "Type")),
    marks_heading="Findings",
    notes=("Colours",),
)


def practise() -> bytes | Unmeasured:
    for rows in ROWS:
        as_pdfium_shows(np.zeros((rows, COLUMNS, 4), np.uint8))
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder, "warm.pdf")
        path.write_bytes(usual_page())
        return page_picture(path, BRIEF)


with suppress(OSError):  # no room for a temporary file: the first pictures are slower, nothing else
    practise()
