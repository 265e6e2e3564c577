"""Small areas that are gathered all at once say what they say one by one."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pikepdf
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.pdf.content.resources import Resources, Shared
from service.pdf.facts.geometry import Box, Matrix
from service.pdf.facts.page import PageBoxes
from service.pdf.facts.painted.content import Content
from service.pdf.gather import ground, plain_colors
from service.pdf.gather.ground import Below
from service.pdf.gather.marks import Gathered
from service.pdf.gather.small_areas import rounded
from service.pdf.walk import path_runs, runs
from service.pdf.walk.small_areas import SmallAreas
from service.pdf.walk.table import HANDLERS
from service.pdf.walk.walker import Walk

TRIM = Box(0, 0, 60, 40)
MEDIA = TRIM.grown(3)
BOXES = PageBoxes(media=MEDIA, crop=MEDIA, bleed=MEDIA, trim=TRIM, art=TRIM)
FONT = pikepdf.Dictionary(Type=pikepdf.Name.Font, Subtype=pikepdf.Name.Type1, BaseFont=pikepdf.Name.Helvetica)
TINTS = st.sampled_from(["0", "0.00005", "0.0005", "0.05", "0.1235", "0.3", "0.85", "1", "1.5"])
PLACES = st.floats(-4, 64).map(lambda one: f"{one:.2f}")
SIDES = st.sampled_from(["0.1", "0.6", "1", "1.7", "2.5", "9"])


@st.composite
def painted(draw: st.DrawFn) -> str:
    """A colour, now and then, and an area; rarely something else between them."""
    operator, count = draw(st.sampled_from([("k", 4), ("k", 4), ("rg", 3), ("g", 1), ("", 0)]))
    color = " ".join([*(draw(TINTS) for _ in range(count)), operator])
    x, y, width, height = draw(PLACES), draw(PLACES), draw(SIDES), draw(SIDES)
    area = draw(st.sampled_from([f"{x} {y} {width} {height} re", f"{x} {y} m {width} 0 l {x} {height} l h", ""]))
    return f"{color} {area} {draw(st.sampled_from(['f', 'f', 'f', 'f*', 'B', 'S', 'n']))}"


TYPE = "BT /F 4 Tf 20 20 Td (Open) Tj ET"
OTHERS = st.sampled_from([TYPE, "q 0 0 30 30 re W n", "Q", "/Half gs", "/Over gs", "0.2 w 3 3 m 9 3 l S"])


def gathered_of(drawn: bytes, at_once: bool) -> tuple[Content, list[Below], int]:
    """With what lies on each square of the page, and how many areas were told at once."""
    gathered, told = Gathered(BOXES), 0

    def add(areas: SmallAreas) -> None:
        nonlocal told
        told += len(areas.boxes)
        gathered.add_small(areas)

    with pikepdf.new() as pdf:
        walk = Walk(HANDLERS, Matrix(1, 0, 0, -1, 0, 40), MEDIA, Shared(pdf), [gathered.add])
        walk.at_once = (gathered.interior, add) if at_once else None
        states = pikepdf.Dictionary(Half=pikepdf.Dictionary(ca=0.5), Over=pikepdf.Dictionary(op=True))
        resources = pikepdf.Dictionary(Font=pikepdf.Dictionary(F=FONT), ExtGState=states)
        walk.run(drawn, Resources(resources, walk.shared))
    below = gathered.ground
    return gathered.content([]), [below.kinds[one] for one in below.cells.flat], told


@pytest.fixture(autouse=True)
def _runs_however_short(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(path_runs, "LEAST_STREAM_BYTES", 0)
    monkeypatch.setattr(runs, "LEAST_BYTES", 0)


def same_page(drawn: bytes) -> tuple[Content, int]:
    """At once and one by one; but one of many areas may be what surely shows, one by one that is type alone."""
    content, below, told = gathered_of(drawn, at_once=True)
    alone, below_alone, _ = gathered_of(drawn, at_once=False)
    assert below == below_alone
    if alone.plain_ink_percent is None:
        alone = replace(alone, plain_ink_percent=content.plain_ink_percent)
    assert content == alone
    return content, told


@settings(max_examples=60, deadline=None)
@given(st.lists(st.one_of(painted(), painted(), painted(), OTHERS), max_size=40))
def test_at_once_and_one_by_one(those: list[str]) -> None:
    same_page("\n".join(those).encode() + b"\n")


@settings(max_examples=60, deadline=None)
@given(st.lists(st.one_of(painted(), painted(), painted(), OTHERS), max_size=40))
def test_at_once_and_one_by_one_on_a_page_of_more_colors_than_are_kept(those: list[str]) -> None:
    drawn = "\n".join(those).encode() + b"\n"
    with pytest.MonkeyPatch.context() as few:
        few.setattr(ground, "MOST_KINDS", 3)
        few.setattr(plain_colors, "MOST_PLAIN_COLORS", 2)
        same_page(drawn)


def test_tints_are_rounded_as_one_by_one() -> None:
    """By written decimals up to the fifth, halfway between two thousandths among them, and what a subtraction leaves of them."""
    written = [one / 100_000 for one in range(100_001)]
    tints = np.array([*written, *(1 - one for one in written)])
    assert rounded(tints).tolist() == [round(one, 3) for one in tints.tolist()]


def test_a_map_of_small_areas_is_told_at_once() -> None:
    areas = "\n".join(f"0.{at % 7} 0.2 0 0.1 k {5 + at % 50} {5 + at // 50} 1.2 1.2 re f" for at in range(1000))
    drawn = f"{areas}\n{TYPE}\n".encode()
    content, told = same_page(drawn)
    assert told == 1000
    assert [(one.family, one.count, len(one.boxes_mm)) for one in content.colors] == [("cmyk", 1000, 20), ("cmyk", 1, 1)]
    assert isinstance(content.artwork, tuple)
    assert sum(one.count for one in content.artwork) == 1000


def test_black_that_flattening_merged_with_the_color_below_is_none_of_several_inks() -> None:
    """The color below may come from before, or from the small areas themselves."""
    on_field = "0.1 0 0 0 k 5 5 20 20 re f 0.1 0 0 0.9 k 10 10 1.5 1.5 re f"
    on_areas = "\n".join(f"0 0.15 0 0 k {x} 30 1.9 1.9 re f" for x in range(30, 50)) + " 0 0.15 0 0.9 k 35 30.4 1.5 1.2 re f"
    beside = "0 0.15 0 0.9 k 52 30 1.5 1.5 re f"
    drawn = f"{on_field}\n{on_areas}\n{beside}\n".encode()
    content, told = same_page(drawn)
    assert told == 23
    black = [one for one in content.plain_colors if any(tint.ink == "Black" for tint in one.tints)]
    assert [one.count for one in black] == [1]


AREA = "0.5 0.2 0 0.1 k 5 5 1.2 1.2 re f"


@pytest.mark.parametrize(("drawn", "most"), [
    (AREA, 80),
    (f"{AREA} 1 0 0 0 k 9 9 1 1 re f", 100),
    ("0.5 0.2 0 0.1 k 5 5 m 6 5 l 5 6 l h f", 80),
    ("0.05 0 0 0 k 5 5 1.2 1.2 re f", None),
    ("0.5 0.2 0 0.1 k 5 5 m 6 5 6 6 5 6 c f", None),  # how much lies within a curve is not worked out
    ("0.5 0.2 0 0.1 k 5 5 m 6.5 6.5 l 5 5 l h f", None),  # there and back
    (f"{AREA} 0 0 0 0 k 4 4 3 3 re f", None),
    (f"{AREA} 0.02 0 0 0 k 4 4 1.5 1.5 re f", None),
    (f"0.02 0 0 0 k 4 4 1.5 1.5 re f {AREA} 1 0 0 0 k 9 9 1 1 re f", 100),
])  # fmt: skip
def test_one_of_many_areas_is_what_surely_shows(drawn: str, most: float | None) -> None:
    assert same_page(f"{drawn}\n".encode())[0].plain_ink_percent == most
