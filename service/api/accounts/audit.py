"""`/v1/audit`: who did what in the caller's account; what the whole service did, the command line alone says."""

from __future__ import annotations

from typing import Any, get_args

import marshmallow as ma
from flask import Response, jsonify
from flask.views import MethodView
from marshmallow import fields
from marshmallow.validate import OneOf, Range

from service.answers.audit import audit_entry
from service.api.http.blueprint import Blueprint, parts
from service.api.http.callers.access import owner_and_hand
from service.api.http.shapes import Answer, says
from service.store.accounts.audit import Did

blueprint = Blueprint("audit", __name__, url_prefix="/v1/audit", description="Who did what.")


class AuditQuery(ma.Schema):
    before = fields.Integer(metadata={"description": "Only entries older than the one of this number."}, validate=Range(1, 2**62))
    page_size = fields.Integer(load_default=50, metadata={"description": "Entries at most."}, validate=Range(1, 500))


class AuditEntry(Answer):
    number = fields.Integer(**says("Counted up; numbers of other accounts lie between."))
    at = fields.DateTime(**says("When."))
    by = fields.String(**says("Whose hand it was: a key by its prefix, the command line, or open mode."))
    did = fields.String(validate=OneOf(get_args(Did)), **says("What was done."))
    about = fields.String(**says("The id of what it was done to."))


class AuditAnswer(Answer):
    entries = fields.List(fields.Nested(AuditEntry), **says("The newest first."))


@blueprint.route("")
class AuditView(MethodView):
    @blueprint.needs("administer")
    @blueprint.arguments(AuditQuery, location="query")
    @blueprint.response(
        200, AuditAnswer, headers={"Link": {"schema": {"type": "string"}, "description": "Older entries (RFC 8288)."}}
    )
    def get(self, query: dict[str, Any]) -> Response:
        """Ask who did what in your account: keys, sheets, tokens, deleted checks."""
        size = query["page_size"]
        rows = parts().audit.entries(owner_and_hand().owner, size, query.get("before"))
        answer = jsonify(entries=[audit_entry(row.id, row.at, row.by, row.did, row.about) for row in rows])
        answer.headers["Cache-Control"] = "no-store"
        if len(rows) == size:
            answer.headers["Link"] = f'<?before={rows[-1].id}&page_size={size}>; rel="next"'
        return answer
