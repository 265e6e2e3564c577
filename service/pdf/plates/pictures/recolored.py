"""Pictures of a page as pictures of its plates: red, green and blue are 255 · (1 − tint) of up to three inks.

* A picture is decoded and turned into tints once; each rendering takes the columns that it needs.
* Where its place on the plate is known, it is painted as the plate's own pixels (`placed`), else PDFium scales it.
* Stencils are kept: they are painted in the current colour (ISO 32000-2:2020, 8.9.6.2).
* Masks of every kind (soft, explicit, colour key, the opacity inside JPEG 2000 data) become one soft mask of 8 bits.
  Colours that are mixed with a Matte are unmixed (11.6.5.2).
* Colours that no ink names are converted as `inks` says, and the table is told so.

Raises ValueError for a picture that cannot be decoded whole: its page is then not measured.
"""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
import pikepdf
from pikepdf import Name
from PIL import Image

from service.pdf.content.color_spaces import ColorSpace
from service.pdf.content.resources import Resources
from service.pdf.facts.ink_names import PROCESS_INKS
from service.pdf.plates.colors.inks import InkTable, Tints
from service.pdf.plates.pictures.codecs import MOST_BILEVEL_PIXELS, Bytes, Size, one_bit_stream, refuse_too_large
from service.pdf.plates.pictures.filters import unpacked, unpacked_whole
from service.pdf.plates.pictures.placed import Placement
from service.pdf.plates.pictures.samples import Samples, row_bytes, samples_of
from service.pdf.plates.pictures.source import PictureSource, inline_source, picture_source
from service.pdf.reading.lexer import Operand

MOST_PLACED_PIXELS = 60_000_000
"""Of one rendering, each picture counting for `_PIXELS_AN_OBJECT` more: A0 at 100 ppi four times over. Ours, no source."""
_PIXELS_AN_OBJECT = 10_000
MOST_KEPT_BYTES = 96_000_000
"""Of decoded pictures: what is asked for next time beyond this is decoded again. Ours, no source."""
_COLORS_AT_A_TIME = 1 << 18
_GRAYS = ("DeviceGray", "CalGray", "ICCBased (1 channel)")

ToProcess = Callable[[Tints], Tints]
Key = tuple[object, ...]


@dataclass(frozen=True)
class InkPicture:
    """A picture as tints of the inks that it can paint."""

    inks: tuple[str, ...]
    """One for each layer of `tints`; 'All' paints every ink, '' none."""
    tints: Bytes
    """(rows, columns, inks), 255 = full."""
    opacity: Bytes | None
    """(rows, columns) of its own size, 255 = opaque."""
    converted: bool
    interpolate: bool
    need: Size
    """What it was decoded for."""
    whole: bool
    """Every pixel of colour and mask that there is."""

    @property
    def size_bytes(self) -> int:
        return self.tints.nbytes + (self.opacity.nbytes if self.opacity is not None else 0)


@dataclass(frozen=True)
class Stencil:
    """A stencil with its byte filters undone."""

    source: PictureSource
    data: bytes

    @property
    def size_bytes(self) -> int:
        return len(self.data)


