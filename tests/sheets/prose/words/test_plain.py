"""The closed vocabulary of plain demands."""

from __future__ import annotations

import pytest

from service.sheets.prose.words.plain import strange_words


@pytest.mark.parametrize(
    ("text", "path"),
    [
        ("please add at least 3 mm bleed on all sides", "bleed.minimum"),
        ("alle farben bitte in cmyk anlegen", "color.allowed"),
        ("les polices doivent etre vectorisees", "fonts.outlines"),
        ("safety margin at the binding edge", "margin.binding"),
    ],
)
def test_a_plain_demand_has_no_strange_word(text: str, path: str) -> None:
    assert strange_words(text, path) == []


def test_a_word_that_may_narrow_a_demand_is_strange() -> None:
    assert strange_words("embossing requires lines of 1 pt", "lines.minimum_width") == ["embossing"]


def test_the_edge_of_one_key_is_strange_to_another() -> None:
    assert strange_words("margin at the spine", "margin.minimum") == ["spine"]
    assert strange_words("margin at the spine", "margin.binding") == []
