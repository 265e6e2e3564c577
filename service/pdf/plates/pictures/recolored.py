"""Pictures of a page as pictures of its plates: red, green and blue are 255 · (1 − tint) of up to three inks.

* A picture is decoded and turned into tints once (`ink_pictures`); each rendering takes the columns that it needs.
* Where its place on the plate is known, it is painted as the plate's own pixels (`placed`), else PDFium scales it.
* Whether colours were converted, and which inks a picture can hold, the table is told.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

import numpy as np
import pikepdf
from pikepdf import Name

from service.pdf.content.kept import Kept, Key
from service.pdf.content.resources import Resources
from service.pdf.plates.colors.inks import InkTable
from service.pdf.plates.pictures.codecs import Bytes, Size, one_bit_stream
from service.pdf.plates.pictures.ink_pictures import InkPicture, Stencil, decoded, on_the_plate
from service.pdf.plates.pictures.placed import Placement
from service.pdf.plates.pictures.source import inline_source, picture_source
from service.pdf.reading.lexer import Operand

MOST_PLACED_PIXELS = 60_000_000
"""Of one rendering, each picture counting for `_PIXELS_AN_OBJECT` more: A0 at 100 ppi four times over. Ours, no source."""
_PIXELS_AN_OBJECT = 10_000
MOST_KEPT_BYTES = 96_000_000
"""Of decoded pictures: what is asked for next time beyond this is decoded again. Ours, no source."""

MOST_KEPT_OF_FILE_BYTES = 64_000_000
"""Of what one page leaves to the next. Ours, no source."""

Picture = InkPicture | Stencil


def kept_of_file() -> Kept[Picture]:
    """For all pages of a file whose colours become inks in the same way."""
    return Kept(MOST_KEPT_OF_FILE_BYTES)


class Pictures:
    """Decoded pictures of a page, the latest used kept; every rendering asks here.

    What comes of a picture does not depend on the pages that were measured before: of theirs only what was worked out for the
    same need is used again.
    """

    def __init__(self, most_kept_bytes: int = MOST_KEPT_BYTES, of_file: Kept[Picture] | None = None) -> None:
        self._kept: Kept[Picture] = Kept(most_kept_bytes)
        self._of_file = of_file
        self._out: pikepdf.Pdf | None = None
        self._made: dict[Key, tuple[object, pikepdf.Stream]] = {}
        """Of the latest `out`: what is painted again is not made again."""
        self.pixels_left = MOST_PLACED_PIXELS
        """Of the latest `out`, for pictures on the plate's own pixels."""
        self.steps_percent: dict[int, float] = {}
        """By the picture's number in the file: how far its tone goes from pixel to pixel, where that is known."""

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
    ) -> pikepdf.Stream:
        found = decoded(inline_source(keys, data, resources), table.to_process, need_px)
        return self._placed_stream((), found, table, out, place)

    def _found(
        self, image: pikepdf.Stream, resources: Resources, table: InkTable, need_px: Size
    ) -> tuple[Key, InkPicture | Stencil]:
        key = self._key(image, resources)
        found = self._kept.get(key)
        if found is None or not _enough(found, need_px):
            of_need = (*key, need_px) if key else ()
            made = self._once(of_need, lambda: decoded(picture_source(image, resources), table.to_process, need_px))
            found = self._kept.keep(key, made)
        if isinstance(found, InkPicture) and found.step_percent is not None:
            number = image.objgen[0]  # a space by name may stand for two, each with steps of its own
            self.steps_percent[number] = max(found.step_percent, self.steps_percent.get(number, 0.0))
        return key, found

    def _once(self, key: Key, make: Callable[[], Picture]) -> Picture:
        """Made for the file, where it has not been."""
        if self._of_file is None:
            return make()
        return self._of_file.get(key) or self._of_file.keep(key, make())

    def _placed_stream(
        self, key: Key, found: InkPicture | Stencil, table: InkTable, out: pikepdf.Pdf, place: Placement
    ) -> pikepdf.Stream:
        assert isinstance(found, InkPicture)
        of_this_place = (*key, place) if key else ()
        held = self._kept.get(of_this_place)
        if held is None:
            of_need = (*of_this_place, found.need) if key else ()
            held = self._kept.keep(of_this_place, self._once(of_need, lambda: on_the_plate(found, place)))
        return self._stream(of_this_place, held, table, out)

    def _key(self, image: pikepdf.Stream, resources: Resources) -> Key:
        """A device space by name may stand for another one in other resources; nothing else depends on them."""
        written = image.get("/ColorSpace")
        number, generation = image.objgen
        if (number, generation) == (0, 0):
            return ()
        return number, generation, resources.space(written) if isinstance(written, pikepdf.Name) else None

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
