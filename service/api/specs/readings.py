"""`/v1/specs/readings`: published spec text in, a draft of a sheet out. Nothing is kept: a person confirms it and sends it."""

from __future__ import annotations

from typing import Any

import marshmallow as ma
from flask import Response, json, jsonify, request
from flask.views import MethodView
from marshmallow import fields

from service.answers.reading_child import READ, ReadingBrief
from service.api.http.blueprint import BARE_PDF, Blueprint, parts
from service.api.http.languages import LANG, in_spoken_language
from service.api.http.problems import Problem, busy, not_in_time
from service.api.http.shapes import Answer, or_null, says
from service.api.http.uploads import pdf_for_a_moment
from service.jobs.children.failures import OutOfTime
from service.jobs.children.tasks import DrawingTask
from service.jobs.queue_full import QueueFull
from service.language.spoken import say, spoken, to_say
from service.language.wording import listed_or, reason
from service.pdf.facts.unknown import Unmeasured
from service.sheets.prose.drafts import LONGEST_PAGE_BYTES, MEDIA_TYPES, longest_bytes
from service.sheets.prose.printed_text import text_of

blueprint = Blueprint("spec-readings", __name__, url_prefix="/v1/specs", description="Published specs, read.")

_JSON = "application/json"
_MOST_BYTES_OF_JSON = 6 * LONGEST_PAGE_BYTES + 1000
"""Every character may come as an escape of six."""
MOST_SECONDS = 20.0
"""200 kB take a few."""
_NOT_READ = to_say("Reading the text took longer than it may. Send only the part that says how files are to be made.")
_TOO_LONG = to_say(
    "The text is longer than 200 kB, or the page than 1 MB. Send only the part that says how files are to be made."
)


class ReadWords(Answer):
    quote = fields.String(**says("The words as they stand in 'text'."))
    start = fields.Integer(**says("Place of their first character in 'text', counted from 0."))
    end = fields.Integer(**says("Place after their last one."))


class ReadValueFacts(ReadWords):
    pointer = fields.String(**says("Where the value stands in the draft (RFC 6901)."))
    value = fields.Raw(**says("The value, in the sheet's format."))


class OpenQuestionFacts(Answer):
    about = fields.String(**says("Key of the sheet, such as bleed."))
    question = fields.String(**says("What a person has to settle."))
    quote = fields.String(**or_null("The words that raise it; null where the text is silent."))
    start = fields.Integer(**or_null("Place of their first character in 'text'."))
    end = fields.Integer(**or_null("Place after their last one."))
    value = fields.Raw(**or_null("What 'about' would say where a person answers yes; null where there is more to say than that."))


class DraftFacts(Answer):
    product = fields.String(**or_null("What it is for, as the text names it; null for what the text says of everything."))
    draft = fields.Dict(**says("A sheet without identity, to be looked over by a person; empty where nothing was read."))
    draft_yaml = fields.String(**says("The same as YAML."))
    values = fields.List(fields.Nested(ReadValueFacts), **says("Each value of the draft and the words that it was read from."))
    own = fields.List(fields.String(), **says("Pointers of the values that are said of this product alone."))


class ReadingAnswer(Answer):
    draft = fields.Dict(**says("That of the first of 'drafts': what the text says of everything."))
    draft_yaml = fields.String(**says("The same as YAML."))
    values = fields.List(fields.Nested(ReadValueFacts), **says("Each value of the draft and the words that it was read from."))
    drafts = fields.List(
        fields.Nested(DraftFacts),
        **says("First what holds for everything, then one for each product that the text says something else of."),
    )
    not_understood = fields.List(fields.Nested(ReadWords), **says("What seems to ask something and was not understood."))
    questions = fields.List(fields.Nested(OpenQuestionFacts), **says("What is left open."))
    asks_nothing = fields.List(fields.Nested(ReadWords), **says("Sentences that ask nothing of a file, to be looked over."))
    text = fields.String(**says("What places refer to: the text as sent; of HTML and PDF what a reader sees of it."))


_DOC = {
    "parameters": [LANG],
    "requestBody": {
        "required": True,
        "description": "What a printer publishes about its files, in English, German or French: up to 200 kB, or 1 MB of HTML.",
        "content": {
            "text/plain": {"schema": {"type": "string"}},
            "text/html": {"schema": {"type": "string"}},
            BARE_PDF: {"schema": {"type": "string", "contentMediaType": BARE_PDF}},
            _JSON: {
                "schema": {
                    "type": "object",
                    "required": ["text"],
                    "additionalProperties": False,
                    "properties": {
                        "text": {"type": "string"},
                        "media_type": {"enum": list(MEDIA_TYPES), "default": MEDIA_TYPES[0]},
                    },
                }
            },
        },
    },
}


class _JsonBody(ma.Schema):
    text = fields.String(required=True)
    media_type = fields.String(load_default=MEDIA_TYPES[0])


