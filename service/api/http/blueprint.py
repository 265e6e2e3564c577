"""The blueprint of this service: argument locations that say the same at run time and in the OpenAPI description."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any, NoReturn, TypeVar

import marshmallow as ma
from flask import Request, current_app
from webargs.flaskparser import FlaskParser
from werkzeug.exceptions import UnsupportedMediaType
from werkzeug.formparser import FormDataParser

from service.api.http.languages import LANG
from service.api.http.problems import Problem
from service.language.spoken import say, to_say
from service.language.wording import listed_or
from service.wiring import Parts

F = TypeVar("F")

if TYPE_CHECKING:
    from flask import Blueprint as FlaskBlueprint

    class SmorestBlueprint(FlaskBlueprint):
        """The library has no types; these are those of what is used here."""

        DEFAULT_LOCATION_CONTENT_TYPE_MAPPING: dict[str, str]

        def __init__(self, name: str, import_name: str, *, description: str, **options: Any) -> None: ...
        def route(self, rule: str, **options: Any) -> Callable[[F], F]: ...
        def arguments(self, schema: type[ma.Schema], *, location: str) -> Callable[[F], F]: ...
        def response(self, status_code: int, schema: Any = None, **options: Any) -> Callable[[F], F]: ...
        def alt_response(self, status_code: int, response: str | None = None, **options: Any) -> Callable[[F], F]: ...
        def doc(self, **options: Any) -> Callable[[F], F]: ...
else:
    from flask_smorest import Blueprint as SmorestBlueprint

FORMS = ("multipart/form-data", "application/x-www-form-urlencoded")
BARE_PDF = "application/pdf"
JSON = "application/json"
IF_NONE_MATCH = {
    "in": "header", "name": "If-None-Match", "schema": {"type": "string"}, "description": "An ETag from before.",
}
_LARGEST_FORM_WITHOUT_FILES = 2**20


class _WholeForm(FormDataParser):
    """Raises ValueError for a form that is cut off or malformed, where the library would give an empty one."""

    def __init__(self, *arguments: Any, **options: Any) -> None:
        super().__init__(*arguments, **{**options, "silent": False})


class WholeForms(Request):
    form_data_parser_class = _WholeForm


_MALFORMED = to_say(
    "The form cannot be read: it is cut off, the header Content-Type does not name the boundary between its parts, "
    "or the heading of a part, such as the file's name, is not in UTF-8. Let an HTTP library make the form."
)


class _Parser(FlaskParser):
    """Adds the location `multipart`: files and fields in one body.

    A bare PDF counts as a form whose only field is `file`, the others being in the address.
    """

    __location_map__ = {**FlaskParser.__location_map__, "multipart": "load_multipart"}  # noqa: RUF012
    DEFAULT_UNKNOWN_BY_LOCATION = {  # noqa: RUF012
        **FlaskParser.DEFAULT_UNKNOWN_BY_LOCATION,
        "multipart": ma.RAISE,
        "query": ma.RAISE,
    }

    def _raw_load_json(self, req: Request) -> Any:
        if req.mimetype != JSON:
            raise UnsupportedMediaType(say("This address takes a body of the type {kind}.", kind=JSON))
        req.max_content_length = _LARGEST_FORM_WITHOUT_FILES
        try:
            return super()._raw_load_json(req)
        except RecursionError as error:
            raise Problem("bad-request", say("The JSON is nested too deeply.")) from error

    def _handle_invalid_json_error(self, error: Exception, *_: Any, **__: Any) -> NoReturn:
        raise Problem("bad-request", say("The body is no JSON. Let a JSON library make it.")) from error

    def load_querystring(self, req: Request, schema: ma.Schema) -> Any:  # noqa: ARG002
        return _once({}, _fields_of_address(req))

    def load_multipart(self, req: Request, schema: ma.Schema) -> Any:  # noqa: ARG002
        if req.mimetype == BARE_PDF:
            return _once({"file": req.stream}, _fields_of_address(req))
        if req.mimetype not in FORMS:
            raise UnsupportedMediaType(_not_taken(req.mimetype[:60], listed_or((FORMS[0], BARE_PDF))))
        misplaced = [name for name, _ in _fields_of_address(req)]
        if misplaced:
            raise ma.ValidationError({name[:60]: [say("Write this into the form, not into the address.")] for name in misplaced})
        if req.mimetype != FORMS[0]:  # it is taken in as a whole: the library bounds only the parts of the other kind
            req.max_content_length = _LARGEST_FORM_WITHOUT_FILES
        try:
            fields = _once({}, req.form.lists())
        except ValueError as error:  # not a ValidationError, which is none
            raise Problem("bad-request", say(_MALFORMED)) from error
        return _once(fields, ((name, files) for name, files in req.files.lists()))


def _not_taken(kind: str, taken: str) -> str:
    if kind:
        return say("You sent a body of the type {kind}; a check takes {taken}.", kind=kind, taken=taken)
    return say("You sent no body that says what it is; a check takes {taken}.", taken=taken)


def _fields_of_address(req: Request) -> list[tuple[str, list[str]]]:
    """Without the language, which every address takes and no form needs to know."""
    return [(name, values) for name, values in req.args.lists() if name != LANG["name"]]


def _once(fields: dict[str, Any], more: Any) -> dict[str, Any]:
    """Add the fields of `more`; a field that comes twice is refused, since only one could count."""
    twice = []
    for name, values in more:
        if name in fields or len(values) > 1:
            twice.append(name)
        fields[name] = values[0]
    if twice:
        raise ma.ValidationError({name: [say("This field was sent more than once; send it once.")] for name in twice})
    return fields


class Blueprint(SmorestBlueprint):
    ARGUMENTS_PARSER = _Parser()
    DEFAULT_LOCATION_CONTENT_TYPE_MAPPING = {  # noqa: RUF012
        **SmorestBlueprint.DEFAULT_LOCATION_CONTENT_TYPE_MAPPING,
        "multipart": "multipart/form-data",
    }


def parts() -> Parts:
    """The running service that the current request belongs to."""
    found = current_app.extensions["print-spec"]
    assert isinstance(found, Parts)
    return found
