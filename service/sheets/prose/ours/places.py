"""Every place of the format at which a demand can stand, and the kind of its values: read off the format's own declarations."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

from marshmallow import Schema, fields

from service.sheets.format.blocks import whole_sheet
from service.sheets.format.fields import BoxOnPage, Choice, Flag, Levels, Words

LEFT_OUT = ("id", "revision", "aliases")
"""A text has none of these."""
Place = tuple[str | int, ...]
"""With the numbers of lists, counted from 0."""


@dataclass(frozen=True)
class Kind:
    """Of the values at one place."""

    is_list: bool = False
    is_flag: bool = False
    is_free: bool = False
    """Words that somebody wrote."""
    words: tuple[str, ...] = ()
    """Those that one is chosen from."""


LEVELS = Kind(words=("must", "should", "off"))


@cache
def kinds() -> Mapping[tuple[str, ...], Kind]:
    """By the place without the numbers of lists."""
    return {path: kind for path, kind in _inside(whole_sheet(), ()) if path[0] not in LEFT_OUT}


def kind_at(path: tuple[str, ...]) -> Kind:
    return LEVELS if path[0] == "levels" else kinds().get(path, Kind(is_free=True))


def _inside(schema: Schema, above: tuple[str, ...]) -> Iterator[tuple[tuple[str, ...], Kind]]:
    for name, one in schema.load_fields.items():
        path = (*above, one.data_key or name)
        inner: fields.Field[Any] = one.inner if isinstance(one, fields.List) else one
        if isinstance(inner, fields.Nested):
            yield from _inside(inner.schema, path)
        elif not isinstance(inner, Levels):
            words = tuple(inner.words) if isinstance(inner, Choice) else ()
            is_list = isinstance(one, fields.List | BoxOnPage)
            yield path, Kind(is_list, isinstance(inner, Flag), isinstance(inner, Words), words)
