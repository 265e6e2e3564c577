"""`/v1/specs`: the stored spec sheets."""

from __future__ import annotations

import hashlib
from math import ceil
from typing import Any
from urllib.parse import urlencode

from flask import Response, json, jsonify, request
from flask.views import MethodView

from service.api.blueprint import Blueprint
from service.api.check_requests import nearest_ids
from service.api.problems import Problem
from service.api.spec_schemas import SpecQuery, SpecsAnswer, SpecsQuery
from service.sheets import catalogue
from service.sheets.model import SpecSheet
from service.sheets.schemas import SpecSheetSchema
from service.sheets.writing import digest, sheet_to_document, sheet_to_yaml

blueprint = Blueprint("specs", __name__, url_prefix="/v1/specs", description="Spec sheets: what a printer asks of a file.")

_YAML = ("application/yaml", "text/yaml", "application/x-yaml")
"""RFC 9512 and two names from before it."""

_IF_NONE_MATCH = [{"in": "header", "name": "If-None-Match", "schema": {"type": "string"}, "description": "An ETag from before."}]
_ETAG = {"ETag": {"schema": {"type": "string"}, "description": "Changes when the answer does."}}
_LINK = {"Link": {"schema": {"type": "string"}, "description": "first, prev, next and last page (RFC 8288)."}}


@blueprint.route("", parameters=_IF_NONE_MATCH)
class SpecsView(MethodView):
    @blueprint.arguments(SpecsQuery, location="query")
    @blueprint.response(200, SpecsAnswer, headers={**_ETAG, **_LINK})
    @blueprint.alt_response(304, description="Nothing has changed.", success=True)
    def get(self, query: dict[str, Any]) -> Response:
        """List the stored spec sheets."""
        filters = {key: query.get(key) for key in ("product", "region", "purpose", "q")}
        sheets = catalogue.select(**filters)
        page, size = query["page"], query["page_size"]
        shown = sheets[(page - 1) * size : page * size]
        answer = jsonify(specs=[_summary(sheet) for sheet in shown], total=len(sheets), page=page, page_size=size)
        answer.headers["Link"] = _links({key: value for key, value in filters.items() if value}, page, size, len(sheets))
        return _cached(answer, hashlib.sha256(answer.get_data()).hexdigest())


@blueprint.route("/<spec_id>", parameters=_IF_NONE_MATCH)
class SpecView(MethodView):
    @blueprint.arguments(SpecQuery, location="query")
    @blueprint.response(
        200, SpecSheetSchema, headers=_ETAG, description="The sheet in its own format, ready to be sent as spec_sheet."
    )
    @blueprint.alt_response(200, schema={"type": "string"}, content_type="application/yaml", success=True)
    @blueprint.alt_response(304, description="Nothing has changed.", success=True)
    @blueprint.alt_response(404, "NOT_FOUND")
    @blueprint.alt_response(406, "NOT_ACCEPTABLE")
    def get(self, query: dict[str, Any], spec_id: str) -> Response:
        """Read one spec sheet, as JSON or YAML."""
        sheet = catalogue.find(spec_id)
        if sheet is None:
            raise Problem("spec-not-found", f"There is no stored sheet '{spec_id[:100]}'. {nearest_ids(spec_id)}")
        if query.get("revision", sheet.revision) != sheet.revision:
            raise Problem("spec-not-found", f"The sheet '{sheet.id}' has the revision {sheet.revision}, not {query['revision']}.")
        kind = (
            request.accept_mimetypes.best_match(("application/json", *_YAML)) if request.accept_mimetypes else "application/json"
        )
        if kind is None:
            raise Problem("not-acceptable", "A spec sheet is given as application/json or application/yaml.")
        if kind == "application/json":
            answer, tag = Response(json.dumps(sheet_to_document(sheet)), mimetype=kind), digest(sheet)
        else:
            answer, tag = Response(sheet_to_yaml(sheet), mimetype="application/yaml"), f"{digest(sheet)}-yaml"
        answer.vary.add("Accept")
        return _cached(answer, tag)


def _summary(sheet: SpecSheet) -> dict[str, Any]:
    return {
        "id": sheet.id,
        "revision": sheet.revision,
        "title": sheet.title,
        "product": sheet.product,
        "regions": list(sheet.regions),
        "purpose": sheet.purpose,
        "summary": sheet.summary,
        "digest": digest(sheet),
        "links": {"self": f"/v1/specs/{sheet.id}"},
    }


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


def _cached(answer: Response, tag: str) -> Response:
    """To be kept by the caller and asked for again with its ETag; 304 where it is still the same."""
    answer.set_etag(tag)
    answer.headers["Cache-Control"] = "no-cache"
    answer.make_conditional(request)
    return answer
