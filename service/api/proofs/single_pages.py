"""`/v1/checks/{id}/single-pages`: the checked file as single pages, spreads cut in two and every page with its boxes."""

from __future__ import annotations

from typing import Any

import marshmallow as ma
from flask import Response
from flask.views import MethodView
from marshmallow import fields
from marshmallow.validate import Length

from service.api.http.blueprint import BARE_PDF, IF_NONE_MATCH, Blueprint
from service.api.http.problems import Problem
from service.api.proofs.on_demand import finished_check, on_demand
from service.api.proofs.proof_pdfs import PDF_HEADERS, PROOF_NOT_MADE, pdf_answer
from service.jobs.checking import sheet_of
from service.product.spreads import double_pages
from service.proofs.preview.brief import NotUnderstood
from service.proofs.single_pages.brief import DRAW, asked_of, spreads_named

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


@blueprint.route("/<check_id>/single-pages", parameters=[IF_NONE_MATCH])
class SinglePagesView(MethodView):
    @blueprint.arguments(SinglePagesQuery, location="query")
    @blueprint.response(
        200, {}, content_type=BARE_PDF, headers=PDF_HEADERS,
        description="The PDF. What was changed stands in its Info dictionary under Changes.",
    )  # fmt: skip
    @on_demand(blueprint)
    def get(self, query: dict[str, Any], check_id: str) -> Response:
        """The file as single pages: spreads cut in two, TrimBox and BleedBox written where they are missing.

        Nothing that is painted changes. A trim that the file does not declare is a likely one: compare it with the layout.
        """
        row, pages = finished_check(check_id, PROOF_NOT_MADE)
        sheet = sheet_of(row)
        try:
            spreads = spreads_named(query["spreads"], len(pages)) if "spreads" in query else double_pages(pages, sheet.trim)
        except NotUnderstood as error:
            raise Problem("invalid-request", str(error), errors=[("/spreads", str(error))]) from error
        asked = asked_of(pages, spreads, sheet.bleed.minimum_mm if sheet.bleed else None)
        return pdf_answer(row, asked, DRAW, suffix="single-pages", headers={})
