"""Whether a file begins as a PDF does."""

from __future__ import annotations

import pytest

from service.pdf.header import starts_as_pdf


@pytest.mark.parametrize(
    ("first", "is_pdf"), [(b"%PDF-1.7", True), (b"\n" * 1019 + b"%PDF-", True), (b"\n" * 1020 + b"%PDF-", False)]
)
def test_a_pdf_starts_within_the_first_1024_bytes(first: bytes, is_pdf: bool) -> None:
    assert starts_as_pdf(first + b"1.7 and more") is is_pdf
