"""What a sheet has checked, before there is a file."""

from __future__ import annotations

from service.rules.catalogue import RULES
from service.rules.demands import demands
from service.sheets.format.validation import read_sheet


def test_what_the_sheet_asks_is_checked_beside_what_always_is() -> None:
    told = {one.rule.id: one for one in demands(read_sheet({"bleed": {"minimum": 3, "level": "should"}}))}
    assert ("bleed.declared" in told, told["bleed.declared"].level, told["bleed.declared"].standing) == (True, "should", False)
    assert told["file.readable"].standing
    assert "spine.width" not in told
    assert list(told) == [one for one in RULES if one in told]


def test_a_rule_is_turned_down_and_off() -> None:
    sheet = read_sheet({"bleed": {"minimum": 3}, "levels": {"bleed.declared": "should", "layer.hidden": "off"}})
    told = {one.rule.id: one.level for one in demands(sheet)}
    assert told["bleed.declared"] == "should"
    assert "layer.hidden" not in told
