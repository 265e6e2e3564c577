"""How inks share renderings: nothing that a plate shows may depend on which others are made with it."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pikepdf
import pytest

from service.pdf.content.resources import Shared
from service.pdf.facts.geometry import Box, Matrix
from service.pdf.pages.page_boxes import read_page
from service.pdf.plates.colors.inks import InkTable, process_by_formula
from service.pdf.plates.pictures.recolored import Pictures
from service.pdf.plates.rewriting.color_runs import ColorRuns
from service.pdf.plates.rewriting.colors import _run, _run_one_by_one
from service.pdf.plates.rewriting.rewriter import Rewriter, State
from service.pdf.plates.rewriting.table import HANDLERS
from service.pdf.plates.separation import PageToSeparate, Plates, separate
from service.pdf.reading.lexer import PATHS_AND_COLORS
from tests.build import PageBuilder, page

PROCESS = ("Cyan", "Magenta", "Yellow", "Black")
CARD = Box(0, 0, 85, 55)


def separated(made: PageBuilder, folder: Path, *inks: str) -> Plates:
    made.save(folder / "page.pdf")
    with pikepdf.open(folder / "page.pdf") as pdf:
        one = pdf.pages[0].obj
        media = read_page(one, has_size=True).media_pt
        return separate(pdf, PageToSeparate(one, media, CARD, 0, 1.0, inks), Shared(pdf), process_by_formula)


def raw(content: str) -> PageBuilder:
    return page(85, 55, bleed=0).raw(content.encode())


@pytest.mark.parametrize(
    "content",
    ["0.8 0.4 0 0 k 20 20 90 60 re f 0 0 0 0.5 k 60 40 90 60 re f",  # black takes yellow's room
     "0 0 0 1 k 20 20 90 60 re f",  # black only: the first rendering would be white
     "0.8 0.4 0.2 0.1 k 20 20 90 60 re f 0 0 0 0.5 k 60 40 90 60 re f",  # no room
     "0.3 g 20 20 90 60 re f 1 0 0 rg 60 40 90 60 re f",
     "1 0 0 0 k 20 20 90 60 re f 0 0 0 0 k 60 40 90 60 re f 0 0 0 1 K 4 w 10 10 m 90 90 l S"],
)  # fmt: skip
def test_a_plate_is_the_same_alone_and_with_the_others(content: str, tmp_path: Path) -> None:
    together = separated(raw(content), tmp_path, *PROCESS)
    assert any(plate.any() for plate in together.coverage.values())
    for ink in PROCESS:
        alone = separated(raw(content), tmp_path, ink)
        assert np.array_equal(together.coverage[ink], alone.coverage[ink]), ink


def test_black_that_overprints_cyan_is_rendered_apart(tmp_path: Path) -> None:
    made = page(85, 55, bleed=0).resource("ExtGState", "Over", pikepdf.Dictionary(OP=True, op=True, OPM=1))
    made = made.raw(b"1 0 0 0 k 20 20 90 60 re f /Over gs 0 0 0 1 k 20 20 90 60 re f")
    plates = separated(made, tmp_path, *PROCESS).coverage
    assert (plates["Cyan"].max(), plates["Black"].max(), plates["Magenta"].max()) == (255, 255, 0)


def test_white_blended_by_difference_with_an_object_without_cyan_gives_cyan(tmp_path: Path) -> None:
    """ISO 32000-2:2020, 11.3.5.2: |1 − 1| = 0, which is the full tint."""
    made = page(85, 55, bleed=0).resource("ExtGState", "Less", pikepdf.Dictionary(BM=pikepdf.Name.Difference))
    made = made.raw(b"0 1 0 0 k 20 20 90 60 re f /Less gs 0 0 0 0 k 20 20 90 60 re f")
    plates = separated(made, tmp_path, *PROCESS).coverage
    assert [int(plates[ink].max()) for ink in PROCESS] == [255, 0, 255, 255]


@pytest.mark.parametrize(
    "run",
    [b"0.1 0.2 0.3 0.4 k 1 2 m 3 4 l S 0.5 G 1 2 m 3 4 l S 1 0 0 rg 0 1 0 RG 5 5 5 5 re B\n",
     b" 0 0 0 1 k\n0 0 0 1 k\r9 9 9 9 re f ", b"1 2 m 3 4 l S ", b"9 8 7 0.1 0.2 0.3 0.4 k 0 0 9 9 re f ",
     b"0.1 0.2 k 0 0 9 9 re f ", b"h k 0 0 9 9 re f ", b"0.1-2 g 0 0 9 9 re f ", b"-.5 1.5 0 +.25 k 0 0 9 9 re f ",
     b"0.1\x000.2 0.3 rg 0 0 9 9 re f ", b"2 w 0.7 g "],
)  # fmt: skip
def test_a_run_cut_at_once_says_what_one_colour_after_the_other_says(run: bytes) -> None:
    assert PATHS_AND_COLORS.fullmatch(run)
    with pikepdf.new() as source, pikepdf.new() as out:
        found = []
        for rewritten in (lambda one: _run(one, b"", run, run), lambda one: _run_one_by_one(one, run)):
            table = InkTable(("Cyan", "Magenta", "Yellow"), process_by_formula)
            rewriter = Rewriter(HANDLERS, source, out, table, Shared(source), Pictures(), ColorRuns())
            rewriter.state = State(ctm=Matrix(1, 0, 0, 1, 0, 0))
            written = rewritten(rewriter)
            found.append((written and written.split(), vars(rewriter.state), table.used))
    assert found[0] == found[1]


def test_a_long_run_without_colours_is_cut_in_one_sweep() -> None:
    """A map's contour: half a million lines. Searched from each place anew it took a minute (now some hundredths of a second)."""
    run = b"0 0 0 1 k " + b"1 2 l " * 500_000
    found = ColorRuns().cut(run)
    assert found is not None
    assert found.between == [b"\n", b" " + b"1 2 l " * 500_000]
