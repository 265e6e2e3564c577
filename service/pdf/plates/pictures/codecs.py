"""Decode what a picture coding holds: JPEG and JPEG 2000 by Pillow, fax coding and JBIG2 by PDFium.

* JPEG is decoded at the half, the quarter or the eighth where that is enough: the coding's own way to a smaller picture, which
  gives averages to within a step of 255. JPEG 2000 halves by wavelets, which make edges up to two thirds stronger than they are:
  that is done only where every pixel would not fit into the memory.
* The four values of a JPEG are taken as they are stored (7.4.8): whether they are inverted is the business of Decode alone.
  The Adobe marker tells how they were transformed; without it, ColorTransform does.
* One-bit codings become the fraction of ones under each sample. PDFium paints them twice, once inverted: where the two do
  not add up, it has painted nothing or filled in rows that the data do not have.
* Every size is checked before anything is decoded. What is refused, cut off or damaged raises Unreadable.
"""

from __future__ import annotations

import io
import struct
from typing import NamedTuple, cast

import numpy as np
import numpy.typing as npt
import pikepdf
import pypdfium2 as pdfium
import pypdfium2.raw as pdfium_c
from pikepdf import Array, Dictionary, Name
from PIL import Image, ImageFile, Jpeg2KImagePlugin, JpegImagePlugin

from service.pdf.content.color_spaces import CMYK, GRAY, RGB, ColorSpace
from service.pdf.plates.pictures.filters import ends_early
from service.pdf.plates.pictures.source import Filter, PictureSource
from service.pdf.plates.unreadable import TooLarge, Unreadable

Bytes = npt.NDArray[np.uint8]
Size = tuple[int, int]
"""Columns, rows."""

MOST_PIXELS = 500_000_000
"""Of a picture with continuous tones. 6 × 3 m at 120 ppi are 400 million. Ours, no source."""
MOST_BILEVEL_PIXELS = 1_200_000_000
"""A1 at 1200 ppi has 1,115 million; PDFium takes a second and 150 MB for them. Ours, no source."""
MOST_DECODED_SAMPLES = 160_000_000
"""Held at once: what a coding without a scale of its own needs (JPEG 2000, progressive JPEG). Ours, no source."""
MOST_SCANS = 200
"""Of a progressive JPEG: encoders use about ten; thousands are an attack. Ours, no source."""

_PILLOW_ERRORS = (OSError, SyntaxError, struct.error, AssertionError, EOFError, Image.DecompressionBombError)


def _damaged() -> Unreadable:
    return Unreadable("the data of a picture are damaged, cut off or of a kind that is not read here")


class Decoded(NamedTuple):
    """Samples behind a coding, before Decode."""

    samples: Bytes
    """(rows, columns, components); 8 bits, or the codes themselves where they index a palette."""
    scaled: bool = False
    """Whether there are more pixels to be had."""
    opacity: Bytes | None = None
    space: ColorSpace | None = None
    """What JPEG 2000 data say of themselves."""


def refuse_too_large(width: int, height: int, most: int = MOST_PIXELS) -> None:
    if width * height > most:
        raise TooLarge(
            "a picture has {count} million pixels; a check takes {most} million",
            count=round(width * height / 1e6), most=most // 1_000_000,
        )


# --- JPEG -------------------------------------------------------------------------------------------------------------


def jpeg(data: bytes, coding: Filter, need: Size | None) -> Decoded:
    """At `need` pixels or more; `None` asks for every pixel."""
    try:
        picture = JpegImagePlugin.JpegImageFile(io.BytesIO(data))
        columns, rows = picture.size
        refuse_too_large(columns, rows)
        progressive = "progressive" in picture.info
        if progressive and columns * rows * picture.layers > MOST_DECODED_SAMPLES:
            raise TooLarge("a progressive JPEG of this size takes more memory than a check may use")
        if progressive and data.count(b"\xff\xda") > MOST_SCANS:
            raise TooLarge("a progressive JPEG has more than {count} scans", count=MOST_SCANS)
        if need is not None:
            picture.draft(None, (max(min(need[0], columns), 1), max(min(need[1], rows), 1)))
        if picture.size[0] * picture.size[1] * picture.layers > MOST_DECODED_SAMPLES:
            raise TooLarge("a JPEG of this size takes more memory than a check may use")
        tile = picture.tile[0]
        picture.tile = [tile._replace(args=(picture.mode, _stored_as(picture, coding)))]
        return Decoded(_pixels(picture), picture.size != (columns, rows))
    except _PILLOW_ERRORS as error:
        raise _damaged() from error


