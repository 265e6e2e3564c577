"""Numbers with their units, as printers write them."""

from __future__ import annotations

from fractions import Fraction

import pytest

from service.sheets.prose.words.amounts import amounts_in


@pytest.mark.parametrize(
    ("text", "kind", "size", "written"),
    [
        ("3 mm", "length", Fraction(3), "3 mm"),
        ("3,5mm", "length", Fraction(7, 2), "3.5 mm"),
        ("0.5 cm", "length", Fraction(5), "0.5 cm"),
        ('1/8"', "length", Fraction(254, 80), "1/8 in"),
        (".125 inch", "length", Fraction(254, 80), "0.125 in"),
        ("8 ½ in", "length", Fraction(2159, 10), "8 1/2 in"),
        ("0,25 pt", "points", Fraction(1, 4), "0.25 pt"),
        ("6 punkt", "points", Fraction(6), "6 pt"),
        ("1,200 dpi", "ppi", Fraction(1200), 1200),
        ("1.200 dpi", "ppi", Fraction(1200), 1200),
        ("300 pixels per inch", "ppi", Fraction(300), 300),
        ("280 prozent", "percent", Fraction(280), "280 %"),
        ("50 mo", "bytes", Fraction(50_000_000), "50 MB"),
        ("1.5 gb", "bytes", Fraction(1_500_000_000), "1.5 GB"),
    ],
)
def test_an_amount_is_exact_and_keeps_its_unit(text: str, kind: str, size: Fraction, written: str | int) -> None:
    (amount,) = amounts_in(text)
    assert (amount.kind, amount.low, amount.low_written) == (kind, size, written)
    assert (amount.start, amount.end) == (0, len(text))


@pytest.mark.parametrize(
    "text", ["250-400 ppi", "250 to 400 dpi", "between 250 and 400 ppi", "250 bis 400 dpi", "de 250 a 400 ppp"]
)
def test_a_range_has_two_ends(text: str) -> None:
    (amount,) = amounts_in(text)
    assert (amount.low, amount.high) == (250, 400)


@pytest.mark.parametrize(
    "text",
    [
        "1,200 mm",
        "250/300 dpi",
        "± 1 mm",
        "+/- 1 mm",
        "300 in CMYK",
        "3/5 mm",
        "175 lpi",
        "120 gsm",
        "1050 px",
        "400-250 ppi",
    ],
)
def test_what_could_be_read_two_ways_is_no_amount(text: str) -> None:
    assert amounts_in(text) == []


def test_and_makes_a_range_only_after_between() -> None:
    assert [amount.low for amount in amounts_in("bleed 3 mm and 5 mm margin")] == [3, 5]


def test_a_bare_number_takes_the_unit_in_brackets() -> None:
    assert [amount.low_written for amount in amounts_in("bleed (mm): 3")] == ["3 mm"]
    assert [amount.low_written for amount in amounts_in("300", label="resolution (dpi)")] == [300]
    assert amounts_in("300") == []
