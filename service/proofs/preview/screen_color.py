"""Colours of any space as sRGB, for a screen (ISO 32000-2:2020, 8.6).

* Process inks go through the output intent's profile (relative colorimetric with black point compensation); without one they
  are shown as PDFium shows them, so that the preview looks as the file does in a common reader.
* ICC spaces go through their own profile where it can be used; RGB without one is taken as sRGB.
* Spot inks are shown by the alternate colour that the file gives them; overprint is not shown.

Colours on a screen are not those of the print: the printer's proof is what counts.
"""

from __future__ import annotations

import io
from collections.abc import Callable
from typing import cast

import numpy as np
import numpy.typing as npt
import pikepdf
from pikepdf import Array, Dictionary, Stream
from PIL import Image, ImageCms

from service.pdf.content.color_spaces import ColorSpace, color_space
from service.pdf.content.resources import Resources
from service.pdf.facts.ink_names import PROCESS_INKS
from service.pdf.plates.colors.functions import Function, function_of
from service.pdf.plates.colors.inks import InkTable, Tints, lab_to_rgb
from service.pdf.reading.names import name_text
from service.pdf.reading.reading_errors import READING_ERRORS
from service.proofs.preview.reader_color import as_pdfium_shows

Bytes = npt.NDArray[np.uint8]
Convert = Callable[[Bytes], Bytes]
"""(rows, columns, channels) to (rows, columns, 3)."""

_CHANNELS = {3: "RGB", 4: "CMYK", 1: "L"}
_DEEPEST = 8
_ONE_INK = ("Cyan",)
"""The rewriter asks which inks are drawn; on a screen it is all of them, and one name stands for them."""


class ScreenColors(InkTable):
    """In the place of a table of inks: a rewritten page gets sRGB. Raises ValueError for colours that cannot be read."""

    def __init__(self, source: pikepdf.Pdf) -> None:
        super().__init__(_ONE_INK, lambda rgb: rgb)
        self.source = source
        self.process = process_to_srgb(source)
        self._profiles: dict[tuple[str, int], Convert | None] = {}
        self._tints: dict[str, tuple[Function, ColorSpace]] = {}
        self._seen: dict[int, object] = {}

    def columns(self, space: ColorSpace) -> tuple[int | None, ...] | None:  # noqa: ARG002
        return None

    def rgb(self, space: ColorSpace, colors: Tints) -> Tints:
        """(n, components) of the space to (n, 3), 0–1."""
        colors = np.atleast_2d(np.asarray(colors, dtype=np.float64))
        if space.palette and space.base:
            index = np.clip(colors[:, 0].astype(np.intp), 0, len(space.palette) - 1)
            return self.rgb(space.base, np.array(space.palette, dtype=np.float64)[index])
        if space.base is not None:
            return self.rgb(space.base, colors)
        if space.family is None:
            return np.ones((len(colors), 3))
        if space.written in self._tints:
            function, alternate = self._tints[space.written]
            return self.rgb(alternate, function(colors))
        if space.is_additive_gray:
            return cast(Tints, np.clip(np.repeat(colors[:, :1], 3, axis=1), 0, 1))
        if space.family == "lab":
            return lab_to_rgb(colors)
        if space.colorants and not set(space.colorants) <= {*PROCESS_INKS, ""}:  # a spot without its alternate, or All
            return cast(Tints, 1 - np.clip(colors, 0, 1).max(axis=1, keepdims=True).repeat(3, axis=1))
        if space.colorants:
            colors = self._by_ink(space, colors)
        elif space.family != "rgb":
            raise ValueError(f"{space.written[:60]} cannot be shown on a screen")
        parts = np.round(np.clip(colors, 0, 1) * 255).astype(np.uint8)
        return cast(Tints, self.bytes_to_srgb(space, parts[np.newaxis])[0] / 255.0)

    def bytes_to_srgb(self, space: ColorSpace, values: Bytes) -> Bytes:
        """(rows, columns, 3 or 4) of RGB or of all process inks; the same as 8 bits of sRGB."""
        own = self._own_profile(space, values.shape[2])
        if own is not None:
            return own(values)
        return self.process(values) if values.shape[2] == 4 else values

    def of_picture(self, space: ColorSpace, values: Bytes) -> Bytes:
        """Samples as `pdf.plates.pictures.samples` holds them: (rows, columns, 1) where all is grey, else (rows, columns, 3)."""
        if space.is_additive_gray:
            return values
        if space.family == "rgb" or space.colorants == PROCESS_INKS:
            return self.bytes_to_srgb(space, np.ascontiguousarray(values))
        rows, columns, components = values.shape
        flat, where = np.unique(values.reshape(-1, components), axis=0, return_inverse=True)
        colors = flat.astype(np.float64)
        colors = colors / 2.55 * (1, 0, 0) + (colors - 128) * (0, 1, 1) if space.family == "lab" else colors / 255
        found = np.round(np.clip(self.rgb(space, colors), 0, 1) * 255).astype(np.uint8)
        return cast(Bytes, found[where.ravel()].reshape(rows, columns, 3))

    def learn(self, resources: Resources) -> bool:
        """Take note of the alternates of the spot inks that these resources name; False where that was done before."""
        dictionary = resources.dictionary
        if id(dictionary) in self._seen:
            return False
        self._seen[id(dictionary)] = dictionary
        for written in _entries(dictionary, "/ColorSpace"):
            self.note(written)
        for shading in shadings_of(dictionary):
            self.note(_inside(shading, "/ColorSpace"))
        return True

    def note(self, written: object, depth: int = 0) -> None:
        """Take note of the alternate of a space as the file writes it."""
        if not isinstance(written, Array) or len(written) < 2 or depth > _DEEPEST:
            return
        kind = name_text(written[0])
        if kind in ("Indexed", "I", "Pattern"):
            self.note(written[1], depth + 1)
        elif kind in ("Separation", "DeviceN") and len(written) > 3:
            known = color_space(written)
            if known.written in self._tints:
                return
            self.note(written[2], depth + 1)
            alternate = color_space(written[2])
            try:
                function = function_of(written[3])
            except READING_ERRORS:
                return
            if (function.inputs, function.outputs) == (known.components, alternate.components):
                self._tints[known.written] = (function, alternate)

    def has_alternate(self, space: ColorSpace) -> bool:
        """Whether the alternate of a space of named inks was noted and can be worked out."""
        return space.written in self._tints

    def _by_ink(self, space: ColorSpace, colors: Tints) -> Tints:
        found = np.zeros((len(colors), 4))
        for at, name in enumerate(space.colorants[: colors.shape[1]]):
            if name in PROCESS_INKS:
                column = PROCESS_INKS.index(name)
                found[:, column] = np.maximum(found[:, column], colors[:, at])
        return found

    def _own_profile(self, space: ColorSpace, channels: int) -> Convert | None:
        if space.profile is None:
            return None
        key = space.profile, channels
        if key not in self._profiles:
            try:
                number, generation = (int(one) for one in space.profile.split())
                self._profiles[key] = through_profile(self.source.get_object(number, generation).read_bytes(), channels)
            except (*READING_ERRORS, AttributeError):
                self._profiles[key] = None
        return self._profiles[key]


