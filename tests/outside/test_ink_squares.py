"""Maps of ink against the page as poppler's `pdftoppm` shows it."""

from __future__ import annotations

from pathlib import Path

import numpy as np
from PIL import Image

from service.pdf.facts.geometry import Box
from tests.build import page
from tests.outside_tools import tool
from tests.pdf.plates.areas.test_ink_squares import frame, mapped

SIDE_PX = 4
"""Of a square at 100 ppi."""


def test_squares_with_ink_are_those_that_are_not_white(tmp_path: Path) -> None:
    made = frame(page(210, 297)).text("Halyard Lane Bakery", 14, (40, 130)).picture((60, 150, 120, 200))
    found = mapped(made.fill((70, 220, 90, 222), black=0.1), tmp_path)
    tool("pdftoppm")("-gray", "-r", "100", "-singlefile", tmp_path / "page.pdf", tmp_path / "seen")
    with Image.open(tmp_path / "seen.pgm") as image:
        dark = 255 - np.asarray(image.convert("L"))
    wrong, looked_at = [], 0
    for row in range(1, len(found.rows) - 2):
        for column in range(1, found.columns - 2):
            y, x = row * SIDE_PX, column * SIDE_PX
            square, around = dark[y : y + SIDE_PX, x : x + SIDE_PX], dark[y - 1 : y + SIDE_PX + 1, x - 1 : x + SIDE_PX + 1]
            if around.any() and not (square > 10).all():
                continue  # an edge runs through it: anti-aliasing is anybody's choice
            looked_at += 1
            box = Box(*(one * found.square_mm - 3 for one in (column, row, column + 1, row + 1)))
            if found.holds_ink(box.grown(0.06), box) is not bool(square.any()):
                wrong.append((column, row))
    assert wrong == []
    assert looked_at > 50_000
