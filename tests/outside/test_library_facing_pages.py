"""A stapled booklet laid out on facing pages, as common layout programs export it: 3 mm of bleed but for the fold, and marks."""

from __future__ import annotations

import io
from pathlib import Path

import pikepdf
import pytest

from service.jobs.question import question_for
from service.pdf.measure import measure
from service.rules.judge import judge
from service.rules.judgement import Judgement
from service.sheets.catalogue import stored_sheets
from tests.sheets.right_files import made_for

POINTS_OF_3_MM = 3 * 72 / 25.4


def facing(made: bytes, folder: Path, *, outer: bool = False) -> Path:
    """Cut off where each page is bound (or, wrongly, at its outer edge): the artwork ends at the fold, and so do the boxes."""
    path = folder / "facing.pdf"
    with pikepdf.open(io.BytesIO(made)) as pdf:
        for number, page in enumerate(pdf.pages, start=1):
            x0, y0, x1, y1 = (float(one) for one in page.mediabox)
            at_left = bool(number % 2) != outer
            box = [x0 + (POINTS_OF_3_MM if at_left else 0), y0, x1 - (0 if at_left else POINTS_OF_3_MM), y1]
            page.mediabox = page.cropbox = page.bleedbox = box
        pdf.save(path)
    return path


def judged(path: Path, sheet_id: str) -> Judgement:
    sheet = stored_sheets()[sheet_id]
    return judge(measure(path, question_for(sheet)), sheet)


def broken(judgement: Judgement) -> set[str]:
    return {one.rule for one in judgement.findings}


@pytest.mark.parametrize("sheet_id", ["booklet-a5-stapled", "booklet-us-letter-stapled", "book-a5-text"])
def test_no_bleed_is_needed_where_the_pages_meet(sheet_id: str, tmp_path: Path) -> None:
    found = judged(facing(made_for(stored_sheets()[sheet_id]), tmp_path), sheet_id)
    assert (found.verdict, broken(found)) == ("conforming", set())


@pytest.mark.parametrize("sheet_id", ["booklet-a5-stapled", "booklet-us-letter-stapled"])
def test_the_outer_edge_is_cut_and_needs_it(sheet_id: str, tmp_path: Path) -> None:
    found = judged(facing(made_for(stored_sheets()[sheet_id]), tmp_path, outer=True), sheet_id)
    assert (found.verdict, broken(found)) == ("nonconforming", {"bleed.declared"})


def test_single_leaves_on_a_wire_are_cut_on_every_side(tmp_path: Path) -> None:
    found = judged(facing(made_for(stored_sheets()["booklet-a5-wire"]), tmp_path), "booklet-a5-wire")
    assert (found.verdict, broken(found)) == ("nonconforming", {"bleed.declared"})