def shadings_of(resources: Dictionary) -> list[object]:
    """All gradients that these resources name, those of patterns included."""
    return [*_entries(resources, "/Shading"), *(_inside(one, "/Shading") for one in _entries(resources, "/Pattern"))]


def _entries(dictionary: Dictionary, category: str) -> list[pikepdf.Object]:
    entries = dictionary.get(category)
    return [one for _, one in entries.items()] if isinstance(entries, Dictionary) else []


def _inside(value: object, key: str) -> object:
    return value.get(key) if isinstance(value, Dictionary | Stream) else None


# --- Profiles ---------------------------------------------------------------------------------------------------------


def process_to_srgb(source: pikepdf.Pdf) -> Convert:
    """How the file's process inks become sRGB."""
    intents = source.Root.get("/OutputIntents")
    for intent in intents if isinstance(intents, Array) else ():
        profile = _inside(intent, "/DestOutputProfile")
        if isinstance(profile, Stream) and profile.get("/N") == 4:
            try:
                return through_profile(profile.read_bytes(), 4)
            except READING_ERRORS:
                continue
    return as_pdfium_shows


def through_profile(profile: bytes, channels: int) -> Convert:
    """Raises ValueError where the profile is none for so many channels."""
    mode = _CHANNELS[channels]
    try:
        given = ImageCms.ImageCmsProfile(io.BytesIO(profile))
        transform = ImageCms.buildTransform(
            given, ImageCms.createProfile("sRGB"), mode, "RGB",
            ImageCms.Intent.RELATIVE_COLORIMETRIC, ImageCms.Flags.BLACKPOINTCOMPENSATION,
        )
    except (ImageCms.PyCMSError, OSError) as error:
        raise ValueError("an ICC profile cannot be used") from error

    def convert(values: Bytes) -> Bytes:
        rows, columns, _ = values.shape
        picture = Image.frombuffer(mode, (columns, rows), np.ascontiguousarray(values), "raw", mode, 0, 1)
        done = ImageCms.applyTransform(picture, transform)
        assert done is not None
        return np.asarray(done)

    return convert


def is_gray(values: Bytes) -> bool:
    """Whether all three channels are the same everywhere."""
    return bool(np.array_equal(values[:, :, 0], values[:, :, 1]) and np.array_equal(values[:, :, 1], values[:, :, 2]))
