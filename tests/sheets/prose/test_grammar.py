"""The grammar, rule by rule: one sentence of the trade, the values that it states, and the traps beside it."""

from __future__ import annotations

from typing import Any

import pytest

from tests.sheets.prose.grammar import read_prose


def draft(text: str) -> Any:
    return read_prose(text).draft


@pytest.mark.parametrize(
    ("text", "bleed"),
    [
        ("bleed: 3 mm each side", {"minimum": "3 mm"}),
        ("3mm bleed on all sides", {"minimum": "3 mm"}),
        ('Add 1/8" bleed', {"minimum": "1/8 in"}),
        ("Bleed 0.125 in (3 mm)", {"minimum": "0.125 in"}),
        ("Anschnitt: 3,5 mm", {"minimum": "3.5 mm"}),
        ("fonds perdus de 2 mm", {"minimum": "2 mm"}),
        ("Let backgrounds run 3 mm past the trim edge.", {"minimum": "3 mm"}),
        ("Bleed min. 3 mm, max. 5 mm", {"minimum": "3 mm", "maximum": "5 mm"}),
        ("Bleed: 3–5 mm", {"minimum": "3 mm"}),
        ("Bleed between 3 and 5 mm", {"minimum": "3 mm", "maximum": "5 mm"}),
        ("A recommended bleed of 3 mm", {"minimum": "3 mm", "level": "should"}),
        ("A bleed of 1 mm is not enough; we need 3 mm.", {"minimum": "3 mm"}),
    ],
)
def test_bleed(text: str, bleed: dict[str, str]) -> None:
    assert draft(text)["bleed"] == bleed


@pytest.mark.parametrize(
    "text",
    [
        "Cutting tolerance ± 1 mm",
        "No bleed is needed, leave 5 mm clear",
        "Bleed: 1,200 mm",
        "Bleed and safety margin: 3 mm",
        "The bleed edge is 3 pages wide",
    ],
)
def test_a_number_that_is_no_bleed_gives_none(text: str) -> None:
    assert "bleed" not in draft(text)


@pytest.mark.parametrize(
    ("text", "width", "height"),
    [
        ("Trim size: 85 × 55 mm", "85 mm", "55 mm"),
        ("85 mm by 55 mm finished", "85 mm", "55 mm"),
        ("Finished size W 85 H 55 mm", "85 mm", "55 mm"),
        ("Format: H 210 mm, B 148 mm", "148 mm", "210 mm"),
        ("210 mm wide and 148 mm high, trimmed", "210 mm", "148 mm"),
        ('Trim: 3.5" x 2"', "3.5 in", "2 in"),
        ("Final size 8 ½ × 11", "8 1/2 in", "11 in"),
        ("Endformat 21 x 29,7 cm", "21 cm", "29.7 cm"),
        ("Trimmed size A5 landscape", "210 mm", "148 mm"),
        ("US Letter, trimmed", "8.5 in", "11 in"),
        ("91 × 61 mm including 3 mm bleed", "85 mm", "55 mm"),
        ("Datenformat 88 × 58 mm, Beschnitt 1,5 mm", "85 mm", "55 mm"),
        ("Document 91 × 61 mm with 3 mm bleed", "85 mm", "55 mm"),
        ("Trim 85 × 55 mm (91 × 61 mm with bleed)", "85 mm", "55 mm"),
        ("Leaflet: open 297 × 210 mm, folded 99 × 210 mm", "297 mm", "210 mm"),
        ("Booklet: open 297 × 210 mm, closed 148 × 210 mm", "148 mm", "210 mm"),
        ("Width (mm): 210\nHeight (mm): 148", "210 mm", "148 mm"),
    ],
)
def test_trim(text: str, width: str, height: str) -> None:
    trim = draft(text)["trim"]
    assert (trim["width"], trim["height"]) == (width, height)


@pytest.mark.parametrize(
    "text",
    [
        "Cards come as 85 × 55 mm or 90 × 50 mm.",
        "Our boxes measure 300 × 200 × 150 mm.",
        "The picture should be 1050 × 600 px.",
        "The press sheet is 720 × 1020 mm.",
        "Datenformat 91 × 61 mm",
        "For example, 148 × 210 mm becomes 154 × 216 mm.",
    ],
)
def test_a_size_that_is_not_surely_the_trim_gives_none(text: str) -> None:
    assert "trim" not in draft(text)


