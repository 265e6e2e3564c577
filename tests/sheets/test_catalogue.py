"""The stored sheets: that they load, are complete, say where their numbers come from, and can be found.

Their sizes are held against published tables, and each is tried with files, in `tests/outside/test_library_*.py`.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

import pytest

from service.rules.catalogue import RULES
from service.sheets import catalogue
from service.sheets.catalogue import base_document, base_ids, family_files, find, select, sheet_files, stored_sheets, suggest
from service.sheets.extending import LONGEST_CHAIN
from service.sheets.format.parsing import parse_sheet_text
from service.sheets.format.validation import read_sheet
from service.sheets.format.writing import sheet_to_document


def test_every_file_in_specs_is_a_valid_sheet_under_its_own_name() -> None:
    names = {file.stem for file in sheet_files()}
    assert set(stored_sheets()) == names
    assert names >= {
        *("business-card-85x55", "business-card-us", "letterhead-a4", "letterhead-us-letter"),
        *("booklet-a5-stapled", "booklet-a4-stapled", "leaflet-dl", "client-preview"),
    }
    assert len(names) >= 180


def test_every_product_of_an_order_page_is_there() -> None:
    assert {sheet.product for sheet in stored_sheets().values()} >= {
        *(
            "business-card",
            "letterhead",
            "compliment-slip",
            "envelope",
            "postcard",
            "flyer",
            "leaflet",
            "folded-leaflet",
            "booklet",
        ),
        *("book-text", "book-cover", "book-case", "poster", "banner", "roll-up", "sticker", "label", "menu", "calendar"),
        *("invitation", "bookmark", "newspaper", "preview"),
    }


def test_a_sheet_names_only_rules_that_exist() -> None:
    for sheet in stored_sheets().values():
        assert read_sheet(sheet_to_document(sheet), stored=True, known_rules=RULES) == sheet


def test_a_family_is_a_base_and_no_sheet() -> None:
    families = {file.stem for file in family_files()}
    assert families
    assert families & set(stored_sheets()) == set()
    assert find("offset-process-print") is None
    assert "extends" not in sheet_to_document(stored_sheets()["flyer-a6"])


def test_every_family_is_extended() -> None:
    extended = {document.get("extends") for document in map(base_document, base_ids()) if document}
    assert {file.stem for file in family_files()} - extended == set()


def test_a_block_that_products_share_is_not_copied_about() -> None:
    """A copy is what a family is for. Two may be alike by chance, or be one family in mm and one in inches.

    A product of North America on a metric family says the notes of that family in inches, and no number of its own: it has one
    base, that of its product, so that there is no place for what the products of North America share.
    """
    holders: dict[str, list[str]] = {}
    for name, document in ((base_id, base_document(base_id) or {}) for base_id in base_ids()):
        for key in set(_WITH_NUMBERS) - {"trim", "folds", "folding"}:
            block = document.get(key)
            in_inches = "US" in document.get("regions", ()) and isinstance(block, dict) and block.keys() == {"note"}
            if len(str(block)) > 60 and not in_inches:
                holders.setdefault(f"{key}: {block}", []).append(name)
    assert {block: names for block, names in holders.items() if len(names) > 2} == {}


_WITH_NUMBERS = (
    *("file", "pages", "trim", "bleed", "margin", "marks", "color", "images", "text", "lines", "fonts"),
    *("keep_clear", "folds", "folding", "spine", "finishes"),
)


def test_every_sheet_says_where_its_numbers_come_from() -> None:
    for sheet in stored_sheets().values():
        sources = " ".join(reference.about for reference in sheet.references)
        asked = [key for key in _WITH_NUMBERS if getattr(sheet, key)]
        assert [key for key in asked if key not in sources] == [], sheet.id
        assert sheet.summary
        assert sheet.note


def test_3_mm_of_bleed_are_enough_in_america_too() -> None:
    """But for stickers, labels, plastic cards, what is printed enlarged, the cover that is folded in round its boards, and
    the card of America itself: card printers there ask for 1/16 in about as often as for 1/8 in.
    """
    bleeds = {sheet_id: sheet.bleed.minimum_mm for sheet_id, sheet in stored_sheets().items() if sheet.bleed}
    other = {sheet_id: bleed for sheet_id, bleed in bleeds.items() if bleed != 3.0}
    products = {bleed: {stored_sheets()[one].product for one in other if other[one] == bleed} for bleed in other.values()}
    assert products == {
        5: {"banner", "poster"}, 2: {"membership-card"}, 1.5: {"business-card", "label"}, 12.7: {"book-case"}, 1: {"sticker"},
    }


def test_a_stapled_booklet_has_pages_by_fours_and_fewer_of_thicker_paper() -> None:
    limits = {
        sheet_id: (sheet.pages.minimum, sheet.pages.maximum, sheet.pages.multiple_of, sheet.pages.arrangement)
        for sheet_id, sheet in stored_sheets().items()
        if sheet.product == "booklet" and sheet.pages
    }
    limits = {sheet_id: limit for sheet_id, limit in limits.items() if sheet_id.endswith(("stapled", "gsm"))}
    assert len(limits) >= 12
    assert {limit[0] for limit in limits.values()} == {8}
    assert {limit[2:] for limit in limits.values()} == {(4, "single-pages")}
    assert [limits[f"booklet-a4-stapled{paper}"][1] for paper in ("", "-130gsm", "-170gsm")] == [80, 48, 32]


def test_the_writing_area_of_the_letterhead_holds_the_address_field_of_din_5008_form_b() -> None:
    """DIN 5008 form B: 85 × 45 mm, from 20 mm left and 45 mm down."""
    (area,) = stored_sheets()["letterhead-a4"].keep_clear
    assert area.level == "should"
    assert (area.box_mm.x0, area.box_mm.y0) == (20, 45)
    assert area.box_mm.x1 >= 20 + 85
    assert area.box_mm.y1 >= 45 + 45
    assert area.box_mm.x1 == 210 - 20


def test_folded_products_say_how_they_fold() -> None:
    folded = [sheet for sheet in stored_sheets().values() if sheet.folds]
    assert len(folded) >= 12
    assert [sheet.id for sheet in folded if sheet.folding is None or sheet.folding.level != "must"] == []
    assert {sheet.folding.type for sheet in folded if sheet.folding} == {"half", "zigzag", "roll", "gate"}


def test_print_sheets_limit_total_ink_as_their_presses_do() -> None:
    """300 % by the tables of PSO Coated v3 and PSO Uncoated v3, up to 340 % where a printer takes it, 240 % for newsprint by
    ISO 12647-3 (from memory).
    """
    limits = {sheet.id: sheet.color.ink_limit_percent for sheet in stored_sheets().values() if sheet.color}
    wishes = {sheet.id: sheet.color.ink_preferred_percent for sheet in stored_sheets().values() if sheet.color}
    assert (limits["business-card-85x55"], limits["envelope-dl"], limits["newspaper-tabloid"]) == (340, 300, 240)
    assert (wishes["business-card-85x55"], wishes["envelope-dl"], wishes["newspaper-tabloid"]) == (300, 280, 220)
    assert (limits["business-card-us"], wishes["business-card-us"]) == (340, 320), "GRACoL 2013 (CRPC6), by its table"
    assert (limits["envelope-no-10"], wishes["envelope-no-10"]) == (320, 280)


def test_what_a_note_says_of_ink_is_what_its_sheet_asks_for() -> None:
    """A note that is inherited by a sheet of other inks tells the buyer of inks that it then refuses."""
    colors = {sheet.id: sheet.color for sheet in stored_sheets().values() if sheet.color}
    told = {one: {float(share) for share in re.findall(r"(\d{3}) %", color.note or "")} for one, color in colors.items()}
    asked = {one: {color.ink_limit_percent, color.ink_preferred_percent} for one, color in colors.items()}
    assert [one for one in colors if not told[one] <= asked[one]] == []
    assert (told["flyer-a5"], told["book-a5-text"], told["newspaper-tabloid"]) == ({300, 340}, {280}, {220, 240})


def test_a_page_whose_size_comes_with_the_order_is_not_refused_for_its_bleed() -> None:
    """A case wrap and a folder on its template have their bleed in the page, and nothing tells where it begins."""
    sheets = [one for one in stored_sheets().values() if one.bleed and not one.trim and not one.spine]
    assert {one.product for one in sheets} == {"book-case", "presentation-folder"}
    assert {one.levels["bleed.declared"] for one in sheets} == {"should"}


def test_what_most_printers_take_is_no_must() -> None:
    """Each of these refused a file that printers of the product take; the sheets' `references` name what they publish."""
    sheets = stored_sheets()
    for sheet_id in ("menu-us-legal", "compliment-slip-dl", "envelope-c5", "envelope-us-9x12", "label-bottle-90x120"):
        trim = sheets[sheet_id].trim
        assert trim is not None
        assert trim.orientation == "any", sheet_id
    counts = {sheet_id: sheet.pages.allowed for sheet_id, sheet in sheets.items() if sheet.pages}
    assert counts["notepad-a5"] == counts["notepad-us-half-letter"] == (1, 2)
    assert (counts["form-carbonless-a4"][-1], counts["calendar-a4-wire"][0], counts["desk-pad-a2"]) == (16, 12, (1,))
    large = [sheet_id for sheet_id, sheet in sheets.items() if sheet.color and sheet.color.rgb_level == "should"]
    assert {"poster-a0", "poster-a1", "poster-us-24x36", "banner-2000x1000", "sticker-square-50"} <= set(large)
    assert not {"poster-a2", "poster-a3", "poster-us-18x24", "flyer-a4"} & set(large)


