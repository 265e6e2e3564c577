"""`/v1/rules`: what is judged, and on what grounds."""

from __future__ import annotations

from flask import Response, jsonify
from flask.views import MethodView

from service.api.http.blueprint import Blueprint
from service.api.specs.shapes import RulesAnswer
from service.rules.reference import reference

blueprint = Blueprint("rules", __name__, url_prefix="/v1/rules", description="The reference of the rules.")


@blueprint.route("")
class RulesView(MethodView):
    @blueprint.response(200, RulesAnswer)
    def get(self) -> Response:
        """List every rule: what it claims, why, what to do, what it knows and cannot know, and its source."""
        return jsonify(rules=reference())
