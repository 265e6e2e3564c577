"""`/v1/checks/{id}/single-pages`: the checked file as single pages, spreads cut in two and every page with its boxes."""

from __future__ import annotations

from typing import Any

import marshmallow as ma
from flask import Response
from flask.views import MethodView
from marshmallow import fields
from marshmallow.validate import Length

from service.api.http.blueprint import BARE_PDF, IF_NONE_MATCH, Blueprint
from service.api.http.languages import LANG
from service.api.proofs.on_demand import on_demand
from service.api.proofs.proof_pdfs import PDF_HEADERS, pdf_answer
from service.proofs.single_pages.brief import SINGLE_PAGES, single_pages_brief
from service.proofs.single_pages.wishes import SinglePagesWishes

blueprint = Blueprint(
    "single-pages", __name__, url_prefix="/v1/checks", description="The file as single pages: spreads cut in two, boxes written."
)


class SinglePagesQuery(ma.Schema):
    spreads = fields.String(
        validate=Length(1, 1000),
        metadata={
            "description": "Which pages are spreads: `all`, `none`, or page numbers such as `2-6`. Left out: those twice as wide "
            "as the sheet's single page, or as the smallest page where the sheet has no size."
        },
    )


@blueprint.route("/<check_id>/single-pages", parameters=[IF_NONE_MATCH, LANG])
class SinglePagesView(MethodView):
    @blueprint.needs("read", unless="link")
    @blueprint.arguments(SinglePagesQuery, location="query")
    @blueprint.response(
        200, {}, content_type=BARE_PDF, headers=PDF_HEADERS,
        description="The PDF. What was changed stands in its Info dictionary under Changes.",
    )
    @on_demand(blueprint)
    def get(self, query: dict[str, Any], check_id: str) -> Response:
        """The file as single pages: spreads cut in two, TrimBox and BleedBox written where they are missing.

        Nothing that is painted changes. A trim that the file does not declare is a likely one: compare it with the layout.
        """
        return pdf_answer(check_id, SINGLE_PAGES, single_pages_brief, SinglePagesWishes(**query), suffix="single-pages")
