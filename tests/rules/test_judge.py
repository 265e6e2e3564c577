"""Verdicts, levels, and the survival of crashes."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

import pytest

from service.pdf.facts.measurements import Measurements
from service.pdf.facts.unknown import Failure, Unmeasured
from service.rules.base import Finding, Outcome, Place
from service.rules.catalogue import RULES
from service.rules.headline import headline
from service.rules.judge import judge
from service.rules.judgement import Judgement
from service.rules.seen import NotMeasured
from service.sheets.model import (
    BleedAsked,
    ColorAsked,
    FontsAsked,
    ImagesAsked,
    KeepClearArea,
    Level,
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


# --- Each branch of the verdict ---


def coming_out(*outcomes: Outcome, sheet: SpecSheet = CARD, rule_id: str = "trim.size", level: Level = "must") -> Judgement:
    """One rule alone, whose function says just this; trim.size is asked for by a block, trim.declared always."""
    rule = replace(RULES[rule_id], run=lambda _m, _s: iter(outcomes), level=level)
    return judge(document(page()), sheet, {rule_id: rule})


def found(**changes: Any) -> Finding:
    return replace(Finding(message="m", remedy="r", measured={}, required={}, pages=(1,)), **changes)


UNSEEN = NotMeasured("Nobody saw it.")


@pytest.mark.parametrize(
    ("level", "outcomes", "verdict"),
    [
        ("must", (), "conforming"),
        ("must", (UNSEEN,), "inconclusive"),
        ("must", (found(),), "nonconforming"),
        ("must", (found(), UNSEEN), "nonconforming"),
        ("must", (found(preferred=True),), "conforming_with_observations"),
        ("must", (found(preferred=True), UNSEEN), "inconclusive"),
        ("should", (), "conforming"),
        ("should", (UNSEEN,), "conforming"),
        ("should", (found(),), "conforming_with_observations"),
        ("should", (found(), UNSEEN), "conforming_with_observations"),
        ("should", (found(level="must"),), "nonconforming"),
    ],
)
def test_the_verdict_follows_from_levels_findings_and_what_nobody_saw(
    level: Level, outcomes: tuple[Outcome, ...], verdict: str
) -> None:
    assert coming_out(*outcomes, level=level).verdict == verdict


def test_one_must_among_observations_decides_and_one_open_must_among_the_met_leaves_open() -> None:
    assert coming_out(found(level="should"), found()).verdict == "nonconforming"
    rules = {**RULES, "trim.size": replace(RULES["trim.size"], run=lambda _m, _s: iter((UNSEEN,)))}
    assert judge(document(page()), CARD, rules).verdict == "inconclusive"


def test_a_must_that_the_sheet_turns_off_leaves_nothing_open() -> None:
    judgement = coming_out(UNSEEN, sheet=replace(CARD, levels={"trim.size": "off"}))
    (rule,) = judgement.rules
    assert (judgement.verdict, rule.outcome, rule.level) == ("conforming", "not_applicable", "must")
    assert rule.reason == "The sheet turns this rule off."


def test_a_rule_that_the_sheet_does_not_ask_for_is_not_applicable_without_a_word() -> None:
    (rule,) = coming_out(found(), sheet=SpecSheet()).rules
    assert (rule.outcome, rule.reason) == ("not_applicable", None)


def test_a_rule_comes_out_as_what_weighs_most_in_it() -> None:
    for outcomes, outcome, reason in (
        ((), "met", None),
        ((UNSEEN,), "not_measured", "Nobody saw it."),
        ((found(),), "not_met", None),
        ((UNSEEN, found(), UNSEEN), "not_met", "Nobody saw it."),
    ):
        (rule,) = coming_out(*outcomes).rules
        assert (rule.outcome, rule.reason) == (outcome, reason)


@pytest.mark.parametrize(
    ("switch", "block", "rule", "one", "level"),
    [
        (None, None, "must", None, "must"), (None, None, "should", None, "should"),
        (None, "should", "must", None, "should"), (None, "must", "should", None, "must"),
        (None, "should", "should", "must", "must"), (None, "must", "must", "should", "should"),
        ("must", "should", "should", None, "must"), ("should", "must", "must", None, "should"),
        ("must", "should", "should", "should", "must"), ("should", "must", "must", "must", "should"),
    ],
)
def test_a_switch_of_the_sheet_outweighs_the_finding_it_the_block_and_that_the_rule(
    switch: Level | None, block: Level | None, rule: Level, one: Level | None, level: Level
) -> None:
    assert CARD.trim is not None
    sheet = replace(CARD, trim=replace(CARD.trim, level=block), levels={"trim.size": switch} if switch else {})
    judgement = coming_out(found(level=one), sheet=sheet, level=rule)
    assert [found.level for found in judgement.findings] == [level]


def test_what_is_only_preferred_is_an_observation_whatever_the_level() -> None:
    assert CARD.trim is not None
    for sheet in (CARD, replace(CARD, trim=replace(CARD.trim, level="must")), replace(CARD, levels={"trim.size": "must"})):
        assert [one.level for one in coming_out(found(preferred=True, level="must"), sheet=sheet).findings] == ["should"]


def test_the_words_of_one_entry_come_before_those_of_its_block() -> None:
    assert CARD.trim is not None
    noted = replace(CARD, trim=replace(CARD.trim, note="Cut by hand."))
    for note, said in ((None, "Cut by hand."), ("This fold alone.", "This fold alone.")):
        assert [one.note for one in coming_out(found(note=note), sheet=noted).findings] == [said]


@pytest.mark.parametrize(("places", "kept", "left_out"), [(0, 0, None), (50, 50, None), (51, 50, 1), (80, 50, 30)])
def test_a_finding_keeps_its_first_fifty_places_and_counts_the_others(places: int, kept: int, left_out: int | None) -> None:
    every = tuple(Place(1, Box(0, 0, at, 1)) for at in range(places))
    (judged,) = coming_out(found(places=every, measured={"pages": 2})).findings
    assert judged.finding.places == every[:kept]
    assert judged.finding.measured == ({"pages": 2} if left_out is None else {"pages": 2, "places_left_out": left_out})


def test_a_rule_that_the_sheet_names_and_this_version_has_is_listed_once() -> None:
    sheet = replace(CARD, levels={"trim.size": "must", "trim.colour": "should", "trim.paper": "off"})
    rules = coming_out(sheet=sheet).rules
    assert [(one.rule, one.outcome, one.level) for one in rules] == [
        ("trim.size", "met", "must"),
        ("trim.colour", "not_measured", "should"),
    ]
