"""Verdicts, levels, and the survival of crashes."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import pytest

from service.pdf.facts.measurements import Measurements
from service.pdf.facts.unknown import Failure, Unmeasured
from service.rules.base import Outcome
from service.rules.catalogue import RULES
from service.rules.headline import headline
from service.rules.judge import judge
from service.sheets.model import (
    BleedAsked,
    ColorAsked,
    FontsAsked,
    ImagesAsked,
    KeepClearArea,
    PagesAsked,
    Resolution,
    SpecSheet,
    SpotsAsked,
    TrimAsked,
)
from tests.rules.measured import Box, booklet, broken_rules, content, document, page

CARD = SpecSheet(
    pages=PagesAsked(allowed=(1, 2), arrangement="single-pages"),
    trim=TrimAsked(width_mm=85, height_mm=55),
    bleed=BleedAsked(minimum_mm=3),
    color=ColorAsked(allowed=("cmyk", "gray"), spots=SpotsAsked(maximum=0)),
    images=ImagesAsked(contone=Resolution(minimum_ppi=200, preferred_ppi=300)),
    fonts=FontsAsked(),
)


def test_a_right_card_conforms() -> None:
    judgement = judge(document(page(), page()), CARD)
    assert judgement.verdict == "conforming"
    assert judgement.findings == ()
    assert headline(judgement) == "Ready: everything asked for is met"


def test_a_right_booklet_conforms() -> None:
    sheet = SpecSheet(
        pages=PagesAsked(minimum=8, maximum=64, multiple_of=4, arrangement="single-pages"),
        trim=TrimAsked(width_mm=148, height_mm=210, orientation="portrait"),
        bleed=BleedAsked(minimum_mm=3),
    )
    assert judge(booklet(12), sheet).verdict == "conforming"


def test_one_nonconformity_makes_the_file_not_ready() -> None:
    judgement = judge(document(page(bleed=0)), CARD)
    assert (judgement.verdict, judgement.count("must"), judgement.count("should")) == ("nonconforming", 1, 0)
    assert headline(judgement) == "Not ready: 1 thing to put right"


def test_observations_leave_the_file_ready() -> None:
    judgement = judge(document(page(trim_source="media_minus_bleed"), damage=("A stream was too short.",)), CARD)
    assert judgement.verdict == "conforming_with_observations"
    assert headline(judgement) == "Ready, with 2 remarks"


def test_nonconformities_come_first() -> None:
    judgement = judge(document(page(bleed=0, trim_source="media_box")), CARD)
    assert [one.rule for one in judgement.findings] == ["bleed.declared", "trim.declared"]


def test_a_must_that_was_not_measured_leaves_the_verdict_open() -> None:
    limited = replace(CARD, color=replace(CARD.color or ColorAsked(), ink_limit_percent=300))
    judgement = judge(document(page(plates=Unmeasured("Too large."))), replace(limited, bleed=None))
    assert judgement.verdict == "inconclusive"
    assert headline(judgement).startswith("Not decided: 1 point ")


def test_a_should_that_was_not_measured_is_said_in_the_headline() -> None:
    clear = KeepClearArea(name="writing area", box_mm=Box(0, 0, 10, 10), level="should")
    crowded = page(content=replace(content(), artwork=Unmeasured("too many objects")))
    judgement = judge(document(crowded), replace(CARD, keep_clear=(clear,)))
    assert judgement.verdict == "conforming"
    assert headline(judgement) == "Ready: everything that was measured is met; 1 point not measured"


def test_an_unreadable_file_is_nonconforming_and_the_rest_not_measured() -> None:
    judgement = judge(Measurements.unreadable(9, Failure("broken", "It has no page.")), CARD)
    assert judgement.verdict == "nonconforming"
    asked = {one.rule: one.outcome for one in judgement.rules if one.outcome != "not_applicable"}
    assert asked.pop("file.readable") == "not_met"
    assert set(asked.values()) == {"not_measured"}


def test_the_sheet_turns_a_rule_up_down_and_off() -> None:
    loose = document(page(trim_source="media_box"))
    assert judge(loose, replace(CARD, levels={"trim.declared": "must"})).verdict == "nonconforming"
    assert judge(loose, replace(CARD, levels={"trim.declared": "off"})).verdict == "conforming"
    assert (
        judge(document(page(bleed=0)), replace(CARD, levels={"bleed.declared": "should"})).verdict
        == "conforming_with_observations"
    )


def test_a_rule_that_only_later_versions_have_is_never_silent() -> None:
    """The sheet names two rules that this service lacks."""
    without = {rule_id: rule for rule_id, rule in RULES.items() if rule_id not in ("bleed.reach", "ink.empty-plate")}
    judgement = judge(document(page()), replace(CARD, levels={"bleed.reach": "must", "ink.empty-plate": "off"}), without)
    assert judgement.verdict == "inconclusive"
    assert [one.rule for one in judgement.rules if one.outcome == "not_measured"] == ["bleed.reach"]


def test_a_rule_that_crashes_takes_no_other_along(caplog: pytest.LogCaptureFixture) -> None:
    def crash(_: Measurements, __: SpecSheet) -> Iterator[Outcome]:
        raise ZeroDivisionError

    rules = {**RULES, "trim.size": replace(RULES["trim.size"], run=crash)}
    judgement = judge(document(page(bleed=0)), CARD, rules)
    assert broken_rules(judgement) == {"bleed.declared"}
    assert next(one for one in judgement.rules if one.rule == "trim.size").outcome == "not_measured"
    assert "trim.size" in caplog.text


def test_the_note_of_the_sheet_as_a_whole_is_no_note_of_a_standing_rule() -> None:
    judgement = judge(document(page(trim_source="media_box")), replace(CARD, note="Please call us."))
    assert judgement.findings[0].note is None
