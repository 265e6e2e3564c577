"""Every key of the format has a rule that asks for it, a near miss, and a place in the reference.

A new key has to come with them: `near_misses.py` has the table.
"""

from __future__ import annotations

import re
from typing import Any

import pytest

from service.rules.catalogue import RULES
from service.rules.reference import reference
from service.sheets.format.blocks import SpecSheetSchema
from service.sheets.format.validation import read_sheet, read_sheet_text
from service.sheets.format.writing import sheet_to_document
from service.sheets.order import for_order
from tests.rules.measured import judged
from tests.sheets.near_misses import NEAR_MISSES
from tests.sheets.test_readme import README, all_keys

ASKS_NOTHING = {
    *("id", "revision", "title", "product", "regions", "summary", "names", "aliases", "note"),
    *("references", "references[].name", "references[].about"),
}
"""What a sheet says of itself."""
OF_EVERY_BLOCK = ("level", "note")
"""`test_a_block_has_a_level_and_words` tries them on each block."""

LEVEL_ELSEWHERE = {
    "trim.alternatives[].folds": "folding", "folds[].at": "folding", "folding.single_pages": "trim",
    "trim.corner_radius": "margin", "finishes[].kind": "margin",
}
"""What is missed by these is a demand of another block."""


def _entries(document: dict[str, Any], key: str) -> list[Any]:
    """What stands at the key, in each entry of the lists on the way."""
    found: list[Any] = [document]
    for step in key.split("."):
        found = [one[step.removesuffix("[]")] for one in found if isinstance(one, dict) and step.removesuffix("[]") in one]
        if step.endswith("[]"):
            found = [entry for one in found for entry in one]
    return found


def _holder(key: str) -> str:
    """The block of the key, or the entry of a list, that has a level of its own; '' for none."""
    if key in LEVEL_ELSEWHERE:
        return LEVEL_ELSEWHERE[key]
    while key:
        key = key.rpartition(".")[0]
        if f"{key}.level" in EVERY:
            return key
    return ""


EVERY = [one for one in all_keys(SpecSheetSchema()) if one not in ASKS_NOTHING]
HOLDING_OTHERS = {one.rpartition(".")[0].removesuffix("[]") for one in EVERY}
KEYS = [one for one in EVERY if one not in HOLDING_OTHERS and one.rpartition(".")[2] not in OF_EVERY_BLOCK]


def test_the_table_has_every_key_and_no_other() -> None:
    assert len(KEYS) > 100
    assert sorted(NEAR_MISSES) == sorted(KEYS)


@pytest.mark.parametrize("key", KEYS)
def test_a_file_that_keeps_to_a_key_and_one_that_just_misses_it(key: str) -> None:
    one = NEAR_MISSES[key]
    assert any(_uses(key, one[at][0]) for at in (0, 1)), "the sheets do not use the key"
    found = []
    for at in (0, 1):
        text, made = one[at]
        rule, findings = judged(one.rule, made, for_order(read_sheet_text(text), one.order))
        found.append(findings[0].level if findings else rule.outcome)
    assert tuple(found) == one.says
    assert one.named is None or one.named in str((findings[0].finding.message, findings[0].finding.required))


def _uses(key: str, text: str) -> bool:
    """Whether the sheet says something at this key."""
    return bool(_entries(sheet_to_document(read_sheet_text(text)), key))


WISHED_FOR = [key for key in KEYS if NEAR_MISSES[key].says == ("met", "must") and _holder(key)]


@pytest.mark.parametrize("key", WISHED_FOR)
def test_a_block_has_a_level_and_words(key: str) -> None:
    """A miss is an observation where the block only wishes, and comes with the printer's own words."""
    one = NEAR_MISSES[key]
    text, made = one[1]
    document = sheet_to_document(read_sheet_text(text))
    for entry in _entries(document, _holder(key)):
        entry |= {"level": "should", "note": "As we agreed."}
    _, findings = judged(one.rule, made, for_order(read_sheet(document), one.order))
    assert {(found.level, found.note) for found in findings} == {("should", "As we agreed.")}


NAMED_ELSEWHERE = {"purpose": "purpose: client-preview", "levels": "| each rule's own | the rule named |"}
"""What says of these keys which rules they feed."""


@pytest.mark.parametrize("key", KEYS)
def test_the_reference_names_the_rule_of_a_key(key: str) -> None:
    """The row of specs/README.md, and the rule's own entry, which `GET /v1/rules` and /docs/rules show whole."""
    rule = RULES[NEAR_MISSES[key].rule]
    if key in NAMED_ELSEWHERE:
        assert NAMED_ELSEWHERE[key] in (rule.asked_by if key == "purpose" else README)
    else:
        assert rule.id in re.findall(r"`([a-z]+\.[a-z-]+)`", _row(key).rsplit("|", 2)[1])
    assert rule.id in {one["id"] for one in reference()}


def _row(key: str) -> str:
    """Of the key, or of the block that holds it where it has none of its own."""
    all_rows = [line for line in README.splitlines() if line.startswith("| ")]
    rows = [line for line in all_rows if re.search(r"`[a-z]+\.[a-z-]+`", line.rsplit("|", 2)[1])]
    while key:
        for column in (0, 1):
            if named := [row for row in rows if f"`{key}`" in row.split(" | ")[column]]:
                return named[0]
        key = key.removesuffix("[]") if key.endswith("[]") else key.rpartition(".")[0]
    raise AssertionError("no row names a rule")
