"""How English printers say plain demands: each class in two or three ways of our own, and the sentence beside it that is none."""

from __future__ import annotations

from typing import Any

import pytest

from tests.sheets.prose.grammar import read_prose
from tests.sheets.readings_score import leaves


def drafted(text: str) -> dict[str, Any]:
    return dict(leaves(read_prose(text).draft))


@pytest.mark.parametrize(
    ("text", "path", "value"),
    [
        ("Safe area: at least 2 mm between the design and the cutter guide.", "margin.minimum", 2),
        ("Phone numbers and addresses should sit no closer than 4 mm to the planned edge.", "margin.minimum", 4),
        ("All lettering must stay at least 3 mm inside the card edge (see the dotted line here).", "margin.minimum", 3),
        ("Keep names and prices 5 mm from the cropping guides, or they may be cut off.", "margin.minimum", 5),
        ("Vital details must be placed at least 6 mm from cut/crease lines.", "margin.minimum", 6),
        ("All advertisers: artwork for all adverts must have a 3 mm bleed on all sides.", "bleed.minimum", 3),
        ("Your file needs at least 1/8 inch (3 mm) margin of bleed.", "bleed.minimum", 3.175),
        ("Bleed: 30 mm on all sides", "bleed.minimum", 30),
        ("Ads must be non-bleed.", "bleed.maximum", 0),
        ("Bleed is not offered.", "bleed.maximum", 0),
        ("Use 7 point or larger type (or letters taller than 2 mm).", "text.minimum_size", 7 * 25.4 / 72),
        ("Avoid setting text below 6pt.", "text.minimum_size", 6 * 25.4 / 72),
        ("For text that is 20 pt. or below, use 100% black only.", "text.rich_black_minimum_size", 20 * 25.4 / 72),
        ("The minimum positive and reversed line weight is 0.5 pt.", "lines.minimum_width", 0.5 * 25.4 / 72),
        ("The minimum positive and reversed line weight is 0.5 pt.", "lines.reversed_minimum_width", 0.5 * 25.4 / 72),
        ("Files must comply with PDF/X-1a (2001).", "file.standards", frozenset({"PDF/X-1a:2001"})),
        ("PDF compatibility max 1.5", "file.pdf_versions.maximum", "1.5"),
        ("Please supply a composite PDF.", "file.separations", "forbidden"),
        ("Send your PDF as a non-separated file.", "file.separations", "forbidden"),
        ("All elements (pictures, logos, text) must be in CMYK.", "color.allowed", frozenset({"cmyk", "gray"})),
        ("Every colour should be given a CMYK value.", "color.allowed", frozenset({"cmyk", "gray"})),
        ("Black texts (and other black elements) must contain only black ink.", "text.black_alone", "True"),
        ("If the text is in black, please convert it to pure black.", "text.black_alone", "True"),
        ("Crop marks: enabled", "marks.crop_marks", "required"),
        ("Please finish your PDF by adding crop marks.", "marks.crop_marks", "required"),
        ("All fonts and images are embedded.", "fonts.embedded", "required"),
        ("Press ready PDF (all fonts to be outlined)", "fonts.outlines", "required"),
        ("File layout: single page scrolling", "pages.arrangement", "single-pages"),
        ("Line and text graphics as bitmaps: above 900 dpi", "images.bilevel_ppi.minimum", 900),
        ("Pictures should have at least 200 dpi; more than 500 dpi is a waste.", "images.contone_ppi.maximum", 500),
        ("Pictures need 240 dpi once they are scaled to their printed size.", "images.contone_ppi.minimum", 240),
        ("Artwork below 250 dpi may be rejected.", "images.contone_ppi.minimum", 250),
        ("Finished size: 1,188.5mm x 420.2mm", "trim.width", 1188.5),
        ("Trim size: 1,200 mm x 900 mm", "trim.width", 1200),
    ],
)
def test_a_plain_demand_is_drafted(text: str, path: str, value: float | str | frozenset[str]) -> None:
    assert drafted(text)[path] == (pytest.approx(value) if isinstance(value, float | int) else value)


@pytest.mark.parametrize(
    ("text", "path"),
    [
        ("Small text in CMYK is hard to read.", "color.allowed"),
        ("Tints of more than 8% may cause trouble on carbonless copies.", "color.tint.minimum"),
        ("Keep tints between 5-8%.", "color.tint.minimum"),
        ("4-colour lines no finer than 1.5 point.", "lines.minimum_width"),
        ("Tinted type should not be smaller than 8 point.", "text.minimum_size"),
        ("Bleed is not available on half page ads.", "bleed.maximum"),
        ("Do not convert PMS colours to CMYK in your software.", "color.spots.maximum"),
        ("For black text we recommend a rich black of 60% cyan, 40% magenta, 40% yellow and 100% black.", "text.black_alone"),
        ("All UPC codes need a clear space of at least 3/16 of an inch.", "margin.minimum"),
        ("Bleed page size, including trim, is 81^ 4 \" by 11\".", "trim.width"),
        ("Full page . . . 24.125\" x 20.31\" Tab . . . 20\" x 11.31\"", "trim.width"),
        ("A composite proof must come with the files.", "file.separations"),
    ],
)
def test_what_only_looks_like_a_demand_is_not_drafted(text: str, path: str) -> None:
    assert path not in drafted(text)


