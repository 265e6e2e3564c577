"""`/v1/checks`: send a PDF and a sheet, get the result; ask for it again; forget it."""

from __future__ import annotations

import hashlib
import re
import secrets
from datetime import timedelta
from typing import Any, TypeVar

from flask import Response, request
from flask.views import MethodView

from service.api.checks.check_shapes import CheckAnswer
from service.api.checks.kept_checks import OUTDATED, found_check, kept_check
from service.api.checks.measured import measurements_of
from service.api.checks.requests import CheckForm, CheckWishes, understand
from service.api.checks.telling import LINKS, NOT_YET, PREFER, TAG, told, wait_after_sending, wait_while_asking
from service.api.checks.uploaded import given, note_taken, upload_of
from service.api.http.blueprint import BARE_PDF, IF_NONE_MATCH, Blueprint, parts
from service.api.http.callers.access import owner, owner_and_hand
from service.api.http.callers.quotas import hold_to_disk, spend_request, spend_upload
from service.api.http.callers.senders import own_key, sender
from service.api.http.digests import CONTENT_DIGEST
from service.api.http.languages import LANG
from service.api.http.problem_pages import OR_PAGE
from service.api.http.problems import Problem, stopping
from service.api.http.uploads import save_pdf
from service.api.http.words import file_name
from service.api.specs.kept_sheets import written
from service.api.tokens import cross_origin
from service.jobs.again.same_again import likeness
from service.jobs.checking import now
from service.jobs.question import answers, question_for
from service.jobs.queue_full import QueueFull
from service.language.spoken import language_named, say
from service.pdf.codec import question_from_json, question_to_json
from service.pdf.question import Question
from service.store.accounts.upload_tokens import TokenSpent, is_spent
from service.store.checks import KeyTaken, is_outdated
from service.store.database import DatabaseAway
from service.store.files.uploads import Upload
from service.store.models import CheckRow

View = TypeVar("View")
blueprint = Blueprint("checks", __name__, url_prefix="/v1/checks", description="A PDF measured and judged against a spec sheet.")

_KEY = re.compile(r"[\x21-\x7e]{1,255}")

_POST_DOC = {
    "parameters": [
        {"in": "header", "name": "Prefer", "schema": {"type": "string"},
         "description": "`respond-async`: answer 202 at once; `wait=10`: wait so many seconds at most (RFC 7240)."},
        {"in": "header", "name": "Idempotency-Key", "schema": {"type": "string", "maxLength": 255},
         "description": "The same request sent again under the same key gets the same check, as long as that is kept."},
        CONTENT_DIGEST,
        {"in": "query", "name": "spec", "schema": {"type": "string"}, "description": "With a bare PDF: id of a stored sheet."},
        {"in": "query", "name": "order", "schema": {"type": "string"}, "description": "Only with a bare PDF: as the form field."},
        LANG,
    ],
    "requestBody": {
        "description": "A form with the PDF, or the bare PDF. A page of another origin sends a form with a `token`; its browser "
        "asks first with OPTIONS (CORS), and the page may read the answer, a problem too, where the token is right and its own.",
        "content": {
            "multipart/form-data": {
                "encoding": {
                    "file": {"contentType": "application/pdf"},
                    "spec_sheet": {"contentType": "application/yaml, application/json"},
                },
            },
            "application/x-www-form-urlencoded": {"schema": {"$ref": "#/components/schemas/CheckForm"}},
            BARE_PDF: {"schema": {"type": "string", "contentMediaType": BARE_PDF}},
        },
    },
}

_LOCATION = {"Location": {"schema": {"type": "string"}, "description": "Address of the check."}}
_PROBLEMS = {
    400: "BAD_REQUEST", 401: "UNAUTHORIZED", 403: "FORBIDDEN", 404: "NOT_FOUND", 408: "REQUEST_TIMEOUT", 409: "CONFLICT",
    410: "GONE", 413: "TOO_LARGE", 415: "UNSUPPORTED_MEDIA_TYPE", 422: "UNPROCESSABLE_ENTITY", 429: "TOO_MANY_REQUESTS",
    500: "INTERNAL_SERVER_ERROR", 503: "SERVICE_UNAVAILABLE", 507: "INSUFFICIENT_STORAGE",
}  # fmt: skip


def _problems_or_pages(view: View) -> View:
    """Describes what an upload may be answered with instead, to a plain form as a page."""
    for status, name in _PROBLEMS.items():
        view = blueprint.alt_response(status, f"{name}{OR_PAGE}")(view)
    return view


