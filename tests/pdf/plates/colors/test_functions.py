"""PDF functions (ISO 32000-2:2020, 7.10) against hand arithmetic from the formulas of the standard."""

from __future__ import annotations

from typing import Any

import numpy as np
import pikepdf
import pytest
from pikepdf import Array, Dictionary, Name, Pdf, Stream

from service.pdf.plates.colors.functions import function_of, unpacked
from service.pdf.reading.reading_errors import READING_ERRORS
from tests.pdf.plates.gradients import packed, program

PDF = Pdf.new()


def at(function: pikepdf.Object, *inputs: float) -> list[float]:
    return function_of(function)(np.array([inputs], dtype=np.float64))[0].tolist()  # type: ignore[no-any-return]


def sampled(samples: list[int], depth: int = 8, sizes: tuple[int, ...] = (2,), outputs: int = 1, **entries: Any) -> Stream:
    data = packed([[(one, depth) for one in samples]])
    made = Stream(PDF, data, FunctionType=0, BitsPerSample=depth, Size=Array(sizes))
    made.Domain, made.Range = Array([0, 1] * len(sizes)), Array([0, 1] * outputs)
    for key, value in entries.items():
        made[f"/{key}"] = Array(value) if isinstance(value, list) else value
    return made


# --- Type 0 -----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("depth", [1, 2, 4, 8, 12, 16, 24, 32])
def test_samples_of_every_depth_span_the_range(depth: int) -> None:
    full = 2**depth - 1
    function = sampled([0, full, 0], depth, (3,))
    assert [at(function, x)[0] for x in (0, 0.25, 0.5, 1)] == pytest.approx([0, 0.5, 1, 0])


def test_several_outputs_stand_side_by_side_in_the_samples() -> None:
    function = sampled([0, 255, 51, 255, 0, 51], outputs=3)
    assert at(function, 0.25) == pytest.approx([0.25, 0.75, 0.2])


def test_the_first_input_of_a_sampled_function_varies_fastest() -> None:
    # rows: y = 0 has 0, 1, 0 along x; y = 1 has 1, 1, 0.2
    function = sampled([0, 255, 0, 255, 255, 51], sizes=(3, 2))
    assert at(function, 0.5, 0) == [1]
    assert at(function, 1, 1) == pytest.approx([0.2])
    assert at(function, 0.25, 0.5) == pytest.approx([(0 + 1 + 1 + 1) / 4])


