"""Pictures of a few pixels in a PDF, in every way that a file may hold them."""

from __future__ import annotations

import io
import struct
import zlib
from typing import Any

import numpy as np
import numpy.typing as npt
import pikepdf
from pikepdf import Array, Dictionary, Name
from PIL import Image, TiffImagePlugin

from service.pdf.content.resources import Resources, Shared
from service.pdf.plates.colors.inks import InkTable, process_by_formula
from service.pdf.plates.pictures.codecs import Bytes
from service.pdf.plates.pictures.recolored import Pictures

EVERY_PIXEL = (10_000, 10_000)
PROCESS = ("Cyan", "Magenta", "Yellow")


def spot(name: str) -> Array:
    tint = Dictionary(FunctionType=2, Domain=[0, 1], C0=[0, 0, 0, 0], C1=[0, 0.5, 0.7, 0.3], N=1)
    return Array([Name.Separation, Name("/" + name), Name.DeviceCMYK, tint])


def device_n(*names: str) -> Array:
    """The tint transform is never asked for plates."""
    return Array([Name.DeviceN, Array([Name("/" + name) for name in names]), Name.DeviceCMYK, Dictionary(FunctionType=2)])


def picture(pdf: pikepdf.Pdf, data: bytes, width: int, height: int, space: Any, bits: int = 8, **keys: Any) -> pikepdf.Stream:
    """Without a filter among the keys the data are plain samples."""
    stream = pikepdf.Stream(pdf, data)
    stream.Type, stream.Subtype = Name.XObject, Name.Image
    stream.Width, stream.Height, stream.BitsPerComponent = width, height, bits
    if space is not None:
        stream.ColorSpace = space
    for key, value in keys.items():
        stream[f"/{key}"] = value
    return pdf.make_indirect(stream)


def cmyk(pdf: pikepdf.Pdf, pixels: Bytes, **keys: Any) -> pikepdf.Stream:
    return picture(pdf, pixels.tobytes(), pixels.shape[1], pixels.shape[0], Name.DeviceCMYK, **keys)


def plates(
    image: pikepdf.Stream,
    *inks: str,
    need: tuple[int, int] = EVERY_PIXEL,
    resources: Any = None,
    pictures: Pictures | None = None,
) -> list[list[list[int]]]:
    """Tints of each ink, 0–255, as rows: what the picture made for the plates says."""
    return [
        [list(map(int, row)) for row in 255 - one]
        for one in _channels(plate_stream(image, *inks, need=need, resources=resources, pictures=pictures))[: len(inks)]
    ]


def plate_stream(
    image: pikepdf.Stream,
    *inks: str,
    need: tuple[int, int] = EVERY_PIXEL,
    resources: Any = None,
    pictures: Pictures | None = None,
) -> pikepdf.Stream:
    out = pikepdf.new()
    _KEPT_OPEN.append(out)
    of = Resources(resources, Shared(out))
    return (pictures or Pictures()).plate_picture(image, of, InkTable(inks, process_by_formula), out, need)


_KEPT_OPEN: list[pikepdf.Pdf] = []
"""A stream is read after the call that made it; its PDF must live as long."""


def _channels(stream: pikepdf.Stream) -> npt.NDArray[np.uint8]:
    """(3, rows, columns)."""
    pixels = np.frombuffer(stream.read_bytes(), np.uint8).reshape(int(stream.Height), int(stream.Width), 3)
    return pixels.transpose(2, 0, 1)


def opacity(stream: pikepdf.Stream) -> list[list[int]]:
    mask = stream.SMask
    return [list(row) for row in np.frombuffer(mask.read_bytes(), np.uint8).reshape(int(mask.Height), int(mask.Width)).tolist()]


# --- Codings ----------------------------------------------------------------------------------------------------------


