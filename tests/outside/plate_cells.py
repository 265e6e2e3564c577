"""Thousands of small cells on a few pages: kinds of object in every colour space, on grounds, overprinting and not.

A cell is 16 pt wide and painted at 72 ppi: its ground, then one object over the square from 3 to 13, whose middle is compared.
"""

from __future__ import annotations

import io
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import Any, NamedTuple

import pikepdf
from pikepdf import Array, Dictionary, Name, Pdf, Stream

from tests.pdf.icc_profiles import profile

CELL_PT = 16
PER_ROW = 96
INKS = ("Cyan", "Magenta", "Yellow", "Black", "Copper", "Varnish")
Color = tuple[float, ...]
Maker = Callable[[Pdf], Any]

# --- Colour spaces ----------------------------------------------------------------------------------------------------


@dataclass(frozen=True)
class Space:
    make: Maker
    colored: Color
    white: Color
    """Leaves the paper white; in a space of inks all are at tint 0."""
    sample: Callable[[Color], bytes] = lambda color: bytes(round(one * 255) for one in color)
    """Of a picture of 8 bits."""
    limits: tuple[float, ...] = ()

    @property
    def decode(self) -> tuple[float, ...]:
        return self.limits or (0, 1) * len(self.colored)


def named(name: str) -> Maker:
    return lambda _pdf: Name("/" + name)


def calibrated(name: str) -> Maker:
    return lambda _pdf: Array([Name("/" + name), Dictionary(WhitePoint=[0.9505, 1, 1.089])])


def lab(_pdf: Pdf) -> Any:
    return Array([Name.Lab, Dictionary(WhitePoint=[0.9642, 1, 0.8249], Range=[-128, 127, -128, 127])])


def icc(channels: int) -> Maker:
    data = {1: profile(b"mntr", b"GRAY"), 3: profile(b"mntr", b"RGB "), 4: profile(b"prtr", b"CMYK")}[channels]
    return lambda pdf: Array([Name.ICCBased, pdf.make_indirect(Stream(pdf, data, N=channels))])


def transform(pdf: Pdf, inputs: int) -> Any:
    """To no ink at all: whoever paints by the alternate colour is found out."""
    program = b"{" + b"pop " * inputs + b"0 0 0 0}"
    return pdf.make_indirect(Stream(pdf, program, FunctionType=4, Domain=Array([0, 1] * inputs), Range=Array([0, 1] * 4)))


def separation(name: str) -> Maker:
    return lambda pdf: Array([Name.Separation, Name("/" + name), Name.DeviceCMYK, transform(pdf, 1)])


def device_n(*names: str) -> Maker:
    listed = [Name("/" + one) for one in names]
    return lambda pdf: Array([Name.DeviceN, Array(listed), Name.DeviceCMYK, transform(pdf, len(names))])


def n_channel(pdf: Pdf) -> Any:
    made = device_n("Cyan", "Magenta", "Yellow", "Black", "Copper")(pdf)
    process = Dictionary(ColorSpace=Name.DeviceCMYK, Components=Array([Name.Cyan, Name.Magenta, Name.Yellow, Name.Black]))
    made.append(Dictionary(Subtype=Name.NChannel, Process=process, Colorants=Dictionary(Copper=separation("Copper")(pdf))))
    return made


def indexed(base: Maker, colored: Color, white: Color) -> Space:
    """Entry 0 is white, entry 1 coloured."""
    table = bytes(round(one * 255) for one in (*white, *colored))
    made: Maker = lambda pdf: Array([Name.Indexed, base(pdf), 1, pikepdf.String(table)])  # noqa: E731
    return Space(made, (1,), (0,), lambda color: bytes((int(color[0]),)), (0, 255))


def lab_sample(color: Color) -> bytes:
    return bytes((round(color[0] * 2.55), round(color[1] + 128), round(color[2] + 128)))


GREEN_RGB, GREEN_CMYK = (0.8, 1, 0.2), (0.8, 0, 0.6, 0)
"""The first has no gray in it: it converts alike with black generation and without."""
SPACES: dict[str, Space] = {
    "DeviceGray": Space(named("DeviceGray"), (0.4,), (1,)),
    "DeviceRGB": Space(named("DeviceRGB"), GREEN_RGB, (1, 1, 1)),
    "DeviceCMYK": Space(named("DeviceCMYK"), GREEN_CMYK, (0, 0, 0, 0)),
    "CalGray": Space(calibrated("CalGray"), (0.4,), (1,)),
    "CalRGB": Space(calibrated("CalRGB"), GREEN_RGB, (1, 1, 1)),
    "Lab": Space(lab, (60, 40, 20), (100, 0, 0), lab_sample, (0, 100, -128, 127, -128, 127)),
    "ICC gray": Space(icc(1), (0.4,), (1,)),
    "ICC RGB": Space(icc(3), GREEN_RGB, (1, 1, 1)),
    "ICC CMYK": Space(icc(4), GREEN_CMYK, (0, 0, 0, 0)),
    "Indexed RGB": indexed(named("DeviceRGB"), GREEN_RGB, (1, 1, 1)),
    "Indexed CMYK": indexed(named("DeviceCMYK"), GREEN_CMYK, (0, 0, 0, 0)),
    "Indexed Separation": indexed(separation("Copper"), (0.8,), (0,)),
    "Indexed DeviceN": indexed(device_n("Copper", "Cyan"), (0.8, 0.3), (0, 0)),
    "Separation": Space(separation("Copper"), (0.8,), (0,)),
    "Separation Black": Space(separation("Black"), (0.8,), (0,)),
    "DeviceN process": Space(device_n("Magenta", "Black"), (0.8, 0), (0, 0)),
    "DeviceN spots": Space(device_n("Copper", "Varnish"), (0.8, 0), (0, 0)),
    "DeviceN mixed": Space(device_n("Cyan", "Copper", "None"), (0.3, 0.8, 0.5), (0, 0, 0)),
    "NChannel": Space(n_channel, (0.3, 0, 0, 0.5, 0.8), (0, 0, 0, 0, 0)),
    "All": Space(separation("All"), (0.8,), (0,)),
    "None": Space(separation("None"), (0.8,), (0,)),
}
CONVERTED = {"Lab"}
"""Process inks by each program's own rule: compared is whether they knock out what lies below."""

