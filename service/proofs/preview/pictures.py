"""Pictures of a preview: put in as empty places first, filled at the end with as many pixels as they are shown with.

* A picture that is shown several times is stored once, as fine as its largest showing needs; never finer than it was.
* Photographs become JPEG in sRGB, or in grey where there is no colour; flat drawings stay lossless where that is smaller.
* Stencils and one-bit drawings are line art: they keep every pixel.
* A light JPEG that needs no change keeps its data, without what a camera wrote into it.
* Masks of every kind become one soft mask.

A picture that cannot be decoded whole is told by the pages that show it.
"""

from __future__ import annotations

import io
import zlib
from collections.abc import Mapping
from dataclasses import dataclass, field
from math import ceil

import numpy as np
import pikepdf
from pikepdf import Array, Dictionary, Name, Stream
from PIL import Image, JpegImagePlugin

from service.pdf.content.color_spaces import ColorSpace
from service.pdf.content.resources import Resources
from service.pdf.plates.colors.inks import InkTable
from service.pdf.plates.pictures.ink_pictures import stencil_of, unmasked
from service.pdf.plates.pictures.recolored import Pictures, one_bit_stencil
from service.pdf.plates.pictures.source import PictureSource, inline_source, picture_source
from service.pdf.reading.lexer import Operand
from service.pdf.reading.reading_errors import READING_ERRORS
from service.proofs.preview.screen_color import Bytes, ScreenColors, is_gray

NEED_PPI = 300
"""In what the rewriter's matrix counts: so many of its pixels an inch."""
MOST_HELD_BYTES = 150_000_000
"""Of decoded pictures between two tries of a size. Ours, no source."""
_SUBSAMPLED_BELOW = 85
"""JPEG quality from which colour keeps all its pixels. Ours, no source."""


@dataclass(frozen=True)
class Fineness:
    ppi: int
    quality: int


@dataclass
class _Placed:
    """A picture with the empty place that stands for it."""

    source: PictureSource
    place: Stream
    need: tuple[int, int]
    """Columns and rows at `NEED_PPI`, of the largest showing."""
    pages: set[int] = field(default_factory=set)


@dataclass(frozen=True)
class _Held:
    fineness_ppi: int
    colors: Bytes
    """(rows, columns, 1 or 3)."""
    opacity: Bytes | None

    @property
    def size_bytes(self) -> int:
        return self.colors.nbytes + (self.opacity.nbytes if self.opacity is not None else 0)


