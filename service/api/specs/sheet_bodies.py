"""A sheet as a body, JSON or YAML, in requests and answers; and the ETags that say which revision is meant."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from typing import Any

from flask import Response, json, request

from service.api.checks.requests import in_short
from service.api.http.languages import in_spoken_language
from service.api.http.problems import Problem
from service.api.specs.kept_sheets import Kept
from service.language.spoken import say, spoken
from service.language.wording import listed_or
from service.sheets.format.parsing import LARGEST_TEXT_BYTES, parse_sheet_text
from service.sheets.format.refusals import SheetRefused
from service.sheets.format.writing import document_to_yaml
from service.sheets.prose.ours.lines import lines_of
from service.sheets.units import in_inches

YAML = ("application/yaml", "text/yaml", "application/x-yaml")
"""RFC 9512 and two names from before it."""

PROSE = "text/plain"

BODY_DOC = {
    "requestBody": {
        "required": True,
        "description": (
            "A sheet; GET /v1/specs/schema describes it. With 'extends' only what differs from that stored sheet, and null for "
            "what is taken out. 'revision' is counted by the service."
        ),
        "content": {
            "application/json": {"schema": {"type": "object"}},
            "application/yaml": {"schema": {"type": "string"}},
        },
    }
}


def hold_type() -> None:
    """The body says that it is JSON or YAML. Raises `Problem`."""
    if request.mimetype not in ("application/json", *YAML):
        taken = listed_or(("application/json", "application/yaml"))
        if request.mimetype:
            sent = say("You sent a body of the type {kind}; a sheet comes as {taken}.", kind=request.mimetype[:60], taken=taken)
        else:
            sent = say("You sent no body that says what it is; a sheet comes as {taken}.", taken=taken)
        raise Problem("unsupported-media-type", sent)


def sent_document() -> object:
    """The parsed body. Raises `Problem`."""
    hold_type()
    body = request.stream.read(LARGEST_TEXT_BYTES + 1)
    try:
        return parse_sheet_text(body)
    except SheetRefused as refused:
        raise refused_problem(refused) from refused


def refused_problem(refused: SheetRefused) -> Problem:
    return Problem("invalid-sheet", in_short(refused.errors), errors=refused.errors)


def accepted_type(*more: str) -> str:
    """JSON, YAML or one of `more`, as the caller has it rather. Raises `Problem`."""
    accepted = request.accept_mimetypes
    kind = accepted.best_match(("application/json", *YAML, *more)) if accepted else "application/json"
    if kind is None:
        taken = listed_or(("application/json", "application/yaml", *more))
        raise Problem("not-acceptable", say("It comes as {types}.", types=taken))
    return kind


def prose_answer(kept: Kept, *, units: str = "mm") -> Response:
    """A line of prose for each demand, in the language that is spoken."""
    document = in_inches(kept.own.complete) if units == "in" else kept.own.complete
    answer = Response("".join(f"{line}\n" for line in lines_of(document, spoken())), mimetype=PROSE)
    answer.vary.add("Accept")
    answer.set_etag(f"{kept.digest}-prose-{spoken()}" + ("-in" if units == "in" else ""))
    return in_spoken_language(answer)


def sheet_answer(kept: Kept, *, units: str = "mm", resolved: bool = True) -> Response:
    """In the format that the caller accepts, with the ETag of this representation. Raises `Problem` for another format."""
    kind = accepted_type()
    document: Mapping[str, Any] = kept.document() if resolved else kept.own.sent
    document = in_inches(document) if units == "in" else dict(document)
    tag = kept.digest + ("" if resolved else "-sent") + ("-in" if units == "in" else "")
    if kind == "application/json":
        answer = Response(json.dumps(document), mimetype=kind)
    else:
        answer, tag = Response(document_to_yaml(document), mimetype="application/yaml"), f"{tag}-yaml"
    answer.vary.add("Accept")
    answer.set_etag(tag)
    answer.headers["Cache-Control"] = "no-cache"
    return answer


def cached(answer: Response, tag: str | None = None) -> Response:
    """To be kept by the caller and asked for again with its ETag; 304 where it is still the same."""
    answer.set_etag(tag or answer.get_etag()[0] or hashlib.sha256(answer.get_data()).hexdigest())
    answer.headers["Cache-Control"] = "no-cache"
    answer.make_conditional(request)
    return answer


def hold_if_match(kept: Kept, *, required: bool) -> None:
    """The caller has seen the newest revision, in whatever representation. Raises `Problem`."""
    if "If-Match" not in request.headers:
        if required:
            raise Problem("if-match-missing", say("Send the ETag of the revision that you have read in the header 'If-Match'."))
        return
    if_match = request.if_match
    if not if_match.star_tag and kept.digest not in {tag.split("-")[0] for tag in if_match.as_set()}:
        raise changed(kept)


def changed(kept: Kept) -> Problem:
    sheet = kept.own.complete
    says = say(
        "The sheet '{id}' now has the revision {revision}, not the one that you read.",
        id=str(sheet["id"]), revision=str(sheet["revision"]),
    )
    return Problem("spec-changed", says)