# --- Finding ----------------------------------------------------------------------------------------------------------


def ids(sheets: list[Mapping[str, Any]]) -> set[str]:
    return {sheet["id"] for sheet in sheets}


def test_a_sheet_is_found_by_its_id_alone() -> None:
    found = find("leaflet-dl")
    assert found is not None
    assert found.id == "leaflet-dl"
    assert find("leaflet") is None
    assert find("../specs/leaflet-dl") is None


def test_a_sheet_that_is_asked_for_is_read_with_what_it_extends_and_no_other(monkeypatch: pytest.MonkeyPatch) -> None:
    read: list[str] = []
    for remembered in (catalogue._document, catalogue.complete_document, catalogue._sheet):
        remembered.cache_clear()
    monkeypatch.setattr(catalogue, "parse_sheet_text", lambda text: read.append(text) or parse_sheet_text(text))
    assert find("leaflet-dl") is not None
    assert 1 <= len(read) <= 1 + LONGEST_CHAIN
    find("leaflet-dl")
    assert len(read) <= 1 + LONGEST_CHAIN


def test_the_list_tells_of_a_sheet_what_the_sheet_itself_says() -> None:
    for document in select():
        sheet = stored_sheets()[document["id"]]
        assert (document["title"], document["product"]) == (sheet.title, sheet.product)
        assert tuple(document.get("regions", ())) == sheet.regions
        assert document.get("purpose", "print") == sheet.purpose


