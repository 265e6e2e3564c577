"""A sheet written in its own format is the same sheet when it is read again."""

from __future__ import annotations

import dataclasses
import json
import subprocess
import sys

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from service.pdf.facts.geometry import Box
from service.sheets.catalogue import stored_sheets
from service.sheets.format.validation import SheetRefused, read_sheet, read_sheet_text
from service.sheets.format.writing import digest, sheet_to_document, sheet_to_yaml
from service.sheets.model import BleedAsked, ColorAsked, FileAsked, Finish, KeepClearArea, SpecSheet, SpotsAsked, TrimAsked
from tests.sheets.complete import COMPLETE

SHEETS = [read_sheet_text(COMPLETE), *stored_sheets().values()]


@pytest.mark.parametrize("sheet", SHEETS, ids=lambda sheet: str(sheet.id))
def test_a_sheet_survives_the_round_trip(sheet: SpecSheet) -> None:
    assert read_sheet(sheet_to_document(sheet)) == sheet
    assert read_sheet(json.loads(json.dumps(sheet_to_document(sheet)))) == sheet
    assert read_sheet_text(sheet_to_yaml(sheet)) == sheet


def test_the_complete_sheet_uses_every_field_of_the_model() -> None:
    """So that the round trip above leaves no field out."""
    sheet = read_sheet_text(COMPLETE)
    unused = {field.name for field in dataclasses.fields(sheet) if not getattr(sheet, field.name)}
    assert unused == set()


def test_lengths_are_written_with_their_unit() -> None:
    document = sheet_to_document(read_sheet({"trim": {"width": "3.5 in", "height": "2 in"}, "bleed": {"minimum": "1/8 in"}}))
    assert document["trim"] == {"width": "88.9 mm", "height": "50.8 mm", "tolerance": "0.5 mm", "orientation": "any"}
    assert document["bleed"] == {"minimum": "3.175 mm"}


def test_a_general_yaml_reader_finds_the_same_words() -> None:
    """PyYAML reads YAML 1.1: `off`, `NO` and '1.3' must have been quoted for it."""
    loader = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
    for sheet in SHEETS:
        assert yaml.load(sheet_to_yaml(sheet), loader) == sheet_to_document(sheet)


texts = st.text(min_size=1, max_size=30) | st.sampled_from(
    ["off", "NO", "08", "1e5", "1.0", "~", "<<", "=", "2024-01-01", "*a", "- a"]
)
TEXTS = {"/note", "/color/spots/allowed/0", "/keep_clear/0/name", "/finishes/0/ink"}
lengths = st.floats(min_value=0.001, max_value=90_000, allow_nan=False)


@given(
    note=texts, ink=texts, width=lengths, bleed=st.just(0.0) | st.floats(0.001, 100), size=st.integers(1, 10**11), side=lengths
)
def test_any_sheet_that_can_be_read_survives_the_round_trip(
    note: str, ink: str, width: float, bleed: float, size: int, side: float
) -> None:
    sheet = SpecSheet(
        note=note,
        file=FileAsked(maximum_size_bytes=size),
        trim=TrimAsked(width_mm=width, height_mm=90_001, tolerance_mm=0),
        bleed=BleedAsked(minimum_mm=round(bleed, 6)),
        color=ColorAsked(spots=SpotsAsked(allowed=(ink,))),
        keep_clear=(KeepClearArea(name=ink, box_mm=Box(0, 0, side, side)),),
        finishes=(Finish(ink=ink),),
        levels={"trim.size": "off"},
    )
    document = sheet_to_document(sheet)
    errors: tuple[tuple[str, str], ...] = ()
    try:
        read = read_sheet(document)
    except SheetRefused as refused:
        errors = refused.errors
    if errors:  # control characters and the like
        assert {pointer for pointer, _ in errors} <= TEXTS
        return
    assert read == sheet
    assert read_sheet_text(sheet_to_yaml(sheet)) == sheet
    assert read_sheet_text(json.dumps(document)) == sheet


def test_the_digest_is_of_what_the_sheet_says_and_not_of_how_it_was_written() -> None:
    in_inches = read_sheet_text("bleed: {minimum: 1/8 in}\ntrim: {width: 3.5 in, height: 2 in}")
    in_points = read_sheet_text('{"trim": {"height": 50.8, "width": 88.9}, "bleed": {"minimum": "9 pt"}}')
    assert digest(in_inches) == digest(in_points)
    assert len(digest(in_inches)) == 64
    assert digest(in_inches) != digest(read_sheet_text("bleed: {minimum: 3 mm}\ntrim: {width: 3.5 in, height: 2 in}"))


def test_the_digest_is_the_same_in_another_process() -> None:
    imports = "from service.sheets.catalogue import find; from service.sheets.format.writing import digest"
    command = f"{imports}; print(digest(find('client-preview')))"
    said = subprocess.run([sys.executable, "-c", command], capture_output=True, text=True, check=True, timeout=60).stdout.strip()
    assert said == digest(stored_sheets()["client-preview"])


OLD = """
id: cover-and-more
title: Everything that there was
product: everything
file: {maximum_size: 100 MB, standards: [PDF/X-4], encryption: forbidden, output_conditions: [FOGRA51]}
pages: {minimum: 8, maximum: 64, multiple_of: 4, arrangement: single-pages}
trim: {width: 148 mm, height: 210 mm, tolerance: 0.5 mm, orientation: portrait}
bleed: {minimum: 3 mm, maximum: 10 mm}
margin: {minimum: 3 mm, level: should}
color: {allowed: [cmyk, gray], spots: {maximum: 0}, ink_limit: 300 %, rgb_level: must}
images: {contone_ppi: {minimum: 200, preferred: 300}}
text: {minimum_size: 5 pt, rich_black_minimum_size: 14 pt}
fonts: {embedded: required}
keep_clear: [{name: stamp, box: [74 mm, 0, 148 mm, 40 mm], pages: [2]}]
folds: [{at: 97 mm, axis: vertical}]
spine: {page_width: 148 mm, caliper: 0.11 mm}
finishes: [{ink: Varnish, must_overprint: true}]
"""
"""Written before sizes, scales, edges, wishes and papers could be asked for."""


def test_a_sheet_without_new_keys_means_what_it_meant_byte_for_byte() -> None:
    """The digest as it was before the format grew; a check that is signed with it stays what it was."""
    assert digest(read_sheet_text(OLD)) == "426ba300bbfe00ec311be826711be6c899c44532f90385bc8133ff6095404e7a"
