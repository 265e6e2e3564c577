"""The operators of calculator functions on columns, one value for each input (ISO 32000-2:2020, 7.10.5, Table 42).

Each takes columns from the stack and leaves columns there; what has no value is not a number, or raises Unreadable.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np
import numpy.typing as npt

from service.pdf.plates.unreadable import Unreadable

Column = npt.NDArray[Any]
"""One value for each input: float64, int64 or bool."""
INTEGER_LIMIT = 2**31


class Differs(Exception):
    """The inputs do not agree on a count."""


# --- Stack operators --------------------------------------------------------------------------------------------------


def popped(stack: list[Column]) -> Column:
    if not stack:
        raise Unreadable("a calculator function takes from an empty stack")
    return stack.pop()


def _exchange(stack: list[Column]) -> None:
    _top(stack, 2)
    stack[-2:] = stack[:-3:-1]


def _duplicate(stack: list[Column]) -> None:
    stack += _top(stack, 1)


def _copy(stack: list[Column]) -> None:
    stack += _top(stack, _count(stack))


def _index(stack: list[Column]) -> None:
    stack.append(_top(stack, _count(stack) + 1)[0])


def _roll(stack: list[Column]) -> None:
    turns = _count(stack, negative=True)
    size = _count(stack)
    items = _top(stack, size)
    if size:
        turns %= size
        stack[-size:] = items[size - turns :] + items[: size - turns]


def _top(stack: list[Column], size: int) -> list[Column]:
    if size > len(stack):
        raise Unreadable("a calculator function reaches below its stack")
    return stack[len(stack) - size :]


def _count(stack: list[Column], negative: bool = False) -> int:
    column = _integers(popped(stack))
    if (column != column[0]).any():
        raise Differs
    if column[0] < 0 and not negative:
        raise Unreadable("a calculator function counts below zero")
    return int(column[0])


# --- Arithmetic, comparison, logic (Table 42) --------------------------------------------------------------------------


def _integers(column: Column) -> npt.NDArray[np.int64]:
    if column.dtype == np.bool_:
        raise Unreadable("a calculator function counts with a truth value")
    if not ((column >= -INTEGER_LIMIT) & (column < INTEGER_LIMIT)).all():
        raise Unreadable("a calculator function makes an integer beyond 32 bits")
    return np.trunc(column).astype(np.int64)


def _number(column: Column) -> Column:
    if column.dtype == np.bool_:
        raise Unreadable("a calculator function reckons with a truth value")
    return column


def _real(column: Column) -> npt.NDArray[np.float64]:
    return _number(column).astype(np.float64)


def _within_integers(column: Column) -> Column:
    """A result as it is, or as reals where an integer is beyond 32 bits."""
    if column.dtype == np.int64 and not ((column >= -INTEGER_LIMIT) & (column < INTEGER_LIMIT)).all():
        return column.astype(np.float64)
    return column


def _numeric(operate: Callable[..., Column]) -> Callable[..., Column]:
    """Integers stay integers while they fit."""
    return lambda *operands: _within_integers(np.asarray(operate(*map(_number, operands))))


def _of_reals(operate: Callable[..., Column]) -> Callable[..., Column]:
    return lambda *operands: np.asarray(operate(*map(_real, operands)))


def _kept_if_whole(operate: Callable[[Column], Column]) -> Callable[[Column], Column]:
    """Rounding leaves integers as they are."""
    return lambda column: column if column.dtype == np.int64 else operate(_real(column))


def _idiv(dividend: Column, divisor: Column) -> Column:
    a, b = _integers(dividend), _integers(divisor)
    if not b.all():
        raise Unreadable("a calculator function divides by zero")
    return _within_integers(np.sign(a) * np.sign(b) * (np.abs(a) // np.abs(b)))


def _mod(dividend: Column, divisor: Column) -> Column:
    """The rest has the sign of the dividend."""
    a, b = _integers(dividend), _integers(divisor)
    if not b.all():
        raise Unreadable("a calculator function divides by zero")
    return np.fmod(a, b)


def _atan(numerator: Column, denominator: Column) -> Column:
    """Degrees, 0 to 360."""
    y, x = _real(numerator), _real(denominator)
    return np.where((x == 0) & (y == 0), np.nan, np.degrees(np.arctan2(y, x)) % 360)


def _logical(operate: Callable[..., Column]) -> Callable[..., Column]:
    def checked(*operands: Column) -> Column:
        if len({column.dtype for column in operands}) > 1 or operands[0].dtype == np.float64:
            raise Unreadable("a calculator function joins what are neither truth values nor integers")
        return operate(*operands)

    return checked


def _bitshift(value: Column, shift: Column) -> Column:
    """To the left for a positive shift; 32 bits, the uppermost being the sign."""
    bits, by = _integers(value), np.clip(_integers(shift), -32, 32)
    moved = np.where(by >= 0, (bits << np.maximum(by, 0)) & 0xFFFFFFFF, bits >> np.maximum(-by, 0))
    return np.where(moved >= INTEGER_LIMIT, moved - 2 * INTEGER_LIMIT, moved)


OPERATORS: dict[str, tuple[int, Callable[..., Column]]] = {
    "abs": (1, _numeric(np.abs)),
    "add": (2, _numeric(np.add)),
    "and": (2, _logical(np.bitwise_and)),
    "atan": (2, _atan),
    "bitshift": (2, _bitshift),
    "ceiling": (1, _kept_if_whole(np.ceil)),
    "cos": (1, _of_reals(lambda degrees: np.cos(np.radians(degrees)))),
    "cvi": (1, _integers),
    "cvr": (1, _real),
    "div": (2, _of_reals(np.divide)),
    "eq": (2, np.equal),
    "exp": (2, _of_reals(np.power)),
    "floor": (1, _kept_if_whole(np.floor)),
    "ge": (2, np.greater_equal),
    "gt": (2, np.greater),
    "idiv": (2, _idiv),
    "le": (2, np.less_equal),
    "ln": (1, _of_reals(np.log)),
    "log": (1, _of_reals(np.log10)),
    "lt": (2, np.less),
    "mod": (2, _mod),
    "mul": (2, _numeric(np.multiply)),
    "ne": (2, np.not_equal),
    "neg": (1, _numeric(np.negative)),
    "not": (1, _logical(np.invert)),
    "or": (2, _logical(np.bitwise_or)),
    "round": (1, _kept_if_whole(lambda value: np.floor(value + 0.5))),
    "sin": (1, _of_reals(lambda degrees: np.sin(np.radians(degrees)))),
    "sqrt": (1, _of_reals(np.sqrt)),
    "sub": (2, _numeric(np.subtract)),
    "truncate": (1, _kept_if_whole(np.trunc)),
    "xor": (2, _logical(np.bitwise_xor)),
}
STACK_OPERATORS: dict[str, Callable[[list[Column]], object]] = {
    "copy": _copy, "dup": _duplicate, "exch": _exchange, "index": _index, "pop": popped, "roll": _roll,
}
