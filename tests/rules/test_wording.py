"""Numbers, lists and quotations as a designer reads them."""

from __future__ import annotations

import pytest

from service.rules.wording import counted, first_few, listed, number, page_list, quoted, size


@pytest.mark.parametrize(
    ("value", "digits", "text"), [(3.0, 1, "3"), (1.2, 1, "1.2"), (300, 0, "300"), (0, 1, "0"), (53.98, 2, "53.98")]
)
def test_numbers(value: float, digits: int, text: str) -> None:
    assert number(value, digits) == text


def test_a_size_has_a_cross_and_one_unit() -> None:
    assert size(85, 55.5) == "85 × 55.5 mm"


@pytest.mark.parametrize(
    ("numbers", "text"), [((1,), "1"), ((1, 2, 3, 7), "1–3 and 7"), ((3, 1, 3), "1 and 3"), ((1, 3, 5, 6), "1, 3 and 5–6")]
)
def test_page_lists(numbers: tuple[int, ...], text: str) -> None:
    assert page_list(numbers) == text


def test_lists_and_counts() -> None:
    assert listed(["4", "8", "12"], "or") == "4, 8 or 12"
    assert listed([]) == ""
    assert counted(1, "page") == "1 page"
    assert counted(2, "filled shape", "filled shapes") == "2 filled shapes"
    assert first_few(list("abcdefg"), 5) == "a, b, c, d, e and 2 more"


def test_words_from_the_file_are_tamed() -> None:
    assert quoted("a\x00b\n c") == "‘a b c’"
    assert len(quoted("x" * 1000)) == 62
