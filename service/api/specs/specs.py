"""`/v1/specs`: spec sheets, those that came with the service and one's own."""

from __future__ import annotations

from math import ceil
from typing import Any
from urllib.parse import urlencode

from flask import Response, jsonify
from flask.views import MethodView

from service.answers.times import time_answer
from service.api.catalogues.listing import listed_in
from service.api.http.blueprint import IF_NONE_MATCH, Blueprint, parts
from service.api.http.callers.access import owner, owner_and_hand
from service.api.http.languages import LANG
from service.api.http.problems import Problem
from service.api.specs.keeping import changeable, keep_new, keep_next, revision_number
from service.api.specs.kept_sheets import find_kept, find_own, kept_own, listed
from service.api.specs.sheet_bodies import (
    BODY_DOC,
    PROSE,
    accepted_type,
    cached,
    changed,
    hold_if_match,
    prose_answer,
    sent_document,
    sheet_answer,
)
from service.api.specs.spec_shapes import RevisionsAnswer, SheetAnswer, SpecQuery, SpecsAnswer, SpecsQuery
from service.jobs.checking import now
from service.language.spoken import say
from service.sheets import catalogue
from service.sheets.searching import Sizes, sizes_meant
from service.store.sheets import SheetChanged

blueprint = Blueprint("specs", __name__, url_prefix="/v1/specs", description="Spec sheets: what a printer asks of a file.")

_FILTERS = ("product", "region", "purpose", "q", "origin")
_IF_MATCH = {"in": "header", "name": "If-Match", "schema": {"type": "string"}, "description": "The ETag of what was read."}
_ETAG = {"ETag": {"schema": {"type": "string"}, "description": "Changes when the answer does."}}
_LINK = {"Link": {"schema": {"type": "string"}, "description": "first, prev, next and last page (RFC 8288)."}}
_LOCATION = {"Location": {"schema": {"type": "string"}, "description": "Address of the sheet."}}
_LAYERED = {"type": "object", "required": ["extends"], "description": "With 'extends': null where a key was taken out."}
_SHEET = {"anyOf": [SheetAnswer, _LAYERED]}


@blueprint.route("", parameters=[IF_NONE_MATCH])
class SpecsView(MethodView):
    @blueprint.needs("read", unless="stored")
    @blueprint.arguments(SpecsQuery, location="query")
    @blueprint.response(200, SpecsAnswer, headers={**_ETAG, **_LINK})
    @blueprint.alt_response(304, description="Nothing has changed.", success=True)
    @blueprint.alt_response(404, "NOT_FOUND")
    @blueprint.alt_response(410, "GONE")
    def get(self, query: dict[str, Any]) -> Response:
        """List the spec sheets, stored and own, or those of a catalogue."""
        filters = {key: query[key] for key in _FILTERS if query.get(key)}
        page, size = query["page"], query["page_size"]
        on_this_page = slice((page - 1) * size, page * size)
        trim = _trim(query.get("trim"))
        if catalogue_id := query.get("catalogue"):
            total, shown = listed_in(catalogue_id, filters, trim, on_this_page)
        else:
            sheets = listed({**filters, "trim": trim})
            total, shown = len(sheets), sheets[on_this_page]
        asked = filters | {key: query[key] for key in ("trim", "catalogue") if query.get(key)}
        answer = jsonify(specs=shown, total=total, page=page, page_size=size)
        answer.headers["Link"] = _links(asked, page, size, total)
        return cached(answer)

    @blueprint.needs("edit-sheets")
    @blueprint.doc(**BODY_DOC)
    @blueprint.response(201, _SHEET, headers={**_ETAG, **_LOCATION}, description="The sheet as it is kept, complete.")
    @blueprint.alt_response(201, schema={"type": "string"}, content_type="application/yaml", success=True)
    @blueprint.alt_response(409, "CONFLICT")
    @blueprint.alt_response(415, "UNSUPPORTED_MEDIA_TYPE")
    @blueprint.alt_response(422, "UNPROCESSABLE_ENTITY")
    def post(self) -> Response:
        """Keep a sheet of one's own under the id that it names."""
        row = keep_new(sent_document())
        answer = sheet_answer(kept_own(row))
        answer.status_code = 201
        answer.headers["Location"] = f"/v1/specs/{row.sheet_id}"
        return answer


