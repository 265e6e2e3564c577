"""A preview for the client: pictures that can be recognised, no marks."""

from __future__ import annotations

from dataclasses import replace

import pytest

from service.rules.judge import judge
from service.sheets.model import ImagesAsked, Resolution, SpecSheet
from tests.rules.measured import (
    broken_rules,
    content,
    crop_marks,
    document,
    only_finding,
    outcome,
    page,
    picture,
    without_content,
)

PREVIEW = SpecSheet(
    purpose="client-preview",
    images=ImagesAsked(contone=Resolution(minimum_ppi=90)),
    levels={"image.resolution": "off"},
)
PLAIN = SpecSheet(purpose="client-preview")


@pytest.mark.parametrize(("ppi", "expected"), [(100, "met"), (90, "met"), (89.6, "met"), (89.4, "not_met"), (30, "not_met")])
def test_pictures_of_a_preview_can_be_recognised(ppi: float, expected: str) -> None:
    assert outcome("preview.legible", document(page(content=content(images=(picture(ppi),)))), PREVIEW) == expected


def test_pictures_under_the_sheets_own_minimum_are_told_once() -> None:
    coarse = document(page(content=content(images=(picture(30),))))
    assert broken_rules(judge(coarse, replace(PREVIEW, levels={}))) == {"image.resolution"}


def test_without_a_minimum_a_preview_is_as_fine_as_a_screen() -> None:
    finding = only_finding("preview.legible", document(page(content=content(images=(picture(60),)))), PLAIN).finding
    assert (finding.measured, finding.required) == ({"ppi": 60, "images": 1}, {"minimum_ppi": 72})
    assert outcome("preview.legible", document(page(content=content(images=(picture(72),)))), PLAIN) == "met"
    of_line_art = replace(PLAIN, images=ImagesAsked(bilevel=Resolution(minimum_ppi=600)))
    assert outcome("preview.legible", document(page(content=content(images=(picture(60),)))), of_line_art) == "not_met"


def test_coarse_pictures_are_one_remark_with_the_lowest_and_dots_and_stencils_none() -> None:
    pictures = (picture(60), picture(30), picture(10, pixels=(8, 8)), picture(10, kind="mask"))
    finding = only_finding("preview.legible", document(page(content=content(images=pictures))), PLAIN).finding
    assert finding.measured == {"ppi": 30, "images": 2}


def test_crop_marks_do_not_belong_in_a_preview() -> None:
    marked = page(content=replace(content(), mark_lines=tuple(crop_marks())))
    found = only_finding("preview.legible", document(marked, page()), PLAIN)
    assert (found.level, found.finding.measured, found.finding.pages) == ("should", {"marked_pages": 1}, (1,))


@pytest.mark.parametrize(("corners", "expected"), [(1, "met"), (2, "not_met")])
def test_lines_beside_one_corner_are_part_of_the_design(corners: int, expected: str) -> None:
    of_the_left = [line for line in crop_marks() if line.box_mm.x0 <= 0]
    lines = of_the_left if corners == 2 else [line for line in of_the_left if line.box_mm.y0 <= 0]
    assert outcome("preview.legible", document(page(content=replace(content(), mark_lines=tuple(lines)))), PLAIN) == expected


def test_a_print_file_is_no_preview_and_an_unseen_page_no_pass() -> None:
    assert outcome("preview.legible", document(page()), SpecSheet()) == "not_applicable"
    assert outcome("preview.legible", document(without_content(page())), PLAIN) == "not_measured"
