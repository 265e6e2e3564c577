"""`/v1/checks/{id}/report`: the result of a check for people, as an HTML page, as PDF, or as the check's own JSON.

* The page carries all it needs, and a Content-Security-Policy lets nothing else in. While the check waits or runs it says how far
  that is and asks again by itself, without a script.
* Pictures and the PDF are made in the sandbox on demand. A report whose pictures cannot be made says so and comes without.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Literal, get_args

import marshmallow as ma
from flask import Response, jsonify, request
from flask.views import MethodView
from marshmallow import fields
from marshmallow.validate import OneOf

from service.answers.problems import PROBLEMS
from service.api.checks.answer import check_answer
from service.api.checks.check_shapes import CheckAnswer
from service.api.checks.kept_checks import found_check
from service.api.checks.measured import measurements_of, needed
from service.api.http.blueprint import BARE_PDF, IF_NONE_MATCH, Blueprint, parts
from service.api.http.languages import in_spoken_language
from service.api.http.problem_pages import OR_PAGE
from service.api.http.problems import Problem
from service.api.proofs.on_demand import has, kept, made, tag_of
from service.api.proofs.pictures import crops_of
from service.api.proofs.proof_pdfs import PDF_HEADERS, PROOF_NOT_MADE, saved_as
from service.jobs.checking import sheet_of
from service.jobs.children.tasks import DrawingTask
from service.jobs.judgement_codec import judgement_from_json
from service.language.spoken import say, spoken
from service.language.wording import reason
from service.pdf.facts.unknown import Unmeasured
from service.proofs.report.crops import crops_planned
from service.proofs.report.html import CONTENT_SECURITY_POLICY, failed_html, report_html, waiting_html
from service.proofs.report.pdf import NOT_SET, REPORT_PDF, REPORT_TEMPLATE, ReportPdfBrief
from service.proofs.report.records import Report
from service.proofs.report.telling import Checked, report_of
from service.store.models import CheckRow

ReportFormat = Literal["html", "pdf", "json"]
_MIMETYPES: dict[str, ReportFormat] = {"text/html": "html", BARE_PDF: "pdf", "application/json": "json"}
"""The first is what a caller gets who takes anything."""
_ASK_AGAIN_SECONDS = 2

blueprint = Blueprint("reports", __name__, url_prefix="/v1/checks", description="The result of a check for people.")


class ReportQuery(ma.Schema):
    format = fields.String(
        validate=OneOf(get_args(ReportFormat)),
        metadata={"description": "For links, which cannot set the header Accept; it counts before that header."},
    )


@blueprint.route("/<check_id>/report", parameters=[IF_NONE_MATCH])
class ReportView(MethodView):
    @blueprint.needs("read", unless="link")
    @blueprint.arguments(ReportQuery, location="query")
    @blueprint.response(
        200, {"type": "string"}, content_type="text/html", headers=PDF_HEADERS,
        description="One page that needs nothing else. Until the check is finished it says how far that is.",
    )
    @blueprint.alt_response(200, schema={}, content_type=BARE_PDF, success=True, headers=PDF_HEADERS)
    @blueprint.alt_response(200, schema=CheckAnswer, content_type="application/json", success=True)
    @blueprint.alt_response(304, description="Nothing has changed.", success=True)
    @blueprint.alt_response(404, f"NOT_FOUND{OR_PAGE}")
    @blueprint.alt_response(406, "NOT_ACCEPTABLE")
    @blueprint.alt_response(409, "CONFLICT")
    @blueprint.alt_response(422, "UNPROCESSABLE_ENTITY")
    @blueprint.alt_response(429, "TOO_MANY_REQUESTS")
    def get(self, query: dict[str, Any], check_id: str) -> Response:
        """The report of a check: what to put right first, then what was met, the facts of the file, and the cautions."""
        wanted = query.get("format") or _accepted()
        row = found_check(check_id)
        answer = _ANSWER_IN[wanted](row)
        answer.vary.add("Accept")
        return in_spoken_language(answer)


def _accepted() -> ReportFormat:
    """By the header Accept. Raises `Problem`."""
    if not request.accept_mimetypes:
        return "html"
    best = request.accept_mimetypes.best_match(list(_MIMETYPES))
    if best is None:
        known = ", ".join(_MIMETYPES)
        raise Problem("not-acceptable", say("A report comes as {types}; 'format' in the address chooses as well.", types=known))
    return _MIMETYPES[best]


def _json(row: CheckRow) -> Response:
    return _passing(jsonify(check_answer(row)))


# --- The page -----------------------------------------------------------------------------------------------------------


def _html(row: CheckRow) -> Response:
    if row.state in ("queued", "running"):
        waits = "queued" if row.state == "queued" else row.stage or "running"
        return _not_yet(waiting_html(stage=waits, page=row.page, pages=row.pages, seconds=_ASK_AGAIN_SECONDS))
    if row.state != "finished" or row.measured is None:
        problem = PROBLEMS[row.problem or "check-failed"]
        return _not_yet(failed_html(what=say(problem.title), what_to_do=say(problem.what_to_do)))
    tag = _tag(row, "html")
    if has(tag):
        return kept(_page("", status=304), tag)
    shown = _shown(row)
    answer = _page(report_html(shown.report, pdf_address=f"?format=pdf&lang={spoken()}"))
    return kept(answer, tag) if shown.lasting else _passing(answer)


def _page(text: str, status: int = 200) -> Response:
    """A browser that keeps a page takes over the headers of its 304: that carries the policy as well."""
    answer = Response(text, status, mimetype="text/html")
    answer.headers["Content-Security-Policy"] = CONTENT_SECURITY_POLICY
    return answer


def _not_yet(text: str) -> Response:
    return _passing(_page(text))


# --- The PDF ------------------------------------------------------------------------------------------------------------


def _pdf(row: CheckRow) -> Response:
    """Raises `Problem`."""
    if row.state in ("queued", "running"):
        detail = say("The check is still waiting or running; its report can be had once it is finished.")
        raise Problem("check-not-finished", detail, headers={"Retry-After": str(_ASK_AGAIN_SECONDS)})
    if row.state != "finished" or row.measured is None:
        raise Problem("check-failed", say("The check failed, so that there is nothing to report. Send the PDF again."))
    tag = _tag(row, "pdf")
    if has(tag):
        return kept(Response(status=304, mimetype=BARE_PDF), tag)
    shown = _shown(row)
    answer = Response(_drawn(ReportPdfBrief(shown.report, row.finished_at or row.created_at)), mimetype=BARE_PDF)
    answer.headers["Content-Disposition"] = saved_as(row.file_name, "report", "inline")
    return kept(answer, tag) if shown.lasting else _passing(answer)


def _drawn(brief: ReportPdfBrief) -> bytes:
    pdf = made(DrawingTask(pdf=REPORT_TEMPLATE, brief=brief, draw=REPORT_PDF))
    if isinstance(pdf, Unmeasured) or not pdf.startswith(b"%PDF-"):
        raise Problem(PROOF_NOT_MADE, reason(NOT_SET))
    return pdf


# --- What both show -----------------------------------------------------------------------------------------------------


@dataclass(frozen=True)
class _Shown:
    report: Report
    lasting: bool
    """False where it may be more complete when asked for again."""


def _shown(row: CheckRow) -> _Shown:
    assert row.judgement, "the check is finished"
    measurements, sheet = needed(measurements_of(row)), sheet_of(row)
    judgement = judgement_from_json(row.judgement)
    checked = Checked(
        file_name=row.file_name,
        sha256=row.sha256,
        checked_at=row.finished_at or row.created_at,
        expires_at=row.expires_at,
        sheet=sheet,
        measurements=measurements,
        judgement=judgement,
    )
    planned = crops_planned(measurements, judgement)
    if not parts().blobs.holds(row.id):
        gone = say("This report has no pictures: the result is kept, the PDF is not.") if planned.numbers else None
        return _Shown(report_of(checked, {}, gone), lasting=True)
    try:
        pictures = planned.of(crops_of(row, planned.brief))
    except Problem:  # too many are waiting
        why = say("The pictures could not be made just now. Ask for the report again.")
        return _Shown(report_of(checked, {}, why), lasting=False)
    missing = planned.said_of_missing(pictures)
    return _Shown(report_of(checked, pictures, missing), lasting=missing is None)


def _tag(row: CheckRow, made_as: ReportFormat) -> str:
    has_file = parts().blobs.holds(row.id)
    return tag_of(row, made_as, row.id, row.finished_at, spoken(), has_file)


def _passing(answer: Response) -> Response:
    """It may be another one when it is asked for again."""
    answer.headers["Cache-Control"] = "no-store"
    return answer


_ANSWER_IN = {"html": _html, "pdf": _pdf, "json": _json}
