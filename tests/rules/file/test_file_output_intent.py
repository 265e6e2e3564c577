"""The printing condition that the file names."""

from __future__ import annotations

from dataclasses import replace

import pytest

from service.pdf.facts.unknown import Unmeasured
from service.sheets.model import FileAsked, SpecSheet
from tests.rules.measured import document, judged, only_finding, outcome, page
from tests.rules.print_files import INTENT, PRESS

COATED = SpecSheet(file=FileAsked(output_conditions=("FOGRA51", "PSO Coated v3")))


@pytest.mark.parametrize("name", ["FOGRA51", "fogra51", "PSO coated_v3", "FOGRA 51"])
def test_a_condition_on_the_list_is_taken_however_it_is_spaced(name: str) -> None:
    file = document(page(), output_intents=(replace(INTENT, identifier=name),), profiles=(PRESS,))
    assert outcome("file.output-intent", file, COATED) == "met"


@pytest.mark.parametrize(
    ("intents", "profile", "problem"),
    [
        ((), PRESS, "missing"),
        ((replace(INTENT, subtype="GTS_PDFA1"),), PRESS, "missing"),
        ((INTENT, INTENT), PRESS, "several"),
        ((replace(INTENT, identifier="FOGRA52"),), PRESS, "not_accepted"),
        ((replace(INTENT, identifier=None),), PRESS, "not_accepted"),
        ((INTENT,), replace(PRESS, damage="It is cut off."), "damaged_profile"),
        ((INTENT,), replace(PRESS, device_class="mntr"), "wrong_class"),
        ((INTENT,), replace(PRESS, declared_channels=3), "wrong_channels"),
    ],
)
def test_a_printing_condition_that_the_printer_cannot_use(intents: tuple, profile: object, problem: str) -> None:  # type: ignore[type-arg]
    found = only_finding("file.output-intent", document(page(), output_intents=intents, profiles=(profile,)), COATED)
    assert found.finding.measured["problem"] == problem
    assert found.finding.required == {"conditions": ["FOGRA51", "PSO Coated v3"]}
    assert found.level == "must"


def test_a_condition_on_the_list_needs_no_profile() -> None:
    for profiles in ((), Unmeasured("It is damaged.")):
        file = document(page(), output_intents=(replace(INTENT, profile=None),), profiles=profiles)
        assert outcome("file.output-intent", file, COATED) == "met"


def test_a_damaged_profile_of_a_picture_is_not_that_of_the_condition() -> None:
    of_a_picture = replace(PRESS, key="9 0", damage="It is cut off.")
    file = document(page(), output_intents=(INTENT,), profiles=(of_a_picture, PRESS))
    assert outcome("file.output-intent", file, COATED) == "met"


def test_a_name_without_its_last_digit_is_another_condition() -> None:
    file = document(page(), output_intents=(replace(INTENT, identifier="FOGRA5"),), profiles=(PRESS,))
    assert outcome("file.output-intent", file, COATED) == "not_met"


@pytest.mark.parametrize("fact", ["output_intents", "profiles"])
def test_what_could_not_be_read_is_not_passed(fact: str) -> None:
    facts = {"output_intents": (INTENT,), "profiles": (PRESS,), fact: Unmeasured("It is damaged.")}
    rule, findings = judged("file.output-intent", document(page(), **facts), COATED)
    assert (rule.outcome, rule.reason, findings) == ("not_measured", "It is damaged.", ())


def test_a_sheet_without_conditions_does_not_ask() -> None:
    assert outcome("file.output-intent", document(page()), SpecSheet(file=FileAsked(standards=("PDF/X-4",)))) == "not_applicable"


@pytest.mark.parametrize(
    ("asked", "named", "expected"),
    [
        ("ISO Coated v2", "FOGRA39", "met"), ("ISO Coated v2 300 % (ECI)", "FOGRA39L", "met"),
        ("FOGRA39", "ISO coated v2", "met"),
        ("PSO Uncoated v3", "FOGRA52", "met"), ("GRACoL 2006", "CGATS TR 006", "met"), ("ISO Coated v2", "FOGRA51", "not_met"),
        ("SWOP 2006 Coated 3", "CGATS TR 006", "not_met"),
    ],
)
def test_the_usual_name_of_a_profile_stands_for_its_condition(asked: str, named: str, expected: str) -> None:
    file = document(page(), output_intents=(replace(INTENT, identifier=named),), profiles=(PRESS,))
    assert outcome("file.output-intent", file, SpecSheet(file=FileAsked(output_conditions=(asked,)))) == expected


@pytest.mark.parametrize(("identifier", "expected"), [("Custom", "met"), ("FOGRA52", "not_met")])
def test_the_profile_says_what_a_condition_without_a_name_is(identifier: str, expected: str) -> None:
    intents, profile = (replace(INTENT, identifier=identifier),), replace(PRESS, description="ISO Coated v2 (ECI)")
    coated = SpecSheet(file=FileAsked(output_conditions=("FOGRA39",)))
    assert outcome("file.output-intent", document(page(), output_intents=intents, profiles=(profile,)), coated) == expected
