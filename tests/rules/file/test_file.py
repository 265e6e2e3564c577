"""The file as a whole: opens, may be printed, size, version."""

from __future__ import annotations

from dataclasses import replace

import pytest

from service.pdf.facts.document import Encryption
from service.pdf.facts.measurements import Measurements
from service.pdf.facts.unknown import BeyondLimits, Failure, Unmeasured
from service.rules.catalogue import RULES
from service.rules.headline import headline
from service.rules.judge import judge
from service.sheets.format.parsing import parse_sheet_text
from service.sheets.format.validation import read_sheet
from service.sheets.model import FileAsked, SpecSheet, TrimAsked
from tests.rules.measured import broken_rules, document, judged, only_finding, outcome, page, without_content
from tests.sheets.complete import COMPLETE

ANY = SpecSheet(trim=TrimAsked(width_mm=85, height_mm=55))


def failed(kind: str) -> Measurements:
    return Measurements.unreadable(420, Failure(kind, "a sentence for the reader"))  # type: ignore[arg-type]


# --- file.readable ----------------------------------------------------------------------------------------------------


def test_a_sound_file_is_readable() -> None:
    assert outcome("file.readable", document(page()), ANY) == "met"


def test_a_file_whose_end_is_missing_breaks_a_must_though_its_pages_can_be_read() -> None:
    """Settled point 12 of the contract: a truncated file does not conform; nobody knows what stood at its end."""
    cut = document(page(), damage=("The end of the file is missing.",), cut_off=True)
    assert only_finding("file.readable", cut, ANY).level == "must"


def test_repaired_damage_is_an_observation_with_every_sentence() -> None:
    repaired = document(page(), damage=("The cross-reference table was missing.", "A stream was too short."))
    found = only_finding("file.readable", repaired, ANY)
    assert found.level == "should"
    assert found.finding.measured == {"damage": ["The cross-reference table was missing.", "A stream was too short."]}
    assert found.finding.pages == ()


def test_a_file_that_nobody_can_read_is_a_nonconformity_whatever_the_sheet() -> None:
    judgement = judge(failed("broken"), ANY)
    assert judgement.verdict == "nonconforming"
    assert broken_rules(judgement) == {"file.readable"}
    assert judgement.findings[0].finding.measured["failure"] == "broken"
    assert next(one for one in judgement.rules if one.rule == "trim.size").outcome == "not_measured"


@pytest.mark.parametrize("kind", ["hostile", "limits"])
def test_a_file_that_we_could_not_measure_is_not_broken_and_not_decided(kind: str) -> None:
    """A limit of ours, or a crash that may be ours, says nothing against the file."""
    judgement = judge(failed(kind), read_sheet(parse_sheet_text(COMPLETE), known_rules=RULES))
    assert (judgement.verdict, judgement.findings) == ("inconclusive", ())
    asked = [one for one in judgement.rules if one.outcome != "not_applicable" and one.rule != "file.size"]
    assert len(asked) > 40
    assert {(one.outcome, one.reason) for one in asked} == {("not_measured", "a sentence for the reader")}
    assert headline(judgement) == "Not decided: a sentence for the reader"


def test_its_size_is_known_all_the_same() -> None:
    """What is known of it counts: a file larger than the printer takes is larger, however heavy it is to measure."""
    judgement = judge(failed("limits"), SpecSheet(file=FileAsked(maximum_size_bytes=400)))
    assert judgement.verdict == "nonconforming"
    assert broken_rules(judgement) == {"file.size"}


def test_a_page_beyond_our_limits_is_not_broken_either() -> None:
    heavy = replace(page(), content=BeyondLimits("The page was not followed to its end."))
    file = document(page(), heavy, without_content(page()))
    rule, findings = judged("file.readable", file, ANY)
    assert [one.finding.pages for one in findings] == [(3,)]
    assert rule.reason == "Page 2: The page was not followed to its end."
    judgement = judge(document(page(), heavy), ANY)
    assert judgement.verdict == "inconclusive"
    assert headline(judgement) == "Not decided: page 2: The page was not followed to its end"


def test_pages_that_stop_for_one_reason_are_one_nonconformity() -> None:
    found = only_finding("file.readable", document(page(), without_content(page()), without_content(page())), ANY)
    assert found.level == "must"
    assert found.finding.pages == (2, 3)


def test_pages_that_cannot_be_found_leave_it_open_whether_they_can_be_read() -> None:
    lost = replace(document(page()), pages=Unmeasured("The page tree is damaged."))
    rule, findings = judged("file.readable", lost, ANY)
    assert (rule.outcome, rule.reason, findings) == ("not_measured", "The page tree is damaged.", ())


def test_a_locked_file_is_told_once() -> None:
    judgement = judge(failed("locked"), ANY)
    assert broken_rules(judgement) == {"file.locked"}
    assert judgement.verdict == "nonconforming"
    assert outcome("file.readable", failed("locked"), ANY) == "not_measured"


