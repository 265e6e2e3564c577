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
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from service.pdf.plates.colors.calculator_operators import INTEGER_LIMIT, OPERATORS, STACK_OPERATORS, Column, Differs, popped
from service.pdf.plates.unreadable import TooLarge, Unreadable

Constant = np.float64 | np.int64 | np.bool_

MOST_TOKENS = 50_000
DEEPEST_NESTING = 32
MOST_ON_THE_STACK = 100
"""The least that a reader must hold (7.10.5); files that need more fail elsewhere as well."""
MOST_WORK = 500_000_000
"""Values worked out by one run; each step counts for `_STEP` more, what it costs whatever the number of inputs."""
_STEP = 500
_TOKEN = re.compile(rb"[\x00\t\n\x0c\r ]+|%[^\r\n]*|([{}]|[^\x00\t\n\x0c\r {}%]+)")


@dataclass(frozen=True)
class Branch:
    """`{…} if`, or `{…} {…} ifelse`."""

    then: Program
    otherwise: Program


Program = tuple[Constant | str | Branch, ...]


# --- Reading ----------------------------------------------------------------------------------------------------------


def parsed(source: bytes) -> Program:
    """The program between the outer braces. Raises Unreadable where it is none."""
    tokens = [found[1] for found in _TOKEN.finditer(source) if found[1]]
    if len(tokens) > MOST_TOKENS:
        raise TooLarge("a calculator function has more than {count} words", count=MOST_TOKENS)
    if not tokens or tokens[0] != b"{":
        raise Unreadable("a calculator function does not start with a brace")
    program, end = _block(tokens, 1, 1)
    if end != len(tokens):
        raise Unreadable("a calculator function goes on behind its last brace")
    return program


def _block(tokens: Sequence[bytes], position: int, depth: int) -> tuple[Program, int]:
    if depth > DEEPEST_NESTING:
        raise TooLarge("a calculator function is nested more than {count} levels deep", count=DEEPEST_NESTING)
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
            raise Unreadable("a calculator function has a block without its if or ifelse")
        elif token == b"}":
            return tuple(items), position
        else:
            items.append(_word(token))
    raise Unreadable("a calculator function ends before its last brace")


def _word(token: bytes) -> Constant | str:
    word = token.decode("latin-1")
    if word in OPERATORS or word in STACK_OPERATORS:
        return word
    if word in ("true", "false"):
        return np.bool_(word == "true")
    if not re.fullmatch(r"[-+]?(\d+\.?\d*|\.\d+)([eE][-+]?\d{1,3})?", word) or len(word) > 60:
        raise Unreadable("a calculator function has the unknown word {word}", word=word[:40])
    value = float(word)
    whole = re.fullmatch(r"[-+]?\d+", word) is not None and abs(value) < INTEGER_LIMIT
    return np.int64(value) if whole else np.float64(value)


# --- Running ----------------------------------------------------------------------------------------------------------


def run(program: Program, inputs: npt.NDArray[np.float64], outputs: int) -> npt.NDArray[np.float64]:
    """(n, inputs) → (n, outputs): what is on top of the stack in the end. Raises Unreadable where it fails."""
    return _run(program, inputs, outputs, _Work())


class _Work:
    left = MOST_WORK

    def count(self, rows: int) -> None:
        self.left -= rows + _STEP
        if self.left < 0:
            raise TooLarge("a calculator function takes more work than a check may spend on it")


def _run(program: Program, inputs: npt.NDArray[np.float64], outputs: int, work: _Work) -> npt.NDArray[np.float64]:
    stack: list[Column] = list(inputs.T)
    try:
        with np.errstate(all="ignore"):
            _execute(program, stack, len(inputs), work)
    except Differs:
        half = len(inputs) // 2
        halves = (inputs[:half], inputs[half:])
        return np.concatenate([_run(program, one, outputs, work) for one in halves])
    if len(stack) < outputs:
        raise Unreadable("a calculator function leaves too few numbers")
    result = np.stack([np.asarray(column, dtype=np.float64) for column in stack[-outputs:]], axis=1)
    if np.isnan(result).any():
        raise Unreadable("a calculator function has no value somewhere: it divides by zero, or the like")
    return result


def _execute(program: Program, stack: list[Column], rows: int, work: _Work) -> None:
    for item in program:
        work.count(rows)
        if isinstance(item, Branch):
            _choose(item, stack, rows, work)
        elif not isinstance(item, str):
            stack.append(np.broadcast_to(item, (rows,)))
        elif item in STACK_OPERATORS:
            STACK_OPERATORS[item](stack)
        else:
            arity, operate = OPERATORS[item]
            if len(stack) < arity:
                raise Unreadable("a calculator function has too little on its stack for {operator}", operator=item)
            operands = stack[-arity:]
            del stack[-arity:]
            stack.append(operate(*operands))
        if len(stack) > MOST_ON_THE_STACK:
            raise Unreadable("a calculator function puts more than {count} numbers on its stack", count=MOST_ON_THE_STACK)


def _choose(branch: Branch, stack: list[Column], rows: int, work: _Work) -> None:
    condition = popped(stack)
    if condition.dtype != np.bool_:
        raise Unreadable("a calculator function asks a number whether it is true")
    if condition.all():
        return _execute(branch.then, stack, rows, work)
    if not condition.any():
        return _execute(branch.otherwise, stack, rows, work)
    chosen, rest = [column[condition] for column in stack], [column[~condition] for column in stack]
    _execute(branch.then, chosen, int(condition.sum()), work)
    _execute(branch.otherwise, rest, int((~condition).sum()), work)
    if len(chosen) != len(rest):
        raise Unreadable("the branches of a calculator function leave stacks of different heights")
    stack[:] = [_joined(condition, one, other) for one, other in zip(chosen, rest, strict=True)]
    return None


def _joined(condition: npt.NDArray[np.bool_], one: Column, other: Column) -> Column:
    if (one.dtype == np.bool_) != (other.dtype == np.bool_):
        raise Unreadable("the branches of a calculator function leave a number and a truth value")
    column = np.empty(len(condition), dtype=np.result_type(one, other))
    column[condition], column[~condition] = one, other
    return column
