"""Lines of a printed page, from runs of text by hand."""

from __future__ import annotations

from dataclasses import replace

from service.pdf.facts.geometry import Box
from service.pdf.facts.measurements import Measurements
from service.pdf.facts.painted.text import TextRun
from service.pdf.facts.unknown import Failure, Unmeasured
from service.sheets.prose.printed_text import text_of
from tests.facts import fact
from tests.rules.measured import content, document, page


def run(text: str, x0: float, y0: float, width: float, *, visible: bool = True) -> TextRun:
    return fact(
        TextRun,
        text=text,
        box_mm=Box(x0, y0, x0 + width, y0 + 4),
        ink_mm=Box(x0, y0, x0 + width, y0 + 4),
        visible=visible,
        font="Vera",
        size_pt=11,
        written="DeviceGray",
        inks=("Black",),
    )


def read(*runs: TextRun) -> str:
    return text_of(document(replace(page(210, 297), content=content(text=runs))))


def test_runs_of_one_line_are_joined_left_to_right() -> None:
    assert read(run("bleed", 31, 10, 12), run("3 mm", 20, 10.4, 10)) == "3 mm bleed"


def test_runs_that_touch_are_one_word() -> None:
    assert read(run("ble", 20, 10, 6), run("ed", 26.1, 10, 4)) == "bleed"


def test_a_wide_gap_parts_the_cells_of_a_table() -> None:
    assert read(run("Bleed", 20, 10, 12), run("3 mm", 60, 10, 10)) == "Bleed    3 mm"


def test_lines_follow_from_top_to_bottom_and_paragraphs_stand_apart() -> None:
    assert read(run("two", 20, 15, 9), run("one", 20, 10, 9), run("three", 20, 30, 9)) == "one\ntwo\n\nthree"


def test_what_does_not_show_is_not_read() -> None:
    assert read(run("one", 20, 10, 9), run("hidden", 20, 20, 9, visible=False)) == "one"


def test_what_could_not_be_measured_has_no_text() -> None:
    assert text_of(Measurements.unreadable(9, Failure("locked", "It needs a password."))) == ""
    assert text_of(document(replace(page(), content=Unmeasured("damaged")))) == ""
