"""A sheet's document with its lengths in inches, for those who measure in them.

Rounded to 0.0001 in, and to four figures where that is finer: far below anything that a rule compares by (design: slack). The
document in millimetres is the exact one.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from fractions import Fraction
from typing import Any

from marshmallow import Schema, fields

from service.sheets.format.blocks import whole_sheet
from service.sheets.format.fields import BoxOnPage, Quantity
from service.sheets.format.lengths import EXACT_MM_PER_INCH, NotAQuantity, parse_length_mm, plain_decimal

_LEAST_DECIMALS = 4
_LEAST_FIGURES = 4


def in_inches(document: Mapping[str, Any]) -> dict[str, Any]:
    """Every length of the document as text in inches; what is no length, or none that can be read, stays as it is."""
    return _block(document, whole_sheet())


def inches_text(millimetres: float) -> str:
    inches = float(Fraction(millimetres) / EXACT_MM_PER_INCH)
    figures_after_point = _LEAST_FIGURES - 1 - math.floor(math.log10(inches)) if inches > 0 else 0
    return f"{plain_decimal(round(inches, max(_LEAST_DECIMALS, figures_after_point)))} in"


def _block(document: Mapping[str, Any], schema: Schema) -> dict[str, Any]:
    known = {field.data_key or name: field for name, field in schema.load_fields.items()}
    return {key: _value(value, known[key]) if key in known else value for key, value in document.items()}


def _value(value: Any, field: fields.Field[Any]) -> Any:
    if isinstance(field, Quantity) and field.reads is parse_length_mm:
        return _length(value)
    if isinstance(field, BoxOnPage) and isinstance(value, list):
        return [_length(one) for one in value]
    if isinstance(field, fields.Nested) and isinstance(value, Mapping):
        return _block(value, field.schema)
    if isinstance(field, fields.List) and isinstance(value, list):
        return [_value(one, field.inner) for one in value]
    return value


def _length(value: Any) -> Any:
    try:
        return inches_text(parse_length_mm(value))
    except NotAQuantity:
        return value
