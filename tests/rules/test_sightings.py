"""What lies on the page or its bleed, and what in the slug."""

from __future__ import annotations

import pytest

from service.pdf.facts.geometry import Box
from service.rules.sightings import bleed_area, within
from tests.rules.measured import page

CARD = bleed_area(page(85, 55, bleed=3))


@pytest.mark.parametrize(
    ("box", "lies_in"),
    [
        (Box(10, 10, 20, 20), True),
        (Box(-20, 10, -2.9, 20), True),
        (Box(87.9, 10, 120, 20), True),
        (Box(10, -20, 20, -2.9), True),
        (Box(10, 57.9, 20, 90), True),
        (Box(-20, 10, -3, 20), False),
        (Box(88, 10, 120, 20), False),
        (Box(10, -20, 20, -3), False),
        (Box(10, 58, 20, 90), False),
        (Box(-20, -20, 120, 90), True),
    ],
    ids=[
        *("inside", "over the left edge", "over the right", "over the top", "over the bottom"),
        *("at the left edge", "at the right", "at the top", "at the bottom", "around the page"),
    ],
)
def test_what_touches_the_bleed_only_from_without_lies_in_the_slug(box: Box, lies_in: bool) -> None:
    assert within(CARD, [box, Box(200, 200, 210, 210)]) == ((box,) if lies_in else ())
