"""The current colour has one truth: what the walk tells as painted is what comes out on the plates (ISO 32000-2:2020, 8.6.8)."""

from __future__ import annotations

from pathlib import Path

import pikepdf
import pytest
from pikepdf import Array, Dictionary, Name, Pdf, Stream

from service.pdf.content.color_spaces import CMYK, GRAY, PATTERN, color_space
from service.pdf.content.current_color import BLACK, color_in_space, color_of_new_space
from service.pdf.content.resources import Resources, Shared
from service.pdf.content.state_parameters import state_parameters
from service.pdf.facts.geometry import Box
from service.pdf.plates.colors.inks import process_by_formula
from service.pdf.plates.separation import PageToSeparate, separate
from service.pdf.reading.lexer import operations
from tests.build import PageBuilder, page
from tests.build_objects import separation
from tests.pdf.gather.content_of import content_of

INKS = ("Cyan", "Magenta", "Yellow", "Black", "Foil")
AREA = b" 60 60 50 40 re f"


def tiles(paint_type: int, content: bytes) -> object:
    def make(pdf: Pdf) -> object:
        made = Stream(pdf, content, PatternType=1, PaintType=paint_type, TilingType=1, XStep=5, YStep=5)
        made.BBox, made.Resources = Array([0, 0, 5, 5]), Dictionary()
        return pdf.make_indirect(made)

    return make


def gradient(pdf: Pdf) -> object:
    function = Dictionary(FunctionType=2, Domain=Array([0, 1]), C0=Array([0.4]), C1=Array([1]), N=1)
    shading = Dictionary(ShadingType=2, ColorSpace=separation("Foil"), Coords=Array([0, 0, 9, 0]), Function=function)
    shading.Extend = Array([True, True])
    return pdf.make_indirect(Dictionary(PatternType=2, Shading=shading))


def built(content: bytes) -> PageBuilder:
    made = page(85, 55, bleed=0)
    made.resource("ColorSpace", "Foil", separation("Foil"))
    made.resource("ColorSpace", "Uncoloured", Array([Name.Pattern, Name.DeviceCMYK]))
    made.resource("Pattern", "Tiles", tiles(1, b"1 0 0 0 k 0 0 5 5 re f"))
    made.resource("Pattern", "Stencil", tiles(2, b"0 0 5 5 re f"))
    made.resource("Pattern", "Gradient", gradient)
    made.resource("Pattern", "NoTiles", Dictionary(PatternType=1, PaintType=1))
    return made.raw(content)


CASES = {
    "the initial colour is black in DeviceGray (8.6.8)": (AREA, {"Black"}),
    "cs sets the initial colour: DeviceCMYK's is black (8.6.4.4)": (b"/DeviceCMYK cs" + AREA, {"Black"}),
    "a spot's is full (8.6.6.4)": (b"/Foil cs" + AREA, {"Foil"}),
    "a Pattern's paints nothing (8.6.6.2)": (b"1 0 0 0 k /Pattern cs" + AREA, set[str]()),
    "an uncoloured Pattern's, too": (b"1 0 0 0 k /Uncoloured cs" + AREA, set[str]()),
    "tiles in colours of their own": (b"/Pattern cs /Tiles scn" + AREA, {"Cyan"}),
    "tiles in the colour that stands before the name (8.7.3.3)": (b"/Uncoloured cs 0 0 1 0 /Stencil scn" + AREA, {"Yellow"}),
    "a shading, in its own space": (b"/Pattern cs /Gradient scn" + AREA, {"Foil"}),
    "a pattern that is not there paints nothing": (b"1 0 0 0 k /Pattern cs /Missing scn" + AREA, set[str]()),
    "a tiling pattern that is no stream is none (8.7.3.1)": (b"1 0 0 0 k /Pattern cs /NoTiles scn" + AREA, set[str]()),
    "scn leaves the space selected, after a shading as well": (
        b"/Uncoloured cs 0 0 1 0 /Gradient scn 0 0 1 0 /Stencil scn" + AREA, {"Yellow"}
    ),
    "fewer operands than components are passed over": (b"/DeviceCMYK cs 1 0 0 0 sc 0 1 sc" + AREA, {"Cyan"}),
    "before the name of tiles, too": (b"0 1 0 0 k /Uncoloured cs 0 0 1 0 /Stencil scn 1 /Stencil scn" + AREA, {"Yellow"}),
    "g has one operand": (b"0 1 0 0 k g" + AREA, {"Magenta"}),
    "a stroke has a colour of its own": (b"1 0 0 0 k 0 1 0 0 K 9 w 60 60 m 90 60 l S", {"Magenta"}),
}


