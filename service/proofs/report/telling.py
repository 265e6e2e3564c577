"""The report of a check: everything a person is told, in the spoken language and in the order in which it matters.

Verdict, then what to put right by importance, then what was met and what nobody could see, then the facts of the file, the
sheet's own words, and the cautions. Nothing is opened here and nothing drawn: pictures of places come with the call.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime

from service.language.levels import HEADED, NUMBERED
from service.language.spoken import say, say_many, spoken, to_say, translated
from service.pdf.facts.measurements import Measurements
from service.pdf.facts.unknown import Unmeasured
from service.proofs.dummy.brief import usual_paper
from service.proofs.report.comparisons import comparisons_of
from service.proofs.report.crops import crop_page
from service.proofs.report.facts import file_facts, file_tables, pages_shown, trimmed_sizes, words_of_the_file
from service.proofs.report.records import Crop, Fact, FindingGroup, Labels, Report, ReportedFinding, RuleGroup, RuleLine
from service.proofs.report.sheet import sheet_part, sheet_titled
from service.rules.base import Finding
from service.rules.catalogue import claim_of
from service.rules.headline import headline
from service.rules.judgement import JudgedFinding, JudgedRule, Judgement, RuleOutcome
from service.sheets.model import Level, SpecSheet

MOST_FINDINGS = 150
"""Of one level; a report is for reading, and the check's JSON has all."""

_VERDICTS = {
    "nonconforming": to_say("Nonconforming"),
    "inconclusive": to_say("Inconclusive"),
    "conforming_with_observations": to_say("Conforming, with remarks"),
    "conforming": to_say("Conforming"),
}
_MEANINGS = {
    "nonconforming": to_say(
        "As it is, this file does not meet what the sheet asks. Put right what stands below, export again, and check the new "
        "file before you send it."
    ),
    "inconclusive": to_say(
        "No requirement that was measured is missed, but some of what the sheet asks could not be measured. See below "
        "what and why; export the file another way, or ask the printer."
    ),
    "conforming_with_observations": to_say(
        "All that the sheet insists on is met. Read the remarks below and decide whether each is meant."
    ),
    "conforming": to_say(
        "All that was measured is as the sheet asks. Look at the printer's own proof before you release the job."
    ),
}
_MONTHS = (
    to_say("January"), to_say("February"), to_say("March"), to_say("April"), to_say("May"), to_say("June"), to_say("July"),
    to_say("August"), to_say("September"), to_say("October"), to_say("November"), to_say("December"),
)


@dataclass(frozen=True, kw_only=True)
class Checked:
    """One finished check, whoever keeps it."""

    file_name: str | None
    sha256: str
    checked_at: datetime
    expires_at: datetime | None
    """None where nothing is kept."""
    sheet: SpecSheet
    measurements: Measurements
    judgement: Judgement
    """In the spoken language."""


def report_of(checked: Checked, pictures: Mapping[int, bytes], no_pictures: str | None = None) -> Report:
    """`pictures`: PNG of a finding's place by the finding's number; `no_pictures` says why there are none, or not all."""
    judgement = checked.judgement
    name = words_of_the_file(checked.file_name) or say("A file without a name")
    return Report(
        language=spoken(),
        paper="us-letter" if usual_paper(checked.sheet) == "Letter" else "a4",
        title=say("{file}: report of a check", file=name),
        kind=say("Report of a check"),
        verdict=judgement.verdict,
        verdict_word=say(_VERDICTS[judgement.verdict]),
        headline=headline(judgement),
        meaning=say(_MEANINGS[judgement.verdict]),
        heading_facts=_heading(checked, name),
        remarks=(no_pictures,) if no_pictures and judgement.findings else (),
        findings=_findings(judgement, pictures),
        checked_title=say("What was checked"),
        rules=_rules(judgement.rules),
        facts=(*file_facts(checked.measurements), Fact(say("SHA-256 of the file"), checked.sha256)),
        tables=file_tables(checked.measurements),
        sheet=sheet_part(checked.sheet),
        cautions_title=say("What this report cannot promise"),
        cautions=_cautions(checked),
        labels=Labels(
            measured=say("Measured"), asked=say("Asked"), remedy=say("What to do"), sheet_says=say("The sheet says"),
            rule=say("Rule"), file_facts=say("Facts of the file"),
            page=say("Page {page} of {pages}", page="{page}", pages="{pages}"),
        ),
    )


def _heading(checked: Checked, name: str) -> tuple[Fact, ...]:
    pages = checked.measurements.pages
    facts = [Fact(say("File"), name), Fact(say("Checked against"), sheet_titled(checked.sheet))]
    facts.append(Fact(say("Checked on"), time_said(checked.checked_at)))
    if not isinstance(pages, Unmeasured):
        facts.append(Fact(say("Pages of the file"), str(len(pages))))
        facts.append(Fact(say("Trimmed size"), trimmed_sizes(pages)))
    return tuple(facts)


def time_said(time: datetime) -> str:
    """'27 November 2026, 13:28 UTC'."""
    there = time.astimezone(UTC)
    return say(
        "{day} {month} {year}, {hour}:{minute} UTC",
        day=there.day, month=say(_MONTHS[there.month - 1]), year=there.year, hour=f"{there.hour:02}", minute=f"{there.minute:02}",
    )


