"""Black and its ground, confirmed on the plates of the other inks."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from pikepdf import Dictionary

from service.pdf.facts.painted.colors import OverprintUse
from tests.build import PageBuilder, page
from tests.pdf.gather.content_of import content_of

BLACK = {"cyan": 0, "magenta": 0, "yellow": 0, "black": 1}
OVER = Dictionary(op=True, OP=True, OPM=1)


def uses(made: PageBuilder, folder: Path) -> tuple[OverprintUse, ...]:
    return content_of(made, folder).overprints


def a_disc(made: PageBuilder) -> PageBuilder:
    """Cyan, 40 mm across, its bounds from (20, 5) to (60, 45); its corners are paper."""
    k = 20 * 0.5523
    x, y, r = 43.0, 33.0, 20.0  # from the sheet's corner, upwards
    path = f"{x - r} {y} m {x - r} {y + k} {x - k} {y + r} {x} {y + r} c {x + k} {y + r} {x + r} {y + k} {x + r} {y} c "
    path += f"{x + r} {y - k} {x + k} {y - r} {x} {y - r} c {x - k} {y - r} {x - r} {y - k} {x - r} {y} c f"
    return made.raw(b"q 2.834646 0 0 2.834646 0 0 cm 1 0 0 0 k " + path.encode() + b" Q")


@pytest.mark.parametrize(("at", "count"), [((36, 25), 1), ((20.5, 8), 0)])
def test_type_in_the_corner_of_a_discs_bounds_stands_on_paper(at: tuple[float, float], count: int, tmp_path: Path) -> None:
    made = a_disc(page(85, 55)).text("rye", 6, at, **BLACK)
    assert sum(one.count for one in uses(made, tmp_path)) == count


def test_of_several_words_those_on_paper_are_left_out(tmp_path: Path) -> None:
    made = a_disc(page(85, 55)).text("rye", 6, (36, 25), **BLACK).text("oat", 6, (20.5, 8), **BLACK)
    (found,) = uses(made, tmp_path)
    assert (found.count, len(found.boxes_mm)) == (1, 1)


def test_blanks_leave_no_hole(tmp_path: Path) -> None:
    assert uses(page(85, 55).fill(cyan=1).text("   ", 8, (10, 20), **BLACK), tmp_path) == ()


@pytest.mark.parametrize(
    ("second", "even"),
    [({"cyan": 0.44}, True), ({"cyan": 0.6}, False), ({"cyan": 0.4, "magenta": 0.3}, False), ({"cyan": 0.4, "black": 0.9}, True)],
)
def test_large_black_over_what_the_plates_show_to_be_even(second: dict[str, Any], even: bool, tmp_path: Path) -> None:
    """Two areas side by side below: by objects the ground changes, by the plates of the other inks hardly or not at all."""
    made = page(85, 55).fill(cyan=0.4).fill((40, -3, 88, 58), **second)
    made.resource("ExtGState", "Over", OVER).raw(b"/Over gs").fill((10, 10, 70, 45), black=1)
    (found,) = [one for one in uses(made, tmp_path) if one.case == "black overprints"]
    assert (found.tints_below == ()) is even