@blueprint.route("/<spec_id:spec_id>", parameters=[IF_NONE_MATCH, LANG])
class SpecView(MethodView):
    @blueprint.needs("read", unless="stored")
    @blueprint.arguments(SpecQuery, location="query")
    @blueprint.response(200, _SHEET, headers=_ETAG, description="The sheet in its own format, ready to be sent as spec_sheet.")
    @blueprint.alt_response(200, schema={"type": "string"}, content_type=PROSE, success=True)
    @blueprint.alt_response(200, schema={"type": "string"}, content_type="application/yaml", success=True)
    @blueprint.alt_response(304, description="Nothing has changed.", success=True)
    @blueprint.alt_response(404, "NOT_FOUND")
    @blueprint.alt_response(406, "NOT_ACCEPTABLE")
    @blueprint.alt_response(410, "GONE")
    def get(self, query: dict[str, Any], spec_id: str) -> Response:
        """Read one spec sheet, as JSON, as YAML, or as prose: a line for each demand, which a reading reads back."""
        kept = find_kept(spec_id, query.get("revision"))
        if accepted_type(PROSE) == PROSE:
            answer = prose_answer(kept, units=query["units"])
            return cached(answer, answer.get_etag()[0])
        return cached(sheet_answer(kept, units=query["units"], resolved=query["resolved"]))

    @blueprint.needs("edit-sheets")
    @blueprint.doc(**BODY_DOC, parameters=[{**_IF_MATCH, "required": True}])
    @blueprint.response(200, _SHEET, headers=_ETAG, description="The new revision, complete.")
    @blueprint.alt_response(200, schema={"type": "string"}, content_type="application/yaml", success=True)
    @blueprint.alt_response(404, "NOT_FOUND")
    @blueprint.alt_response(409, "CONFLICT")
    @blueprint.alt_response(410, "GONE")
    @blueprint.alt_response(412, "PRECONDITION_FAILED")
    @blueprint.alt_response(415, "UNSUPPORTED_MEDIA_TYPE")
    @blueprint.alt_response(422, "UNPROCESSABLE_ENTITY")
    @blueprint.alt_response(428, "PRECONDITION_REQUIRED")
    def put(self, spec_id: str) -> Response:
        """Replace a sheet of one's own; the old revisions stay readable."""
        kept = changeable(spec_id)
        hold_if_match(kept, required=True)
        row = keep_next(kept, sent_document())
        return sheet_answer(kept_own(row))

    @blueprint.needs("edit-sheets")
    @blueprint.doc(parameters=[_IF_MATCH])
    @blueprint.response(204, description="Deleted; its revisions stay readable, so that a check that names one can be explained.")
    @blueprint.alt_response(404, "NOT_FOUND")
    @blueprint.alt_response(409, "CONFLICT")
    @blueprint.alt_response(410, "GONE")
    @blueprint.alt_response(412, "PRECONDITION_FAILED")
    def delete(self, spec_id: str) -> Response:
        """Delete a sheet of one's own."""
        kept = changeable(spec_id)
        hold_if_match(kept, required=False)
        try:
            parts().sheets.delete(owner_and_hand(), spec_id, revision_number(kept), now())
        except SheetChanged as error:
            raise changed(changeable(spec_id)) from error
        return Response(status=204)


@blueprint.route("/<spec_id>/revisions")
class RevisionsView(MethodView):
    @blueprint.needs("read", unless="stored")
    @blueprint.response(200, RevisionsAnswer)
    @blueprint.alt_response(404, "NOT_FOUND")
    def get(self, spec_id: str) -> Response:
        """List the revisions of a sheet, the newest first; of a deleted one too."""
        stored = catalogue.find(spec_id)
        if stored is not None:
            only = find_kept(spec_id)
            return jsonify(id=spec_id, deleted_at=None, revisions=[_revision(spec_id, stored.revision, None, only.digest)])
        head = parts().sheets.head(owner(), spec_id)
        if head is None:
            find_own(spec_id)  # says what is near
        rows = parts().sheets.revisions(owner(), spec_id)
        return jsonify(
            id=spec_id,
            deleted_at=time_answer(head.deleted_at) if head and head.deleted_at else None,
            revisions=[_revision(spec_id, row.revision, time_answer(row.created_at), row.digest) for row in rows],
        )


def _trim(text: str | None) -> Sizes | None:
    """Raises `Problem`."""
    if not text:
        return None
    meant = sizes_meant(text)
    if meant is None:
        detail = say("This is no size: write width and height, such as {example}, in any order and unit.", example="85x55")
        raise Problem("invalid-request", detail, errors=[("/trim", detail)])
    return meant


def _revision(spec_id: str, number: int | None, created_at: str | None, digest: str) -> dict[str, Any]:
    address = f"/v1/specs/{spec_id}?revision={number}"
    return {"revision": number, "created_at": created_at, "digest": digest, "links": {"self": address}}


def _links(filters: dict[str, Any], page: int, size: int, total: int) -> str:
    last = max(1, ceil(total / size))
    pages = {"first": 1, "prev": page - 1, "next": page + 1, "last": last}
    wanted = {
        name: number for name, number in pages.items() if (1 <= number <= last and number != page) or name in ("first", "last")
    }
    return ", ".join(
        f'</v1/specs?{urlencode({**filters, "page": number, "page_size": size})}>; rel="{name}"'
        for name, number in wanted.items()
    )
