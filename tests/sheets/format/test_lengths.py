"""Units against their definitions: 1 in = 25.4 mm (international inch, 1959), 1 pt = 1/72 in (ISO 32000-2:2020, 8.3.2.3)."""

from __future__ import annotations

import contextlib
from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.sheets.format.lengths import (
    NotAQuantity,
    bytes_text,
    parse_area_mm2,
    parse_bytes,
    parse_length_mm,
    parse_percent,
    parse_ppi,
    parse_type_pt,
    plain_decimal,
)


@pytest.mark.parametrize(
    ("written", "millimetres"),
    [
        ("3 mm", 3.0),
        ("3mm", 3.0),
        (" 3.5 MM ", 3.5),
        (".5 mm", 0.5),
        ("8.5 cm", 85.0),
        ("1.2 m", 1200.0),
        ("0.125 in", 3.175),
        ("1/8 in", 3.175),
        ("3 1/2 in", 88.9),
        ("3.5 inches", 88.9),
        ('2"', 50.8),
        ("9 pt", 3.175),
        ("72 points", 25.4),
        (3, 3.0),
        (0.25, 0.25),
        (0, 0.0),
    ],
)
def test_a_length_is_read_in_millimetres(written: object, millimetres: float) -> None:
    assert parse_length_mm(written) == millimetres


@pytest.mark.parametrize(
    "written",
    [
        *(
            "3",
            "mm",
            "",
            "3 furlongs",
            "3 px",
            "3 p",
            "1,5 mm",
            "1.000,5 mm",
            "3 mm 4",
            "3-4 mm",
            "1/0 in",
            "1/2/3 in",
            "1e3 mm",
            "٣ mm",
        ),
        *(True, None, [3], {"mm": 3}, float("nan"), float("inf"), 10**400, "-3 mm", -3, -0.001, "101 m", "9" * 100 + " mm"),
    ],
)
def test_what_is_no_clear_length_is_refused(written: object) -> None:
    with pytest.raises(NotAQuantity):
        parse_length_mm(written)


def test_a_negative_length_says_that_it_is_negative() -> None:
    with pytest.raises(NotAQuantity, match="must not be negative"):
        parse_length_mm("-3 mm")


def test_a_number_in_quotes_says_that_it_needs_its_unit() -> None:
    with pytest.raises(NotAQuantity, match="needs its unit"):
        parse_length_mm("3")


@pytest.mark.parametrize(("written", "points"), [("5 pt", 5.0), (5, 5.0), ("0.25pt", 0.25), ("25.4 mm", 72.0), ("1 in", 72.0)])
def test_type_and_lines_are_read_in_points(written: object, points: float) -> None:
    assert parse_type_pt(written) == points


def test_a_percentage_a_resolution_and_an_area_have_their_own_units() -> None:
    assert parse_percent("300 %") == parse_percent("300%") == parse_percent(300) == 300
    assert parse_ppi("300 ppi") == parse_ppi("300 dpi") == parse_ppi(300) == 300
    assert parse_area_mm2("15 mm²") == parse_area_mm2("15 mm2") == parse_area_mm2(15) == 15
    for parse, written in ((parse_percent, "300 mm"), (parse_ppi, "300 %"), (parse_area_mm2, "15 mm")):
        with pytest.raises(NotAQuantity, match="unit"):
            parse(written)


@pytest.mark.parametrize(
    ("written", "size"),
    [
        ("100 MB", 10**8),
        ("1 MiB", 2**20),
        ("1.5 kB", 1500),
        ("1 KB", 1000),
        ("2 GB", 2 * 10**9),
        ("1 GiB", 2**30),
        (500, 500),
        ("7 bytes", 7),
    ],
)
def test_sizes_of_files_are_decimal_unless_they_say_binary(written: object, size: int) -> None:
    """IEC 80000-13: the prefixes kilo and mega are powers of ten, kibi and mebi powers of two."""
    assert parse_bytes(written) == size


@pytest.mark.parametrize("written", [0, "0 MB", "0.0001 kB", "100", "100 Mbit", "100 mm"])
def test_what_is_no_size_of_a_file_is_refused(written: object) -> None:
    with pytest.raises(NotAQuantity):
        parse_bytes(written)


@given(st.just(0.0) | st.floats(min_value=0.0001, max_value=100_000, allow_nan=False))
def test_every_length_is_read_back_to_the_last_digit(millimetres: float) -> None:
    assert (
        parse_length_mm(f"{plain_decimal(millimetres)} mm" if len(plain_decimal(millimetres)) < 50 else millimetres)
        == millimetres
    )


@given(st.integers(min_value=1, max_value=10**12))
def test_every_size_of_a_file_is_read_back(size: int) -> None:
    assert parse_bytes(bytes_text(size)) == size


@given(st.text(max_size=80))
def test_any_text_is_a_length_or_refused(text: str) -> None:
    with contextlib.suppress(NotAQuantity):
        assert 0 <= parse_length_mm(text) <= 100_000


@pytest.mark.parametrize("value", [1e-300, 5e-324, 0.00009, "0.00001 mm", "1/99999999 in"])
@pytest.mark.parametrize("parse", [parse_length_mm, parse_type_pt])
def test_what_is_smaller_than_any_ink_is_refused(parse: Callable[[object], float], value: object) -> None:
    """By such a width nothing can be divided that is then a number."""
    with pytest.raises(NotAQuantity, match="smaller"):
        parse(value)
