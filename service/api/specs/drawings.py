"""`/v1/specs/{id}/drawing` and `…/template`: the product of a sheet drawn to scale, and an empty document to start from."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Mapping
from typing import Any, Literal, get_args

import marshmallow as ma
from flask import Response, request
from flask.views import MethodView
from marshmallow import fields
from marshmallow.validate import OneOf, Range

from service.api.http.blueprint import BARE_PDF, IF_NONE_MATCH, Blueprint
from service.api.http.languages import in_spoken_language
from service.api.http.problems import Problem
from service.api.proofs.proof_pdfs import PDF_HEADERS, saved_as
from service.api.specs.kept_sheets import find_kept, sheet_of
from service.api.specs.sheet_bodies import cached
from service.language.spoken import say
from service.language.wording import reason
from service.pdf.facts.unknown import Unmeasured
from service.proofs.drawing.pdf import drawing_pdf
from service.proofs.drawing.sheet_drawing import UNITS, sheet_drawing
from service.proofs.drawing.svg import drawing_svg
from service.proofs.report.sheet import sheet_titled
from service.proofs.template.pages import MOST_PAGES, template_pages
from service.proofs.template.pdf import template_pdf
from service.proofs.template.svg import template_svg
from service.sheets.model import SpecSheet
from service.sheets.order import KEYS, OrderRefused, for_order

blueprint = Blueprint(
    "drawings", __name__, url_prefix="/v1/specs", description="A sheet's product drawn, and as an empty document."
)

SVG = "image/svg+xml"
Format = Literal["svg", "pdf"]
_MIMETYPES: dict[str, Format] = {SVG: "svg", BARE_PDF: "pdf"}
POLICY = "default-src 'none'; style-src 'unsafe-inline'; sandbox"
"""For a drawing that is opened by itself: its own few lines of style, and nothing else."""
NOT_DRAWN = "sheet-not-drawn"


class _SheetQuery(ma.Schema):
    format = fields.String(
        validate=OneOf(get_args(Format)),
        metadata={"description": "For links, which cannot set the header Accept; it counts before that header."},
    )
    revision = fields.Integer(metadata={"description": "This revision of the sheet."}, validate=Range(1, 10**9))
    inner_pages = fields.Integer(
        validate=Range(1, 100_000), metadata={"description": "Of the order: how many inner pages a cover's book has."}
    )
    caliper_mm = fields.Float(
        validate=Range(0, 10, min_inclusive=False), metadata={"description": "Of the order: how thick one leaf of them is."}
    )


class DrawingQuery(_SheetQuery):
    units = fields.String(load_default="mm", validate=OneOf(UNITS), metadata={"description": "What the measures are written in."})


class TemplateQuery(_SheetQuery):
    pages = fields.Integer(
        validate=Range(1, MOST_PAGES),
        metadata={"description": "How many pages. Left out: as few as the sheet takes, front and back."},
    )
    page = fields.Integer(
        load_default=1, validate=Range(1, MOST_PAGES), metadata={"description": "Of an SVG, which holds one page."}
    )


def _described(function: Callable[..., Response]) -> Callable[..., Response]:
    for status in ("404 NOT_FOUND", "406 NOT_ACCEPTABLE", "410 GONE", "422 UNPROCESSABLE_ENTITY"):
        code, name = status.split()
        function = blueprint.alt_response(int(code), name)(function)
    return blueprint.alt_response(304, description="Nothing has changed.", success=True)(function)


@blueprint.route("/<spec_id>/drawing", parameters=[IF_NONE_MATCH])
class DrawingView(MethodView):
    @blueprint.needs("read", unless="stored")
    @blueprint.arguments(DrawingQuery, location="query")
    @blueprint.response(
        200, {"type": "string"}, content_type=SVG, headers=PDF_HEADERS, description="With its measures, to scale."
    )
    @blueprint.alt_response(200, schema={}, content_type=BARE_PDF, success=True, headers=PDF_HEADERS)
    @_described
    def get(self, query: dict[str, Any], spec_id: str) -> Response:
        """The product as it lies flat, drawn to scale: trim, bleed, margin, folds, spine and areas, with their measures."""
        drawing = sheet_drawing(_ordered(spec_id, query), query["units"])
        if isinstance(drawing, Unmeasured):
            raise Problem(NOT_DRAWN, reason(drawing))
        wanted = _format(query)
        return _answer(spec_id, "drawing", drawing_svg(drawing) if wanted == "svg" else drawing_pdf(drawing), wanted)


@blueprint.route("/<spec_id>/template", parameters=[IF_NONE_MATCH])
class TemplateView(MethodView):
    @blueprint.needs("read", unless="stored")
    @blueprint.arguments(TemplateQuery, location="query")
    @blueprint.response(200, {}, content_type=BARE_PDF, headers=PDF_HEADERS, description="Empty pages, their boxes set.")
    @blueprint.alt_response(200, schema={"type": "string"}, content_type=SVG, success=True, headers=PDF_HEADERS)
    @_described
    def get(self, query: dict[str, Any], spec_id: str) -> Response:
        """An empty document as the sheet asks for it, with guides on a layer that does not print: delete it before the export."""
        sheet = _ordered(spec_id, query)
        pages = template_pages(sheet, query.get("pages"))
        if isinstance(pages, Unmeasured):
            raise Problem(NOT_DRAWN, reason(pages))
        wanted, title = _format(query, usual=BARE_PDF), sheet_titled(sheet)
        if wanted == "pdf":
            return _answer(spec_id, "template", template_pdf(pages, title), wanted)
        if query["page"] > len(pages):
            raise Problem("page-not-found", say("The document has {pages} pages.", pages=len(pages)))
        return _answer(spec_id, "template", template_svg(pages[query["page"] - 1], title), wanted)


def _ordered(spec_id: str, query: Mapping[str, Any]) -> SpecSheet:
    """Raises `Problem`."""
    sheet = sheet_of(find_kept(spec_id, query.get("revision")).own.complete)
    try:
        return for_order(sheet, {key: query[key] for key in KEYS if key in query})
    except OrderRefused as refused:
        raise Problem("invalid-request", str(refused), errors=refused.errors) from refused


def _format(query: Mapping[str, Any], usual: str = SVG) -> Format:
    """By the address, else by the header Accept. Raises `Problem`."""
    if "format" in query:
        return next(one for one in _MIMETYPES.values() if one == query["format"])
    if not request.accept_mimetypes:
        return _MIMETYPES[usual]
    best = request.accept_mimetypes.best_match([usual, *(one for one in _MIMETYPES if one != usual)])
    if best is None:
        detail = say("It comes as {types}; 'format' in the address chooses as well.", types=", ".join(_MIMETYPES))
        raise Problem("not-acceptable", detail)
    return _MIMETYPES[best]


def _answer(spec_id: str, suffix: str, made: bytes, made_as: Format) -> Response:
    answer = Response(made, mimetype=SVG if made_as == "svg" else BARE_PDF)
    shown: Literal["attachment", "inline"] = "inline" if suffix == "drawing" else "attachment"
    answer.headers["Content-Disposition"] = saved_as(spec_id, suffix, shown).replace(".pdf", f".{made_as}")
    answer.headers["Content-Security-Policy"] = POLICY
    answer.vary.add("Accept")
    return in_spoken_language(cached(answer, hashlib.sha256(made).hexdigest()))
