"""PostScript calculator functions (ISO 32000-2:2020, 7.10.5), run for many inputs at once.

* The stack holds columns, one value for each input; integers, reals and booleans stay apart, as `not`, `and` and `idiv` ask.
* Where an `if` takes some inputs one way and some the other, each branch runs for its own inputs and the stacks are put together.
* `roll`, `index` and `copy` ask for one count for all inputs; where it differs, the inputs are halved until it does not.
* Numbers beyond 32 bits become reals. A real operand of `idiv`, `mod` or `bitshift` is truncated, as readers do.
* What has no value (0 ÷ 0, a root of −1) makes the whole function fail: ValueError, and no number that looks like one.

There are no loops in the language; the length, the nesting, the stack and the work of a run are bounded nonetheless.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

Column = npt.NDArray[Any]
"""One value for each input: float64, int64 or bool."""
Constant = np.float64 | np.int64 | np.bool_

MOST_TOKENS = 50_000
DEEPEST_NESTING = 32
MOST_ON_THE_STACK = 100
"""The least that a reader must hold (7.10.5); files that need more fail elsewhere as well."""
MOST_WORK = 500_000_000
"""Values worked out by one run; each step counts for `_STEP` more, what it costs whatever the number of inputs."""
_STEP = 500
_INTEGER_LIMIT = 2**31
_TOKEN = re.compile(rb"[\x00\t\n\x0c\r ]+|%[^\r\n]*|([{}]|[^\x00\t\n\x0c\r {}%]+)")


@dataclass(frozen=True)
class Branch:
    """`{…} if`, or `{…} {…} ifelse`."""

    then: Program
    otherwise: Program


Program = tuple[Constant | str | Branch, ...]


class _Differs(Exception):
    """The inputs do not agree on a count."""


# --- Reading ----------------------------------------------------------------------------------------------------------


def parsed(source: bytes) -> Program:
    """The program between the outer braces. Raises ValueError where it is none."""
    tokens = [found[1] for found in _TOKEN.finditer(source) if found[1]]
    if len(tokens) > MOST_TOKENS:
        raise ValueError(f"a calculator function has more than {MOST_TOKENS:,} words")
    if not tokens or tokens[0] != b"{":
        raise ValueError("a calculator function does not start with a brace")
    program, end = _block(tokens, 1, 1)
    if end != len(tokens):
        raise ValueError("a calculator function goes on behind its last brace")
    return program


def _block(tokens: Sequence[bytes], position: int, depth: int) -> tuple[Program, int]:
    if depth > DEEPEST_NESTING:
        raise ValueError(f"a calculator function is nested more than {DEEPEST_NESTING} levels deep")
    items: list[Constant | str | Branch] = []
    waiting: list[Program] = []
    while position < len(tokens):
        token = tokens[position]
        position += 1
        if token == b"{":
            inner, position = _block(tokens, position, depth + 1)
            waiting.append(inner)
            continue
        if token == b"if" and len(waiting) == 1:
            items.append(Branch(waiting.pop(), ()))
        elif token == b"ifelse" and len(waiting) == 2:
            otherwise, then = waiting.pop(), waiting.pop()
            items.append(Branch(then, otherwise))
        elif waiting:
            raise ValueError("a calculator function has a block without its if or ifelse")
        elif token == b"}":
            return tuple(items), position
        else:
            items.append(_word(token))
    raise ValueError("a calculator function ends before its last brace")


def _word(token: bytes) -> Constant | str:
    word = token.decode("latin-1")
    if word in _OPERATORS or word in _STACK_OPERATORS:
        return word
    if word in ("true", "false"):
        return np.bool_(word == "true")
    if not re.fullmatch(r"[-+]?(\d+\.?\d*|\.\d+)([eE][-+]?\d{1,3})?", word) or len(word) > 60:
        raise ValueError(f"a calculator function has the unknown word {word[:40]!r}")
    value = float(word)
    whole = re.fullmatch(r"[-+]?\d+", word) is not None and abs(value) < _INTEGER_LIMIT
    return np.int64(value) if whole else np.float64(value)


# --- Running ----------------------------------------------------------------------------------------------------------


def run(program: Program, inputs: npt.NDArray[np.float64], outputs: int) -> npt.NDArray[np.float64]:
    """(n, inputs) → (n, outputs): what is on top of the stack in the end. Raises ValueError where it fails."""
    return _run(program, inputs, outputs, _Work())


class _Work:
    left = MOST_WORK

    def count(self, rows: int) -> None:
        self.left -= rows + _STEP
        if self.left < 0:
            raise ValueError("a calculator function takes more work than a check may spend on it")


def _run(program: Program, inputs: npt.NDArray[np.float64], outputs: int, work: _Work) -> npt.NDArray[np.float64]:
    stack: list[Column] = list(inputs.T)
    try:
        with np.errstate(all="ignore"):
            _execute(program, stack, len(inputs), work)
    except _Differs:
        half = len(inputs) // 2
        halves = (inputs[:half], inputs[half:])
        return np.concatenate([_run(program, one, outputs, work) for one in halves])
    if len(stack) < outputs:
        raise ValueError("a calculator function leaves too few numbers")
    result = np.stack([np.asarray(column, dtype=np.float64) for column in stack[-outputs:]], axis=1)
    if np.isnan(result).any():
        raise ValueError("a calculator function has no value somewhere: it divides by zero, or the like")
    return result


def _execute(program: Program, stack: list[Column], rows: int, work: _Work) -> None:
    for item in program:
        work.count(rows)
        if isinstance(item, Branch):
            _choose(item, stack, rows, work)
        elif not isinstance(item, str):
            stack.append(np.broadcast_to(item, (rows,)))
        elif item in _STACK_OPERATORS:
            _STACK_OPERATORS[item](stack)
        else:
            arity, operate = _OPERATORS[item]
            if len(stack) < arity:
                raise ValueError(f"a calculator function has nothing on its stack for {item}")
            operands = stack[-arity:]
            del stack[-arity:]
            stack.append(operate(*operands))
        if len(stack) > MOST_ON_THE_STACK:
            raise ValueError(f"a calculator function puts more than {MOST_ON_THE_STACK} numbers on its stack")


def _choose(branch: Branch, stack: list[Column], rows: int, work: _Work) -> None:
    condition = _pop(stack)
    if condition.dtype != np.bool_:
        raise ValueError("a calculator function asks a number whether it is true")
    if condition.all():
        return _execute(branch.then, stack, rows, work)
    if not condition.any():
        return _execute(branch.otherwise, stack, rows, work)
    chosen, rest = [column[condition] for column in stack], [column[~condition] for column in stack]
    _execute(branch.then, chosen, int(condition.sum()), work)
    _execute(branch.otherwise, rest, int((~condition).sum()), work)
    if len(chosen) != len(rest):
        raise ValueError("the branches of a calculator function leave stacks of different heights")
    stack[:] = [_joined(condition, one, other) for one, other in zip(chosen, rest, strict=True)]
    return None


def _joined(condition: npt.NDArray[np.bool_], one: Column, other: Column) -> Column:
    if (one.dtype == np.bool_) != (other.dtype == np.bool_):
        raise ValueError("the branches of a calculator function leave a number and a truth value")
    column = np.empty(len(condition), dtype=np.result_type(one, other))
    column[condition], column[~condition] = one, other
    return column


# --- Stack operators --------------------------------------------------------------------------------------------------


def _pop(stack: list[Column]) -> Column:
    if not stack:
        raise ValueError("a calculator function takes from an empty stack")
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
        raise ValueError("a calculator function reaches below its stack")
    return stack[len(stack) - size :]


def _count(stack: list[Column], negative: bool = False) -> int:
    column = _integers(_pop(stack))
    if (column != column[0]).any():
        raise _Differs
    if column[0] < 0 and not negative:
        raise ValueError("a calculator function counts below zero")
    return int(column[0])


# --- Arithmetic, comparison, logic (Table 42) --------------------------------------------------------------------------


def _integers(column: Column) -> npt.NDArray[np.int64]:
    if column.dtype == np.bool_:
        raise ValueError("a calculator function counts with a truth value")
    if not ((column >= -_INTEGER_LIMIT) & (column < _INTEGER_LIMIT)).all():
        raise ValueError("a calculator function makes an integer beyond 32 bits")
    return np.trunc(column).astype(np.int64)


def _number(column: Column) -> Column:
    if column.dtype == np.bool_:
        raise ValueError("a calculator function reckons with a truth value")
    return column


def _real(column: Column) -> npt.NDArray[np.float64]:
    return _number(column).astype(np.float64)


def _within_integers(column: Column) -> Column:
    """A result as it is, or as reals where an integer is beyond 32 bits."""
    if column.dtype == np.int64 and not ((column >= -_INTEGER_LIMIT) & (column < _INTEGER_LIMIT)).all():
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
        raise ValueError("a calculator function divides by zero")
    return _within_integers(np.sign(a) * np.sign(b) * (np.abs(a) // np.abs(b)))


def _mod(dividend: Column, divisor: Column) -> Column:
    """The rest has the sign of the dividend."""
    a, b = _integers(dividend), _integers(divisor)
    if not b.all():
        raise ValueError("a calculator function divides by zero")
    return np.fmod(a, b)


def _atan(numerator: Column, denominator: Column) -> Column:
    """Degrees, 0 to 360."""
    y, x = _real(numerator), _real(denominator)
    return np.where((x == 0) & (y == 0), np.nan, np.degrees(np.arctan2(y, x)) % 360)


def _logical(operate: Callable[..., Column]) -> Callable[..., Column]:
    def checked(*operands: Column) -> Column:
        if len({column.dtype for column in operands}) > 1 or operands[0].dtype == np.float64:
            raise ValueError("a calculator function joins what are neither truth values nor integers")
        return operate(*operands)

    return checked


def _bitshift(value: Column, shift: Column) -> Column:
    """To the left for a positive shift; 32 bits, the uppermost being the sign."""
    bits, by = _integers(value), np.clip(_integers(shift), -32, 32)
    moved = np.where(by >= 0, (bits << np.maximum(by, 0)) & 0xFFFFFFFF, bits >> np.maximum(-by, 0))
    return np.where(moved >= _INTEGER_LIMIT, moved - 2 * _INTEGER_LIMIT, moved)


_OPERATORS: dict[str, tuple[int, Callable[..., Column]]] = {
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
_STACK_OPERATORS: dict[str, Callable[[list[Column]], object]] = {
    "copy": _copy, "dup": _duplicate, "exch": _exchange, "index": _index, "pop": _pop, "roll": _roll,
}  # fmt: skip
