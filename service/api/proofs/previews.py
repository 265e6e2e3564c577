"""`/v1/checks/{id}/preview`: the checked file as a light PDF for the client's mail and screen."""

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
from service.api.proofs.query_fields import choice, whole_number
from service.proofs.preview.brief import PREVIEW, preview_brief
from service.proofs.preview.wishes import PPI, QUALITY, PreviewArrangement, PreviewWishes

blueprint = Blueprint("previews", __name__, url_prefix="/v1/checks", description="A light PDF for the client's mail and screen.")


class PreviewQuery(ma.Schema):
    arrangement = choice(
        PreviewArrangement,
        "Facing pages side by side, or every page alone. Left out: side by side where the sheet is for bound work, such as a "
        "booklet.",
    )
    pages = fields.String(validate=Length(1, 1000), metadata={"description": "Such as `1-4,9-12`. Left out: all pages."})
    ppi = whole_number(PPI, "Pixels an inch of pictures as placed; none gets more than it has.")
    quality = whole_number(QUALITY, "Of JPEG pictures, on the common library's scale.")
    maximum_size = fields.String(
        validate=Length(1, 40),
        metadata={"description": "Such as `600kB`. Pictures are made coarser than `ppi` and `quality` until the file fits."},
    )
    watermark = fields.String(
        load_default=PreviewWishes.watermark,
        validate=Length(0, 200),
        metadata={"description": "Words across every page, such as `For approval`."},
    )


@blueprint.route("/<check_id>/preview", parameters=[IF_NONE_MATCH, LANG])
class PreviewView(MethodView):
    @blueprint.needs("read", unless="link")
    @blueprint.arguments(PreviewQuery, location="query")
    @blueprint.response(
        200, {}, content_type=BARE_PDF, headers=PDF_HEADERS,
        description="The PDF, linearized. Its Info dictionary says under Changes what was changed, and which page, if any, had "
        "to be drawn as a picture.",
    )
    @on_demand(blueprint)
    def get(self, query: dict[str, Any], check_id: str) -> Response:
        """A client preview: pages cut to the trim, as reader spreads or alone, with light pictures in sRGB.

        For reading and approving words and layout on a screen; not for printing, and no proof of colour.
        """
        return pdf_answer(check_id, PREVIEW, preview_brief, PreviewWishes(**query), suffix="preview")
