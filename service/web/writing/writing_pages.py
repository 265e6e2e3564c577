"""`/specs/new` and `/specs/{id}/edit`: a sheet of one's own, written as a form. What is kept goes the way of `/v1/specs`.

The form works without script: each button sends all of it and the page comes back. With script the same is sent while somebody
types, and the parts of the page that follow from it are put in (`sheet_form.js`).
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from flask import Blueprint, Response, request, url_for

from service.answers.problems import PROBLEMS
from service.api.http.callers.access import caller
from service.api.http.callers.signed_in import is_from_here
from service.api.http.problem_pages import words_on_page
from service.api.http.problems import Problem
from service.api.specs.keeping import changeable, keep_new, keep_next
from service.api.specs.kept_sheets import Kept
from service.api.specs.readings import read_text
from service.api.specs.sheet_bodies import changed, refused_problem
from service.api.specs.template_readings import read_template_pdf
from service.language.spoken import LANGUAGES, say, translated
from service.rules.catalogue import RULES
from service.sheets.format.refusals import SheetRefused
from service.sheets.revisions import read_complete
from service.web.pages import page_answer
from service.web.writing.controls import Ready, form_of
from service.web.writing.draft import (
    Draft,
    Errors,
    as_the_base_says,
    base_named,
    based_on,
    from_own,
    from_sheet,
    from_yaml,
    named,
    read_by_the_reader,
)
from service.web.writing.entered import MOST_ENTRIES, document_of, entries_of
from service.web.writing.left_open import answers_taken
from service.web.writing.starts import (
    Read,
    bases,
    carried,
    drafts_named,
    product_kinds,
    sheet_pasted,
    template_told,
    told_of,
    without,
)
from service.web.writing.told import checks, differing, drawn, refusals, units_of, usual_levels

blueprint = Blueprint("writing_pages", __name__, template_folder="../templates")

_SHOW = "show"
"""By a script: `parts`, those of the page that follow from the answers, or `whole`. What is refused it reads in the page."""


@dataclass(frozen=True)
class Page:
    """What is shown; each kind of request changes some of it."""

    draft: Draft
    kept: Kept | None = None
    """The revision that is being changed; None for a new sheet."""
    read: Read | None = None
    errors: Errors | None = None
    """None: those of the draft. As they are told at the questions."""
    yaml: str | None = None
    """As somebody has written it, where it could not be taken over."""
    yaml_errors: Errors = ()
    start_problem: str = ""
    template_problem: str = ""
    text: str = ""
    products: tuple[str, ...] = ()
    started: bool = True
    problem: str = ""
    """Of the whole: why it could not be kept."""
    status: int = 200


@blueprint.before_request
def _held_to_writers() -> None:
    """Whoever may write sheets; where the service asks for keys he is signed in. Raises `Problem`."""
    if not caller().may("edit-sheets"):
        raise Problem("key-missing", say("To write sheets here, sign in with a key that allows 'edit-sheets'."))


# --- Addresses --------------------------------------------------------------------------------------------------------------


@blueprint.route("/specs/new", methods=["GET", "POST"])
def new() -> Response:
    """Started from nothing, or from what is named by `from`; with a form as it says in `do`."""
    if request.method == "POST":
        _only_from_here()
        return _shown(_done(Page(_sent_draft()), None))
    start = request.args.get("from", "").strip()[:100]
    return _shown(Page(from_sheet(start)) if start else Page(Draft({}), started=False))


@blueprint.route("/specs/<spec_id>/edit", methods=["GET", "POST"])
def edit(spec_id: str) -> Response:
    """A sheet of one's own as it is kept; what is sent becomes its next revision."""
    kept = changeable(spec_id)
    if request.method == "POST":
        _only_from_here()
        return _shown(_done(Page(_sent_draft(), kept), kept))
    return _shown(Page(from_own(kept), kept))


@blueprint.errorhandler(Problem)
def _problem(problem: Problem) -> Response:
    answer = page_answer("web/problem.html", **words_on_page(problem))
    answer.status_code = PROBLEMS[problem.code].status
    return answer


# --- What a button does -----------------------------------------------------------------------------------------------------


def _done(page: Page, kept: Kept | None) -> Page | Response:
    """By the button that was used; `look` where none was."""
    action, _, about = request.form.get("do", "look").partition(":")
    page = replace(page, read=carried(request.form.get("reading", "")))
    match action:
        case "keep":
            return _kept(page, kept)
        case "yaml":
            return _from_yaml(page)
        case "take":
            return replace(page, read=without(page.read, answers_taken(about))) if page.read else page
        case "add" | "drop":
            return page  # the form that was sent has it done already, see `_sent_form`
        case "read":
            return _from_text(page)
        case "template":
            return _from_template(page)
        case _:
            return page


def _sent_form() -> dict[str, list[str]]:
    """With the entry that somebody adds to a list, or without the one that is taken out; with the answer that is taken over."""
    form = dict(request.form.lists())
    action, _, name = request.form.get("do", "").partition(":")
    if action == "add" and name.startswith("/"):
        at = max(entries_of(form, name), default=-1) + 1
        form |= {f"{name}/{at}": [""]} if at < MOST_ENTRIES else {}
    if action == "take":
        form |= answers_taken(name)
    if action == "drop" and name.startswith("/"):
        form = {key: value for key, value in form.items() if key != name and not key.startswith(f"{name}/")}
    return form


