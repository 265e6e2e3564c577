"""The form of `POST /v1/checks`, and what it means: a file or an earlier check, a sheet, and what only this order knows."""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

import marshmallow as ma
from marshmallow import fields
from marshmallow.validate import Length
from werkzeug.datastructures import FileStorage

from service.api.kept_sheets import sheet_named
from service.api.problems import Problem
from service.rules.catalogue import RULES
from service.sheets.model import SpecSheet
from service.sheets.order import OrderRefused, for_order
from service.sheets.parsing import parse_sheet_text
from service.sheets.refusals import SheetRefused
from service.sheets.revisions import read_complete
from service.store.blobs import Readable

LONGEST_SHEET = 256 * 1024
"""A full sheet has a few kilobytes."""

_CALLBACKS = (
    "This version does not call back. Leave the field out, send 'Prefer: respond-async' and ask for the check at its address."
)


class FileField(fields.Field[Any]):
    """A file part, or the body itself."""

    def _deserialize(self, value: Any, attr: Any, data: Any, **kwargs: Any) -> Any:  # noqa: ARG002
        if isinstance(value, str):
            raise ma.ValidationError("Send the PDF as a file part, with a file name; this is a plain text field.")
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
            raise ma.ValidationError(f"This is longer than {self.longest // 1024} KiB.")
        try:
            return super()._deserialize(value.decode("utf-8"), attr, data, **kwargs)
        except UnicodeDecodeError as error:
            raise ma.ValidationError("This is no text in UTF-8.") from error


class CheckForm(ma.Schema):
    file = FileField(metadata={"description": "The PDF.", "type": "string", "contentMediaType": "application/pdf"})
    check = fields.String(
        validate=Length(1, 100),
        metadata={
            "description": "Instead of `file`: the id of an earlier check, whose measurements are judged against another sheet."
        },
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
    callback_url = fields.String(metadata={"description": "Refused by this version: it does not call back.", "deprecated": True})

    class Meta:
        unknown = ma.RAISE

    @ma.validates_schema
    def _one_of_each(self, data: dict[str, Any], **_: Any) -> None:
        errors: dict[str, list[str]] = {}
        if "file" not in data and "check" not in data:
            errors["file"] = ["Send the PDF in this field (or in 'check' the id of an earlier check)."]
        if "file" in data and "check" in data:
            errors["check"] = ["Send either 'file' or 'check'."]
        if "spec" not in data and "spec_sheet" not in data:
            errors["spec"] = ["Name a stored sheet here (GET /v1/specs lists them), or send one as 'spec_sheet'."]
        if "spec" in data and "spec_sheet" in data:
            errors["spec_sheet"] = ["Send either 'spec' or 'spec_sheet'."]
        if data.get("callback_url"):
            errors["callback_url"] = [_CALLBACKS]
        if errors:
            raise ma.ValidationError(errors)


@dataclass(frozen=True)
class CheckRequest:
    """The form, understood."""

    stream: Readable | None
    file_name: str | None
    earlier: str | None
    """Id of the earlier check to judge again; None where a file came."""
    sheet: SpecSheet
    order: str | None
    """JSON, without the spaces that somebody wrote."""

    @property
    def sheet_for_order(self) -> SpecSheet:
        return for_order(self.sheet, json.loads(self.order)) if self.order else self.sheet


def understand(form: dict[str, Any]) -> CheckRequest:
    """Raises `Problem` where the sheet or the order is wrong."""
    sheet = _stored(form["spec"]) if "spec" in form else _inline(form["spec_sheet"])
    file = form.get("file")
    part = file if isinstance(file, FileStorage) else None
    return CheckRequest(
        stream=part.stream if part else file,
        file_name=part.filename if part else None,
        earlier=form.get("check"),
        sheet=sheet,
        order=_order(form["order"], sheet) if form.get("order", "").strip() else None,
    )


def _stored(named: str) -> SpecSheet:
    try:
        return sheet_named(named)
    except Problem as problem:
        raise Problem("unknown-spec", problem.detail, errors=[("/spec", problem.detail)]) from problem


def _inline(text: str) -> SpecSheet:
    try:
        return read_complete(parse_sheet_text(text), known_rules=RULES)
    except SheetRefused as refused:
        errors = [(f"/spec_sheet{pointer}", detail) for pointer, detail in refused.errors]
        raise Problem("invalid-sheet", in_short(errors, "the spec sheet"), errors=errors) from refused


def _order(text: str, sheet: SpecSheet) -> str:
    try:
        order = json.loads(text, object_pairs_hook=_no_key_twice)
        for_order(sheet, order)
    except OrderRefused as refused:
        errors = [(f"/order{pointer}", detail) for pointer, detail in refused.errors]
        raise Problem("invalid-request", in_short(errors, "the order"), errors=errors) from refused
    except (ValueError, RecursionError) as error:
        detail = 'The order is no JSON: write an object such as {"inner_pages": 96, "caliper_mm": 0.11}, each key once.'
        raise Problem("invalid-request", detail, errors=[("/order", detail)]) from error
    return json.dumps(order, sort_keys=True, separators=(",", ":"))


def _no_key_twice(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    if len(dict(pairs)) < len(pairs):
        raise ValueError("a key stands twice")
    return dict(pairs)


def in_short(errors: Sequence[tuple[str, str]], what: str) -> str:
    """The first mistakes as a sentence or three."""

    def sentences() -> Iterator[str]:
        yield from (detail for _, detail in errors[:3])
        if len(errors) > 3:
            yield f"And {len(errors) - 3} more in {what}."

    return " ".join(sentences())
