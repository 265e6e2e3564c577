"""The second reader only counts pages."""

from __future__ import annotations

from pathlib import Path

from service.pdf.facts.unknown import Unmeasured
from service.pdf.reading.second_witness import pages_by_pdfium
from tests.build import document, page
from tests.pdf.by_hand import pages, saved


def test_it_counts_the_pages(tmp_path: Path) -> None:
    assert pages_by_pdfium(document(page(85, 55), page(85, 55), page(85, 55)).save(tmp_path / "three.pdf")) == 3


def test_a_file_that_it_cannot_open_is_unmeasured(tmp_path: Path) -> None:
    assert isinstance(pages_by_pdfium(saved(b"no PDF at all", tmp_path)), Unmeasured)
    assert isinstance(pages_by_pdfium(tmp_path / "absent.pdf"), Unmeasured)


def test_a_restricted_file_is_counted_and_a_locked_one_is_not(tmp_path: Path) -> None:
    assert pages_by_pdfium(document(page(85, 55)).encrypted(user="").save(tmp_path / "restricted.pdf")) == 1
    assert isinstance(pages_by_pdfium(document(page(85, 55)).encrypted(user="secret").save(tmp_path / "locked.pdf")), Unmeasured)


def test_a_page_of_hostile_size_is_counted(tmp_path: Path) -> None:
    assert pages_by_pdfium(saved(pages("/MediaBox[0 0 595 2147483647]/UserUnit 30000"), tmp_path)) == 1
