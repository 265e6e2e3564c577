"""The walk: follow a page's content once and tell what it paints (ISO 32000-2:2020, clauses 8 and 9).

* A table leads from each operator to a small handler; `GraphicsState` is saved and restored as `q` and `Q` say (8.4.2).
* The current transformation starts as the ruler, so that every box is in millimetres from the trimmed page's corner.
* Bounds: of a curve, its control points; of a stroke, half its width around; of a clip, its box. They are never too small.
* Every painted object becomes a `Mark` for each listener, with the part that clips and the media leave visible.
* Objects in layers that do not print, or do not show on screen, say so.
* Work is bounded: operators, nesting and bytes. Past a bound the walk raises `TooMuchWork`; nothing is half-judged.

It judges nothing and converts no colour. The handlers are in the modules beside this one; `table` puts them together.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from itertools import pairwise
from typing import Literal, NamedTuple

import pikepdf

from service.pdf.content.fonts.text_fonts import TextFont
from service.pdf.content.forms import Form
from service.pdf.content.graphics_state import GraphicsState, Paint, TextMatrices
from service.pdf.content.image_facts import ImageFacts
from service.pdf.content.layers import layer_name
from service.pdf.content.resources import Resources, Shared
from service.pdf.content.work_limits import MOST_BYTES, MOST_OPERATORS, TooMuchWork, refuse_nesting, too_many_operators
from service.pdf.facts.geometry import Box, Matrix
from service.pdf.facts.painted.colors import ObjectKind
from service.pdf.facts.painted.content import MOST_PLACES
from service.pdf.facts.painted.images import StandIn
from service.pdf.facts.unknown import Unmeasured
from service.pdf.reading.lexer import RUN, located_operations
from service.pdf.reading.operands import Operands
from service.pdf.walk import path_runs
from service.pdf.walk.run_ends import run_end
from service.pdf.walk.small_areas import SmallAreas

MOST_SUBPATHS = 64
MOST_PIECES = 1_000
"""A path with more is no set of printer's marks."""
_FAR = 1e7
"""Ten kilometres: bounds beyond are damage and paint nothing that can be placed."""


class PlacedImage(NamedTuple):
    facts: ImageFacts
    matrix: Matrix
    """Unit square to ruler mm."""


class ShownText(NamedTuple):
    text: str
    font: TextFont
    size_pt: float
    paints: bool
    """False in rendering modes 3 and 7."""
    spans: tuple[tuple[str, float, float], ...]
    """Each glyph's characters, and where it starts and ends along the line in text space."""
    matrix: Matrix
    """Text space to ruler mm."""
    rise: float
    """Of the baseline, text space."""
    ink: Box | Unmeasured | None
    """Around the outlines of its glyphs, ruler mm, not cut by clips; None where they are empty."""


class StrokedPath(NamedTuple):
    width_pt: float
    """Effective, the thinner direction; 0 is the thinnest line that the device can draw (8.4.3.2)."""
    outline: Box
    """Of the path itself, without the width."""
    points: list[float]
    """x and y in turn, user space."""
    starts: list[int]
    """Where in `points` each subpath starts."""
    ctm: Matrix
    around_own_area: bool = False
    """Of a path that is filled in the very same opaque colour: where it goes round an area, it only makes that larger."""

    def straight_lines(self) -> list[Box]:
        """The subpaths of two points, each as the box around it in ruler mm; none of a path with many subpaths."""
        if len(self.starts) > MOST_SUBPATHS:
            return []
        ends = [*self.starts[1:], len(self.points)]
        pairs = [self.points[start:end] for start, end in zip(self.starts, ends, strict=True) if end - start == 4]
        return [Box.around((self.ctm.point(*pair[:2]), self.ctm.point(*pair[2:]))) for pair in pairs]


    def pieces(self) -> list[Box]:
        """The box around each subpath, without the width; none of a single one, or of a path with very many."""
        return _boxes_of_subpaths(self.points, self.starts, self.ctm)

    def on_the_line(self) -> list[tuple[float, float]]:
        """Some points of the path, ruler mm: the middles of its first straight segments."""
        return _middles(self.points, self.ctm)


