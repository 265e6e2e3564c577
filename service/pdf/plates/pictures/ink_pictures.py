"""A picture as tints of the inks that it can paint, or the stencil that it is.

* Stencils are kept: they are painted in the current colour (ISO 32000-2:2020, 8.9.6.2).
* Masks of every kind (soft, explicit, colour key, the opacity inside JPEG 2000 data) become one soft mask of 8 bits.
  Colours that are mixed with a Matte are unmixed (11.6.5.2).
* Colours that no ink names are converted as `inks` says.

Raises Unreadable for a picture that cannot be decoded whole: its page is then not measured.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np
from PIL import Image

from service.pdf.content.color_spaces import ColorSpace
from service.pdf.facts.ink_names import PROCESS_INKS
from service.pdf.plates.colors.inks import InkTable, Tints
from service.pdf.plates.pictures.codecs import MOST_BILEVEL_PIXELS, Bytes, Size, refuse_too_large
from service.pdf.plates.pictures.filters import unpacked, unpacked_whole
from service.pdf.plates.pictures.placed import Placement
from service.pdf.plates.pictures.samples import Samples, row_bytes, samples_of
from service.pdf.plates.pictures.source import PictureSource
from service.pdf.plates.pictures.steps import largest_step_percent
from service.pdf.plates.unreadable import Unreadable

_COLORS_AT_A_TIME = 1 << 18
_GRAYS = ("DeviceGray", "CalGray", "ICCBased (1 channel)")

ToProcess = Callable[[Tints], Tints]


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
    step_percent: float | None
    """`largest_step_percent`; None where it is not whole, or where its samples are not tones."""

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


def decoded(source: PictureSource, to_process: ToProcess, need: Size) -> InkPicture | Stencil:
    """The picture as tints, or the stencil that it is."""
    if source.stencil:
        return stencil_of(source)
    samples, opacity, whole = unmasked(source, need)
    step = largest_step_percent(samples.values, opacity) if whole and _is_tone(samples.space) else None
    inks, tints, converted = _tints(samples, to_process)
    return InkPicture(inks, tints, opacity, converted, source.interpolate, need, whole, step)


def _is_tone(space: ColorSpace) -> bool:
    """Whether a step of a sample is one of tone. What a function makes of a spot's samples may have any edge (8.6.6.4); a byte of
    a* or b* is more than an eye overlooks.
    """
    return space.family != "lab" and set(space.colorants) <= {*PROCESS_INKS}


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
        raise Unreadable("an image mask is coded as a picture with continuous tones")
    return Stencil(source, unpacked_whole(source.data, source.filters[:-1]))


def _unmixed(samples: Samples, opacity: Bytes, matte: Sequence[float]) -> Bytes:
    """The colour that was mixed: m + (c' − m) / α (11.6.5.2). Where nothing is opaque it does not matter."""
    rows, columns, components = samples.values.shape
    if len(matte) != components:
        raise Unreadable("a soft mask's Matte has other components than the picture")
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
            raise Unreadable("a picture is in a colour space that cannot be read: {space}", space=space.written[:60])
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
