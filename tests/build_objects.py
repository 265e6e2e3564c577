"""Objects that the builder puts into a PDF: sample images, fonts, a spot ink."""

from __future__ import annotations

import io
import zlib
from functools import cache
from pathlib import Path
from typing import Any

import pikepdf
import reportlab
from fontTools.ttLib import TTFont
from pikepdf import Array, Dictionary, Name, Pdf, Stream
from PIL import Image

POINTS_PER_MM = 72 / 25.4
"""ISO 32000-2:2020, 8.3.2.3: a default unit is 1/72 inch; an inch is 25.4 mm."""

BASE_14 = ("Helvetica", "Helvetica-Bold", "Times-Roman", "Courier")


def separation(name: str) -> Array:
    """A spot ink that shows as magenta and black where it is not available (ISO 32000-2:2020, 8.6.6.4)."""
    tint = Dictionary(FunctionType=2, Domain=[0, 1], C0=[0, 0, 0, 0], C1=[0, 0.5, 0.7, 0.3], N=1)
    return Array([Name.Separation, Name("/" + name), Name.DeviceCMYK, tint])


LAB = Array([Name.Lab, Dictionary(WhitePoint=[0.9642, 1, 0.8249], Range=[-128, 127, -128, 127])])
"""D50, ISO 32000-2:2020, 8.6.5.4."""


def samples(
    columns: int, rows: int, color: str, bits: int, jpeg_quality: int | None, stencil: bool
) -> tuple[dict[str, Any], bytes]:
    """Keys and data of an image: a slanted ramp, so that it is no flat colour."""
    known: dict[str, tuple[Any, int]] = {
        "cmyk": (Name.DeviceCMYK, 4), "gray": (Name.DeviceGray, 1), "rgb": (Name.DeviceRGB, 3), "lab": (LAB, 3),
        "indexed": (Array([Name.Indexed, Name.DeviceRGB, 255, pikepdf.String(bytes(range(256)) * 3)]), 1),
    }
    space, parts = known.get(color) or (separation(color), 1)
    width = (columns * parts * bits + 7) // 8
    ramp = bytes(range(256)) * (width // 256 + 2)
    data = b"".join(ramp[row % 256 : row % 256 + width] for row in range(rows))
    keys = {"/Width": columns, "/Height": rows, "/BitsPerComponent": bits, "/ColorSpace": space, "/Filter": Name.FlateDecode}
    if stencil:
        del keys["/ColorSpace"]
        keys["/ImageMask"] = True
    if jpeg_quality is None:
        return keys, zlib.compress(data)
    out = io.BytesIO()
    mode = {1: "L", 3: "RGB", 4: "CMYK"}[parts]
    Image.frombytes(mode, (columns, rows), data).save(out, "JPEG", quality=jpeg_quality, subsampling=0)
    keys["/Filter"] = Name.DCTDecode
    return keys, out.getvalue()


@cache
def _vera_file() -> bytes:
    """Bitstream Vera, which may be shared freely (its licence ships beside it in reportlab)."""
    return (Path(reportlab.__file__).parent / "fonts" / "Vera.ttf").read_bytes()


@cache
def _vera_widths() -> tuple[int, ...]:
    font = TTFont(io.BytesIO(_vera_file()))
    names, widths, em = font.getBestCmap(), font["hmtx"], font["head"].unitsPerEm
    codes = (bytes([code]).decode("cp1252", "replace") for code in range(32, 256))
    return tuple(round(widths[names.get(ord(one), ".notdef")][0] * 1000 / em) for one in codes)


def text_width(string: str, size: float) -> float:
    """How long a line of Vera is, mm, by the font's own advance widths."""
    return sum(_vera_widths()[code - 32] for code in string.encode("cp1252")) / 1000 * size / POINTS_PER_MM


def vera(pdf: Pdf) -> Any:
    program = Stream(pdf, _vera_file())
    program.Length1 = len(_vera_file())
    descriptor = Dictionary(
        Type=Name.FontDescriptor, FontName=Name("/BitstreamVeraSans-Roman"), Flags=32, FontBBox=[-183, -236, 1287, 928],
        ItalicAngle=0, Ascent=928, Descent=-236, CapHeight=730, StemV=88, FontFile2=pdf.make_indirect(program),
    )
    return pdf.make_indirect(
        Dictionary(
            Type=Name.Font, Subtype=Name.TrueType, BaseFont=Name("/BitstreamVeraSans-Roman"), FirstChar=32, LastChar=255,
            Widths=Array(_vera_widths()), Encoding=Name.WinAnsiEncoding, FontDescriptor=pdf.make_indirect(descriptor),
        )
    )


def not_embedded(font: str) -> Dictionary:
    if font not in BASE_14:
        raise ValueError(f"{font} is none of {BASE_14}")
    return Dictionary(Type=Name.Font, Subtype=Name.Type1, BaseFont=Name("/" + font), Encoding=Name.WinAnsiEncoding)


def written(value: Any) -> bytes:
    """An entry of an inline image's dictionary."""
    return value.unparse() if isinstance(value, pikepdf.Object) else str(value).lower().encode()
