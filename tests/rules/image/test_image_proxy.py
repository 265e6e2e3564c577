"""Pictures that are not in the file."""

from __future__ import annotations

import pytest

from service.pdf.facts.geometry import Box
from service.pdf.facts.painted.images import StandIn
from service.sheets.model import SpecSheet
from tests.facts import fact
from tests.rules.image.pictured import ASKED, LINE_ART, SILENT, with_pictures
from tests.rules.measured import document, only_finding, outcome, page, picture, without_content


def test_a_right_page_and_one_that_nobody_saw() -> None:
    assert outcome("image.proxy", document(with_pictures(picture(), picture(200))), SILENT) == "met"
    assert outcome("image.proxy", document(without_content(page())), SILENT) == "not_measured"


@pytest.mark.parametrize("kind", ["missing object", "OPI"])
def test_what_is_not_in_the_file_does_not_print(kind: str) -> None:
    stand_in = fact(StandIn, kind, Box(10, 10, 40, 30))  # type: ignore[arg-type]
    found = only_finding("image.proxy", document(with_pictures(stand_ins=(stand_in, stand_in)), page()), SILENT)
    assert (found.level, found.finding.measured, found.finding.pages) == ("must", {"kind": kind, "objects": 2}, (1,))
    assert found.finding.places[0].box_mm == (10, 10, 40, 30)


@pytest.mark.parametrize(
    ("ppi", "pixels", "expected"),
    [(99, (320, 200), "not_met"), (100, (320, 200), "met"), (72, (321, 200), "met"), (72, (60, 60), "met")],
)
def test_a_tiny_picture_blown_up_is_likely_a_stand_in(ppi: float, pixels: tuple[int, int], expected: str) -> None:
    assert outcome("image.proxy", document(with_pictures(picture(ppi, pixels=pixels))), SILENT) == expected


def test_a_tiny_picture_is_only_suspected_and_left_to_the_sheets_own_limit() -> None:
    tiny = document(with_pictures(picture(72, pixels=(200, 200))))
    found = only_finding("image.proxy", tiny, SILENT)
    assert (found.level, found.finding.measured) == ("should", {"kind": "small picture", "objects": 1, "ppi": 72})
    assert outcome("image.proxy", tiny, ASKED) == "met"
    assert outcome("image.resolution", tiny, ASKED) == "not_met"
    assert outcome("image.proxy", tiny, LINE_ART) == "not_met"
    assert outcome("image.proxy", tiny, SpecSheet(purpose="client-preview")) == "met"


def test_a_small_stencil_is_no_stand_in() -> None:
    assert outcome("image.proxy", document(with_pictures(picture(72, pixels=(200, 200), kind="mask"))), SILENT) == "met"


def test_small_pictures_are_one_remark_with_the_lowest_resolution() -> None:
    pages = [with_pictures(picture(ppi, pixels=(200, 200))) for ppi in (90, 72, 80)]
    finding = only_finding("image.proxy", document(*pages), SILENT).finding
    assert (finding.measured, finding.pages) == ({"kind": "small picture", "objects": 3, "ppi": 72}, (1, 2, 3))
