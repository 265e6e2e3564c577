"""What answers of several resources hold, for the OpenAPI description; the tests hold every answer against it.

`additionalProperties` is open: a later version may add keys, and a client ignores those that it does not know.
"""

from __future__ import annotations

from typing import Any

import marshmallow as ma
from marshmallow import fields
from marshmallow.validate import OneOf

from service.answers.problems import PROBLEMS


class Answer(ma.Schema):
    class Meta:
        unknown = ma.INCLUDE
        """Described as 'more keys may come'."""


def says(sentence: str, **more: Any) -> dict[str, Any]:
    return {"metadata": {"description": sentence, **more}, "required": True}


def or_null(sentence: str, **more: Any) -> dict[str, Any]:
    return {**says(sentence, **more), "allow_none": True}


def box(sentence: str) -> fields.List[float]:
    corners = "[x0, y0, x1, y1] in mm from the top-left corner of the trimmed page, y downwards."
    return fields.List(fields.Float(), **says(f"{sentence} {corners}", minItems=4, maxItems=4))


class ErrorPlace(Answer):
    pointer = fields.String(**says("JSON pointer (RFC 6901) that starts with the form field, such as /spec_sheet/bleed/minimum."))
    detail = fields.String(**says("What is wrong there and what to write."))


class ProblemAnswer(Answer):
    """RFC 9457."""

    type = fields.String(**says("Address of the page that explains it.", enum=[f"/problems/{code}" for code in PROBLEMS]))
    title = fields.String(**says("What kind of problem it is."))
    status = fields.Integer(**says("The HTTP status."))
    detail = fields.String(**says("What happened this time and what to do."))
    errors = fields.List(fields.Nested(ErrorPlace), metadata={"description": "Where the input is at fault."})


class FileFacts(Answer):
    name = fields.String(**or_null("As the sender called it; text, never a path."))
    size_bytes = fields.Integer(**says("Size of the file."))
    sha256 = fields.String(**says("Digest of the file, hexadecimal."))


class FailureFacts(Answer):
    kind = fields.String(validate=OneOf(["locked", "broken", "hostile", "limits"]), **says("What stopped the measuring."))
    why = fields.String(**says("The same in a sentence."))