class FilledPath(NamedTuple):
    points: list[float]
    starts: list[int]
    ctm: Matrix
    even_odd: bool = False
    """Filled by the even-odd rule (8.5.3.3.3)."""

    def pieces(self) -> list[Box]:
        """As those of a stroked path."""
        return _boxes_of_subpaths(self.points, self.starts, self.ctm)

    def on_the_line(self) -> list[tuple[float, float]]:
        """Points of its first piece, as those of a stroked path: of use where it is the frame that a line would draw."""
        return _middles(self.points[: self.starts[1]], self.ctm) if len(self.starts) > 1 else []


def _middles(points: list[float], ctm: Matrix) -> list[tuple[float, float]]:
    ends = [ctm.point(x, y) for x, y in zip(points[:18:2], points[1:18:2], strict=False)]
    return [((x0 + x1) / 2, (y0 + y1) / 2) for (x0, y0), (x1, y1) in pairwise(ends)]


def _boxes_of_subpaths(points: list[float], starts: list[int], ctm: Matrix) -> list[Box]:
    if not 1 < len(starts) <= MOST_PIECES:
        return []
    ends = [*starts[1:], len(points)]
    several = (points[start:end] for start, end in zip(starts, ends, strict=True) if end > start)
    return [Box.around(tuple(ctm.point(x, y) for x, y in zip(one[::2], one[1::2], strict=True))) for one in several]


Detail = PlacedImage | ShownText | StrokedPath | FilledPath | None


class Mark(NamedTuple):
    """One painted object."""

    kind: ObjectKind
    box: Box
    visible: Box | None
    """What clips and the media leave of it; None where nothing."""
    paint: Paint
    prints: bool
    shows: bool
    layer: str
    """Name of the layer that hides it from the print or the screen; where none does, of the innermost one, or ''."""
    overprint: bool
    """The overprint parameter that applies to it; what comes of it depends on `overprint_mode` and the colour."""
    overprint_mode: int
    alpha: float
    blend_mode: str
    masked: bool
    detail: Detail


Listener = Callable[[Mark], None]
class Hidden(NamedTuple):
    prints: bool
    shows: bool
    layer: str

    @property
    def is_seen(self) -> bool:
        """On paper as on a screen."""
        return self.prints and self.shows


SEEN = Hidden(True, True, "")
Handler = Callable[["Walk", Operands], None]


