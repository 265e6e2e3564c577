"""The JSON Schema of a sheet accepts and refuses what the service accepts and refuses, over hundreds of made-up sheets."""

from __future__ import annotations

from collections import Counter
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from jsonschema import Draft202012Validator

from service.sheets.catalogue import laid_over_its_base, stored_sheets
from service.sheets.format.json_schema import FURTHER_RULES, sheet_schema
from service.sheets.format.parsing import parse_sheet_text
from service.sheets.format.refusals import SheetRefused
from service.sheets.format.validation import read_sheet
from service.sheets.format.writing import sheet_to_document
from tests.sheets.complete import COMPLETE
from tests.sheets.sheet_documents import broken_sheets, sheets
from tests.sweeps import part_of

KNOWN_RULES = ("trim.size", "image.compression", "copy.placeholder")
INLINE = Draft202012Validator(sheet_schema(known_rules=KNOWN_RULES))
STORED = Draft202012Validator(sheet_schema(stored=True, known_rules=KNOWN_RULES))

MADE_UP = len(part_of(range(360), one_in=2))
many = settings(max_examples=MADE_UP, deadline=None, derandomize=True, suppress_health_check=list(HealthCheck))


def refusals(document: Any, *, stored: bool) -> list[str]:
    try:
        read_sheet(document, stored=stored, known_rules=KNOWN_RULES)
    except SheetRefused as refused:
        return [sentence for _, sentence in refused.errors]
    return []


def breaks_only_further_rules(sentences: list[str]) -> bool:
    return all(any(rule.refusal in sentence for rule in FURTHER_RULES) for sentence in sentences)


def compare(document: Any, seen: Counter[str], *, stored: bool = False) -> None:
    """Equal answers; the schema may let pass only what breaks nothing but the rules that it lists as further ones."""
    sentences = refusals(document, stored=stored)
    accepted = (STORED if stored else INLINE).is_valid(document)
    if not sentences:
        assert accepted, document
    elif accepted:
        assert breaks_only_further_rules(sentences), (document, sentences)
    seen["accepted" if not sentences else "excluded" if accepted else "refused"] += 1


@pytest.mark.parametrize("broken", [False, True])
@pytest.mark.parametrize("stored", [False, True])
def test_schema_and_service_accept_and_refuse_the_same_sheets(stored: bool, broken: bool) -> None:
    seen: Counter[str] = Counter()

    @many
    @given(broken_sheets() if broken else sheets())
    def holds(document: Any) -> None:
        if stored:
            document = {"id": "card", "title": "Card", "product": "card", **document}
        compare(document, seen, stored=stored)

    holds()
    assert seen["refused"] >= MADE_UP / 5, seen
    assert seen["accepted"] >= MADE_UP / (60 if broken else 5), seen
    assert seen.total() >= MADE_UP
    assert seen["excluded"] <= 0.25 * seen.total(), seen


def test_the_schema_is_one_of_draft_2020_12() -> None:
    Draft202012Validator.check_schema(sheet_schema())
    assert sheet_schema()["$schema"] == "https://json-schema.org/draft/2020-12/schema"


def test_every_stored_sheet_and_the_sheet_with_every_key_pass() -> None:
    every_rule = Draft202012Validator(sheet_schema(stored=True))
    for sheet in stored_sheets().values():
        every_rule.validate(sheet_to_document(sheet))
    every_rule.validate(parse_sheet_text(COMPLETE))


def test_a_sheet_that_is_kept_needs_its_identity() -> None:
    sheet = {"bleed": {"minimum": 3}}
    assert INLINE.is_valid(sheet)
    assert not STORED.is_valid(sheet)
    assert STORED.is_valid({**sheet, "id": "a", "title": "A", "product": "a"})


@pytest.mark.parametrize(
    ("patch", "fits"),
    [
        ({"bleed": {"minimum": "5 mm"}}, True),
        ({"bleed": {"maximum": "12 mm"}}, True),
        ({"margin": None}, True),
        ({"margin": {"note": None}}, True),
        ({"bleed": {"minimun": "5 mm"}}, False),
        ({"bleed": {"minimum": "5 furlongs"}}, False),
        ({"pages": {"allowed": [None]}}, False),
    ],
)
def test_a_sheet_that_extends_another_is_described_as_a_patch(patch: dict[str, Any], fits: bool) -> None:
    document = {"extends": "business-card-85x55", "id": "our-card", **patch}
    assert STORED.is_valid(document) == fits


