"""From what a caller wishes of a preview to its brief: pages, arrangement, size, watermark."""

from __future__ import annotations

from pathlib import Path

import pytest

from service.pdf.facts.page import Page
from service.pdf.facts.unknown import Unmeasured
from service.pdf.measure import measure
from service.proofs.preview.brief import arrangement_for, preview_brief, sheets_of
from service.proofs.preview.wishes import PreviewArrangement, PreviewWishes, bytes_of, watermark_of
from service.proofs.wishes import NotUnderstood, WishesRefused, page_numbers
from service.sheets.catalogue import stored_sheets
from service.sheets.model import PagesAsked, SpecSheet
from tests.build import document, page


def measured(folder: Path, *widths: float) -> tuple[Page, ...]:
    pages = measure(document(*(page(width, 60) for width in widths)).save(folder / "file.pdf")).pages
    assert not isinstance(pages, Unmeasured)
    return pages


def arranged(pages: tuple[Page, ...], arrangement: PreviewArrangement, chosen: str | None = None) -> list[list[int]]:
    sheets = sheets_of(pages, page_numbers(chosen, len(pages)), arrangement)
    return [[one.number for one in sheet] for sheet in sheets]


def test_a_booklet_opens_with_its_cover_and_then_by_facing_pages(tmp_path: Path) -> None:
    pages = measured(tmp_path, *[40] * 8)
    assert arranged(pages, "spreads") == [[1], [2, 3], [4, 5], [6, 7], [8]]
    assert arranged(pages, "singles") == [[number] for number in range(1, 9)]


def test_chosen_pages_stand_side_by_side_only_where_they_face_each_other(tmp_path: Path) -> None:
    pages = measured(tmp_path, *[40] * 12)
    assert arranged(pages, "spreads", "1-4,9-12") == [[1], [2, 3], [4], [9], [10, 11], [12]]
    assert arranged(pages, "spreads", "3,4") == [[3], [4]]


def test_a_page_that_is_a_spread_already_stands_alone(tmp_path: Path) -> None:
    assert arranged(measured(tmp_path, 40, 80, 80, 40), "spreads") == [[1], [2], [3], [4]]


@pytest.mark.parametrize(
    ("text", "numbers"),
    [(None, (1, 2, 3, 4, 5)), ("2", (2,)), (" 4-5 , 1", (1, 4, 5)), ("2-3,3-4", (2, 3, 4)), ("1\u20132", (1, 2))],
)
def test_pages_are_written_as_numbers_and_ranges(text: str | None, numbers: tuple[int, ...]) -> None:
    assert page_numbers(text, 5) == numbers


@pytest.mark.parametrize("text", ["0", "3-2", "6", "1-999999999", "a", "1-", "1,,2", "-1", "1-2-3"])
def test_pages_that_cannot_be_are_refused(text: str) -> None:
    with pytest.raises(NotUnderstood):
        page_numbers(text, 5)


@pytest.mark.parametrize(
    ("text", "size"), [("600kB", 600_000), ("5 MB", 5_000_000), ("1MiB", 2**20), ("0.5 mb", 500_000), ("20000", 20_000)]
)
def test_a_size_has_a_unit(text: str, size: int) -> None:
    assert bytes_of(text) == size


@pytest.mark.parametrize("text", ["", "600", "9 kB", "1 parsec", "-5 MB", "1e9", "kB"])
def test_a_size_that_cannot_be_is_refused(text: str) -> None:
    with pytest.raises(NotUnderstood):
        bytes_of(text)


def test_a_watermark_is_one_short_line() -> None:
    assert watermark_of("  For\n approval ") == "For approval"
    for words in ("x" * 61, "承認"):
        with pytest.raises(NotUnderstood):
            watermark_of(words)


def test_every_wish_that_cannot_be_is_named_at_once(tmp_path: Path) -> None:
    with pytest.raises(WishesRefused) as refused:
        preview_brief(measured(tmp_path, 40), SpecSheet(), PreviewWishes(pages="2", maximum_size="much", watermark="承認"))
    assert [field for field, _ in refused.value.mistakes] == ["pages", "maximum_size", "watermark"]


def test_bound_work_is_shown_as_spreads() -> None:
    assert arrangement_for(stored_sheets()["booklet-a5-stapled"]) == "spreads"
    assert arrangement_for(SpecSheet(pages=PagesAsked(multiple_of=4))) == "spreads"
    assert arrangement_for(stored_sheets()["business-card-85x55"]) == "singles"
    assert arrangement_for(SpecSheet()) == "singles"
