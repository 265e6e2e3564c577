"""The form is the format: each key has its question, and what is filled in is the sheet again."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from marshmallow import Schema, fields

from service.language.spoken import speaking
from service.sheets import catalogue
from service.sheets.catalogue import laid_over_its_base
from service.sheets.differences import Change
from service.sheets.format.blocks import whole_sheet
from service.sheets.format.fields import length
from service.sheets.format.validation import read_sheet, read_sheet_text
from service.sheets.format.writing import sheet_to_document
from service.web.writing.controls import Control, Group, Ready, every_control, form_of
from service.web.writing.draft import Draft, from_sheet
from service.web.writing.entered import document_of
from service.web.writing.questions import BLOCKS, COUNTED_BY_US, question_of
from service.web.writing.told import differing
from tests.sheets.complete import COMPLETE
from tests.web.writing.filled import filled


def places(schema: Schema, place: str = "") -> list[str]:
    """Of every key that somebody answers: 'keep_clear.box'."""
    found = []
    for name, one in schema.load_fields.items():
        key = f"{place}.{one.data_key or name}".removeprefix(".")
        inner = one.inner if isinstance(one, fields.List) else one
        found += [key]
        found += places(inner.schema, key) if isinstance(inner, fields.Nested) else []
    return found


def test_every_key_of_the_format_has_a_question_of_its_own() -> None:
    """In `service/web/writing/questions.py`: without one it is asked by its description, in English."""
    blocks = {key for key in places(whole_sheet()) if "." not in key and question_of(key) is None}
    assert [key for key in places(whole_sheet()) if "." in key and question_of(key) is None] == []
    assert blocks - set(BLOCKS) == COUNTED_BY_US


def test_a_key_that_nobody_has_written_a_question_for_is_asked_all_the_same(monkeypatch: pytest.MonkeyPatch) -> None:
    new = length("How far the grain may turn.")
    bleed: Any = whole_sheet().fields["bleed"]
    monkeypatch.setitem(bleed.schema.load_fields, "grain_mm", new)
    (block,) = [one for one in form_of({}, Ready()) if one.name == "/bleed"]
    assert isinstance(block, Group)
    (control,) = [one for one in every_control(block.more) if one.name == "/bleed/grain_mm"]
    assert control.label == "How far the grain may turn."
    assert document_of({"/bleed/grain_mm": ["3 mm"]}) == {"bleed": {"grain_mm": "3 mm"}}


def test_every_stored_sheet_and_family_comes_back_out_of_its_form_as_it_is() -> None:
    for base_id in catalogue.base_ids():
        draft = from_sheet(base_id)
        assert document_of(filled(form_of(draft.document, Ready()))) == draft.document, base_id


def test_what_is_kept_of_an_unchanged_start_is_its_base_alone_and_stands_for_the_same() -> None:
    for sheet_id in catalogue.sheet_ids():
        sent = replace(from_sheet(sheet_id), document={**from_sheet(sheet_id).document, "title": "Mine"}).to_send()
        assert sent == {"extends": sheet_id, "title": "Mine"}
        there = catalogue.find(sheet_id)
        assert there is not None
        assert read_sheet(laid_over_its_base(sent)) == replace(there, id=None, revision=None, aliases=(), title="Mine")


def test_a_sheet_with_every_key_comes_back_too() -> None:
    document = sheet_to_document(read_sheet_text(COMPLETE))
    kept = {key: value for key, value in document.items() if key != "revision"}
    assert document_of(filled(form_of(document, Ready()))) == kept


@pytest.mark.parametrize(
    ("name", "written", "read"),
    [
        ("/bleed/minimum", "3", {"bleed": {"minimum": 3}}),
        ("/bleed/minimum", " 1/8 in ", {"bleed": {"minimum": "1/8 in"}}),
        ("/bleed/minimum", "1,5 mm", {"bleed": {"minimum": "1,5 mm"}}),
        ("/pages/allowed", "1, 2 4", {"pages": {"allowed": [1, 2, 4]}}),
        ("/pages/allowed", "two", {"pages": {"allowed": ["two"]}}),
        ("/regions", "GB, DE", {"regions": ["GB", "DE"]}),
        ("/names", "one, two\r\nthree\n", {"names": ["one, two", "three"]}),
        ("/title", "7", {"title": "7"}),
        ("/text/black_alone", "true", {"text": {"black_alone": True}}),
        ("/keep_clear/0/box/2", "20", {"keep_clear": [{"box": ["", "", 20, ""]}]}),
        ("/folds/3", "", {"folds": [{}]}),
        ("/levels/trim.size", "should", {"levels": {"trim.size": "should"}}),
        ("/revision", "7", {}),
        ("/trim/width", "", {}),
    ],
)
def test_what_is_written_is_read_and_nothing_of_it_lost(name: str, written: str, read: dict[str, Any]) -> None:
    assert document_of({name: [written]}) == read


def test_levels_are_chosen_and_compared_by_their_words() -> None:
    with speaking("de"):
        parts = form_of({"finishes": [{"ink": "Cutting"}], "levels": {"text.inks": "off"}}, Ready())
        chosen = [one for one in every_control(parts) if isinstance(one, Control) and one.name.endswith("level")]
        assert len(chosen) > 5
        assert {pair for one in chosen for pair in one.options} == {("must", "ein Muss"), ("should", "ein Wunsch, kein Muss")}
        told = differing([Change(("levels",), {"file.size": "should", "text.inks": "off"}, None)], parts)
    assert told[0].before == "file.size: ein Wunsch, kein Muss, text.inks: wird nicht geprüft"


def test_a_decimal_comma_is_one_where_people_write_it() -> None:
    with speaking("de"):
        assert document_of({"/bleed/minimum": ["1,5 mm"]}) == {"bleed": {"minimum": "1.5 mm"}}
        assert document_of({"/bleed/minimum": ["1,500 mm"]}) == {"bleed": {"minimum": "1,500 mm"}}, "left to be refused"


def test_what_is_refused_holds_up_nothing_else() -> None:
    draft = Draft({
        "trim": {"width": "85 mm", "height": "55 mm", "tolerance": "much"}, "bleed": {"maximum": "5 mm"},
        "keep_clear": [{"name": "hole", "box": ["", "", 20, ""]}, {"name": "stamp", "box": [1, 1, 9, 9]}], "folds": [{}],
    })
    assert {pointer for pointer, _ in draft.errors} == {
        "/trim/tolerance", "/bleed/minimum", "/keep_clear/0/box/0", "/keep_clear/0/box/1", "/keep_clear/0/box/3",
        "/folds/0/at", "/folds/0/axis",
    }
    readable = draft.readable
    assert readable is not None
    assert (readable.trim and readable.trim.width_mm, readable.bleed, readable.folds) == (85, None, ())
    assert [area.name for area in readable.keep_clear] == ["stamp"]
    assert Draft({"bleed": "wide"}).readable is None