@settings(max_examples=MADE_UP // 2, deadline=None, derandomize=True, suppress_health_check=list(HealthCheck))
@given(broken_sheets())
def test_what_the_service_takes_over_a_base_the_schema_takes(document: dict[str, Any]) -> None:
    """The other way round it cannot be: the schema does not know the base."""
    layered = {**document, "extends": "business-card-85x55"}
    try:
        read_sheet(laid_over_its_base(layered), known_rules=(*KNOWN_RULES, *stored_sheets()["business-card-85x55"].levels))
    except SheetRefused:
        return
    assert INLINE.is_valid(layered)


@pytest.mark.parametrize("rule", FURTHER_RULES, ids=lambda rule: rule.says)
def test_every_further_rule_is_one_of_the_service_that_the_schema_cannot_say(rule: Any) -> None:
    document = EXAMPLES[rule.refusal]
    assert any(rule.refusal in sentence for sentence in refusals(document, stored=False))
    assert INLINE.is_valid(document)
    assert rule.says in sheet_schema()["x-further-rules"]


EXAMPLES: dict[str, Any] = {
    "more than the maximum": {"bleed": {"minimum": "5 mm", "maximum": "3 mm"}},
    "less than the minimum": {"images": {"contone_ppi": {"minimum": 300, "preferred": 200}}},
    "more than the limit": {"color": {"ink_limit": 280, "ink_preferred": 300}},
    "width and height of the product itself": {
        "trim": {"width": 99, "height": 210, "alternatives": [{"width": "9.9 cm", "height": "21 cm"}]},
    },
    "needs the size of the page": {"keep_clear": [{"name": "stamp", "box": [0, 0, 74, 40], "corner": "top-right"}]},
    "which is no multiple of": {"pages": {"allowed": [8, 10], "multiple_of": 4}},
    "no multiple of it lies between": {"pages": {"minimum": 9, "maximum": 11, "multiple_of": 4}},
    "and the width and height are": {"trim": {"width": 85, "height": 55, "orientation": "portrait"}},
    "at most half of the shorter side": {"trim": {"width": 85, "height": 55, "corner_radius": 30}},
    "must be between": {"color": {"tint": {"minimum": 30}}},
    "is less than the recipe": {"color": {"rich_black": {"ink_limit": 200, "cyan": 60, "magenta": 60, "black": 100}}},
    "must be smaller than the page": {"trim": {"width": 85, "height": 55, "tolerance": 60}},
    "leaves nothing of the trimmed page": {"trim": {"width": 85, "height": 55}, "margin": {"minimum": 30}},
    "from the top-left to the bottom-right corner": {"keep_clear": [{"name": "stamp", "box": [10, 10, 5, 20]}]},
    "stands in the list twice": {"folds": [{"at": "10 mm", "axis": "vertical"}, {"at": "1 cm", "axis": "vertical"}]},
    "stands for two finishes": {"finishes": [{"ink": "Foil"}, {"ink": "Foil", "required": True}]},
    "folds along one axis": {"folds": [{"at": 99, "axis": "vertical"}], "folding": {"type": "gate"}},
    "needs one length for each of the": {"trim": {"width": 99, "height": 210, "alternatives": [
        {"width": 105, "height": 210, "folds": [50]}
    ]}},
    "must lie on the page": {
        "trim": {"width": 198, "height": 210, "alternatives": [{"width": 105, "height": 210, "folds": [106]}]},
        "folds": [{"at": 99, "axis": "vertical"}],
    },
    "is for a half fold whose one fold": {
        "folds": [{"at": 99, "axis": "horizontal"}], "folding": {"type": "half", "single_pages": "allowed"},
    },
    "must be at most 100 m": {"trim": {"width": "101 m", "height": "1 m"}},
    "is larger than a sheet takes": {"color": {"ink_limit": "1000000000001 %"}},
    "must be at least one byte": {"file": {"maximum_size": "0.1 B"}},
    "a spec sheet needs about a hundred": {
        "bleed": {"minimum": 3},
        "references": [{"name": "common practice, no source", "about": "bleed"}] * 700,
    },
}
