"""The shapes of the records that are stored with a check: every field and its type, as deep as they go."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from dataclasses import is_dataclass
from hashlib import sha256
from types import UnionType
from typing import Any, Literal, Union, get_args, get_origin, get_type_hints


def records_in(*roots: type) -> list[type]:
    """Every dataclass and named tuple that the roots hold, themselves first, each once."""
    found: dict[type, None] = {}
    pending = list(roots)
    while pending:
        kind = pending.pop(0)
        if kind not in found:
            found[kind] = None
            pending += [inner for hint in get_type_hints(kind).values() for inner in _records(hint)]
    return list(found)


def shapes(*roots: type) -> dict[str, dict[str, str]]:
    """Record → field → type, in an order of no meaning."""
    return {kind.__name__: {name: _said(hint) for name, hint in get_type_hints(kind).items()} for kind in records_in(*roots)}


def fingerprint(shaped: Mapping[str, Mapping[str, str]]) -> str:
    return sha256(json.dumps(shaped, sort_keys=True).encode()).hexdigest()[:16]


def _records(hint: Any) -> Iterator[type]:
    origin = get_origin(hint) or hint
    if origin is Mapping:  # any values: a form of their own
        return
    if isinstance(origin, type) and (is_dataclass(origin) or hasattr(origin, "_fields")):
        yield origin
    if origin is not Literal:
        for inner in get_args(hint):
            yield from _records(inner)


def _said(hint: Any) -> str:
    origin, inner = get_origin(hint), get_args(hint)
    if origin is Literal:
        return "Literal" + str(sorted(inner, key=str))
    if origin in (Union, UnionType):
        return " | ".join(sorted(map(_said, inner)))
    if origin is Mapping:
        return "values"
    name = getattr(origin or hint, "__name__", str(hint))
    return f"{name}[{', '.join(map(_said, inner))}]" if inner else name