def jpeg(pixels: Bytes, mode: str, adobe_transform: int | None = None, adobe: bool = True, **options: Any) -> bytes:
    """The stored values are `pixels`: Pillow inverts four components, so they go in inverted.

    `adobe_transform` overwrites what the Adobe marker says (0 none, 1 YCbCr, 2 YCCK); `adobe=False` takes the marker out.
    """
    image = Image.frombytes(mode, (pixels.shape[1], pixels.shape[0]), (255 - pixels if mode == "CMYK" else pixels).tobytes())
    file = io.BytesIO()
    image.save(file, "JPEG", quality=100, subsampling=0, **options)
    data = file.getvalue()
    at = data.find(b"Adobe")
    if adobe_transform is not None:
        data = data[: at + 11] + bytes((adobe_transform,)) + data[at + 12 :]
    if not adobe:
        data = data[: at - 4] + data[at + 12 :]
    return data


def jpeg_2000(pixels: Bytes, mode: str, **options: Any) -> bytes:
    file = io.BytesIO()
    size = (pixels.shape[1], pixels.shape[0])
    Image.frombytes(mode, size, pixels.tobytes()).save(file, "JPEG2000", irreversible=False, **options)
    return file.getvalue()


def fax(bits: npt.NDArray[np.bool_], coding: str = "group4") -> bytes:
    """Group 3 or 4 data of which True is black, as a TIFF strip holds them (TIFF 6.0, sections 10 and 11)."""
    file = io.BytesIO()
    Image.fromarray(np.where(bits, 0, 255).astype(np.uint8)).convert("1", dither=Image.Dither.NONE).save(
        file, "TIFF", compression=coding, tiffinfo={278: bits.shape[0], 262: 0}
    )
    return _strip(file)


def lzw(data: bytes) -> bytes:
    """TIFF 6.0, section 13: the coding of 7.4.4 with EarlyChange 1."""
    file = io.BytesIO()
    Image.frombytes("L", (len(data), 1), data).save(file, "TIFF", compression="tiff_lzw", tiffinfo={278: 1, 317: 1})
    return _strip(file)


def _strip(file: io.BytesIO) -> bytes:
    tags = TiffImagePlugin.TiffImageFile(io.BytesIO(file.getvalue())).tag_v2
    (at,), (size,) = tags[273], tags[279]
    return file.getvalue()[at : at + size]


def jbig2(bits: npt.NDArray[np.bool_]) -> bytes:
    """A page of one generic region in MMR coding, which is Group 4 (ITU-T T.88, 7.4.6 and 7.4.8); True is black."""
    rows, columns = bits.shape

    def segment(number: int, kind: int, body: bytes) -> bytes:
        return struct.pack(">IBBBI", number, kind, 0, 1, len(body)) + body

    page = struct.pack(">IIIIBH", columns, rows, 0, 0, 0, 0)
    region = struct.pack(">IIIIBB", columns, rows, 0, 0, 0, 1) + fax(bits)
    return segment(0, 48, page) + segment(1, 38, region)


def png_rows(pixels: Bytes, kinds: tuple[int, ...]) -> bytes:
    """Flate data with PNG predictors, one a row in turn (ISO/IEC 15948, 9.2)."""
    rows = pixels.reshape(len(pixels), -1).astype(int)
    step = pixels.shape[2]
    packed = bytearray()
    for at, row in enumerate(rows):
        left, above = np.roll(row, step), rows[at - 1] if at else np.zeros_like(row)
        left[:step] = 0
        corner = np.roll(above, step)
        corner[:step] = 0
        kind = kinds[at % len(kinds)]
        guess = left + above - corner
        distances = [np.abs(guess - one) for one in (left, above, corner)]
        paeth = np.where(
            (distances[0] <= distances[1]) & (distances[0] <= distances[2]),
            left,
            np.where(distances[1] <= distances[2], above, corner),
        )
        taken = (np.zeros_like(row), left, above, (left + above) // 2, paeth)[kind]
        packed += bytes((kind,)) + ((row - taken) % 256).astype(np.uint8).tobytes()
    return zlib.compress(bytes(packed))
