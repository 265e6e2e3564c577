"""ASCII85 undone for many groups at once, held to the parser, which takes it letter by letter, and to Python's own."""

from __future__ import annotations

import base64
import random

import pytest
from hypothesis import given
from hypothesis import strategies as some
from pikepdf import PdfError

from service.pdf.reading.ascii85 import whole_groups
from service.pdf.reading.parser_filters import _undone, undone_by_parser

CHANCE = random.Random(7)
PIECES = (b"!", b"u", b"s8W-!", b's8W-"', b"uuuuu", b"z", b" ", b"\v", b"5", b"~", b">", b"<~", b"v")


def by_parser_alone(text: bytes) -> bytes | None:
    try:
        return _undone(text, "ASCII85Decode", {})
    except PdfError:
        return None


def undone(text: bytes) -> bytes | None:
    try:
        return undone_by_parser(text, "ASCII85Decode", {})
    except PdfError:
        return None


@pytest.mark.parametrize("length", [0, 1, 2, 3, 4, 5, 8, 1000, 100_001])
@pytest.mark.parametrize("wrap", [0, 72])
def test_what_others_write_is_read(length: int, wrap: int) -> None:
    data = CHANCE.randbytes(length // 2) + bytes(length - length // 2)
    assert undone(base64.a85encode(data, wrapcol=wrap) + b"~>\n") == data


@pytest.mark.parametrize("text", [b"!z~>", b"zz!!z!!!~>", b"87cUR~", b"87cUR", b"87cUR~ >", b"87c\0UR~>", b"87cURv~>", b"\xff~>"])
def test_what_is_not_as_it_should_be_is_for_the_parser_to_judge(text: bytes) -> None:
    assert whole_groups(text) is None
    assert undone(text) == by_parser_alone(text)


def test_letters_of_whole_groups_do_not_go_to_the_parser() -> None:
    assert whole_groups(b"87cU\nRz87~>") == (b"Hell\0\0\0\0", b"87~>")
    assert whole_groups(b"87cUR~>") == (b"Hell", b"")


@given(some.lists(some.sampled_from(PIECES)))
def test_any_text_is_what_it_is_to_the_parser(pieces: list[bytes]) -> None:
    text = b"".join(pieces)
    assert undone(text + b"~>") == by_parser_alone(text + b"~>")
    assert undone(text) == by_parser_alone(text)
