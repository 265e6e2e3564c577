"""Kinds of object for the cells: each paints the square from 3 to 13 in one colour of a space."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from pikepdf import Array, Dictionary, Name, Stream

from tests.build_objects import vera
from tests.outside.plate_cells import SPACES, Color, Kind, Sheet


def numbers(values: Color) -> bytes:
    return b" ".join(b"%g" % one for one in values)


def setting(sheet: Sheet, space: str, color: Color, stroke: bool = False) -> bytes:
    operators = (b"CS", b"SCN") if stroke else (b"cs", b"scn")
    return b"%s %s %s %s " % (sheet.space(space), operators[0], numbers(color), operators[1])


def fill(sheet: Sheet, space: str, color: Color) -> bytes:
    return setting(sheet, space, color) + b"3 3 10 10 re f"


def stroke(sheet: Sheet, space: str, color: Color) -> bytes:
    return setting(sheet, space, color, stroke=True) + b"10 w 3 8 m 13 8 l S"


def text(sheet: Sheet, space: str, color: Color) -> bytes:
    """The stem of a letter that is far larger than the square."""
    font = sheet.put("/Font", "Vera", lambda: vera(sheet.pdf))
    return setting(sheet, space, color) + b"3 3 10 10 re W n BT %s 120 Tf -10 -40 Td (I) Tj ET" % font


def outlined_text(sheet: Sheet, space: str, color: Color) -> bytes:
    font = sheet.put("/Font", "Vera", lambda: vera(sheet.pdf))
    shown = b"3 3 10 10 re W n 12 w BT %s 120 Tf 1 Tr -10 -40 Td (I) Tj ET" % font
    return setting(sheet, space, color, stroke=True) + shown


def type_3(sheet: Sheet, glyph: bytes, **spaces: Any) -> Dictionary:
    made = Dictionary(Type=Name.Font, Subtype=Name.Type3, FontBBox=[0, 0, 1000, 1000], FontMatrix=[0.001, 0, 0, 0.001, 0, 0])
    made.CharProcs, made.FirstChar, made.LastChar = Dictionary(a=sheet.pdf.make_indirect(Stream(sheet.pdf, glyph))), 97, 97
    made.Widths, made.Encoding = [1000], Dictionary(Type=Name.Encoding, Differences=[97, Name.a])
    made.Resources = Dictionary(ColorSpace=Dictionary({f"/{key}": one for key, one in spaces.items()}))
    return made


def glyph_of_its_own_color(sheet: Sheet, space: str, color: Color) -> bytes:
    def make() -> Dictionary:
        return type_3(sheet, b"1000 0 d0 /C cs %s scn 0 0 1000 1000 re f" % numbers(color), C=SPACES[space].make(sheet.pdf))

    return b"BT %s 10 Tf 3 3 Td (a) Tj ET" % sheet.put("/Font", ("d0", space, color), make)


def glyph_in_the_current_color(sheet: Sheet, space: str, color: Color) -> bytes:
    font = sheet.put("/Font", "d1", lambda: type_3(sheet, b"1000 0 0 0 1000 1000 d1 0 0 1000 1000 re f"))
    return setting(sheet, space, color) + b"BT %s 10 Tf 3 3 Td (a) Tj ET" % font


# --- Pictures ---------------------------------------------------------------------------------------------------------

PLACED = b"10 0 0 10 3 3 cm "


def image(sheet: Sheet, data: bytes, bits: int, **entries: Any) -> Stream:
    """Two by two samples."""
    made = Stream(sheet.pdf, data, Type=Name.XObject, Subtype=Name.Image, Width=2, Height=2, BitsPerComponent=bits)
    for key, value in entries.items():
        made[f"/{key}"] = value
    return made


def picture(sheet: Sheet, space: str, color: Color) -> bytes:
    def make() -> Stream:
        return image(sheet, SPACES[space].sample(color) * 4, 8, ColorSpace=SPACES[space].make(sheet.pdf))

    return PLACED + b"%s Do" % sheet.put("/XObject", ("picture", space, color), make)


def stencil(sheet: Sheet, space: str, color: Color) -> bytes:
    made = sheet.put("/XObject", "stencil", lambda: image(sheet, b"\0\0", 1, ImageMask=True))
    return setting(sheet, space, color) + PLACED + b"%s Do" % made


def inline_picture(sheet: Sheet, space: str, color: Color) -> bytes:
    data = SPACES[space].sample(color).hex().encode() * 4
    return PLACED + b"BI /W 2 /H 2 /BPC 8 /CS %s /F /AHx ID %s> EI" % (sheet.space(space), data)


def half_transparent_picture(sheet: Sheet, space: str, color: Color) -> bytes:
    def make() -> Stream:
        mask = sheet.pdf.make_indirect(image(sheet, b"\x80" * 4, 8, ColorSpace=Name.DeviceGray))
        return image(sheet, SPACES[space].sample(color) * 4, 8, ColorSpace=SPACES[space].make(sheet.pdf), SMask=mask)

    return PLACED + b"%s Do" % sheet.put("/XObject", ("masked picture", space, color), make)


# --- Gradients, of one colour -----------------------------------------------------------------------------------------


def function_of(sheet: Sheet, space: str, color: Color, inputs: int) -> Any:
    program = b"{%s %s}" % (b"pop " * inputs, numbers(color))
    limits = Array(SPACES[space].decode)
    return sheet.pdf.make_indirect(Stream(sheet.pdf, program, FunctionType=4, Domain=Array([0, 1] * inputs), Range=limits))


def by_function(sheet: Sheet, kind: int, space: str, color: Color) -> Dictionary:
    made = Dictionary(ShadingType=kind, ColorSpace=SPACES[space].make(sheet.pdf))
    made.Function = function_of(sheet, space, color, 2 if kind == 1 else 1)
    if kind == 1:
        made.Matrix = Array([10, 0, 0, 10, 3, 3])
    else:
        made.Coords = Array([3, 8, 13, 8] if kind == 2 else [8, 8, 0, 8, 8, 9])
        made.Extend = Array([True, True])
    return made


EDGE = ((0, 0), (0, 5), (0, 10), (0, 15), (5, 15), (10, 15), (15, 15), (15, 10), (15, 5), (15, 0), (10, 0), (5, 0))
INNER = ((5, 5), (5, 10), (10, 10), (10, 5))
CORNERS = ((0, 0), (15, 0), (0, 15), (15, 15))


def mesh(sheet: Sheet, kind: int, space: str, color: Color) -> Stream:
    """Over the whole cell: coordinates are sixteenths."""
    sample = SPACES[space].sample(color)

    def places(*points: tuple[int, int]) -> bytes:
        return bytes(one * 16 for point in points for one in point)

    if kind == 4:
        data = b"".join(b"\0" + places(CORNERS[at]) + sample for at in (0, 1, 2, 1, 2, 3))
    elif kind == 5:
        data = b"".join(places(one) + sample for one in CORNERS)
    else:
        data = b"\0" + places(*EDGE, *(INNER if kind == 7 else ())) + sample * 4
    made = Stream(sheet.pdf, data, ShadingType=kind, BitsPerCoordinate=8, BitsPerComponent=8)
    made.ColorSpace, made.Decode = SPACES[space].make(sheet.pdf), Array([0, 255 / 16, 0, 255 / 16, *SPACES[space].decode])
    made["/VerticesPerRow" if kind == 5 else "/BitsPerFlag"] = 2 if kind == 5 else 8
    return made


def shading(kind: int) -> Kind:
    make = by_function if kind <= 3 else mesh

    def paint(sheet: Sheet, space: str, color: Color) -> bytes:
        name = sheet.put("/Shading", ("shading", kind, space, color), lambda: make(sheet, kind, space, color))
        return b"3 3 10 10 re W n %s sh" % name

    return paint


def shading_pattern(sheet: Sheet, space: str, color: Color) -> bytes:
    def make() -> Dictionary:
        return Dictionary(PatternType=2, Shading=by_function(sheet, 2, space, color))

    return b"/Pattern cs %s scn 3 3 10 10 re f" % sheet.put("/Pattern", ("shading", space, color), make)


# --- Tiles ------------------------------------------------------------------------------------------------------------


def tiles(sheet: Sheet, content: bytes, paint_type: int, **spaces: Any) -> Stream:
    cell = Stream(sheet.pdf, content, Type=Name.Pattern, PatternType=1, PaintType=paint_type, TilingType=1)
    cell.BBox, cell.XStep, cell.YStep = Array([0, 0, 32, 32]), 32, 32
    cell.Resources = Dictionary(ColorSpace=Dictionary({f"/{key}": one for key, one in spaces.items()}))
    return cell


def colored_tiles(sheet: Sheet, space: str, color: Color) -> bytes:
    def make() -> Stream:
        return tiles(sheet, b"/C cs %s scn 0 0 32 32 re f" % numbers(color), 1, C=SPACES[space].make(sheet.pdf))

    return b"/Pattern cs %s scn 3 3 10 10 re f" % sheet.put("/Pattern", ("tiles", space, color), make)


def uncolored_tiles(sheet: Sheet, space: str, color: Color) -> bytes:
    pattern = sheet.put("/Pattern", "uncoloured", lambda: tiles(sheet, b"0 0 32 32 re f", 2))
    made = sheet.put("/ColorSpace", ("pattern", space), lambda: Array([Name.Pattern, SPACES[space].make(sheet.pdf)]))
    return b"%s cs %s %s scn 3 3 10 10 re f" % (made, numbers(color), pattern)


# --- Forms, groups and what is blended --------------------------------------------------------------------------------

GROUND_INSIDE = b"q 0.2 0.1 0.4 0.3 k 0 0 16 16 re f Q "


def form(before: bytes = b"", **group: bool) -> Kind:
    """Holds a filled area, with something below it in the form, or nothing; a group if anything is said of it."""

    def paint(sheet: Sheet, space: str, color: Color) -> bytes:
        content = before + fill(sheet, space, color)

        def make() -> Stream:
            if not group:
                return sheet.form(content)
            entry = Dictionary({"/S": Name.Transparency, "/CS": Name.DeviceCMYK} | {f"/{key}": one for key, one in group.items()})
            return sheet.form(content, Group=entry)

        return b"%s Do" % sheet.put("/XObject", ("form", before, *group.items(), space, color), make)

    return paint


def blended(key: str, make: Callable[[Sheet], Dictionary]) -> Kind:
    """An area in another graphics state."""
    return lambda sheet, space, color: b"%s gs " % sheet.put("/ExtGState", key, lambda: make(sheet)) + fill(sheet, space, color)


def soft_mask(sheet: Sheet) -> Dictionary:
    """By alpha, half; Ghostscript gives mid grays of a mask by luminosity a curve of its own."""
    mask = sheet.form(b"/A gs 0 g 0 0 16 16 re f", Resources=Dictionary(ExtGState=Dictionary(A=Dictionary(ca=0.5))))
    mask.Group = Dictionary(S=Name.Transparency, CS=Name.DeviceGray)
    return Dictionary(SMask=Dictionary(S=Name.Alpha, G=sheet.pdf.make_indirect(mask)))


OPAQUE: dict[str, Kind] = {
    "fill": fill, "stroke": stroke, "text": text, "outlined text": outlined_text,
    "glyph of its own colour": glyph_of_its_own_color, "glyph in the current colour": glyph_in_the_current_color,
    "picture": picture, "stencil": stencil, "inline picture": inline_picture,
    **{f"shading of type {kind}": shading(kind) for kind in range(1, 8)},
    "shading as a pattern": shading_pattern, "coloured tiles": colored_tiles, "uncoloured tiles": uncolored_tiles,
    "form": form(),
}
BLENDED: dict[str, Kind] = {
    "group": form(I=False), "isolated group": form(I=True), "isolated group with its own ground": form(GROUND_INSIDE, I=True),
    "knockout group": form(K=True), "half opaque": blended("half", lambda _: Dictionary(ca=0.5)),
    "soft mask": blended("mask", soft_mask), "multiplied": blended("multiply", lambda _: Dictionary(BM=Name.Multiply)),
    "half transparent picture": half_transparent_picture,
}
"""On pages of their own: one of them makes a program composite the whole page."""
