"""Pages whose colours alone tell what ink plates are asked for: text, lines and areas in plain process colours on paper.

Of such a page it is known without plates that ink shows on it, that none stands at an edge of the trim, and how much may lie in
one place at most. Whatever could make one of these untrue (pictures, shadings, patterns, spot inks, transparency, white over what
shows, type that nobody knows how to draw) leaves it to the plates. What shows is type, or one of many small areas that the walk
tells at once: a drawing without type; a page of few areas is left to the plates, which cost little there.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from service.pdf.content.graphics_state import Paint
from service.pdf.facts.geometry import Box
from service.pdf.facts.ink_names import PROCESS_INKS
from service.pdf.facts.page import PageBoxes
from service.pdf.facts.painted.colors import OverprintUse
from service.pdf.gather.effects import tints_of
from service.pdf.gather.small_areas import Tinted
from service.pdf.walk.walker import Mark, ShownText

CONVERTED_PERCENT = 200.0
"""The most that RGB becomes by the formula (`process_by_formula`): what is all black of it is no colour."""
SHOWS_FROM, SHOWS_MM, SHOWS_PT = 0.1, 0.3, 3.0
"""Type as strong and as large surely shows, and areas as strong. Ours, no source."""
_MOST_TRIED = 20
"""Areas, for one that nothing faint covers. Ours, no source."""
OFF_THE_EDGE_MM = 1.0
"""Nothing so far inside the trim has a part in what stands at its edge."""


class PlainInk:
    def __init__(self, boxes: PageBoxes) -> None:
        self._within = boxes.trim.grown(-OFF_THE_EDGE_MM)
        self._is_plain = True
        self._shown: Box | None = None
        """Type or an area that shows, whatever has been painted later."""
        self._overprints = self._converts = False
        self._strongest: dict[str, float] = {}
        self._most = 0.0
        self._latest: tuple[Paint | None, float | None] = None, None

    def leave_to_plates(self) -> None:
        self._is_plain = False

    def add(self, mark: Mark, inked: Box | None) -> None:
        """A mark that prints, and where: None where it leaves the paper as it is."""
        if not self._is_plain or inked is None:
            return
        if mark.paint is not self._latest[0]:
            self._latest = mark.paint, self._sum(mark.paint)
        strength = self._latest[1]
        if strength is None or not _is_plain(mark) or not (mark.paint.white or self._within.contains(inked, slack=0)):
            self._is_plain = False
        elif strength < SHOWS_FROM:
            self._shown = None if self._shown and self._shown.intersection(inked) else self._shown
        else:
            self._overprints |= mark.overprint
            if self._shown is None and _shows(mark, inked):
                self._shown = inked

    def add_small(self, tinted: Tinted) -> None:
        """The same for areas that are told at once, none of them white."""
        if not self._is_plain:
            return
        x0, y0, x1, y1 = tinted.areas.boxes.T
        around = Box(float(x0.min()), float(y0.min()), float(x1.max()), float(y1.max()))
        if not self._within.contains(around, slack=0):
            self._is_plain = False
            return
        solid = tinted.areas.boxes[tinted.areas.solid & (tinted.sums >= SHOWS_FROM)][:_MOST_TRIED].tolist()
        may_show = [self._shown] if self._shown else [Box(*one) for one in solid]
        faint = tinted.areas.boxes[tinted.sums < SHOWS_FROM]
        self._shown = next((one for one in may_show if not _meets(one, faint)), None)
        self._converts |= bool(tinted.is_rgb.any())
        in_inks = ~tinted.is_rgb
        if in_inks.any():
            tints = (tinted.tints * tinted.named)[in_inks].max(axis=0).tolist()
            for ink, tint in zip(PROCESS_INKS, tints, strict=True):
                self._strongest[ink] = max(self._strongest.get(ink, 0.0), tint)
            self._most = max(self._most, float(tinted.sums[in_inks].max()))

    def _sum(self, paint: Paint) -> float | None:
        """All its inks together, 0–1 each; None where plates have to tell."""
        if paint.pattern is not None or paint.shading or paint.family not in ("cmyk", "gray", "rgb"):
            return None
        tints = tints_of(paint)
        if tints is None or any(ink not in PROCESS_INKS or not 0 <= tint <= 1 for ink, tint in tints):
            return None
        strength = sum(tint for _, tint in tints)
        if paint.family == "rgb":
            self._converts |= not paint.white
            return strength
        self._strongest |= {ink: max(self._strongest.get(ink, 0.0), tint) for ink, tint in tints}
        self._most = max(self._most, strength)
        return strength

    def most_percent(self, overprints: tuple[OverprintUse, ...]) -> float | None:
        """That one place can hold; None where plates have to tell. `overprints`: what the page's content has of them."""
        if not self._is_plain or self._shown is None or any(one.case != "white vanishes" for one in overprints):
            return None
        if self._overprints and self._converts:
            return None
        most = sum(self._strongest.values()) if self._overprints else self._most
        return round(max(100 * most, CONVERTED_PERCENT if self._converts else 0.0), 2)


def _is_plain(mark: Mark) -> bool:
    if mark.kind not in ("text", "fill", "stroke") or mark.alpha < 1 or mark.masked or mark.blend_mode != "Normal":
        return False
    if not isinstance(mark.detail, ShownText):
        return True
    font = mark.detail.font
    return isinstance(mark.detail.ink, Box) and font.damage is None and font.facts.type != "Type3"


def _meets(box: Box, others: npt.NDArray[np.float64]) -> bool:
    x0, y0, x1, y1 = others.T
    return bool(((x0 <= box.x1) & (box.x0 <= x1) & (y0 <= box.y1) & (box.y0 <= y1)).any())


def _shows(mark: Mark, inked: Box) -> bool:
    """Nothing of it is cut off, and it is no speck."""
    detail = mark.detail
    whole = isinstance(detail, ShownText) and mark.visible == mark.box and detail.size_pt >= SHOWS_PT
    return whole and min(inked.width, inked.height) >= SHOWS_MM