def test_sizes_with_and_without_bleed_give_the_bleed() -> None:
    read = draft("Trim size 100 × 70 mm\nSize with bleed 104 × 74 mm\nSafe area 94 × 64 mm")
    assert read["bleed"] == {"minimum": "2 mm"}
    assert read["margin"] == {"minimum": "3 mm"}


@pytest.mark.parametrize(
    "text",
    [
        "Keep text 5 mm from the edge.",
        "No text within 5 mm of the trim",
        "Quiet zone 5 mm",
        "Safety margin: 5 mm",
        "Sicherheitsabstand 5 mm",
        "Texte bitte 5 mm vom Rand entfernt",
        "Marge de sécurité : 5 mm",
        "Nothing important closer than 5 mm to the trimmed edge",
    ],
)
def test_margin(text: str) -> None:
    assert draft(text) == {"margin": {"minimum": "5 mm"}}


def test_the_gutter_the_fold_and_the_barcode_have_their_own_distances() -> None:
    assert draft("Gutter margin 15 mm. Barcodes need a quiet zone of 5 mm. Keep text 4 mm from the folds.") == {}


@pytest.mark.parametrize(
    ("text", "contone"),
    [
        ("min. 300 dpi", {"minimum": 300}),
        ("300 dpi required", {"minimum": 300}),
        ("ideally 300 ppi", {"preferred": 300}),
        ("300-400 ppi", {"minimum": 300}),
        ("300 dpi, minimum 200 dpi", {"minimum": 200, "preferred": 300}),
        ("We want 300 dpi. Pictures below 200 dpi are rejected.", {"minimum": 200, "preferred": 300}),
        ("Use 300 dpi; 72 dpi pictures from the web are not good enough.", {"minimum": 300}),
        ("Auflösung mindestens 300 dpi", {"minimum": 300}),
    ],
)
def test_resolution(text: str, contone: dict[str, int]) -> None:
    assert draft(text)["images"] == {"contone_ppi": contone}


def test_line_art_has_its_own_resolution() -> None:
    read = draft("Photos 300 dpi, line art 1,200 dpi minimum")
    assert read["images"] == {"contone_ppi": {"minimum": 300}, "bilevel_ppi": {"minimum": 1200}}


@pytest.mark.parametrize(
    ("text", "color"),
    [
        ("CMYK only", {"allowed": ["cmyk", "gray"]}),
        ("CMYK or RGB are both fine", {"allowed": ["cmyk", "gray", "rgb"]}),
        ("CMYK. No spot colours.", {"allowed": ["cmyk", "gray"], "spots": {"maximum": 0}}),
        ("No RGB, spot colours or transparency", {"allowed": ["cmyk", "gray"], "spots": {"maximum": 0}}),
        ("CMYK plus up to two spot inks", {"allowed": ["cmyk", "gray"], "spots": {"maximum": 2}}),
        ("Spot colours must be converted to CMYK", {"allowed": ["cmyk", "gray"], "spots": {"maximum": 0}}),
        ("Greyscale only", {"allowed": ["gray"]}),
        ("TAC 280 %", {"ink_limit": "280 %"}),
        ("Der Farbauftrag darf 300 % nicht überschreiten", {"ink_limit": "300 %"}),
        ("CMYK preferred", {"allowed": ["cmyk", "gray"], "rgb_level": "should"}),
    ],
)
def test_color(text: str, color: dict[str, Any]) -> None:
    assert draft(text)["color"] == color


def test_a_spot_ink_by_arrangement_is_neither_refused_nor_taken() -> None:
    assert "spots" not in draft("CMYK. No spot colours unless you have ordered one.")["color"]


@pytest.mark.parametrize(
    ("text", "pages"),
    [
        ("pages in multiples of 4 (min 8, max 48)", {"multiple_of": 4, "minimum": 8, "maximum": 48}),
        ("one or two pages", {"allowed": [1, 2]}),
        ("8 to 64 pages", {"minimum": 8, "maximum": 64}),
        ("Die Seitenzahl muss durch 4 teilbar sein", {"multiple_of": 4}),
        ("single pages, no spreads", {"arrangement": "single-pages"}),
        ("Keine Doppelseiten", {"arrangement": "single-pages"}),
        ("Supply as reader spreads", {"arrangement": "reader-spreads"}),
        ("A PDF of exactly 8 pages", {"allowed": [8]}),
        ("Single-sided: one page. Double-sided: two pages.", {"allowed": [1, 2]}),
    ],
)
def test_pages(text: str, pages: dict[str, Any]) -> None:
    assert draft(text)["pages"] == pages


