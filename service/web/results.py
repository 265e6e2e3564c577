"""A finished check as the result page shows it: the verdict, the findings with their numbers, and what a viewer has to draw."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from service.answers.judgement import finding_answer, rule_answer, summary_answer
from service.answers.measurements import box_mm
from service.api.checks.measured import measurements_of, needed
from service.jobs.checking import sheet_of
from service.jobs.judgement_codec import judgement_from_json
from service.language.levels import FOUND
from service.language.spoken import say
from service.language.wording import pages_named, reason
from service.pdf.facts.measurements import Measurements
from service.pdf.facts.page import Page
from service.pdf.facts.unknown import Unmeasured
from service.proofs.picture.markers.page_markup import lines_of
from service.proofs.picture.page_brief import MOST_PIXELS, picture_area
from service.sheets import catalogue
from service.sheets.model import SpecSheet
from service.store.models import CheckRow
from service.web.fitting_products import SIZE_RULES, FittingProduct, fitting_products
from service.web.topics import topic_named

MOST_PAGE_BUTTONS = 8
"""Of one finding; the strip of pages leads to the others."""


MOST_PICTURES = 12
"""Without script; the report has more."""


@dataclass(frozen=True)
class ShownFinding:
    number: int
    level: str
    level_said: str
    topic: str
    message: str
    remedy: str
    note: str | None
    where: str
    """'page 2'; empty for the document as a whole."""
    pages: tuple[int, ...]
    """The first ones, to go to."""
    of_size: bool
    """Whether another product may be meant."""


@dataclass(frozen=True)
class Result:
    verdict: str
    headline: str
    findings: tuple[ShownFinding, ...]
    met: int
    not_asked: int
    unmeasured: tuple[tuple[str, str], ...]
    """(what, why): what the rules are about that could not see what they need, once for each reason."""
    other_products: tuple[FittingProduct, ...]
    """That the file would fit, where it has not the size that is asked."""
    no_pages: str
    """Why no page can be shown; empty where they can."""
    drawn: dict[str, Any]
    """For the viewer, as JSON: the pages with their boxes, and the findings with their places, all in mm."""


def result_of(row: CheckRow) -> Result:
    """Of a finished check."""
    assert row.judgement, "only a finished check has a result"
    judgement = judgement_from_json(row.judgement)
    measurements = needed(measurements_of(row))
    findings = [finding_answer(one) for one in judgement.findings]
    rules = [rule_answer(one) for one in judgement.rules]
    pages = measurements.pages
    return Result(
        verdict=judgement.verdict,
        headline=summary_answer(judgement)["headline"],
        findings=tuple(_shown(number, one) for number, one in enumerate(findings, 1)),
        met=sum(one["outcome"] == "met" for one in rules),
        not_asked=sum(one["outcome"] == "not_applicable" for one in rules),
        unmeasured=_unmeasured(rules),
        other_products=fitting_products(
            (one["rule"] for one in findings), measurements, sheet_of(row), catalogue.stored_sheets().values()
        ),
        no_pages=reason(pages) if isinstance(pages, Unmeasured) else "",
        drawn=_drawn(row, measurements, findings),
    )


def _unmeasured(rules: Sequence[dict[str, Any]]) -> tuple[tuple[str, str], ...]:
    """A file that cannot be opened has one reason for everything: it is said once."""
    topics: dict[str, dict[str, None]] = {}
    for one in rules:
        if one["reason"] and one["outcome"] != "not_applicable":
            topics.setdefault(one["reason"], {})[topic_named(one["rule"])] = None
    return tuple((", ".join(what), why) for why, what in topics.items())


def advice_on(verdict: str) -> str:
    """The sentence after the headline: what the verdict asks of whoever reads it."""
    match verdict:
        case "nonconforming":
            return say("Put right what is marked with a diamond, export the file again, and check the new one.")
        case "inconclusive":
            return say("Something that the printer asks for could not be seen in this file: it is named below. Ask the printer.")
        case "conforming_with_observations":
            return say(
                "Nothing that was measured stands against printing. "
                "Look at what is marked with a circle, and decide whether it is meant."
            )
        case _:
            return say("Nothing that was measured stands against printing. Look at the printer's proof all the same.")


def pages_without_script(result: Result) -> list[int]:
    """The pages whose marked pictures stand in the page itself: those that findings lead to, else the first ones."""
    found = sorted({page for one in result.findings for page in one.pages})
    return (found or [page["number"] for page in result.drawn["pages"]])[:MOST_PICTURES]


def _shown(number: int, finding: dict[str, Any]) -> ShownFinding:
    pages: Sequence[int] = finding["pages"] or sorted({place["page"] for place in finding["places"]})
    return ShownFinding(
        number=number,
        level=finding["level"],
        level_said=say(FOUND[finding["level"]]),
        topic=topic_named(finding["rule"]),
        message=finding["message"],
        remedy=finding["remedy"],
        note=finding["note"],
        where=pages_named(pages) if pages else "",
        pages=tuple(pages[:MOST_PAGE_BUTTONS]),
        of_size=finding["rule"] in SIZE_RULES,
    )


def _drawn(row: CheckRow, measurements: Measurements, findings: list[dict[str, Any]]) -> dict[str, Any]:
    pages = () if isinstance(measurements.pages, Unmeasured) else measurements.pages
    sheet = sheet_of(row)
    return {
        "check": f"/v1/checks/{row.id}",
        "most_pixels": MOST_PIXELS,
        "ink_limit": sheet.color.ink_limit_percent if sheet.color else None,
        "pages": [_page(page, sheet) for page in pages],
        "findings": [
            {
                "number": number,
                "level": one["level"],
                "topic": topic_named(one["rule"]),
                "pages": one["pages"],
                "places": [[place["page"], *place["box_mm"]] for place in one["places"]],
            }
            for number, one in enumerate(findings, 1)
        ],
    }


def _page(page: Page, sheet: SpecSheet) -> dict[str, Any]:
    return {
        "number": page.number,
        "area": box_mm(picture_area(page)),
        "lines": [{"style": one.style, "label": one.label, "box": box_mm(one.box_mm)} for one in lines_of(page, sheet)],
    }
