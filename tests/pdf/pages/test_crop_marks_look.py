"""On which pages crop marks are looked for at all: none where nothing of the content can draw a line."""

from __future__ import annotations

import pytest

from service.pdf.pages.crop_marks import _MAY_DRAW
from service.pdf.reading.lexer import operations

DRAWS = {b"S", b"s", b"f", b"F", b"f*", b"B", b"B*", b"b", b"b*", b"Do"}


@pytest.mark.parametrize("content", [
    b"0 0 m 9 0 l S", b"0 0 m 9 0 l\nS\n", b"0 0 9 1 re\x00f\x00Q", b"0 0 9 1 re 5f",
    b"(Open) Tj ET/Marks Do/Gs gs", b"[]0 d s<</A 1>>", b"B*", b"q b*%done\nQ", b"0 0 9 1 re F", b"/Marks Do",
])  # fmt: skip
def test_content_that_draws_is_looked_at(content: bytes) -> None:
    assert any(operator in DRAWS for operator, _ in operations(content))
    assert _MAY_DRAW.search(content)


@pytest.mark.parametrize("content", [
    b"", b"BT /F 9 Tf 1 0 0 1 5 5 Tm (Soft bread, Fresh) Tj ET", b"q 0 0 9 9 re W n /Gs gs Q", b"/S gs /Do gs",
])  # fmt: skip
def test_content_that_draws_no_line_is_not(content: bytes) -> None:
    assert not any(operator in DRAWS for operator, _ in operations(content))
    assert not _MAY_DRAW.search(content)
