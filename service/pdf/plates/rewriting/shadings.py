"""Any shading as one in DeviceRGB that looks the same to PDFium, its colours chosen by the caller (ISO 32000-2:2020, 8.7.4.5).

* Type 1: the function is sampled on a grid.
* Types 2 and 3: the function is sampled at the steps that PDFium takes, each in the middle of the stretch that it paints, the
  ends at the ends; without that the last colour, with which a gradient is extended, would fall short by 1 part in 256.
* Types 4 to 7 become triangles with a finished colour at each corner (`meshes`), which any PDFium paints alike: that of pypdfium2
  4.30 applies a function at the corners only, where 8.7.4.5.5 asks to mix first, and leaves the inner points of a patch out.
* Coords, Matrix, Domain, Extend, BBox and AntiAlias stay; Background is converted.
"""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
import pikepdf
from pikepdf import Array, Dictionary, Name, Stream

from service.pdf.plates.colors.functions import Function, Values, floats, function_of
from service.pdf.plates.rewriting.meshes import Colors, Triangles, colored, mesh_triangles, refined
from service.pdf.plates.unreadable import Unreadable
from service.pdf.reading.names import name_text

AXIAL_STEPS = 256
"""PDFium paints an axial or radial gradient in so many colours; the tests hold the two ends to it."""
GRID = 256
"""Samples of a type 1 function in each direction."""
_WIDEST_STRETCH = 1 / 8
"""How much of what the whole mesh asks of its function one triangle may span before its colours are looked at."""
_GEOMETRY = {1: {"/Matrix": 6, "/Domain": 4}, 2: {"/Coords": 4, "/Domain": 2}, 3: {"/Coords": 6, "/Domain": 2}}
"""By type: what stays as it is, and how many numbers it has."""


def rgb_shading(shading: pikepdf.Object, to_rgb: Colors, components: int, out: pikepdf.Pdf) -> pikepdf.Object:
    """The shading, made in `out`; `to_rgb` turns colours of its space, (n, components), into (n, 3) of 0–1.

    Raises Unreadable, and what reading raises, where the shading is damaged or larger than a check may work through.
    """
    if not isinstance(shading, Dictionary | Stream):
        raise Unreadable("a gradient is missing")
    kind = int(shading.get("/ShadingType", 0))
    color, function = _colors_of(shading, to_rgb, components, 2 if kind == 1 else 1)
    if kind in (1, 2, 3):
        if function is None:
            raise Unreadable("a gradient has no function")
        if kind != 1 and "/Coords" not in shading:
            raise Unreadable("a gradient does not say where it starts and ends")
        sampled = _sampled_plane if kind == 1 else _sampled_line
        made: pikepdf.Object = Dictionary(ShadingType=kind, Function=sampled(shading, color, out))
        _keep(shading, made, _GEOMETRY[kind])
        if "/Extend" in shading:
            made.Extend = Array([bool(one) for one in shading.Extend])
    elif kind in (4, 5, 6, 7) and isinstance(shading, Stream):
        made = _triangle_mesh(_painted(shading, kind, components, color, function), out)
    else:
        raise Unreadable("a gradient is of no kind that the standard knows")
    made.ColorSpace = Name.DeviceRGB
    _keep(shading, made, {"/BBox": 4})
    if "/AntiAlias" in shading:
        made.AntiAlias = bool(shading.AntiAlias)
    if "/Background" in shading:
        background = np.array([floats(shading.Background, components)[:components]])
        made.Background = Array([round(float(one), 6) for one in _finished(to_rgb, background)[0]])
    return made


def _colors_of(shading: pikepdf.Object, to_rgb: Colors, components: int, inputs: int) -> tuple[Colors, Function | None]:
    """From the numbers that the shading blends, a colour's own or a function's inputs, to finished colours."""
    if "/Function" not in shading:
        return lambda values: _finished(to_rgb, values), None
    function = function_of(shading.Function)
    if (function.inputs, function.outputs) != (inputs, components):
        raise Unreadable("a gradient's function does not fit its colour space")
    return lambda values: _finished(to_rgb, function(values)), function


