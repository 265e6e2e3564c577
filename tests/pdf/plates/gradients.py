"""Small gradients of every type in DeviceCMYK, whose colours and places are worked out here.

A page is 100 × 100 pt. Colours are four tints; `CORNERS` are those of a patch in the order of its stream. A mesh is packed
bit by bit as 8.7.4.5.5 to 8.7.4.5.8 of ISO 32000-2:2020 say, apart from the code under test.
"""

from __future__ import annotations

import io
from collections.abc import Callable, Sequence
from typing import Any

import numpy as np
import numpy.typing as npt
import pikepdf
import pypdfium2
from pikepdf import Array, Dictionary, Name, Pdf, Stream

from service.pdf.plates.rewriting.shadings import rgb_shading

SIDE_PT = 100
Tints = Sequence[float]
Maker = Callable[[Pdf], pikepdf.Object]
GREEN, MAGENTA, YELLOW, BLUE = (1, 0, 0.5, 0), (0, 1, 0, 0), (0, 0, 1, 0), (0.5, 0.5, 0, 0)
CORNERS = (GREEN, MAGENTA, YELLOW, BLUE)
COONS = ((10, 10), (0, 25), (20, 35), (10, 50), (25, 65), (35, 40), (50, 50), (60, 40), (40, 25), (50, 10), (40, 0), (25, 20))
NEXT_TO_IT = ((60, 0), (70, 20), (90, 10), (95, 20), (80, 35), (90, 50), (75, 60), (60, 40))
"""Shares the side from (50, 50) to (50, 10), which is that of edge flag 2."""
TENSOR = (
    (10, 10), (5, 40), (15, 60), (10, 90), (40, 95), (60, 80), (90, 90), (95, 60), (80, 40), (90, 10), (60, 0), (40, 20),
    (80, 80), (80, 20), (20, 20), (20, 80),
)
"""Its inner points are far from where those of a Coons patch would be."""


def blend(start: Tints = GREEN, end: Tints = MAGENTA, exponent: float = 1) -> Dictionary:
    return Dictionary(FunctionType=2, Domain=[0, 1], C0=Array(start), C1=Array(end), N=exponent)


def rainbow() -> Dictionary:
    """Three blends one after the other."""
    parts = [blend(), blend(MAGENTA, YELLOW), blend(YELLOW, GREEN)]
    return Dictionary(FunctionType=3, Domain=[0, 1], Functions=Array(parts), Bounds=[0.3, 0.6], Encode=[0, 1] * 3)


def program(pdf: Pdf, source: str, domain: Sequence[float], outputs: int) -> pikepdf.Object:
    made = Stream(pdf, source.encode(), FunctionType=4, Domain=Array(domain), Range=Array([0, 1] * outputs))
    return pdf.make_indirect(made)


def gradient(kind: int, **entries: Any) -> Dictionary:
    return Dictionary(ShadingType=kind, ColorSpace=Name.DeviceCMYK, **entries)


