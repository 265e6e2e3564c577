"""The sizes of the stored sheets against published tables: copied out here, and as reportlab has them."""

from __future__ import annotations

import pytest
from reportlab.lib import pagesizes

from service.sheets.catalogue import find, stored_sheets
from service.sheets.variants import variants

MM_PER_POINT = 25.4 / 72
INCH = 25.4

ISO_216_A = ((841, 1189), (594, 841), (420, 594), (297, 420), (210, 297), (148, 210), (105, 148), (74, 105))
ISO_216_B = {1: (707, 1000), 2: (500, 707)}
ISO_269 = {"dl": (110, 220), "c6-c5": (114, 229), "c6": (114, 162), "c5": (162, 229), "c4": (229, 324)}
PWG_5101_1_INCHES = {
    "flyer-us-letter": (8.5, 11),  # na_letter
    "letterhead-us-letter": (8.5, 11),
    "booklet-us-letter-stapled": (8.5, 11),
    "calendar-us-letter-stapled": (8.5, 11),
    "flyer-us-half-letter": (5.5, 8.5),  # na_invoice
    "booklet-us-half-letter-stapled": (5.5, 8.5),
    "menu-us-legal": (8.5, 14),  # na_legal
    "poster-us-11x17": (11, 17),  # na_ledger, ANSI B
    "poster-us-18x24": (18, 24),  # na_arch-c
    "poster-us-24x36": (24, 36),  # na_arch-d
    "envelope-no-10": (4.125, 9.5),  # na_number-10
    "envelope-no-10-window": (4.125, 9.5),
    "postcard-us-4x6": (4, 6),  # na_index-4x6
    "postcard-us-5x7": (5, 7),  # na_5x7
    "invitation-us-5x7": (5, 7),
    "leaflet-us-letter-half-4": (8.5, 11),
    "leaflet-us-letter-roll-6": (8.5, 11),
    "leaflet-us-letter-zigzag-6": (8.5, 11),
    "booklet-us-letter-wire": (8.5, 11),
    "form-carbonless-us-letter": (8.5, 11),
    "book-us-8-5x11-text": (8.5, 11),
    "book-us-5-5x8-5-text": (5.5, 8.5),
    "notepad-us-half-letter": (5.5, 8.5),
    "flyer-us-4x6": (4, 6),
    "envelope-us-a2": (4.375, 5.75),  # na_a2
    "envelope-us-6x9": (6, 9),  # na_6x9
    "envelope-us-9x12": (9, 12),  # na_arch-a
    "leaflet-us-17x11-half-4": (11, 17),
    "leaflet-us-legal-half-4": (8.5, 14),
    "leaflet-us-legal-zigzag-8": (8.5, 14),
    "desk-pad-us-22x17": (17, 22),  # na_c, ANSI C
}
PWG_5101_1_MM = {"postcard-hagaki": (100, 148), "envelope-chou-3": (120, 235), "business-card-91x55": (55, 91)}

ISO_216_OF = {
    4: ["letterhead-a4", "letterhead-a4-din-5008-a", "letterhead-a4-din-5008-b", "flyer-a4", "booklet-a4-stapled", "book-a4-text",
        "booklet-a4-stapled-130gsm", "booklet-a4-stapled-170gsm", "poster-a4", "calendar-a4-wire", "calendar-a4-stapled",
        "booklet-a4-landscape-stapled", "booklet-a4-wire", "booklet-a4-landscape-wire", "notepad-a4", "form-carbonless-a4",
        "sticker-sheet-a4", "greeting-card-a5", "greeting-card-a5-top-fold",
        "leaflet-dl-roll-6", "leaflet-dl-zigzag-6", "leaflet-a5-half-4", "leaflet-a5-gate-6"],
    3: ["flyer-a3", "poster-a3", "calendar-a3-wire", "leaflet-a4-half-4", "leaflet-a5-cross-8"],
    5: ["flyer-a5", "booklet-a5-stapled", "booklet-a5-stapled-130gsm", "booklet-a5-stapled-170gsm", "book-a5-text", "postcard-a5",
        "leaflet-a6-half-4", "booklet-a5-landscape-stapled", "booklet-a5-wire", "notepad-a5", "form-carbonless-a5",
        "sticker-sheet-a5", "calendar-desk-a5", "greeting-card-a6", "greeting-card-a6-top-fold"],
    6: ["flyer-a6", "booklet-a6-stapled", "postcard-a6", "notepad-a6"],
    7: ["flyer-a7"],
    2: ["poster-a2", "calendar-a2-wire", "desk-pad-a2", "leaflet-a4-cross-8"],
    1: ["poster-a1"],
    0: ["poster-a0"],
}


def short_and_long(sheet_id: str) -> tuple[float, float]:
    sheet = find(sheet_id)
    assert sheet is not None
    trim = sheet.trim
    assert trim is not None
    return min(trim.width_mm, trim.height_mm), max(trim.width_mm, trim.height_mm)


@pytest.mark.parametrize(("n", "sheet_id"), [(n, one) for n, ones in ISO_216_OF.items() for one in ones])
def test_a_sizes_are_those_of_iso_216_and_of_reportlab(n: int, sheet_id: str) -> None:
    """ISO 216:2007, table of the A series. reportlab.lib.pagesizes writes its A sizes in points from the same millimetres."""
    assert short_and_long(sheet_id) == ISO_216_A[n]
    table = tuple(side * MM_PER_POINT for side in getattr(pagesizes, f"A{n}"))
    assert short_and_long(sheet_id) == pytest.approx(table, abs=0.001)


