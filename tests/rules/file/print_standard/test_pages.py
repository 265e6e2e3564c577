"""Where to cut, and what may lie on the page of a print standard."""

from __future__ import annotations

from dataclasses import replace

import pytest

from service.pdf.facts.geometry import Box
from service.pdf.facts.page import Page
from tests.rules.print_files import boxes, breaches, broken, note, print_file

X_4 = "PDF/X-4"


@pytest.mark.parametrize(
    ("page", "found"),
    [(boxes(trim=None), "no TrimBox says"), (boxes(art=Box(0, 0, 85, 55)), "both a TrimBox and an ArtBox")],
    ids=["neither", "both"],
)
def test_just_one_box_says_where_to_cut(page: Page, found: str) -> None:
    (told,) = breaches(print_file(X_4, page), X_4)
    assert told["demand"] == "trim-box"
    assert found in told["found"]


def without_bleed_box(one: Page) -> Page:
    return replace(one, declared_boxes=boxes(bleed=None).declared_boxes)


IN_THE_BLEED, ON_THE_PAGE = Box(86, 10, 87, 20), Box(10, 10, 20, 20)


@pytest.mark.parametrize(
    ("page", "expected"),
    [
        (note(IN_THE_BLEED), ["annotations"]),
        (without_bleed_box(note(IN_THE_BLEED)), []),
        (without_bleed_box(note(ON_THE_PAGE)), ["annotations"]),
        (note(Box(10, 58, 20, 70)), []),
        (note(Box(88, 10, 100, 20)), []),
    ],
    ids=["in the bleed", "no bleed is declared", "on the page", "touches its foot", "touches its side"],
)
def test_notes_stand_outside_the_bleed_or_else_the_trim(page: Page, expected: list[str]) -> None:
    assert broken(print_file(X_4, page), X_4) == expected
