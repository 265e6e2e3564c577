"""Fields of a query that declare what `…Wishes` records have: the same ranges, choices and defaults as on the command line."""

from __future__ import annotations

from typing import Any, get_args

from marshmallow import fields
from marshmallow.validate import OneOf, Range

from service.proofs.wishes import WholeNumbers


def whole_number(numbers: WholeNumbers, description: str) -> fields.Integer:
    return fields.Integer(
        load_default=numbers.usual, validate=Range(numbers.least, numbers.most), metadata={"description": description}
    )


def choice(words: Any, description: str, *, usual: str | None = None) -> fields.String:
    """`words`: a `Literal`. `usual`: where nobody says; None: the sheet decides."""
    default: dict[str, Any] = {} if usual is None else {"load_default": usual}
    return fields.String(validate=OneOf(get_args(words)), metadata={"description": description}, **default)
