"""What measuring is asked for a sheet, and when the answer serves another sheet."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from service.jobs.question import answers, question_for
from service.pdf.facts.geometry import Box
from service.pdf.facts.measurements import Measurements
from service.pdf.facts.plates import InkCoverage, PlateFacts
from service.pdf.facts.unknown import Failure, Unmeasured
from service.pdf.measure import measure
from service.pdf.question import Question
from service.sheets.model import BleedAsked, ColorAsked, Finish, KeepClearArea, SpecSheet, SpineAsked, TrimAsked
from tests.build import page
from tests.facts import fact

CARD = SpecSheet(trim=TrimAsked(width_mm=85, height_mm=55), bleed=BleedAsked(minimum_mm=2))


def test_the_sheets_size_is_tried_turned_and_as_a_spread() -> None:
    assert question_for(CARD).trim_sizes_mm == ((85, 55), (55, 85), (170, 55), (110, 85))


def test_the_sheets_bleed_is_tried_first_and_the_usual_ones_after_it() -> None:
    assert question_for(CARD).bleeds_mm == (2, 3.0, 3.175, 5.0, 1.0, 4.0, 6.35, 10.0)
    assert question_for(SpecSheet(bleed=BleedAsked(minimum_mm=0))).bleeds_mm == Question().bleeds_mm


def test_a_square_is_tried_once_each_way() -> None:
    assert question_for(SpecSheet(trim=TrimAsked(width_mm=90, height_mm=90))).trim_sizes_mm == ((90, 90), (180, 90))


def test_a_cover_is_tried_with_every_spine_as_only_the_order_knows_it() -> None:
    cover = SpecSheet(spine=SpineAsked(page_width_mm=148, page_height_mm=210))
    assert question_for(cover).trim_sizes_mm == tuple((296 + half / 2, 210) for half in range(161))
    assert question_for(SpecSheet(spine=SpineAsked(page_width_mm=148))).trim_sizes_mm == ()


@pytest.mark.parametrize("bleed", [0, 3, 3.175, 5])
@pytest.mark.parametrize("spine", [2.0, 7.25, 7.4, 33.3])
def test_a_cover_without_boxes_is_less_its_bleed_as_high_as_the_book(tmp_path: Path, spine: float, bleed: float) -> None:
    """As a layout program exports a cover without marks: the page is the cover and its bleed."""
    path, cover = tmp_path / "cover.pdf", SpecSheet(spine=SpineAsked(page_width_mm=148, page_height_mm=210))
    page(296 + spine, 210, bleed).fill(cyan=1).without_trim_box().without_bleed_box().save(path)
    measured = measure(path, question_for(cover), lambda *_: None).pages
    assert isinstance(measured, tuple)
    assert (measured[0].trim_width_mm, measured[0].trim_height_mm) == pytest.approx((296 + spine, 210), abs=0.1)


@pytest.fixture(scope="module")
def declared(tmp_path_factory: pytest.TempPathFactory) -> Measurements:
    path = tmp_path_factory.mktemp("pdf") / "card.pdf"
    page(85, 55, bleed=3).fill(cyan=1).save(path)
    return measure(path, Question(), lambda *_: None)


def test_a_declared_trim_serves_every_sheet(declared: Measurements) -> None:
    assert answers(declared, question_for(CARD), Question())


def test_a_trim_that_was_worked_out_serves_only_the_same_question(declared: Measurements) -> None:
    assert not isinstance(declared.pages, type(None))
    guessed = Measurements(declared.document, (replace(declared.pages[0], trim_source="media_box"),))  # type: ignore[index]
    assert answers(guessed, question_for(CARD), question_for(CARD))
    assert not answers(guessed, Question(), question_for(CARD))


def test_an_unreadable_file_stays_unreadable_whatever_is_asked() -> None:
    assert answers(Measurements.unreadable(1, Failure("locked", "…")), Question(), question_for(CARD))


def test_the_limit_of_ink_and_the_finishing_inks_are_asked_about() -> None:
    sheet = SpecSheet(color=ColorAsked(ink_limit_percent=280), finishes=(Finish(ink="Foil"),))
    assert (question_for(sheet).ink_limits_percent, question_for(sheet).finishing_inks) == ((280,), ("Foil",))
    assert question_for(replace(sheet, trim=CARD.trim)).finishing_inks == ("Foil",)


def with_plates(measurements: Measurements, left_out: tuple[str, ...]) -> Measurements:
    assert not isinstance(measurements.pages, Unmeasured)
    inks = (fact(InkCoverage, "Black", 20.0, empty=False), fact(InkCoverage, "Gold Foil", 3.0, empty=False))
    plates = fact(PlateFacts, 100.0, False, False, inks, left_out, (), None, (), ())
    return replace(measurements, pages=tuple(replace(page, plates=plates) for page in measurements.pages))


def test_a_total_of_inks_serves_sheets_that_leave_out_the_same_ones(declared: Measurements) -> None:
    plain, foiled = Question(), Question(finishing_inks=("gold-foil", "Varnish"))
    assert answers(with_plates(declared, ("Gold Foil",)), foiled, Question(finishing_inks=("Gold Foil",)))
    assert not answers(with_plates(declared, ("Gold Foil",)), foiled, plain)
    assert not answers(with_plates(declared, ()), plain, foiled)
    assert answers(with_plates(declared, ()), plain, Question(finishing_inks=("Silver",)))


def test_another_limit_of_ink_needs_no_new_measuring(declared: Measurements) -> None:
    guessed = Measurements(declared.document, (replace(declared.pages[0], trim_source="media_box"),))  # type: ignore[index]
    assert answers(guessed, Question(), Question(ink_limits_percent=(300,)))


def test_where_ink_lies_is_asked_for_what_is_to_be_kept_clear_and_for_finishes() -> None:
    assert not question_for(CARD).where_ink_lies
    area = KeepClearArea(name="address", box_mm=Box(0, 0, 10, 10))
    assert question_for(replace(CARD, keep_clear=(area,))).where_ink_lies
    assert question_for(replace(CARD, finishes=(Finish(ink="Foil"),))).where_ink_lies


def test_a_page_without_plates_serves_what_its_colors_tell(tmp_path: Path) -> None:
    asked = question_for(replace(CARD, color=ColorAsked(ink_limit_percent=300)))
    notice = measure(page(85, 55).text("Open", size=10, at=(20, 30)).save(tmp_path / "notice.pdf"), asked)
    assert answers(notice, asked, replace(asked, ink_limits_percent=(100,)))
    assert not answers(notice, asked, replace(asked, ink_limits_percent=(300, 99)))
    assert not answers(notice, asked, replace(asked, where_ink_lies=True))


def test_a_map_that_was_not_asked_for_is_measured_for_whoever_asks(tmp_path: Path) -> None:
    asked = question_for(CARD)
    card = measure(page(85, 55).fill(cyan=1).save(tmp_path / "card.pdf"), asked)
    assert answers(card, asked, replace(asked, ink_limits_percent=(99,)))
    assert not answers(card, asked, replace(asked, where_ink_lies=True))
def test_the_line_of_a_cut_is_followed_only_where_it_is_asked_for(declared: Measurements) -> None:
    cut = SpecSheet(finishes=(Finish(ink="Cutting", also=("Die",), kind="cut"), Finish(ink="Foil")))
    assert question_for(cut).cutting_inks == ("Cutting", "Die")
    made, names = with_plates(declared, ("Gold Foil",)), ("Gold Foil",)
    followed, only_left_out = Question(finishing_inks=names, cutting_inks=names), Question(finishing_inks=names)
    assert not answers(made, only_left_out, followed)
    assert not answers(made, followed, only_left_out)
    assert answers(made, followed, Question(finishing_inks=names, cutting_inks=("gold-foil", "Die")))


def test_lines_that_cut_pieces_are_asked_about_apart(declared: Measurements) -> None:
    asked = question_for(SpecSheet(finishes=(Finish(ink="Cutting", also=("Die",), kind="kiss-cut"),)))
    assert (asked.piece_inks, asked.cutting_inks, asked.finishing_inks) == (("Cutting", "Die"), (), ("Cutting", "Die"))
    made, names = with_plates(declared, ("Gold Foil",)), ("Gold Foil",)
    one, other = Question(finishing_inks=names, cutting_inks=names), Question(finishing_inks=names, piece_inks=names)
    assert not answers(made, one, other)
    assert answers(made, other, Question(finishing_inks=names, piece_inks=("gold-foil", "Die")))
