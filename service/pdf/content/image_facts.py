"""An image XObject or inline image: pixels, bits, space, filter (ISO 32000-2:2020, 8.9.5 to 8.9.7)."""

from __future__ import annotations

from dataclasses import dataclass

import pikepdf

from service.pdf.content.color_spaces import CMYK, GRAY, RGB, ColorSpace
from service.pdf.content.jpeg import jpeg_quality
from service.pdf.content.resources import Resources, Shared
from service.pdf.facts.painted.images import ImageKind
from service.pdf.facts.unknown import Unmeasured
from service.pdf.reading.lexer import Operand
from service.pdf.reading.names import name_text
from service.pdf.reading.outer_filters import start_of

LONG_FILTERS = {
    "AHx": "ASCIIHexDecode", "A85": "ASCII85Decode", "LZW": "LZWDecode", "Fl": "FlateDecode", "RL": "RunLengthDecode",
    "CCF": "CCITTFaxDecode", "DCT": "DCTDecode",
}
_LONG_KEYS = {
    "BPC": "BitsPerComponent", "CS": "ColorSpace", "D": "Decode", "DP": "DecodeParms", "F": "Filter", "H": "Height",
    "IM": "ImageMask", "I": "Interpolate", "W": "Width",
}


@dataclass(frozen=True)
class ImageFacts:
    """What the image is, wherever it is placed."""

    width_px: int
    height_px: int
    kind: ImageKind
    space: ColorSpace | None
    """None: a stencil, painted in the current colour."""
    bits: int
    filter: str | None
    jpeg_quality: int | Unmeasured | None
    inline: bool
    transparent: bool
    """It has a soft mask, or alpha inside its JPEG 2000 data."""
    stored_bytes: int | Unmeasured
    """Of its data as the file holds it."""
    object_number: int | None
    """None for an inline image."""


def image_facts(image: pikepdf.Stream, resources: Resources) -> ImageFacts | None:
    """None where the image has no size that a reader could paint."""
    filters = _filters(image.get("/Filter"))
    header = _jpx_header(image) if "JPXDecode" in filters else None
    width, height = _integer(image.get("/Width")), _integer(image.get("/Height"))
    if header:
        width, height = header.width, header.height
    if width <= 0 or height <= 0:
        return None
    stencil = bool(image.get("/ImageMask") == True)  # noqa: E712
    written = image.get("/ColorSpace")
    space = None if stencil else resources.space(written) if written is not None else _space_of_jpx(header)
    bits = 1 if stencil else header.bits if header else _integer(image.get("/BitsPerComponent")) or 8
    soft_mask = image.get("/SMask")
    transparent = isinstance(soft_mask, pikepdf.Stream) or _integer(image.get("/SMaskInData")) > 0
    quality = _quality(image, filters, resources.shared) if filters[-1:] == ["DCTDecode"] else None
    last = filters[-1] if filters else None
    return ImageFacts(
        width, height, _kind(stencil, bits, space), space, bits, last, quality, False, transparent, _stored(image),
        image.objgen[0] or None,
    )


def inline_image_facts(image: dict[bytes, Operand], data: bytes, resources: Resources) -> ImageFacts | None:
    """The same for BI … ID … EI, whose keys and values may be abbreviated (8.9.7)."""
    values = {_LONG_KEYS.get(key.decode("latin-1"), key.decode("latin-1")): value for key, value in image.items()}
    width, height = values.get("Width"), values.get("Height")
    if not (isinstance(width, float) and isinstance(height, float) and width >= 1 and height >= 1):
        return None
    stencil = values.get("ImageMask") is True
    space = None if stencil else _inline_space(values.get("ColorSpace"), resources)
    depth = values.get("BitsPerComponent")
    bits = int(depth) if isinstance(depth, float) and not stencil else 1 if stencil else 8
    listed = values.get("Filter")
    names = [one.decode("latin-1") for one in (listed if isinstance(listed, list) else [listed]) if isinstance(one, bytes)]
    filters = [LONG_FILTERS.get(name, name) for name in names]
    quality = jpeg_quality(data) if filters == ["DCTDecode"] else None
    last = filters[-1] if filters else None
    kind = _kind(stencil, bits, space)
    return ImageFacts(int(width), int(height), kind, space, bits, last, quality, True, False, len(data), None)


