"""Which edge of a bound page is which."""

from __future__ import annotations

import pytest

from service.product.edges import edge_on


@pytest.mark.parametrize(
    ("side", "number", "edge"),
    [
        ("left", 1, "binding"), ("right", 1, "outer"), ("left", 2, "outer"), ("right", 2, "binding"),
        ("top", 1, "head"), ("bottom", 2, "foot"),
    ],
)
def test_page_1_is_a_right_hand_page(side: str, number: int, edge: str) -> None:
    assert edge_on(side, number) == edge


@pytest.mark.parametrize("side", ["left", "right"])
def test_a_double_page_is_bound_in_its_middle(side: str) -> None:
    assert edge_on(side, 3, double=True) == "outer"
