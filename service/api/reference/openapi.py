"""The description of the service (OpenAPI 3.1.0), generated from the views and their schemas."""

from __future__ import annotations

import http
import json
import re
from functools import cache, cached_property
from importlib.metadata import PackageNotFoundError, version
from typing import Any

from flask import Flask, Response, current_app, request
from flask_smorest import Api as SmorestApi

from service.answers.problems import PROBLEMS
from service.api.description.document import completed
from service.api.description.exchanges import ADDRESS
from service.api.http import errors
from service.api.http.blueprint import KEY_SCHEME
from service.api.http.problem_pages import OR_PAGE
from service.api.http.shapes import ProblemAnswer

_ABOUT = (
    "Takes a PDF and a printer's spec sheet, measures the PDF and says what does not conform, where in millimetres, "
    "and what to do about it. A conforming result is no promise: the printer's own proof and terms decide."
)

_KEYS = (
    "An API key (psk_…), where the service asks for one; the list beside it names what the key has to allow: check, read, "
    "edit-sheets or administer. Where an operation also goes without a key, it then shows what is everybody's: stored sheets, "
    "and checks that were sent with 'readable_by: link' or an upload token. Whoever runs the service makes keys."
)


@cache
def service_version() -> str:
    """Read once: each check's tag is made with it."""
    try:
        return version("print-spec-service")
    except PackageNotFoundError:  # a checkout that is not installed
        return "0"


class Api(SmorestApi):  # type: ignore[misc]  # the package has no types
    """As of the library, but every error is described as the problem that it is."""

    ERROR_SCHEMA = ProblemAnswer

    @cached_property
    def description(self) -> dict[str, Any]:
        return completed(self.spec.to_dict())

    @cached_property
    def _text(self) -> str:
        return json.dumps(self.description, ensure_ascii=False, indent=1)

    def _openapi_json(self) -> Response:
        """With the address that was called, so that the code in it runs as it stands there."""
        answer = Response(self._text.replace(ADDRESS, called_address()), mimetype="application/json")
        answer.headers["Cache-Control"] = "no-cache"
        answer.add_etag()
        answer.make_conditional(request)
        return answer

    def _init_spec(self, **options: Any) -> None:
        super()._init_spec(**options)
        self.ma_plugin.converter.add_attribute_function(_media_type)

    def _register_error_handlers(self) -> None:
        errors.register(self._app)

    def _register_responses(self) -> None:
        by_status: dict[int, list[str]] = {}
        for code, kind in PROBLEMS.items():
            by_status.setdefault(kind.status, []).append(code)
        names = {status.name: (status.phrase, by_status.get(status, [])) for status in http.HTTPStatus}
        # Python 3.13 renamed two statuses; the description has the same names under every version.
        names["TOO_LARGE"] = ("Content Too Large", by_status[413])
        names["UNPROCESSABLE_ENTITY"] = names["UNPROCESSABLE_CONTENT"] = ("Unprocessable Content", by_status[422])
        for name, (phrase, codes) in names.items():
            self.spec.components.response(name, _problem_response(phrase, codes), lazy=True)
            self.spec.components.response(f"{name}{OR_PAGE}", _problem_or_page(phrase, codes), lazy=True)
        self.spec.components.response("DEFAULT_ERROR", _problem_response("Any other problem", []), lazy=True)


def _media_type(_: object, field: Any, **__: object) -> dict[str, str]:
    """The kind of a file part, which OpenAPI 3.1 writes as JSON Schema does; the library knows only the older form,
    and so do generators of clients, for which it stays beside the new one.
    """
    kind = field.metadata.get("contentMediaType")
    return {"contentMediaType": kind, "format": "binary"} if kind else {}


def _problem_response(phrase: str, codes: list[str]) -> dict[str, Any]:
    description = f"{phrase}: {', '.join(codes)}" if codes else phrase
    return {"description": description, "content": {"application/problem+json": {"schema": ProblemAnswer}}}


def _problem_or_page(phrase: str, codes: list[str]) -> dict[str, Any]:
    problem = _problem_response(phrase, codes)
    page = {"text/html": {"schema": {"type": "string"}}}
    return {"description": f"{problem['description']}; as a page for a person", "content": {**problem["content"], **page}}


def called_address() -> str:
    """Scheme, host and path that lead here, without a slash at the end; what is no host is not repeated."""
    root = request.url_root.rstrip("/")
    return root if re.fullmatch(r"https?://[\w.\-\[\]:]+(/[\w.~/-]*)?", root, re.ASCII) else ADDRESS


def description_here() -> dict[str, Any]:
    """Of the running service; its addresses are those of the recording."""
    api = current_app.extensions["flask-smorest"]["apis"][""]["ext_obj"]
    assert isinstance(api, Api)
    return api.description


def make_api(app: Flask) -> Api:
    app.config.update(
        API_TITLE="print-spec-service",
        API_VERSION=service_version(),
        OPENAPI_VERSION="3.1.0",
        OPENAPI_URL_PREFIX="/",
        OPENAPI_JSON_PATH="openapi.json",
        API_SPEC_OPTIONS={
            "info": {"description": _ABOUT, "license": {"name": "MIT", "identifier": "MIT"}},
            "servers": [{"url": ADDRESS, "description": "This service, as it was called"}],
        },
    )
    api = Api(app)
    api.spec.components.security_scheme(KEY_SCHEME, {"type": "http", "scheme": "bearer", "description": _KEYS})
    return api
