"""DeviceCMYK as PDFium shows it, pixel by pixel, however many there are.

PDFium is handed a picture at a time, in a file that is written once: only its pixels are exchanged.
"""

from __future__ import annotations

import io
from functools import cache
from typing import NamedTuple, cast

import numpy as np
import numpy.typing as npt
import pikepdf
import pypdfium2 as pdfium
import pypdfium2.raw as pdfium_c
from pikepdf import Dictionary, Name, Stream
from PIL import Image

Bytes = npt.NDArray[np.uint8]

COLUMNS, ROWS = 4096, (4, 8, 16, 32)
"""Of a picture: the smallest that holds what is left. The largest stays in the processor's own memory. Ours, no source."""


class _File(NamedTuple):
    before: bytes
    """What stands before the pixels."""
    room: int
    """Bytes of pixels."""
    after: bytes


def as_pdfium_shows(values: Bytes) -> Bytes:
    """(rows, columns, 4) to (rows, columns, 3)."""
    inks = np.ascontiguousarray(values).reshape(-1, 4)
    made = np.empty((len(inks), 3), np.uint8)
    start = 0
    while start < len(inks):
        rows = next((rows for rows in ROWS if len(inks) - start <= rows * COLUMNS), ROWS[-1])
        some = inks[start : start + rows * COLUMNS]
        made[start : start + len(some)] = _shown(some, rows)[: len(some)]
        start += len(some)
    return made.reshape(*values.shape[:2], 3)


def _shown(inks: Bytes, rows: int) -> Bytes:
    file, pixels = _file(rows), inks.tobytes()
    with pdfium.PdfDocument(b"".join((file.before, pixels, bytes(file.room - len(pixels)), file.after))) as document:
        (picture,) = document[0].get_objects(filter=[pdfium_c.FPDF_PAGEOBJ_IMAGE])
        bitmap = cast(pdfium.PdfImage, picture).get_bitmap()
        size, data = (bitmap.width, bitmap.height), bytes(bitmap.buffer)
        return np.asarray(Image.frombuffer("RGB", size, data, "raw", "BGR", bitmap.stride, 1)).reshape(-1, 3)


@cache
def _file(rows: int) -> _File:
    pixels = bytes(range(256)) * (rows * COLUMNS * 4 // 256)
    with pikepdf.new() as pdf:
        picture = Stream(pdf, pixels, Type=Name.XObject, Subtype=Name.Image, ColorSpace=Name.DeviceCMYK)
        picture.Width, picture.Height, picture.BitsPerComponent = COLUMNS, rows, 8
        page = pdf.add_blank_page(page_size=(COLUMNS, rows))
        page.Resources = Dictionary(XObject=Dictionary(P=picture))
        page.Contents = Stream(pdf, b"%d 0 0 %d 0 0 cm /P Do" % (COLUMNS, rows))
        file = io.BytesIO()
        pdf.save(file, compress_streams=False)
    before, between, after = file.getvalue().partition(pixels)
    return _File(before, len(between), after)
