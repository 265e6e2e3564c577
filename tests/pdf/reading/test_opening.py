"""Files that cannot be opened, and files that open only after repair."""

from __future__ import annotations

from pathlib import Path

import pytest

from service.language.sentences import sentence
from service.pdf.facts.parts import MOST_DAMAGE, capped
from service.pdf.facts.unknown import Failure
from service.pdf.reading.opening import LOST_END, LOST_PAGE, REBUILT, OpenedPdf, opened
from tests.build import document, page
from tests.pdf.by_hand import A_PAGE, CATALOG, ONE_PAGE, page_with, pages, saved, written


def open_once(data: bytes, folder: Path, name: str = "file.pdf") -> OpenedPdf | Failure:
    with opened(saved(data, folder, name)) as result:
        return result


def failure(data: bytes, folder: Path) -> Failure:
    result = open_once(data, folder)
    assert isinstance(result, Failure)
    return result


def pdf(data: bytes, folder: Path, name: str = "file.pdf") -> OpenedPdf:
    result = open_once(data, folder, name)
    assert isinstance(result, OpenedPdf)
    return result


def test_a_right_file_opens_without_damage(tmp_path: Path) -> None:
    result = pdf(document(page(85, 55), page(85, 55)).bytes(), tmp_path)
    assert (result.page_count, result.damage, result.rebuilt) == (2, (), False)


def test_a_file_with_a_password_is_locked(tmp_path: Path) -> None:
    assert failure(document(page(85, 55)).encrypted(user="secret").bytes(), tmp_path).kind == "locked"


def test_a_file_that_only_restricts_use_opens(tmp_path: Path) -> None:
    assert pdf(document(page(85, 55)).encrypted(user="").bytes(), tmp_path).page_count == 1


def test_an_encryption_that_nobody_knows_is_locked(tmp_path: Path) -> None:
    encrypt = "<</Filter/Standard/V 9/R 9/O(0)/U(0)/P -1/Length 128>>"
    data = written(CATALOG, ONE_PAGE, f"<</Type/Page{A_PAGE}>>", encrypt, trailer="/Root 1 0 R/Encrypt 4 0 R/ID[(a)(b)]")
    assert failure(data, tmp_path).kind == "locked"


@pytest.mark.parametrize(
    "data",
    [
        b"",
        b"%PDF-1.4\n",
        b"Dear printer, the file is attached.\n" * 40,
        written("<</Type/Catalog>>"),
        written("<</Type/Catalog/Pages 7 0 R>>"),
        written(CATALOG, trailer="/Root 9 0 R"),
        written(CATALOG, "<</Type/Pages/Count 2>>"),
        pages(),
        pages(A_PAGE, kids="3 0 R 2 0 R", count=2),
    ],
    ids=["empty", "header only", "no PDF", "no pages", "pages gone", "root gone", "no kids", "no page", "loop"],
)
def test_a_file_without_a_page_to_be_found_is_broken(data: bytes, tmp_path: Path) -> None:
    found = failure(data, tmp_path)
    assert found.kind == "broken"
    assert str(tmp_path) not in found.why


def test_a_page_tree_in_a_loop_says_so(tmp_path: Path) -> None:
    assert "circle" in failure(pages(A_PAGE, kids="3 0 R 2 0 R", count=2), tmp_path).why


def test_a_file_cut_off_before_its_pages_is_broken(tmp_path: Path) -> None:
    whole = document(page(85, 55).fill(cyan=1)).bytes()
    assert failure(whole[:40], tmp_path).kind == "broken"


def test_a_file_cut_off_after_its_pages_opens_with_the_lost_end_told(tmp_path: Path) -> None:
    result = pdf(pages(A_PAGE, A_PAGE)[:-60], tmp_path)
    assert result.page_count == 2
    assert LOST_END in result.damage
    assert result.rebuilt


def test_pages_lost_with_the_end_of_the_file_are_told(tmp_path: Path) -> None:
    whole = pages(A_PAGE, A_PAGE, A_PAGE)
    result = pdf(whole[: whole.index(b"5 0 obj") + 20], tmp_path)
    assert (result.page_count, result.pages_lost) == (2, True)
    assert LOST_PAGE in result.damage


def test_a_wrong_page_count_in_the_file_is_told(tmp_path: Path) -> None:
    result = pdf(pages(A_PAGE, count=7), tmp_path)
    assert (result.page_count, result.pages_lost) == (1, False)
    assert "7 pages and has 1" in result.damage[0].english


def test_a_wrong_cross_reference_table_is_told(tmp_path: Path) -> None:
    data = pages(A_PAGE).replace(b"startxref\n", b"startxref\n9")
    result = pdf(data, tmp_path)
    assert REBUILT in result.damage
    assert result.rebuilt


def test_slips_without_consequence_are_no_damage(tmp_path: Path) -> None:
    """A page without Resources, and one of a wrong Type: every reader takes them as they are meant."""
    data = written(CATALOG, "<</Type/Pages/Kids[3 0 R 4 0 R]/Count 2>>", f"<</Type/Page{A_PAGE}>>", f"<</Type/Sheet{A_PAGE}>>")
    result = pdf(data, tmp_path)
    assert (result.page_count, result.damage) == (2, ())


def test_the_name_of_the_file_is_not_taken_for_damage(tmp_path: Path) -> None:
    data = written(CATALOG, ONE_PAGE, f"<</Type/Page{A_PAGE}/Rotate 0/Rotate 0>>")
    (told,) = pdf(data, tmp_path, "xref encrypted endstream.pdf").damage
    assert "twice" in told.english


def test_a_missing_size_is_seen_before_the_library_fills_it_in(tmp_path: Path) -> None:
    result = pdf(pages(A_PAGE, "", "/MediaBox[0 0 (wide) 9]", A_PAGE), tmp_path)
    assert result.without_size == {2, 3}


def test_a_missing_size_is_seen_in_a_file_that_has_to_be_searched(tmp_path: Path) -> None:
    result = pdf(pages(A_PAGE, "", A_PAGE)[:-60], tmp_path)
    assert (result.page_count, result.without_size) == (3, {2})


def test_damage_is_told_once_and_capped() -> None:
    cut, rebuilt = sentence("cut"), sentence("rebuilt")
    assert capped([cut, cut, rebuilt]) == (cut, rebuilt)
    many = capped(sentence("slip {number}", number=number) for number in range(100))
    assert len(many) == MOST_DAMAGE
    assert str(100 - MOST_DAMAGE + 1) in many[-1].english


def test_a_box_with_a_number_beyond_bounds_takes_its_page_along_visibly(tmp_path: Path) -> None:
    """The number does not fit 64 bits: qpdf gives the whole page up. It must not vanish without a word."""
    huge = "9" * 60
    result = open_once(pages(A_PAGE, f"/MediaBox[0 0 {huge} 100]"), tmp_path)
    assert isinstance(result, OpenedPdf)
    assert (result.page_count, result.pages_lost) == (1, True)
    assert failure(page_with(f"/MediaBox[0 0 {huge} 100]"), tmp_path).kind == "broken"
