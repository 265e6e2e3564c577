"""`/v1/specs/template-readings`: a printer's empty document in, a draft of a sheet out. Nothing is kept.

Beside `/v1/specs/readings`, which takes a PDF too: there its text is what the printer publishes, here its boxes and guides say
it, and an empty document may well say one thing in its boxes and another in its words.
"""

from __future__ import annotations

from typing import Any

import marshmallow as ma
from flask import Response, json, jsonify
from flask.views import MethodView
from marshmallow import fields
from werkzeug.datastructures import FileStorage

from service.answers.template_child import READ, TemplateBrief
from service.api.checks.requests import FileField
from service.api.http.blueprint import BARE_PDF, Blueprint, parts
from service.api.http.callers.quotas import spend_upload
from service.api.http.languages import LANG, in_spoken_language
from service.api.http.problems import Problem, busy, not_in_time
from service.api.http.shapes import Answer, says
from service.api.http.uploads import pdf_for_a_moment
from service.jobs.children.failures import OutOfTime
from service.jobs.children.tasks import DrawingTask
from service.jobs.queue_full import QueueFull
from service.language.spoken import say, spoken
from service.language.wording import reason
from service.pdf.facts.unknown import Unmeasured
from service.store.files.blobs import Readable

blueprint = Blueprint("template-readings", __name__, url_prefix="/v1/specs", description="Printers' empty documents, read.")

MOST_SECONDS = 20.0


class TemplateForm(ma.Schema):
    file = FileField(required=True, metadata={"description": "The PDF.", "type": "string", "contentMediaType": BARE_PDF})

    class Meta:
        unknown = ma.RAISE


class TemplateValueFacts(Answer):
    pointer = fields.String(**says("Where the value stands in the draft (RFC 6901)."))
    value = fields.Raw(**says("The value, in the sheet's format."))
    source = fields.String(**says("Where it comes from: which box, or which guide by its name."))


class TemplateQuestionFacts(Answer):
    about = fields.String(**says("Key of the sheet, such as bleed."))
    question = fields.String(**says("What a person has to settle."))
    source = fields.String(**says("What was seen."))


class TemplateReadingAnswer(Answer):
    draft = fields.Dict(**says("A sheet without identity, to be looked over by a person; empty where nothing is certain."))
    draft_yaml = fields.String(**says("The same as YAML."))
    values = fields.List(fields.Nested(TemplateValueFacts), **says("Each value of the draft and where it comes from."))
    questions = fields.List(fields.Nested(TemplateQuestionFacts), **says("What is not certain, and is not in the draft."))


_DOC = {
    "parameters": [LANG],
    "requestBody": {
        "description": (
            "A form with the PDF, or the bare PDF. Boxes say what it asks, and lines or rectangles on layers or in spot inks "
            "that are named as such (trim, bleed, safety margin, fold)."
        ),
        "content": {
            "multipart/form-data": {"encoding": {"file": {"contentType": BARE_PDF}}},
            BARE_PDF: {"schema": {"type": "string", "contentMediaType": BARE_PDF}},
        },
    },
}


@blueprint.route("/template-readings")
class TemplateReadingsView(MethodView):
    @blueprint.needs("check")
    @blueprint.doc(**_DOC)
    @blueprint.arguments(TemplateForm, location="multipart")
    @blueprint.response(200, TemplateReadingAnswer, description="A draft, not kept: confirm it, and send it with POST /v1/specs.")
    @blueprint.alt_response(413, "TOO_LARGE")
    @blueprint.alt_response(415, "UNSUPPORTED_MEDIA_TYPE")
    @blueprint.alt_response(422, "UNPROCESSABLE_ENTITY")
    @blueprint.alt_response(429, "TOO_MANY_REQUESTS")
    def post(self, form: dict[str, Any]) -> Response:
        """Read a printer's empty document as a draft of a sheet."""
        part = form["file"]
        spend_upload()
        return in_spoken_language(jsonify(read_template_pdf(part.stream if isinstance(part, FileStorage) else part)))


def read_template_pdf(stream: Readable) -> dict[str, Any]:
    """In the sandbox, as every PDF. Raises `Problem`."""
    with pdf_for_a_moment(stream) as (path, _):
        task = DrawingTask(pdf=path, brief=TemplateBrief(spoken()), draw=READ)
        try:
            answered = parts().workbench.drawn(task, MOST_SECONDS)
        except QueueFull as full:
            raise busy(full) from full
    if isinstance(answered, OutOfTime):
        raise not_in_time(answered)
    if isinstance(answered, Unmeasured):
        raise _unread(reason(answered))
    match json.loads(answered):
        case {"read": dict(reading)} if not TemplateReadingAnswer().validate(reading):
            return reading
        case {"refused": str(detail)}:
            raise _unread(detail[:1000])
        case _:
            raise _unread(say("The PDF could not be read as an empty document."))


def _unread(detail: str) -> Problem:
    return Problem("invalid-request", detail, errors=[("/file", detail)])
