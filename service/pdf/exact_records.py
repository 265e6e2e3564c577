"""Frozen records as JSON text and back, exactly; each room adds the forms of its own to the converter.

* A record is an object with its fields' names; a Box is `[x0, y0, x1, y1]`; sentences stand as in
  `service.language.sentence_codec`.
* Reading trusts nothing: the text may come from a process that a hostile PDF has taken over. It is bounded, every value must have
  the field's type, numbers must be finite. What does not fit is one `RecordRefused`.
* Nothing is filled in: a record has all of its keys and no other. What an earlier version wrote without a fact is refused.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Mapping
from dataclasses import MISSING, fields, is_dataclass
from math import isfinite
from types import NoneType, UnionType
from typing import Any, Literal, TypeVar, Union, get_args, get_origin

import cattrs
import msgspec
from cattrs.gen import make_dict_structure_fn

from service.language.sentence_codec import sentence_from_data, sentence_to_data
from service.language.sentences import Sentence
from service.pdf.facts.geometry import Box

LONGEST_TEXT = 256 * 2**20
"""Characters that are read. A booklet with 20,000 images takes about 10 million. Ours, no source."""

_SURROGATES = re.compile("[\ud800-\udfff]")
Read = Callable[[Any, Any], Any]
T = TypeVar("T")


class RecordRefused(ValueError):
    """The text is no record of the kind that is asked for."""


def to_text(converter: cattrs.Converter, record: object) -> str:
    """Half a character pair (only a damaged file has one) becomes U+FFFD: it cannot be sent on."""
    return text_of(converter.unstructure(record))


def text_of(data: object) -> str:
    """Of records in their form already. What is no number (NaN) becomes null, which reading refuses where a number has to be."""
    try:
        return _ENCODER.encode(data).decode()
    except UnicodeEncodeError:
        written = json.dumps(data, ensure_ascii=False, allow_nan=False, default=_plain, separators=(",", ":"))
        return _SURROGATES.sub("\ufffd", written)


def data_of(text: str | bytes) -> Any:
    """The JSON of a text. Raises RecordRefused."""
    if len(text) > LONGEST_TEXT:
        raise RecordRefused("the text is longer than any record needs")
    try:
        return _DECODER.decode(text)
    except RecursionError as error:
        raise RecordRefused("the text is nested deeper than records are") from error
    except (msgspec.DecodeError, ValueError) as error:
        raise RecordRefused(f"the text is no JSON: {str(error)[:200]}") from error


def from_data(converter: cattrs.Converter, data: Any, kind: type[T]) -> T:
    """Raises RecordRefused."""
    try:
        return converter.structure(data, kind)
    except (cattrs.BaseValidationError, ValueError, KeyError, TypeError, AttributeError) as error:
        raise RecordRefused(f"no record of {kind.__name__}: {str(error)[:200]}") from error
    except RecursionError as error:
        raise RecordRefused("the text is nested deeper than records are") from error


def _plain(value: object) -> object:
    """NumPy's numbers are kinds of Python's."""
    for kind in (float, int, str):
        if isinstance(value, kind):
            return kind(value)
    if isinstance(value, Mapping):
        return dict(value)
    raise TypeError(f"{type(value).__name__} has no form in JSON")


_ENCODER, _DECODER = msgspec.json.Encoder(enc_hook=_plain), msgspec.json.Decoder()


# --- Reading, strictly ------------------------------------------------------------------------------------------------


def read_text(value: Any, _: Any) -> str:
    if type(value) is not str or (not value.isascii() and _SURROGATES.search(value)):
        raise ValueError("a text is missing")
    return value


def _whole(value: Any, _: Any) -> int:
    if type(value) is not int:
        raise ValueError("a whole number is missing")
    return value


def _number(value: Any, _: Any) -> float:
    if type(value) is float and isfinite(value):  # as a record of ours has it
        return value
    if type(value) not in (int, float) or not isfinite(value):
        raise ValueError("a finite number is missing")
    return float(value)


def _flag(value: Any, _: Any) -> bool:
    if type(value) is not bool:
        raise ValueError("true or false is missing")
    return value


def _box(value: Any, _: Any) -> Box:
    if type(value) is not list or len(value) != 4:
        raise ValueError("a box of four numbers is missing")
    x0, y0, x1, y1 = value
    if type(x0) is type(y0) is type(x1) is type(y1) is float and isfinite(x0 + y0 + x1 + y1):  # as a record of ours has them
        return Box(x0, y0, x1, y1)
    return Box(_number(x0, float), _number(y0, float), _number(x1, float), _number(y1, float))


def _sentence(value: Any, _: Any) -> Sentence:
    return sentence_from_data(value)


def read_literal(kind: Any) -> Read:
    allowed = get_args(kind)

    def read(value: Any, _: Any) -> Any:
        for one in allowed:
            if type(one) is type(value) and one == value:
                return one
        raise ValueError(f"one of {allowed} is missing")

    return read


def _read_tuple(kind: Any, converter: cattrs.BaseConverter) -> Read:
    """`tuple[X, ...]`, or as many X as are named."""
    item, *others = get_args(kind)
    length = None if others == [...] else 1 + len(others)
    read_item = converter.get_structure_hook(item)

    def read(value: Any, _: Any) -> Any:
        if type(value) is not list or (length is not None and len(value) != length):
            raise ValueError("a list is missing")
        return tuple([read_item(one, item) for one in value])

    return read


def _read_optional(kind: Any, converter: cattrs.BaseConverter) -> Read:
    """`X | None`: one real type."""
    (real,) = (one for one in get_args(kind) if one is not NoneType)
    read_real = converter.get_structure_hook(real)
    return lambda value, _: None if value is None else read_real(value, real)


def _read_record(kind: Any, converter: cattrs.BaseConverter) -> Read:
    """A missing key is refused also where the field has a default."""
    found = fields(get_origin(kind) or kind)
    names, count = {one.name for one in found}, len(found)
    may_fill_in = any(one.default is not MISSING or one.default_factory is not MISSING for one in found)
    read_values = make_dict_structure_fn(kind, converter, _cattrs_detailed_validation=False)

    def read(value: Any, _: Any) -> Any:
        # Of so many keys none is another where each that has to be there is, which reading the values finds out.
        if type(value) is not dict or len(value) != count or (may_fill_in and value.keys() != names):
            raise ValueError(f"the keys of {kind} are missing, or there are more")
        return read_values(value, kind)

    return read


def _is_record(kind: Any) -> bool:
    return is_dataclass(get_origin(kind) or kind)


def made_of(*origins: Any) -> Callable[[Any], bool]:
    return lambda kind: get_origin(kind) in origins


def exact_converter() -> cattrs.Converter:
    converter = cattrs.Converter(detailed_validation=False)
    for plain, read in ((int, _whole), (float, _number), (str, read_text), (bool, _flag), (Box, _box), (Sentence, _sentence)):
        converter.register_structure_hook(plain, read)
    converter.register_structure_hook_factory(_is_record, _read_record)
    converter.register_structure_hook_factory(made_of(Literal), read_literal)
    converter.register_structure_hook_factory(made_of(tuple), _read_tuple)
    converter.register_structure_hook_factory(made_of(Union, UnionType), _read_optional)
    converter.register_unstructure_hook(Box, list)
    converter.register_unstructure_hook(Sentence, sentence_to_data)
    return converter