@pytest.mark.parametrize("case", CASES)
def test_the_walk_and_the_plates_paint_the_same(case: str, tmp_path: Path) -> None:
    content, expected = CASES[case]
    told = content_of(built(content), tmp_path)
    assert {ink for use in told.colors for ink in use.inks} == expected
    with pikepdf.open(tmp_path / "file.pdf") as pdf:
        one = pdf.pages[0].obj
        asked = PageToSeparate(one, Box(*(float(side) for side in one.MediaBox)), Box(0, 0, 85, 55), 0, 1.0, INKS)
        plates = separate(pdf, asked, Shared(pdf), process_by_formula).coverage
    assert {ink for ink, plate in plates.items() if plate.any()} == expected


def test_a_space_stays_selected_while_patterns_come_and_go() -> None:
    with pikepdf.new() as pdf:
        spaces = Dictionary(U=Array([Name.Pattern, Name.DeviceCMYK]))
        stencil = tiles(2, b"")(pdf)  # type: ignore[operator]
        resources = Resources(Dictionary(ColorSpace=spaces, Pattern=Dictionary(S=stencil)), Shared(pdf))
        (_, cs), (_, scn), (_, missing) = operations(b"/U cs 0 0 0 0.5 /S scn /M scn ")
        selected = color_of_new_space(cs, resources)
        assert (selected.space.base, selected.is_nothing) == (CMYK, True)
        color = color_in_space(selected.space, scn, resources)
        assert color is not None
        assert (color.space, color.paints_in, color.values) == (selected.space, CMYK, (0, 0, 0, 0.5))
        none = color_in_space(color.space, missing, resources)
        assert none is not None
        assert (none.space, none.paints_in, none.is_nothing) == (selected.space, PATTERN, True)
    assert (BLACK.space, BLACK.values, color_space(Name.DeviceGray)) == (GRAY, (0.0,), GRAY)


@pytest.mark.parametrize(
    ("written", "mode"),
    [
        (Name.Multiply, "Multiply"),
        (Name.Compatible, "Normal"),
        (Name.Unheard, "Normal"),
        (Array([Name.Unheard, Name.Screen, Name.Multiply]), "Screen"),
        (Array([]), "Normal"),
    ],
)
def test_of_several_blend_modes_the_first_that_there_is_counts(written: pikepdf.Object, mode: str) -> None:
    """ISO 32000-2:2020, 11.6.3."""
    assert state_parameters(Dictionary(BM=written)).blend_mode == mode


def test_a_dictionary_says_nothing_of_what_it_does_not_name() -> None:
    assert set(state_parameters(Dictionary())) == {None}


def test_op_sets_both_kinds_of_overprint_unless_the_other_stands_beside_it() -> None:
    """ISO 32000-2:2020, Table 57."""
    alone, both = state_parameters(Dictionary(OP=True)), state_parameters(Dictionary(OP=True, op=False))
    assert (alone.stroke_overprint, alone.fill_overprint) == (True, True)
    assert (both.stroke_overprint, both.fill_overprint) == (True, False)
    assert state_parameters(Dictionary(op=True)).stroke_overprint is None