class Pictures:
    """Decoded pictures of a document, the latest used kept; every rendering asks here."""

    def __init__(self, most_kept_bytes: int = MOST_KEPT_BYTES) -> None:
        self.most_kept_bytes = most_kept_bytes
        self._kept: OrderedDict[Key, InkPicture | Stencil] = OrderedDict()
        self._kept_bytes = 0
        self._out: pikepdf.Pdf | None = None
        self._made: dict[Key, tuple[object, pikepdf.Stream]] = {}
        """Of the latest `out`: what is painted again is not made again."""
        self.pixels_left = MOST_PLACED_PIXELS
        """Of the latest `out`, for pictures on the plate's own pixels."""

    def plate_picture(
        self, image: pikepdf.Stream, resources: Resources, table: InkTable, out: pikepdf.Pdf, need_px: Size
    ) -> pikepdf.Stream:
        """The image XObject for these inks, an object of `out`.

        `need_px`: columns and rows of the plate that it covers, along its own sides.
        """
        key, found = self._found(image, resources, table, need_px)
        return self._stream(key, found, table, out)

    def inline_plate_picture(
        self, keys: Mapping[bytes, Operand], data: bytes, resources: Resources, table: InkTable, out: pikepdf.Pdf, need_px: Size
    ) -> pikepdf.Stream:
        """The same for an inline image, as the lexer gives it."""
        return self._stream((), decoded(inline_source(keys, data, resources), table.to_process, need_px), table, out)

    def placed_picture(
        self, image: pikepdf.Stream, resources: Resources, table: InkTable, out: pikepdf.Pdf, need_px: Size, place: Placement
    ) -> pikepdf.Stream:
        """The same made of the plate's own pixels; not for stencils. `placed_inline_picture` likewise."""
        key, found = self._found(image, resources, table, need_px)
        return self._placed_stream(key, found, table, out, place)

    def placed_inline_picture(
        self, keys: Mapping[bytes, Operand], data: bytes, resources: Resources, table: InkTable, out: pikepdf.Pdf, need_px: Size,
        place: Placement,
    ) -> pikepdf.Stream:  # fmt: skip
        found = decoded(inline_source(keys, data, resources), table.to_process, need_px)
        return self._placed_stream((), found, table, out, place)

    def _found(
        self, image: pikepdf.Stream, resources: Resources, table: InkTable, need_px: Size
    ) -> tuple[Key, InkPicture | Stencil]:
        key = self._key(image, resources)
        found = self._kept.get(key) if key else None
        if found is None or not _enough(found, need_px):
            found = self._keep(key, decoded(picture_source(image, resources), table.to_process, need_px))
        elif key:
            self._kept.move_to_end(key)
        return key, found

    def _placed_stream(
        self, key: Key, found: InkPicture | Stencil, table: InkTable, out: pikepdf.Pdf, place: Placement
    ) -> pikepdf.Stream:
        assert isinstance(found, InkPicture)
        of_this_place = (*key, place) if key else ()
        held = self._kept.get(of_this_place) if key else None
        if held is None:
            held = self._keep(of_this_place, on_the_plate(found, place))
        return self._stream(of_this_place, held, table, out)

    def _key(self, image: pikepdf.Stream, resources: Resources) -> Key:
        """A device space by name may stand for another one in other resources; nothing else depends on them."""
        written = image.get("/ColorSpace")
        number, generation = image.objgen
        if (number, generation) == (0, 0):
            return ()
        return number, generation, resources.space(written) if isinstance(written, pikepdf.Name) else None

    def _keep(self, key: Key, found: InkPicture | Stencil) -> InkPicture | Stencil:
        if key and found.size_bytes <= self.most_kept_bytes:
            before = self._kept.pop(key, None)
            self._kept[key] = found
            self._kept_bytes += found.size_bytes - (before.size_bytes if before else 0)
            while self._kept_bytes > self.most_kept_bytes:
                self._kept_bytes -= self._kept.popitem(last=False)[1].size_bytes
        return found

    def _stream(self, key: Key, found: InkPicture | Stencil, table: InkTable, out: pikepdf.Pdf) -> pikepdf.Stream:
        self._begin(out)
        if isinstance(found, InkPicture) and found.converted:
            table.converted = True
        if isinstance(found, InkPicture):
            table.used.update(table.inks if "All" in found.inks else set(found.inks).intersection(table.inks))
        of_these_inks = (*key, table.inks)
        made = self._made.get(of_these_inks) if key else None
        if made is not None and made[0] is found:
            return made[1]
        stream = one_bit_stencil(found, out) if isinstance(found, Stencil) else channels_stream(found, table.inks, out)
        if key:
            self._made[of_these_inks] = (found, stream)
        return stream


    def takes(self, place: Placement, out: pikepdf.Pdf) -> bool:
        """Whether there is room in this rendering for another picture on its own pixels; it is then counted."""
        self._begin(out)
        cost = place.pixels + _PIXELS_AN_OBJECT
        if cost > self.pixels_left:
            return False
        self.pixels_left -= cost
        return True

    def _begin(self, out: pikepdf.Pdf) -> None:
        if out is not self._out:
            self._out, self._made, self.pixels_left = out, {}, MOST_PLACED_PIXELS


def _enough(found: InkPicture | Stencil, need: Size) -> bool:
    return isinstance(found, Stencil) or found.whole or (found.need[0] >= need[0] and found.need[1] >= need[1])


# --- Decoding ---------------------------------------------------------------------------------------------------------


def decoded(source: PictureSource, to_process: ToProcess, need: Size) -> InkPicture | Stencil:
    """The picture as tints, or the stencil that it is."""
    if source.stencil:
        return stencil_of(source)
    samples, opacity, whole = unmasked(source, need)
    inks, tints, converted = _tints(samples, to_process)
    return InkPicture(inks, tints, opacity, converted, source.interpolate, need, whole)


def unmasked(source: PictureSource, need: Size) -> tuple[Samples, Bytes | None, bool]:
    """The picture's own colours, its opacity by whatever mask it has, and whether that is every pixel that there is."""
    samples = samples_of(source, need)
    opacity, whole = samples.opacity, samples.whole
    mask_source = source.soft_mask or source.explicit_mask
    if mask_source is not None:
        mask = samples_of(mask_source, need)
        opacity, whole = mask.values[:, :, 0], whole and mask.whole
        if source.soft_mask is None:  # 1 is what an explicit mask leaves out (8.9.6.3)
            opacity = 255 - opacity
    if opacity is not None and source.matte:
        samples = replace(samples, values=_unmixed(samples, opacity, source.matte))
    elif opacity is not None and source.alpha_inside == 2:
        samples = replace(samples, values=_unmixed(samples, opacity, (0.0,) * samples.values.shape[2]))
    return samples, opacity, whole


