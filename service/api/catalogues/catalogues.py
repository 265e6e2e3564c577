"""`/v1/catalogues`: several sheets as the catalogue of one printer."""

from __future__ import annotations

import json
from typing import Any

import marshmallow as ma
from flask import Response, jsonify, request
from flask.views import MethodView
from marshmallow import fields
from marshmallow.validate import Range

from service.answers.times import time_answer
from service.api.catalogues.catalogue_shapes import CatalogueAnswer, CatalogueRevisionsAnswer, CataloguesAnswer
from service.api.catalogues.found import find_catalogue, find_head, whose
from service.api.catalogues.keeping import changed, delete, document_of_own, keep_new, keep_next, refused_problem
from service.api.http.blueprint import IF_NONE_MATCH, Blueprint, parts
from service.api.http.problems import Problem
from service.api.specs.kept_sheets import find_kept
from service.api.specs.sheet_bodies import YAML, accepted_type, cached, hold_type, sheet_answer
from service.api.specs.spec_shapes import CatalogueSheetQuery, SheetAnswer
from service.language.spoken import say
from service.sheets.format.parsing import parse_sheet_text
from service.sheets.format.refusals import SheetRefused
from service.sheets.format.writing import document_to_yaml
from service.sheets.printers.document import with_all_sheets
from service.store.catalogues.rows import CatalogueRevisionRow

blueprint = Blueprint(
    "catalogues", __name__, url_prefix="/v1/catalogues", description="Several sheets as the catalogue of one printer."
)

LARGEST_BYTES = 16 * 1024 * 1024
"""10,000 sheets of a kilobyte and a half, as JSON."""

_IF_MATCH = {"in": "header", "name": "If-Match", "schema": {"type": "string"}, "description": "The ETag of what was read."}
_ETAG = {"ETag": {"schema": {"type": "string"}, "description": "Changes when the answer does."}}
_LOCATION = {"Location": {"schema": {"type": "string"}, "description": "Address of the catalogue."}}
_BODY = {
    "requestBody": {
        "required": True,
        "description": (
            "A catalogue: `id`, `title`, `defaults` (keys of a sheet that are laid over every one of them, such as bleed or "
            "color; null takes a key out) and `sheets`: ids such as business-card-85x55, of an older revision as halyard-card@2,"
            " or whole sheets. 'revision' is counted by the service."
        ),
        "content": {"application/json": {"schema": {"type": "object"}}, "application/yaml": {"schema": {"type": "string"}}},
    }
}


class CatalogueQuery(ma.Schema):
    revision = fields.Integer(metadata={"description": "This revision of the catalogue."}, validate=Range(1, 10**9))
    whole = fields.Boolean(
        load_default=False,
        truthy={"true", "1"},
        falsy={"false", "0"},
        metadata={"description": "true: one file for another service, with the sheets that only this one has in it."},
    )


@blueprint.route("", parameters=[IF_NONE_MATCH])
class CataloguesView(MethodView):
    @blueprint.needs("read")
    @blueprint.response(200, CataloguesAnswer, headers=_ETAG)
    @blueprint.alt_response(304, description="Nothing has changed.", success=True)
    def get(self) -> Response:
        """List the catalogues."""
        return cached(jsonify(catalogues=[_in_short(row) for row in parts().catalogues.all_newest(whose())]))

    @blueprint.needs("edit-sheets")
    @blueprint.doc(**_BODY)
    @blueprint.response(201, CatalogueAnswer, headers={**_ETAG, **_LOCATION}, description="The catalogue as it is kept.")
    @blueprint.alt_response(201, schema={"type": "string"}, content_type="application/yaml", success=True)
    @blueprint.alt_response(409, "CONFLICT")
    @blueprint.alt_response(415, "UNSUPPORTED_MEDIA_TYPE")
    @blueprint.alt_response(422, "UNPROCESSABLE_ENTITY")
    def post(self) -> Response:
        """Keep a catalogue under the id that it names; a file of another service too."""
        row = keep_new(_sent())
        answer = _answer(row)
        answer.status_code = 201
        answer.headers["Location"] = f"/v1/catalogues/{row.catalogue_id}"
        return answer