def _kind(stencil: bool, bits: int, space: ColorSpace | None) -> ImageKind:
    if stencil:
        return "mask"
    return "bilevel" if bits == 1 and space is not None and space.components == 1 else "contone"


def _filters(written: object) -> list[str]:
    if isinstance(written, pikepdf.Name):
        written = [written]
    listed = written if isinstance(written, list | pikepdf.Array) else []
    return [LONG_FILTERS.get(name_text(one), name_text(one)) for one in listed]


def _quality(image: pikepdf.Stream, filters: list[str], shared: Shared) -> int | Unmeasured:
    """Of a JPEG, looked at once for the document however often it is placed."""
    identity = image.objgen
    known = shared.jpeg_qualities.get(identity)
    if known is not None and identity != (0, 0):
        return known
    found = shared.jpeg_qualities[identity] = _read_quality(image, filters[:-1])
    return found


def _read_quality(image: pikepdf.Stream, outer: list[str]) -> int | Unmeasured:
    try:
        data = start_of(image.read_raw_bytes(), outer)
        return Unmeasured("The JPEG data lies inside another filter.") if data is None else jpeg_quality(data)
    except pikepdf.PdfError:
        return Unmeasured("The picture's data cannot be read.")


def _stored(image: pikepdf.Stream) -> int | Unmeasured:
    length = image.get("/Length")
    return length if isinstance(length, int) else Unmeasured("The size of its data is not stated.")


def _inline_space(written: Operand, resources: Resources) -> ColorSpace:
    """A name, or an Indexed array whose table is a string."""
    if isinstance(written, list) and len(written) == 4 and isinstance(written[1], bytes) and isinstance(written[3], bytes):
        base = resources.named_space(written[1].decode("latin-1"))
        size = base.components or 1
        table = written[3]
        palette = tuple(tuple(byte / 255 for byte in table[at : at + size]) for at in range(0, len(table) - size + 1, size))
        return ColorSpace(f"Indexed ({base.written})", base.family, 1, base.colorants, palette or ((0.0,) * size,), base)
    return resources.named_space(written.decode("latin-1")) if isinstance(written, bytes) else GRAY


@dataclass(frozen=True)
class _JpxHeader:
    width: int
    height: int
    components: int
    bits: int


def _jpx_header(image: pikepdf.Stream) -> _JpxHeader | None:
    """The SIZ marker of JPEG 2000 (ISO/IEC 15444-1, A.5.1): reference grid, components, depth of the first."""
    try:
        data = image.read_raw_bytes()
    except pikepdf.PdfError:
        return None
    at = data.find(b"\xff\x4f\xff\x51")
    if at < 0 or len(data) < at + 46:
        return None
    numbers = [int.from_bytes(data[at + start : at + start + 4], "big") for start in (8, 12, 16, 20)]
    components = int.from_bytes(data[at + 40 : at + 42], "big")
    return _JpxHeader(numbers[0] - numbers[2], numbers[1] - numbers[3], components, (data[at + 42] & 0x7F) + 1)


def _space_of_jpx(header: _JpxHeader | None) -> ColorSpace:
    """Where the dictionary names none, the data's own: told by its components (an even number has alpha)."""
    components = header.components if header else 1
    base = {1: GRAY, 2: GRAY, 3: RGB}.get(components, CMYK)
    return ColorSpace(f"JPXDecode ({components} channels)", base.family, base.components, base.colorants)


def _integer(value: object) -> int:
    return int(value) if isinstance(value, int) else 0