def test_four_inputs_are_interpolated_in_all_directions() -> None:
    corners = [255 * ((n & 1) + (n >> 1 & 1) + (n >> 2 & 1) + (n >> 3 & 1)) // 4 for n in range(16)]
    function = sampled(corners, 16, (2, 2, 2, 2), Range=[0, 4], Decode=[0, 4 * 65535 / 255])
    assert at(function, 0.1, 0.2, 0.3, 0.4) == pytest.approx([1.0], abs=0.02)


def test_encode_and_decode_of_a_sampled_function_are_followed() -> None:
    turned = sampled([0, 255], Encode=[1, 0], Decode=[0.2, 0.6])
    assert at(turned, 0.25) == pytest.approx([0.2 + 0.75 * 0.4])
    beyond = sampled([0, 255], Encode=[0, 4])
    assert at(beyond, 0.9) == [1]


def test_a_single_sample_is_a_constant() -> None:
    assert at(sampled([51], sizes=(1,)), 0.7) == pytest.approx([0.2])


def test_samples_that_are_cut_off_are_refused() -> None:
    with pytest.raises(ValueError, match="last sample"):
        function_of(sampled([0, 255], sizes=(3,)))


# --- Types 2 and 3 ----------------------------------------------------------------------------------------------------


def test_a_blend_follows_its_exponent() -> None:
    function = Dictionary(FunctionType=2, Domain=[0, 1], C0=[0, 0.2], C1=[1, 0.6], N=2)
    assert at(function, 0.5) == pytest.approx([0.25, 0.3])


def test_a_blend_without_colours_goes_from_none_to_full() -> None:
    assert at(Dictionary(FunctionType=2, Domain=[0, 1], N=1), 0.3) == pytest.approx([0.3])


def test_inputs_and_outputs_are_clipped() -> None:
    function = Dictionary(FunctionType=2, Domain=[0, 1], C0=[0], C1=[2], N=1, Range=[0, 1.5])
    assert [at(function, x)[0] for x in (-5, 0.5, 5)] == [0, 1, 1.5]


def blend(start: float, end: float) -> Dictionary:
    return Dictionary(FunctionType=2, Domain=[0, 1], C0=[start], C1=[end], N=1)


def test_each_part_of_a_stitched_function_starts_at_its_bound() -> None:
    parts = Array([blend(0, 0.4), blend(0.6, 0.8), blend(0.9, 1)])
    function = Dictionary(FunctionType=3, Domain=[0, 4], Functions=parts, Bounds=[1, 2], Encode=[0, 1, 1, 0, 0, 1])
    found = [at(function, x)[0] for x in (0, 0.999999, 1, 1.5, 2, 3, 4, 9)]
    assert found == pytest.approx([0, 0.4, 0.8, 0.7, 0.9, 0.95, 1, 1], abs=1e-5)


def test_a_hard_edge_in_a_stitched_function_has_no_width() -> None:
    parts = Array([blend(0, 0.4), blend(0.5, 0.6), blend(0.9, 1)])
    function = Dictionary(FunctionType=3, Domain=[0, 1], Functions=parts, Bounds=[0.5, 0.5], Encode=[0, 1] * 3)
    assert at(function, 0.5) == [0.9]


# --- Type 4, lists ----------------------------------------------------------------------------------------------------


def test_a_program_is_a_function_with_its_range() -> None:
    assert at(program(PDF, "{2 copy add 3 1 roll sub}", [0, 1, 0, 1], 2), 0.75, 0.5) == [1, 0.25]


def test_a_list_of_functions_is_one_of_several_outputs() -> None:
    assert at(Array([blend(0, 1), blend(1, 0), sampled([0, 255])]), 0.25) == pytest.approx([0.25, 0.75, 0.25])


def test_functions_answer_for_many_inputs_at_once_and_for_none() -> None:
    function = function_of(Array([blend(0, 1), blend(1, 0)]))
    assert function(np.array([[0.0], [1], [0.5]])).tolist() == [[0, 1], [1, 0], [0.5, 0.5]]
    assert function(np.empty((0, 1))).shape == (0, 2)
    with pytest.raises(ValueError, match="inputs"):
        function(np.zeros((3, 2)))


# --- Damage and hostility ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "function",
    [
        Name.Identity,
        Array([]),
        Array([Array([blend(0, 1)])]),
        Dictionary(FunctionType=5, Domain=[0, 1]),
        Dictionary(FunctionType=2, N=1),
        Dictionary(FunctionType=2, Domain=[0, 1], C0=[0], C1=[1, 1], N=1),
        Dictionary(FunctionType=2, Domain=[1, 0], N=1),
        Dictionary(FunctionType=2, Domain=[0, 1, 0], N=1),
        Dictionary(FunctionType=2, Domain=[0, 1], N=1, Range=[0, 1, 0, 1]),
        Dictionary(FunctionType=2, Domain=[0, Name.One], N=1),
        Dictionary(FunctionType=3, Domain=[0, 1], Functions=[], Bounds=[], Encode=[]),
        Dictionary(FunctionType=3, Domain=[0, 1], Functions=[blend(0, 1)] * 2, Bounds=[], Encode=[0, 1, 0, 1]),
        Dictionary(FunctionType=3, Domain=[0, 1], Functions=[blend(0, 1)] * 2, Bounds=[2], Encode=[0, 1, 0, 1]),
        Dictionary(FunctionType=0, Domain=[0, 1], Range=[0, 1], Size=[2], BitsPerSample=8),
        sampled([0, 255], sizes=(0,)),
        sampled([0, 255], BitsPerSample=7),
        sampled([0, 255], sizes=(1_000_000_000,)),
        sampled([0, 255], sizes=(3000, 3000)),
        sampled([0] * 32, sizes=(2,) * 5),
        sampled([0, 255], Range=[0, 1] * 40),
    ],
)
def test_a_damaged_or_giant_function_is_refused(function: Any) -> None:
    with pytest.raises(READING_ERRORS):
        function_of(function)


def test_a_function_without_a_value_is_refused_when_it_is_asked() -> None:
    endless = Dictionary(FunctionType=2, Domain=[0, 1], N=-1)
    assert at(endless, 0.5) == [2]
    with pytest.raises(ValueError, match="no finite value"):
        at(endless, 0)


def test_a_function_that_holds_itself_ends() -> None:
    pdf = Pdf.new()
    function = pdf.make_indirect(Dictionary(FunctionType=3, Domain=[0, 1], Bounds=[0.5], Encode=[0, 1, 0, 1]))
    function.Functions = Array([function, function])
    with pytest.raises(ValueError, match="put together"):
        function_of(function)


def test_one_large_table_cannot_be_read_a_thousand_times() -> None:
    table = PDF.make_indirect(sampled([0] * 20_000, sizes=(20_000,)))
    many = Dictionary(FunctionType=3, Domain=[0, 1], Functions=Array([table] * 1000))
    many.Bounds, many.Encode = Array([n / 1000 for n in range(1, 1000)]), Array([0, 1] * 1000)
    with pytest.raises(ValueError, match="larger"):
        function_of(many)


def test_numbers_are_unpacked_across_byte_borders() -> None:
    assert unpacked(bytes.fromhex("abcdef"), 12, 2).tolist() == [0xABC, 0xDEF]
    assert unpacked(bytes.fromhex("b0"), 1, 4).tolist() == [1, 0, 1, 1]
    assert unpacked(bytes.fromhex("fffefdfc"), 32, 1).tolist() == [0xFFFEFDFC]
