"""Every road to an error ends here and becomes a problem: our own, Flask's, the argument parser's and the unforeseen."""

from __future__ import annotations

import logging
import re
from collections.abc import Iterator, Mapping
from itertools import islice

from flask import Flask, Response, request
from werkzeug.exceptions import ClientDisconnected, HTTPException, MethodNotAllowed, RequestEntityTooLarge
from werkzeug.routing import RequestRedirect
from werkzeug.wrappers import Response as AnyResponse

from service.api.http.problem_pages import answered
from service.api.http.problems import Problem
from service.api.http.uploads import FILES_AWAY, NO_ROOM
from service.api.http.words import nearest
from service.door.bodies import NoRoomForBody, SentTooSlowly
from service.language.spoken import say, to_say
from service.store.database import DatabaseAway
from service.store.files.blobs import FilesAway

log = logging.getLogger(__name__)

_BY_STATUS = {
    400: "bad-request", 404: "not-found", 405: "method-not-allowed", 406: "not-acceptable", 413: "too-large",
    415: "unsupported-media-type", 422: "invalid-request",
}

_MOST_MISTAKES = 50
"""Of a request, that its answer names."""


_CUT_OFF = to_say("The body of the request is cut off, or not in the form that its headers announce.")
_TOO_SLOW = to_say("The request arrived too slowly and was given up. Send it again over a better connection.")
_NOT_TAKEN = {SentTooSlowly: ("too-slow", _TOO_SLOW), NoRoomForBody: ("no-room", NO_ROOM)}


def register(app: Flask) -> None:
    app.register_error_handler(Problem, _of_problem)
    app.register_error_handler(HTTPException, _of_http)
    app.register_error_handler(DatabaseAway, _of_database)
    app.register_error_handler(FilesAway, _of_files)


def _of_problem(problem: Problem) -> Response:
    return answered(problem)


def _of_database(error: DatabaseAway) -> Response:
    log.error("the database cannot be used: %.300s", error.orig)
    detail = say("The service's database cannot be used just now. Try again in a moment.")
    return answered(Problem("not-ready", detail, headers={"Retry-After": "5"}))


def _of_files(error: FilesAway) -> Response:
    log.error("the files cannot be used: %.300s", error)
    return answered(Problem("not-ready", say(FILES_AWAY), headers={"Retry-After": "5"}))


def _of_http(error: HTTPException) -> Response | AnyResponse:
    if isinstance(error, RequestRedirect) or error.response is not None:
        return error.get_response()
    code = _BY_STATUS.get(error.code or 500, "bad-request" if 400 <= (error.code or 500) < 500 else "internal-error")
    errors: list[tuple[str, str]] = []
    headers: dict[str, str] = {}
    detail = error.description or ""
    if code == "not-found":
        detail = say("There is nothing at {path}.", path=request.path[:200])
    elif isinstance(error, MethodNotAllowed):
        allowed = ", ".join(sorted(error.valid_methods or ()))
        headers = {"Allow": allowed}
        path, method = request.path[:200], request.method[:20]
        detail = say("{path} takes {allowed}, not {method}.", path=path, allowed=allowed, method=method)
    elif isinstance(error, RequestEntityTooLarge):
        detail = say("The request is larger than this service takes.")
    elif isinstance(error, ClientDisconnected):
        code, told = next((said for why, said in _NOT_TAKEN.items() if isinstance(error.__context__, why)), (code, _CUT_OFF))
        detail = say(told)
    elif code == "invalid-request":
        errors = list(islice(_flat(error), _MOST_MISTAKES))
        several = say("{count} things are missing or wrong; 'errors' names them.", count=len(errors))
        detail = errors[0][1] if len(errors) == 1 else several
    elif code == "internal-error":
        detail = say("The service failed while it answered. It is not your file's fault.")
    return answered(Problem(code, detail, errors=errors, headers=headers))


def _flat(error: HTTPException) -> Iterator[tuple[str, str]]:
    """The argument parser's nested messages as JSON pointers; an unknown name gets the nearest known one."""
    data = getattr(error, "data", {})
    known = sorted(field.data_key or name for name, field in getattr(data.get("schema"), "fields", {}).items())
    for fields in data.get("messages", {}).values():  # the outermost name is the location: query, multipart
        for path, sentence in _leaves(fields, ()):
            if sentence == "Unknown field.":
                name = str(path[0])
                near = nearest(name, known)
                sentence = (
                    say("'{name}' is not known here; do you mean '{near}'?", name=name[:60], near=near)
                    if near
                    else say("'{name}' is not known here; there are {known}.", name=name[:60], known=", ".join(known))
                )
            yield "".join(f"/{_escaped(str(step))}" for step in path), _in_their_language(sentence)


_PARSERS_SENTENCES = tuple(
    (re.compile(re.sub(r"\\{(\w+)\\}", r"(?P<\1>.+)", re.escape(text))), text)
    for text in (
        to_say("Missing data for required field."),
        to_say("Field may not be null."),
        to_say("Not a valid integer."),
        to_say("Not a valid number."),
        to_say("Not a valid boolean."),
        to_say("Not a valid string."),
        to_say("Must be one of: {choices}."),
        to_say("Must be greater than or equal to {least} and less than or equal to {most}."),
        to_say("Must be greater than or equal to {least}."),
        to_say("Longer than maximum length {most}."),
        to_say("Shorter than minimum length {least}."),
        to_say("Length must be between {least} and {most}."),
        to_say("String does not match expected pattern."),
    )
)


def _in_their_language(sentence: str) -> str:
    """What the argument parser says by itself; other sentences were said where they were written."""
    for form, text in _PARSERS_SENTENCES:
        if found := form.fullmatch(sentence):
            words = {name: one if name == "choices" else one.removesuffix(".0") for name, one in found.groupdict().items()}
            return say(text, **words)
    return sentence


def _leaves(messages: object, path: tuple[object, ...]) -> Iterator[tuple[tuple[object, ...], str]]:
    if isinstance(messages, Mapping):
        for key, inner in messages.items():
            yield from _leaves(inner, path if key == "_schema" else (*path, key))
    elif isinstance(messages, list):
        for inner in messages:
            yield from _leaves(inner, path)
    else:
        yield path, str(messages)


def _escaped(step: str) -> str:
    return step.replace("~", "~0").replace("/", "~1")[:200]
