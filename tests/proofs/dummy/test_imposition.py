"""Which page lies where: against published tables, and the arithmetic that holds for every booklet."""

from __future__ import annotations

import pytest

from service.proofs.dummy.imposition import BlanksPlace, Sheet, Side, blanks_needed, creep_mm, sheets, with_blanks

TABLES = {
    4: "4 1 2 3",
    8: "8 1 2 7 6 3 4 5",
    12: "12 1 2 11 10 3 4 9 8 5 6 7",
    16: "16 1 2 15 14 3 4 13 12 5 6 11 10 7 8 9",
    20: "20 1 2 19 18 3 4 17 16 5 6 15 14 7 8 13 12 9 10 11",
    24: "24 1 2 23 22 3 4 21 20 5 6 19 18 7 8 17 16 9 10 15 14 11 12 13",
    32: "32 1 2 31 30 3 4 29 28 5 6 27 26 7 8 25 24 9 10 23 22 11 12 21 20 13 14 19 18 15 16 17",
}
"""Front left, front right, back left, back right, sheet after sheet, as booklet tables list them: the rule is that of
mindprod.com/jgloss/imposition.html, the rows are written out by hand."""


@pytest.mark.parametrize(("count", "table"), TABLES.items())
def test_a_booklet_is_imposed_as_the_tables_have_it(count: int, table: str) -> None:
    found = [(one.front.left, one.front.right, one.back.left, one.back.right) for one in sheets(range(1, count + 1))]
    assert [slot for four in found for slot in four] == [int(one) for one in table.split()]


@pytest.mark.parametrize("count", range(4, 65, 4))
def test_each_pair_adds_up_and_odd_pages_are_on_the_right(count: int) -> None:
    """mindprod.com/jgloss/imposition.html: the pages beside each other add up to the count and one."""
    all_sheets = sheets(range(1, count + 1))
    sides = [side for one in all_sheets for side in (one.front, one.back)]
    assert len(all_sheets) == count // 4
    assert all((side.left or 0) + (side.right or 0) == count + 1 for side in sides)
    assert all((side.right or 0) % 2 == 1 and (side.left or 1) % 2 == 0 for side in sides)
    assert sorted(slot or 0 for side in sides for slot in (side.left, side.right)) == list(range(1, count + 1))


@pytest.mark.parametrize("count", range(4, 65, 4))
def test_behind_each_page_lies_its_neighbour(count: int) -> None:
    """A leaf has 2k-1 on one side and 2k on the other; turned over from left to right, left and right change places."""
    for one in sheets(range(1, count + 1)):
        leaves = [(one.front.right, one.back.left), (one.back.right, one.front.left)]
        assert all((odd or 0) % 2 == 1 and even == (odd or 0) + 1 for odd, even in leaves)


@pytest.mark.parametrize(("count", "needed"), [(1, 3), (4, 0), (5, 3), (6, 2), (7, 1), (10, 2), (64, 0)])
def test_a_count_that_is_no_multiple_of_four_needs_blanks(count: int, needed: int) -> None:
    assert blanks_needed(count) == needed


@pytest.mark.parametrize(
    ("place", "order"),
    [
        ("end", (1, 2, 3, 4, 5, 6, None, None)),
        ("before-last", (1, 2, 3, 4, 5, None, None, 6)),
        ("after-first", (1, None, None, 2, 3, 4, 5, 6)),
    ],
)
def test_blanks_go_where_they_are_wanted(place: BlanksPlace, order: tuple[int | None, ...]) -> None:
    assert with_blanks(6, place) == order


def test_six_pages_with_the_blanks_before_the_last_keep_their_back_cover() -> None:
    assert sheets(with_blanks(6, "before-last")) == (
        Sheet(1, Side(6, 1), Side(2, None)),
        Sheet(2, Side(None, 3), Side(4, 5)),
    )


def test_pages_that_do_not_fill_their_sheets_are_refused() -> None:
    with pytest.raises(ValueError, match="6 pages"):
        sheets(range(1, 7))


@pytest.mark.parametrize(("pages", "innermost_mm"), [(16, 0.3), (32, 0.7), (48, 1.1)])
def test_creep_grows_by_a_caliper_with_each_sheet(pages: int, innermost_mm: float) -> None:
    """Paper of 0.10 mm: worked out by hand, (sheets - 1) x caliper."""
    assert creep_mm(pages // 4, 0.10) == pytest.approx(innermost_mm)
    assert creep_mm(1, 0.10) == 0
