"""Sheets as nobody wrote them: right ones made from the kinds of values that the format has, and ones with something wrong.

They are made from the list of keys and the README of the format, not from the JSON Schema.
"""

from __future__ import annotations

import copy
from functools import cache
from typing import Any

from hypothesis import strategies as st
from marshmallow import fields

from service.sheets.format.block import BlockSchema
from service.sheets.format.blocks import SpecSheetSchema
from service.sheets.format.fields import BoxOnPage, Choice, Flag, Levels, Many, Quantity, Whole, Words
from service.sheets.format.lengths import parse_area_mm2, parse_bytes, parse_length_mm, parse_percent, parse_ppi, parse_type_pt

Document = dict[str, Any]

NUMBERS = st.sampled_from(
    [*[".5", "3", "03", "3.175", "1/8", "3 1/2", "12", "200", "297.0", "+3", "1 0/1"] * 3, "0", "0.0", "0 0/4", "-0"]
)
UNITS = {
    parse_length_mm: ["mm", "cm", "m", "in", "IN", "inch", "Inches", '"', "″", "pt", "points"],
    parse_type_pt: ["pt", "mm", "Pt", "points"],
    parse_percent: ["%", "percent"],
    parse_ppi: ["ppi", "dpi", "DPI"],
    parse_area_mm2: ["mm²", "mm2", "MM2"],
    parse_bytes: ["B", "kB", "MB", "MiB", "\u212ab", "GB"],
}
SPACE = st.sampled_from(["", " ", "  "])
JUNK = st.one_of(
    st.none(),
    st.booleans(),
    st.integers(-5, 5),
    st.sampled_from([1.5, -0.5, 1e13, 2_000_000, 10**30]),
    st.text(max_size=8),
    st.sampled_from(
        [
            "3",
            "3mm",
            "3,5 mm",
            "3 furlongs",
            "-3 mm",
            "1/0 in",
            "0 mm",
            "3 mm\n",
            " 3 mm",
            "3 \tmm",
            "a\x07b",
            "a\r\nb",
            "a\rb",
            "  ",
            "200 m",
            "1e3 mm",
            "3.",
            "0.1 B",
            "x" * 70,
            "x" * 300,
            "any",
            "allowed",
            "yes",
            "2.0",
            "rgb",
            "gb",
            "GB",
            "A\n",
            "\ud800",
            "9" * 40 + " mm",
            "3 mm3",
            "three",
            "½ in",
            "3 mm2",
        ]
    ),
    st.just([]),
    st.just({}),
    st.just({"minimum": 3}),
    st.just(["cmyk", "cmyk"]),
    st.just([1, 2]),
    st.just({"note": "n"}),
)


def sheets() -> st.SearchStrategy[Document]:
    """About half of them are right; others hold a 0 where none is taken, or contradict themselves."""
    return block(SpecSheetSchema(), chance=10)


def broken_sheets() -> st.SearchStrategy[Document]:
    """Changed in one to three places, which does not always break them."""
    return st.builds(
        _changed, sheets(), st.lists(st.tuples(st.integers(0, 10_000), st.integers(0, 5), JUNK), min_size=1, max_size=2)
    )


@st.composite
def block(draw: st.DrawFn, schema: BlockSchema, chance: int = 4) -> Document:
    """The required keys, at least one, and each other one in one case of `chance`."""
    keys, certain_keys, one_in_chance = _of_block(schema, chance)
    certain = draw(certain_keys)
    return {
        key: draw(value(field)) for key, field in keys.items() if field.required or key == certain or draw(one_in_chance) == 1
    }


@cache  # a strategy that is made for each sheet anew takes nine tenths of the time
def _of_block(schema: BlockSchema, chance: int) -> tuple[dict[str, Any], st.SearchStrategy[str], st.SearchStrategy[int]]:
    keys = {field.data_key or name: field for name, field in schema.load_fields.items()}
    certain = [key for key in keys if key not in ("level", "note", "id", "revision", "folding", "names", "aliases", "papers")]
    return keys, st.sampled_from(certain), st.integers(1, chance)


@cache
def value(field: fields.Field[Any]) -> st.SearchStrategy[Any]:
    match field:
        case fields.Nested(schema=BlockSchema() as inner):
            return block(inner)
        case Many():
            return st.lists(value(field.inner), min_size=1, max_size=2, unique_by=repr) | st.lists(
                value(field.inner), min_size=1, max_size=3
            )
        case Quantity():
            return _quantity(field)
        case BoxOnPage():
            return st.sampled_from([[0, 0, "10 mm", 20], ["1 in", "2 cm", "30 mm", "40 mm"], [0, 0, 0, 0], [5, 5, "1 mm", 9]])
        case Choice():
            return st.sampled_from([*field.words, *field.also])
        case Words(form="[A-Z]{2}"):
            return st.sampled_from(["GB", "DE", "GB", "DE", "a4"])
        case Words(form=str()):
            return st.sampled_from(["a4", "card-85x55", "a4", "card-85x55", "GB"])
        case Words():
            return st.sampled_from(["Varnish", "allowed", "two\r\nlines", "x" * field.longest, "Größe", "any"])
        case Whole():
            return st.sampled_from([field.least, 4, 8, 8.0, 12, 64])
        case Flag():
            return st.sampled_from([True, False, "yes", "no"])
        case Levels():
            return st.dictionaries(st.sampled_from(["trim.size", "image.compression"]), st.sampled_from(["must", "off", False]))
    raise TypeError(f"no values are known for {field!r}")


def _quantity(field: Quantity) -> st.SearchStrategy[str | float | int]:
    plain = st.sampled_from([*[1, 3, 3.5, 85, 210, 300, 99_999] * 3, 0, 0.0])
    return plain | st.builds("{}{}{}".format, NUMBERS, SPACE, st.sampled_from(UNITS[field.reads]))


def _changed(document: Document, changes: list[tuple[int, int, Any]]) -> Document:
    document = copy.deepcopy(document)
    for place, kind, junk in changes:
        places = list(_places(document))
        if not places:
            document["bleed"] = junk
            continue
        inside, key = places[place % len(places)]
        if kind == 0:
            del inside[key]
        elif kind == 1 and isinstance(inside, dict):
            inside[["minimun", "level", "note", "allowed", "maximum"][place % 5]] = junk
        elif kind == 2 and isinstance(inside, list):
            inside.append(copy.deepcopy(inside[key]))
        else:
            inside[key] = copy.deepcopy(junk)
    return document


def _places(value: Any) -> Any:
    inner = list(value.items()) if isinstance(value, dict) else list(enumerate(value)) if isinstance(value, list) else []
    for key, one in inner:
        yield value, key
        yield from _places(one)
