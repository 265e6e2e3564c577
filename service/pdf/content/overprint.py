"""Overprint: which inks an object sets, and so which ones below it stay (ISO 32000-2:2020, 8.6.7 and 11.7.4.3).

Without overprint an object sets every ink, those that it does not use to nothing. With overprint:

* Separation and DeviceN set the inks that they name, at tint 0 to nothing, and leave all others. All names every ink.
* DeviceCMYK in mode 1 sets the inks above 0, "equivalent to painting in a DeviceN colour space" of these. That holds for what is
  painted in the current colour (paths, text, stencils), not for pictures and shadings.
* Any other process colour sets the four process inks and leaves the spots: DeviceCMYK in mode 0, in a picture or in a shading;
  gray, RGB, Lab and ICC spaces in either mode.
* Indexed sets what its base does (8.6.6.3); a colour of a table is none of DeviceCMYK, so that mode 1 has no say.

It knows colour spaces as they are written and inks by name, no file.
"""

from __future__ import annotations

from collections.abc import Sequence

from service.pdf.facts.ink_names import PROCESS_INKS

EVERY_INK = None
_PROCESS = frozenset(PROCESS_INKS)


def inks_set(written: str, colorants: Sequence[str], color: Sequence[float] | None, mode: int) -> frozenset[str] | None:
    """The inks that an object which overprints sets, be it to nothing; EVERY_INK for Separation All.

    `written` and `colorants` as in `ColorSpace`; `color` is None, or empty, for a picture or a shading.
    """
    if written.removeprefix("Indexed (").startswith(("Separation", "DeviceN")):
        return EVERY_INK if "All" in colorants else frozenset(filter(None, colorants))
    if written == "DeviceCMYK" and mode == 1 and color:
        return frozenset(ink for ink, tint in zip(PROCESS_INKS, color, strict=False) if tint != 0)
    return _PROCESS
