"""The JSON Schema (draft 2020-12) of a spec sheet, made from the schemas that read one: it accepts and refuses the same sheets.

What JSON Schema can say of keys that stand together it says; what it cannot is listed under `x-further-rules`, and a sheet that
breaks one of those alone passes here and is refused by the service. A sheet that `extends` another is described as a patch: what
it becomes is known only once it is laid over its base.

Source: JSON Schema Core and Validation, draft 2020-12 (json-schema.org/draft/2020-12).
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from typing import Any

from marshmallow import fields

from service.sheets.extending import EXTENDS
from service.sheets.format.block import BlockSchema
from service.sheets.format.blocks import PagesSchema, SpecSheetSchema, whole_sheet
from service.sheets.format.color_block import ColorSchema, SpotsSchema
from service.sheets.format.edge_blocks import EDGES, MarginSchema, MarginStepSchema, MarksSchema, PartSchema
from service.sheets.format.fields import LARGEST_WHOLE_NUMBER, BoxOnPage, Choice, Flag, Levels, Many, Quantity, Whole, Words
from service.sheets.format.file_block import PDF_VERSIONS, FileSchema, VersionsSchema
from service.sheets.format.lengths import (
    LARGEST_LENGTH_MM,
    LARGEST_NUMBER,
    LONGEST_TEXT,
    SMALLEST_NUMBER,
    UNITS_READ,
    parse_bytes,
    parse_length_mm,
)
from service.sheets.format.validation import ASKING, ASKS_NOTHING, IDENTITY, LONGEST_KEY, ONLY_HOW
from service.sheets.format.written_forms import quantity, words

DIALECT = "https://json-schema.org/draft/2020-12/schema"
MEDIA_TYPE = "application/schema+json"

JsonSchema = dict[str, Any]

_LEVEL_AND_NOTE = {"level", "note"}
_ALLOWS = [word for word in ASKS_NOTHING if isinstance(word, str)]


@dataclass(frozen=True)
class FurtherRule:
    """What a schema cannot say."""

    says: str
    refusal: str
    """Part of the sentence with which the service refuses a sheet that breaks it."""


FURTHER_RULES = (
    FurtherRule("A minimum is not above its maximum, nor above the preferred value.", "more than the maximum"),
    FurtherRule("A preferred resolution or safety margin is not below the minimum.", "less than the minimum"),
    FurtherRule("Ink that is preferred is not above the limit.", "more than the limit"),
    FurtherRule("Another size is not that of the product itself.", "width and height of the product itself"),
    FurtherRule("A box that is measured from another corner needs the size of the page.", "needs the size of the page"),
    FurtherRule("Allowed counts of pages are multiples of pages.multiple_of.", "which is no multiple of"),
    FurtherRule("A multiple of pages.multiple_of lies between the fewest and the most pages.", "no multiple of it lies between"),
    FurtherRule("trim.orientation is that of the width and the height.", "and the width and height are"),
    FurtherRule("trim.tolerance and margin.live_area are smaller than the page.", "must be smaller than the page"),
    FurtherRule("trim.corner_radius is at most half of the shorter side.", "at most half of the shorter side"),
    FurtherRule("Least and greatest tints, and the inks of a recipe, are within their range.", "must be between"),
    FurtherRule("The recipe of a rich black keeps to its limit.", "is less than the recipe"),
    FurtherRule("The margin leaves something of the page.", "leaves nothing of the trimmed page"),
    FurtherRule("A box goes from the top-left to the bottom-right corner.", "from the top-left to the bottom-right corner"),
    FurtherRule("Entries of a list that are written differently and mean the same stand twice.", "stands in the list twice"),
    FurtherRule("Each finish has inks of its own.", "stands for two finishes"),
    FurtherRule("A type of fold has the number of folds that it takes.", "folds along one axis"),
    FurtherRule("A size that folds elsewhere has a length for each fold of the sheet.", "needs one length for each of the"),
    FurtherRule("A size that folds elsewhere folds on its page.", "must lie on the page"),
    FurtherRule("Single pages are those of a half fold, whose one fold is vertical.", "is for a half fold whose one fold"),
    FurtherRule("A length written with its unit is at most 100 m.", "must be at most 100 m"),
    FurtherRule("A quantity written with its unit is at most a million millions.", "is larger than a sheet takes"),
    FurtherRule("The size of a file is at least one byte.", "must be at least one byte"),
    FurtherRule("A sheet has at most 2,000 values.", "a spec sheet needs about a hundred"),
)


def sheet_schema(*, stored: bool = False, known_rules: Collection[str] | None = None) -> JsonSchema:
    """`stored`: a sheet that is to be kept needs its identity. `known_rules`: the ids that `levels` may name; None: any."""
    whole = _Describing(known_rules, patch=False).block(whole_sheet())
    whole["anyOf"] = [_asks_with(key) for key in ASKING]
    patch = _Describing(known_rules, patch=True).block(whole_sheet())
    patch["properties"] = {EXTENDS: {"type": "string", "description": "Id of the stored sheet that it is laid over."}} | patch[
        "properties"
    ]
    patch["required"] = [EXTENDS]
    if stored:
        whole["required"], patch["required"] = list(IDENTITY), [EXTENDS, "id"]
        patch["properties"]["id"] = whole["properties"]["id"]
    return {
        "$schema": DIALECT,
        "title": "Spec sheet",
        "description": "What a printer asks of a file, for one product. specs/README.md explains every key.",
        "type": "object",
        "if": {"required": [EXTENDS]},
        "then": {"$ref": "#/$defs/patch"},
        "else": {"$ref": "#/$defs/sheet"},
        "x-further-rules": [rule.says for rule in FURTHER_RULES],
        "$defs": {"sheet": whole, "patch": patch},
    }


class _Describing:
    """`patch`: as a layer over another sheet, where anything may be missing and null takes a key out."""

    def __init__(self, known_rules: Collection[str] | None, *, patch: bool) -> None:
        self._known_rules, self._patch = known_rules, patch

    def block(self, schema: BlockSchema) -> JsonSchema:
        described = {field.data_key or name: field for name, field in schema.load_fields.items()}
        block: JsonSchema = {
            "type": "object",
            "additionalProperties": False,
            "properties": {key: self._or_null(self._value(field)) for key, field in described.items()},
        }
        if self._patch:
            return block
        required = [key for key, field in described.items() if field.required]
        if required:
            block["required"] = required
        elif schema.must_ask:
            block["anyOf"] = [{"required": [key]} for key in described if key not in _LEVEL_AND_NOTE]
        return block | _STAND_TOGETHER.get(type(schema), {})

    def _or_null(self, value: JsonSchema) -> JsonSchema:
        return {"anyOf": [value, {"type": "null"}]} if self._patch else value

    def _value(self, field: fields.Field[Any]) -> JsonSchema:
        about = {"description": field.metadata["description"]} if "description" in field.metadata else {}
        return {**about, **self._form(field)}

    def _form(self, field: fields.Field[Any]) -> JsonSchema:
        match field:
            case fields.Nested(schema=BlockSchema() as inner):
                return self.block(inner)
            case Many():
                entry = _Describing(self._known_rules, patch=False)._value(field.inner)  # a list takes the place of a list
                return {"type": "array", "minItems": 1, "items": entry} | ({"uniqueItems": True} if field.separate else {})
            case Quantity():
                return _quantity(field)
            case BoxOnPage():
                return {"type": "array", "minItems": 4, "maxItems": 4, "items": _length_of_a_box()}
            case Choice():
                return {"enum": [*field.words, *field.also]}
            case Words():
                return {"type": "string", "pattern": words(field.longest, field.form)}
            case Whole():
                return {"type": "integer", "minimum": field.least, "maximum": LARGEST_WHOLE_NUMBER}
            case Flag():
                return {"enum": [True, False, "yes", "no"]}
            case Levels():
                return self._levels(field)
        raise TypeError(f"no JSON Schema is known for {field!r}")

    def _levels(self, field: Levels) -> JsonSchema:
        names: JsonSchema = {"maxLength": LONGEST_KEY}
        if self._known_rules is not None:
            names = {"enum": list(self._known_rules)}
        level = {"enum": [*field.level.words, *field.level.also]}
        return {"type": "object", "propertyNames": names, "additionalProperties": self._or_null(level)}


_LEAST: JsonSchema = {"minimum": float(SMALLEST_NUMBER)}
_ZERO_OR_MORE: JsonSchema = {"anyOf": [{"const": 0}, _LEAST]}


def _quantity(field: Quantity) -> JsonSchema:
    largest = LARGEST_LENGTH_MM if field.reads is parse_length_mm else LARGEST_NUMBER
    least = _LEAST
    if field.zero:
        least = _ZERO_OR_MORE
    if field.reads is parse_bytes:
        least = {"minimum": 1}
    text = {"type": "string", "maxLength": LONGEST_TEXT, "pattern": quantity(UNITS_READ[field.reads], zero=field.zero)}
    return {"anyOf": [text, {"type": "number", "maximum": largest, **least}], "examples": [field.metadata["example"]]}


def _length_of_a_box() -> JsonSchema:
    text = {"type": "string", "maxLength": LONGEST_TEXT, "pattern": quantity(UNITS_READ[parse_length_mm], zero=True)}
    return {"anyOf": [text, {"type": "number", "maximum": LARGEST_LENGTH_MM, **_ZERO_OR_MORE}]}


# --- What stands together ---------------------------------------------------------------------------------------------


def _not_both(key: str, other: str) -> JsonSchema:
    return {"not": {"required": [key, other]}}


def _versions_in_order() -> JsonSchema:
    def at_least(index: int) -> list[str | float]:
        return [form for version in PDF_VERSIONS[index:] for form in (version, float(version))]

    return {
        "allOf": [
            {
                "if": {"required": ["minimum"], "properties": {"minimum": {"enum": [version, float(version)]}}},
                "then": {"properties": {"maximum": {"enum": at_least(index)}}},
            }
            for index, version in enumerate(PDF_VERSIONS)
        ]
    }


_STAND_TOGETHER: Mapping[type[BlockSchema], JsonSchema] = {
    VersionsSchema: _versions_in_order(),
    FileSchema: {"dependentRequired": {"standards_level": ["standards"]}},
    PagesSchema: {"allOf": [_not_both("allowed", "minimum"), _not_both("allowed", "maximum")]},
    MarginSchema: {
        "anyOf": [{"required": ["minimum"]}, {"required": ["live_area"]}],
        "allOf": [_not_both("live_area", key) for key in ("minimum", *EDGES)],
        "if": {"required": ["frames"], "properties": {"frames": {"const": "forbidden"}}},
        "then": {"not": {"anyOf": [{"required": ["frame_minimum"]}, {"required": ["frame_width"]}]}},
    },
    MarginStepSchema: {"anyOf": [{"required": [key]} for key in ("minimum", *EDGES)]},
    PartSchema: {"anyOf": [{"required": ["first"]}, {"required": ["last"]}]},
    MarksSchema: {
        "if": {"required": ["crop_marks"], "properties": {"crop_marks": {"const": "forbidden"}}},
        "then": {"not": {"required": ["offset_minimum"]}},
    },
    SpotsSchema: {
        "if": {"required": ["maximum"], "properties": {"maximum": {"const": 0}}},
        "then": {"not": {"required": ["allowed"]}},
    },
    ColorSchema: {
        "dependentRequired": {"ink_area": ["ink_limit"], "ink_preferred": ["ink_limit"], "rgb_level": ["allowed"]},
        "dependentSchemas": {"rgb_level": {"properties": {"allowed": {"not": {"contains": {"const": "rgb"}}}}}},
    },
    SpecSheetSchema: {"dependentRequired": {"folding": ["folds"]}},
}
"""What `contradictions` of a block refuses, as far as JSON Schema can say it. A property test holds the two together."""


def _asks_with(key: str) -> JsonSchema:
    """A sheet that asks something of a file under this key: not every block does, some only allow."""
    field = whole_sheet().load_fields[key]
    asks: JsonSchema = {"required": [key]}
    if isinstance(field, fields.Nested) and isinstance(field.schema, BlockSchema):
        inner = field.schema.load_fields.items()
        if not any(one.required for _, one in inner):
            ways = [_asks_by(one.data_key or name, one) for name, one in inner if name not in ONLY_HOW]
            asks["properties"] = {key: {"anyOf": ways}}
    return asks


def _asks_by(key: str, field: fields.Field[Any]) -> JsonSchema:
    allows: list[Any] = [word for word in _ALLOWS if isinstance(field, Choice) and word in field.words]
    allows += [False, "no"] if isinstance(field, Flag) else []
    return {"required": [key]} | ({"properties": {key: {"not": {"enum": allows}}}} if allows else {})
