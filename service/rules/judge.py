"""Judge measurements against a sheet: every rule of the catalogue comes out as met, not met, not applicable or not measured.

* A broken `must` is a nonconformity, a broken `should` an observation.
* A must that could not be measured makes the verdict `inconclusive`, never `conforming`.
* A rule that crashes is logged and comes out `not_measured`; the others survive. So does one that the sheet turns on by
  `levels` and that this version does not have.
* A finding keeps its first places only and says how many are left out.
"""

from __future__ import annotations

import logging
from collections.abc import Mapping
from dataclasses import replace

from service.language.spoken import say
from service.language.wording import clauses
from service.pdf.facts.measurements import Measurements
from service.product.fitting import fitted_to
from service.rules.base import MOST_PLACES, Finding, Rule
from service.rules.catalogue import RULES
from service.rules.demands import usual_level
from service.rules.judgement import JudgedFinding, JudgedRule, Judgement, RuleOutcome, Verdict
from service.rules.seen import NotMeasured
from service.sheets.model import Block, Level, SpecSheet

log = logging.getLogger(__name__)


def judge(measurements: Measurements, sheet: SpecSheet, rules: Mapping[str, Rule] = RULES) -> Judgement:
    """Pure: the same measurements and sheet give the same judgement. Of several sizes and scales, those of the file count."""
    sheet = fitted_to(sheet, measurements)
    return _put_together([_judge_rule(rule, measurements, sheet) for rule in rules.values()], sheet, rules)


def in_other_words(
    judgement: Judgement, measurements: Measurements, sheet: SpecSheet, rules: Mapping[str, Rule] = RULES
) -> Judgement:
    """The same judgement in the language that is spoken now: what said nothing is not asked again."""
    sheet = fitted_to(sheet, measurements)
    silent = {one.rule: one for one in judgement.rules if one.reason is None and one.outcome != "not_met"}
    judged = [
        (silent[rule.id], []) if rule.id in silent else _judge_rule(rule, measurements, sheet) for rule in rules.values()
    ]
    return _put_together(judged, sheet, rules)


_Judged = tuple[JudgedRule, list[JudgedFinding]]


def _put_together(judged: list[_Judged], sheet: SpecSheet, rules: Mapping[str, Rule]) -> Judgement:
    findings = sorted((one for _, found in judged for one in found), key=lambda one: one.level != "must")
    outcomes = (*(outcome for outcome, _ in judged), *_missing_rules(sheet, rules))
    return Judgement(_verdict(findings, outcomes), tuple(findings), outcomes)


def _judge_rule(rule: Rule, measurements: Measurements, sheet: SpecSheet) -> _Judged:
    switch = sheet.levels.get(rule.id)
    asked = rule.asks(sheet)
    block = asked if isinstance(asked, Block) else Block()
    level = switch if switch in ("must", "should") else usual_level(rule, asked)
    if switch == "off" or asked is None:
        reason = say("The sheet turns this rule off.") if switch == "off" else None
        return JudgedRule(rule.id, "not_applicable", level, reason), []
    try:
        outcomes = list(rule.run(measurements, sheet))
    except Exception:  # one of the two places of the house where everything is caught: a rule must not take the others along
        log.exception("rule %s crashed", rule.id)
        return JudgedRule(rule.id, "not_measured", level, say("This rule failed in the service; its log says why.")), []
    findings = [
        JudgedFinding(rule.id, _level(one, level, switch), _cut(one), one.note or block.note)
        for one in outcomes
        if isinstance(one, Finding)
    ]
    reason = clauses(dict.fromkeys(one.why for one in outcomes if isinstance(one, NotMeasured))) or None
    outcome: RuleOutcome = "not_met" if findings else "not_measured" if reason else "met"
    return JudgedRule(rule.id, outcome, level, reason), findings


def _missing_rules(sheet: SpecSheet, rules: Mapping[str, Rule]) -> list[JudgedRule]:
    """Rules that the sheet turns on and nobody has written: silence would read as a pass."""
    return [
        JudgedRule(rule_id, "not_measured", level, say("{rule}: this version has no such rule", rule=rule_id))
        for rule_id, level in sheet.levels.items()
        if level != "off" and rule_id not in rules
    ]


def _cut(finding: Finding) -> Finding:
    left_out = len(finding.places) - MOST_PLACES
    if left_out <= 0:
        return finding
    return replace(finding, places=finding.places[:MOST_PLACES], measured={**finding.measured, "places_left_out": left_out})


def _level(finding: Finding, rule_level: Level, switch: str | None) -> Level:
    if finding.preferred:
        return "should"
    return rule_level if switch else finding.level or rule_level


def _verdict(findings: list[JudgedFinding], rules: tuple[JudgedRule, ...]) -> Verdict:
    if any(one.level == "must" for one in findings):
        return "nonconforming"
    if any(one.level == "must" and one.reason and one.outcome != "not_applicable" for one in rules):
        return "inconclusive"
    return "conforming_with_observations" if findings else "conforming"