def _sent_draft() -> Draft:
    sent = Draft(document_of(_sent_form()), based_on(request.form.get("base", "")[:100]))
    return replace(sent, document=as_the_base_says(sent.document, sent.base))


def _from_yaml(page: Page) -> Page:
    text = request.form.get("yaml", "")
    try:
        draft = from_yaml(text)
    except SheetRefused as refused:
        return replace(page, yaml=text, yaml_errors=refused.errors, status=422)
    spec_id = page.kept.own.complete["id"] if page.kept else None
    if spec_id and draft.document.get("id", spec_id) != spec_id:
        says = say("must be '{id}', as in the address, or be left out.", id=spec_id)
        return replace(page, yaml=text, yaml_errors=(("/id", f"id {says}"),), status=422)
    return replace(page, draft=draft)


def _from_text(page: Page) -> Page:
    text = request.form.get("text", "")
    if not text.strip():
        return _not_started(page, text, say("Paste the printer's text, or a sheet, into this field."))
    pasted = sheet_pasted(text)
    if pasted is not None:
        return Page(pasted)
    try:
        reading = read_text(text)
    except Problem as refused:
        return _not_started(page, text, refused.detail)
    if not any(one["values"] for one in reading["drafts"]) and not any(one["quote"] for one in reading["questions"]):
        says = say(
            "Nothing in this text was understood as a demand on a file. Paste the part that names sizes, bleed or resolution."
        )
        return _not_started(page, text, says)
    number = request.form.get("product", "0")
    draft, read = told_of(reading, int(number) if number.isascii() and number.isdecimal() and len(number) < 4 else 0)
    return Page(draft, read=read, text=text, products=tuple(drafts_named(reading)))


def _from_template(page: Page) -> Page:
    sent = request.files.get("template")
    try:
        if sent is None or not sent.filename:
            raise Problem("invalid-request", say("Choose the PDF first."))
        draft, read = template_told(read_template_pdf(sent.stream))
    except Problem as refused:
        status = PROBLEMS[refused.code].status
        return replace(page, draft=Draft({}), template_problem=refused.detail, started=False, status=status)
    return Page(draft, read=read)


def _not_started(page: Page, text: str, says: str) -> Page:
    return replace(page, draft=Draft({}), text=text, start_problem=says, started=False, status=422)


def _kept(page: Page, kept: Kept | None) -> Page | Response:
    draft = page.draft if kept else replace(page.draft, document=named(page.draft.document))
    try:
        if kept is None and "id" not in draft.document:
            raise _nameless(draft)
        if kept is None:
            row = keep_new(draft.to_send())
        else:
            if request.form.get("read", "") != kept.digest:
                raise changed(kept)
            row = keep_next(kept, draft.to_send())
    except Problem as problem:
        of_the_sheet = problem.code == "invalid-sheet"
        errors = tuple((pointer.removeprefix("/spec_sheet"), detail) for pointer, detail in problem.errors)
        says = "" if of_the_sheet or errors else problem.detail
        return replace(page, draft=draft, errors=errors, problem=says, status=PROBLEMS[problem.code].status)
    return Response(status=303, headers={"Location": _in_language(url_for("sheet_pages.product", spec_id=row.sheet_id))})


def _nameless(draft: Draft) -> Problem:
    """Told at the name for people, of which the id is made, and with all else that is refused."""
    try:
        read_complete({"id": "unnamed", **draft.to_send()}, stored=True, known_rules=RULES)
    except SheetRefused as refused:
        return refused_problem(refused)
    says = say("is missing: a stored sheet needs it.")
    return Problem("invalid-sheet", says, errors=[("/id", f"id {says}")])


def _in_language(address: str) -> str:
    language = request.args.get("lang", "")
    return f"{address}?lang={language}" if language in LANGUAGES else address


def _only_from_here() -> None:
    """A form of another site must not write here in the name of whoever looks at it. Raises `Problem`."""
    says_whence = "Sec-Fetch-Site" in request.headers or "Origin" in request.headers
    if says_whence and not is_from_here():
        raise Problem("invalid-request", say("A sheet is written on the pages of this service, not from another site."))


# --- What is shown ------------------------------------------------------------------------------------------------------------


def _shown(page: Page | Response) -> Response:
    if isinstance(page, Response):
        return page
    draft = page.draft
    taken = frozenset({"id", "aliases"}) if page.kept else frozenset({"aliases"})
    part_alone = request.args.get(_SHOW) == "parts"
    shown = read_by_the_reader(draft.document, draft.base)
    parts = form_of(shown, Ready(usual_levels(), [] if part_alone else product_kinds(), taken))
    empty = not set(draft.document) - {"id", "title", "product", "regions", "names", "summary", "note", "purpose"}
    errors = page.errors if page.errors is not None else (() if empty else draft.errors)
    readable = draft.readable
    answer = page_answer(
        "web/sheet_form_parts.html" if part_alone else "web/sheet_form.html",
        page=page,
        draft=draft,
        parts=parts,
        refused=refusals(errors, parts),
        drawing=drawn(readable, units_of(draft.document)),
        checked=checks(readable),
        differing=differing(draft.changes, parts),
        base_named=translated(base_named(draft.base_id)) if draft.base_id else None,
        yaml=page.yaml if page.yaml is not None else draft.yaml(),
        bases=bases() if not part_alone and page.kept is None else [],
        empty=empty,
    )
    answer.status_code = 200 if request.args.get(_SHOW) else page.status
    answer.headers["Cache-Control"] = "no-cache"
    return answer
