"""What a sheet may say, and how a refusal names the place and the way out."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.pdf.facts.geometry import Box
from service.sheets.format.validation import SheetRefused, asks_for_something, read_sheet, read_sheet_text
from tests.patience import processor_seconds
from tests.sheets.complete import COMPLETE

RULES = ("trim.size", "image.compression", "image.resolution", "copy.placeholder")


def refusals(document: Any, *, stored: bool = False) -> dict[str, str]:
    with pytest.raises(SheetRefused) as refused:
        read_sheet(document, stored=stored, known_rules=RULES)
    return dict(refused.value.errors)


def pointers(document: Any, *, stored: bool = False) -> set[str]:
    return set(refusals(document, stored=stored))


# --- What is read -----------------------------------------------------------------------------------------------------


def test_every_key_of_the_format_arrives_in_its_unit() -> None:
    sheet = read_sheet_text(COMPLETE, stored=True, known_rules=RULES)
    assert sheet.file is not None
    assert (sheet.file.maximum_size_bytes, sheet.file.minimum_version, sheet.file.maximum_version) == (100_000_000, "1.3", "2.0")
    assert sheet.trim is not None
    assert (sheet.trim.width_mm, sheet.trim.height_mm, sheet.trim.tolerance_mm) == (139.7, 215.9, 0.396875)
    assert sheet.bleed is not None
    assert sheet.bleed.minimum_mm == 3.175
    assert sheet.color is not None
    assert (sheet.color.ink_limit_percent, sheet.color.ink_area_mm2) == (300.0, 20.0)
    assert sheet.images is not None
    assert sheet.images.contone is not None
    assert (sheet.images.contone.minimum_ppi, sheet.images.contone.preferred_ppi) == (200.0, 300.0)
    assert sheet.text is not None
    assert sheet.text.reversed_minimum_size_pt == pytest.approx(5.669291, abs=1e-6)
    assert sheet.keep_clear[0].box_mm == Box(20, 45, 120, 200)
    assert sheet.levels == {"image.compression": "off", "copy.placeholder": "must"}
    assert sheet.regions == ("GB", "NO")


def test_what_a_sheet_leaves_out_is_not_asked() -> None:
    sheet = read_sheet({"trim": {"width": 85, "height": "5.5 cm"}})
    assert sheet.trim is not None
    assert (sheet.trim.width_mm, sheet.trim.height_mm, sheet.trim.tolerance_mm, sheet.trim.orientation) == (
        85.0,
        55.0,
        0.5,
        "any",
    )
    assert [sheet.bleed, sheet.color, sheet.images, sheet.file] == [None] * 4
    assert (sheet.id, sheet.title, sheet.purpose) == (None, None, "print")


def test_a_rule_is_turned_off_by_the_word_off_or_by_what_yaml_1_1_makes_of_it() -> None:
    assert read_sheet_text("bleed: {minimum: 3}\nlevels: {image.compression: off}").levels == {"image.compression": "off"}
    assert read_sheet({"bleed": {"minimum": 3}, "levels": {"image.compression": False}}).levels == {"image.compression": "off"}
    assert pointers({"bleed": {"minimum": 3}, "levels": {"image.compression": True}}) == {"/levels/image.compression"}


def test_a_pdf_version_may_stand_without_quotes() -> None:
    sheet = read_sheet_text("file: {pdf_versions: {minimum: 1.4, maximum: 2}}")
    assert sheet.file is not None
    assert (sheet.file.minimum_version, sheet.file.maximum_version) == ("1.4", "2.0")
    assert pointers({"file": {"pdf_versions": {"minimum": True}}}) == {"/file/pdf_versions/minimum"}


# --- What is refused --------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("document", "pointer", "meant"),
    [
        ({"blead": {"minimum": 3}}, "/blead", "‘bleed’"),
        ({"bleed": {"minimum": 3, "maximun": 5}}, "/bleed/maximun", "‘maximum’"),
        ({"pages": {"allowed": [1], "orientation": "portrait"}}, "/pages/orientation", "‘trim.orientation’"),
        ({"standards": ["PDF/X-4"], "bleed": {"minimum": 3}}, "/standards", "‘file.standards’"),
        ({"color": {"spots": {"maximum": 0, "alowed": []}}}, "/color/spots/alowed", "‘allowed’"),
        ({"keep_clear": [{"name": "a", "box": [0, 0, 1, 1], "boxes": 1}]}, "/keep_clear/0/boxes", "‘box’"),
        ({"a/b~c": 1, "bleed": {"minimum": 3}}, "/a~1b~0c", "known here: id"),
        ({"bleed": {"minimum": 3}, "levels": {"image.compresion": "off"}}, "/levels/image.compresion", "‘image.compression’"),
        ({"trim": {"width": 1, "height": 2, "orientation": "potrait"}}, "/trim/orientation", "‘portrait’"),
        ({"file": {"standards": ["PDF/X-4", "PDF/X1a"]}}, "/file/standards/1", "‘PDF/X-1a’"),
    ],
)
def test_an_unknown_word_is_refused_with_the_nearest_known_one(document: Any, pointer: str, meant: str) -> None:
    assert pointers(document) == {pointer}
    assert meant in refusals(document)[pointer]


@pytest.mark.parametrize(
    ("document", "pointer"),
    [
        ({"bleed": {"minimum": "-3 mm"}}, "/bleed/minimum"),
        ({"bleed": {"minimum": "3"}}, "/bleed/minimum"),
        ({"bleed": {}}, "/bleed/minimum"),
        ({"bleed": None}, "/bleed"),
        ({"bleed": "3 mm"}, "/bleed"),
        ({"bleed": {"minimum": 3, "note": "  "}}, "/bleed/note"),
        ({"bleed": {"minimum": 3, "note": "bell \a"}}, "/bleed/note"),
        ({"bleed": {"minimum": 3, "note": "half a pair \ud800"}}, "/bleed/note"),
        ({"bleed": {"minimum": 3, "level": "may"}}, "/bleed/level"),
        ({"trim": {"width": 0, "height": 55}}, "/trim/width"),
        ({"trim": {"width": 85}}, "/trim/height"),
        ({"pages": {"multiple_of": 0}}, "/pages/multiple_of"),
        ({"pages": {"allowed": []}}, "/pages/allowed"),
        ({"pages": {"allowed": [1, 1.5]}}, "/pages/allowed/1"),
        ({"pages": {"allowed": [1, None]}}, "/pages/allowed/1"),
        ({"pages": {"allowed": [2, 2]}}, "/pages/allowed/1"),
        ({"pages": {"allowed": 2}}, "/pages/allowed"),
        ({"pages": {"minimum": True}}, "/pages/minimum"),
        ({"pages": {"minimum": "8"}}, "/pages/minimum"),
        ({"pages": {"minimum": float("inf")}}, "/pages/minimum"),
        ({"pages": {"minimum": 10**400}}, "/pages/minimum"),
        ({"images": {"contone_ppi": 300}}, "/images/contone_ppi"),
        ({"images": {"contone_ppi": {}}}, "/images/contone_ppi"),
        ({"images": {"contone_ppi": {"minimum": 0}}}, "/images/contone_ppi/minimum"),
        ({"color": {"allowed": ["cmyk", "CMYK"]}}, "/color/allowed/1"),
        ({"keep_clear": {"name": "a"}}, "/keep_clear"),
        ({"keep_clear": [{"name": "a", "box": [0, 0, "x", 1]}]}, "/keep_clear/0/box/2"),
        ({"keep_clear": [{"name": "a", "box": [0, 0, 1]}]}, "/keep_clear/0/box"),
        ({"keep_clear": [{"name": "a", "box": [9, 0, 1, 1]}]}, "/keep_clear/0/box"),
        ({"folds": [{"at": 97}]}, "/folds/0/axis"),
        ({"finishes": [{"ink": "Foil", "must_overprint": "maybe"}]}, "/finishes/0/must_overprint"),
        ({"bleed": {"minimum": 3}, "regions": ["gb"]}, "/regions/0"),
        ({"bleed": {"minimum": 3}, "regions": [False]}, "/regions/0"),
        ({"bleed": {"minimum": 3}, "id": "Business Card"}, "/id"),
        ({"bleed": {"minimum": 3}, "title": 12}, "/title"),
        ({"bleed": {"minimum": 3}, "levels": []}, "/levels"),
    ],
)
def test_a_value_that_cannot_be_is_refused_at_its_place(document: Any, pointer: str) -> None:
    assert pointers(document) == {pointer}


@pytest.mark.parametrize(
    ("document", "pointer"),
    [
        ({"pages": {"minimum": 9, "maximum": 8}}, "/pages/minimum"),
        ({"pages": {"allowed": [1, 2], "minimum": 1}}, "/pages/minimum"),
        ({"pages": {"allowed": [1, 2], "maximum": 2}}, "/pages/maximum"),
        ({"pages": {"allowed": [8, 10], "multiple_of": 4}}, "/pages/allowed/1"),
        ({"pages": {"minimum": 5, "maximum": 7, "multiple_of": 4}}, "/pages/multiple_of"),
        ({"bleed": {"minimum": "5 mm", "maximum": "3 mm"}}, "/bleed/minimum"),
        ({"images": {"contone_ppi": {"minimum": 300, "preferred": 200}}}, "/images/contone_ppi/preferred"),
        ({"images": {"bilevel_ppi": {"minimum": 1200, "maximum": 600}}}, "/images/bilevel_ppi/minimum"),
        ({"file": {"pdf_versions": {"minimum": "2.0", "maximum": "1.7"}}}, "/file/pdf_versions/minimum"),
        ({"file": {"standards_level": "should"}}, "/file/standards_level"),
        ({"trim": {"width": 85, "height": 55, "orientation": "portrait"}}, "/trim/orientation"),
        ({"trim": {"width": 85, "height": 55, "tolerance": 55}}, "/trim/tolerance"),
        ({"trim": {"width": 85, "height": 55}, "margin": {"minimum": 28}}, "/margin/minimum"),
        ({"bleed": {"minimum": 3}, "folding": {"type": "roll"}}, "/folding/type"),
        ({"folds": [{"at": 97, "axis": "vertical"}], "folding": {"type": "roll"}}, "/folding/type"),
        ({"folds": [{"at": 9, "axis": one} for one in ("vertical", "horizontal")], "folding": {"type": "roll"}}, "/folding/type"),
        ({"marks": {"crop_marks": "forbidden", "offset_minimum": 3}}, "/marks/offset_minimum"),
        ({"color": {"spots": {"maximum": 0, "allowed": ["Copper"]}}}, "/color/spots/allowed"),
        ({"color": {"allowed": ["cmyk", "rgb"], "rgb_level": "must"}}, "/color/rgb_level"),
        ({"color": {"allowed": ["cmyk"], "ink_area": 20}}, "/color/ink_area"),
        ({"finishes": [{"ink": "Foil"}, {"ink": "Foil", "required": True}]}, "/finishes/1/ink"),
    ],
)
def test_what_cannot_stand_together_is_refused(document: Any, pointer: str) -> None:
    assert pointers(document) == {pointer}


@pytest.mark.parametrize(
    "document",
    [
        {"pages": {"minimum": 8, "maximum": 8}},
        {"pages": {"minimum": 5, "maximum": 8, "multiple_of": 4}},
        {"pages": {"maximum": 4, "multiple_of": 4}},
        {"pages": {"allowed": [8, 12], "multiple_of": 4}},
        {"bleed": {"minimum": 0}},
        {"bleed": {"minimum": 3, "maximum": 3}},
        {"images": {"contone_ppi": {"minimum": 300, "preferred": 300, "maximum": 300}}},
        {"trim": {"width": 100, "height": 100, "orientation": "portrait"}},
        {"trim": {"width": 85, "height": 55}, "margin": {"minimum": 27}},
        {"folds": [{"at": 97, "axis": "vertical"}, {"at": 97, "axis": "horizontal"}], "folding": {"type": "half"}},
        {"folds": [{"at": 97, "axis": "vertical"}, {"at": 197, "axis": "vertical"}], "folding": {"type": "roll"}},
    ],
)
def test_what_just_stands_together_is_read(document: Any) -> None:
    assert read_sheet(document)


def test_all_mistakes_come_at_once() -> None:
    assert pointers(
        {
            "blead": 1,
            "trim": {"width": "-1 mm", "heigth": 55},
            "pages": {"minimum": 9, "maximum": 8, "arrangement": "any"},
            "keep_clear": [{"name": "a", "box": [0, 0, 1, 1]}, {"box": 3}],
            "levels": {"x.y": "off", "trim.size": "never"},
        },
        stored=True,
    ) == {
        *("/blead", "/trim/width", "/trim/height", "/trim/heigth", "/pages/minimum", "/keep_clear/1/name", "/keep_clear/1/box"),
        *("/levels/x.y", "/levels/trim.size", "/id", "/title", "/product"),
    }


def test_the_detail_is_a_sentence_that_begins_with_the_key() -> None:
    assert refusals({"pages": {"multiple_of": 0}})["/pages/multiple_of"] == "pages.multiple_of must be 1 or more; found 0."


@pytest.mark.parametrize(
    "document",
    [
        {},
        {"id": "a", "title": "A", "product": "a", "purpose": "print"},
        {"note": "Be nice."},
        {"levels": {"trim.size": "should"}},
        {"pages": {"arrangement": "any"}},
        {"file": {"encryption": "allowed"}, "transparency": {"live": "allowed"}, "fonts": {"embedded": "allowed"}},
    ],
)
def test_a_sheet_that_asks_for_nothing_is_refused(document: Any) -> None:
    assert pointers(document) == {""}


def test_a_block_that_asks_for_nothing_is_refused() -> None:
    assert pointers({"bleed": {"minimum": 3}, "file": {"note": "Small, please."}, "pages": {}}) == {"/file", "/pages"}


def test_a_stored_sheet_needs_its_identity_and_an_inline_one_does_not() -> None:
    assert read_sheet({"bleed": {"minimum": 3}})
    assert pointers({"bleed": {"minimum": 3}, "title": "A"}, stored=True) == {"/id", "/product"}


@pytest.mark.parametrize("document", [None, [], "bleed", 3, True])
def test_what_is_no_block_is_no_sheet(document: Any) -> None:
    assert pointers(document) == {""}


def test_a_huge_or_deep_document_is_refused_quickly() -> None:
    deep: dict[str, Any] = {}
    for _ in range(5_000):
        deep = {"bleed": deep}
    with processor_seconds(at_most=6):
        assert pointers(deep) == {"/bleed/bleed/bleed"}
        assert pointers({f"key-{n}": n for n in range(100_000)}) == {""}
        with pytest.raises(SheetRefused) as refused:
            read_sheet({f"blee{n}": n for n in range(1_900)})
        assert len(refused.value.errors) == 101
        assert pointers({3: "x", "bleed": {"minimum": 3}}) == {""}


json_values = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=10),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(max_size=8), inner, max_size=4),
    max_leaves=8,
)
keys = st.sampled_from(
    ["file", "pages", "trim", "color", "images", "keep_clear", "folds", "finishes", "levels", "references", "regions", "id"]
)
inner_keys = st.sampled_from(
    ["width", "minimum", "allowed", "spots", "contone_ppi", "box", "pdf_versions", "note", "level", "_schema"]
)


@given(st.dictionaries(keys, json_values | st.dictionaries(inner_keys, json_values, max_size=3), max_size=5))
def test_any_document_is_read_or_refused(document: dict[str, Any]) -> None:
    errors: tuple[tuple[str, str], ...] = ()
    try:
        sheet = read_sheet(document, known_rules=RULES)
    except SheetRefused as refused:
        errors = refused.errors
    else:
        assert asks_for_something(sheet)
        return
    assert errors
    assert all(pointer == "" or pointer.startswith("/") for pointer, _ in errors)