def packed(records: Sequence[Sequence[tuple[float, int]]]) -> bytes:
    """Each number with its bits; each record is filled up to a whole byte."""
    out = bytearray()
    for record in records:
        bits = "".join(f"{round(number):0{width}b}" for number, width in record)
        bits += "0" * (-len(bits) % 8)
        out += int(bits, 2).to_bytes(len(bits) // 8, "big")
    return bytes(out)


class Mesh:
    """Writes vertices and patches with these depths; coordinates are 0 to 100, tints 0 to 1."""

    def __init__(self, flag: int = 8, coordinate: int = 16, component: int = 8) -> None:
        self.flag, self.coordinate, self.component = flag, coordinate, component

    def record(self, flag: int | None, points: Sequence[Sequence[float]], colors: Sequence[Tints]) -> list[tuple[float, int]]:
        place, tint = 2**self.coordinate - 1, 2**self.component - 1
        return [
            *([] if flag is None else [(flag, self.flag)]),
            *((one / SIDE_PT * place, self.coordinate) for point in points for one in point),
            *((one * tint, self.component) for color in colors for one in color),
        ]

    def shading(
        self, pdf: Pdf, kind: int, records: Sequence[list[tuple[float, int]]], components: int = 4, **entries: Any
    ) -> pikepdf.Object:
        made = Stream(pdf, packed(records), ShadingType=kind, ColorSpace=Name.DeviceCMYK)
        made.BitsPerCoordinate, made.BitsPerComponent = self.coordinate, self.component
        if kind != 5:
            made.BitsPerFlag = self.flag
        made.Decode = Array([0, SIDE_PT, 0, SIDE_PT, *([0, 1] * components)])
        for key, value in entries.items():
            made[f"/{key}"] = value
        return pdf.make_indirect(made)


def triangles(pdf: Pdf, mesh: Mesh | None = None) -> pikepdf.Object:
    """Three triangles, the second and third on a side of the one before."""
    mesh = mesh or Mesh()
    vertices = [
        (0, (10, 10), GREEN), (0, (90, 10), MAGENTA), (0, (50, 90), YELLOW),
        (1, (95, 95), BLUE), (2, (60, 98), (1, 1, 1, 0)),
    ]
    return mesh.shading(pdf, 4, [mesh.record(flag, [place], [color]) for flag, place, color in vertices])


def triangle_with_function(pdf: Pdf) -> pikepdf.Object:
    mesh = Mesh(component=16)
    vertices = [((10, 10), 0), ((90, 10), 1), ((50, 90), 0.3)]
    return mesh.shading(pdf, 4, [mesh.record(0, [place], [(t,)]) for place, t in vertices], 1, Function=rainbow())


def lattice(pdf: Pdf) -> pikepdf.Object:
    mesh = Mesh(coordinate=12)
    vertices = [((x, y), (x / 100, y / 100, (x + y) % 30 / 30, 0)) for y in (5, 35, 65, 90) for x in (5 + y / 5, 35, 60 + y / 3)]
    return mesh.shading(pdf, 5, [mesh.record(None, [place], [color]) for place, color in vertices], VerticesPerRow=3)


def coons(pdf: Pdf) -> pikepdf.Object:
    """Two patches side by side."""
    mesh = Mesh()
    return mesh.shading(pdf, 6, [mesh.record(0, COONS, CORNERS), mesh.record(2, NEXT_TO_IT, (MAGENTA, GREEN))])


def coons_with_function(pdf: Pdf) -> pikepdf.Object:
    mesh = Mesh(component=16)
    corners = [(0.0,), (1.0,), (0.4,), (0.15,)]
    return mesh.shading(pdf, 6, [mesh.record(0, COONS, corners)], 1, Function=rainbow())


def tensor(pdf: Pdf) -> pikepdf.Object:
    mesh = Mesh()
    return mesh.shading(pdf, 7, [mesh.record(0, TENSOR, CORNERS)])


# --- Pages ------------------------------------------------------------------------------------------------------------


def painted(make: Maker, pattern: bool = False) -> Pdf:
    """A page that `sh` paints, or a pattern of the same shading."""
    pdf = Pdf.new()
    pdf.add_blank_page(page_size=(SIDE_PT, SIDE_PT))
    page = pdf.pages[0]
    shading = make(pdf)
    if pattern:
        page.Resources = Dictionary(Pattern=Dictionary(P=Dictionary(PatternType=2, Shading=shading)))
        page.Contents = Stream(pdf, b"/Pattern cs /P scn 0 0 100 100 re f")
    else:
        page.Resources = Dictionary(Shading=Dictionary(S=shading))
        page.Contents = Stream(pdf, b"/S sh")
    return pdf


def complements(tints: npt.NDArray[np.float64]) -> npt.NDArray[np.float64]:
    """Cyan, magenta and yellow as red, green and blue."""
    return 1 - tints[:, :3]


def rewritten(make: Maker, pattern: bool = False) -> Pdf:
    source = Pdf.new()
    return painted(lambda out: rgb_shading(make(source), complements, 4, out), pattern)


def tints_by_pdfium(pdf: Pdf, ppi: int = 144) -> npt.NDArray[np.int16]:
    """(rows, columns, cyan magenta yellow), 255 = full tint."""
    saved = io.BytesIO()
    pdf.save(saved)
    with pypdfium2.PdfDocument(saved.getvalue()) as document:
        pixels = document[0].render(scale=ppi / 72).to_numpy()[..., 2::-1]
        tints: npt.NDArray[np.int16] = 255 - pixels.astype(np.int16)
    return tints
