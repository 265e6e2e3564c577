"""`/v1/specs/schema`: the JSON Schema of a sheet, for editors and for scripts that write one."""

from __future__ import annotations

from typing import Any

import marshmallow as ma
from flask import Response, json
from flask.views import MethodView
from marshmallow import fields

from service.api.http.blueprint import IF_NONE_MATCH, Blueprint
from service.api.specs.sheet_bodies import cached
from service.rules.catalogue import RULES
from service.sheets.format.json_schema import MEDIA_TYPE, sheet_schema

blueprint = Blueprint("spec-schema", __name__, url_prefix="/v1/specs", description="The form of a spec sheet.")



class SchemaQuery(ma.Schema):
    stored = fields.Boolean(
        load_default=False,
        truthy={"true", "1"},
        falsy={"false", "0"},
        metadata={
            "description": "true: of a sheet that is to be kept, which needs its identity; else of one that comes with a check."
        },
    )


@blueprint.route("/schema", parameters=[IF_NONE_MATCH])
class SchemaView(MethodView):
    @blueprint.needs(None)
    @blueprint.doc(
        responses={200: {"description": "A JSON Schema.", "content": {MEDIA_TYPE: {"schema": {"type": "object"}}}}},
    )
    @blueprint.arguments(SchemaQuery, location="query")
    @blueprint.alt_response(304, description="Nothing has changed.", success=True)
    def get(self, query: dict[str, Any]) -> Response:
        """The JSON Schema (draft 2020-12) of a spec sheet."""
        schema = sheet_schema(stored=query["stored"], known_rules=RULES)
        return cached(Response(json.dumps(schema), mimetype=MEDIA_TYPE))
