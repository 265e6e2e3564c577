"""How inks share renderings: nothing that a plate shows may depend on which others are made with it."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from time import process_time

import numpy as np
import pikepdf
import pytest

from service.pdf.content.resources import Shared
from service.pdf.facts.geometry import Box, Matrix
from service.pdf.pages.page_boxes import read_page
from service.pdf.plates.colors.inks import InkTable, process_by_formula
from service.pdf.plates.pictures.recolored import Pictures
from service.pdf.plates.rewriting.color_runs import ColorRuns
from service.pdf.plates.rewriting.colors import _run, _run_one_by_one
from service.pdf.plates.rewriting.rewriter import Rewriter, State
from service.pdf.plates.rewriting.table import HANDLERS
from service.pdf.plates.separation import PageToSeparate, Plates, separate
from service.pdf.reading.lexer import PATHS_AND_COLORS
from tests.build import PageBuilder, page, separation

PROCESS = ("Cyan", "Magenta", "Yellow", "Black")
CARD = Box(0, 0, 85, 55)


def separated(made: PageBuilder, folder: Path, *inks: str) -> Plates:
    made.save(folder / "page.pdf")
    with pikepdf.open(folder / "page.pdf") as pdf:
        one = pdf.pages[0].obj
        media = read_page(one, has_size=True).media_pt
        return separate(pdf, PageToSeparate(one, media, CARD, 0, 1.0, inks), Shared(pdf), process_by_formula)


def raw(content: str) -> PageBuilder:
    return page(85, 55, bleed=0).raw(content.encode())


@pytest.mark.parametrize(
    "content",
    ["0.8 0.4 0 0 k 20 20 90 60 re f 0 0 0 0.5 k 60 40 90 60 re f",  # black takes yellow's room
     "0 0 0 1 k 20 20 90 60 re f",  # black only: the first rendering would be white
     "0.8 0.4 0.2 0.1 k 20 20 90 60 re f 0 0 0 0.5 k 60 40 90 60 re f",  # no room
     "0.3 g 20 20 90 60 re f 1 0 0 rg 60 40 90 60 re f",
     "1 0 0 0 k 20 20 90 60 re f 0 0 0 0 k 60 40 90 60 re f 0 0 0 1 K 4 w 10 10 m 90 90 l S"],
)
def test_a_plate_is_the_same_alone_and_with_the_others(content: str, tmp_path: Path) -> None:
    together = separated(raw(content), tmp_path, *PROCESS)
    assert any(plate.any() for plate in together.coverage.values())
    for ink in PROCESS:
        alone = separated(raw(content), tmp_path, ink)
        assert np.array_equal(together.coverage[ink], alone.coverage[ink]), ink


def test_black_that_overprints_cyan_is_rendered_apart(tmp_path: Path) -> None:
    made = page(85, 55, bleed=0).resource("ExtGState", "Over", pikepdf.Dictionary(OP=True, op=True, OPM=1))
    made = made.raw(b"1 0 0 0 k 20 20 90 60 re f /Over gs 0 0 0 1 k 20 20 90 60 re f")
    plates = separated(made, tmp_path, *PROCESS).coverage
    assert (plates["Cyan"].max(), plates["Black"].max(), plates["Magenta"].max()) == (255, 255, 0)


def in_a_table_of(*inks: str, table: bytes) -> Callable[[pikepdf.Pdf], pikepdf.Object]:
    """An Indexed space over these inks."""

    def make(pdf: pikepdf.Pdf) -> pikepdf.Object:
        program = b"{" + b"pop " * len(inks) + b"0 0 0 0}"
        tint = pikepdf.Stream(pdf, program, FunctionType=4, Domain=[0, 1] * len(inks), Range=[0, 1] * 4)
        names = pikepdf.Array([pikepdf.Name("/" + one) for one in inks])
        base = pikepdf.Array([pikepdf.Name.DeviceN, names, pikepdf.Name.DeviceCMYK, pdf.make_indirect(tint)])
        return pikepdf.Array([pikepdf.Name.Indexed, base, 1, pikepdf.String(table)])

    return make


def indexed_picture(space: Callable[[pikepdf.Pdf], pikepdf.Object], overprints: bool, mode: int) -> PageBuilder:
    """One flat picture of the table's entry 1, over 40 % of every process ink and 60 % of Linden."""
    made = page(85, 55, bleed=0).fill(spot=("Linden", 0.6)).resource("ColorSpace", "Table", space)
    made.resource("ExtGState", "Flat", pikepdf.Dictionary(OP=True, op=True, OPM=1))
    made.resource("ExtGState", "Over", pikepdf.Dictionary(OP=overprints, op=overprints, OPM=mode))
    made.raw(b"q /Flat gs").fill(cyan=0.4, magenta=0.4, yellow=0.4, black=0.4).raw(b"Q q /Over gs 100 0 0 80 60 40 cm")
    return made.raw(b"BI /W 2 /H 2 /BPC 8 /CS /Table /F /AHx ID 01010101> EI Q")


