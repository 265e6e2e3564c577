"""The form of `POST /v1/checks`, and what it means: a file or an earlier check, a sheet, and what only this order knows."""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

import marshmallow as ma
from flask import request
from marshmallow import fields
from marshmallow.validate import Length, OneOf
from werkzeug.datastructures import FileStorage

from service.api.http import problem_pages
from service.api.http.blueprint import BARE_PDF, parts
from service.api.http.callers.access import owner
from service.api.http.problems import Problem
from service.api.specs.kept_sheets import sheet_at_revision
from service.api.tokens import cross_origin
from service.api.tokens.grants import LONGEST_TOKEN
from service.jobs.calling.addresses import LONGEST_URL, Allowed, Refused, target_of
from service.language.spoken import say, to_say
from service.rules.catalogue import RULES
from service.sheets.format.parsing import parse_sheet_text
from service.sheets.format.refusals import SheetRefused
from service.sheets.model import SpecSheet
from service.sheets.order import OrderRefused, for_order
from service.sheets.revisions import read_complete
from service.store.files.blobs import Readable

LONGEST_SHEET = 256 * 1024
"""A full sheet has a few kilobytes."""

_CALLBACKS = to_say(
    "This service sends no callbacks. Leave the field out, send 'Prefer: respond-async' and ask for the check at its address."
)
_NO_CALLBACK_FROM_PAGES = to_say("A page that uploads with a token names no address to call. Leave the field out.")

_ORDER_IN_SHORT = '{"inner_pages": 96, "caliper_mm": 0.11}'
_MORE_IN_THE_SHEET = to_say("And {count} more in the spec sheet.")
_MORE_IN_THE_ORDER = to_say("And {count} more in the order.")

_IN_THE_TOKEN = to_say("The token says this already. Leave the field out.")
_ONLY_IN_A_FORM = to_say("This belongs in a form with the PDF, not in the address, which others write to their logs.")


class FileField(fields.Field[Any]):
    """A file part, or the body itself."""

    def make_error(self, key: str, **values: Any) -> ma.ValidationError:
        if key == "required":
            return ma.ValidationError(say("Missing data for required field."))
        return super().make_error(key, **values)

    def _deserialize(self, value: Any, attr: Any, data: Any, **kwargs: Any) -> Any:  # noqa: ARG002
        if isinstance(value, str):
            raise ma.ValidationError(say("Send the PDF as a file part, with a file name; this is a plain text field."))
        return value


