"""Colours that are nearly nothing, nearly solid, or a black of several inks."""

from __future__ import annotations

from pathlib import Path

from service.pdf.facts.painted.colors import PlainColor
from tests.build import page
from tests.pdf.gather.content_of import content_of


def told(found: tuple[PlainColor, ...]) -> list[tuple[str, dict[str, float], int]]:
    return [(one.kind, {tint.ink: tint.strength for tint in one.tints}, one.count) for one in found]


def test_only_colours_that_a_press_may_lose_are_listed(tmp_path: Path) -> None:
    built = page(85, 55, bleed=3)
    for at, color in enumerate(({"cyan": 0.034}, {"cyan": 0.5}, {"cyan": 1.0}, {"black": 0.972}, {"cyan": 0.6, "black": 1.0})):
        built.fill(at=(5 + 10 * at, 5, 12 + 10 * at, 12), **color)
    built.fill(at=(5, 30, 12, 36), cyan=0.034)
    assert told(content_of(built, tmp_path).plain_colors) == [
        ("fill", {"Cyan": 0.03}, 2), ("fill", {"Black": 0.97}, 1), ("fill", {"Cyan": 0.6, "Black": 1.0}, 1),
    ]


def test_gray_text_and_lines_count_as_black_ink(tmp_path: Path) -> None:
    built = page(85, 55, bleed=3).raw(b"q 0.96 G 2 w 20 20 m 90 20 l S Q").text("Open", size=8, at=(12, 45), black=0.04)
    found = told(content_of(built, tmp_path).plain_colors)
    assert found == [("stroke", {"Black": 0.04}, 1), ("text", {"Black": 0.04}, 1)]


def test_white_rgb_and_what_shows_something_through_are_left_out(tmp_path: Path) -> None:
    built = page(85, 55, bleed=3).raw(b"q 0 0 0 0 k 9 9 50 50 re f 0.98 0.98 0.98 rg 9 9 50 50 re f Q")
    assert told(content_of(built, tmp_path).plain_colors) == []


def test_black_that_flattening_merged_with_its_ground_is_no_rich_black(tmp_path: Path) -> None:
    built = page(85, 55, bleed=3).fill(cyan=0.5, magenta=0.4).text("Open", size=8, at=(12, 45), cyan=0.5, magenta=0.4, black=1)
    assert told(content_of(built, tmp_path).plain_colors) == []
