"""PDF functions (ISO 32000-2:2020, 7.10), evaluated for many inputs at once.

* Type 0 from its samples by linear interpolation, whatever `Order` asks: a reader may (7.10.2). Up to four inputs.
* Type 2 is exponential, type 3 puts functions together, type 4 is a small program (`calculator`).
* An array of functions of one output each is one function of several outputs (8.7.4.5).
* Inputs are clipped to the domain, outputs to the range.

A function that is damaged, too large, or without a value at some input raises Unreadable: it is never guessed.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import product
from math import isfinite, prod

import numpy as np
import numpy.typing as npt
import pikepdf

from service.pdf.plates.colors import calculator
from service.pdf.plates.unreadable import TooLarge, Unreadable
from service.pdf.reading.streams import content_bytes

Values = npt.NDArray[np.float64]
"""(n, inputs or outputs)."""

DEEPEST_NESTING = 8
MOST_FUNCTIONS = 10_000
"""In one function with all that it puts together."""
MOST_INPUTS = 4
MOST_OUTPUTS = 32
"""Of colorants, the most that DeviceN has in the readers that the standard asks for."""
MOST_SAMPLES = 8_000_000
"""Numbers of sampled functions, and bytes of programs a hundredfold, in one function with all that it puts together."""
_PER_BYTE = 100
SAMPLE_DEPTHS = (1, 2, 4, 8, 12, 16, 24, 32)


@dataclass(frozen=True)
class Function:
    """Call it with (n, inputs); it answers with (n, outputs)."""

    inputs: int
    outputs: int
    domain: Values
    """(inputs, 2)."""
    range: Values | None
    """(outputs, 2)."""
    evaluate: Callable[[Values], Values]

    def __call__(self, values: Values) -> Values:
        if values.ndim != 2 or values.shape[1] != self.inputs:
            raise Unreadable("a function of {count} inputs is given others", count=self.inputs)
        if not len(values):
            return np.empty((0, self.outputs))
        result = self.evaluate(np.clip(values, self.domain[:, 0], self.domain[:, 1]))
        if np.isnan(result).any():
            raise Unreadable("a function has no value at some of its inputs")
        if self.range is not None:
            result = np.clip(result, self.range[:, 0], self.range[:, 1])
        if not np.isfinite(result).all():
            raise Unreadable("a function has no finite value at some of its inputs")
        return result


def function_of(written: pikepdf.Object) -> Function:
    """The function that a dictionary, a stream or an array of them stands for. Raises Unreadable and what reading raises."""
    return _Reader().read(written, 0)


def floats(written: object, least: int = 0) -> tuple[float, ...]:
    """The finite numbers of an array; ValueError where it is none, or shorter than this."""
    if not isinstance(written, pikepdf.Array) or len(written) < least:
        raise Unreadable("numbers of a gradient are missing")
    if len(written) > MOST_FUNCTIONS * 2:
        raise TooLarge("a gradient lists more numbers than a check may read")
    found = tuple(float(one) for one in written)
    if not all(map(isfinite, found)):
        raise Unreadable("a gradient has a number without end")
    return found


class _Reader:
    """Reads functions within functions, and counts them."""

    def __init__(self) -> None:
        self.left = MOST_FUNCTIONS
        self.samples_left = MOST_SAMPLES

    def read(self, written: pikepdf.Object, depth: int) -> Function:
        self.left -= 1
        if self.left < 0 or depth > DEEPEST_NESTING:
            raise TooLarge("a function is put together from more functions than a check may read")
        if isinstance(written, pikepdf.Array):
            return self._side_by_side(written, depth)
        if not isinstance(written, pikepdf.Dictionary | pikepdf.Stream):
            raise Unreadable("a function is missing")
        domain = _pairs(written.get("/Domain"))
        found_range = _pairs(written.Range) if "/Range" in written else None
        if len(domain) > MOST_INPUTS or (found_range is not None and len(found_range) > MOST_OUTPUTS):
            raise TooLarge(
                "a function has more than {inputs} inputs or {outputs} outputs", inputs=MOST_INPUTS, outputs=MOST_OUTPUTS
            )
        kind = written.get("/FunctionType")
        if kind in (0, 4) and isinstance(written, pikepdf.Stream):
            if found_range is None:
                raise Unreadable("a function does not say its range")
            evaluate = (self._sampled if kind == 0 else self._calculated)(written, domain, found_range)
            return Function(len(domain), len(found_range), domain, found_range, evaluate)
        if kind not in (2, 3) or len(domain) != 1:
            raise Unreadable("a function is of no kind that the standard knows")
        outputs, evaluate = _exponential(written) if kind == 2 else self._stitched(written, domain[0], depth)
        if found_range is not None and len(found_range) != outputs:
            raise Unreadable("a function gives another number of values than its range")
        return Function(1, outputs, domain, found_range, evaluate)

    def _side_by_side(self, written: pikepdf.Array, depth: int) -> Function:
        if not 1 <= len(written) <= MOST_OUTPUTS or any(isinstance(one, pikepdf.Array) for one in written):
            raise Unreadable("a list of functions is empty, nested or too long")
        functions = [self.read(one, depth + 1) for one in written]
        inputs, outputs = functions[0].inputs, sum(one.outputs for one in functions)
        if any(one.inputs != inputs for one in functions) or outputs > MOST_OUTPUTS:
            raise Unreadable("functions side by side do not fit together")
        domain = np.tile((-np.inf, np.inf), (inputs, 1))
        return Function(inputs, outputs, domain, None, lambda values: np.hstack([one(values) for one in functions]))

    def _stitched(self, written: pikepdf.Object, domain: Values, depth: int) -> tuple[int, Callable[[Values], Values]]:
        """Type 3 (7.10.4): each part of the domain, closed at its lower end, has a function of its own."""
        listed = written.get("/Functions")
        if not isinstance(listed, pikepdf.Array) or not len(listed):
            raise Unreadable("a function is put together from nothing")
        functions = [self.read(one, depth + 1) for one in listed]
        outputs = functions[0].outputs
        if any(one.inputs != 1 or one.outputs != outputs for one in functions):
            raise Unreadable("the parts of a function do not fit together")
        bounds = np.array(floats(written.get("/Bounds"), len(functions) - 1)[: len(functions) - 1])
        encode = np.array(floats(written.get("/Encode"), 2 * len(functions))[: 2 * len(functions)]).reshape(-1, 2)
        edges = np.concatenate([domain[:1], bounds, domain[1:]])
        if (np.diff(edges) < 0).any():
            raise Unreadable("the parts of a function are out of order")

        def evaluate(values: Values) -> Values:
            part = np.searchsorted(bounds, values[:, 0], side="right")
            result = np.empty((len(values), outputs))
            for number in np.unique(part):
                chosen = part == number
                inner = _mapped(values[chosen], edges[number : number + 2], encode[number])
                result[chosen] = functions[number](inner)
            return result

        return outputs, evaluate

    def _calculated(self, written: pikepdf.Stream, _domain: Values, found_range: Values) -> Callable[[Values], Values]:
        source = content_bytes(written)
        self._spend(len(source) * _PER_BYTE)
        program = calculator.parsed(source)
        return lambda values: calculator.run(program, values, len(found_range))

    def _sampled(self, written: pikepdf.Stream, domain: Values, found_range: Values) -> Callable[[Values], Values]:
        """Type 0 (7.10.2)."""
        inputs, outputs = len(domain), len(found_range)
        sizes = [int(size) for size in floats(written.get("/Size"), inputs)[:inputs]]
        depth = int(written.get("/BitsPerSample", 0))
        if min(sizes) < 1 or depth not in SAMPLE_DEPTHS:
            raise Unreadable("a sampled function has no samples, or ones of an unknown depth")
        self._spend(prod(sizes) * outputs)
        samples = unpacked(content_bytes(written), depth, prod(sizes) * outputs).reshape(-1, outputs)
        usual = [value for size in sizes for value in (0.0, size - 1.0)]
        encode = np.array(floats(written.Encode, 2 * inputs)[: 2 * inputs] if "/Encode" in written else usual).reshape(-1, 2)
        decode = found_range
        if "/Decode" in written:
            decode = np.array(floats(written.Decode, 2 * outputs)[: 2 * outputs]).reshape(-1, 2)
        table = decode[:, 0] + samples * ((decode[:, 1] - decode[:, 0]) / (2**depth - 1))

        def evaluate(values: Values) -> Values:
            places = [_mapped(values[:, at], domain[at], encode[at]) for at in range(inputs)]
            return _interpolated(table, sizes, places)

        return evaluate

    def _spend(self, samples: int) -> None:
        self.samples_left -= samples
        if self.samples_left < 0:
            raise TooLarge("a function is larger than a check may read")


def _pairs(written: object) -> Values:
    numbers = floats(written, 2)
    if len(numbers) % 2:
        raise Unreadable("a function's domain or range lacks an end")
    pairs = np.array(numbers).reshape(-1, 2)
    if (pairs[:, 0] > pairs[:, 1]).any():
        raise Unreadable("a function's domain or range ends before it starts")
    return pairs


def _mapped(values: Values, source: Sequence[float] | Values, target: Sequence[float] | Values) -> Values:
    """From one interval to another; an interval without width maps to the start."""
    width = source[1] - source[0]
    if width == 0:
        return np.full_like(values, target[0])
    mapped: Values = target[0] + (values - source[0]) * ((target[1] - target[0]) / width)
    return mapped


def _exponential(written: pikepdf.Object) -> tuple[int, Callable[[Values], Values]]:
    """Type 2 (7.10.3): C0 + x^N · (C1 − C0)."""
    start = np.array(floats(written.C0, 1) if "/C0" in written else (0.0,))
    end = np.array(floats(written.C1, 1) if "/C1" in written else (1.0,))
    exponent = float(written.get("/N", 1))
    if len(start) != len(end) or len(start) > MOST_OUTPUTS or not isfinite(exponent):
        raise Unreadable("a blend between two colours has them of different kinds")

    def evaluate(values: Values) -> Values:
        with np.errstate(all="ignore"):
            blended: Values = start + np.power(values[:, :1], exponent) * (end - start)
        return blended

    return len(start), evaluate


def _interpolated(table: Values, sizes: Sequence[int], places: Sequence[Values]) -> Values:
    """Between the nearest samples on all sides, in proportion. The first input varies fastest."""
    index, fraction = [], []
    for size, place in zip(sizes, places, strict=True):
        held = np.clip(place, 0, size - 1)
        whole = np.minimum(held.astype(np.int64), max(size - 2, 0))
        index.append(whole)
        fraction.append((held - whole)[:, np.newaxis])
    steps = [prod(sizes[:at]) for at in range(len(sizes))]
    result = np.zeros((len(places[0]), table.shape[1]))
    for corner in product((0, 1), repeat=len(sizes)):
        if all(up < size for up, size in zip(corner, sizes, strict=True)):
            weight = prod((part if up else 1 - part) for up, part in zip(corner, fraction, strict=True))
            row = sum((one + up) * step for one, up, step in zip(index, corner, steps, strict=True))
            result += weight * table[row]
    return result


def unpacked(data: bytes, depth: int, count: int) -> npt.NDArray[np.uint32]:
    """So many unsigned numbers of so many bits, one right behind the other. Raises Unreadable where they are not there."""
    needed = (count * depth + 7) // 8
    if len(data) < needed:
        raise Unreadable("a function or gradient ends before its last sample")
    octets = np.frombuffer(data, dtype=np.uint8, count=needed)
    pieces = octets.reshape(count, -1) if depth % 8 == 0 else np.unpackbits(octets, count=count * depth).reshape(count, depth)
    width = 8 if depth % 8 == 0 else 1
    result = np.zeros(count, dtype=np.uint32)
    for column in pieces.T:
        result = np.bitwise_or(result << width, column, dtype=np.uint32)
    return result
