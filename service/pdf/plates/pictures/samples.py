"""A picture as an array of its components, at no more pixels than a plate needs (ISO 32000-2:2020, 8.9.5).

* Decode, the palette and the colour key apply to every sample before samples are put together; averages come after.
  Where Decode is a straight line, as it is for JPEG, the order makes no difference.
* Averages are over whole samples (`averages`): a picture shrinks to between one and two times the need.
* Samples that a colour key masks out have no say in the colour beside them.
* 16 bits are taken as 8: a plate holds 8.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import sqrt

import numpy as np
import numpy.typing as npt

from service.pdf.content.color_spaces import ColorSpace
from service.pdf.plates.pictures.averages import Averages, averaged, rounded_together
from service.pdf.plates.pictures.codecs import (
    MOST_BILEVEL_PIXELS,
    MOST_PIXELS,
    Bytes,
    Decoded,
    Size,
    bilevel,
    jpeg,
    jpeg_2000,
    refuse_too_large,
)
from service.pdf.plates.pictures.filters import unpacked, unpacked_whole
from service.pdf.plates.pictures.source import PictureSource
from service.pdf.plates.unreadable import Unreadable

Reals = npt.NDArray[np.float64]

MOST_PLATE_PIXELS = 20_000_000
"""A3 at 300 ppi has 17.4 million: a plate asks for no more of one picture. Ours, no source."""
_SAMPLES_AT_A_TIME = 4_000_000
_LEFT_OF_255 = np.arange(255, -1, -1, dtype=np.uint8)[:, np.newaxis]
_NEUTRAL = 128
"""The byte of a* = 0 and b* = 0."""


@dataclass(frozen=True)
class Samples:
    """A decoded picture."""

    space: ColorSpace
    """Of the colours: an Indexed picture is in its base space."""
    values: Bytes
    """(rows, columns, components). 255 is a component of 1, or L* of 100; a* and b* stand as 128 more."""
    opacity: Bytes | None
    """(rows, columns): a colour key's, or that inside JPEG 2000 data."""
    whole: bool
    """Every pixel that there is: a larger need gives no more."""


def samples_of(source: PictureSource, need: Size) -> Samples:
    """Decode the picture. Raises Unreadable where that cannot be done whole."""
    need = _held(need)
    if source.space is not None and (source.space.written.startswith("Pattern") or source.space.components < 1):
        raise Unreadable("a picture is in a colour space that pictures cannot have")
    decoded = _decoded(source, need)
    if decoded is None:
        space, (columns, rows), strips = source.space, (source.width, source.height), _plain_strips(source)
        opacity, scaled = None, False
    else:
        space, (rows, columns) = decoded.space or source.space, decoded.samples.shape[:2]
        strips, opacity, scaled = _slices(decoded.samples), decoded.opacity, decoded.scaled
    if space is None:
        raise Unreadable("a picture has no colour space")
    into = _smaller((columns, rows), need)
    tables = _tables(source, space)
    if decoded is not None and into == (columns, rows) and _needs_no_table(tables):
        strips = iter([decoded.samples])
    values, keyed = _put_together(source, space, strips, (columns, rows), into, tables)
    if opacity is not None:
        keyed = averaged(opacity[:, :, np.newaxis], into)[:, :, 0]
    base = space.base if space.palette and space.base else space
    return Samples(base, values, keyed, whole=not scaled and into == (columns, rows))


def _held(need: Size) -> Size:
    """The need within the pixels that are held of one picture."""
    columns, rows = max(need[0], 1), max(need[1], 1)
    by = sqrt(min(1.0, MOST_PLATE_PIXELS / (columns * rows)))
    return max(int(columns * by), 1), max(int(rows * by), 1)