# --- file.locked ------------------------------------------------------------------------------------------------------


def test_a_locked_file_is_a_nonconformity_even_where_the_file_block_only_wishes() -> None:
    found = only_finding("file.locked", failed("locked"), SpecSheet(file=FileAsked(level="should", encryption="allowed")))
    assert found.level == "must"
    assert found.finding.measured["opens"] is False


@pytest.mark.parametrize(("asked", "expected"), [("forbidden", "not_met"), ("allowed", "met"), (None, "met")])
def test_encryption_without_a_password_breaks_only_where_it_is_forbidden(asked: str | None, expected: str) -> None:
    encrypted = document(page(), encryption=Encryption(encrypted=True, printing_allowed=True))
    assert outcome("file.locked", encrypted, SpecSheet(file=FileAsked(encryption=asked))) == expected  # type: ignore[arg-type]


def test_a_file_that_may_not_be_printed_is_no_use_to_a_printer() -> None:
    unprintable = document(page(), encryption=Encryption(encrypted=True, printing_allowed=False))
    assert only_finding("file.locked", unprintable, ANY).finding.measured["printing_allowed"] is False
    assert outcome("file.locked", unprintable, SpecSheet(purpose="client-preview")) == "met"


def test_forbidden_encryption_and_forbidden_printing_are_one_finding() -> None:
    unprintable = document(page(), encryption=Encryption(encrypted=True, printing_allowed=False))
    only_finding("file.locked", unprintable, SpecSheet(file=FileAsked(encryption="forbidden")))


def test_an_unknown_encryption_is_not_a_pass() -> None:
    assert outcome("file.locked", document(page(), encryption=Unmeasured("odd dictionary")), ANY) == "not_measured"


# --- file.size --------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("size", "expected"), [(5_000_000, "met"), (5_000_001, "not_met")])
def test_the_size_limit_is_a_limit_in_bytes(size: int, expected: str) -> None:
    sheet = SpecSheet(file=FileAsked(maximum_size_bytes=5_000_000))
    assert outcome("file.size", document(page(), size_bytes=size), sheet) == expected


def test_the_size_is_known_even_of_a_file_that_cannot_be_read() -> None:
    assert outcome("file.size", failed("broken"), SpecSheet(file=FileAsked(maximum_size_bytes=1000))) == "met"
    assert only_finding("file.size", failed("broken"), SpecSheet(file=FileAsked(maximum_size_bytes=419))).finding.measured == {
        "size_bytes": 420
    }


def test_without_a_limit_no_size_is_asked_for() -> None:
    assert outcome("file.size", document(page()), SpecSheet(file=FileAsked())) == "not_applicable"


# --- file.version -----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("version", "expected"), [("1.2", "not_met"), ("1.3", "met"), ("1.7", "met"), ("1.10", "not_met"), ("2.0", "not_met")]
)
def test_versions_compare_as_numbers(version: str, expected: str) -> None:
    sheet = SpecSheet(file=FileAsked(minimum_version="1.3", maximum_version="1.7"))
    assert outcome("file.version", document(page(), version=version), sheet) == expected


def test_one_end_of_the_range_may_be_open() -> None:
    assert outcome("file.version", document(page(), version="2.0"), SpecSheet(file=FileAsked(minimum_version="1.6"))) == "met"
    found = only_finding("file.version", document(page(), version="2.0"), SpecSheet(file=FileAsked(maximum_version="1.6")))
    assert found.finding.required == {"minimum": None, "maximum": "1.6"}
    assert outcome("file.version", document(page(), version="2.0"), SpecSheet(file=FileAsked())) == "not_applicable"


def test_an_unknown_version_is_not_a_pass() -> None:
    sheet = SpecSheet(file=FileAsked(minimum_version="1.3"))
    rule, findings = judged("file.version", document(page(), version=Unmeasured("the header says 1.x")), sheet)
    assert (rule.outcome, rule.reason, findings) == ("not_measured", "the header says 1.x", ())


def test_the_printers_note_comes_back_with_the_finding() -> None:
    sheet = SpecSheet(file=FileAsked(maximum_version="1.4", note="Our oldest press reads 1.4."))
    assert only_finding("file.version", document(page()), sheet).note == "Our oldest press reads 1.4."


def test_what_is_wrong_reads_as_one_sentence() -> None:
    locked = Measurements.unreadable(10, Failure("locked", "The file asks for a password. Save it without one, and send that."))
    message = only_finding("file.locked", locked, ANY).finding.message
    assert message == "The file is locked: the file asks for a password. Save it without one, and send that."
    torn = document(page(), damage=("The table is damaged.", "JavaScript is cut.", "Some content is lost.", "A, B.", "C."))
    assert only_finding("file.readable", torn, ANY).finding.message == (
        "The file is damaged and opens only after repair: the table is damaged; JavaScript is cut; some content is lost; "
        "and 2 more."
    )