@dataclass
class ScreenPictures(Pictures):
    """In the place of the plates' pictures; `fill` gives the places their data, as often as it is called."""

    colors: ScreenColors
    out: pikepdf.Pdf
    page: int = 1
    """The page that is being rewritten."""
    placed: dict[tuple[object, ...], _Placed] = field(default_factory=dict)
    _held: dict[int, _Held] = field(default_factory=dict)

    def plate_picture(
        self, image: Stream, resources: Resources, table: InkTable, out: pikepdf.Pdf, need_px: tuple[int, int],  # noqa: ARG002
    ) -> Stream:
        written = image.get("/ColorSpace")
        self.colors.note(written)
        number, generation = image.objgen
        space = resources.space(written) if isinstance(written, pikepdf.Name) else None
        key: tuple[object, ...] = (number, generation, space) if number else (len(self.placed), "direct")
        found = self.placed.get(key)
        if found is None:
            found = self.placed[key] = self._place(picture_source(image, resources))
        found.pages.add(self.page)
        found.need = max(found.need[0], need_px[0]), max(found.need[1], need_px[1])
        return found.place

    def inline_plate_picture(
        self, keys: Mapping[bytes, Operand], data: bytes, resources: Resources, table: InkTable, out: pikepdf.Pdf,  # noqa: ARG002
        need_px: tuple[int, int],
    ) -> Stream:
        found = self.placed[len(self.placed), "inline"] = self._place(inline_source(keys, data, resources))
        found.need = need_px
        found.pages.add(self.page)
        return found.place

    def _place(self, source: PictureSource) -> _Placed:
        return _Placed(source, self.out.make_indirect(Stream(self.out, b"")), (1, 1))

    # --- filling ---

    def fill(self, fineness: Fineness) -> tuple[int, set[int]]:
        """Write every picture's data. Returns how many bytes they have together, and the pages of those that are damaged."""
        total, damaged = 0, set[int]()
        for at, placed in enumerate(self.placed.values()):
            try:
                total += self._fill(at, placed, fineness)
            except READING_ERRORS:
                damaged |= placed.pages
        return total, damaged

    def _fill(self, at: int, placed: _Placed, fineness: Fineness) -> int:
        source = placed.source
        if source.stencil or _is_line_art(source):
            return _keep_line_art(placed, self.colors, self.out)
        need = max(ceil(placed.need[0] * fineness.ppi / NEED_PPI), 1), max(ceil(placed.need[1] * fineness.ppi / NEED_PPI), 1)
        if light := _light_jpeg(source, need, fineness):
            return _write(placed.place, light, Name.DCTDecode, (source.width, source.height), source.space.components)  # type: ignore[union-attr]
        held = self._held.get(at)
        if held is None or held.fineness_ppi < fineness.ppi:
            held = self._decoded(source, need, fineness.ppi)
            if held.size_bytes + sum(one.size_bytes for one in self._held.values()) <= MOST_HELD_BYTES:
                self._held[at] = held
        colors = _resized(held.colors, need)
        size = colors.shape[1], colors.shape[0]
        data, coding = _coded(colors, fineness.quality, lossless=source.codec is None)
        total = _write(placed.place, data, coding, size, colors.shape[2])
        if held.opacity is not None and held.opacity.min() < 255:
            mask = Stream(self.out, b"")
            opacity = _resized(held.opacity[:, :, np.newaxis], need)
            data, coding = _coded(opacity, max(fineness.quality, 80), lossless=True)
            total += _write(mask, data, coding, (opacity.shape[1], opacity.shape[0]), 1)
            placed.place.SMask = self.out.make_indirect(mask)
        return total

    def _decoded(self, source: PictureSource, need: tuple[int, int], ppi: int) -> _Held:
        samples, opacity, _ = unmasked(source, need)
        colors = self.colors.of_picture(samples.space, _resized(samples.values, need))
        if colors.shape[2] == 3 and is_gray(colors):
            colors = colors[:, :, :1]
        return _Held(ppi, colors, opacity)


def _is_line_art(source: PictureSource) -> bool:
    """One bit in two colours, without a mask."""
    two = source.bits == 1 and source.space is not None and source.space.components == 1 and source.space.family != "lab"
    masked = source.color_key or source.soft_mask or source.explicit_mask or source.alpha_inside
    jpeg = source.codec is not None and source.codec.name in ("DCTDecode", "JPXDecode")
    return two and not masked and not jpeg


def _keep_line_art(placed: _Placed, colors: ScreenColors, out: pikepdf.Pdf) -> int:
    if len(placed.place.keys()) > 1:  # filled before
        return int(placed.place.get("/Length", 0))
    made = one_bit_stencil(stencil_of(placed.source), out)
    data = made.read_raw_bytes()
    packed = zlib.compress(data, 9) if "/Filter" not in made else data
    coding, parameters = made.get("/Filter"), made.get("/DecodeParms")
    placed.place.write(
        packed,
        filter=coding if isinstance(coding, Name) else Name.FlateDecode,
        decode_parms=parameters if isinstance(parameters, Dictionary) else None,
    )
    for key in ("/Type", "/Subtype", "/Width", "/Height", "/BitsPerComponent", "/Interpolate"):
        if key in made:
            placed.place[key] = made[key]
    if placed.source.stencil:
        placed.place.ImageMask = True
        if "/Decode" in made:
            placed.place.Decode = made.Decode
    else:
        space, (low, high) = placed.source.space, placed.source.decode[:2] or (0.0, 1.0)
        assert space is not None, "only a stencil has no colour space here"
        pair = np.round(np.clip(colors.rgb(space, np.array([[low], [high]])), 0, 1) * 255).astype(np.uint8)
        placed.place.ColorSpace = Array([Name.Indexed, Name.DeviceRGB, 1, pikepdf.String(pair.tobytes())])
    return len(packed)


