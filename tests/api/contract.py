"""A caller that holds every answer it gets against the OpenAPI description of the service."""

from __future__ import annotations

import io
import re
from functools import cache
from typing import Any

from flask import Flask
from flask.testing import FlaskClient
from jsonschema import Draft202012Validator
from werkzeug.test import TestResponse

CARD_SHEET = "trim: {width: 85 mm, height: 55 mm}\nbleed: {minimum: 3 mm}\n"


class Caller:
    def __init__(self, app: Flask) -> None:
        self.client: FlaskClient = app.test_client()
        self.description, self._closed = _described(app)

    def get(self, path: str, **options: Any) -> TestResponse:
        return self.call("GET", path, **options)

    def post(self, path: str, **options: Any) -> TestResponse:
        return self.call("POST", path, **options)

    def delete(self, path: str, **options: Any) -> TestResponse:
        return self.call("DELETE", path, **options)

    def call(self, method: str, path: str, **options: Any) -> TestResponse:
        answer = self.client.open(path, method=method, buffered=True, **options)
        self._hold(method.lower(), path.split("?")[0], answer)
        return answer

    def check(self, pdf: bytes | None = None, headers: dict[str, str] | None = None, **fields: Any) -> TestResponse:
        """POST /v1/checks as a form, with the card's sheet unless the fields name another."""
        form: dict[str, Any] = dict(fields)
        if pdf is not None:
            form["file"] = (io.BytesIO(pdf), "card.pdf")
        if not {"spec", "spec_sheet"} & set(form):
            form["spec_sheet"] = CARD_SHEET
        return self.post("/v1/checks", data=form, headers=headers, content_type="multipart/form-data")

    def _hold(self, method: str, path: str, answer: TestResponse) -> None:
        if answer.status_code >= 400:
            self._valid(answer.get_json(), {"$ref": "#/components/schemas/ProblemAnswer"})
            assert answer.mimetype == "application/problem+json"
        operation = self._operation(method, path)
        if operation is None:
            return
        described = operation["responses"].get(str(answer.status_code)) or operation["responses"]["default"]
        if "$ref" in described:
            described = self.description["components"]["responses"][described["$ref"].rsplit("/", 1)[-1]]
        contents = described.get("content", {})
        if not answer.get_data():
            assert answer.status_code in (204, 303, 304)
            return
        assert answer.mimetype in contents, (
            f"{method} {path} answers {answer.status_code} {answer.mimetype}, which is not described"
        )
        if answer.mimetype.endswith("json"):
            self._valid(answer.get_json(), contents[answer.mimetype]["schema"])

    def _operation(self, method: str, path: str) -> dict[str, Any] | None:
        exact_first = sorted(self.description["paths"].items(), key=lambda one: one[0].count("{"))
        for template, item in exact_first:
            if re.fullmatch(re.sub(r"\{[^}]+\}", "[^/]+", template), path):
                found: dict[str, Any] | None = item.get(method)
                return found
        return None

    def _valid(self, document: Any, schema: dict[str, Any]) -> None:
        Draft202012Validator({"components": self._closed, **schema}).validate(document)


@cache
def _described(app: Flask) -> tuple[dict[str, Any], dict[str, Any]]:
    """What it says of itself; and its components, closed."""
    description: dict[str, Any] = app.test_client().get("/openapi.json").get_json()
    return description, closed(description["components"])


def closed(schema: Any) -> Any:
    """The description promises that keys may be added; here every key that is sent must be described."""
    if isinstance(schema, list):
        return [closed(one) for one in schema]
    if not isinstance(schema, dict):
        return schema
    found = {key: closed(value) for key, value in schema.items()}
    if isinstance(schema.get("properties"), dict) and schema.get("type") == "object":
        found["additionalProperties"] = False
    return found