@pytest.mark.parametrize("n", ISO_216_B)
def test_b_sizes_are_those_of_iso_216(n: int) -> None:
    assert short_and_long(f"poster-b{n}") == ISO_216_B[n]


def test_envelopes_with_other_windows_and_flaps_have_the_sizes_of_iso_269() -> None:
    """ISO 269, DIN 678-1: C6/C5, C5, DL and C4."""
    assert {short_and_long(f"envelope-c6-c5-window{one}") for one in ("", "-ch-left", "-ch-right")} == {(114, 229)}
    assert short_and_long("envelope-c5-window-ch-left") == (162, 229)
    assert short_and_long("envelope-dl-window-gb") == (110, 220)
    assert short_and_long("envelope-c4-pocket") == (229, 324)


@pytest.mark.parametrize("name", ISO_269)
def test_envelopes_are_those_of_iso_269(name: str) -> None:
    assert short_and_long(f"envelope-{name}") == ISO_269[name]


def window_of(sheet_id: str) -> tuple[float, float, float, float, float]:
    """Width and height; from the left, from the right and from the bottom edge."""
    (sheet,) = variants(stored_sheets()[sheet_id])
    (window,) = (area.box_mm for area in sheet.keep_clear if area.name == "window")
    assert sheet.trim is not None
    left, right, up = window.x0, sheet.trim.width_mm - window.x1, sheet.trim.height_mm - window.y1
    return window.width, window.height, left, right, up


@pytest.mark.parametrize(
    ("sheet_id", "window"),
    [
        ("envelope-dl-window", (90, 45, 20, 110, 15)),
        ("envelope-c6-c5-window", (90, 45, 20, 119, 15)),
        ("envelope-c6-c5-window-ch-left", (100, 45, 20, 109, 21)),
        ("envelope-c6-c5-window-ch-right", (100, 45, 117, 12, 21)),
        ("envelope-c5-window-ch-left", (100, 45, 20, 109, 65)),
    ],
)
def test_the_windows_are_those_of_din_680_and_of_a_swiss_table(sheet_id: str, window: tuple[float, ...]) -> None:
    """DIN 680: 90 × 45 mm, 20 mm from the left and 15 mm from the bottom edge. An envelope maker's table after SN 010130:
    100 × 45 mm, 21 mm from the bottom (65 mm of a C5), and 109 or 12 mm from the right.
    """
    assert window_of(sheet_id) == pytest.approx(window)


@pytest.mark.parametrize("sheet_id", PWG_5101_1_INCHES)
def test_american_sizes_are_those_of_pwg_5101_1(sheet_id: str) -> None:
    inches = tuple(side * INCH for side in PWG_5101_1_INCHES[sheet_id])
    assert short_and_long(sheet_id) == pytest.approx(inches, abs=1e-9)


@pytest.mark.parametrize("sheet_id", PWG_5101_1_MM)
def test_japanese_sizes_are_those_of_pwg_5101_1(sheet_id: str) -> None:
    assert short_and_long(sheet_id) == PWG_5101_1_MM[sheet_id]


@pytest.mark.parametrize(
    ("name", "sheet_id"), [("LETTER", "flyer-us-letter"), ("LEGAL", "menu-us-legal"), ("TABLOID", "poster-us-11x17")]
)
def test_american_sizes_agree_with_reportlab(name: str, sheet_id: str) -> None:
    """Its HALF_LETTER (5.5 × 8 in instead of 8.5) is known to be wrong and is not used."""
    assert short_and_long(sheet_id) == pytest.approx(
        tuple(side * MM_PER_POINT for side in sorted(getattr(pagesizes, name))), abs=0.001
    )


def test_the_plastic_card_is_id_1() -> None:
    """ISO/IEC 7810: 85.60 × 53.98 mm."""
    assert short_and_long("membership-card-id-1") == (53.98, 85.6)


@pytest.mark.parametrize(("sheet_id", "top"), [("letterhead-a4-din-5008-a", 27), ("letterhead-a4-din-5008-b", 45)])
def test_the_address_field_is_that_of_din_5008(sheet_id: str, top: float) -> None:
    """DIN 5008 (as published on letterhead templates): 85 × 45 mm, 20 mm from the left, 27 mm (form A) or 45 mm (form B) down."""
    field, writing = (area.box_mm for area in stored_sheets()[sheet_id].keep_clear)
    assert (field.x0, field.y0, field.width, field.height) == (20, top, 85, 45)
    assert writing.y0 >= field.y1


@pytest.mark.parametrize(
    ("inner", "outer"),
    [
        ("leaflet-dl", "envelope-dl"),
        ("flyer-a6", "envelope-c6"),
        ("invitation-us-5x7", "envelope-us-a7"),
        ("flyer-us-quarter-letter", "envelope-us-a2"),
        ("compliment-slip-dl", "envelope-dl"),
        ("flyer-a5", "envelope-c5"),
        ("flyer-a4", "envelope-c4"),
        ("compliment-slip-us", "envelope-no-10"),
    ],
)
def test_what_is_sent_fits_its_envelope(inner: str, outer: str) -> None:
    assert all(one < other for one, other in zip(short_and_long(inner), short_and_long(outer), strict=True))