def stencil_of(source: PictureSource) -> Stencil:
    refuse_too_large(source.width, source.height, MOST_BILEVEL_PIXELS)
    if source.codec is None:
        needed = row_bytes(source, 1) * source.height
        return Stencil(source, unpacked(source.data, source.filters, needed)[:needed])
    if source.codec.name not in ("CCITTFaxDecode", "JBIG2Decode"):
        raise ValueError("a stencil is coded as a picture with continuous tones")
    return Stencil(source, unpacked_whole(source.data, source.filters[:-1]))


def _unmixed(samples: Samples, opacity: Bytes, matte: Sequence[float]) -> Bytes:
    """The colour that was mixed: m + (c' − m) / α (11.6.5.2). Where nothing is opaque it does not matter."""
    rows, columns, components = samples.values.shape
    if len(matte) != components:
        raise ValueError("a soft mask's Matte has other components than the picture")
    ground = np.array(matte, dtype=np.float32) * 255
    if samples.space.family == "lab":
        ground = np.array([matte[0] * 2.55, matte[1] + 128, matte[2] + 128], dtype=np.float32)
    if opacity.shape != (rows, columns):
        opacity = np.asarray(Image.fromarray(opacity).resize((columns, rows), Image.Resampling.BOX))
    share = np.maximum(opacity, 1).astype(np.float32)[:, :, np.newaxis] / 255
    return np.rint(ground + (samples.values - ground) / share).clip(0, 255).astype(np.uint8)


def _tints(samples: Samples, to_process: ToProcess) -> tuple[tuple[str, ...], Bytes, bool]:
    """Which inks, how much of each, and whether a conversion said so."""
    space, values = samples.space, samples.values
    if space.is_additive_gray:
        if not space.written.startswith(_GRAYS):
            raise ValueError(f"a picture is in a colour space that cannot be read: {space.written[:60]}")
        return ("Black",), 255 - values, False
    if space.colorants:
        return space.colorants, values, False
    return (PROCESS_INKS, _converted(space, values, to_process), True)


def on_the_plate(picture: InkPicture, place: Placement) -> InkPicture:
    """The picture as the plate's own pixels."""
    opacity = picture.opacity
    if opacity is not None:
        opacity = place.of(opacity[:, :, np.newaxis])[:, :, 0]
    return replace(picture, tints=place.of(picture.tints), opacity=opacity, interpolate=False)


def _converted(space: ColorSpace, values: Bytes, to_process: ToProcess) -> Bytes:
    rows, columns, components = values.shape
    table = InkTable(PROCESS_INKS, to_process)
    found = np.empty((rows * columns, len(PROCESS_INKS)), np.uint8)
    flat = values.reshape(-1, components)
    for start in range(0, len(flat), _COLORS_AT_A_TIME):
        colors = flat[start : start + _COLORS_AT_A_TIME].astype(np.float64)
        colors = colors / 2.55 * (1, 0, 0) + (colors - 128) * (0, 1, 1) if space.family == "lab" else colors / 255
        found[start : start + _COLORS_AT_A_TIME] = np.rint(np.clip(table.tints(space, colors), 0, 1) * 255)
    return found.reshape(rows, columns, len(PROCESS_INKS))


# --- Making the plate's picture ---------------------------------------------------------------------------------------


def channels(picture: InkPicture, inks: Sequence[str]) -> Bytes:
    """(rows, columns, 3): 255 · (1 − tint); one white pixel where the picture has none of these inks."""
    layers = [[at for at, name in enumerate(picture.inks) if name in (ink, "All")] for ink in inks]
    if not any(layers):
        return np.full((1, 1, 3), 255, np.uint8)
    made = np.full((*picture.tints.shape[:2], 3), 255, np.uint8)
    for channel, those in enumerate(layers):
        for at in those:
            np.minimum(made[:, :, channel], 255 - picture.tints[:, :, at], out=made[:, :, channel])
    return made


def channels_stream(picture: InkPicture, inks: Sequence[str], out: pikepdf.Pdf) -> pikepdf.Stream:
    stream = _image(out, channels(picture, inks), Name.DeviceRGB, picture.interpolate)
    if picture.opacity is not None:
        stream.SMask = _image(out, picture.opacity[:, :, np.newaxis], Name.DeviceGray, picture.interpolate)
    return stream


def _image(out: pikepdf.Pdf, pixels: Bytes, space: Name, interpolate: bool) -> pikepdf.Stream:
    stream = pikepdf.Stream(out, np.ascontiguousarray(pixels).tobytes())
    stream.Type, stream.Subtype, stream.ColorSpace = Name.XObject, Name.Image, space
    stream.Height, stream.Width, stream.BitsPerComponent = pixels.shape[0], pixels.shape[1], 8
    if interpolate:
        stream.Interpolate = True
    return out.make_indirect(stream)


def one_bit_stencil(stencil: Stencil, out: pikepdf.Pdf) -> pikepdf.Stream:
    stream = one_bit_stream(out, stencil.source, stencil.data)
    stream.ImageMask = True
    if stencil.source.decode[:1] == (1.0,):
        stream.Decode = pikepdf.Array([1, 0])
    if stencil.source.interpolate:
        stream.Interpolate = True
    return stream