def _stored_as(picture: JpegImagePlugin.JpegImageFile, coding: Filter) -> str:
    """What the decoder is told of the stored colours; '' lets the Adobe marker, or the usual rule, decide."""
    transform = coding.parameters.get("ColorTransform")
    if "adobe_transform" in picture.info or transform is None or picture.layers == 1:
        return ""
    if picture.layers == 3:
        return "YCbCr" if transform else "RGB"
    return "YCbCrK" if transform else "CMYK"  # the decoder's own names


def _pixels(picture: ImageFile.ImageFile) -> Bytes:
    _load_whole(picture)
    array = np.asarray(picture)
    return cast(Bytes, array[:, :, np.newaxis] if array.ndim == 2 else array)


def _load_whole(picture: ImageFile.ImageFile) -> None:
    """Raises OSError where the data end early, whatever another library has set for the whole process."""
    before = ImageFile.LOAD_TRUNCATED_IMAGES
    ImageFile.LOAD_TRUNCATED_IMAGES = False
    try:
        picture.load()
    finally:
        ImageFile.LOAD_TRUNCATED_IMAGES = before


# --- JPEG 2000 --------------------------------------------------------------------------------------------------------


class _Codestream(NamedTuple):
    width: int
    height: int
    components: int
    bits: int
    levels: int
    """How often it can be halved."""


def jpeg_2000(data: bytes, space: ColorSpace | None, alpha_inside: int, need: Size | None) -> Decoded:
    """ISO/IEC 15444-1; the file's own colour space stands where the picture's dictionary gives none (7.4.9)."""
    stream = _codestream(data)
    refuse_too_large(stream.width, stream.height)
    if stream.components > 4:
        raise Unreadable(
            "a JPEG 2000 picture has {count} components; more than {most} are not read here", count=stream.components, most=4
        )
    halvings = 0
    while (stream.width >> halvings) * (stream.height >> halvings) * stream.components > MOST_DECODED_SAMPLES // 2:
        halvings += 1
        if need is None or halvings > stream.levels or not all(
            size >> halvings >= asked for size, asked in zip((stream.width, stream.height), need, strict=True)
        ):
            raise TooLarge("a JPEG 2000 picture of this size takes more memory than a check may use")
    try:
        picture = Jpeg2KImagePlugin.Jpeg2KImageFile(io.BytesIO(data))
        if (picture.size[0], picture.size[1]) != (stream.width, stream.height):
            raise _damaged()
        picture.reduce = halvings
        pixels = _pixels_of_j2k(picture, stream.bits, indexes=bool(space is not None and space.palette))
    except _PILLOW_ERRORS as error:
        raise _damaged() from error
    return _colors_and_alpha(pixels, picture.mode, space, alpha_inside, halvings > 0)


def _pixels_of_j2k(picture: Jpeg2KImagePlugin.Jpeg2KImageFile, bits: int, indexes: bool) -> Bytes:
    """8 bits of each component; the codes as they are where they index a palette of the PDF.

    Pillow shifts fewer bits up, so that full scale would not be white.
    """
    _load_whole(picture)
    if picture.mode in ("P", "PA") and picture.palette is not None and not indexes:
        return cast(Bytes, np.asarray(picture.convert("CMYK" if picture.palette.mode == "CMYK" else "RGB")))
    array = np.asarray(picture)
    if picture.mode.startswith("I;16"):
        top = (1 << bits) - 1
        array = np.rint(array.astype(np.float32) * (255 / top)).clip(0, 255).astype(np.uint8)
    elif bits < 8:
        codes = array >> (8 - bits)
        array = codes if indexes else (codes * (255 / ((1 << bits) - 1))).round().astype(np.uint8)
    return cast(Bytes, array[:, :, np.newaxis] if array.ndim == 2 else array)


def _colors_and_alpha(pixels: Bytes, mode: str, space: ColorSpace | None, alpha_inside: int, scaled: bool) -> Decoded:
    own = GRAY if mode in ("L", "LA", "I;16") else CMYK if mode == "CMYK" or (mode[0] == "P" and pixels.shape[2] == 4) else RGB
    found = space if space is not None else own
    if pixels.shape[2] < found.components:
        raise Unreadable(
            "a JPEG 2000 picture has {has} components, its colour space {said}", has=pixels.shape[2], said=found.components
        )
    alpha = pixels[:, :, -1] if alpha_inside and pixels.shape[2] == found.components + 1 else None
    return Decoded(pixels[:, :, : found.components], scaled, alpha, None if space is not None else own)


def _codestream(data: bytes) -> _Codestream:
    """The SIZ and COD markers (A.5.1, A.6.1)."""
    at = data.find(b"\xff\x4f\xff\x51")
    if at < 0 or len(data) < at + 44:
        raise _damaged()
    x1, y1, x0, y0 = struct.unpack_from(">4I", data, at + 8)
    components, depth = int.from_bytes(data[at + 40 : at + 42], "big"), data[at + 42]
    levels = 0
    at += 2
    while at + 14 <= len(data) and data[at] == 0xFF and data[at + 1] not in (0x90, 0xD9):
        if data[at + 1] == 0x52:
            levels = min(data[at + 9], 32)
        at += 2 + max(int.from_bytes(data[at + 2 : at + 4], "big"), 2)
    if x1 <= x0 or y1 <= y0 or not components:
        raise _damaged()
    return _Codestream(x1 - x0, y1 - y0, components, (depth & 0x7F) + 1, levels)


