"""How each ink of a page looks on a screen, from no ink to its full tint, alone on white paper.

* Process inks as the file's colours are shown everywhere else (`preview.screen_color`): through its output intent's profile, else
  as PDFium shows DeviceCMYK.
* A spot ink by the alternate colour that the file gives it (ISO 32000-2:2020, 8.6.6.4 and 8.6.6.5): of a Separation, else of the
  Colorants of a DeviceN space, else of the DeviceN space itself with all other inks at nothing. The first that is found counts.
* An ink whose alternate is not found is shown as `STAND_IN`.

An alternate is what the layout program wrote down; metal, foil and varnish look like nothing on a screen.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np
import numpy.typing as npt
import pikepdf
from pikepdf import Array, Dictionary, Stream

from service.pdf.content.color_spaces import ColorSpace, color_space
from service.pdf.facts.ink_names import PROCESS_INKS
from service.pdf.reading.names import name_text
from service.pdf.reading.page_tree import inherited
from service.pdf.reading.reading_errors import READING_ERRORS
from service.proofs.preview.reader_color import as_pdfium_shows
from service.proofs.preview.screen_color import ScreenColors

Curve = npt.NDArray[np.uint8]
"""(256, 3): sRGB for each step of a plate."""

STAND_IN = (122, 116, 108)
"""A warm mid grey: plain to see on white and on black, and the colour of no ink. Ours, no source."""

MOST_DICTIONARIES = 5_000
"""Resources and objects that are looked through for colour spaces. Ours, no source."""

_STEPS = np.linspace(0, 1, 256)


class InkHues:
    """The curve of each ink; `colors.process` converts all process inks together."""

    def __init__(self, source: pikepdf.Pdf, page: pikepdf.Object, inks: Sequence[str]) -> None:
        self.colors = ScreenColors(source)
        self._curves: dict[str, Curve] = {}
        wanted = {ink for ink in inks if ink not in PROCESS_INKS}
        for written in _best_first(page) if wanted else ():
            self._learn(written, wanted)
            if not wanted:
                break
        self._curves |= dict.fromkeys(wanted, _towards(STAND_IN))

    @property
    def through_profile(self) -> bool:
        return self.colors.process is not as_pdfium_shows

    def curve(self, ink: str) -> Curve:
        """Of a process ink it is made when somebody asks: a picture's are converted together."""
        if ink not in self._curves:
            self._curves[ink] = self._process(ink)
        return self._curves[ink]

    def _process(self, ink: str) -> Curve:
        tints = np.zeros((1, 256, 4), np.uint8)
        tints[0, :, PROCESS_INKS.index(ink)] = np.arange(256)
        return _from_white(self.colors.process(tints)[0])

    def _learn(self, written: Array, wanted: set[str]) -> None:
        """Take the curve of each wanted ink of a Separation or DeviceN space."""
        try:
            space = color_space(written)
            self.colors.note(written)
            for at, ink in enumerate(space.colorants):
                if ink in wanted and self.colors.has_alternate(space):
                    self._curves[ink] = self._curve(space, at)
                    wanted.discard(ink)
        except READING_ERRORS:
            return

    def _curve(self, space: ColorSpace, at: int) -> Curve:
        tints = np.zeros((256, space.components))
        tints[:, at] = _STEPS
        return _from_white(np.round(np.clip(self.colors.rgb(space, tints), 0, 1) * 255).astype(np.uint8))


def _from_white(curve: Curve) -> Curve:
    """No ink is white paper, whatever an alternate says."""
    made = curve.copy()
    made[0] = 255
    return made


def _towards(rgb: tuple[int, int, int]) -> Curve:
    return np.asarray(np.round(255 + np.outer(_STEPS, np.array(rgb) - 255.0)), dtype=np.uint8)


# --- Where the file names its inks ------------------------------------------------------------------------------------


def _best_first(page: pikepdf.Object) -> list[Array]:
    """Separations, then those among a DeviceN's Colorants, then DeviceN."""
    found: tuple[list[Array], list[Array], list[Array]] = [], [], []
    try:
        for space in _spaces_of(page):
            kind = name_text(space[0])
            if kind == "Separation":
                found[0].append(space)
            elif kind == "DeviceN":
                found[1].extend(_colorants(space))
                found[2].append(space)
    except READING_ERRORS:
        pass
    return [one for some in found for one in some]


def _colorants(device_n: Array) -> Iterator[Array]:
    attributes = device_n[4] if len(device_n) > 4 else None
    named = attributes.get("/Colorants") if isinstance(attributes, Dictionary) else None
    for _, space in named.items() if isinstance(named, Dictionary) else ():
        if isinstance(space, Array) and len(space) > 3 and name_text(space[0]) == "Separation":
            yield space


def _spaces_of(page: pikepdf.Object) -> Iterator[Array]:
    """Every Separation and DeviceN space that the page's objects name, however deep."""
    waiting: list[object] = [inherited(page, "/Resources"), page.get("/Annots")]
    seen: set[tuple[int, int]] = set()
    looked_at = 0
    while waiting and looked_at < MOST_DICTIONARIES:
        one = waiting.pop(0)
        if not isinstance(one, Array | Dictionary | Stream):
            continue
        if one.objgen != (0, 0):
            if one.objgen in seen:
                continue
            seen.add(one.objgen)
        looked_at += 1
        if isinstance(one, Array):
            kind = name_text(one[0]) if len(one) and isinstance(one[0], pikepdf.Name) else ""
            if kind in ("Separation", "DeviceN") and len(one) > 3:
                yield one
            else:
                waiting += list(one)[:64]
        else:
            waiting += [one.get(key) for key in _LEADS if key in one]
            waiting += _named_in(one)


_LEADS = ("/Resources", "/ColorSpace", "/Shading", "/AP", "/N")
_CATEGORIES = ("/ColorSpace", "/XObject", "/Pattern", "/Shading", "/Font")


def _named_in(resources: Dictionary | Stream) -> list[object]:
    """The entries of each category of a dictionary of resources."""
    named = (resources.get(category) for category in _CATEGORIES)
    return [value for entries in named if isinstance(entries, Dictionary) for _, value in entries.items()]
