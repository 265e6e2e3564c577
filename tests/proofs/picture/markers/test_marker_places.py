"""Markers: on no other marker, within the picture, beside what is small, and never more than one can read."""

from __future__ import annotations

import random

import pytest

from service.pdf.facts.geometry import Box
from service.proofs.picture.markers.marker_places import MOST_MARKERS, Found, Marker, markers_for, places_together

SIZE = (400, 280)
REACH = 11.0


def hold(markers: tuple[Marker, ...], size: tuple[int, int] = SIZE) -> None:
    for at, one in enumerate(markers):
        assert REACH <= one.at[0] <= size[0] - REACH
        assert REACH <= one.at[1] <= size[1] - REACH
        for other in markers[at + 1 :]:
            assert max(abs(one.at[0] - other.at[0]), abs(one.at[1] - other.at[1])) >= 2 * REACH


def test_a_large_place_has_its_marker_on_its_corner() -> None:
    (marker,) = markers_for([Found(1, "must", (Box(100, 80, 300, 200),))], SIZE, REACH)
    assert marker.at == pytest.approx((100, 80), abs=REACH)
    assert marker.leads_to is None


def test_a_small_place_has_its_marker_beside_it_with_a_line_to_it() -> None:
    place = Box(200, 100, 204, 103)
    (marker,) = markers_for([Found(1, "must", (place,))], SIZE, REACH)
    x, y = marker.at
    assert Box(x - REACH, y - REACH, x + REACH, y + REACH).intersection(place) is None
    assert marker.leads_to is not None
    assert place.grown(0.1).contains(Box(*marker.leads_to, *marker.leads_to))


def test_a_marker_does_not_hide_a_small_place_of_another_finding() -> None:
    small = Box(96, 76, 102, 82)
    markers = markers_for([Found(1, "must", (Box(100, 80, 300, 200),)), Found(2, "should", (small,))], SIZE, REACH)
    first = markers[0].at
    covered = Box(first[0] - REACH, first[1] - REACH, first[0] + REACH, first[1] + REACH).intersection(small)
    assert covered is None


def test_findings_of_the_same_place_stand_side_by_side() -> None:
    whole = Box(20, 20, 380, 260)
    markers = markers_for([Found(number, "must", (whole,)) for number in range(1, 13)], SIZE, REACH)
    assert [one.number for one in markers] == list(range(1, 13))
    hold(markers)


def test_a_place_at_the_very_edge_keeps_its_marker_within_the_picture() -> None:
    places = (Box(-50, -50, 3, 3), Box(395, 270, 500, 400), Box(0, 100, 400, 101))
    markers = markers_for([Found(number, "must", (place,)) for number, place in enumerate(places, 1)], SIZE, REACH)
    assert len(markers) == 3
    hold(markers)


def test_many_places_of_a_finding_get_few_markers_and_every_finding_gets_one_first() -> None:
    scattered = tuple(Box(x, y, x + 2, y + 2) for x in range(20, 400, 60) for y in range(20, 280, 60))
    markers = markers_for([Found(1, "must", scattered), Found(2, "should", (Box(200, 140, 202, 142),))], SIZE, REACH)
    assert [one.number for one in markers].count(1) == MOST_MARKERS
    assert [one.number for one in markers][:2] == [1, 2]
    hold(markers)


def test_places_that_lie_close_together_share_a_marker() -> None:
    lines = [Box(50, 50 + 12 * row, 150 + row, 58 + 12 * row) for row in range(8)]
    assert places_together(lines, Box(0, 0, *SIZE), REACH) == [lines[7]]
    assert len(places_together([lines[0], Box(300, 200, 320, 210)], Box(0, 0, *SIZE), REACH)) == 2


def test_a_place_beyond_the_picture_has_no_marker() -> None:
    assert markers_for([Found(1, "must", (Box(500, 0, 600, 50),))], SIZE, REACH) == ()


def test_a_crowd_never_overlaps_whatever_comes() -> None:
    chance = random.Random(20260)
    for _ in range(30):
        size = chance.choice([(400, 280), (60, 90), (1200, 900)])
        found = []
        for number in range(1, chance.randint(2, 40)):
            x, y = chance.uniform(-20, size[0]), chance.uniform(-20, size[1])
            place = Box(x, y, x + chance.choice([0, 3, 200]), y + chance.choice([0, 3, 200]))
            found.append(Found(number, "must", (place,)))
        hold(markers_for(found, size, REACH), size)


def test_a_picture_smaller_than_a_marker_has_none() -> None:
    assert markers_for([Found(1, "must", (Box(0, 0, 9, 9),))], (12, 12), REACH) == ()
