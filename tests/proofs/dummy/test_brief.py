"""The dummy before it is drawn: what kind it is, what lies where, and that it reads from front to back once it is folded."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest

from service.language.spoken import Language, speaking
from service.pdf.facts.page import Page
from service.pdf.facts.unknown import Unmeasured
from service.pdf.measure import measure
from service.proofs.dummy.brief import dummy_brief
from service.proofs.dummy.faces import EDGE_MM, PAPERS_MM, DummyBrief, Face
from service.proofs.dummy.wishes import DummyWishes, Flip, PaperName
from service.sheets.model import Fold, PagesAsked, SpecSheet, SpineAsked, TrimAsked
from tests.build import page
from tests.proofs.on_the_desk import Printed, read_through

A5 = SpecSheet(trim=TrimAsked(width_mm=148, height_mm=210), pages=PagesAsked(multiple_of=4))


@pytest.fixture(scope="module")
def a5(tmp_path_factory: pytest.TempPathFactory) -> Page:
    return measured(148, 210, tmp_path_factory.mktemp("pdf"))


def measured(width: float, height: float, folder: Path) -> Page:
    pages = measure(page(width, height).save(folder / "page.pdf")).pages
    assert not isinstance(pages, Unmeasured)
    return pages[0]


def copies(one: Page, count: int) -> list[Page]:
    return [replace(one, number=number) for number in range(1, count + 1)]


def planned(pages: list[Page], sheet: SpecSheet = A5, **wishes: object) -> DummyBrief:
    dummy = dummy_brief(pages, sheet, DummyWishes(**wishes))  # type: ignore[arg-type]
    assert isinstance(dummy, DummyBrief), dummy
    return dummy


def printed(face: Face, dummy: DummyBrief) -> list[Printed]:
    """As the printer prints the side: one that is drawn upside down is turned as a whole."""
    found = []
    for one in face.placements:
        across = (one.at_mm[0] + one.shown_mm.width * dummy.scale / 2) / dummy.width_mm
        found.append(Printed(str(one.page), 1 - across if face.upside_down else across, not face.upside_down))
    return found


@pytest.mark.parametrize("flip", ["short", "long"])
@pytest.mark.parametrize("count", range(4, 65, 4))
def test_a_booklet_printed_folded_nested_and_stapled_reads_from_one_to_the_last(a5: Page, count: int, flip: Flip) -> None:
    dummy = planned(copies(a5, count), flip=flip)
    read = read_through([printed(face, dummy) for face in dummy.faces], landscape=dummy.width_mm > dummy.height_mm, flip=flip)
    assert read == [[Printed(str(number), pytest.approx(read[number - 1][0].across), True)] for number in range(1, count + 1)]


@pytest.mark.parametrize("flip", ["short", "long"])
def test_narrow_pages_lie_on_upright_paper_and_still_read_in_order(tmp_path: Path, flip: Flip) -> None:
    """A spread of two pages of 80 x 250 mm is upright: there the long edge is the upright one."""
    dummy = planned(copies(measured(80, 250, tmp_path), 8), SpecSheet(), flip=flip)
    assert dummy.width_mm < dummy.height_mm
    read = read_through([printed(face, dummy) for face in dummy.faces], landscape=False, flip=flip)
    assert [(one.text, one.upright) for (one,) in read] == [(str(number), True) for number in range(1, 9)]


def test_the_wrong_edge_spoils_the_booklet(a5: Page) -> None:
    """So that the reading above can fail."""
    dummy = planned(copies(a5, 8), flip="short")
    read = read_through([printed(face, dummy) for face in dummy.faces], landscape=True, flip="long")
    assert [(one.text, one.upright) for (one,) in read] != [(str(number), True) for number in range(1, 9)]


@pytest.mark.parametrize(("blanks", "added"), [("end", (11, 12)), ("before-last", (10, 11)), ("after-first", (2, 3))])
def test_ten_pages_get_two_blanks_where_they_are_wanted_and_it_is_said(a5: Page, blanks: str, added: tuple[int, ...]) -> None:
    dummy = planned(copies(a5, 10), blanks=blanks)
    assert dummy.blanks == added
    assert dummy.sheets == 3
    told = f"2 blank pages were added .*: pages {added[0]} and {added[1]}"
    assert [one for one in dummy.changes if "blank" in one]
    assert any(re.search(told, words.text) for words in dummy.faces[0].words)
    words = sorted(one.text for face in dummy.faces for one in face.words if one.centred)
    numbers = [f"page {number}" for number in range(1, 13) if number not in added]
    assert words == sorted([*numbers, "blank page, added", "blank page, added"])


# --- Size ---------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("paper", "scale"),
    [("A4", (210 - 24) / 210), ("A3", 1), ("Letter", (279.4 - 24) / 296), ("Tabloid", 1)],
)
def test_a_booklet_is_made_smaller_only_where_the_paper_is_too_small(a5: Page, paper: PaperName, scale: float) -> None:
    dummy = planned(copies(a5, 4), paper=paper)
    assert (dummy.width_mm, dummy.height_mm) == (PAPERS_MM[paper][1], PAPERS_MM[paper][0])
    assert dummy.scale == pytest.approx(scale)
    for face in dummy.faces:
        for one in face.placements:
            assert one.at_mm[0] >= EDGE_MM - 1e-6
            assert one.at_mm[1] + one.shown_mm.height * dummy.scale <= dummy.height_mm - EDGE_MM + 1e-6


def test_the_usual_paper_is_a4_and_letter_in_north_america(a5: Page) -> None:
    assert planned(copies(a5, 4)).paper == "A4"
    assert planned(copies(a5, 4), replace(A5, regions=("US",))).paper == "Letter"
    assert planned(copies(a5, 4), replace(A5, regions=("US", "GB"))).paper == "A4"


def test_creep_moves_inner_pages_to_the_fold_and_takes_that_much_off_there(a5: Page) -> None:
    dummy = planned(copies(a5, 12), paper="A3", caliper_mm=0.5)
    for sheet, creep in ((0, 0.0), (1, 0.5), (2, 1.0)):
        left, right = dummy.faces[2 * sheet].placements
        assert left.shown_mm.x1 == pytest.approx(148 - creep)
        assert left.at_mm[0] == pytest.approx(210 - 148 + creep)
        assert right.shown_mm.x0 == pytest.approx(creep)
        assert right.at_mm[0] == pytest.approx(210)
    cuts = [{one.start_mm[0] for one in dummy.faces[at].lines if one.kind == "cut" and one.start_mm[0] == one.end_mm[0]}
            for at in (0, 4)]
    assert max(cuts[0]) - max(cuts[1]) == pytest.approx(1.0)


def test_leaves_too_thick_to_nest_are_refused(a5: Page) -> None:
    refused = dummy_brief(copies(a5, 400), A5, DummyWishes(caliper_mm=1.0))
    assert isinstance(refused, Unmeasured)
    assert "100 sheets" in refused.why


def test_more_pages_than_can_be_stapled_are_pointed_out(a5: Page) -> None:
    assert not [one for one in planned(copies(a5, 64)).changes if "bound" in one]
    assert [one for one in planned(copies(a5, 65)).changes if one.startswith("68 pages") and "bound" in one]


def test_staples_lie_on_the_fold_of_the_outermost_front_alone(a5: Page) -> None:
    dummy = planned(copies(a5, 12), paper="A3")
    staples = [[one for one in face.lines if one.kind == "staple"] for face in dummy.faces]
    assert [len(one) for one in staples] == [2, 0, 0, 0, 0, 0]
    assert {one.start_mm[0] for one in staples[0]} == {210}
    middles = [(one.start_mm[1] + one.end_mm[1]) / 2 for one in staples[0]]
    assert middles == [pytest.approx(148.5 - 52.5), pytest.approx(148.5 + 52.5)]


# --- Spreads, leaflets, covers, leaves ------------------------------------------------------------------------------------


def test_spreads_are_cut_into_their_pages(a5: Page, tmp_path: Path) -> None:
    spread = measured(296, 210, tmp_path)
    pages = [a5, *(replace(spread, number=number) for number in (2, 3, 4)), replace(a5, number=5)]
    dummy = planned(pages, paper="A3")
    assert (dummy.kind, dummy.sheets, dummy.blanks) == ("booklet", 2, ())
    left, right = dummy.faces[1].placements
    assert (left.page, left.shown_mm.x0, left.shown_mm.x1) == (2, 0, pytest.approx(148, abs=0.001))
    assert (right.page, right.shown_mm.x0, right.shown_mm.x1) == (4, pytest.approx(148, abs=0.001), pytest.approx(296, abs=0.001))


def test_a_roll_folded_leaflet_has_its_folds_counted_from_the_other_edge_on_the_back(tmp_path: Path) -> None:
    sheet = SpecSheet(folds=(Fold(at_mm=97, axis="vertical"), Fold(at_mm=197, axis="vertical")))
    dummy = planned(copies(measured(297, 210, tmp_path), 2), sheet, paper="A3")
    assert (dummy.kind, dummy.sheets, dummy.scale) == ("leaflet", 1, 1)
    left = (420 - 297) / 2
    folds = [sorted(one.start_mm[0] - left for one in face.lines if one.kind == "fold") for face in dummy.faces]
    assert folds == [[pytest.approx(97), pytest.approx(197)], [pytest.approx(100), pytest.approx(200)]]


def test_a_leaflet_folded_across_has_level_folds(tmp_path: Path) -> None:
    sheet = SpecSheet(folds=(Fold(at_mm=100, axis="horizontal"),))
    dummy = planned(copies(measured(210, 200, tmp_path), 2), sheet, paper="A3")
    for face in dummy.faces:
        (fold,) = (one for one in face.lines if one.kind == "fold")
        assert fold.start_mm[1] == fold.end_mm[1] == pytest.approx((dummy.height_mm - 200) / 2 + 100)


def test_a_cover_has_the_two_folds_of_its_spine(tmp_path: Path) -> None:
    sheet = SpecSheet(spine=SpineAsked(page_width_mm=148))
    dummy = planned(copies(measured(304, 210, tmp_path), 1), sheet, paper="A3")
    assert (dummy.kind, dummy.both_sides, dummy.sheets) == ("cover", False, 1)
    folds = sorted(one.start_mm[0] - (420 - 304) / 2 for one in dummy.faces[0].lines if one.kind == "fold")
    assert folds == [pytest.approx(148), pytest.approx(156)]
    assert "8 mm" in dummy.faces[0].words[0].text


def test_what_has_no_fold_is_one_leaf(tmp_path: Path) -> None:
    dummy = planned(copies(measured(85, 55, tmp_path), 2), SpecSheet())
    assert (dummy.kind, dummy.sheets, len(dummy.faces)) == ("leaf", 1, 2)
    assert {one.kind for face in dummy.faces for one in face.lines} == {"cut"}


def test_a_file_without_pages_has_no_dummy() -> None:
    assert isinstance(dummy_brief([], A5, DummyWishes()), Unmeasured)


@pytest.mark.parametrize(("language", "said"), [("de", "Seite 1"), ("fr", "page 1"), ("es", "página 1")])
def test_a_dummy_speaks_the_language_of_its_reader(a5: Page, language: Language, said: str) -> None:
    with speaking(language):
        spoken = planned(copies(a5, 10), caliper_mm=0.11)
    english = planned(copies(a5, 10), caliper_mm=0.11)
    words = [one.text for face in spoken.faces for one in face.words]
    assert said in words
    assert not {spoken.title, *spoken.changes} & {english.title, *english.changes}
    assert not [one for one in words if "sheet" in one.lower() or "blank" in one]
    assert "0,11" in " ".join(spoken.changes)
