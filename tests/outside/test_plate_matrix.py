"""Every kind of object in every colour space, overprinting and not, on every ground: twelve thousand cells beside Ghostscript's
`tiffsep` and MuPDF.

Both are asked not to manage colours, so that only inks are compared: Ghostscript by `-dUseFastColor`, MuPDF without ICC. Lab,
which each converts by its own rule, is compared in what it does to the inks below. Tolerance: 3 of 255 in the middle of a cell,
where nothing is an edge. A cell that differs is named below with the clause that it hangs on (of ISO 32000-2:2020), or the test
fails.
"""

from __future__ import annotations

import io
import re
import subprocess
from collections.abc import Callable, Iterable, Mapping, Sequence
from functools import cache
from itertools import groupby
from pathlib import Path

import numpy as np
import pikepdf
import pymupdf
from PIL import Image

from service.pdf.content.resources import Shared
from service.pdf.facts.geometry import MM_PER_POINT, Box
from service.pdf.plates.colors.inks import process_by_formula
from service.pdf.plates.separation import PageToSeparate, separate
from tests.outside.plate_cells import CELL_PT, CONVERTED, INKS, MODES, PER_ROW, Cell, cells, document_of
from tests.outside.plate_kinds import BLENDED, OPAQUE
from tests.outside.separations import Plate, mupdf_plates
from tests.outside_tools import program
from tests.sweeps import WHOLE, part_of

EVERY = [cells(list(kinds), mode) for kinds in (OPAQUE, BLENDED) for mode in MODES]
PAGES = [
    [
        cell
        for group in part_of((tuple(one) for _, one in groupby(page, lambda cell: (cell.kind, cell.space))), one_in=4)
        for cell in group
    ]
    for page in EVERY
]
TOLERANCE = 3
Tints = tuple[int, ...]
"""Of the inks in order, 255 = full."""
Said = Mapping[str, Callable[[Cell], bool]]
"""Why cells differ → which."""


def overprints(cell: Cell) -> bool:
    return cell.mode != "knocks out"


def current_color(cell: Cell) -> bool:
    """What is painted in the current colour of the graphics state, as mode 1 asks (8.6.7)."""
    return "picture" not in cell.kind and not cell.kind.startswith("shading") and cell.kind != "coloured tiles"


UNSETTLED = "11.7.4.3: by the letter a blend mode with overprint blends what lies below with itself; our plates leave it"
"""Both programs follow the letter: 60 % of an ink, multiplied by itself, is 84 %. Ours show less, so they accuse nobody."""
GHOSTSCRIPT: Said = {
    "8.6.6.4: a gradient in None paints nothing; it knocks out what lies below": lambda cell: (
        cell.kind.startswith("shading") and cell.space == "None" and not overprints(cell) and cell.ground in ("process", "spots")
    ),
    "8.6.6.3 and 8.6.7: a colour of a table is not DeviceCMYK 'specified directly'; it applies mode 1, and loses the yellow": (
        lambda cell: cell.space == "Indexed CMYK" and cell.mode == "mode 1" and current_color(cell)
    ),
    "8.7.3.3: uncoloured tiles are painted in the colour that is given, directly, so that mode 1 holds; it knocks out": (
        lambda cell: (cell.kind, cell.space, cell.ground, cell.mode) == ("uncoloured tiles", "DeviceCMYK", "process", "mode 1")
    ),
    "Table 149: any process colour leaves the spots; in knockout groups and masked pictures it does so in Device spaces alone": (
        lambda cell: cell.kind in ("knockout group", "half transparent picture") and overprints(cell) and cell.ground == "spots"
    ),
    "11.7.4.3: where an isolated group has painted nothing, what no ink is set of is paper; it leaves the group empty": (
        lambda cell: (cell.kind, cell.space, cell.color, cell.mode) == ("isolated group", "DeviceCMYK", "white", "mode 1")
    ),
    UNSETTLED: lambda cell: cell.kind == "multiplied" and overprints(cell) and cell.ground in ("process", "spots"),
}
"""Ghostscript 10.00."""
BY_ALTERNATE = {"glyph of its own colour", "coloured tiles", *(f"shading of type {kind}" for kind in (1, 4, 5, 6, 7))}
MUPDF: Said = {
    "8.6.6.4 and 8.6.7: these it paints in alternate colours, without spots and without overprint": (
        lambda cell: cell.kind in BY_ALTERNATE
    ),
    "8.6.6.3: so it does with colours of a table that are no picture's": (
        lambda cell: cell.space in ("Indexed Separation", "Indexed DeviceN") and current_color(cell)
    ),
    "8.6.6.4: None paints nothing; it knocks out what lies below": lambda cell: (
        cell.space == "None" and (not overprints(cell) or cell.kind == "isolated group")
    ),
    UNSETTLED: lambda cell: cell.kind == "multiplied" and overprints(cell) and cell.ground in ("process", "spots"),
}
"""PyMuPDF 1.28."""