class _Text(fields.String):
    """A text field; a file part where its content is text as well (curl's '@')."""

    def __init__(self, *, longest: int, **kwargs: Any) -> None:
        super().__init__(**kwargs)
        self.longest = longest

    def _deserialize(self, value: Any, attr: Any, data: Any, **kwargs: Any) -> Any:
        if isinstance(value, FileStorage):
            value = value.stream.read(self.longest + 1)
        elif isinstance(value, str):
            value = value.encode("utf-8", "surrogateescape")
        if len(value) > self.longest:
            raise ma.ValidationError(say("This is longer than {kib} KiB.", kib=self.longest // 1024))
        try:
            return super()._deserialize(value.decode("utf-8"), attr, data, **kwargs)
        except UnicodeDecodeError as error:
            raise ma.ValidationError(say("This is no text in UTF-8.")) from error


class CheckForm(ma.Schema):
    file = FileField(metadata={"description": "The PDF.", "type": "string", "contentMediaType": "application/pdf"})
    check = fields.String(
        validate=Length(1, 100),
        metadata={
            "description": "Instead of `file`: the id of an earlier check, whose measurements are judged against another sheet."
        },
    )
    upload = fields.String(
        validate=Length(1, 100),
        metadata={"description": "Instead of `file`: the id of a file that came piece by piece (POST /v1/uploads)."},
    )
    spec = fields.String(
        validate=Length(1, 200), metadata={"description": "Id of a stored sheet or of one's own; id@3 is its revision 3."}
    )
    spec_sheet = _Text(
        longest=LONGEST_SHEET,
        metadata={"description": "Instead of `spec`: a whole sheet in YAML or JSON, as text or as a file part."},
    )
    order = _Text(
        longest=4096,
        metadata={"description": 'JSON: what only this order knows, such as {"inner_pages": 96, "caliper_mm": 0.11}.'},
    )
    token = fields.String(
        validate=Length(1, LONGEST_TOKEN),
        metadata={
            "description": "Instead of `spec`, `spec_sheet` and `order`: a token of POST /v1/upload-tokens. Pages of its origin "
            "may read the answer, and ask for the check."
        },
    )
    answer = fields.String(
        validate=OneOf(["report"]),
        metadata={
            "description": "`report`: for forms without a script. Leads the browser to the check's report at once; what is wrong "
            "with the request comes as a page to read."
        },
    )
    readable_by = fields.String(
        load_default="owner",
        validate=OneOf(["owner", "link"]),
        metadata={
            "description": "Where the service asks for keys, who may read the check: its `owner`, with a key; or by its `link` "
            "whoever has its address, as what was uploaded with a token."
        },
    )
    callback_url = fields.String(
        validate=Length(1, LONGEST_URL),
        metadata={
            "description": "An https address that is sent, by POST, which check is done with and how: JSON with `type` "
            "(`check.finished` or `check.failed`), `timestamp` and `data` (`id`, `state`, `verdict`, `file`, `spec`, `links`), "
            "signed after the Standard Webhooks specification. Tried for a day; the same `webhook-id` may come twice."
        },
    )

    class Meta:
        unknown = ma.RAISE

    @ma.pre_load
    def _note_the_sender(self, data: dict[str, Any], **_: Any) -> dict[str, Any]:
        """Who may read what is refused, and in which form."""
        if request.mimetype != BARE_PDF:  # whose fields stand in the address
            problem_pages.note_wish(data.get("answer"))
            cross_origin.note_token(data.get("token"))
        return data

    @ma.validates_schema
    def _one_of_each(self, data: dict[str, Any], **_: Any) -> None:
        errors: dict[str, list[str]] = {}
        if request.mimetype == BARE_PDF:
            errors |= {name: [say(_ONLY_IN_A_FORM)] for name in ("token", "answer", "callback_url") if name in data}
        if "token" in data:
            errors |= {name: [say(_IN_THE_TOKEN)] for name in ("spec", "spec_sheet", "order", "check") if name in data}
        if not {"file", "upload"} & data.keys() and ("check" not in data or "token" in data):
            errors["file"] = [say("Send the PDF in this field (or in 'check' the id of an earlier check).")]
        if "file" in data and "check" in data and "token" not in data:
            errors["check"] = [say("Send either 'file' or 'check'.")]
        if "upload" in data and {"file", "check"} & data.keys():
            errors["upload"] = [say("Send 'file', 'check' or 'upload', one of them.")]
        if not {"spec", "spec_sheet", "token"} & data.keys():
            errors["spec"] = [say("Name a stored sheet here (GET /v1/specs lists them), or send one as 'spec_sheet'.")]
        if "spec" in data and "spec_sheet" in data and "token" not in data:
            errors["spec_sheet"] = [say("Send either 'spec' or 'spec_sheet'.")]
        if "callback_url" in data and "callback_url" not in errors and (why := _no_callback(data)):
            errors["callback_url"] = [say(why)]
        if errors:
            raise ma.ValidationError(errors)


def _no_callback(data: dict[str, Any]) -> str | None:
    """Why none goes to that address, as far as can be told before it is looked up."""
    settings = parts().settings
    if not settings.callback_secrets:
        return _CALLBACKS
    if "token" in data:
        return _NO_CALLBACK_FROM_PAGES
    allowed = Allowed(settings.callback_hosts, settings.callback_networks, parts().accounts.callback_hosts(owner() or ""))
    try:
        target_of(data["callback_url"], allowed)
    except Refused as refused:
        return refused.why
    return None


@dataclass(frozen=True)
class CheckWishes:
    """The form, understood."""

    stream: Readable | None
    file_name: str | None
    earlier: str | None
    """Id of the earlier check to judge again; None where a file came."""
    upload: str | None
    """Id of a file that came before, piece by piece."""
    sheet: SpecSheet
    order: str | None
    """JSON, without the spaces that somebody wrote."""
    origin: str | None = None
    """Of the page that uploaded with a token."""
    callback_url: str | None = None
    maximum_bytes: int | None = None
    """That the token lets in; None: as many as the service takes."""
    token_id: str | None = None
    by_link: bool = False
    """Whoever has the check's id may read it."""

    @property
    def sheet_for_order(self) -> SpecSheet:
        return for_order(self.sheet, json.loads(self.order)) if self.order else self.sheet


def understand(form: dict[str, Any]) -> CheckWishes:
    """Raises `Problem` where the token, the sheet or the order is wrong."""
    file = form.get("file")
    part = file if isinstance(file, FileStorage) else None
    return CheckWishes(
        stream=part.stream if part else file,
        file_name=part.filename if part else None,
        earlier=form.get("check"),
        upload=form.get("upload"),
        callback_url=form.get("callback_url"),
        by_link="token" in form or form["readable_by"] == "link",
        **(_granted(form["token"]) if "token" in form else _named(form)),
    )


def _named(form: dict[str, Any]) -> dict[str, Any]:
    sheet = stored_sheet(form["spec"]) if "spec" in form else inline_sheet(form["spec_sheet"])
    return {"sheet": sheet, "order": order_text(form["order"], sheet) if form.get("order", "").strip() else None}


def _granted(token: str) -> dict[str, Any]:
    grant = cross_origin.grant_of(token)
    sheet = stored_sheet(grant.spec, "/token") if grant.spec else inline_sheet(grant.sheet or "", "/token")
    return {
        "sheet": sheet,
        "order": grant.order,
        "origin": grant.origin,
        "maximum_bytes": grant.maximum_size_bytes,
        "token_id": grant.id,
    }


def stored_sheet(named: str, pointer: str = "/spec") -> SpecSheet:
    """Raises `Problem`, which points at the field that named the sheet."""
    try:
        return sheet_at_revision(named)
    except Problem as problem:
        raise Problem("unknown-spec", problem.detail, errors=[(pointer, problem.detail)], on_page=problem.on_page) from problem


def inline_sheet(text: str, field: str = "/spec_sheet") -> SpecSheet:
    """Raises `Problem` that points at each mistake below the field."""
    try:
        return read_complete(parse_sheet_text(text), known_rules=RULES)
    except SheetRefused as refused:
        errors = [(f"{field}{pointer}", detail) for pointer, detail in refused.errors]
        raise Problem("invalid-sheet", in_short(errors), errors=errors) from refused


def order_text(text: str, sheet: SpecSheet) -> str:
    try:
        order = json.loads(text, object_pairs_hook=_no_key_twice)
        for_order(sheet, order)
    except OrderRefused as refused:
        errors = [(f"/order{pointer}", detail) for pointer, detail in refused.errors]
        raise Problem("invalid-request", in_short(errors, _MORE_IN_THE_ORDER), errors=errors) from refused
    except (ValueError, RecursionError) as error:
        detail = say("The order is no JSON: write an object such as {example}, each key once.", example=_ORDER_IN_SHORT)
        raise Problem("invalid-request", detail, errors=[("/order", detail)]) from error
    return json.dumps(order, sort_keys=True, separators=(",", ":"))


def _no_key_twice(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    if len(dict(pairs)) < len(pairs):
        raise ValueError("a key stands twice")
    return dict(pairs)


def in_short(errors: Sequence[tuple[str, str]], more: str = _MORE_IN_THE_SHEET) -> str:
    """The first mistakes as a sentence or three; `more` says how many others there are."""

    def sentences() -> Iterator[str]:
        yield from (detail for _, detail in errors[:3])
        if len(errors) > 3:
            yield say(more, count=len(errors) - 3)

    return " ".join(sentences())