# --- One-bit codings --------------------------------------------------------------------------------------------------


def bilevel(source: PictureSource, data: bytes, size: Size) -> Bytes:
    """(rows, columns, 1): 255 where every sample is 1, and the fraction where several fall together."""
    refuse_too_large(source.width, source.height, MOST_BILEVEL_PIXELS)
    if source.codec is not None and source.codec.name == "JBIG2Decode" and not _segments_are_whole(data):
        raise ends_early()
    as_stored, inverted = (_painted(source, data, size, upside).astype(np.int16) for upside in (False, True))
    if np.any(np.abs(as_stored + inverted - 255) > 4):
        raise ends_early()
    both = (as_stored + 255 - inverted + 1) // 2  # PDFium rounds down, each time to the other side
    return both.astype(np.uint8)[:, :, np.newaxis]


def _painted(source: PictureSource, data: bytes, size: Size, inverted: bool) -> Bytes:
    """One page that the picture fills, over black."""
    with pikepdf.new() as pdf:
        image = one_bit_stream(pdf, source, data)
        image.ColorSpace = Name.DeviceGray
        if inverted and source.codec is not None and source.codec.name == "CCITTFaxDecode":
            image.DecodeParms.BlackIs1 = not image.DecodeParms.BlackIs1
        elif inverted:
            image.Decode = Array([1, 0])
        page = pdf.add_blank_page(page_size=(100, 100))
        page.Resources = Dictionary(XObject=Dictionary(P=image))
        page.Contents = pikepdf.Stream(pdf, b"100 0 0 100 0 0 cm /P Do")
        file = io.BytesIO()
        pdf.save(file, compress_streams=False)
    document = pdfium.PdfDocument(file.getvalue())
    try:
        bitmap = pdfium.PdfBitmap.new_native(*size, pdfium_c.FPDFBitmap_Gray)
        bitmap.fill_rect((0, 0, 0, 255), 0, 0, *size)
        pdfium_c.FPDF_RenderPageBitmap(bitmap, document[0], 0, 0, *size, 0, 0)
        return cast(Bytes, bitmap.to_numpy().reshape(size[1], size[0]).copy())
    finally:
        document.close()


def _segments_are_whole(data: bytes) -> bool:
    """Whether every segment of JBIG2 data has the bytes that its header states (ITU-T T.88, 7.2)."""
    at = segments = 0
    while at < len(data):
        if at + 11 > len(data):
            return False
        number, flags, count = int.from_bytes(data[at : at + 4], "big"), data[at + 4], data[at + 5] >> 5
        at += 6
        if count == 7:  # the long form
            count = int.from_bytes(data[at - 1 : at + 3], "big") & 0x1FFFFFFF
            at += 3 + (count + 8) // 8
        at += count * (1 if number <= 256 else 2 if number <= 65536 else 4) + (4 if flags & 0x40 else 1)
        length = int.from_bytes(data[at : at + 4], "big")
        at, segments = at + 4 + length, segments + 1
        if length == 0xFFFFFFFF:  # unknown: ends with the data
            return True
    return at == len(data) and segments > 0


def one_bit_stream(pdf: pikepdf.Pdf, source: PictureSource, data: bytes) -> pikepdf.Stream:
    """The same data in another file: `data` behind its byte filters, with the coding's own numbers."""
    image = pikepdf.Stream(pdf, data)
    for name, value in (("Width", source.width), ("Height", source.height), ("BitsPerComponent", 1)):
        image[f"/{name}"] = value
    image.Type, image.Subtype = Name.XObject, Name.Image
    coding = source.codec
    if coding is None:
        return pdf.make_indirect(image)
    image.Filter = Name("/" + coding.name)
    if coding.name == "CCITTFaxDecode":
        numbers = coding.parameters
        image.DecodeParms = Dictionary(
            {f"/{key}": numbers[key] for key in ("K", "Columns", "Rows") if key in numbers}
            | {f"/{key}": bool(numbers.get(key, 0)) for key in ("EndOfLine", "EncodedByteAlign", "BlackIs1")}
            | {"/EndOfBlock": bool(numbers.get("EndOfBlock", 1))}
        )
    elif coding.global_segments:
        image.DecodeParms = Dictionary(JBIG2Globals=pdf.make_indirect(pikepdf.Stream(pdf, coding.global_segments)))
    return pdf.make_indirect(image)
