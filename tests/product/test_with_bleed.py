"""A page that is the product and its bleed."""

from __future__ import annotations

import pytest

from service.product.with_bleed import bleed_in_size
from service.sheets.model import TrimAsked

A4 = TrimAsked(width_mm=210, height_mm=297)


@pytest.mark.parametrize(("width", "height", "bleed"), [
    (214, 301, 2), (216, 303, 3), (303, 216, 3), (211, 298, 0.5), (230, 317, 10),
    (210.8, 298.2, None), (229.8, 317.2, None), (216, 303.36, 3.09), (216, 303.46, None), (303.36, 216, 3.09),
    (210.8, 297.8, None), (230.6, 317.6, None), (216, 297, None), (216, 303.6, None), (204, 291, None), (420, 594, None),
])
def test_a_size_larger_by_the_same_on_every_side_holds_the_bleed(width: float, height: float, bleed: float | None) -> None:
    assert bleed_in_size(A4, width, height) == (None if bleed is None else pytest.approx(bleed))
