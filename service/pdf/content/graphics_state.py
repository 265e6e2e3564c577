"""The graphics state of the walk (ISO 32000-2:2020, 8.4), in millimetres of the ruler."""

from __future__ import annotations

from typing import NamedTuple

import pikepdf

from service.pdf.content.color_spaces import GRAY, ColorSpace
from service.pdf.content.fonts.text_fonts import TextFont
from service.pdf.facts.geometry import IDENTITY, Box, Matrix
from service.pdf.facts.painted.colors import ColorFamily


class Paint(NamedTuple):
    """A colour ready to paint with."""

    family: ColorFamily | None
    """None: paints nothing (Separation None)."""
    written: str
    inks: tuple[str, ...]
    white: bool
    """Leaves the paper white where it knocks out."""
    color: tuple[float, ...] = ()
    pattern: pikepdf.Object | None = None
    """The tiling pattern that paints instead of a plain colour."""
    additive: bool = False
    """Of gray: 0 is black, 1 is white."""
    shading: bool = False
    profile: str | None = None
    """Of an ICC space: what its profile goes by (see `ColorSpace.profile`)."""
    colorants: tuple[str, ...] = ()
    """The ink of each component of its space."""

    @property
    def tint(self) -> float:
        """The strongest of its inks, 0–1; 1 where a conversion or a picture decides."""
        if self.white:
            return 0.0
        if not self.inks or not self.color or len(self.color) != len(self.colorants):
            return 1.0
        strongest = max(self.color)
        return min(max(1 - self.color[0] if self.additive else strongest, 0.0), 1.0)

    @property
    def is_black(self) -> bool:
        """To the eye, in whatever space."""
        if self.family == "cmyk":
            return self.color[3:] == (1.0,)
        return self.family in ("gray", "rgb") and bool(self.color) and not any(self.color) and not self.shading

    def tint_of(self, ink: str) -> tuple[float, float]:
        """(least, most) of one ink, 0–1."""
        if ink in self.colorants and len(self.color) == len(self.colorants):
            value = min(max(self.color[self.colorants.index(ink)], 0.0), 1.0)
            return value, value
        return 0.0, 1.0

    @property
    def marks(self) -> bool:
        return self.family is not None or self.pattern is not None


def paint_of(space: ColorSpace, color: tuple[float, ...]) -> Paint:
    inks = space.inks(color)
    white = not inks if space.colorants else space.is_white(color)
    return Paint(
        space.family, space.written, inks, white, color, None, space.is_additive_gray, False, space.profile, space.colorants
    )


def blended_paint(space: ColorSpace, shading: bool = False) -> Paint:
    """What a picture, a shading or a group can paint in this space: all its inks in any strength."""
    return Paint(
        space.family, space.written, space.all_inks(), False,
        shading=shading, profile=space.profile, colorants=space.colorants,
    )


BLACK = paint_of(GRAY, (0.0,))


class TextState(NamedTuple):
    """ISO 32000-2:2020, 9.3: kept in the graphics state, saved and restored with it."""

    character_spacing: float = 0.0
    word_spacing: float = 0.0
    horizontal_scale: float = 1.0
    leading: float = 0.0
    font: TextFont | None = None
    size: float = 0.0
    mode: int = 0
    rise: float = 0.0


def thinner_scale(matrix: Matrix) -> float:
    """The smaller singular value: how wide a line of width 1 is where the matrix squeezes it most (8.4.3.2)."""
    a, b, c, d, _, _ = matrix
    squares, determinant = a * a + b * b + c * c + d * d, abs(a * d - b * c)
    root = max(squares * squares - 4 * determinant * determinant, 0.0) ** 0.5
    return float((max(squares - root, 0.0) / 2) ** 0.5)


class GraphicsState:
    """Mutable on purpose: one object a level of `q`, copied when saved."""

    __slots__ = (
        "blend_mode", "clip", "ctm", "fill", "fill_alpha", "fill_overprint", "fill_space", "line_width", "overprint_mode",
        "scaled_ctm", "scales",
        "soft_mask", "stroke", "stroke_alpha", "stroke_overprint", "stroke_space", "text",
    )

    def __init__(self, ctm: Matrix, clip: Box | None) -> None:
        self.ctm = ctm
        """User space to ruler mm."""
        self.clip = clip
        """Bounds of what can be painted, ruler mm; None where everything is clipped away."""
        self.fill = BLACK
        self.stroke = BLACK
        self.fill_space: ColorSpace = GRAY
        self.stroke_space: ColorSpace = GRAY
        self.line_width = 1.0
        self.scaled_ctm: Matrix | None = None
        self.scales = (1.0, 1.0)
        self.text = TextState()
        self.fill_alpha = 1.0
        self.stroke_alpha = 1.0
        self.blend_mode = "Normal"
        self.fill_overprint = False
        self.stroke_overprint = False
        self.overprint_mode = 0
        self.soft_mask = False

    def saved(self) -> GraphicsState:
        twin = GraphicsState.__new__(GraphicsState)
        for slot in GraphicsState.__slots__:
            setattr(twin, slot, getattr(self, slot))
        return twin

    def blends(self, alpha: float) -> bool:
        """Whether what is painted with this alpha, that of fills or that of strokes, lets something else through."""
        return self.soft_mask or self.blend_mode != "Normal" or alpha < 1

    @property
    def strokes_as_it_fills(self) -> bool:
        """In the same colour, and nothing shows through: an outline then cannot be told from its area."""
        fill, stroke = self.fill, self.stroke
        if fill.pattern is not None or stroke.pattern is not None or self.blends(min(self.fill_alpha, self.stroke_alpha)):
            return False
        return fill == stroke or (fill.is_black and stroke.is_black)

    def stroke_scales(self) -> tuple[float, float]:
        """How much the matrix thins a line where it squeezes it most, and how far it can reach; kept while the matrix stays."""
        if self.scaled_ctm is not self.ctm:
            self.scaled_ctm = self.ctm
            self.scales = thinner_scale(self.ctm), max(self.ctm.x_scale, self.ctm.y_scale)
        return self.scales

    def clip_to(self, box: Box) -> None:
        self.clip = self.clip.intersection(box) if self.clip else None


class TextMatrices:
    """Between BT and ET (9.4.1)."""

    __slots__ = ("line", "now")

    def __init__(self) -> None:
        self.now = IDENTITY
        self.line = IDENTITY
