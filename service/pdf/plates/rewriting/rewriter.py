"""Rewrite a page so that up to three inks become the red, green and blue of one rendering: channel = 1 − tint.

ISO 32000-2:2020, 11.3.4, blends subtractive colours on their complements, channel by channel; so a rendering of the complements
blends as the inks do, and separable blend modes, alpha and soft masks come out right.

* Operators that set no colour and paint nothing are copied as they stand, byte for byte.
* Every colour, shading, picture and pattern is replaced by its complement tints (`inks`, `shadings`, `pictures`).
* An object that overprints does not touch inks that it does not name (`overprint`): its painting operator becomes a no-op. In an
  isolated group these inks stay only where the group itself has painted before (11.4.5, 11.7.4.3): see `Rewriter.left`.
* Soft masks are drawn with their own colours: their luminosity, not their ink, is what counts (11.5.3).
* What does not print (layers, annotations) is left out; what prints of annotations is drawn as forms.
* Non-separable blend modes work on cyan, magenta and yellow together; black and spots follow 11.3.5.3 and 11.7.4.2.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from copy import copy
from dataclasses import dataclass, field
from enum import Enum
from itertools import count
from math import ceil, log2

import numpy as np
import pikepdf
from pikepdf import Dictionary, Name

from service.language.sentences import sentence
from service.pdf.content.color_spaces import GRAY, PATTERN, ColorSpace
from service.pdf.content.current_color import BLACK, CurrentColor
from service.pdf.content.resources import Resources, Shared
from service.pdf.content.work_limits import MOST_OPERATORS, refuse_nesting, too_many_operators
from service.pdf.facts.geometry import IDENTITY, Box, Matrix
from service.pdf.plates.colors.inks import InkTable
from service.pdf.plates.colors.overprint import paints, untouched
from service.pdf.plates.pictures.placed import Placement, placement
from service.pdf.plates.pictures.recolored import Pictures
from service.pdf.plates.pictures.samples import MOST_PLATE_PIXELS
from service.pdf.plates.rewriting.color_runs import ColorRuns, Colors
from service.pdf.plates.unreadable import Unreadable, damaged_at
from service.pdf.reading.lexer import PATHS_AND_COLORS, PATHS_AND_PLACES, located_operations
from service.pdf.reading.operands import Operands
from service.pdf.reading.reading_errors import READING_ERRORS

Replacement = bytes | None
"""None: the operator stays as it is written."""
Handler = Callable[["Rewriter", bytes, Operands, bytes], Replacement]
"""Called with the operator, its operands, and both as they are written."""


_LEVELS = [b"%.4f " % (level / 255) for level in range(256)]
"""Of a channel, as they are written: PDFium rounds to them."""
MOST_COVERED_PX = 20_000
"""A picture that is placed larger shows only a part of itself."""


def stepped(matrix: Matrix, steps: int = 1) -> tuple[Matrix, tuple[int, int]]:
    """The matrix enlarged to the next power of two in each direction, or to the next of `steps` steps between two of them, and
    how many these are: a form that is drawn at many sizes is rewritten for a few of them.
    """
    across, down = (ceil(log2(min(max(scale, 1e-3), 1e6)) * steps) for scale in (matrix.x_scale, matrix.y_scale))
    a, b, c, d, e, f = matrix
    wider, taller = 2.0 ** (across / steps) / max(matrix.x_scale, 1e-9), 2.0 ** (down / steps) / max(matrix.y_scale, 1e-9)
    return Matrix(a * wider, b * wider, c * taller, d * taller, e, f), (across, down)


class CannotSeparate(Exception):
    """The page uses something that these plates cannot show; the text, a clause, says what."""

    def __init__(self, text: str, /) -> None:
        self.sentence = sentence(text)
        super().__init__(text)


class Treatment(Enum):
    """What an object does to the inks of one rendering."""

    PAINTS = 1
    LEAVES = 2
    """It overprints and has none of them."""
    NOTHING = 3
    """It does not print, or in no ink at all."""


@dataclass
class State:
    """What of the graphics state decides how an operator is rewritten."""

    fill: CurrentColor = BLACK
    stroke: CurrentColor = BLACK
    fill_overprint: bool = False
    stroke_overprint: bool = False
    overprint_mode: int = 0
    text_mode: int = 0
    type_3: tuple[Dictionary, float] | None = None
    """The font and its size, where its glyphs are content of their own."""
    ctm: Matrix = IDENTITY
    """User space to the plate's pixels: how large a picture gets."""
    placed: bool = False
    """The matrix leads to the very pixels, y upwards; else only to their size (`stepped`)."""
    blocked: bool = False
    """A blend mode that takes black from the backdrop (11.3.5.3)."""
    blend_mode: str = "Normal"
    """As it is rewritten."""


