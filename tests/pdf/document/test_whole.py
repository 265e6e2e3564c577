"""Facts of the file as a whole."""

from __future__ import annotations

from pathlib import Path

import pikepdf
import pytest

from service.pdf.document.whole import LONGEST_TEXT, measure_document, text_string, version_of
from service.pdf.facts.document import Document, Encryption
from service.pdf.facts.unknown import NOT_LOOKED_AT, Unmeasured
from service.pdf.measure import measure
from service.pdf.reading.opening import OpenedPdf, opened
from tests.build import document, page
from tests.facts import fact
from tests.pdf.by_hand import A_PAGE, CATALOG, ONE_PAGE, pages, saved, written


def measured(data: bytes, folder: Path) -> Document:
    with opened(saved(data, folder)) as pdf:
        assert isinstance(pdf, OpenedPdf)
        return measure_document(pdf)


def test_a_right_file(tmp_path: Path) -> None:
    data = document(page(85, 55), page(85, 55)).info(Title="Loyalty card", Creator="Layout 5", Producer="Writer 2").bytes()
    found = measured(data, tmp_path)
    later = ("identification", "output_intents", "profiles", "layers", "features", "active_content", "linearization")
    assert found == fact(
        Document,
        **dict.fromkeys(later, NOT_LOOKED_AT),
        size_bytes=len(data),
        failure=None,
        page_count=2,
        version="1.6",
        encryption=Encryption(encrypted=False, printing_allowed=True),
        damage=(),
        title="Loyalty card",
        creator="Layout 5",
        producer="Writer 2",
    )


# --- Version ---


@pytest.mark.parametrize(
    ("first", "catalog", "version"),
    [
        (b"%PDF-1.4\n", None, "1.4"),
        (b"%PDF-1.4\n", "1.7", "1.7"),
        (b"%PDF-1.7\n", "1.4", "1.7"),
        (b"%PDF-1.7\n", "2.0", "2.0"),
        (b"%PDF-1.3\r%\xe2\xe3\xcf\xd3", None, "1.3"),
        (b"%PDF-1.4%comment", None, "1.4"),
        (b"x" * 1000 + b"%PDF-1.4\n", None, "1.4"),
        (b"%PDF-banana\n", "1.6", "1.6"),
        (b"%PDF-1.4\n%PDF-1.7\n", None, "1.4"),
    ],
)
def test_the_later_of_header_and_catalog_is_the_version(first: bytes, catalog: str | None, version: str) -> None:
    assert version_of(first, catalog) == version


@pytest.mark.parametrize("first", [b"", b"%PDF-", b"%PDF-1.10\n", b"%PDF-3.1\n", b"%PDF-one\n", b"x" * 1020 + b"%PDF-1.4\n"])
def test_a_version_that_was_never_published_is_unknown(first: bytes) -> None:
    assert isinstance(version_of(first, None), Unmeasured)


@pytest.mark.parametrize("value", ["/9.9", "(1.7)", "1.7", "/#ff#fe", "[/1.7]"])
def test_a_version_in_the_catalog_that_is_none_is_unknown(value: str, tmp_path: Path) -> None:
    data = written(CATALOG.replace("/Pages", f"/Version {value}/Pages"), ONE_PAGE, f"<</Type/Page/Resources<<>>{A_PAGE}>>")
    assert isinstance(measured(data, tmp_path).version, Unmeasured)


def test_a_version_in_the_catalog_counts(tmp_path: Path) -> None:
    data = written(CATALOG.replace("/Pages", "/Version/1.7/Pages"), ONE_PAGE, f"<</Type/Page/Resources<<>>{A_PAGE}>>")
    assert measured(data, tmp_path).version == "1.7"


# --- Encryption ---


@pytest.mark.parametrize("printing", [True, False])
def test_permissions_of_a_restricted_file(printing: bool, tmp_path: Path) -> None:
    data = document(page(85, 55)).encrypted(user="", printing=printing).bytes()
    assert measured(data, tmp_path).encryption == Encryption(encrypted=True, printing_allowed=printing)


def test_printing_at_low_quality_only_is_no_permission_to_print(tmp_path: Path) -> None:
    path = tmp_path / "low.pdf"
    with pikepdf.new() as pdf:
        pdf.add_blank_page()
        low = pikepdf.Permissions(print_lowres=True, print_highres=False)
        pdf.save(path, encryption=pikepdf.Encryption(owner="owner", user="", allow=low))
    assert measured(path.read_bytes(), tmp_path).encryption == Encryption(encrypted=True, printing_allowed=False)


# --- Page count ---


def test_readers_that_count_differently_leave_the_count_unknown(tmp_path: Path) -> None:
    count = measured(pages(A_PAGE, count=3), tmp_path).page_count
    assert isinstance(count, Unmeasured)
    assert count.why == "pikepdf and PDFium disagree: 1 and 3 pages."


def test_lost_pages_leave_the_count_unknown(tmp_path: Path) -> None:
    assert isinstance(measured(pages(A_PAGE, kids="3 0 R 9 0 R", count=2), tmp_path).page_count, Unmeasured)


def test_a_second_reader_that_fails_leaves_the_first_count_and_is_told(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setattr("service.pdf.document.whole.pages_by_pdfium", lambda _: Unmeasured("PDFium cannot open it."))
    found = measured(pages(A_PAGE), tmp_path)
    assert found.page_count == 1
    assert [one.english for one in found.damage] == ["PDFium cannot open it."]


# --- What it says of its maker ---


@pytest.mark.parametrize(
    ("raw", "text"),
    [
        (b"Menu", "Menu"),
        (b"", None),
        (b" \r\n\x00 ", None),
        (b"Caf\xe9 \x84 \xa0", "Café — €"),  # ISO 32000-2:2020, Annex D.2: 84 is the em dash, A0 the euro sign
        ("Bäckerei 🥐".encode("utf-16"), "Bäckerei 🥐"),
        (b"\xfe\xff" + "Bäckerei".encode("utf-16-be"), "Bäckerei"),
        (b"\xef\xbb\xbf" + "Bäckerei".encode(), "Bäckerei"),
        (b"\xfe\xff\xd8\x00\x00A", "\ufffdA"),
        (b"\xef\xbb\xbf\xff\xfeA", "\ufffd\ufffdA"),
        (b"\xfe\xff" + "card\u202efdp.exe".encode("utf-16-be"), "card fdp.exe"),
        (b"one\ttwo\r\nthree", "one two three"),
    ],
)
def test_texts_in_their_encodings(raw: bytes, text: str | None) -> None:
    assert text_string(raw) == text


def test_a_long_text_is_cut() -> None:
    assert text_string(b"x" * 100_000) == "x" * LONGEST_TEXT


@pytest.mark.parametrize("info", ["/Info null", "/Info 7", "/Info<</Title/Name/Creator 5/Producer[(a)]>>"])
def test_an_info_dictionary_of_another_kind_says_nothing(info: str, tmp_path: Path) -> None:
    data = written(CATALOG, ONE_PAGE, f"<</Type/Page/Resources<<>>{A_PAGE}>>", trailer=f"/Root 1 0 R{info}")
    found = measured(data, tmp_path)
    assert (found.title, found.creator, found.producer) == (None, None, None)


def test_a_file_cut_off_in_its_last_bytes_says_so(tmp_path: Path) -> None:
    whole = document(page(85, 55).fill(cyan=1))
    assert not measure(whole.save(tmp_path / "whole.pdf")).document.cut_off
    assert measure(whole.truncated(0.9).save(tmp_path / "cut.pdf")).document.cut_off
