"""`/v1/specs/matches`: which of the sheets a PDF looks like."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import marshmallow as ma
from flask import Response, jsonify
from flask.views import MethodView
from marshmallow import fields
from marshmallow.validate import Length, OneOf, Range
from werkzeug.datastructures import FileStorage

from service.answers.matches import match_answer, size_answers
from service.api.catalogues.found import find_catalogue
from service.api.catalogues.listing import candidates
from service.api.checks.requests import FileField
from service.api.http.blueprint import BARE_PDF, Blueprint, parts
from service.api.http.callers.quotas import spend_upload
from service.api.http.languages import LANG, in_spoken_language
from service.api.http.problems import busy
from service.api.http.shapes import Answer, FailureFacts, FileFacts, or_null, says
from service.api.http.uploads import pdf_for_a_moment
from service.api.http.words import file_name
from service.api.specs.kept_sheets import every_sheet, listed
from service.api.specs.spec_shapes import SpecSummary
from service.jobs.queue_full import QueueFull
from service.language.wording import reason
from service.pdf.facts.unknown import Unmeasured
from service.sheets.matching import rank

blueprint = Blueprint("spec-matches", __name__, url_prefix="/v1/specs", description="What a PDF could be.")

MOST_NEAREST = 3


class MatchForm(ma.Schema):
    file = FileField(required=True, metadata={"description": "The PDF.", "type": "string", "contentMediaType": BARE_PDF})
    product = fields.String(metadata={"description": "Only sheets for this product."}, validate=Length(max=100))
    region = fields.String(metadata={"description": "Only sheets for this region, such as DE."}, validate=Length(max=100))
    catalogue = fields.String(metadata={"description": "The sheets of this catalogue, and no others."}, validate=Length(max=64))
    most = fields.Integer(load_default=10, metadata={"description": "How many sheets at most."}, validate=Range(1, 100))

    class Meta:
        unknown = ma.RAISE


class ReasonFacts(Answer):
    about = fields.String(validate=OneOf(["size", "orientation", "arrangement", "pages", "bleed"]), **says("What it is about."))
    says_ = fields.String(data_key="says", **says("The same in a sentence."))
    measured = fields.Dict(**says("What was found."))
    required = fields.Dict(**says("What the sheet asks."))


class DifferenceFacts(Answer):
    width = fields.Float(**says("mm; found less asked."))
    height = fields.Float(**says("mm; found less asked."))


class MatchFacts(Answer):
    spec = fields.Nested(SpecSummary, **says("The sheet."))
    fits = fields.List(fields.Nested(ReasonFacts), **says("What speaks for it."))
    against = fields.List(fields.Nested(ReasonFacts), **says("What speaks against it; bleed that is missing rules nothing out."))
    difference_mm = fields.Nested(DifferenceFacts, **says("Of the page that is farthest off, turned as it fits best."))


class SizeFacts(Answer):
    width_mm = fields.Float(**says("As it was worked out from the file alone."))
    height_mm = fields.Float(**says("As it was worked out from the file alone."))
    trim_source = fields.String(**says("What says where the trim is."))
    pages = fields.List(fields.Integer(), **says("The first pages of this size, 20 at most."))
    page_count = fields.Integer(**says("How many pages have it."))


class MatchesAnswer(Answer):
    file = fields.Nested(FileFacts, **says("What was looked at; nothing of it is kept."))
    failure = fields.Nested(FailureFacts, **or_null("Why the pages could not be measured; null where they could."))
    page_count = fields.Integer(**or_null("Number of pages in the file."))
    sizes = fields.List(fields.Nested(SizeFacts), **says("The sizes of the pages, the first page's first."))
    matches = fields.List(fields.Nested(MatchFacts), **says("The sheets that the file fits, the best first."))
    nearest = fields.List(fields.Nested(MatchFacts), **says("Where it fits none: those that it comes nearest to."))


_DOC = {
    "parameters": [
        {"in": "query", "name": "product", "schema": {"type": "string"}, "description": "Only with a bare PDF: as the field."},
        {"in": "query", "name": "region", "schema": {"type": "string"}, "description": "Only with a bare PDF: as the field."},
        {"in": "query", "name": "catalogue", "schema": {"type": "string"}, "description": "Only with a bare PDF: as the field."},
        {"in": "query", "name": "most", "schema": {"type": "integer"}, "description": "Only with a bare PDF: as the field."},
        LANG,
    ],
    "requestBody": {
        "description": "A form with the PDF, or the bare PDF.",
        "content": {
            "multipart/form-data": {"encoding": {"file": {"contentType": BARE_PDF}}},
            BARE_PDF: {"schema": {"type": "string", "contentMediaType": BARE_PDF}},
        },
    },
}


@blueprint.route("/matches")
class MatchesView(MethodView):
    @blueprint.needs("check")
    @blueprint.doc(**_DOC)
    @blueprint.arguments(MatchForm, location="multipart")
    @blueprint.response(
        200, MatchesAnswer, description="The sheets that the file fits. A fit is no check: only sizes were looked at."
    )
    @blueprint.alt_response(404, "NOT_FOUND")
    @blueprint.alt_response(410, "GONE")
    @blueprint.alt_response(413, "TOO_LARGE")
    @blueprint.alt_response(415, "UNSUPPORTED_MEDIA_TYPE")
    @blueprint.alt_response(429, "TOO_MANY_REQUESTS")
    def post(self, form: dict[str, Any]) -> Response:
        """Ask which sheets a PDF fits."""
        part = form["file"] if isinstance(form["file"], FileStorage) else None
        stream = part.stream if part else form["file"]
        filters = {key: form[key] for key in ("product", "region") if form.get(key)}
        if "catalogue" in form:
            find_catalogue(form["catalogue"])  # before anything is measured
        spend_upload()
        with pdf_for_a_moment(stream) as (path, saved):
            try:
                measurements = parts().workbench.sizes(path)
            except QueueFull as full:
                raise busy(full) from full
        pages = measurements.pages
        short: Mapping[str | None, Mapping[str, Any]]
        if "catalogue" in form:
            sheets, short = candidates(form["catalogue"], filters, () if isinstance(pages, Unmeasured) else pages)
        else:
            short = {one["id"]: one for one in listed(filters)}
            sheets = [sheet for _, sheet in every_sheet() if sheet.id in short]
        ranked = rank(measurements, sheets)
        fitting = [one for one in ranked if one.fits]
        failure = measurements.document.failure
        unread = reason(pages) if isinstance(pages, Unmeasured) else None
        answer = jsonify(
            file={"name": file_name(part.filename if part else None), "size_bytes": saved.size_bytes, "sha256": saved.sha256},
            failure={"kind": failure.kind if failure else "broken", "why": reason(failure) if failure else unread}
            if unread
            else None,
            page_count=None if isinstance(pages, Unmeasured) else len(pages),
            sizes=[] if isinstance(pages, Unmeasured) else size_answers(pages),
            matches=[match_answer(one, short) for one in fitting[: form["most"]]],
            nearest=[] if fitting else [match_answer(one, short) for one in ranked[: min(MOST_NEAREST, form["most"])]],
        )
        return in_spoken_language(answer)
