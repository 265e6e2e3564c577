"""`/v1/rules`: what is judged, and on what grounds."""

from __future__ import annotations

from flask import Response, jsonify
from flask.views import MethodView
from marshmallow import fields
from marshmallow.validate import OneOf

from service.api.http.blueprint import Blueprint
from service.api.http.shapes import Answer, says
from service.rules.reference import reference

blueprint = Blueprint("rules", __name__, url_prefix="/v1/rules", description="The reference of the rules.")


class RuleFacts(Answer):
    id = fields.String(**says("Id as it stands in findings and in a sheet's 'levels'."))
    title = fields.String(**says("What the rule claims."))
    why = fields.String(**says("What goes wrong otherwise."))
    remedy = fields.String(**says("What to do about it."))
    knows = fields.String(**says("What it looks at."))
    cannot_know = fields.String(**says("What it does not see."))
    source = fields.String(**says("What it rests on."))
    level = fields.String(validate=OneOf(["must", "should"]), **says("Its level unless the sheet says otherwise."))
    asked_by = fields.String(**says("The sheet's key that asks for it; 'always' for a standing rule."))
    measured = fields.Dict(**says("Key of 'measured' → what it says."))
    required = fields.Dict(**says("Key of 'required' → what it says."))


class RulesAnswer(Answer):
    rules = fields.List(fields.Nested(RuleFacts), **says("Every rule, in the order in which a result lists them."))


@blueprint.route("")
class RulesView(MethodView):
    @blueprint.needs(None)
    @blueprint.response(200, RulesAnswer)
    def get(self) -> Response:
        """List every rule: what it claims, why, what to do, what it knows and cannot know, and its source."""
        return jsonify(rules=reference())