# --- Findings ---------------------------------------------------------------------------------------------------------


def _findings(judgement: Judgement, pictures: Mapping[int, bytes]) -> tuple[FindingGroup, ...]:
    numbered = list(enumerate(judgement.findings, 1))
    wished = say("These do not stop the job, and may be seen in print: put right what is not meant.")
    groups = (
        _group("must", say(HEADED["must"]), say("The printer's sheet insists on these."), numbered, pictures),
        _group("should", say(HEADED["should"]), wished, numbered, pictures),
    )
    return tuple(one for one in groups if one.findings)


def _group(
    level: Level, title: str, introduction: str, numbered: Sequence[tuple[int, JudgedFinding]], pictures: Mapping[int, bytes]
) -> FindingGroup:
    ours = [(number, one) for number, one in numbered if one.level == level]
    left = len(ours) - MOST_FINDINGS
    remark = say_many("{count} more is in the check's JSON.", "{count} more are in the check's JSON.", left) if left > 0 else None
    told = tuple(_told(number, one, pictures.get(number)) for number, one in ours[:MOST_FINDINGS])
    return FindingGroup(level, title, introduction, told, remark)


def _told(number: int, judged: JudgedFinding, png: bytes | None) -> ReportedFinding:
    finding = judged.finding
    return ReportedFinding(
        number=number,
        level=judged.level,
        marked=say(NUMBERED[judged.level], number=number),
        where=_where(finding.pages),
        message=finding.message,
        comparisons=comparisons_of(judged.rule, finding),
        remedy=finding.remedy,
        note=translated(judged.note) or None,
        rule=claim_of(judged.rule),
        crop=_crop(number, finding, png) if png else None,
    )


def _where(pages: Sequence[int]) -> str:
    if not pages:
        return say("In the file as a whole")
    return say_many("On page {pages}", "On pages {pages}", len(set(pages)), pages=pages_shown(pages))


def _crop(number: int, finding: Finding, png: bytes) -> Crop:
    page = crop_page(finding) or 1
    others = [one for one in finding.pages if one != page]
    caption = say("Page {page}, the place outlined.", page=page)
    if others:
        also = say_many("Also on page {pages}.", "Also on pages {pages}.", len(set(others)), pages=pages_shown(others))
        caption = say("{caption} {also}", caption=caption, also=also)
    return Crop(png, say("Part of page {page} with the place of finding {number} outlined", page=page, number=number), caption)


# --- Rules ------------------------------------------------------------------------------------------------------------


def _rules(rules: Sequence[JudgedRule]) -> tuple[RuleGroup, ...]:
    met, unseen, unasked = (_came_out(rules, one) for one in ("met", "not_measured", "not_applicable"))
    partly = [one for one in rules if one.outcome == "not_met" and one.reason]
    groups = (
        RuleGroup(
            "met", say("Checked and met"),
            say_many("{count} rule that applies here is met.", "{count} rules that apply here are met.", len(met)),
            _lines(met),
        ),
        _unknown([*unseen, *partly]),
        RuleGroup(
            "not_asked", say("Not asked"),
            say_many(
                "{count} rule is not asked for by the sheet.", "{count} rules are not asked for by the sheet.", len(unasked)
            ),
            _lines(unasked),
        ),
    )
    return tuple(one for one in groups if one.rules)


def _unknown(rules: Sequence[JudgedRule]) -> RuleGroup:
    """A file that could not be measured has one reason for everything: it is said once."""
    reasons = {one.reason for one in rules}
    shared = [one for one in reasons if one] if len(rules) > 1 and len(reasons) == 1 else []
    introduction = say("Whether these are met could not be measured. Ask the printer where one of them matters.")
    lines = tuple(RuleLine(claim_of(one.rule)) for one in rules) if shared else _lines(rules)
    return RuleGroup("not_measured", say("Not measured, or not in full"), " ".join([introduction, *shared]), lines)


def _came_out(rules: Sequence[JudgedRule], outcome: RuleOutcome) -> list[JudgedRule]:
    return [one for one in rules if one.outcome == outcome]


def _lines(rules: Sequence[JudgedRule]) -> tuple[RuleLine, ...]:
    return tuple(RuleLine(claim_of(one.rule), one.reason) for one in rules)


# --- Cautions ---------------------------------------------------------------------------------------------------------


def _cautions(checked: Checked) -> tuple[str, ...]:
    """Where the tolerances come from stands under /docs/cautions: common practice; ISO 16763 has the classes for cutting."""
    kept = (
        say(
            "The file and this result are kept until {time}, then they are deleted; whoever has the address can delete them "
            "sooner.",
            time=time_said(checked.expires_at),
        )
        if checked.expires_at
        else say("Neither the file nor this result is kept by what checked it.")
    )
    return (
        say(
            "Conforming is not a promise. What can be measured in the file was judged against what the sheet asks; colours as "
            "they will print, a misspelled name, a wrong photograph and what happens on press were not."
        ),
        say("The printer's own proof and the printer's own terms decide. Look at the proof before you release the job."),
        say(
            "Paper moves: cutting is usually good to about 1 mm, at times 2, and folds to about 1 mm (common practice, no "
            "source; ISO 16763 has the formal classes). Keep text and thin frames away from edges and folds, whatever a check "
            "says."
        ),
        kept,
    )
