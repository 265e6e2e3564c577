"""The blueprint of this service: argument locations that say the same at run time and in the OpenAPI description."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Literal, NoReturn, TypeVar

import marshmallow as ma
from flask import Flask, Request, current_app
from webargs.flaskparser import FlaskParser
from werkzeug.exceptions import UnsupportedMediaType
from werkzeug.formparser import FormDataParser

from service.accounts.callers import Scope
from service.api.http.languages import LANG
from service.api.http.problems import Problem
from service.language.spoken import say, to_say
from service.language.wording import listed_or
from service.setting_values import KEYS
from service.wiring import Parts

F = TypeVar("F")

if TYPE_CHECKING:
    from flask import Blueprint as FlaskBlueprint

    class SmorestBlueprint(FlaskBlueprint):
        """The library has no types; these are those of what is used here."""

        DEFAULT_LOCATION_CONTENT_TYPE_MAPPING: dict[str, str]
        _prepare_doc_cbks: list[Callable[..., dict[str, Any]]]

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


Unless = Literal["stored", "link", "token"]
"""Without a key, or with one that does not allow it: sheets that came with the service; a check whose sender lets those read it
who have its address; an upload with a token."""


@dataclass(frozen=True)
class Needs:
    """What a view asks of its caller's key, where the service asks for keys."""

    scope: Scope | None
    """None: it is everybody's, and a key is not even looked at."""
    unless: Unless | None = None


KEY_SCHEME = "key"
"""Its name in the description."""


class Blueprint(SmorestBlueprint):
    ARGUMENTS_PARSER = _Parser()
    DEFAULT_LOCATION_CONTENT_TYPE_MAPPING = {  # noqa: RUF012
        **SmorestBlueprint.DEFAULT_LOCATION_CONTENT_TYPE_MAPPING,
        "multipart": "multipart/form-data",
    }

    def __init__(self, name: str, import_name: str, *, description: str, **options: Any) -> None:
        super().__init__(name, import_name, description=description, **options)
        self._prepare_doc_cbks.append(_describe_needs)

    @staticmethod
    def needs(scope: Scope | None, unless: Unless | None = None) -> Callable[[F], F]:
        """Every view says it; one that does not is closed. It stands above what else describes the view."""

        def declared(view: Any) -> Any:
            view._apidoc = {**getattr(view, "_apidoc", {}), "needs": Needs(scope, unless)}
            return view

        return declared


def _describe_needs(doc: dict[str, Any], told: dict[str, Any], *, app: Flask, **_: Any) -> dict[str, Any]:
    """In the description of a service that asks for keys; an open one asks for none, and says so."""
    needs = told.get("needs")
    if app.extensions["print-spec"].settings.access != KEYS or needs is None or needs.scope is None:
        return doc
    doc["security"] = [{KEY_SCHEME: [needs.scope]}, *([{}] if needs.unless else [])]
    for status, name in (("401", "UNAUTHORIZED"), ("403", "FORBIDDEN"), ("429", "TOO_MANY_REQUESTS")):
        doc.setdefault("responses", {}).setdefault(status, name)
    return doc


def parts() -> Parts:
    """The running service that the current request belongs to."""
    found = current_app.extensions["print-spec"]
    assert isinstance(found, Parts)
    return found
