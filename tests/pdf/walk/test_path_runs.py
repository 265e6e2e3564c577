"""A run of path operators followed at once tells the very marks that following them one by one tells."""

from __future__ import annotations

from collections.abc import Mapping

import pikepdf
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.pdf.content.resources import Resources, Shared
from service.pdf.content.work_limits import TooMuchWork
from service.pdf.facts.geometry import Box, Matrix
from service.pdf.reading.lexer import RUN
from service.pdf.walk import path_runs, run_ends, runs
from service.pdf.walk.path_runs import path_run
from service.pdf.walk.run_ends import PATH_RUN, run_end
from service.pdf.walk.table import HANDLERS
from service.pdf.walk.walker import Handler, Mark, Walk

SHEET = Box(-10, -10, 400, 400)
ONE_BY_ONE = {operator: handler for operator, handler in HANDLERS.items() if operator != RUN}
NUMBERS = st.one_of(
    st.integers(-300, 300).map(str), st.floats(-300, 300).map(lambda one: f"{one:.3f}"), st.sampled_from([".5", "-.25", "7."])
)
OPERANDS = {
    "m": 2, "l": 2, "c": 6, "v": 4, "y": 4, "re": 4, "h": 0, "n": 0, "w": 1, "k": 4, "K": 4, "g": 1, "G": 1, "rg": 3, "RG": 3,
    "f": 0, "F": 0, "f*": 0, "S": 0, "s": 0, "B": 0, "B*": 0, "b": 0, "b*": 0, "W": 0, "q": 0, "Q": 0,
}
TURNED = Matrix(0.3, 0.1, -0.1, 0.3, 5, 7)


@st.composite
def operations(draw: st.DrawFn) -> str:
    operator = draw(st.sampled_from(list(OPERANDS)))
    return " ".join([*(draw(NUMBERS) for _ in range(OPERANDS[operator])), operator])


def followed(content: bytes, handlers: Mapping[bytes, Handler], ruler: Matrix = TURNED) -> tuple[list[Mark], Walk]:
    marks: list[Mark] = []
    with pikepdf.new() as pdf:
        walk = Walk(handlers, ruler, SHEET, Shared(pdf), [marks.append])
        walk.run(content, Resources(None, walk.shared))
    return marks, walk


@pytest.fixture(autouse=True)
def _runs_however_short(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(path_runs, "LEAST_STREAM_BYTES", 0)
    monkeypatch.setattr(runs, "LEAST_BYTES", 0)
    monkeypatch.setattr(run_ends, "_LOOK_BYTES", 16)


@settings(max_examples=150, deadline=None)
@given(st.lists(operations(), max_size=40), st.sampled_from([TURNED, Matrix(0.3, 0, 0, -0.3, 0, 200)]))
def test_a_run_tells_what_its_operators_tell(those: list[str], ruler: Matrix) -> None:
    content = "\n".join(those).encode() + b"\n"
    at_once, walk = followed(content, HANDLERS, ruler)
    one_by_one, other = followed(content, ONE_BY_ONE, ruler)
    assert at_once == one_by_one
    assert walk.operators_left == other.operators_left


@pytest.mark.parametrize(
    "content",
    [b"1 --2 m 3 4 l f ", b"1-2 3 m 3 4 l f ", b"1 2 3 m 4 5 l f ", b"1.2.3 4 m 9 9 l f ", b". 4 m 9 9 l f ", b"4 m 9 9 l f ",
     b"1.2345678901234567 4 m 9 9 l f "],
)
def test_what_is_out_of_the_ordinary_is_left_to_the_single_operators(content: bytes) -> None:
    assert path_run(content) is None
    assert followed(content, HANDLERS)[0] == followed(content, ONE_BY_ONE)[0] != []


def test_a_number_is_read_as_python_reads_it() -> None:
    parts = ("1", "30000001", "7654321")
    values = [f"{sign}{whole}.{part}" for sign in ("", "-", "+") for whole in (0, 7, 12345) for part in parts]
    found = path_run(" ".join(f"{one} 0 m" for one in values).encode() + b" ")
    assert found is not None
    assert found.values[::2].tolist() == [float(one) for one in values]


ODD = st.sampled_from(["1 0 0 1 5 5 cm", "/G gs", "0.5 sc", "12m", "f1", "lm", "ref", "rgx", "fB*", "(m)", "%", "1 2", "-"])


@settings(max_examples=300, deadline=None)
@given(st.lists(st.one_of(operations(), operations(), operations(), ODD), max_size=30), st.sampled_from([" ", "\n", "  \r\n "]))
def test_a_run_ends_where_its_pattern_ends(those: list[str], blank: str) -> None:
    content = blank.join(those).encode() + b" "
    found = run_end(content, 0)
    if found is None:
        assert PATH_RUN.match(content, 0, 16) is None
    else:
        matched = PATH_RUN.match(content)
        assert matched
        assert content[:found].rstrip() == matched[0].rstrip()


def test_the_limit_of_operators_holds_in_a_run() -> None:
    with pikepdf.new() as pdf:
        walk = Walk(HANDLERS, TURNED, SHEET, Shared(pdf), [])
        walk.operators_left = 5
        with pytest.raises(TooMuchWork):
            walk.run(b"1 1 2 2 re f " * 3, Resources(None, walk.shared))