@pytest.mark.parametrize("mode", [0, 1])
def test_a_picture_of_a_table_of_spots_prints_in_its_spots(mode: int, tmp_path: Path) -> None:
    """ISO 32000-2:2020, 8.6.6.3 and Table 149: what overprints sets the inks of the table's colours and leaves the others."""
    table = in_a_table_of("Copper", "Cyan", table=bytes((0, 0, 204, 51)))
    inks = (*PROCESS, "Copper", "Linden")
    over, knocking = (separated(indexed_picture(table, one, mode), tmp_path, *inks) for one in (True, False))
    at = (110, 150)
    assert [int(over.coverage[ink][at]) for ink in inks] == [51, 102, 102, 102, 204, 153]
    assert [int(knocking.coverage[ink][at]) for ink in inks] == [51, 0, 0, 0, 204, 0]


def group_of(content: bytes, isolated: bool) -> Callable[[pikepdf.Pdf], pikepdf.Object]:
    def make(pdf: pikepdf.Pdf) -> pikepdf.Object:
        form = pikepdf.Stream(pdf, content, Type=pikepdf.Name.XObject, Subtype=pikepdf.Name.Form, BBox=[0, 0, 240, 155])
        form.Group = pikepdf.Dictionary(S=pikepdf.Name.Transparency, CS=pikepdf.Name.DeviceCMYK, I=isolated)
        over = pikepdf.Dictionary(OP=True, op=True, OPM=1)
        states = pikepdf.Dictionary(Over=over, Dark=pikepdf.Dictionary(BM=pikepdf.Name.Multiply))
        form.Resources = pikepdf.Dictionary(ExtGState=states)
        return pdf.make_indirect(form)

    return make


@pytest.mark.parametrize("outside", [b"", b"/Dark gs "], ids=["normal", "group that multiplies"])
@pytest.mark.parametrize("inside", [b"", b"/Dark gs "], ids=["plain", "object that multiplies"])
def test_an_isolated_group_overprints_only_what_it_holds_itself(inside: bytes, outside: bytes, tmp_path: Path) -> None:
    """ISO 32000-2:2020, 11.4.5 and 11.7.4.3: magenta in the group stays below its black; cyan below the group does not."""
    content = b"0 0.6 0 0 k 20 20 40 60 re f /Over gs " + inside + b"0 0 0 1 k 20 20 90 60 re f"
    expected = {True: (0 if not outside else 102, 255), False: (102, 255)}
    for isolated, (cyan, black) in expected.items():
        made = page(85, 55, bleed=0).fill(cyan=0.4).resource("XObject", "G", group_of(content, isolated))
        made.resource("ExtGState", "Dark", pikepdf.Dictionary(BM=pikepdf.Name.Multiply)).raw(outside + b"/G Do")
        plates = separated(made, tmp_path, *PROCESS).coverage
        both, alone = (110, 55), (110, 120)
        assert [int(plates[ink][both]) for ink in ("Magenta", "Black")] == [153, black], isolated
        assert [int(plates[ink][alone]) for ink in ("Cyan", "Magenta", "Black")] == [cyan, 0, black], isolated


def glyphs_of(*procedures: bytes, **spaces: Callable[[pikepdf.Pdf], pikepdf.Object]) -> Callable[[pikepdf.Pdf], pikepdf.Object]:
    """A Type 3 font with these glyphs as a, b, …"""

    def make(pdf: pikepdf.Pdf) -> pikepdf.Object:
        names = [pikepdf.Name(f"/{chr(97 + at)}") for at in range(len(procedures))]
        made = pikepdf.Dictionary(Type=pikepdf.Name.Font, Subtype=pikepdf.Name.Type3, FontBBox=[0, 0, 1000, 1000])
        made.CharProcs = pikepdf.Dictionary(
            {str(name): pdf.make_indirect(pikepdf.Stream(pdf, one)) for name, one in zip(names, procedures, strict=True)}
        )
        made.FontMatrix, made.FirstChar, made.LastChar = [0.001, 0, 0, 0.001, 0, 0], 97, 96 + len(names)
        made.Widths = [1000] * len(names)
        made.Encoding = pikepdf.Dictionary(Type=pikepdf.Name.Encoding, Differences=[97, *names])
        made.Resources = pikepdf.Dictionary(ColorSpace=pikepdf.Dictionary({f"/{key}": one(pdf) for key, one in spaces.items()}))
        return pdf.make_indirect(made)

    return make