def _resized(values: Bytes, need: tuple[int, int]) -> Bytes:
    """Averaged down to the need; the same where it has no more than that."""
    rows, columns, components = values.shape
    into = min(columns, need[0]), min(rows, need[1])
    if into == (columns, rows):
        return values
    mode = {1: "L", 3: "RGB", 4: "CMYK"}.get(components)
    if mode is None:
        return np.concatenate([_resized(values[:, :, at : at + 1], need) for at in range(components)], axis=2)
    picture = Image.frombuffer(mode, (columns, rows), np.ascontiguousarray(values), "raw", mode, 0, 1)
    return np.asarray(picture.resize(into, Image.Resampling.LANCZOS, reducing_gap=2.0)).reshape(into[1], into[0], components)


def _coded(values: Bytes, quality: int, *, lossless: bool) -> tuple[bytes, Name]:
    """JPEG, or packed without loss where the picture came so and that is smaller."""
    picture = Image.fromarray(np.ascontiguousarray(values[:, :, 0] if values.shape[2] == 1 else values))
    data = jpeg_of(picture, quality)
    if lossless:
        packed = zlib.compress(values.tobytes(), 9)
        if len(packed) <= len(data):
            return packed, Name.FlateDecode
    return data, Name.DCTDecode


def jpeg_of(picture: Image.Image, quality: int) -> bytes:
    """Progressive, with tables of its own."""
    written = io.BytesIO()
    colors = 2 if quality < _SUBSAMPLED_BELOW else 0
    try:
        picture.save(written, "JPEG", quality=quality, optimize=True, progressive=True, subsampling=colors)
    except OSError:  # noise needs more room than Pillow gives to a picture that is coded in one go
        written = io.BytesIO()
        picture.save(written, "JPEG", quality=quality, subsampling=colors)
    return written.getvalue()


def _write(place: Stream, data: bytes, coding: Name, size: tuple[int, int], components: int) -> int:
    place.write(data, filter=coding)
    place.Type, place.Subtype = Name.XObject, Name.Image
    place.Width, place.Height = size
    place.BitsPerComponent = 8
    place.ColorSpace = Name.DeviceGray if components == 1 else Name.DeviceRGB
    return len(data)


# --- JPEG data that stay ------------------------------------------------------------------------------------------------


def _light_jpeg(source: PictureSource, need: tuple[int, int], fineness: Fineness) -> bytes | None:
    """The picture's own data, where it is a JPEG for screens already: no finer than wished, and no better coded."""
    plain = not (source.color_key or source.soft_mask or source.explicit_mask or source.decode)
    if not plain or not _is_screen_space(source.space) or [one.name for one in source.filters] != ["DCTDecode"]:
        return None
    if source.width > need[0] or source.height > need[1]:
        return None
    data = _without_notes(source.data)
    if data is None or len(data) > source.width * source.height * fineness.quality / 300:
        return None
    try:
        picture = JpegImagePlugin.JpegImageFile(io.BytesIO(data))
        picture.load()
    except (OSError, SyntaxError, ValueError, Image.DecompressionBombError):
        return None
    fits = picture.size == (source.width, source.height) and "adobe_transform" not in picture.info
    return data if fits and picture.mode == ("L" if source.space and source.space.components == 1 else "RGB") else None


def _is_screen_space(space: ColorSpace | None) -> bool:
    return space is not None and space.written in ("DeviceRGB", "DeviceGray")


def _without_notes(data: bytes) -> bytes | None:
    """Without application segments but the first two kinds' own (JFIF, Adobe), and without comments; None where it is no JPEG.

    Marker segments: ITU-T T.81, B.1.1.
    """
    kept, at = [data[:2]], 2
    while at + 4 <= len(data) and data[at] == 0xFF:
        marker, length = data[at + 1], int.from_bytes(data[at + 2 : at + 4], "big")
        if marker == 0xDA:
            return b"".join(kept) + data[at:]
        if not (0xE1 <= marker <= 0xED or marker in (0xEF, 0xFE)):
            kept.append(data[at : at + 2 + length])
        at += 2 + length
    return None
