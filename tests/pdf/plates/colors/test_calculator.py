"""Calculator functions: examples of the PostScript Language Reference, third edition, chapter 8, and hand arithmetic.

`tests/outside/test_calculator.py` holds every operator against Ghostscript.
"""

from __future__ import annotations

import numpy as np
import pytest

from service.pdf.plates.colors import calculator


def values(source: str, *inputs: float, outputs: int = 1) -> list[float]:
    program = calculator.parsed(source.encode())
    given = np.array([inputs], dtype=np.float64)
    return calculator.run(program, given, outputs)[0].tolist()  # type: ignore[no-any-return]


@pytest.mark.parametrize(
    ("source", "expected"),
    [
        ("{5 3 idiv}", 1), ("{-5 2 idiv}", -2), ("{-5 3 mod}", -2), ("{5 -3 mod}", 2), ("{3 2 div}", 1.5),
        ("{0 1 atan}", 0), ("{1 0 atan}", 90), ("{-100 0 atan}", 270), ("{4 4 atan}", 45),
        ("{9 0.5 exp}", 3), ("{-9 -1 exp}", -1 / 9), ("{10 ln}", 2.302585), ("{100 log}", 2),
        ("{30 sin}", 0.5), ("{60 cos}", 0.5),
        ("{-4.8 truncate}", -4), ("{6.5 round}", 7), ("{-6.5 round}", -6), ("{-4.8 ceiling}", -4), ("{-4.8 floor}", -5),
        ("{-47.8 cvi}", -47), ("{99 1 and}", 1), ("{52 7 xor}", 51), ("{17 5 or}", 21), ("{52 not}", -53),
        ("{7 3 bitshift}", 56), ("{142 -3 bitshift}", 17), ("{true false or}", 1), ("{true not}", 0),
        ("{1 1.0 eq}", 1), ("{3 4 ge}", 0), ("{2147483647 1 add}", 2147483648), ("{-2147483648 abs}", 2147483648),
        ("{% a remark\n1 2 exch sub}", 1), ("{.5 -.25 add}", 0.25), ("{+3 2.5e1 mul}", 75),
    ],
)
def test_an_operator_gives_what_the_language_says(source: str, expected: float) -> None:
    assert values(source) == pytest.approx([expected], abs=1e-6)


@pytest.mark.parametrize(
    ("source", "expected"),
    [
        ("{1 2 3 3 -1 roll}", [2, 3, 1]),
        ("{1 2 3 3 1 roll}", [3, 1, 2]),
        ("{1 2 3 3 0 roll}", [1, 2, 3]),
        ("{1 2 3 3 -5 roll}", [3, 1, 2]),
        ("{7 1 2 2 copy pop}", [7, 1, 2, 1]),
        ("{1 2 3 0 index}", [1, 2, 3, 3]),
        ("{1 2 3 2 index}", [1, 2, 3, 1]),
        ("{1 2 0 copy}", [1, 2]),
        ("{1 2 dup exch}", [1, 2, 2]),
    ],
)
def test_the_stack_is_turned_and_copied(source: str, expected: list[float]) -> None:
    assert values(source, outputs=len(expected)) == expected


def test_each_input_takes_its_own_branch() -> None:
    program = calculator.parsed(b"{dup 0.5 lt {2 mul} {dup 0.75 lt {pop 9} if} ifelse}")
    assert calculator.run(program, np.array([[0.1], [0.6], [0.8], [0.4]]), 1)[:, 0].tolist() == [0.2, 9, 0.8, 0.8]


def test_a_count_may_differ_from_input_to_input() -> None:
    program = calculator.parsed(b"{10 20 30 4 -1 roll cvi index}")
    assert calculator.run(program, np.array([[0.0], [2], [1], [1]]), 1)[:, 0].tolist() == [30, 10, 20, 20]


def test_a_program_with_an_empty_block_changes_nothing() -> None:
    assert values("{dup 0 lt {} if}", -3) == [-3]


@pytest.mark.parametrize(
    "source",
    [
        "",
        "1 2 add",
        "{1 2 add",
        "{1} {2}",
        "{1 2 add} 3",
        "{{1}}",
        "{true {1} ifelse}",
        "{1 system}",
        "{1 0x10 add}",
        "{" * 40 + "}" * 40,
    ],
)
def test_what_is_no_program_is_refused(source: str) -> None:
    with pytest.raises(ValueError, match="calculator function"):
        calculator.parsed(source.encode())


@pytest.mark.parametrize(
    "source",
    [
        "{pop}", "{pop pop}", "{add}", "{1 5 index}", "{1 -1 index}", "{1 -1 copy}", "{2 1 roll}", "{exch}",
        "{1 0 idiv}", "{1 0 mod}", "{0 0 div}", "{-1 sqrt}", "{-1 ln}", "{0 0 atan}", "{-8 0.5 exp}", "{1e30 cvi}",
        "{1 {2} if}", "{1.5 not}", "{true 1 add}", "{true 1 and}", "{1 1.5 or}",
        "{0.5 lt {1 2} {1} ifelse}", "{0.5 lt {1} {true} ifelse}",
    ],
)
def test_a_program_without_a_value_fails_as_a_whole(source: str) -> None:
    program = calculator.parsed(source.encode())
    with pytest.raises(ValueError, match="calculator function"):
        calculator.run(program, np.array([[0.0], [1.0]]), 1)


def test_a_program_cannot_fill_memory_or_take_for_ever() -> None:
    deep = calculator.parsed(b"{" + b"dup " * 200 + b"}")
    with pytest.raises(ValueError, match="stack"):
        calculator.run(deep, np.zeros((1, 1)), 1)
    with pytest.raises(ValueError, match="words"):
        calculator.parsed(b"{" + b"1 pop " * calculator.MOST_TOKENS + b"}")
    differing = calculator.parsed(b"{dup cvi 2 mod pop cvi 1 exch roll" + b" 1 pop" * 20_000 + b"}")
    with pytest.raises(ValueError, match=r"work|stack"):
        calculator.run(differing, np.arange(5000.0)[:, np.newaxis], 1)