@pytest.mark.parametrize(
    "text", ["See page 4.", "Page 1 is the front, page 2 the back.", "Single pages or spreads are both fine."]
)
def test_pages_that_are_only_spoken_of(text: str) -> None:
    assert "pages" not in draft(text)


@pytest.mark.parametrize(
    ("text", "file"),
    [
        ("PDF/X-4 preferred", {"standards": ["PDF/X-4"], "standards_level": "should"}),
        ("must be PDF/X-1a or X-4", {"standards": ["PDF/X-1a", "PDF/X-4"]}),
        ("PDF/X-1a:2001 only, no PDF/X-3", {"standards": ["PDF/X-1a:2001"]}),
        ("PDF 1.4 or higher", {"pdf_versions": {"minimum": "1.4"}}),
        ("max 100 MB", {"maximum_size": "100 MB"}),
        ("Poids maximal : 50 Mo", {"maximum_size": "50 MB"}),
        ("no passwords", {"encryption": "forbidden"}),
        ("ohne Kennwortschutz", {"encryption": "forbidden"}),
    ],
)
def test_file(text: str, file: dict[str, Any]) -> None:
    assert draft(text) == {"file": file}


@pytest.mark.parametrize(
    "text", ["Up to 10 MB by e-mail.", "Files over 20 MB go through our upload page.", "Save it as PDF 1.4."]
)
def test_sizes_and_versions_that_are_no_limit(text: str) -> None:
    assert draft(text) == {}


@pytest.mark.parametrize(
    ("text", "block"),
    [
        ("no crop marks", {"marks": {"crop_marks": "forbidden"}}),
        ("with crop marks, offset 3 mm", {"marks": {"crop_marks": "required", "offset_minimum": "3 mm"}}),
        ("Crop marks are optional, 3 mm offset", {"marks": {"crop_marks": "allowed", "offset_minimum": "3 mm"}}),
        ("Crop marks are not needed", {}),
        ("Do you need crop marks?", {}),
        ("fonts embedded or outlined", {"fonts": {"embedded": "required"}}),
        ("Schriften in Pfade umwandeln", {"fonts": {"outlines": "required"}}),
        ("Fonts need not be embedded", {}),
        ("no transparency", {"transparency": {"live": "forbidden"}}),
        ("Transparenzen müssen reduziert sein", {"transparency": {"live": "forbidden"}}),
        ("min. type size 6 pt, 8 pt reversed", {"text": {"minimum_size": "6 pt", "reversed_minimum_size": "8 pt"}}),
        ("Hairlines not thinner than 0.25 pt", {"lines": {"minimum_width": "0.25 pt"}}),
        ("Lines min. 0.1 mm", {"lines": {"minimum_width": "0.1 mm"}}),
        ("Text under 12 pt in 100 % black only", {"text": {"rich_black_minimum_size": "12 pt"}}),
    ],
)
def test_marks_fonts_transparency_type_and_lines(text: str, block: dict[str, Any]) -> None:
    assert draft(text) == block


def test_a_table_of_products_keeps_what_they_have_in_common() -> None:
    read = draft("Product | Trim | Bleed | Ink\nCard | 85 x 55 mm | 3 mm | 300 %\nFlyer | 148 x 210 mm | 3 mm | 280 %")
    assert read == {"bleed": {"minimum": "3 mm"}}


def test_a_heading_says_what_a_bare_number_is_of() -> None:
    assert draft("Bleed\n\n- 3 mm on every side") == {"bleed": {"minimum": "3 mm"}}


def test_lines_wrapped_in_mid_sentence_are_one_sentence() -> None:
    assert draft("Please keep all text and logos at a distance of\n5 mm from the\ntrimmed edge.") == {
        "margin": {"minimum": "5 mm"}
    }


def test_a_single_page_pdf_is_no_count_of_pages() -> None:
    assert draft("Provide pages as single pages in reading order, not in spreads.")["pages"] == {"arrangement": "single-pages"}
