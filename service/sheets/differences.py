"""What a complete sheet says otherwise than the one it started from: as little as has to be written, and as a list to read.

`resolve({"extends": base, **difference(base, whole)})` gives the whole again; so a sheet of one's own can be kept as what is its
own. Values are compared by what they mean: '0.125 in' is '3.175 mm'.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from marshmallow import Schema, ValidationError, fields

from service.sheets.extending import NEVER_INHERITED
from service.sheets.format.blocks import whole_sheet
from service.sheets.format.refusals import Path

_ADDED = "references"


@dataclass(frozen=True)
class Change:
    path: Path
    before: Any
    """None where the key is new."""
    after: Any
    """None where it was taken out."""


def difference(base: Mapping[str, Any], whole: Mapping[str, Any]) -> dict[str, Any]:
    """The keys of `whole` that the base has otherwise or not, and null for what it has more."""
    inherited = {key: value for key, value in base.items() if key not in NEVER_INHERITED}
    return _difference(inherited, whole, whole_sheet())


def changes(base: Mapping[str, Any], whole: Mapping[str, Any]) -> list[Change]:
    """Key by key, in the order of the format; what tells one sheet from another is none."""
    own = {key: value for key, value in whole.items() if key not in (*NEVER_INHERITED, "title", _ADDED)}
    inherited = {key: value for key, value in base.items() if key not in (*NEVER_INHERITED, "title", _ADDED)}
    return list(_changes(inherited, own, whole_sheet(), ()))


def spelled_as(document: Mapping[str, Any], written: Mapping[str, Any]) -> dict[str, Any]:
    """The document with each value spelled as it was written once, where that still means the same: inches stay inches."""
    return _spelled(document, written, whole_sheet())


def _difference(base: Mapping[str, Any], whole: Mapping[str, Any], schema: Schema) -> dict[str, Any]:
    known = _fields(schema)
    told: dict[str, Any] = {}
    for key, value in whole.items():
        old = base.get(key)
        inner = known.get(key)
        if key == _ADDED and isinstance(value, list) and isinstance(old, list):
            value = [one for one in value if one not in old]
            told |= {key: value} if value else {}
        elif isinstance(inner, fields.Nested) and isinstance(value, Mapping) and isinstance(old, Mapping):
            within = _difference(old, value, inner.schema)
            told |= {key: within} if within else {}
        elif key not in base or not _same(old, value, inner):
            told[key] = value
    gone = {key: None for key in base if key not in whole and key != _ADDED}
    return told | gone


def _changes(base: Mapping[str, Any], whole: Mapping[str, Any], schema: Schema, path: Path) -> Iterator[Change]:
    known = _fields(schema)
    order = list(known)
    for key in sorted({*base, *whole}, key=lambda key: order.index(key) if key in order else len(order)):
        old, new, inner = base.get(key), whole.get(key), known.get(key)
        if isinstance(inner, fields.Nested) and (isinstance(old, Mapping) or isinstance(new, Mapping)):
            yield from _changes(old or {}, new or {}, inner.schema, (*path, key))
        elif not _same(old, new, inner):
            yield Change((*path, key), old, new)


def _spelled(document: Mapping[str, Any], written: Mapping[str, Any], schema: Schema) -> dict[str, Any]:
    known = _fields(schema)
    spelled: dict[str, Any] = {}
    for key, value in document.items():
        old, inner = written.get(key), known.get(key)
        if isinstance(inner, fields.Nested) and isinstance(value, Mapping) and isinstance(old, Mapping):
            spelled[key] = _spelled(value, old, inner.schema)
        else:
            spelled[key] = old if old is not None and _same(old, value, inner) else value
    return spelled


def _same(one: Any, other: Any, inner: fields.Field[Any] | None) -> bool:
    if one == other and isinstance(one, bool) == isinstance(other, bool):
        return True
    if one is None or other is None or inner is None:
        return False
    try:
        return bool(inner.deserialize(one) == inner.deserialize(other))
    except ValidationError:
        return False


def _fields(schema: Schema) -> dict[str, fields.Field[Any]]:
    return {one.data_key or name: one for name, one in schema.load_fields.items()}