@blueprint.route("")
class ChecksView(MethodView):
    @blueprint.needs("check", unless="token")
    @blueprint.doc(**_POST_DOC)
    @blueprint.arguments(CheckForm, location="multipart")
    @blueprint.response(201, CheckAnswer, description="The finished check. A broken or locked PDF is a result as well.",
                        headers={**_LOCATION, **TAG, **LINKS})
    @blueprint.alt_response(202, schema=CheckAnswer, description="The check waits or runs; ask at Location.", success=True,
                            headers={**_LOCATION, **TAG, **NOT_YET, **LINKS})
    @blueprint.alt_response(
        303, description="With `answer=report`: to the check's report, at once.", success=True,
        headers={"Location": {"schema": {"type": "string"}, "description": "Address of the report."}},
    )
    @_problems_or_pages
    def post(self, form: dict[str, Any]) -> Response:
        """Check a PDF against a spec sheet."""
        key = _idempotency_key()
        wishes = understand(form)
        upload = upload_of(wishes) if wishes.upload else None
        mine = own_key(key) if key else None
        _hold_token(wishes.token_id, mine)
        row = _earlier(wishes) if wishes.earlier else _received(wishes, upload, mine)
        row.fingerprint = _fingerprint(row)
        row.idempotency_key = mine
        queued = _queued(row, wishes.token_id)
        if upload:
            note_taken(upload, queued)
        if form.get("answer") == "report":
            return _to_report(queued)
        wait_after_sending(queued)
        return told(found_check(queued.id))


@blueprint.route("/<check_id>")
class CheckView(MethodView):
    @blueprint.needs("read", unless="link")
    @blueprint.doc(parameters=[PREFER, IF_NONE_MATCH, LANG])
    @blueprint.response(200, CheckAnswer, description="The check, finished or not.", headers={**TAG, **NOT_YET, **LINKS})
    @blueprint.alt_response(304, description="Nothing has changed.", success=True, headers=TAG)
    @blueprint.alt_response(404, "NOT_FOUND")
    def get(self, check_id: str) -> Response:
        """Ask how far a check is, or for its result. HEAD gives the headers alone.

        What was uploaded with a token may be asked for from its page's origin.
        """
        row = found_check(check_id)
        cross_origin.let_read(row.origin)
        return told(found_check(check_id) if wait_while_asking(row) else row)

    @blueprint.needs("check")
    @blueprint.response(204, description="Forgotten, its file as well.")
    @blueprint.alt_response(404, "NOT_FOUND")
    def delete(self, check_id: str) -> Response:
        """Forget a check and its file now, even while it runs."""
        row = kept_check(check_id, by_link=False)
        _forget(row.id)
        parts().recent.forget(row.measured or "")
        parts().judged.forget(row.id)
        return Response(status=204)


def _forget(check_id: str) -> None:
    """A full disk, on which the database cannot even delete, gets the room of the file first."""
    here, hand = parts(), owner_and_hand()
    here.queue.cancel(check_id)
    try:
        here.checks.forget(check_id, hand, now())  # before its file, so that no worker begins with a check whose file is gone
    except DatabaseAway:
        here.blobs.forget(check_id)
        here.checks.forget(check_id, hand, now())
    here.blobs.forget(check_id)


def _new_row(wishes: CheckWishes, question: Question, name: str | None, size_bytes: int, sha256: str) -> CheckRow:
    time = now()
    sheet = wishes.sheet
    text, digest = written(sheet)
    return CheckRow(
        id=secrets.token_urlsafe(18),
        state="queued",
        created_at=time,
        expires_at=time + timedelta(hours=parts().settings.retention_hours),
        owner="",
        heartbeat_at=time,
        file_name=name,
        size_bytes=size_bytes,
        sha256=sha256,
        spec_id=sheet.id,
        spec_revision=sheet.revision,
        spec_title=sheet.title,
        spec_digest=digest,
        sheet=text,
        order=wishes.order,
        question=question_to_json(question),
        origin=wishes.origin,
        callback_url=wishes.callback_url,
        account=owner_and_hand().owner,
        by_link=wishes.by_link,
    )