# --- Cells ------------------------------------------------------------------------------------------------------------

MODES = {"knocks out": Dictionary(OP=False, op=False), "mode 0": Dictionary(OP=True, op=True, OPM=0),
         "mode 1": Dictionary(OP=True, op=True, OPM=1)}
GROUNDS = {
    "nothing": b"", "process": b"0.4 0.3 0.2 0.1 k 0 0 16 16 re f", "spots": b"/Spots cs 0.6 0.3 scn 0 0 16 16 re f",
    "white": b"0 0 0 0 k 0 0 16 16 re f",
}
COLORS = ("coloured", "white")


class Cell(NamedTuple):
    kind: str
    space: str
    color: str
    ground: str
    mode: str


COLORED_ALONE = {f"shading of type {kind}" for kind in (1, 3, 4, 5, 6, 7)}
"""White in type 2 and as a pattern speaks for them: the test shall stay quick."""


def cells(kinds: Sequence[str], mode: str) -> list[Cell]:
    """8.7.4.5: there is no gradient in an Indexed space by a function, and none is asked for here."""
    return [
        Cell(kind, space, color, ground, mode)
        for kind in kinds
        for space in SPACES
        if not (kind.startswith("shading") and space.startswith("Indexed"))
        for color in (COLORS[:1] if kind in COLORED_ALONE else COLORS)
        for ground in GROUNDS
    ]


@dataclass
class Sheet:
    """Objects that the cells of all pages share."""

    pdf: Pdf
    resources: dict[str, Dictionary] = field(default_factory=dict)
    names: dict[object, bytes] = field(default_factory=dict)

    def put(self, category: str, key: object, make: Callable[[], Any]) -> bytes:
        """The name of a resource, made once."""
        if key not in self.names:
            name = f"/X{len(self.names)}"
            self.resources.setdefault(category, Dictionary())[name] = self.pdf.make_indirect(make())
            self.names[key] = name.encode()
        return self.names[key]

    def space(self, name: str) -> bytes:
        return self.put("/ColorSpace", ("space", name), lambda: SPACES[name].make(self.pdf))

    def form(self, content: bytes, **entries: Any) -> Stream:
        """Of a whole cell; without Resources it gets those of the page."""
        made = Stream(self.pdf, content, Type=Name.XObject, Subtype=Name.Form, BBox=Array([0, 0, CELL_PT, CELL_PT]))
        for key, value in entries.items():
            made[f"/{key}"] = value
        return made


Kind = Callable[[Sheet, str, Color], bytes]
"""What paints a colour of a space; the state of overprint is set before."""


def document_of(pages: Sequence[Sequence[Cell]], kinds: dict[str, Kind]) -> bytes:
    """One page for each list, one cell beside the other, rows from the top."""
    with Pdf.new() as pdf:
        sheet = Sheet(pdf)
        contents = [_content(sheet, page, kinds) for page in pages]
        made = pdf.make_indirect(Dictionary({key: pdf.make_indirect(one) for key, one in sheet.resources.items()}))
        for cells_of_page, content in zip(pages, contents, strict=True):
            rows = -(-len(cells_of_page) // PER_ROW)
            page = pdf.add_blank_page(page_size=(PER_ROW * CELL_PT, rows * CELL_PT))
            page.Resources, page.Contents = made, Stream(pdf, content)
        for one in pdf.objects:
            if isinstance(one, Stream) and one.get("/Subtype") == Name.Form and "/Resources" not in one:
                one.Resources = made
        out = io.BytesIO()
        pdf.save(out)
        return out.getvalue()


def _content(sheet: Sheet, page: Sequence[Cell], kinds: dict[str, Kind]) -> bytes:
    rows, pieces = -(-len(page) // PER_ROW), []
    sheet.resources.setdefault("/ColorSpace", Dictionary())["/Spots"] = device_n("Copper", "Varnish")(sheet.pdf)
    for at, cell in enumerate(page):
        space = SPACES[cell.space]
        state = sheet.put("/ExtGState", cell.mode, lambda mode=cell.mode: Dictionary(MODES[mode]))
        painted = kinds[cell.kind](sheet, cell.space, space.colored if cell.color == "coloured" else space.white)
        x, y = at % PER_ROW * CELL_PT, (rows - 1 - at // PER_ROW) * CELL_PT
        pieces.append(b"q 1 0 0 1 %d %d cm q %s Q %s gs %s Q" % (x, y, GROUNDS[cell.ground], state, painted))
    return b"\n".join(pieces)