def test_glyphs_with_colours_of_their_own_overprint_by_these(tmp_path: Path) -> None:
    """ISO 32000-2:2020, 9.6.4, `d0`: black is the colour of the text around, and has no say. The next one, `d1`, has its colour
    from the text: that in force where it is shown, not where its font was chosen.
    """
    glyphs = glyphs_of(
        b"1000 0 d0 /C cs 0.8 scn 0 0 1000 1000 re f", b"1000 0 0 0 1000 1000 d1 0 0 1000 1000 re f",
        C=lambda _pdf: separation("Copper"),
    )
    made = page(85, 55, bleed=0).resource("Font", "T", glyphs).resource("ColorSpace", "C", separation("Copper"))
    made.resource("ExtGState", "Over", pikepdf.Dictionary(OP=True, op=True, OPM=1)).fill(cyan=0.4)
    made.raw(b"/Over gs 0 0 0 1 k BT /T 40 Tf 20 60 Td (a) Tj /C cs 0.6 scn (b) Tj ET")
    plates = separated(made, tmp_path, *PROCESS, "Copper").coverage
    first, second = (110, 55), (110, 110)
    assert [int(plates[ink][first]) for ink in ("Cyan", "Black", "Copper")] == [102, 0, 204]
    assert [int(plates[ink][second]) for ink in ("Cyan", "Black", "Copper")] == [102, 0, 153]


def test_a_glyph_in_a_layer_that_is_off_keeps_the_place_of_the_next(tmp_path: Path) -> None:
    def layer(pdf: pikepdf.Pdf) -> pikepdf.Object:
        off = pdf.make_indirect(pikepdf.Dictionary(Type=pikepdf.Name.OCG, Name="Guides"))
        listed = pikepdf.Array([off])
        pdf.Root.OCProperties = pikepdf.Dictionary(OCGs=listed, D=pikepdf.Dictionary(OFF=listed))
        return off

    made = page(85, 55, bleed=0).resource("Font", "T", glyphs_of(b"1000 0 d0 0 0 0 1 k 0 0 1000 1000 re f"))
    made.resource("Properties", "L", layer).raw(b"BT /T 40 Tf 20 60 Td /OC /L BDC (a) Tj EMC (a) Tj ET")
    black = separated(made, tmp_path, *PROCESS).coverage["Black"]
    assert (int(black[110, 55]), int(black[110, 110])) == (0, 255)


def test_white_blended_by_difference_with_an_object_without_cyan_gives_cyan(tmp_path: Path) -> None:
    """ISO 32000-2:2020, 11.3.5.2: |1 − 1| = 0, which is the full tint."""
    made = page(85, 55, bleed=0).resource("ExtGState", "Less", pikepdf.Dictionary(BM=pikepdf.Name.Difference))
    made = made.raw(b"0 1 0 0 k 20 20 90 60 re f /Less gs 0 0 0 0 k 20 20 90 60 re f")
    plates = separated(made, tmp_path, *PROCESS).coverage
    assert [int(plates[ink].max()) for ink in PROCESS] == [255, 0, 255, 255]


@pytest.mark.parametrize(
    "run",
    [b"0.1 0.2 0.3 0.4 k 1 2 m 3 4 l S 0.5 G 1 2 m 3 4 l S 1 0 0 rg 0 1 0 RG 5 5 5 5 re B\n",
     b" 0 0 0 1 k\n0 0 0 1 k\r9 9 9 9 re f ", b"1 2 m 3 4 l S ", b"9 8 7 0.1 0.2 0.3 0.4 k 0 0 9 9 re f ",
     b"0.1 0.2 k 0 0 9 9 re f ", b"h k 0 0 9 9 re f ", b"0.1-2 g 0 0 9 9 re f ", b"-.5 1.5 0 +.25 k 0 0 9 9 re f ",
     b"0.1\x000.2 0.3 rg 0 0 9 9 re f ", b"2 w 0.7 g "],
)
def test_a_run_cut_at_once_says_what_one_colour_after_the_other_says(run: bytes) -> None:
    assert PATHS_AND_COLORS.fullmatch(run)
    with pikepdf.new() as source, pikepdf.new() as out:
        found = []
        for rewritten in (lambda one: _run(one, b"", run, run), lambda one: _run_one_by_one(one, run)):
            table = InkTable(("Cyan", "Magenta", "Yellow"), process_by_formula)
            rewriter = Rewriter(HANDLERS, source, out, table, Shared(source), Pictures(), ColorRuns())
            rewriter.state = State(ctm=Matrix(1, 0, 0, 1, 0, 0))
            written = rewritten(rewriter)
            found.append((written and written.split(), vars(rewriter.state), table.used))
    assert found[0] == found[1]


def test_a_long_run_without_colours_is_cut_in_one_sweep() -> None:
    """A map's contour: half a million lines. Searched from each place anew it took a minute (now some hundredths of a second)."""
    run = b"0 0 0 1 k " + b"1 2 l " * 500_000
    found = ColorRuns().cut(run)
    assert found is not None
    assert found.between == [b"\n", b" " + b"1 2 l " * 500_000]


def test_a_page_that_names_many_resources_is_rewritten_in_one_sweep(tmp_path: Path) -> None:
    """Four times as many take about four times as long, not sixteen: 12,000 took 67 s of processor time (now 0.4)."""

    def seconds(count: int) -> float:
        made = page(85, 55, bleed=0).resource("ExtGState", "Flat", pikepdf.Dictionary(OP=False))
        made.raw(b"0 0 0 1 k " + b"/Flat gs 20 20 9 6 re f " * count)
        before = process_time()
        separated(made, tmp_path, "Black")
        return process_time() - before

    assert seconds(8_000) < 8 * seconds(2_000)
