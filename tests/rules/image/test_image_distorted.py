"""Pictures that were pulled by one side."""

from __future__ import annotations

from dataclasses import replace

import pytest

from service.pdf.facts.geometry import Box
from tests.rules.image.pictured import SILENT, one, with_pictures
from tests.rules.measured import content, document, only_finding, outcome, page, picture, without_content


def test_a_right_page_and_one_that_nobody_saw() -> None:
    assert outcome("image.distorted", document(with_pictures(picture(), picture(200))), SILENT) == "met"
    assert outcome("image.distorted", document(without_content(page())), SILENT) == "not_measured"


@pytest.mark.parametrize(("ppi_y", "expected"), [(300, "met"), (315, "met"), (286, "met"), (316, "not_met"), (150, "not_met")])
def test_a_picture_keeps_its_shape(ppi_y: float, expected: str) -> None:
    assert outcome("image.distorted", document(one(ppi_y=ppi_y)), SILENT) == expected


def test_a_stretched_picture_is_told_its_right_size() -> None:
    """600 × 400 pixels at 300 ppi across and 150 ppi down: the height is doubled. At 150 ppi both ways it is 101.6 × 67.7 mm."""
    found = only_finding("image.distorted", document(one(ppi_y=150.0)), SILENT)
    assert (found.level, found.finding.measured, found.finding.required) == (
        "should",
        {"percent": 100, "images": 1},
        {"percent": 5},
    )
    assert "height" in found.finding.message
    assert "101.6 × 67.7 mm" in found.finding.remedy


@pytest.mark.parametrize(
    ("ppi", "expected"),
    [
        ((204.0, 98.0), "met"),  # a fax of standard resolution
        ((204.0, 391.0), "met"),  # and of the finest
        ((98.0, 204.0), "met"),  # lying on its side
        ((408.0, 196.0), "met"),  # placed at half its size
        ((204.0, 95.87), "met"),  # a letter's width is rounded: 1.9 % off
        ((204.0, 95.67), "not_met"),
        ((204.0, 102.5), "not_met"),
        ((204.0, 110.0), "not_met"),
    ],
)
def test_a_fax_has_oblong_pixels_and_looks_natural(ppi: tuple[float, float], expected: str) -> None:
    assert outcome("image.distorted", document(one(ppi_x=ppi[0], ppi_y=ppi[1])), SILENT) == expected


@pytest.mark.parametrize(
    ("share", "ppi_y", "expected"),
    [(1.0, 60.0, "met"), (0.9, 60.0, "met"), (0.89, 60.0, "not_met"), (1.0, 101.0, "not_met"), (1.0, 100.0, "met")],
)
def test_a_scan_that_fills_the_page_was_sampled_so(share: float, ppi_y: float, expected: str) -> None:
    """180 pixels an inch across and 60 down; the page is 85 × 55 mm."""
    for scan in (Box(0, 0, 85, 55 * share), Box(0, 0, 85 * share, 55)):
        assert outcome("image.distorted", document(one(box_mm=scan, ppi_x=180.0, ppi_y=ppi_y)), SILENT) == expected


def test_a_page_without_height_is_filled_by_nothing() -> None:
    scan = content(images=(replace(picture(), ppi_y=150.0),))
    assert outcome("image.distorted", document(page(85, 0, content=scan)), SILENT) == "not_met"


def test_a_picture_doubled_in_width_is_told_its_right_size() -> None:
    finding = only_finding("image.distorted", document(one(ppi_x=150.0)), SILENT).finding
    assert "width" in finding.message
    assert "101.6 × 67.7 mm" in finding.remedy


def test_of_several_stretched_pictures_the_worst_is_described() -> None:
    slightly, badly = replace(picture(), ppi_y=250.0), replace(picture(), ppi_y=150.0)
    finding = only_finding("image.distorted", document(with_pictures(slightly), with_pictures(badly, slightly)), SILENT).finding
    assert (finding.measured, finding.pages) == ({"percent": 100, "images": 3}, (1, 2))


def test_a_picture_blown_up_over_a_wall_keeps_its_shape_too() -> None:
    assert outcome("image.distorted", document(one(ppi_x=0.5, ppi_y=0.9)), SILENT) == "not_met"


def test_gradients_dots_and_line_art_may_be_stretched() -> None:
    gradient = replace(picture(), width_px=1, ppi_x=1.0)
    fax = replace(picture(), kind="bilevel", ppi_x=300.0, ppi_y=150.0)
    flat = replace(picture(), ppi_y=float("inf"))
    endless = replace(picture(), ppi_y=0.0)
    assert outcome("image.distorted", document(with_pictures(gradient, fax, flat, endless)), SILENT) == "met"
