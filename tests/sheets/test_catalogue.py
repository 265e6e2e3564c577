"""The stored sheets: that they load, can be found, and give the sizes of the published tables."""

from __future__ import annotations

import pytest
from reportlab.lib import pagesizes

from service.rules.not_yet import WAITING, Waiting
from service.sheets.catalogue import find, select, sheet_files, stored_sheets, suggest
from service.sheets.model import SpecSheet

MM_PER_POINT = 25.4 / 72


def test_every_file_in_specs_is_a_valid_sheet_under_its_own_name() -> None:
    names = {file.stem for file in sheet_files()}
    assert set(stored_sheets()) == names
    assert names >= {
        *("business-card-85x55", "business-card-us", "letterhead-a4", "letterhead-us-letter"),
        *("booklet-a5-stapled", "booklet-a4-stapled", "leaflet-dl", "client-preview"),
    }


def test_every_sheet_says_where_its_numbers_come_from() -> None:
    for sheet in stored_sheets().values():
        sources = " ".join(reference.about for reference in sheet.references)
        asked = [key for key in ("trim", "bleed", "images", "keep_clear") if getattr(sheet, key)]
        assert [key for key in asked if key not in sources] == [], sheet.id
        assert sheet.summary
        assert sheet.note


def trimmed(sheet_id: str) -> tuple[float, float]:
    sheet = find(sheet_id)
    assert sheet is not None
    assert sheet.trim is not None
    return sheet.trim.width_mm, sheet.trim.height_mm


@pytest.mark.parametrize(
    ("sheet_id", "size_mm"),
    [
        ("letterhead-a4", (210, 297)),  # ISO 216:2007, A4
        ("booklet-a4-stapled", (210, 297)),
        ("booklet-a5-stapled", (148, 210)),  # ISO 216:2007, A5
        ("letterhead-us-letter", (215.9, 279.4)),  # PWG 5101.1, na_letter
        ("leaflet-dl", (297 / 3, 210)),  # a third of A4
        ("business-card-85x55", (85, 55)),  # common practice, no source
        ("business-card-us", (3.5 * 25.4, 2 * 25.4)),  # common practice, no source
    ],
)
def test_sizes_are_those_of_the_published_tables(sheet_id: str, size_mm: tuple[float, float]) -> None:
    assert trimmed(sheet_id) == pytest.approx(size_mm, abs=1e-9)


@pytest.mark.parametrize(
    ("sheet_id", "name"), [("letterhead-a4", "A4"), ("booklet-a5-stapled", "A5"), ("letterhead-us-letter", "LETTER")]
)
def test_sizes_agree_with_an_independent_table(sheet_id: str, name: str) -> None:
    """reportlab.lib.pagesizes; its HALF_LETTER (5.5 × 8 in, should be 8.5) is known to be wrong and is not used."""
    width, height = getattr(pagesizes, name)
    assert trimmed(sheet_id) == pytest.approx((width * MM_PER_POINT, height * MM_PER_POINT), abs=0.001)


def test_a_flat_leaflet_fits_the_envelope_that_it_is_named_after() -> None:
    """ISO 269: DL is 110 × 220 mm."""
    width, height = trimmed("leaflet-dl")
    assert width < 110
    assert height < 220


def test_the_american_bleed_is_an_eighth_of_an_inch_and_the_metric_one_3_mm() -> None:
    bleeds = {sheet_id: sheet.bleed.minimum_mm for sheet_id, sheet in stored_sheets().items() if sheet.bleed}
    assert {sheet_id for sheet_id, bleed in bleeds.items() if bleed == 3.175} == {"business-card-us", "letterhead-us-letter"}
    assert {bleed for bleed in bleeds.values() if bleed != 3.175} == {3.0}


def test_a_stapled_booklet_has_pages_by_fours() -> None:
    for sheet_id in ("booklet-a5-stapled", "booklet-a4-stapled"):
        pages = stored_sheets()[sheet_id].pages
        assert pages is not None
        assert (pages.minimum, pages.maximum, pages.multiple_of, pages.arrangement) == (8, 64, 4, "single-pages")


def test_the_writing_area_of_the_letterhead_holds_the_address_field_of_din_5008_form_b() -> None:
    """DIN 5008 form B: 85 × 45 mm, from 20 mm left and 45 mm down."""
    (area,) = stored_sheets()["letterhead-a4"].keep_clear
    assert area.level == "should"
    assert (area.box_mm.x0, area.box_mm.y0) == (20, 45)
    assert area.box_mm.x1 >= 20 + 85
    assert area.box_mm.y1 >= 45 + 45
    assert area.box_mm.x1 == 210 - 20


def test_stored_sheets_ask_only_for_what_is_measured_today() -> None:
    for sheet in stored_sheets().values():
        unasked = (sheet.margin, sheet.marks, sheet.text, sheet.lines, sheet.transparency, sheet.spine)
        assert set(unasked) == {None}, sheet.id
        assert not sheet.folds
        assert not sheet.finishes
        assert sheet.bleed is None or sheet.bleed.maximum_mm is None
        assert sheet.color is None or sheet.color.ink_limit_percent is None
        assert sheet.images is None or (sheet.images.bilevel is None and sheet.images.contone is not None)
        assert sheet.file is not None
        assert not sheet.file.standards


@pytest.mark.parametrize("rule", WAITING, ids=lambda rule: rule.rule_id)
def test_no_must_of_a_stored_sheet_waits_for_a_later_version(rule: Waiting) -> None:
    """Such a sheet could only come out inconclusive."""
    asked = [
        sheet.id
        for sheet in stored_sheets().values()
        if getattr(rule.asks(sheet), "level", "must") != "should" and rule.asks(sheet)
    ]
    assert asked == []


# --- Finding ----------------------------------------------------------------------------------------------------------


def ids(sheets: list[SpecSheet]) -> set[str | None]:
    return {sheet.id for sheet in sheets}


def test_a_sheet_is_found_by_its_id_alone() -> None:
    found = find("leaflet-dl")
    assert found is not None
    assert found.id == "leaflet-dl"
    assert find("leaflet") is None
    assert find("../specs/leaflet-dl") is None


def test_filters_narrow_each_other() -> None:
    assert ids(select(product="booklet")) == {"booklet-a4-stapled", "booklet-a5-stapled"}
    assert ids(select(product="business-card", region="us")) == {"business-card-us"}
    assert ids(select(purpose="client-preview")) == {"client-preview"}
    assert ids(select(q="A4 stapled")) == {"booklet-a4-stapled", "booklet-a5-stapled"}  # A5 is folded from A4
    assert ids(select(q="letterhead 8.5")) == {"letterhead-us-letter"}
    assert select(product="booklet", purpose="client-preview") == []
    assert ids(select()) == set(stored_sheets())


def test_a_sheet_without_regions_is_for_every_region() -> None:
    assert "client-preview" in ids(select(region="JP"))


def test_a_wrong_id_gets_the_nearest_ones() -> None:
    assert suggest("buisness-card-85x55")[0] == "business-card-85x55"
    assert set(suggest("letterhead")) == {"letterhead-a4", "letterhead-us-letter"}
    assert suggest("qqqq") == []
