"""Pages that are turned for display."""

from __future__ import annotations

import pytest

from service.sheets.model import PagesAsked, SpecSheet
from tests.rules.measured import document, only_finding, outcome, page

UNTURNED = SpecSheet(pages=PagesAsked(rotation="forbidden"))


@pytest.mark.parametrize(("rotation", "expected"), [(0, "met"), (90, "not_met"), (180, "not_met")])
def test_a_page_that_is_turned_for_display(rotation: int, expected: str) -> None:
    assert outcome("pages.rotation", document(page(rotation=rotation)), UNTURNED) == expected


def test_the_turned_pages_are_told_and_nothing_where_nobody_asks() -> None:
    turned = document(page(), page(rotation=270), page(rotation=90))
    finding = only_finding("pages.rotation", turned, UNTURNED).finding
    assert (finding.pages, finding.measured, finding.required) == ((2, 3), {"rotation": 270}, {"rotation": 0})
    assert outcome("pages.rotation", turned, SpecSheet(pages=PagesAsked(rotation="allowed"))) == "not_applicable"