@cache
def data() -> bytes:
    return document_of(PAGES, OPAQUE | BLENDED)


@cache
def ours() -> list[Tints]:
    found: list[Tints] = []
    with pikepdf.open(io.BytesIO(data())) as pdf:
        shared = Shared(pdf)
        for page, listed in zip(pdf.pages, PAGES, strict=True):
            media = Box(*(float(one) for one in page.MediaBox))
            area = Box(0, 0, media.width * MM_PER_POINT, media.height * MM_PER_POINT)
            asked = PageToSeparate(page.obj, media, area, 0, 1.0, INKS)
            found += middles(separate(pdf, asked, shared, process_by_formula, 72).coverage, len(listed))
    return found


def middles(plates: Mapping[str, Plate], count: int) -> Iterable[Tints]:
    """Of the cells in their order; an ink without a plate is empty."""
    shape = next(iter(plates.values())).shape
    for at in range(count):
        row, column = at // PER_ROW * CELL_PT + 6, at % PER_ROW * CELL_PT + 6
        part = (slice(row, row + 4), slice(column, column + 4))
        yield tuple(round(float(plates[ink][part].mean())) if ink in plates else 0 for ink in INKS)
    assert shape[0] >= (-(-count // PER_ROW)) * CELL_PT


def ghostscript(folder: Path) -> list[Tints]:
    (folder / "cells.pdf").write_bytes(data())
    options = ["-q", "-dNOPAUSE", "-dBATCH", "-dSAFER", "-dUseFastColor=true", "-sDEVICE=tiffsep", "-r72"]
    command = [program("gs"), *options, f"-sOutputFile={folder / 'page%d.tif'}", str(folder / "cells.pdf")]
    subprocess.run(command, capture_output=True, check=True, timeout=240)
    found: list[Tints] = []
    for number, listed in enumerate(PAGES, start=1):
        plates: dict[str, Plate] = {}
        for path in folder.glob(f"page{number}(*.tif"):
            ink = re.search(r"\((.*)\)", path.name)
            assert ink
            with Image.open(path) as image:
                plates[ink[1]] = 255 - np.asarray(image.convert("L"))
        found += middles(plates, len(listed))
    return found


def mupdf() -> list[Tints]:
    pymupdf.TOOLS.set_icc(False)
    try:
        return [one for at, listed in enumerate(PAGES) for one in middles(mupdf_plates(data(), at, 72), len(listed))]
    finally:
        pymupdf.TOOLS.set_icc(True)


def differing(theirs: Sequence[Tints]) -> dict[Cell, tuple[Tints, Tints]]:
    listed = [cell for page in PAGES for cell in page]
    bare = {cell: at for at, cell in enumerate(listed) if cell.ground == "nothing"}
    found = {}
    for cell, one, other in zip(listed, ours(), theirs, strict=True):
        if cell.space in CONVERTED:
            alone = bare[cell._replace(ground="nothing")]
            one, other = _knocked_out(one, ours()[alone]), _knocked_out(other, theirs[alone])
        if any(abs(a - b) > TOLERANCE for a, b in zip(one, other, strict=True)):
            found[cell] = (one, other)
    return found


def _knocked_out(tints: Tints, alone: Tints) -> Tints:
    """Of the process inks what is different from the same object on nothing; the spots as they are."""
    return (*(255 * (abs(a - b) > TOLERANCE) for a, b in zip(tints[:4], alone[:4], strict=True)), *tints[4:])


def unexplained(found: Mapping[Cell, tuple[Tints, Tints]], said: Said) -> dict[Cell, tuple[Tints, Tints]]:
    return {cell: both for cell, both in found.items() if not any(holds(cell) for holds in said.values())}


def test_the_matrix_is_large() -> None:
    assert sum(map(len, EVERY)) > 12_000
    assert len({cell for page in EVERY for cell in page}) == sum(map(len, EVERY))
    here = {cell for page in PAGES for cell in page}
    for name in ("kind", "space", "ground", "mode"):
        assert {getattr(cell, name) for cell in here} == {getattr(cell, name) for page in EVERY for cell in page}, name


def outworn(found: Mapping[Cell, tuple[Tints, Tints]], said: Said) -> list[str]:
    """What explains nothing any more goes; the whole sweep tells."""
    return [why for why, holds in said.items() if WHOLE and not any(holds(cell) for cell in found)]


def test_every_cell_agrees_or_says_why(tmp_path: Path) -> None:
    """One test for both, so that our plates are made once; where Ghostscript is absent, MuPDF has spoken before it says so."""
    found = differing(mupdf())
    assert unexplained(found, MUPDF) == {}
    assert not pymupdf.VersionBind.startswith("1.28") or outworn(found, MUPDF) == []
    found = differing(ghostscript(tmp_path))
    assert unexplained(found, GHOSTSCRIPT) == {}
    version = subprocess.run([program("gs"), "--version"], capture_output=True, check=True, timeout=60).stdout
    assert not version.startswith(b"10.00") or outworn(found, GHOSTSCRIPT) == []
