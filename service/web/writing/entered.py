"""What was filled into the form, as a document of a sheet: nothing is judged here, and nothing that was written is left out.

An empty field is a key that is not there. A number without a unit is a number, as in YAML; in a language with a decimal comma a
comma before one or two digits is one ('1,5 mm'). What cannot be read stays as it was written, for the service to refuse.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import Any

from marshmallow import Schema, fields

from service.language.spoken import decimal_mark
from service.sheets.format.blocks import whole_sheet
from service.sheets.format.fields import BoxOnPage, Choice, Flag, Levels, Quantity, Whole, Words
from service.sheets.format.parsing import plain_value
from service.web.writing.questions import COUNTED_BY_US

Form = Mapping[str, Sequence[str]]
"""Each field's name with all that was sent for it."""
_COMMA = re.compile(r"(?<=\d),(?=\d{1,2}(?!\d))")
_APART = re.compile(r"[\s,;]+")
_NOTHING = object()
MOST_ENTRIES = 100
"""Of one list. Ours, no source."""


def document_of(form: Form) -> dict[str, Any]:
    document = _block(form, whole_sheet(), "")
    return document if isinstance(document, dict) else {}


def _block(form: Form, schema: Schema, name: str) -> Any:
    found: dict[str, Any] = {}
    for attribute, one in schema.load_fields.items():
        key = one.data_key or attribute
        if name or key not in COUNTED_BY_US:
            value = _value(form, one, f"{name}/{key}")
            if value is not _NOTHING:
                found[key] = value
    return found or _NOTHING


def _value(form: Form, one: fields.Field[Any], name: str) -> Any:
    if isinstance(one, fields.Nested):
        return _block(form, one.schema, name)
    if isinstance(one, fields.List) and isinstance(one.inner, fields.Nested):
        entries = [_block(form, one.inner.schema, f"{name}/{at}") for at in entries_of(form, name)]
        return [{} if entry is _NOTHING else entry for entry in entries] or _NOTHING
    if isinstance(one, Levels):
        return {rule: sent for rule in _below(form, name) if (sent := _first(form, f"{name}/{rule}"))} or _NOTHING
    if isinstance(one, BoxOnPage):
        sides = [_first(form, f"{name}/{at}") for at in range(4)]
        return [_number(side) for side in sides] if any(sides) else _NOTHING
    if isinstance(one, fields.List):
        return _many(form, one.inner, name)
    text = _first(form, name)
    if not text:
        return _NOTHING
    if isinstance(one, Flag):
        return text == "true"
    return _number(text) if isinstance(one, Quantity | Whole) else text


def _many(form: Form, inner: fields.Field[Any], name: str) -> Any:
    if isinstance(inner, Choice):
        return [word for word in form.get(name, ()) if word] or _NOTHING
    text = _first(form, name)
    if isinstance(inner, Whole) or (isinstance(inner, Words) and inner.form is not None):
        items = [one for one in _APART.split(text) if one]
        return [_number(one) if isinstance(inner, Whole) else one for one in items] or _NOTHING
    lines = [line.strip() for line in text.splitlines() if line.strip()]
    return [_number(line) if isinstance(inner, Quantity) else line for line in lines] or _NOTHING


def entries_of(form: Form, name: str) -> list[int]:
    """The numbers of a list's entries, empty ones too, each of which sends its own name."""
    numbers = {one.partition("/")[0] for one in _below(form, name)}
    found = {int(one) for one in numbers if one.isascii() and one.isdecimal() and len(one) < 5}
    return sorted(found)[:MOST_ENTRIES]


def _below(form: Form, name: str) -> list[str]:
    return [key.removeprefix(f"{name}/") for key in form if key.startswith(f"{name}/")]


def _first(form: Form, name: str) -> str:
    sent = form.get(name) or ("",)
    return sent[0].replace("\r\n", "\n").strip()


def _number(text: str) -> Any:
    if decimal_mark() == ",":
        text = _COMMA.sub(".", text)
    value = plain_value(text)
    return value if isinstance(value, int | float) and not isinstance(value, bool) else text
