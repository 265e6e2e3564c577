"""The sizes and scales that one sheet takes."""

from __future__ import annotations

from service.pdf.facts.geometry import Box
from service.sheets.format.validation import read_sheet_text
from service.sheets.model import KeepClearArea, OtherSize, SpecSheet, TrimAsked
from service.sheets.variants import variants

ROLL_UP = read_sheet_text("""
trim: {width: 850 mm, height: 2000 mm, tolerance: 5 mm, scales: [1, 10]}
bleed: {minimum: 10 mm, maximum: 50 mm, head: 20 mm}
margin: {minimum: 20 mm, preferred: 50 mm}
marks: {crop_marks: allowed, offset_minimum: 10 mm}
color: {ink_limit: 300 %, ink_area: 1500 mm²}
images: {contone_ppi: {minimum: 72, preferred: 100, maximum: 300}}
text: {minimum_size: 20 pt}
lines: {minimum_width: 1 pt}
keep_clear: [{name: cassette, box: [0, 0, 850 mm, 150 mm], corner: bottom-left}]
folds: [{at: 400 mm, axis: horizontal}]
spine: {page_width: 400 mm, caliper: 10 mm}
""")


def test_a_sheet_of_one_size_and_scale_is_its_own_only_variant() -> None:
    sheet = SpecSheet(trim=TrimAsked(width_mm=210, height_mm=297))
    assert variants(sheet) == (sheet,)
    assert variants(SpecSheet()) == (SpecSheet(),)


def test_a_tenth_of_the_size_has_a_tenth_of_each_length_and_ten_times_the_pixels() -> None:
    full, small = variants(ROLL_UP)
    assert full.trim is not None
    assert (full.trim.width_mm, full.bleed) == (850, ROLL_UP.bleed)
    assert small == read_sheet_text("""
trim: {width: 85 mm, height: 200 mm, tolerance: 0.5 mm}
bleed: {minimum: 1 mm, maximum: 5 mm, head: 2 mm}
margin: {minimum: 2 mm, preferred: 5 mm}
marks: {crop_marks: allowed, offset_minimum: 1 mm}
color: {ink_limit: 300 %, ink_area: 15 mm²}
images: {contone_ppi: {minimum: 720, preferred: 1000, maximum: 3000}}
text: {minimum_size: 2 pt}
lines: {minimum_width: 0.1 pt}
keep_clear: [{name: cassette, box: [0, 185 mm, 85 mm, 200 mm]}]
folds: [{at: 40 mm, axis: horizontal}]
spine: {page_width: 40 mm, caliper: 1 mm, tolerance: 0.1 mm}
""")


def test_rounding_to_points_is_never_out_of_tolerance() -> None:
    _, small = variants(SpecSheet(trim=TrimAsked(width_mm=100, height_mm=200, tolerance_mm=0.5, scales=(1, 10))))
    assert small.trim is not None
    assert small.trim.tolerance_mm == 0.2


def test_an_area_keeps_its_corner_in_every_size() -> None:
    area = KeepClearArea(name="machine code", box_mm=Box(0, 0, 150, 15), corner="bottom-right")
    trim = TrimAsked(width_mm=210, height_mm=99, orientation="landscape", alternatives=(OtherSize(210, 105), OtherSize(100, 210)))
    ways = variants(SpecSheet(trim=trim, keep_clear=(area,)))
    assert [way.keep_clear[0].box_mm for way in ways] == [(60, 84, 210, 99), (60, 90, 210, 105), (-50, 195, 100, 210)]
    assert [way.trim.orientation for way in ways if way.trim] == ["landscape", "landscape", "portrait"]