def _finished(to_rgb: Colors, colors: Values) -> Values:
    return np.clip(to_rgb(colors), 0, 1)


def _keep(shading: pikepdf.Object, made: pikepdf.Object, lengths: Mapping[str, int]) -> None:
    """Lists of so many numbers, as values of the other file."""
    for key, length in lengths.items():
        if key in shading:
            made[key] = Array(floats(shading[key], length)[:length])


# --- Functions --------------------------------------------------------------------------------------------------------


def _sampled_line(shading: pikepdf.Object, color: Colors, out: pikepdf.Pdf) -> pikepdf.Object:
    start, end = floats(shading.Domain, 2)[:2] if "/Domain" in shading else (0.0, 1.0)
    steps = (np.arange(AXIAL_STEPS) + 0.5) / (AXIAL_STEPS - 1)
    steps[0], steps[-1] = 0, 1
    colors = color((start + steps * (end - start))[:, np.newaxis])
    return _sampled(colors, (start, end), (AXIAL_STEPS,), (0, AXIAL_STEPS), out)


def _sampled_plane(shading: pikepdf.Object, color: Colors, out: pikepdf.Pdf) -> pikepdf.Object:
    x0, x1, y0, y1 = domain = floats(shading.Domain, 4)[:4] if "/Domain" in shading else (0.0, 1.0, 0.0, 1.0)
    y, x = np.meshgrid(np.linspace(y0, y1, GRID), np.linspace(x0, x1, GRID), indexing="ij")
    colors = color(np.stack([x.ravel(), y.ravel()], axis=1))
    return _sampled(colors, domain, (GRID, GRID), (0, GRID - 1, 0, GRID - 1), out)


def _sampled(
    colors: Values, domain: tuple[float, ...], size: tuple[int, ...], encode: tuple[int, ...], out: pikepdf.Pdf
) -> pikepdf.Object:
    samples = np.round(colors * 0xFFFF).astype(">u2")
    made = Stream(out, samples.tobytes(), FunctionType=0, BitsPerSample=16)
    made.Domain, made.Size, made.Encode, made.Range = Array(domain), Array(size), Array(encode), Array((0, 1) * 3)
    return out.make_indirect(made)


# --- Meshes -----------------------------------------------------------------------------------------------------------


def _painted(shading: Stream, kind: int, components: int, color: Colors, function: Function | None) -> Triangles:
    triangles = mesh_triangles(shading, kind, 1 if function else components)
    if function:
        span = float(np.ptp(triangles.values)) if triangles.values.size else 0.0
        return refined(triangles, color, span * _WIDEST_STRETCH)
    if _is_indexed(shading.get("/ColorSpace")):  # colours of a palette are looked up before they are mixed (8.6.6.3)
        return colored(triangles, color)
    return refined(triangles, color, np.inf)


def _is_indexed(space: pikepdf.Object | None) -> bool:
    return isinstance(space, Array) and len(space) > 0 and name_text(space[0]) in ("Indexed", "I")


_VERTEX = np.dtype([("flag", "u1"), ("place", ">u4", 2), ("color", ">u2", 3)])


def _triangle_mesh(triangles: Triangles, out: pikepdf.Pdf) -> pikepdf.Object:
    """Type 4, each triangle with three vertices of its own."""
    places = triangles.places.reshape(-1, 2)
    low = places.min(axis=0) if len(places) else np.zeros(2)
    high = places.max(axis=0) if len(places) else np.ones(2)
    vertices = np.zeros(len(places), dtype=_VERTEX)
    vertices["place"] = np.round((places - low) / np.where(high > low, high - low, 1) * 0xFFFFFFFF)
    vertices["color"] = np.round(triangles.values.reshape(-1, 3) * 0xFFFF)
    made = Stream(out, vertices.tobytes(), ShadingType=4, BitsPerFlag=8, BitsPerCoordinate=32, BitsPerComponent=16)
    made.Decode = Array([float(one) for one in (low[0], high[0], low[1], high[1])] + [0, 1] * 3)
    return out.make_indirect(made)
