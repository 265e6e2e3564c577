"""`/v1/checks/{id}/preview`: the checked file as a light PDF for the client's mail and screen."""

from __future__ import annotations

from typing import Any, get_args

import marshmallow as ma
from flask import Response
from flask.views import MethodView
from marshmallow import fields
from marshmallow.validate import Length, OneOf, Range

from service.api.http.blueprint import BARE_PDF, IF_NONE_MATCH, Blueprint
from service.api.http.problems import Problem
from service.api.proofs.on_demand import finished_check, on_demand
from service.api.proofs.proof_pdfs import PDF_HEADERS, PROOF_NOT_MADE, pdf_answer
from service.jobs.checking import sheet_of
from service.pdf.facts.page import Page
from service.proofs.preview.brief import (
    DEFAULT_PPI,
    DEFAULT_QUALITY,
    HIGHEST_PPI,
    HIGHEST_QUALITY,
    LOWEST_PPI,
    LOWEST_QUALITY,
    PREVIEW,
    NotUnderstood,
    PreviewArrangement,
    PreviewAsked,
    arrangement_for,
    bytes_of,
    numbers_of,
    sheets_of,
    watermark_of,
)
from service.sheets.model import SpecSheet

blueprint = Blueprint("previews", __name__, url_prefix="/v1/checks", description="A light PDF for the client's mail and screen.")


class PreviewQuery(ma.Schema):
    arrangement = fields.String(
        validate=OneOf(get_args(PreviewArrangement)),
        metadata={
            "description": "Facing pages side by side, or every page alone. Left out: side by side where the sheet is for bound "
            "work, such as a booklet."
        },
    )
    pages = fields.String(validate=Length(1, 1000), metadata={"description": "Such as `1-4,9-12`. Left out: all pages."})
    ppi = fields.Integer(
        load_default=DEFAULT_PPI, validate=Range(LOWEST_PPI, HIGHEST_PPI),
        metadata={"description": "Pixels an inch of pictures as placed; none gets more than it has."},
    )  # fmt: skip
    quality = fields.Integer(
        load_default=DEFAULT_QUALITY, validate=Range(LOWEST_QUALITY, HIGHEST_QUALITY),
        metadata={"description": "Of JPEG pictures, on the common library's scale."},
    )  # fmt: skip
    maximum_size = fields.String(
        validate=Length(1, 40),
        metadata={"description": "Such as `600kB`. Pictures are made coarser than `ppi` and `quality` until the file fits."},
    )
    watermark = fields.String(
        load_default="", validate=Length(0, 200), metadata={"description": "Words across every page, such as `For approval`."}
    )


@blueprint.route("/<check_id>/preview", parameters=[IF_NONE_MATCH])
class PreviewView(MethodView):
    @blueprint.arguments(PreviewQuery, location="query")
    @blueprint.response(
        200, {}, content_type=BARE_PDF, headers=PDF_HEADERS,
        description="The PDF, linearized. Its Info dictionary says under Changes what was changed, and which page, if any, had "
        "to be drawn as a picture.",
    )  # fmt: skip
    @on_demand(blueprint)
    def get(self, query: dict[str, Any], check_id: str) -> Response:
        """A client preview: pages cut to the trim, as reader spreads or alone, with light pictures in sRGB.

        For reading and approving words and layout on a screen; not for printing, and no proof of colour.
        """
        row, pages = finished_check(check_id, PROOF_NOT_MADE)
        return pdf_answer(row, _asked(pages, sheet_of(row), query), PREVIEW, suffix="preview", headers={})


def _asked(pages: tuple[Page, ...], sheet: SpecSheet, query: dict[str, Any]) -> PreviewAsked:
    """Raises `Problem` with a pointer to each part of the query that cannot be."""
    mistakes: list[tuple[str, str]] = []
    found: dict[str, Any] = {}
    for name, read in (
        ("pages", lambda text: numbers_of(text, len(pages))),
        ("maximum_size", lambda text: bytes_of(text) if text else None),
        ("watermark", lambda text: watermark_of(text)),
    ):
        try:
            found[name] = read(query.get(name))
        except NotUnderstood as error:
            mistakes.append((f"/{name}", str(error)))
    if mistakes:
        raise Problem("invalid-request", mistakes[0][1], errors=mistakes)
    arrangement = query.get("arrangement") or arrangement_for(sheet)
    sheets = sheets_of(pages, found["pages"], arrangement)
    return PreviewAsked(sheets, query["ppi"], query["quality"], found["maximum_size"], found["watermark"])
