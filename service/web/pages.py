"""The pages of the service: `/` to send a file, `/checks/{id}` to read the result, and the scripts and styles that they use."""

from __future__ import annotations

from pathlib import Path
from typing import Any
from urllib.parse import urlencode

from flask import Blueprint, Response, render_template, request, send_from_directory, url_for
from flask.blueprints import BlueprintSetupState

from service.answers.problems import PROBLEMS
from service.api.checks.kept_checks import found_check
from service.api.http.blueprint import parts
from service.api.http.callers.access import caller
from service.api.http.languages import in_spoken_language
from service.api.http.problem_pages import words_on_page
from service.api.http.problems import Problem
from service.api.specs.kept_sheets import find_kept
from service.language.spoken import LANGUAGES, say, say_many, spoken, translated
from service.language.wording import number, stored_size
from service.proofs.report.telling import time_said
from service.setting_values import KEYS
from service.store.models import CheckRow
from service.web.choices import choices
from service.web.results import advice_on, pages_without_script, result_of
from service.web.script_texts import script_texts

_STATIC = Path(__file__).parent / "static"

POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob: data:; connect-src 'self'; "
    "form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
)
"""Everything from here, nothing inline. Pictures come as blobs too: they are fetched, so that a problem can be told."""

LANGUAGE_NAMES = {"en": "English", "de": "Deutsch", "fr": "Français", "es": "Español"}

blueprint = Blueprint("web", __name__, template_folder="templates")


@blueprint.record_once
def _words(state: BlueprintSetupState) -> None:
    state.app.jinja_env.globals.update(translated=translated, say=say, say_many=say_many)


@blueprint.route("/")
def start() -> Response:
    settings = parts().settings
    answer = page_answer(
        "web/start.html",
        choices=choices(_regions_wished()),
        chosen=request.args.get("spec", "")[:200],
        maximum_bytes=settings.maximum_upload_bytes,
        maximum=stored_size(settings.maximum_upload_bytes),
        kept=_kept_for(settings.retention_hours),
        asks_key=settings.access == KEYS and caller().owner is None,
    )
    answer.headers["Cache-Control"] = "no-cache"
    return answer


def _regions_wished() -> list[str]:
    """The countries in the header Accept-Language: 'en-GB, de-AT;q=0.5' → GB, AT."""
    tags = [tag.replace("_", "-").split("-") for tag, quality in request.accept_languages if quality > 0]
    return [tag[1].upper() for tag in tags if len(tag) == 2 and len(tag[1]) == 2]


def _kept_for(hours: float) -> str:
    return say_many(
        "It is kept for {hours} hour and then deleted; you can delete it sooner.",
        "It is kept for {hours} hours and then deleted; you can delete it sooner.",
        1 if hours == 1 else 2,
        hours=number(hours),
    )


@blueprint.route("/checks/<check_id>")
def check(check_id: str) -> Response:
    row = found_check(check_id)
    if row.state in ("queued", "running"):
        return _secret(page_answer("web/waiting.html", row=row))
    if row.state == "failed":
        kind = PROBLEMS[row.problem or "internal-error"]
        return _secret(page_answer("web/failed.html", row=row, title=say(kind.title), what_to_do=say(kind.what_to_do)))
    result = result_of(row)
    return _secret(
        page_answer(
            "web/result.html",
            row=row,
            result=result,
            sheet_page=_page_of_sheet(row),
            size=stored_size(row.size_bytes),
            expires=time_said(row.expires_at),
            advice=advice_on(result.verdict),
            pictured=pages_without_script(result),
            asks_key=parts().settings.access == KEYS and caller().owner is None,
        )
    )


def _page_of_sheet(row: CheckRow) -> str | None:
    """Of the revision that judged it; None for a sheet that came with the file, whatever id it gave itself."""
    if row.spec_id is None or row.spec_revision is None or "/" in row.spec_id:  # there is no page of a catalogue's sheet
        return None
    try:
        kept = find_kept(row.spec_id, row.spec_revision)
    except Problem:
        return None
    return f"/specs/{row.spec_id}?revision={row.spec_revision}" if kept.digest == row.spec_digest else None


@blueprint.route("/static/<path:name>")
def static_file(name: str) -> Response:
    """Asked for anew each time and answered with 304: a page never meets the scripts of another version."""
    return send_from_directory(_STATIC, name, max_age=0)


@blueprint.errorhandler(Problem)
def _problem(problem: Problem) -> Response:
    if problem.code == "key-missing":  # which no browser sends from the address line; and whether there is one is not told
        detail = say("There is no check here, or no longer, or its owner alone can read it, with a key.")
        problem = Problem("check-not-found", detail)
    answer = page_answer("web/problem.html", **words_on_page(problem))
    answer.status_code = PROBLEMS[problem.code].status
    return _secret(answer)


@blueprint.app_template_global()
def language_links() -> list[dict[str, Any]]:
    """The page in each language, with what else its address says."""
    here = url_for(request.endpoint or "web.start", **(request.view_args or {}))
    kept = [(name, value) for name, value in request.args.items() if name != "lang"]  # never to `url_for`, which obeys some names
    return [
        {
            "code": code,
            "name": LANGUAGE_NAMES[code],
            "here": code == spoken(),
            "address": f"{here}?{urlencode([*kept, ('lang', code)])}",
        }
        for code in LANGUAGES
    ]


@blueprint.app_template_global()
def in_language(address: str) -> str:
    """An address of a page or a document, in the language that was chosen by hand."""
    if not request.args.get("lang"):
        return address
    return f"{address}{'&' if '?' in address else '?'}lang={spoken()}"


def page_answer(template: str, **values: Any) -> Response:
    """A page in the spoken language, under the policy of all pages."""
    answer = Response(
        render_template(template, language=spoken(), texts=script_texts(spoken()), **values), mimetype="text/html"
    )
    answer.headers["Content-Security-Policy"] = POLICY
    return in_spoken_language(answer)


def _secret(answer: Response) -> Response:
    """Whoever knows the id may read the check: nothing keeps the page, nothing lists it."""
    answer.headers["Cache-Control"] = "no-store"
    answer.headers["X-Robots-Tag"] = "noindex, nofollow"
    return answer