def test_filters_narrow_each_other() -> None:
    assert ids(select(product="book-cover", region="gb")) == {
        *("book-a4-cover", "book-a5-cover", "book-b-format-cover", "book-demy-cover", "book-royal-cover", "book-170x240-cover"),
        "book-square-210-cover",
    }
    assert ids(select(product="business-card", region="us")) == {
        *("business-card-us", "business-card-folded-us", "business-card-square-55"),
    }
    assert ids(select(purpose="client-preview")) == {"client-preview", "client-preview-screen"}
    assert ids(select(q="A5 stapled 170")) == {"booklet-a5-stapled-170gsm"}
    assert ids(select(q="letterhead 8.5")) == {"letterhead-us-letter"}
    assert select(product="booklet", purpose="client-preview") == []
    assert ids(select()) == set(stored_sheets())


def test_a_sheet_without_regions_is_for_every_region() -> None:
    assert "client-preview" in ids(select(region="JP"))


def test_a_wrong_id_gets_the_nearest_ones() -> None:
    assert suggest("buisness-card-85x55")[0] == "business-card-85x55"
    assert set(suggest("letterhead")) >= {"letterhead-a4", "letterhead-us-letter"}
    assert suggest("qqqq") == []


# --- Doubles ------------------------------------------------------------------------------------------------------------


def test_no_two_sheets_ask_the_same() -> None:
    """Doubles are one sheet with several names: a menu of A4 is a flyer of A4."""
    beside = {"id", "revision", "title", "product", "regions", "purpose", "summary", "names", "aliases", "references", "note"}
    askings: dict[str, list[str]] = {}
    for sheet_id, sheet in stored_sheets().items():
        asked = {key: value for key, value in sheet_to_document(sheet).items() if key not in beside}
        askings.setdefault(repr(_without_notes(asked)), []).append(sheet_id)
    assert [same for same in askings.values() if len(same) > 1] == []


def _without_notes(value: Any) -> Any:
    if isinstance(value, Mapping):
        return {key: _without_notes(one) for key, one in value.items() if key != "note"}
    return [_without_notes(one) for one in value] if isinstance(value, list) else value


@pytest.mark.parametrize(
    ("alias", "sheet_id"),
    [
        ("invitation-a6", "flyer-a6"),
        ("menu-a4", "flyer-a4"),
        ("menu-a4-folded", "leaflet-a4-half-4"),
        ("flyer-dl", "leaflet-dl"),
        ("voucher-dl", "leaflet-dl"),
    ],
)
def test_a_double_is_found_under_its_own_name(alias: str, sheet_id: str) -> None:
    assert find(alias) == stored_sheets()[sheet_id]
    assert alias not in stored_sheets()
    assert sheet_id in ids(select(product=alias.partition("-")[0]))
    assert alias in suggest(f"{alias}s")
    assert (base_document(alias) or {})["id"] == sheet_id


@pytest.mark.parametrize(
    ("q", "sheet_id"),
    [
        ("Einladung A6", "flyer-a6"),
        ("Speisekarte", "flyer-a4"),
        ("105 x 210", "leaflet-dl"),
        ("flyer DIN lang", "leaflet-dl"),
        ("Broschüre A5", "booklet-a5-stapled"),
        ("roll up 85 x 200 cm", "roll-up-850x2000"),
        ("carte de visite 8,5 × 5,5 cm", "business-card-85x55"),
        ("kakemono", "roll-up-1000x2000"),
        ("6 x 9 postcard", "postcard-us-6x9"),
        ("Bierdeckel", "beer-mat-round-107"),
        ("enveloppe C4", "envelope-c4-pocket"),
        ("business card 2 x 3 1/2 in", "business-card-us"),
        ("Türhänger", "door-hanger-105x250"),
    ],
)
def test_products_are_found_as_people_look(q: str, sheet_id: str) -> None:
    assert sheet_id in ids(select(q=q))