def _received(wishes: CheckWishes, upload: Upload | None, own_key: str | None) -> CheckRow:
    """A new check with the file that came. Nothing stays of a file that is refused."""
    name = upload.facts.name if upload else file_name(wishes.file_name)
    row = _new_row(wishes, question_for(wishes.sheet_for_order), name, 0, "")
    if upload:
        hold_to_disk(0 if upload.facts.check else upload.facts.length)  # it was counted when it was announced
        saved = given(upload, row.id, own_key)
    else:
        spend_upload()
        assert wishes.stream is not None, "the form has a file or an earlier check"
        saved = save_pdf(row.id, wishes.stream, wishes.maximum_bytes)
    row.size_bytes, row.sha256 = saved.size_bytes, saved.sha256
    return row


def _earlier(wishes: CheckWishes) -> CheckRow:
    """A new check of what an earlier one measured; of its file where that has to be measured anew for this sheet."""
    earlier = parts().checks.visible(wishes.earlier or "", now(), owner(), by_link=False)
    if earlier is None:
        detail = say("There is no check of this id, or it was forgotten meanwhile. Send the PDF again.")
        raise Problem("invalid-request", detail, errors=[("/check", detail)])
    if earlier.state in ("queued", "running"):
        raise Problem("check-not-finished", say("The earlier check is still waiting or running."), headers={"Retry-After": "2"})
    question = question_for(wishes.sheet_for_order)
    row = _new_row(wishes, question, earlier.file_name, earlier.size_bytes, earlier.sha256)
    outdated = is_outdated(earlier)
    measured = None if outdated else measurements_of(earlier)
    enough = measured and answers(measured, question_from_json(earlier.question), question)
    has_file = parts().blobs.share(earlier.id, row.id)
    if measured and (enough or not has_file):
        row.measured, row.stored_as, row.question = earlier.measured, earlier.stored_as, earlier.question
    elif not has_file:
        detail = say(OUTDATED) if outdated else say("The earlier check failed and its file is gone. Send the PDF again.")
        raise Problem("invalid-request", detail, errors=[("/check", detail)])
    return row


def _idempotency_key() -> str | None:
    key = request.headers.get("Idempotency-Key")
    if key is not None and not _KEY.fullmatch(key):
        raise Problem("bad-request", say("An Idempotency-Key has 1 to 255 printable ASCII characters without spaces."))
    return key


def _fingerprint(row: CheckRow) -> str:
    said = (row.sha256, row.sheet, row.order or "", *(one for one in (row.origin, row.callback_url) if one))
    return hashlib.sha256("\n".join(said).encode()).hexdigest()


def _hold_token(token_id: str | None, kept_key: str | None) -> None:
    """Before a file is kept in vain. A repeat of an upload may come with a token that it has used itself. Raises `Problem`."""
    here = parts()
    if token_id is None:
        return
    spend_request()
    row = here.upload_tokens.get(token_id, now())
    if (row is None or is_spent(row)) and not (kept_key and here.checks.by_key(kept_key, now())):
        raise cross_origin.token_spent()


def _queued(row: CheckRow, token_id: str | None) -> CheckRow:
    """Store and queue the check; a repeat under the same key gives the check that is there already."""
    here = parts()
    try:
        once_more = row.measured is None and token_id is None
        if once_more and here.checks.add_as_before(row, likeness(row), now()):
            return row
        here.queue.submit(row, sender(), token_id)
    except DatabaseAway:
        here.blobs.forget(row.id)
        raise
    except TokenSpent as spent:
        here.blobs.forget(row.id)
        raise cross_origin.token_spent() from spent
    except KeyTaken as error:
        here.blobs.forget(row.id)
        first = here.checks.by_key(row.idempotency_key or "", now())
        if first is None:
            raise Problem("check-not-finished", say("The first request under this key is just ending. Send it again.")) from error
        if first.fingerprint != row.fingerprint:
            raise Problem("key-reused", say("This Idempotency-Key was used for another file, sheet or order.")) from error
        return found_check(first.id)
    except QueueFull as full:
        here.blobs.forget(row.id)
        if full.closing:
            raise stopping() from full
        wait = str(full.retry_after_seconds)
        detail = say("Too many checks are waiting. Try again in {seconds} s.", seconds=wait)
        raise Problem("queue-full", detail, headers={"Retry-After": wait}) from full
    return row


def _to_report(row: CheckRow) -> Response:
    """For a browser that sent a plain form: at once, whether the check is finished or not."""
    language = language_named(request.args.get("lang"))  # as it was chosen by hand; the browser's own goes with it anyhow
    report = f"/v1/checks/{row.id}/report" + (f"?lang={language}" if language else "")
    return Response(status=303, headers={"Location": report, "Cache-Control": "no-store"})