@blueprint.route("/<catalogue_id>", parameters=[IF_NONE_MATCH])
class CatalogueView(MethodView):
    @blueprint.needs("read")
    @blueprint.arguments(CatalogueQuery, location="query")
    @blueprint.response(200, CatalogueAnswer, headers=_ETAG, description="The catalogue as it was sent, to be sent again.")
    @blueprint.alt_response(200, schema={"type": "string"}, content_type="application/yaml", success=True)
    @blueprint.alt_response(304, description="Nothing has changed.", success=True)
    @blueprint.alt_response(404, "NOT_FOUND")
    @blueprint.alt_response(406, "NOT_ACCEPTABLE")
    @blueprint.alt_response(410, "GONE")
    def get(self, query: dict[str, Any], catalogue_id: str) -> Response:
        """Read a catalogue, as JSON or YAML, or all of it as one file."""
        return cached(_answer(find_catalogue(catalogue_id, query.get("revision")), whole=query["whole"]))

    @blueprint.needs("edit-sheets")
    @blueprint.doc(**_BODY, parameters=[{**_IF_MATCH, "required": True}])
    @blueprint.response(200, CatalogueAnswer, headers=_ETAG, description="The new revision.")
    @blueprint.alt_response(200, schema={"type": "string"}, content_type="application/yaml", success=True)
    @blueprint.alt_response(404, "NOT_FOUND")
    @blueprint.alt_response(410, "GONE")
    @blueprint.alt_response(412, "PRECONDITION_FAILED")
    @blueprint.alt_response(415, "UNSUPPORTED_MEDIA_TYPE")
    @blueprint.alt_response(422, "UNPROCESSABLE_ENTITY")
    @blueprint.alt_response(428, "PRECONDITION_REQUIRED")
    def put(self, catalogue_id: str) -> Response:
        """Replace a catalogue; its sheets are taken anew, and the old revisions stay readable."""
        read = find_catalogue(catalogue_id)
        _hold_if_match(read, required=True)
        return _answer(keep_next(read, _sent()))

    @blueprint.needs("edit-sheets")
    @blueprint.doc(parameters=[_IF_MATCH])
    @blueprint.response(204, description="Deleted; its revisions stay readable, so that a check that names one can be explained.")
    @blueprint.alt_response(404, "NOT_FOUND")
    @blueprint.alt_response(410, "GONE")
    @blueprint.alt_response(412, "PRECONDITION_FAILED")
    def delete(self, catalogue_id: str) -> Response:
        """Delete a catalogue."""
        read = find_catalogue(catalogue_id)
        _hold_if_match(read, required=False)
        delete(read)
        return Response(status=204)


@blueprint.route("/<catalogue_id>/revisions")
class CatalogueRevisionsView(MethodView):
    @blueprint.needs("read")
    @blueprint.response(200, CatalogueRevisionsAnswer)
    @blueprint.alt_response(404, "NOT_FOUND")
    def get(self, catalogue_id: str) -> Response:
        """List the revisions of a catalogue, the newest first; of a deleted one too."""
        head = find_head(catalogue_id)
        rows = parts().catalogues.revisions(whose(), catalogue_id)
        return jsonify(
            id=catalogue_id,
            deleted_at=time_answer(head.deleted_at) if head.deleted_at else None,
            revisions=[_in_short(row, f"?revision={row.revision}") for row in rows],
        )


@blueprint.route("/<catalogue_id>/sheets/<sheet_id>", parameters=[IF_NONE_MATCH])
class CatalogueSheetView(MethodView):
    @blueprint.needs("read")
    @blueprint.arguments(CatalogueSheetQuery, location="query")
    @blueprint.response(200, SheetAnswer, headers=_ETAG, description="The sheet, complete, with the catalogue's defaults.")
    @blueprint.alt_response(200, schema={"type": "string"}, content_type="application/yaml", success=True)
    @blueprint.alt_response(304, description="Nothing has changed.", success=True)
    @blueprint.alt_response(404, "NOT_FOUND")
    @blueprint.alt_response(406, "NOT_ACCEPTABLE")
    @blueprint.alt_response(410, "GONE")
    def get(self, query: dict[str, Any], catalogue_id: str, sheet_id: str) -> Response:
        """Read one sheet of a catalogue as it judges; checks name it as 'catalogue/sheet' in `spec`."""
        kept = find_kept(f"{catalogue_id}/{sheet_id}", query.get("revision"))
        return cached(sheet_answer(kept, units=query["units"]))


def _sent() -> object:
    """The parsed body. Raises `Problem`."""
    hold_type()
    try:
        return parse_sheet_text(request.stream.read(LARGEST_BYTES + 1), LARGEST_BYTES)
    except SheetRefused as refused:
        raise refused_problem(refused) from refused


def _answer(row: CatalogueRevisionRow, *, whole: bool = False) -> Response:
    """In the format that the caller accepts. Raises `Problem`."""
    kind = accepted_type()
    document = json.loads(row.sent)
    if whole:
        document = with_all_sheets(document, document_of_own)
    tag = row.digest + ("-whole" if whole else "")
    if kind == "application/json":
        answer = Response(json.dumps(document, ensure_ascii=False), mimetype=kind)
    else:
        answer, tag = Response(document_to_yaml(document), mimetype=YAML[0]), f"{tag}-yaml"
    answer.vary.add("Accept")
    answer.set_etag(tag)
    answer.headers["Cache-Control"] = "no-cache"
    return answer


def _in_short(row: CatalogueRevisionRow, query: str = "") -> dict[str, Any]:
    address = f"/v1/catalogues/{row.catalogue_id}"
    return {
        "id": row.catalogue_id,
        "revision": row.revision,
        "title": row.title,
        "sheets": row.sheets,
        "created_at": time_answer(row.created_at),
        "digest": row.digest,
        "links": {"self": f"{address}{query}", "specs": f"/v1/specs?catalogue={row.catalogue_id}"},
    }


def _hold_if_match(read: CatalogueRevisionRow, *, required: bool) -> None:
    """The caller has seen the newest revision, in whatever representation. Raises `Problem`."""
    if "If-Match" not in request.headers:
        if required:
            raise Problem("if-match-missing", say("Send the ETag of the revision that you have read in the header 'If-Match'."))
        return
    if_match = request.if_match
    if not if_match.star_tag and read.digest not in {tag.split("-")[0] for tag in if_match.as_set()}:
        raise changed(read)
