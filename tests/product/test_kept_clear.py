"""An area that stays clear keeps to the corner that it is measured from, on pages of another size too."""

from __future__ import annotations

import pytest

from service.pdf.facts.geometry import Box
from service.product.kept_clear import area_on
from service.sheets.model import Corner, KeepClearArea, Part, TrimAsked

INNER = TrimAsked(width_mm=210, height_mm=297, parts=(Part(name="cover", width_mm=200, height_mm=290, first=1),))
"""The cover is 10 mm narrower and 7 mm shorter than the other pages."""


@pytest.mark.parametrize(
    ("corner", "box"),
    [
        ("top-left", (5, 6, 35, 26)),
        ("top-right", (-5, 6, 25, 26)),
        ("bottom-left", (5, -1, 35, 19)),
        ("bottom-right", (-5, -1, 25, 19)),
    ],
)
def test_on_a_smaller_page_an_area_stays_at_its_corner(corner: Corner, box: tuple[float, ...]) -> None:
    area = KeepClearArea(name="stamp", box_mm=Box(5, 6, 35, 26), bound_to=corner)
    assert tuple(area_on(area, INNER, 1).box_mm) == box
    assert area_on(area, INNER, 1).bound_to == corner


def test_on_the_other_pages_and_without_a_size_it_stands_as_it_is_written() -> None:
    area = KeepClearArea(name="stamp", box_mm=Box(5, 6, 35, 26), bound_to="bottom-right")
    assert area_on(area, INNER, 2) == area
    assert area_on(area, None, 1) == area