@dataclass
class Frame:
    """One content stream on its way: the resources that it has and those that it gets."""

    source: Resources
    made: Dictionary
    numbers: Iterator[int]
    """For names that no other resource of the rendering has."""
    saved: list[State] = field(default_factory=list)
    hidden: list[bool] = field(default_factory=list)
    base_hidden: bool = False
    colors: dict[tuple[bytes, bytes], tuple[CurrentColor, bytes]] = field(default_factory=dict)
    """Device colours that were rewritten before, by operator and operands."""
    blend_modes: dict[str, bytes] = field(default_factory=dict)
    """Names of graphics states that set one."""

    def name(self, category: str, value: pikepdf.Object) -> bytes:
        """Put a resource in, under a new name."""
        if self.made.get(category) is None:  # `in` would count all that is in there, each time
            self.made[category] = Dictionary()
        name = f"/R{next(self.numbers)}"
        self.made[category][name] = value
        return name.encode()


class Rewriter:
    """Rewrites content of one page into `out` for the inks of `table`."""

    def __init__(
        self, handlers: Mapping[bytes, Handler], source: pikepdf.Pdf, out: pikepdf.Pdf, table: InkTable, shared: Shared,
        pictures: Pictures, color_runs: ColorRuns,
    ) -> None:
        self.handlers, self.source, self.out = handlers, source, out
        self.table, self.shared, self.pictures, self.color_runs = table, shared, pictures, color_runs
        self.inks = table.inks
        self.state = State()
        self.numbers = count()
        self.frame = Frame(Resources(None, shared), Dictionary(), self.numbers)
        self.columns: dict[int, tuple[ColorSpace, tuple[int | None, ...] | None]] = {}
        """By a space's identity, which the entry keeps alive: where its colours hold the inks."""
        self.refuses_knockout = True
        """Whether a knockout group that the renderer cannot show is a reason to stop (see `knockout`)."""
        self.isolated_groups = 0
        """How many of the groups that are being rewritten are isolated; the page is not counted: white paper lies below it."""
        self.media_px = Box(0, 0, 0, 0)
        """The page in the plate's pixels, as `State.ctm` leads there."""
        self.base = IDENTITY
        """Default coordinates of the content stream that is rewritten, to the plate's pixels (8.7.3.1)."""
        self.running: list[tuple[int, int]] = []
        self.operators_left = MOST_OPERATORS
        self.steps = 1
        """Sizes in which a form is rewritten, from one power of two to the next (`stepped`)."""
        self.forms: dict[tuple[object, ...], pikepdf.Object] = {}
        self.form_places: dict[tuple[int, int], set[Matrix]] = {}
        """Of forms that hold pictures: for which places they were rewritten."""
        self.with_pictures: dict[tuple[int, int], bool] = {}
        """By lists of XObjects, or by forms."""
        self.fonts: dict[tuple[int, int], pikepdf.Object] = {}

    # --- one content stream ---

    def stream(self, data: bytes, source: Resources, state: State, made: Dictionary, hidden: bool = False) -> bytes:
        """The rewritten content; what it needs is put into `made`."""
        refuse_nesting(len(self.running))
        outer = self.state, self.frame, self.base
        self.base = state.ctm
        self.state, self.frame = copy(state), Frame(source, made, self.numbers, base_hidden=hidden)
        pieces: list[bytes] = []
        kept_from = 0
        for operator, operands, start, end in located_operations(data, self._passed_over):
            self.operators_left -= 1
            if self.operators_left < 0:
                raise too_many_operators(MOST_OPERATORS)
            handler = self.handlers.get(operator)
            replacement = self._replaced(handler, operator, operands, data[start:end]) if handler else None
            if replacement is not None:
                pieces += (data[kept_from:start], b"\n", replacement, b"\n")
                kept_from = end
        pieces += (data[kept_from:], b"\n", b"Q " * len(self.frame.saved))
        self.state, self.frame, self.base = outer
        return b"".join(pieces)

    def _replaced(self, handler: Handler, operator: bytes, operands: Operands, written: bytes) -> Replacement:
        try:
            return handler(self, operator, operands, written)
        except Unreadable:
            raise
        except READING_ERRORS as error:
            raise damaged_at(operator) from error

    def copied(self, value: pikepdf.Object) -> pikepdf.Object:
        """The same object in the rewritten file, with all that it refers to."""
        return self.out.copy_foreign(value if value.is_indirect else self.source.make_indirect(value))

    def _passed_over(self, data: bytes, position: int) -> int | None:
        """Up to where the stream stays as it is without a look: painting too, while everything that is painted appears."""
        state = self.state
        plain = not (state.fill_overprint or state.stroke_overprint or state.blocked or self.frame.base_hidden)
        shown = plain and state.fill.paints_in.family is not None and state.stroke.paints_in.family is not None
        passed = (PATHS_AND_COLORS if shown and not any(self.frame.hidden) else PATHS_AND_PLACES).match(data, position)
        return passed.end() if passed else None

    @property
    def hidden(self) -> bool:
        return self.frame.base_hidden or any(self.frame.hidden)

    # --- colours ---

    def covered_px(self) -> tuple[int, int]:
        """Columns and rows of the plate that the unit square covers, along its own sides."""
        ctm = self.state.ctm
        return min(ceil(ctm.x_scale), MOST_COVERED_PX) or 1, min(ceil(ctm.y_scale), MOST_COVERED_PX) or 1

    def placement(self) -> Placement | None:
        """The pixels of the plate that the unit square touches; None where they are not known, or too many already."""
        state = self.state
        found = placement(state.ctm, self.media_px, MOST_PLATE_PIXELS) if state.placed else None
        return found if found and self.pictures.takes(found, self.out) else None

    def begun(self) -> bytes:
        """Operators that set the initial colours, black in DeviceGray (8.4.1): a rendering's own would be every ink."""
        black = self.channels(GRAY, GRAY.initial)
        return b"%s rg %s RG\n" % (black, black)

    def channels(self, space: ColorSpace, color: Sequence[float]) -> bytes:
        columns = self._columns_of(space)
        if columns is not None:
            rgb = [1.0 if at is None else min(max(1 - color[at], 0.0), 1.0) for at in columns]
            self.table.used.update(ink for ink, channel in zip(self.inks, rgb, strict=False) if channel < 1)
        else:
            rgb = list(self.table.rgb(space, np.array([color]))[0])
        return b"".join(_LEVELS[int(channel * 255 + 0.5)] for channel in rgb)

    def channels_of_many(self, space: ColorSpace, colors: Colors, operator: bytes) -> list[bytes]:
        """The same for thousands at once, each followed by the operator."""
        columns = self._columns_of(space)
        if columns is None:
            rgb = self.table.rgb(space, colors)
        else:
            tints = colors.clip(0, 1)
            rgb = np.ones((len(colors), 3))
            for channel, at in enumerate(columns):
                if at is not None:
                    rgb[:, channel] -= tints[:, at]
            self.table.used.update(ink for at, ink in enumerate(self.inks) if rgb[:, at].min() < 1)
        red, green, blue = np.floor(rgb.T * 255 + 0.5).astype(np.intp).tolist()
        return [_LEVELS[r] + _LEVELS[g] + _LEVELS[b] + operator for r, g, b in zip(red, green, blue, strict=True)]

    def _columns_of(self, space: ColorSpace) -> tuple[int | None, ...] | None:
        known = self.columns.get(id(space))
        if known is None:
            known = self.columns[id(space)] = (space, self.table.columns(space))
        return known[1]

    def fill_treatment(self) -> Treatment:
        """What filling does to these inks; raises MixedTreatment where not the same to all. `stroke_treatment` likewise."""
        return self._treatment(self.state.fill, self.state.fill_overprint)

    def stroke_treatment(self) -> Treatment:
        return self._treatment(self.state.stroke, self.state.stroke_overprint)

    def sampled_treatment(self, space: ColorSpace) -> Treatment:
        """The same for a picture or a shading."""
        return self._treatment(CurrentColor(space, space, None), self.state.fill_overprint)

    def _treatment(self, painted: CurrentColor, overprint: bool) -> Treatment:
        space, color = painted.paints_in, painted.values
        if self.hidden or painted.is_nothing or (space.family is None and space is not PATTERN):
            return Treatment.NOTHING
        if self.state.blocked:
            if color is None or self.table.tints(space, np.array([color])).any():
                raise CannotSeparate("an object that holds black is set to the blend mode Hue, Saturation or Color")
            return Treatment.NOTHING
        if space is PATTERN:
            return Treatment.PAINTS
        below = untouched(space, color, overprint, self.state.overprint_mode, self.inks)
        return Treatment.PAINTS if paints(below, self.inks) else Treatment.LEAVES

    def left(self, painting: bytes, otherwise: bytes = b"") -> bytes:
        """What becomes of painting in none of these inks: nothing, but in an isolated group.

        There CompatibleOverprint (11.7.4.3) gives what the group has painted below, and no ink where it has painted nothing: the
        object covers what lies below the group. The same comes of white by Multiply; and white is what an object without these
        inks is painted in.
        """
        if not self.isolated_groups:
            return otherwise
        return b"%s gs %s %s gs" % (self._blending("Multiply"), painting, self._blending(self.state.blend_mode))

    def _blending(self, mode: str) -> bytes:
        known = self.frame.blend_modes
        if mode not in known:
            known[mode] = self.frame.name("/ExtGState", Dictionary(BM=Name("/" + mode)))
        return known[mode]