@blueprint.route("/readings")
class ReadingsView(MethodView):
    @blueprint.needs("check")
    @blueprint.doc(**_DOC)
    @blueprint.response(200, ReadingAnswer, description="A draft. It is not kept: confirm it, and send it with POST /v1/specs.")
    @blueprint.alt_response(413, "TOO_LARGE")
    @blueprint.alt_response(415, "UNSUPPORTED_MEDIA_TYPE")
    @blueprint.alt_response(422, "UNPROCESSABLE_ENTITY")
    @blueprint.alt_response(429, "TOO_MANY_REQUESTS")
    def post(self) -> Response:
        """Read a published spec as a draft of a sheet."""
        text, media_type = _sent()
        return in_spoken_language(jsonify(read_text(text, media_type)))


def read_text(text: str, media_type: str = MEDIA_TYPES[0]) -> dict[str, Any]:
    """In the sandbox: 200 kB take seconds, and nobody knows all texts. Raises `Problem`."""
    task = DrawingTask(pdf=None, brief=ReadingBrief(text, media_type, spoken()), draw=READ)
    try:
        answered = parts().workbench.drawn(task, MOST_SECONDS)
    except QueueFull as full:
        raise busy(full) from full
    if isinstance(answered, OutOfTime):
        raise not_in_time(answered)
    told = None if isinstance(answered, Unmeasured) else json.loads(answered)
    match told:
        case {"read": dict(reading)} if not ReadingAnswer().validate(reading):
            return reading
        case {"refused": str(detail)}:
            raise Problem("invalid-request", detail[:1000], errors=[("/text", detail[:1000])])
        case _:
            detail = say(_NOT_READ)
            raise Problem("invalid-request", detail, errors=[("/text", detail)])


def _sent() -> tuple[str, str]:
    """The text, and whether it is HTML. Raises `Problem`."""
    kind = request.mimetype
    if kind == BARE_PDF:
        return _text_of_pdf(), MEDIA_TYPES[0]
    if kind == _JSON:
        return _of_json(request.stream.read(_MOST_BYTES_OF_JSON + 1))
    if kind in MEDIA_TYPES:
        most = longest_bytes(kind)
        return _decoded(request.stream.read(most + 1), request.mimetype_params.get("charset", "utf-8"), most), kind
    raise Problem("unsupported-media-type", _not_taken(kind[:60], listed_or((*MEDIA_TYPES, BARE_PDF, _JSON))))


def _not_taken(kind: str, taken: str) -> str:
    if kind:
        return say("You sent a body of the type {kind}; a text comes as {taken}.", kind=kind, taken=taken)
    return say("You sent no body that says what it is; a text comes as {taken}.", taken=taken)


def _decoded(body: bytes, charset: str, most: int) -> str:
    if len(body) > most:
        raise Problem("too-large", say(_TOO_LONG))
    if charset.lower() not in ("utf-8", "utf8", "us-ascii", "iso-8859-1", "windows-1252"):
        detail = say("The character set {charset} is not read here: send the text as UTF-8.", charset=repr(charset[:40]))
        raise Problem("unsupported-media-type", detail)
    try:
        return body.decode(charset)
    except UnicodeDecodeError as error:
        detail = say("The text is not in the character set that it claims: save it as UTF-8 and send it again.")
        raise Problem("invalid-request", detail, errors=[("/text", detail)]) from error


def _of_json(body: bytes) -> tuple[str, str]:
    if len(body) > _MOST_BYTES_OF_JSON:
        raise Problem("too-large", say(_TOO_LONG))
    try:
        fields_sent: dict[str, Any] = _JsonBody().load(json.loads(body))
    except ma.ValidationError as refused:
        messages = refused.messages if isinstance(refused.messages, dict) else {"": refused.messages}
        errors = [("" if name == "_schema" else f"/{name}"[:100], " ".join(map(str, said))) for name, said in messages.items()]
        detail = say("Send an object with 'text', and 'media_type' if it is HTML.")
        raise Problem("invalid-request", detail, errors=errors) from refused
    except (ValueError, RecursionError) as error:
        detail = say("The body is no JSON: write {example}.", example='{"text": "…"}')
        raise Problem("bad-request", detail) from error
    return str(fields_sent["text"]), str(fields_sent["media_type"])


def _text_of_pdf() -> str:
    with pdf_for_a_moment(request.stream) as (path, _):
        try:
            measurements = parts().workbench.everything(path)
        except QueueFull as full:
            raise busy(full) from full
    text = text_of(measurements)
    if not text:
        failure = measurements.document.failure
        detail = (
            reason(failure)
            if failure
            else say("The PDF holds no text that can be read, only pictures of it perhaps. Send the text itself.")
        )
        raise Problem("invalid-request", detail, errors=[("/file", detail)])
    return text
