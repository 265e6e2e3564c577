"""Measurements as JSON text and back, exactly.

* A record is an object with its fields' names; a Box is `[x0, y0, x1, y1]`; an unknown value is `{"unmeasured": reason}`.
  Sentences for people stand as in `service.language.sentence_codec`.
* Reading trusts nothing: the text may come from a process that a hostile PDF has taken over. Every value must have the
  field's type, numbers must be finite, unknown keys are refused. What does not fit is one `MeasurementsError`.

This is the form in which measurements are stored and passed between processes, not the form of the answers.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from math import isfinite
from types import NoneType, UnionType
from typing import Any, Literal, NoReturn, Union, get_args, get_origin

import cattrs

from service.language.sentence_codec import sentence_from_data, sentence_to_data
from service.language.sentences import Sentence
from service.pdf.facts.geometry import Box
from service.pdf.facts.measurements import Measurements
from service.pdf.facts.unknown import Failure, FailureKind, Unmeasured

LONGEST_TEXT = 256 * 2**20
"""Characters that are read. A booklet with 20,000 images takes about 10 million. Ours, no source."""

_SURROGATES = re.compile("[\ud800-\udfff]")
Read = Callable[[Any, Any], Any]


class MeasurementsError(ValueError):
    """The text is no record of measurements."""


def measurements_to_json(measurements: Measurements) -> str:
    """Half a character pair (only a damaged file has one) becomes U+FFFD: it cannot be sent on."""
    return _SURROGATES.sub("\ufffd", json.dumps(_CONVERTER.unstructure(measurements), ensure_ascii=False, allow_nan=False))


def measurements_from_json(text: str) -> Measurements:
    """Raises MeasurementsError where the text is not the JSON of measurements."""
    if len(text) > LONGEST_TEXT:
        raise MeasurementsError("the measurements are longer than any file needs")
    try:
        return _CONVERTER.structure(json.loads(text, parse_constant=_refuse_constant), Measurements)
    except (cattrs.BaseValidationError, cattrs.ForbiddenExtraKeysError, ValueError, KeyError, TypeError, AttributeError) as error:
        raise MeasurementsError(f"the text is no record of measurements: {str(error)[:200]}") from error
    except RecursionError as error:
        raise MeasurementsError("the text is nested deeper than measurements are") from error


def _refuse_constant(name: str) -> NoReturn:
    raise ValueError(f"{name} is no measurement")


# --- Reading, strictly ------------------------------------------------------------------------------------------------


def _whole(value: Any, _: Any) -> int:
    if type(value) is not int:
        raise ValueError("a whole number is missing")
    return value


def _number(value: Any, _: Any) -> float:
    if type(value) not in (int, float) or not isfinite(value):
        raise ValueError("a finite number is missing")
    return float(value)


def _text(value: Any, _: Any) -> str:
    if type(value) is not str or (not value.isascii() and _SURROGATES.search(value)):
        raise ValueError("a text is missing")
    return value


def _flag(value: Any, _: Any) -> bool:
    if type(value) is not bool:
        raise ValueError("true or false is missing")
    return value


def _box(value: Any, _: Any) -> Box:
    if type(value) is not list or len(value) != 4:
        raise ValueError("a box of four numbers is missing")
    return Box(*(_number(one, float) for one in value))


def _sentence(value: Any, _: Any) -> Sentence:
    return sentence_from_data(value)


def _unmeasured(value: Any) -> Unmeasured:
    reason = sentence_from_data(value)
    return Unmeasured(reason.text, reason.values)


def _failure(value: Any, _: Any) -> Failure:
    if type(value) is not dict or value.keys() != {"kind", "why"}:
        raise ValueError("a failure is missing")
    why = sentence_from_data(value["why"])
    return Failure(_read_literal(FailureKind)(value["kind"], FailureKind), why.text, why.values)


def _read_literal(kind: Any) -> Read:
    allowed = get_args(kind)

    def read(value: Any, _: Any) -> Any:
        for one in allowed:
            if type(one) is type(value) and one == value:
                return one
        raise ValueError(f"one of {allowed} is missing")

    return read


def _read_tuple(kind: Any, converter: cattrs.BaseConverter) -> Read:
    """Only `tuple[X, ...]` occurs."""
    item = get_args(kind)[0]
    read_item = converter.get_structure_hook(item)

    def read(value: Any, _: Any) -> Any:
        if type(value) is not list:
            raise ValueError("a list is missing")
        return tuple(read_item(one, item) for one in value)

    return read


def _read_union(kind: Any, converter: cattrs.BaseConverter) -> Read:
    """`X | None`, `X | Unmeasured` and both: one real type among them."""
    parts = get_args(kind)
    (real,) = (one for one in parts if one not in (NoneType, Unmeasured))
    read_real = converter.get_structure_hook(real)

    def read(value: Any, _: Any) -> Any:
        if value is None and NoneType in parts:
            return None
        if Unmeasured in parts and type(value) is dict and value.keys() == {"unmeasured"}:
            return _unmeasured(value["unmeasured"])
        return read_real(value, real)

    return read


def _made_of(*origins: Any) -> Callable[[Any], bool]:
    return lambda kind: get_origin(kind) in origins


def _converter() -> cattrs.Converter:
    converter = cattrs.Converter(forbid_extra_keys=True, detailed_validation=False)
    for plain, read in ((int, _whole), (float, _number), (str, _text), (bool, _flag), (Box, _box)):
        converter.register_structure_hook(plain, read)
    converter.register_structure_hook(Sentence, _sentence)
    converter.register_structure_hook(Failure, _failure)
    converter.register_structure_hook_factory(_made_of(Literal), _read_literal)
    converter.register_structure_hook_factory(_made_of(tuple), _read_tuple)
    converter.register_structure_hook_factory(_made_of(Union, UnionType), _read_union)
    converter.register_unstructure_hook(Box, list)
    converter.register_unstructure_hook(Sentence, sentence_to_data)
    converter.register_unstructure_hook(Unmeasured, lambda one: {"unmeasured": sentence_to_data(one)})
    converter.register_unstructure_hook(Failure, lambda one: {"kind": one.kind, "why": sentence_to_data(one.reason)})
    return converter


_CONVERTER = _converter()
