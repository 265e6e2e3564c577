"""Gradients of the seven types, rewritten and painted by PDFium, against Ghostscript's separations of them as they were.

Both paint at 144 ppi. PDFium's edges and its meshes may lie a pixel elsewhere, so each pixel is compared with the nine nearest;
the tolerance is 5 of 255 for tints, and 1 pixel in 300 for edges that fall between pixels.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
import numpy.typing as npt
import pikepdf
import pytest
from pikepdf import Pdf
from PIL import Image

from tests.outside_tools import Tool, tool
from tests.pdf.plates.gradients import (
    GREEN,
    MAGENTA,
    Maker,
    Mesh,
    blend,
    coons,
    coons_with_function,
    gradient,
    lattice,
    painted,
    program,
    rainbow,
    rewritten,
    tensor,
    tints_by_pdfium,
    triangle_with_function,
    triangles,
)

MOST_OFF = 5
MOST_ELSEWHERE = 1 / 300


def by_place(pdf: Pdf) -> pikepdf.Object:
    source = "{2 copy mul 3 1 roll 360 mul sin abs exch 0.5 gt {0.8} {0.1} ifelse exch 0}"
    return gradient(1, Matrix=[80, 10, -10, 80, 15, 5], Function=program(pdf, source, [0, 1, 0, 1], 4))


def axial(_pdf: Pdf) -> pikepdf.Object:
    return gradient(2, Coords=[20, 30, 80, 60], Domain=[0, 1], Extend=[True, False], BBox=[10, 10, 90, 80], Function=rainbow())


def radial(_pdf: Pdf) -> pikepdf.Object:
    return gradient(3, Coords=[50, 50, 10, 60, 55, 40], Extend=[True, True], Function=blend(GREEN, MAGENTA, 2))


def radial_cone(_pdf: Pdf) -> pikepdf.Object:
    return gradient(3, Coords=[25, 50, 5, 70, 55, 25], Extend=[False, True], Function=blend(), Background=[0.2, 0.4, 0.6, 0])


def triangles_of_odd_depths(pdf: Pdf) -> pikepdf.Object:
    return triangles(pdf, Mesh(flag=2, coordinate=12, component=4))


def separations(gs: Tool, pdf: Pdf, folder: Path) -> npt.NDArray[np.int16]:
    """(rows, columns, cyan magenta yellow), 255 = full tint."""
    pdf.save(folder / "gradient.pdf")
    gs(
        "-q",
        "-dBATCH",
        "-dNOPAUSE",
        "-dSAFER",
        "-sDEVICE=tiffsep",
        "-r144",
        f"-sOutputFile={folder}/plate.tif",
        folder / "gradient.pdf",
    )
    plates = []
    for ink in ("Cyan", "Magenta", "Yellow"):
        with Image.open(folder / f"plate({ink}).tif") as plate:
            plates.append(np.asarray(plate.convert("L")))
    tints: npt.NDArray[np.int16] = 255 - np.stack(plates, axis=-1).astype(np.int16)
    return tints


@pytest.mark.parametrize(
    ("make", "pattern"),
    [
        (by_place, False),
        (axial, False),
        (radial, False),
        (radial_cone, True),
        (triangles, False),
        (triangles_of_odd_depths, False),
        (triangle_with_function, False),
        (lattice, False),
        (coons, False),
        (coons_with_function, False),
        (tensor, False),
    ],
    ids=lambda value: value.__name__ if callable(value) else "",
)
def test_a_rewritten_gradient_has_the_tints_of_the_separations(make: Maker, pattern: bool, tmp_path: Path) -> None:
    theirs = separations(tool("gs"), painted(make, pattern), tmp_path)
    ours = tints_by_pdfium(rewritten(make, pattern))
    assert theirs.any(axis=(0, 1)).all()
    nearest = np.full(theirs.shape, 255, dtype=np.int16)
    for down in (-1, 0, 1):
        for right in (-1, 0, 1):
            nearest = np.minimum(nearest, np.abs(ours - np.roll(theirs, (down, right), (0, 1))))
    assert (nearest.max(axis=2) > MOST_OFF).mean() <= MOST_ELSEWHERE
    assert np.abs(ours - theirs).mean() < MOST_OFF