def _smaller(size: Size, need: Size) -> Size:
    """Whole samples are put together: between one and two times the need in each direction."""
    columns, rows = (-(-one // max(one // asked, 1)) for one, asked in zip(size, need, strict=True))
    return columns, rows


def _decoded(source: PictureSource, need: Size) -> Decoded | None:
    """What a picture coding gives; None for plain samples."""
    coding = source.codec
    if coding is None:
        return None
    data = unpacked_whole(source.data, source.filters[:-1])
    exact = bool(source.color_key or (source.space is not None and source.space.palette))
    asked = None if exact else need
    if coding.name == "JPXDecode":
        return jpeg_2000(data, source.space, source.alpha_inside, asked)
    if coding.name == "DCTDecode":
        found = jpeg(data, coding, asked)
        if source.space is not None and found.samples.shape[2] != source.space.components:
            has, said = found.samples.shape[2], source.space.components
            raise Unreadable("a JPEG picture has {has} components, its colour space {said}", has=has, said=said)
        return found
    if source.space is not None and source.space.components != 1:
        raise Unreadable("a one-bit picture is in a colour space of several components")
    size = (source.width, source.height)
    into = _smaller(size, need)
    return Decoded(bilevel(source, data, into), into != size)


# --- Plain samples ----------------------------------------------------------------------------------------------------


def row_bytes(source: PictureSource, components: int) -> int:
    """8.9.5.2: every row starts at a byte."""
    return (source.width * components * source.bits + 7) // 8


def _plain_strips(source: PictureSource) -> Iterator[Bytes]:
    components = source.space.components if source.space is not None else 1
    refuse_too_large(source.width, source.height, MOST_BILEVEL_PIXELS if source.bits == 1 and components == 1 else MOST_PIXELS)
    row = row_bytes(source, components)
    data = np.frombuffer(unpacked(source.data, source.filters, row * source.height), np.uint8)[: row * source.height]
    packed = data.reshape(source.height, row)
    step = max(_SAMPLES_AT_A_TIME // (source.width * components), 1)
    for start in range(0, source.height, step):
        part = _single(packed[start : start + step], source.bits)[:, : source.width * components]
        yield part.reshape(len(part), source.width, components)


def _single(packed: Bytes, bits: int) -> Bytes:
    """One sample a byte."""
    if bits == 16:
        both = packed[:, : packed.shape[1] // 2 * 2].reshape(len(packed), -1, 2).astype(np.uint32)
        return ((both[:, :, 0] * 256 + both[:, :, 1] + 128) // 257).astype(np.uint8)
    if bits == 8:
        return packed
    if bits == 1:
        return np.unpackbits(packed, axis=1)
    shifts = np.arange(8 - bits, -1, -bits, dtype=np.uint8)
    return (packed[:, :, np.newaxis] >> shifts & np.uint8((1 << bits) - 1)).reshape(len(packed), -1)


def _slices(samples: Bytes) -> Iterator[Bytes]:
    step = max(_SAMPLES_AT_A_TIME // max(samples[0].size, 1), 1)
    return (samples[start : start + step] for start in range(0, len(samples), step))


# --- Decode, palette, colour key --------------------------------------------------------------------------------------


def _put_together(
    source: PictureSource, space: ColorSpace, strips: Iterator[Bytes], size: Size, into: Size, tables: Bytes | None
) -> tuple[Bytes, Bytes | None]:
    """Values and what the colour key leaves of them."""
    if source.color_key:
        return _keyed(source, space, strips, (size, into), tables)
    if into == size:
        return _joined([_looked_up(strip, tables) for strip in strips]), None
    averages = Averages(size, into, space.base.components if space.palette and space.base else space.components)
    return _joined([rounded_together(*averages.add(_looked_up(strip, tables))) for strip in strips]), None


def _keyed(
    source: PictureSource, space: ColorSpace, strips: Iterator[Bytes], sizes: tuple[Size, Size], tables: Bytes | None
) -> tuple[Bytes, Bytes]:
    """Averages of the samples that are shown, and how many of all that are."""
    key = _key(source, space.components)
    values = Averages(*sizes, space.base.components if space.palette and space.base else space.components)
    shares = Averages(*sizes, 1)
    kept, opaque = [], []
    for strip in strips:
        shown = (~np.all((strip >= key[0]) & (strip <= key[1]), axis=2))[:, :, np.newaxis].astype(np.uint8)
        sums, _ = values.add(_looked_up(strip, tables) * shown)
        counts, area = shares.add(shown)
        kept.append(rounded_together(sums, counts[:, :, 0].astype(np.float64)))
        opaque.append(rounded_together(counts * 255, area))
    return _joined(kept), _joined(opaque)[:, :, 0]


def _joined(strips: list[Bytes]) -> Bytes:
    return strips[0] if len(strips) == 1 else np.concatenate(strips)


def _tables(source: PictureSource, space: ColorSpace) -> Bytes | None:
    """(256, values): of a one-component picture the values of each code, else those of each component on its own.
    None: the samples are the values.
    """
    coding = source.codec.name if source.codec else ""
    decode = () if coding == "JPXDecode" else source.decode  # it has no say there (Table 87)
    if coding in ("CCITTFaxDecode", "JBIG2Decode"):  # fractions of ones: in between, both colours by their share
        share = (np.arange(256) / 255)[:, np.newaxis]
        none, all_of_it = _values(np.array([0.0, 1.0]), 1, decode, source, space)
        table = none * (1 - share) + all_of_it * share
    else:
        in_bytes = source.bits >= 8 or coding in ("DCTDecode", "JPXDecode")
        highest = 255 if in_bytes else (1 << source.bits) - 1
        table = _values(np.arange(256.0), highest, decode, source, space)
    table = np.rint(table).clip(0, 255).astype(np.uint8)
    unchanged = np.arange(256)[:, np.newaxis].repeat(space.components, axis=1)
    return None if np.array_equal(table, unchanged) else table


def _values(codes: Reals, highest: int, decode: tuple[float, ...], source: PictureSource, space: ColorSpace) -> Reals:
    """(codes, values): the bytes of `Samples` for each code, not rounded."""
    place = np.minimum(codes / highest, 1.0)
    if space.palette and space.base:
        low, high = decode[:2] if len(decode) >= 2 else (0.0, float(highest))
        index = np.rint(low + place * (high - low)).clip(0, len(space.palette) - 1).astype(np.intp)
        return _palette_bytes(space.palette, space.base, source.ranges)[index]
    limits = source.ranges or ((0.0, 1.0),) * space.components
    if len(decode) >= 2 * space.components:
        limits = tuple(zip(decode[::2], decode[1::2], strict=False))[: space.components]
    parts = [low + place * (high - low) for low, high in limits]
    if space.family == "lab":
        return np.stack([parts[0] * 2.55, parts[1] + _NEUTRAL, parts[2] + _NEUTRAL], axis=1)
    return np.stack(parts, axis=1) * 255


def _palette_bytes(palette: tuple[tuple[float, ...], ...], base: ColorSpace, ranges: tuple[tuple[float, float], ...]) -> Reals:
    """A table that ends early, or within a colour, goes on with nothing; a* and b* span the range of the space (8.6.6.3)."""
    colors = np.array([(*one, *(0.0,) * base.components)[: base.components] for one in palette])
    if base.family != "lab":
        return colors * 255
    neutral = np.array((0, _NEUTRAL, _NEUTRAL))
    written = (colors + neutral) / (100, 255, 255)  # as `color_spaces` reads a table: by the usual range
    for at, (low, high) in enumerate(ranges):
        colors[:, at] = low + written[:, at] * (high - low)
    return np.asarray(colors * (2.55, 1, 1) + neutral, dtype=np.float64)


def _needs_no_table(table: Bytes | None) -> bool:
    """The values are the samples, or what is left of 255: so most JPEGs of four inks are stored."""
    return table is None or bool((table == _LEFT_OF_255).all())


def _looked_up(strip: Bytes, table: Bytes | None) -> Bytes:
    if table is None:
        return strip
    if _needs_no_table(table):
        return np.subtract(255, strip, dtype=np.uint8)
    if strip.shape[2] == 1:
        return table[strip[:, :, 0]]
    return np.stack([table[:, at][strip[:, :, at]] for at in range(strip.shape[2])], axis=2)


def _key(source: PictureSource, components: int) -> tuple[Reals, Reals]:
    """Least and most code of each component, of samples as they are held here."""
    limits = np.array(source.color_key, dtype=np.float64)
    if len(limits) < 2 * components:
        raise Unreadable("a picture's colour key has fewer numbers than its colour space")
    if source.codec is not None and source.codec.name in ("CCITTFaxDecode", "JBIG2Decode"):
        limits = limits * 255
    elif source.bits == 16:
        limits = limits / 257
    return limits[0 : 2 * components : 2], limits[1 : 2 * components : 2]
