"""The page tree as written: ISO 32000-2:2020, 7.7.3."""

from __future__ import annotations

import io

import pikepdf
import pytest

from service.pdf.reading.page_tree import MOST_ANCESTORS, inherited, look_at_page_tree, with_ancestors
from tests.pdf.by_hand import A_PAGE, CATALOG, pages, written


def opened(data: bytes) -> pikepdf.Pdf:
    return pikepdf.open(io.BytesIO(data), inherit_page_attributes=False)


def test_pages_of_a_tree_with_branches_are_counted_in_order() -> None:
    data = written(
        CATALOG,
        "<</Type/Pages/Kids[3 0 R 5 0 R]/Count 3>>",
        f"<</Type/Pages/Parent 2 0 R/Kids[4 0 R 6 0 R]/Count 2{A_PAGE}>>",
        "<</Type/Page/Parent 3 0 R/Resources<<>>>>",
        "<</Type/Page/Parent 2 0 R/Resources<<>>>>",
        "<</Type/Page/Parent 3 0 R/Resources<<>>>>",
    )
    tree = look_at_page_tree(opened(data))
    assert (tree.found, tree.lost, tree.stated) == (3, 0, 3)
    assert tree.without_size == {3}  # object 5: the other two inherit theirs


@pytest.mark.parametrize(
    ("data", "found", "lost"),
    [
        (pages(A_PAGE, A_PAGE), 2, 0),
        (pages(A_PAGE, kids="3 0 R null 9 0 R 5", count=7), 1, 3),
        (pages(A_PAGE, kids="3 0 R 3 0 R", count=2), 2, 0),
        (pages(A_PAGE, kids=f"<</Type/Page{A_PAGE}/Resources<<>>>> 3 0 R", count=2), 2, 0),
        (pages(A_PAGE, kids="[3 0 R]", count=1), 0, 1),
    ],
    ids=["plain", "kids gone", "one page twice", "page written in place", "list in a list"],
)
def test_the_tree_counts_what_the_library_finds(data: bytes, found: int, lost: int) -> None:
    pdf = opened(data)
    tree = look_at_page_tree(pdf)
    assert (tree.found, tree.lost) == (found, lost)
    assert len(pdf.pages) == found


def test_a_tree_in_a_loop_ends() -> None:
    tree = look_at_page_tree(opened(pages(A_PAGE, kids="3 0 R 2 0 R", count=2)))
    assert tree.found == 1


def test_an_attribute_comes_from_the_nearest_ancestor() -> None:
    data = written(
        CATALOG,
        "<</Type/Pages/Kids[3 0 R]/Count 1/Rotate 90/Resources<</A 1>>>>",
        "<</Type/Pages/Parent 2 0 R/Kids[4 0 R]/Count 1/Resources<</B 1>>>>",
        f"<</Type/Page/Parent 3 0 R{A_PAGE}>>",
    )
    pdf = opened(data)
    page = pdf.pages[0].obj
    assert inherited(page, "/Rotate") == 90
    resources = inherited(page, "/Resources")
    assert isinstance(resources, pikepdf.Dictionary)
    assert "/B" in resources
    assert inherited(page, "/CropBox") is None


def test_parents_in_a_loop_end() -> None:
    pdf = opened(pages(A_PAGE))
    page = pdf.pages[0].obj
    page["/Parent"]["/Parent"] = page
    assert len(list(with_ancestors(page))) == 2


def test_endless_parents_written_in_place_end() -> None:
    node = pikepdf.Dictionary()
    for _ in range(3 * MOST_ANCESTORS):
        node = pikepdf.Dictionary(Parent=node)
    assert len(list(with_ancestors(node))) == MOST_ANCESTORS
