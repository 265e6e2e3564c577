"""The declarations: complete, unique, in order, and held by the findings."""

from __future__ import annotations

import json
from typing import Any

import pytest

from service.rules.base import DECLARED, Rule, rule
from service.rules.catalogue import RULE_IDS, RULES
from service.rules.reference import reference
from service.rules.seen import pages_of
from service.sheets.model import SpecSheet

DECLARATION: dict[str, Any] = {
    "needs": pages_of,
    "asks": lambda sheet: sheet,
    "asked_by": "always",
    "level": "must",
    "source": "-",
    "measured": {},
    "required": {},
}


def test_every_rule_of_the_catalogue_is_declared() -> None:
    assert set(RULE_IDS) == set(RULES)
    assert len(set(RULE_IDS)) == len(RULE_IDS)
    assert RULES.keys() == DECLARED.keys()


def test_rules_come_in_the_order_of_the_catalogue() -> None:
    assert list(RULES) == [one for one in RULE_IDS if one in RULES]


@pytest.mark.parametrize("one", RULES.values(), ids=list(RULES))
def test_metadata_is_complete(one: Rule) -> None:
    for text in (one.title, one.why, one.remedy, one.knows, one.cannot_know, one.source, one.asked_by):
        assert text.strip()
    assert one.title.endswith(".")
    assert one.level in ("must", "should")
    assert one.measured
    assert one.required


@pytest.mark.parametrize("one", RULES.values(), ids=lambda one: one.id)
def test_a_rule_lives_in_the_module_of_its_group(one: Rule) -> None:
    """`find service/rules -name 'bleed*'` finds every rule on the bleed."""
    group = one.id.split(".")[0]
    assert f"{one.module.rpartition('.')[2]}_".startswith(f"{group}_")


def test_a_rule_asked_for_by_a_key_is_silent_on_an_empty_sheet() -> None:
    for one in RULES.values():
        assert (one.asks(SpecSheet()) is not None) == one.asked_by.startswith("always"), one.id


def test_two_rules_cannot_have_one_name() -> None:
    with pytest.raises(ValueError, match="two rules"):
        rule("trim.size", **DECLARATION)(lambda _m, _a: iter(()))


def test_a_rule_without_its_prose_stops_the_import() -> None:
    def silent(_measurements: object, _asked: object) -> object:
        """Title only."""
        return iter(())

    with pytest.raises(ValueError, match="Why"):
        rule("trim.silent", **DECLARATION)(silent)  # type: ignore[arg-type]
    assert "trim.silent" not in DECLARED


def test_the_reference_is_plain_data_with_every_key() -> None:
    entries = reference()
    assert json.loads(json.dumps(entries)) == entries
    assert [one["id"] for one in entries] == list(RULES)
    assert {key for one in entries for key in one} == {
        "id", "title", "why", "remedy", "knows", "cannot_know", "source", "level", "asked_by", "measured", "required",
    }  # fmt: skip