def test_sections_of_materials_are_products_where_one_of_them_is_one() -> None:
    """Nobody has to know that 'Frosted film' is a product: its sibling says another bleed."""
    reading = read_prose(
        "Bleed and safe area\n\nFrosted film\n- Bleed: 20 mm on all sides\n\nBanners\n- Bleed: 60 mm on all sides\n\n"
        "General tips\n- Images must have 100 dpi.\n"
    )
    assert reading.draft == {"images": {"contone_ppi": {"minimum": 100}}}
    own = {draft.product: draft.document["bleed"] for draft in reading.drafts[1:]}
    assert own == {"Frosted film": {"minimum": "20 mm"}, "Banners": {"minimum": "60 mm"}}


def test_titles_between_sentences_head_their_sections() -> None:
    reading = read_prose(
        "Boards and Large Posters\nWe require a 12 mm bleed on all sides.\nBanners and Canvas\n"
        "We ask that no bleed or crop marks are added to banners.\nMounted Canvas\nThe bleed is 50 mm on each side.\n"
    )
    assert reading.draft == {}
    assert {draft.product for draft in reading.drafts[1:]} >= {"Mounted Canvas", "Boards and Large Posters"}


def test_covers_and_interiors_are_the_whole_of_a_book() -> None:
    text = "All cover and interior files\n\n- PDF/X-4 files, please.\n- Total ink coverage should not exceed 260%."
    assert drafted(text)["color.ink_limit"] == 260


def test_one_value_that_two_products_share_is_one_other_value() -> None:
    text = "Keep type 5 mm from the trim.\n\nBanners: keep type 20 mm from the trim.\nPosters: keep type 20 mm from the trim."
    assert drafted(text)["margin.minimum"] == 5


@pytest.mark.parametrize("between", [": ", " - ", " "])
def test_lines_with_another_size_each_are_of_one_product_each(between: str) -> None:
    sizes = {"Centre strip": "190 x 40 mm", "Front corner": "90 x 130 mm", "Classified": "58 x 42 mm"}
    reading = read_prose("Sizes\n\n" + "\n".join(f"{name}{between}{size}" for name, size in sizes.items()))
    assert "trim" not in reading.draft
    own = {draft.product: draft.document["trim"]["width"] for draft in reading.drafts[1:]}
    assert own == {name: f"{size.split()[0]} mm" for name, size in sizes.items()}


def test_lines_of_one_page_are_not_products() -> None:
    reading = read_prose("Trim: 8.25 x 10.75 in.\nBleed: 8.5 x 11 in.\nLive: 7.75 x 10.25 in.")
    assert len(reading.drafts) == 1
    assert drafted("Trim: 8.25 x 10.75 in.\nBleed: 8.5 x 11 in.\nLive: 7.75 x 10.25 in.")["bleed.minimum"] == pytest.approx(3.175)


def test_a_first_line_of_one_product_is_no_title_where_the_next_is_of_another() -> None:
    reading = read_prose("Business cards: 85 x 55 mm, 3 mm bleed\nPosters: A2, 5 mm bleed")
    assert reading.draft == {}
    assert {draft.product: draft.document["bleed"]["minimum"] for draft in reading.drafts[1:]} == {
        "Business cards": "3 mm", "Posters": "5 mm",
    }


def test_an_uneven_safe_area_is_read_as_the_live_area() -> None:
    leaf = drafted("Size: 1219mm x 304mm\nSafe copy area: 1139mm x 274mm")
    assert (leaf["margin.live_area.width"], leaf["margin.live_area.height"]) == (1139, 274)


def test_a_value_of_one_product_passes_the_same_gate() -> None:
    """It stays a question, which names the product."""
    reading = read_prose("Flyers\n\nBleed: 3 mm\n\nBanners\n\nLeave a 40 mm margin for ropes.\n\nFlags\n\nBleed: 9 mm")
    assert all("margin" not in draft.document for draft in reading.drafts)
    [question] = [one for one in reading.questions if one.about == "margin.minimum" and one.quote]
    assert "Banners" in question.question


@pytest.mark.parametrize(
    ("text", "path", "value"),
    [
        ("JPEGs should be saved at 300 dpi, maximum quality.", "images.contone_ppi.maximum", None),
        ("Transparency must be flattened in PDF/X-1a files only.", "file.standards", None),
        ("Would be lovely if your program can add crop marks.", "marks.crop_marks", None),
        ("Folded crop marks by our lorry driver are required.", "marks.crop_marks", None),
        ("All fonts go into a separate folder. Bleed: 3 mm", "bleed.minimum", 3),
    ],
)
def test_a_neighbouring_word_makes_no_demand(text: str, path: str, value: float | None) -> None:
    assert drafted(text).get(path) == value