class Walk:
    """The walker of one page. `run` takes one content stream; forms and patterns run inside."""

    def __init__(
        self, handlers: Mapping[bytes, Handler], ruler: Matrix, sheet: Box, shared: Shared, listeners: Sequence[Listener]
    ) -> None:
        self.handlers = handlers
        self.stand_ins: list[StandIn] = []
        self.state = GraphicsState(ruler, sheet)
        self.shared = shared
        self.listeners = listeners
        self.at_once: tuple[Box, Callable[[SmallAreas], None]] | None = None
        """Who takes small areas all at once, and within which box."""
        self.saved: list[GraphicsState] = []
        self.resources = Resources(None, shared)
        self.base = ruler
        """Default coordinates of the content stream that runs: pattern matrices start from it (8.7.3.1)."""
        self.points: list[float] = []
        """Of the current path, x and y in turn, user space."""
        self.starts: list[int] = []
        """Where in `points` each subpath of `m` starts."""
        self.clip_pending = False
        self.text = TextMatrices()
        self.text_clip: list[Box] = []
        self.marked_hidden: list[Hidden] = []
        """One for each open marked-content sequence: what hides it."""
        self.colors_fixed = False
        """Inside an uncoloured pattern or glyph, colour operators do nothing (8.7.3.3, 9.6.4)."""
        self.inside_mask = False
        self.inside_glyph = False
        self.transparency_seen = False
        self.operators_left = MOST_OPERATORS
        self.bytes_left = MOST_BYTES
        self.running: list[tuple[int, int]] = []
        """Streams that are being walked, outermost first: one that calls itself is not entered again."""
        self.forms: dict[tuple[int, int], Form] = {}
        self.images: dict[tuple[int, int], ImageFacts | None] = {}
        self.glyphs_walked: set[tuple[int, int]] = set()

    def run(self, data: bytes, resources: Resources) -> None:
        """Walk one content stream; what it leaves behind (open `q`, clips, text) ends with it."""
        refuse_nesting(len(self.running))
        self.count_bytes(len(data))
        outer = (self.state, self.saved, self.resources, self.base, self.text, self.marked_hidden)
        path = (self.points, self.starts, self.clip_pending)
        self.state, self.saved, self.resources = self.state.saved(), [], resources
        self.base, self.text = self.state.ctm, TextMatrices()
        self.points, self.starts, self.clip_pending = [], [], False
        self.marked_hidden = [self.hidden]
        handlers = self.handlers
        skipped = self._skipped if RUN in handlers and len(data) >= path_runs.LEAST_STREAM_BYTES else None
        for operator, operands, _, _ in located_operations(data, skipped):
            self.operators_left -= 1
            if self.operators_left < 0:
                raise too_many_operators(MOST_OPERATORS)
            handler = handlers.get(operator)
            if handler:
                handler(self, operands)
        self.state, self.saved, self.resources, self.base, self.text, self.marked_hidden = outer
        self.points, self.starts, self.clip_pending = path

    def count(self, operators: int) -> None:
        """So many have been followed. Raises TooMuchWork."""
        self.operators_left -= operators
        if self.operators_left < 0:
            raise too_many_operators(MOST_OPERATORS)

    def count_bytes(self, unpacked: int) -> None:
        """The same of content."""
        self.bytes_left -= unpacked
        if self.bytes_left < 0:
            raise TooMuchWork("its drawing instructions unpack to more than {count} MB", count=MOST_BYTES // 1_000_000)

    def _skipped(self, data: bytes, position: int) -> int | None:
        """A run of paths comes in one piece where none is begun before it."""
        return None if self.points or self.clip_pending else run_end(data, position)

    @property
    def hidden(self) -> Hidden:
        return self.marked_hidden[-1] if self.marked_hidden else SEEN

    def hide_by(self, content: object, inherited: Hidden) -> Hidden:
        """What a layer adds to what is hidden already."""
        if not isinstance(content, pikepdf.Dictionary):
            return inherited
        prints, shows = inherited.prints and self.shared.prints(content), inherited.shows and self.shared.shows(content)
        if (prints, shows) == inherited[:2] and not inherited.is_seen:
            return inherited
        return Hidden(prints, shows, layer_name(content))

    def tell_stand_in(self, kind: Literal["missing object", "OPI"], box: Box) -> None:
        """Note something whose real content is not in the file, where it would show."""
        visible = _within(box, self.state.clip)
        if visible is not None and self.hidden.prints and len(self.stand_ins) < MOST_PLACES:
            self.stand_ins.append(StandIn(kind, visible))

    def emit(self, kind: ObjectKind, box: Box, paint: Paint, detail: Detail = None, stroked: bool = False) -> None:
        """Tell the listeners of one painted object."""
        if not -_FAR < box[0] <= box[2] < _FAR or not -_FAR < box[1] <= box[3] < _FAR:
            return
        state = self.state
        alpha = state.stroke_alpha if stroked else state.fill_alpha
        if state.blends(alpha):
            self.transparency_seen = True
        if self.inside_mask:
            kind, detail = "soft mask", None
        elif self.inside_glyph:
            kind, detail = "text", None
        hidden = self.marked_hidden[-1] if self.marked_hidden else SEEN
        mark = Mark(
            kind, box, _within(box, state.clip), paint, hidden.prints, hidden.shows, hidden.layer,
            state.stroke_overprint if stroked else state.fill_overprint, state.overprint_mode,
            alpha, state.blend_mode, state.soft_mask, detail,
        )
        for listener in self.listeners:
            listener(mark)


def _within(box: Box, clip: Box | None) -> Box | None:
    """What the clip leaves of the box; most boxes lie inside and stay as they are."""
    if clip is None:
        return None
    if clip[0] <= box[0] and clip[1] <= box[1] and box[2] <= clip[2] and box[3] <= clip[3]:
        return box
    return clip.intersection(box)
