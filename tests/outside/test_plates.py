"""Ink plates against Ghostscript's `tiffsep`, a feature at a time.

Tolerances: the mean of each plate within 0.6 % of full tint, and 99 % of the pixels away from edges within 2 %. Ghostscript is
a test-time reference only. Each feature is a page built in a few lines; the standard's clause stands beside it.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from pikepdf import Array, Dictionary, Name, Pdf, Stream

from service.pdf.plates.rewriting.rewriter import CannotSeparate
from tests.build import PageBuilder, drawing, page
from tests.conftest import MadeOnce
from tests.outside.separations import all_agreements, ghostscript_plates_of, kept_plates, mupdf_plates, our_plates
from tests.outside_tools import program

OVERPRINT_1 = Dictionary(OP=True, op=True, OPM=1)
OVERPRINT_0 = Dictionary(OP=True, op=True, OPM=0)
SEPARABLE = [
    "Multiply",
    "Screen",
    "Overlay",
    "Darken",
    "Lighten",
    "ColorDodge",
    "ColorBurn",
    "HardLight",
    "SoftLight",
    "Difference",
    "Exclusion",
]
NON_SEPARABLE = ["Hue", "Saturation", "Color", "Luminosity"]
FEATURES: dict[str, Callable[[], PageBuilder]] = {}


def feature(name: str) -> Callable[[Callable[[], PageBuilder]], Callable[[], PageBuilder]]:
    def keep(build: Callable[[], PageBuilder]) -> Callable[[], PageBuilder]:
        FEATURES[name] = build
        return build

    return keep


def card() -> PageBuilder:
    return page(60, 40, bleed=0)


def ground() -> PageBuilder:
    """Two overlapping areas to paint on."""
    return card().fill(at=(0, 0, 40, 25), cyan=0.6, yellow=0.2).fill(at=(20, 15, 60, 40), magenta=0.5, black=0.3)


@feature("DeviceCMYK, DeviceGray, knock-out (8.6.4)")
def _() -> PageBuilder:
    return ground().fill(at=(5, 5, 30, 20), black=1).fill(at=(30, 20, 50, 35), gray=0.4).fill(at=(10, 8, 20, 12), gray=1)


@feature("Separation and white from it (8.6.6.4)")
def _() -> PageBuilder:
    return ground().fill(at=(5, 5, 30, 20), spot=("Copper", 0.7)).fill(at=(35, 20, 50, 35), spot=("Black", 0.5))


@feature("Separation All and None (8.6.6.4)")
def _() -> PageBuilder:
    built = ground().fill(at=(1, 1, 4, 4), spot=("Copper", 1)).fill(at=(5, 5, 30, 20), spot=("All", 0.8))
    return built.fill(at=(35, 20, 50, 35), spot=("None", 1))


@feature("DeviceN of process and spot (8.6.6.5)")
def _() -> PageBuilder:
    tint = Dictionary(FunctionType=4, Domain=[0, 1, 0, 1, 0, 1], Range=[0, 1, 0, 1, 0, 1, 0, 1])

    def space(pdf: Pdf) -> object:
        function = Stream(pdf, b"{pop 0 0 0}", tint)
        return Array([Name.DeviceN, Array([Name.Cyan, Name.Copper, Name("/None")]), Name.DeviceCMYK, pdf.make_indirect(function)])

    return ground().resource("ColorSpace", "N", space).raw(b"/N cs 0.3 0.8 0.5 scn 30 30 80 60 re f")


@feature("Indexed as a fill colour (8.6.6.3)")
def _() -> PageBuilder:
    table = Array([Name.Indexed, Name.DeviceCMYK, 1, b"\x00\x80\x00\x00\xff\x00\x40\x20"])
    return ground().resource("ColorSpace", "I", table).raw(b"/I cs 1 sc 30 30 80 60 re f 0 sc 5 5 20 20 re f")


@feature("strokes, dashes, caps, clip (8.4, 8.5)")
def _() -> PageBuilder:
    built = ground().raw(
        b"q 20 20 100 60 re W n 1 J [9 12] 0 d 8 w 0 1 0 0 K 0 0 m 170 113 l S Q 0 0 0 1 K 3 w 10 100 m 80 20 150 20 160 100 c s"
    )
    return built.raw(b"0 0 1 0 k 0 0 0 1 K 2 w 90 60 30 30 re B* 20 60 m 50 60 l 35 90 l b")


@feature("text and its rendering modes (9.3.6)")
def _() -> PageBuilder:
    built = (
        ground()
        .text("Rye", 30, (5, 15), magenta=1)
        .text("Oat", 30, (30, 15), black=1, mode=1)
        .text("Malt", 24, (5, 32), cyan=1, mode=2)
    )
    return built.text("hidden", 30, (5, 25), mode=3)


@feature("nested forms inherit colour (8.10.1)")
def _() -> PageBuilder:
    inner = drawing(20, 10).raw(b"0 0 40 20 re f")
    outer = drawing(30, 20).form(inner, at=(2, 2), scale=0.8, turn=10).raw(b"0 0 0 0.5 k").form(inner, at=(12, 10))
    return ground().raw(b"1 0 0 0 k").form(outer, at=(5, 5), scale=1.4)


def tiling(paint_type: int, content: bytes) -> Callable[[Pdf], object]:
    def make(pdf: Pdf) -> object:
        cell = Stream(pdf, content, Type=Name.Pattern, PatternType=1, PaintType=paint_type, TilingType=1)
        cell.BBox, cell.XStep, cell.YStep, cell.Matrix = Array([0, 0, 10, 10]), 12, 12, Array([1, 0.2, -0.2, 1, 3, 3])
        cell.Resources = Dictionary()
        return pdf.make_indirect(cell)

    return make


@feature("coloured tiling pattern (8.7.3.2)")
def _() -> PageBuilder:
    cell = tiling(1, b"1 0 0 0 k 0 0 6 6 re f 0 0 1 0 k 5 5 4 4 re f")
    return ground().resource("Pattern", "P", cell).raw(b"/Pattern cs /P scn 15 15 130 80 re f")


@feature("uncoloured tiling pattern (8.7.3.3)")
def _() -> PageBuilder:
    built = ground().resource("Pattern", "P", tiling(2, b"0 0 6 6 re f"))
    built.resource("ColorSpace", "C", Array([Name.Pattern, Name.DeviceCMYK]))
    return built.raw(b"/C cs 0 1 0 0.2 /P scn 15 15 60 80 re f 0 0 0 0.8 /P scn 80 15 60 80 re f")


def type_3(content: bytes) -> Callable[[Pdf], object]:
    def make(pdf: Pdf) -> object:
        glyph = pdf.make_indirect(Stream(pdf, content))
        made = Dictionary(Type=Name.Font, Subtype=Name.Type3, FontBBox=[0, 0, 1000, 1000], FontMatrix=[0.001, 0, 0, 0.001, 0, 0])
        made.CharProcs, made.FirstChar, made.LastChar, made.Widths = Dictionary(a=glyph), 97, 97, [1000]
        made.Encoding = Dictionary(Type=Name.Encoding, Differences=[97, Name.a])
        made.Resources = Dictionary()
        return pdf.make_indirect(made)

    return make


@feature("Type 3 glyphs in their own colours, d0 (9.6.4)")
def _() -> PageBuilder:
    font = type_3(b"1000 0 d0 1 0 0 0 k 0 0 800 400 re f 0 1 0 0 k 0 400 800 400 re f")
    return ground().resource("Font", "T", font).raw(b"0 0 0 1 k BT /T 40 Tf 20 40 Td (aa) Tj ET")


@feature("Type 3 glyphs in the current colour, d1 (9.6.4)")
def _() -> PageBuilder:
    font = type_3(b"1000 0 0 0 800 800 d1 0 0 800 800 re f")
    return ground().resource("Font", "T", font).raw(b"0 0 1 0.4 k BT /T 40 Tf 20 40 Td (aa) Tj ET")


@feature("overprint mode 1 spares inks at zero (8.6.7)")
def _() -> PageBuilder:
    return ground().resource("ExtGState", "O", OVERPRINT_1).raw(b"/O gs 0 0 0 1 k 30 30 80 60 re f 0 0 0 0 k 5 5 30 30 re f")


@feature("overprint mode 0 knocks process inks out (8.6.7)")
def _() -> PageBuilder:
    return ground().resource("ExtGState", "O", OVERPRINT_0).raw(b"/O gs 0 0 0 1 k 30 30 80 60 re f")


@feature("a spot that overprints, and one that knocks out (8.6.7)")
def _() -> PageBuilder:
    built = ground().fill(at=(5, 5, 25, 20), spot=("Copper", 0.8)).resource("ExtGState", "O", OVERPRINT_1).raw(b"/O gs")
    return built.fill(at=(20, 10, 50, 30), spot=("Varnish", 1)).fill(at=(30, 5, 40, 35), black=0.5)


@feature("gray knocks process inks out even in mode 1 (Table 149)")
def _() -> PageBuilder:
    return ground().resource("ExtGState", "O", OVERPRINT_1).raw(b"/O gs 0 g 30 30 80 60 re f")


@feature("a stroke overprints and its filling does not (Table 57)")
def _() -> PageBuilder:
    state = Dictionary(OP=True, op=False, OPM=1)
    return ground().resource("ExtGState", "O", state).raw(b"/O gs 0 1 0 0 k 0 0 0 1 K 8 w 40 30 80 50 re B")


@feature("text that overprints (8.6.7)")
def _() -> PageBuilder:
    return ground().resource("ExtGState", "O", OVERPRINT_1).raw(b"/O gs").text("Rye", 40, (5, 28), black=1)


@feature("constant alpha (11.3.7.2)")
def _() -> PageBuilder:
    return ground().resource("ExtGState", "A", Dictionary(ca=0.5, CA=0.3)).raw(b"/A gs 0 1 0 0 k 0 0 0 1 K 9 w 30 30 80 60 re B")


@feature("alpha of a spot (11.7.3)")
def _() -> PageBuilder:
    return ground().resource("ExtGState", "A", Dictionary(ca=0.5)).raw(b"/A gs").fill(at=(10, 10, 50, 30), spot=("Copper", 1))


def group(content: bytes, **entries: object) -> Callable[[Pdf], object]:
    def make(pdf: Pdf) -> object:
        form = Stream(pdf, content, Type=Name.XObject, Subtype=Name.Form, BBox=Array([0, 0, 170, 113]), Resources=Dictionary())
        form.Group = Dictionary(
            {"/S": Name.Transparency, "/CS": Name.DeviceCMYK} | {f"/{key}": value for key, value in entries.items()}
        )
        opaque = Dictionary(ca=1, BM=Name.Normal)
        form.Resources.ExtGState = Dictionary(A=Dictionary(ca=0.5), M=Dictionary(BM=Name.Multiply), N=opaque)
        return pdf.make_indirect(form)

    return make


OVERLAPPING = b"/A gs 1 0 0 0 k 20 20 70 60 re f 0 1 0 0 k 60 40 70 60 re f"


@feature("group drawn half opaque (11.4.2)")
def _() -> PageBuilder:
    built = ground().resource("XObject", "G", group(OVERLAPPING)).resource("ExtGState", "H", Dictionary(ca=0.5))
    return built.raw(b"/H gs /G Do")


@feature("knockout group of opaque objects (11.4.6)")
def _() -> PageBuilder:
    content = b"1 0 0 0 k 20 20 70 60 re f 0 1 0 0 k 60 40 70 60 re f"
    built = ground().resource("XObject", "G", group(content, K=True)).resource("ExtGState", "H", Dictionary(ca=0.5))
    return built.raw(b"/H gs /G Do")


APART = b"/A gs 1 0 0 0 k 20 20 30 60 re f /M gs 0 1 0 0 k 60 40 70 60 re f"
COVERED = b"/A gs 1 0 0 0 k 20 20 70 60 re f /N gs 0 1 0 0 k 60 40 70 60 re f"


@feature("knockout group of blended objects side by side (11.4.6)")
def _() -> PageBuilder:
    return ground().resource("XObject", "G", group(APART, K=True)).raw(b"/G Do")


@feature("knockout group, isolated, half opaque as a whole (11.4.6)")
def _() -> PageBuilder:
    built = ground().resource("XObject", "G", group(APART, K=True, I=True)).resource("ExtGState", "H", Dictionary(ca=0.5))
    return built.raw(b"/H gs /G Do")


@feature("knockout group of an opaque object over a half opaque one (11.4.6)")
def _() -> PageBuilder:
    return ground().resource("XObject", "G", group(COVERED, K=True)).raw(b"/G Do")


@feature("isolated group (11.4.5)")
def _() -> PageBuilder:
    content = b"/M gs 1 0 0 0 k 20 20 70 60 re f 0 1 0 0 k 60 40 70 60 re f"
    return ground().resource("XObject", "G", group(content, I=True)).raw(b"/G Do")


@feature("group that is not isolated (11.4.5)")
def _() -> PageBuilder:
    content = b"/M gs 1 0 0 0 k 20 20 70 60 re f 0 1 0 0 k 60 40 70 60 re f"
    return ground().resource("XObject", "G", group(content, I=False)).raw(b"/G Do")


def soft_mask(kind: str, content: bytes) -> Callable[[Pdf], object]:
    def make(pdf: Pdf) -> object:
        form = Stream(pdf, content, Type=Name.XObject, Subtype=Name.Form, BBox=Array([0, 0, 170, 113]), Resources=Dictionary())
        form.Resources.ExtGState = Dictionary(A=Dictionary(ca=0.4))
        form.Group = Dictionary(S=Name.Transparency, CS=Name.DeviceGray)
        return Dictionary(SMask=Dictionary(S=Name("/" + kind), G=pdf.make_indirect(form)))

    return make


@feature("soft mask by luminosity (11.5.3)")
def _() -> PageBuilder:
    mask = soft_mask("Luminosity", b"0 g 20 20 60 60 re f 1 g 80 20 60 60 re f")  # Ghostscript gives mid grays a curve of its own
    return ground().resource("ExtGState", "S", mask).raw(b"/S gs 0 1 0 0 k 0 0 170 113 re f")


@feature("soft mask by alpha (11.5.2)")
def _() -> PageBuilder:
    mask = soft_mask("Alpha", b"/A gs 0 g 20 20 60 60 re f")
    return ground().resource("ExtGState", "S", mask).raw(b"/S gs 0 1 0 0 k 0 0 170 113 re f")


def blended(mode: str, black: float) -> Callable[[], PageBuilder]:
    def build() -> PageBuilder:
        built = ground().key("Group", Dictionary(S=Name.Transparency, CS=Name.DeviceCMYK, I=True))
        built.resource("ExtGState", "B", Dictionary(BM=Name("/" + mode)))
        return built.raw(b"/B gs").fill(at=(5, 10, 55, 30), cyan=0.3, magenta=0.7, yellow=0.1, black=black)

    return build


for _mode in SEPARABLE + NON_SEPARABLE:
    FEATURES[f"blend mode {_mode} (11.3.5)"] = blended(_mode, 0.2 if _mode in SEPARABLE else 0.0)


@feature("blend mode on a spot (11.7.4.2)")
def _() -> PageBuilder:
    built = (
        ground()
        .key("Group", Dictionary(S=Name.Transparency, CS=Name.DeviceCMYK, I=True))
        .fill(at=(0, 0, 30, 40), spot=("Copper", 0.5))
    )
    return (
        built.resource("ExtGState", "B", Dictionary(BM=Name.Multiply))
        .raw(b"/B gs")
        .fill(at=(10, 10, 50, 30), spot=("Copper", 0.5))
    )


def annotation(flags: int) -> PageBuilder:
    def entries(pdf: Pdf) -> Array:
        look = Stream(pdf, b"0 1 0 0 k 0 0 10 10 re f", Subtype=Name.Form, BBox=Array([0, 0, 10, 10]), Resources=Dictionary())
        note = Dictionary(
            Type=Name.Annot, Subtype=Name.Square, Rect=[20, 20, 80, 60], F=flags, AP=Dictionary(N=pdf.make_indirect(look))
        )
        return Array([pdf.make_indirect(note)])

    return ground().key("Annots", entries)


@feature("an annotation that prints (12.5.3)")
def _() -> PageBuilder:
    return annotation(4)


@feature("a layer that is off (8.11)")
def _() -> PageBuilder:
    def layer(pdf: Pdf) -> object:
        made = pdf.make_indirect(Dictionary(Type=Name.OCG, Name="Guides"))
        pdf.Root.OCProperties = Dictionary(OCGs=Array([made]), D=Dictionary(OFF=Array([made])))
        return made

    return ground().resource("Properties", "L", layer).raw(b"/OC /L BDC").fill(at=(5, 5, 50, 30), black=1).raw(b"EMC")


@feature("Rotate and UserUnit (14.11.2)")
def _() -> PageBuilder:
    return ground().text("Rye", 30, (5, 15), black=1).rotated(90, upright=False)


def axial(**entries: object) -> Dictionary:
    blend = Dictionary(FunctionType=2, Domain=[0, 1], C0=[0.8, 0, 0, 0], C1=[0, 0.9, 0.2, 0.1], N=1)
    coordinates = {"/ShadingType": 2, "/ColorSpace": Name.DeviceCMYK, "/Coords": Array([20, 20, 150, 90]), "/Function": blend}
    return Dictionary(coordinates | {f"/{key}": value for key, value in entries.items()})


@feature("gradient by `sh`, with a box of its own and turned (8.7.4.2)")
def _() -> PageBuilder:
    shading = axial(Extend=Array([True, True]), BBox=Array([20, 20, 100, 70]))
    return ground().resource("Shading", "S", shading).raw(b"q 0.9 0.3 -0.3 0.9 20 0 cm /S sh Q")


@feature("gradient as a pattern for areas and type (8.7.4.3)")
def _() -> PageBuilder:
    pattern = Dictionary(PatternType=2, Shading=axial(Extend=Array([True, True])))
    built = ground().resource("Pattern", "P", pattern).raw(b"/Pattern cs /P scn 10 10 60 60 re f")
    return built.raw(b"q /Pattern cs /P scn").text("Rye", 40, (22, 20), spot=("None", 0)).raw(b"Q 80 20 70 40 re f")


PICTURES = {
    "CMYK": {"color": "cmyk"},
    "CMYK JPEG": {"color": "cmyk", "jpeg_quality": 95},
    "gray": {"color": "gray"},
    "1-bit": {"color": "gray", "bits": 1},
    "in a spot ink": {"color": "Copper"},
    "stencil": {"stencil": True},
    "inline": {"inline": True},
    "with a soft mask": {"soft_mask": True},
    "turned and clipped": {"turn": 25, "clip": (15, 8, 50, 30)},
}


def pictured(options: dict[str, Any]) -> Callable[[], PageBuilder]:
    return lambda: ground().picture(at=(10, 5, 45, 35), ppi=60, **options)


for _name, _options in PICTURES.items():
    FEATURES[f"picture, {_name} (8.9)"] = pictured(_options)


@feature("a picture over a spot that stays where overprint is on (8.6.7)")
def _() -> PageBuilder:
    built = ground().fill(at=(0, 0, 60, 20), spot=("Copper", 1)).resource("ExtGState", "O", OVERPRINT_1).raw(b"/O gs")
    return built.picture(at=(10, 5, 45, 35), ppi=60, color="cmyk")


@pytest.fixture(scope="session")
def by_ghostscript(made_once: MadeOnce) -> Path:
    """The plates of all features, numbered in their order."""
    pages = [build().bytes() for build in FEATURES.values()]
    return made_once("plates-of-features", lambda folder: ghostscript_plates_of(program("gs"), pages, folder))


@pytest.mark.parametrize("name", FEATURES)
def test_plates_agree_with_ghostscript(name: str, tmp_path: Path, by_ghostscript: Path) -> None:
    theirs = kept_plates(by_ghostscript, [*FEATURES].index(name) + 1)
    found = all_agreements(our_plates(FEATURES[name]().bytes(), tmp_path).coverage, theirs)
    assert found
    for ink, one in found.items():
        assert one.mean_difference <= 0.6, (ink, one)
        assert one.pixels_alike >= 0.99, (ink, one)


MUPDF_ALONE = {
    "Separation All and None (8.6.6.4)": "paints All by its alternate colour on the process inks",
    "overprint mode 1 spares inks at zero (8.6.7)": "keeps overprint for spots only in this rendering",
    "a stroke overprints and its filling does not (Table 57)": "the same",
    "gradient by `sh`, with a box of its own and turned (8.7.4.2)": "paints beyond the turned box",
}
"""Where MuPDF stands alone against Ghostscript, the standard and us (seen with PyMuPDF 1.28)."""


@pytest.mark.parametrize("name", [name for name in FEATURES if name not in MUPDF_ALONE])
def test_plates_agree_with_mupdf(name: str, tmp_path: Path) -> None:
    """A second witness: the mean of each plate within 1 %, and 99 % of the pixels away from edges within 2 %."""
    data = FEATURES[name]().bytes()
    for ink, one in all_agreements(our_plates(data, tmp_path).coverage, mupdf_plates(data)).items():
        assert one.mean_difference <= 1.0, (ink, one)
        assert one.pixels_alike >= 0.99, (ink, one)


def test_mupdf_still_stands_alone_where_it_is_said_to(tmp_path: Path) -> None:
    """An exception that is none any more goes."""
    for name in MUPDF_ALONE:
        data = FEATURES[name]().bytes()
        found = all_agreements(our_plates(data, tmp_path).coverage, mupdf_plates(data)).values()
        assert any(one.mean_difference > 1.0 or one.pixels_alike < 0.99 for one in found), name


def test_what_cannot_be_shown_is_refused_by_name(tmp_path: Path) -> None:
    """Never half: the page's plates are not made, and the reason says what it uses."""
    knockout = ground().resource("XObject", "G", group(OVERLAPPING, K=True)).raw(b"/G Do")
    whole_page = card().key("Group", Dictionary(S=Name.Transparency, CS=Name.DeviceCMYK, K=True))
    whole_page.resource("ExtGState", "A", Dictionary(ca=0.5)).raw(OVERLAPPING)
    hue = blended("Hue", black=0.5)()
    for built, reason in ((knockout, "knockout group"), (whole_page, "knockout group"), (hue, "Hue")):
        with pytest.raises(CannotSeparate, match=reason):
            our_plates(built.bytes(), tmp_path)


def test_two_stacked_objects_of_200_percent_give_200_or_400(tmp_path: Path) -> None:
    """The upper one knocks out, or overprints: ISO 32000-2:2020, 8.6.7."""

    def total(overprint: bool) -> float:
        built = card().fill(cyan=1, magenta=1)
        if overprint:
            built.resource("ExtGState", "O", OVERPRINT_1).raw(b"/O gs")
        plates = our_plates(built.fill(yellow=1, black=1).bytes(), tmp_path)
        return float(sum(plate.astype(float) for plate in plates.coverage.values()).max() / 2.55)

    assert total(overprint=False) == pytest.approx(200, abs=1)
    assert total(overprint=True) == pytest.approx(400, abs=1)
