"""Content streams cut into operators, byte by byte (ISO 32000-2:2020, 7.2, 7.3 and 7.8.2)."""

from __future__ import annotations

import re
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.pdf.reading.lexer import (
    DEVICE_COLORS,
    INLINE_IMAGE,
    PATHS_AND_COLORS,
    PATHS_AND_PLACES,
    RUN,
    SEGMENTS,
    Name,
    located_operations,
    numbers,
    operations,
)


def cut(data: bytes) -> list[tuple[bytes, Any]]:
    return [(operator, numbers(operands) if isinstance(operands, bytes) else operands) for operator, operands in operations(data)]


def test_numbers_before_an_operator_are_its_operands() -> None:
    assert cut(b"1 0 0 -1.5 +.5 4. cm q") == [(b"cm", [1, 0, 0, -1.5, 0.5, 4]), (b"q", [])]


def test_operators_need_no_blank_before_a_delimiter() -> None:
    assert cut(b"/Im0 Do/F1 8 Tf(a)Tj[(b)]TJ<41>Tj") == [
        (b"Do", [b"Im0"]), (b"Tf", [b"F1", 8]), (b"Tj", [b"a"]), (b"TJ", [[b"b"]]), (b"Tj", [b"A"]),
    ]


@pytest.mark.parametrize(
    ("written", "meant"),
    [
        (rb"(a(b)c)", b"a(b)c"),
        (rb"(\(\)\\)", rb"()\\"[:3]),
        (rb"(\101\7x)", b"A\x07x"),
        (b"(a\\\nb)", b"ab"),
        (b"(a\r\nb)", b"a\nb"),
        (rb"(\n\r\t\b\f\q)", b"\n\r\t\b\fq"),
        (b"<48 65 6>", b"He`"),
        (b"()", b""),
    ],
)
def test_strings_are_read_as_the_standard_writes_them(written: bytes, meant: bytes) -> None:
    """Examples after ISO 32000-2:2020, 7.3.4."""
    assert cut(written + b" Tj") == [(b"Tj", [meant])]


def test_a_name_may_hold_any_character_by_its_number() -> None:
    assert cut(b"/A#20B#2f cs") == [(b"cs", [Name(b"A B/")])]


def test_dictionaries_keep_their_values() -> None:
    assert cut(b"/Span <</Lang (de) /N [1 2] /D <</T true /Z null>>>> BDC") == [
        (b"BDC", [b"Span", {b"Lang": b"de", b"N": [1, 2], b"D": {b"T": True, b"Z": None}}])
    ]


def test_a_comment_ends_with_its_line() -> None:
    assert cut(b"1 w % 2 w\n3 w") == [(b"w", [1]), (b"w", [3])]


def test_segments_after_a_start_come_in_one_piece() -> None:
    assert list(operations(b"0 0 m 1 1 l 1 2 3 4 5 6 c h S")) == [
        (b"m", b"0 0 "), (SEGMENTS, b"1 1 l 1 2 3 4 5 6 c h "), (b"S", b""),
    ]


def test_an_inline_image_ends_at_its_own_ei_even_if_its_pixels_spell_one() -> None:
    """ISO 32000-2:2020, 8.9.7."""
    pixels = b"\x00 EI q\x01\x02"
    operator, operands = cut(b"BI /W 8 /H 1 /BPC 8 /CS /G ID " + pixels + b" EI Q")[0]
    assert operator == INLINE_IMAGE
    assert operands == [{b"W": 8.0, b"H": 1.0, b"BPC": 8.0, b"CS": b"G"}, pixels]
    assert cut(b"BI /W 8 /H 1 /BPC 8 /CS /G ID " + pixels + b" EI Q")[1:] == [(b"Q", [])]


def test_a_malformed_number_is_read_as_far_as_it_goes() -> None:
    assert numbers(b"--5 1.2.3 7-3 . ") == [-5, 1.2, 7, 0]


@given(st.binary(max_size=300))
def test_no_bytes_make_the_lexer_fail_or_hang(data: bytes) -> None:
    assert len(list(operations(data))) <= len(data)


@given(st.lists(st.integers(-10_000, 10_000), min_size=1, max_size=6))
def test_every_number_comes_back(values: list[int]) -> None:
    data = b" ".join(b"%d" % value for value in values) + b" scn"
    assert cut(data) == [(b"scn", values)]


def test_nesting_without_end_stops() -> None:
    assert list(operations(b"[" * 10_000 + b"1 w")) is not None
    assert cut(b"(" * 5_000) == []


@pytest.mark.parametrize("blank", [b" ", b"\n", b"\r\n", b"  \t "])
def test_runs_of_paths_and_colours_hold_every_colour(blank: bytes) -> None:
    """Whatever stands between the tokens, and whatever comes first."""
    words = b"0 0 0 1 k 1 w 1 2 m 3 4 l 5 6 l f 0.5 g 0 G 1 0 0 rg 9 9 5 5 re B* 0 1 0 0 K S W n ".split()
    run = blank.join(words) + blank
    matched = PATHS_AND_COLORS.match(run)
    assert matched
    assert matched.end() == len(run)
    found = [(one[3].split(), one[4]) for one in DEVICE_COLORS.finditer(run)]
    assert found == [
        ([b"0", b"0", b"0", b"1"], b"k"), ([b"0.5"], b"g"), ([b"0"], b"G"), ([b"1", b"0", b"0"], b"rg"),
        ([b"0", b"1", b"0", b"0"], b"K"),
    ]


@pytest.mark.parametrize("pattern", [PATHS_AND_PLACES, PATHS_AND_COLORS], ids=["places", "colours"])
def test_a_run_ends_before_the_operands_of_what_does_not_belong_to_it(pattern: re.Pattern[bytes]) -> None:
    """Python before 3.11.5 took the numbers of `cm` away, where a group was repeated as in `(?:…)*+`."""
    def skip(data: bytes, position: int) -> int | None:
        matched = pattern.match(data, position)
        return matched.end() if matched else None

    found = list(located_operations(b"1 w 1 2 m 99 0 0 85 28 14 cm 3 4 l ", skip))
    assert [(operator, operands) for operator, operands, _, _ in found] == [
        (RUN, b"1 w 1 2 m "), (b"cm", b"99 0 0 85 28 14 "), (RUN, b" 3 4 l "),
    ]
