"""Listens to the walk of one page and gathers the facts of its `Content`.

Only what prints and leaves visible ink is listed; text also where it is invisible, with `visible` False. What screen and
print do not share is `hidden`.
"""

from __future__ import annotations

from service.pdf.content.fonts.text_fonts import TextFont
from service.pdf.content.work_limits import TooMuchWork
from service.pdf.facts.geometry import MM_PER_INCH, MM_PER_POINT, SLACK_MM, Box
from service.pdf.facts.page import PageBoxes
from service.pdf.facts.painted.colors import ColorUse, ObjectKind, OverprintCase, OverprintUse, TransparencyUse
from service.pdf.facts.painted.content import MOST_PLACES, Content, HiddenContent
from service.pdf.facts.painted.images import NOT_DECODED, Image, StandIn
from service.pdf.facts.painted.text import TextRun
from service.pdf.facts.unknown import Unmeasured
from service.pdf.gather.effects import (
    ANY_INK,
    black_tint,
    facts_of,
    inks_at_the_edge,
    inks_kept,
    laid_down,
    leaves_ink_below,
    overprint_case,
)
from service.pdf.gather.ground import Below, Ground, Tints
from service.pdf.gather.layers import Layers
from service.pdf.gather.plain_colors import PlainColors
from service.pdf.gather.plain_ink import PlainInk
from service.pdf.gather.small_areas import ColorKey, Tinted, add_colors, add_crowds
from service.pdf.gather.spots import NamedLayers, SpotTally
from service.pdf.gather.tally import EdgesMet, Tally
from service.pdf.gather.text_runs import fonts_found, joined
from service.pdf.gather.vectors import (
    Areas,
    AroundThePage,
    Lines,
    inside,
    is_edge_of_its_area,
    is_thin_frame,
    looks_like_a_line,
    mark_lines,
    outside,
    points_on_the_line,
    thin_area_mm,
    where_it_paints,
)
from service.pdf.walk.objects import GROUP_AS_A_WHOLE
from service.pdf.walk.small_areas import SmallAreas
from service.pdf.walk.walker import FilledPath, Mark, PlacedImage, ShownText, StrokedPath

MOST_IMAGES = 20_000
MOST_TEXT_RUNS = 100_000


class Gathered:
    """`add` is the walk's listener; `content` is what came of it."""

    def __init__(self, boxes: PageBoxes) -> None:
        self.media = boxes.media
        self.trim, self.bleed = boxes.trim, boxes.bleed.union(boxes.trim)
        self.interior = self.trim.grown(-SLACK_MM)
        self.ground = Ground(boxes.media)
        self.colors: dict[ColorKey, tuple[Tally, dict[str, None]]] = {}
        self.fonts: dict[int, tuple[TextFont, Tally]] = {}
        self.images: list[Image] = []
        self.runs: list[TextRun] = []
        self.edges = EdgesMet(self.trim)
        self.lines, self.areas = Lines(), Areas()
        self.around = AroundThePage(self.trim, self.interior)
        self.overprints: dict[tuple[OverprintCase, ObjectKind, float, Tints | None], Tally] = {}
        self.transparency: dict[tuple[str, str], tuple[Tally, list[float]]] = {}
        self.hidden: dict[tuple[bool, bool, str], Tally] = {}
        self.spots: dict[tuple[str, ObjectKind], SpotTally] = {}
        self.layers = NamedLayers()
        self.plain_ink = PlainInk(boxes)
        self.plain_colors = PlainColors()

    def add(self, mark: Mark) -> None:
        paint, visible, detail = mark.paint, mark.visible, mark.detail
        if paint is GROUP_AS_A_WHOLE and mark.prints and visible is not None:
            self._add_transparency(mark, visible)
            self.plain_ink.leave_to_plates()
            return
        paints = visible is not None and paint.marks and (detail.paints if isinstance(detail, ShownText) else True)
        if visible is None or not (mark.prints and mark.shows and paints):
            self._add_hidden(mark, paints)
            if visible is None or not (mark.prints and paints):
                return
        if mark.kind in ("group", "soft mask"):
            self._add_color(mark, visible)
            self.plain_ink.leave_to_plates()
            return
        white = paint.white
        if isinstance(detail, StrokedPath | FilledPath) and len(detail.starts) > 1 and not inside(visible, self.interior):
            visible = where_it_paints(detail, visible, self.interior, self.bleed)
        if mark.layer and mark.shows:
            self.layers.add(mark, visible)
        if isinstance(detail, ShownText):
            self._add_text(mark, detail, True, self.ground.below(visible).sorts)
            if detail.ink is None:
                return  # blanks leave no ink: whatever they are set in, nothing of it prints
        elif isinstance(detail, PlacedImage):
            self._add_image(mark, detail, visible)
            self._add_transparency(mark, visible)
        else:
            self._add_vector(mark, visible)
        if paint.family is not None and not (white and paint.family == "registration"):  # at tint 0 it prints in no ink
            self._add_color(mark, visible)
            if paint.family == "spot":
                self._add_spot(mark, visible)
        if (mark.alpha < 1 or mark.blend_mode != "Normal" or mark.masked) and not isinstance(detail, PlacedImage):
            self._add_transparency(mark, visible)
        if white or paint.inks == ("Black",):
            self._add_overprint(mark, visible, self._below(mark, visible))
        self.plain_colors.add(mark, visible, self.ground)
        if mark.kind in ("fill", "image", "shading") and not is_thin_frame(mark):
            self.ground.paint(visible, laid_down(mark), inks_kept(mark))
        inked: Box | None = visible
        if isinstance(detail, ShownText) and not isinstance(detail.ink, Unmeasured):
            inked = detail.ink and self.media.intersection(detail.ink)
        self.plain_ink.add(mark, inked if isinstance(detail, ShownText) else mark.visible)
        if not white and inked is not None and not inside(inked, self.interior):
            self.edges.meet(inked)

    def add_small(self, areas: SmallAreas) -> None:
        """As `add` of each of them."""
        tinted = Tinted(areas)
        add_colors(self.colors, areas)
        add_crowds(self.areas, areas)
        layers = Layers(self.ground, tinted)
        self.plain_colors.add_small(tinted, layers)
        layers.paint()
        self.plain_ink.add_small(tinted)

    def _add_hidden(self, mark: Mark, paints: bool) -> None:
        """What screen and print do not share, and text that nobody sees."""
        if not (mark.prints and mark.shows) and paints and mark.visible is not None:
            self.hidden.setdefault((mark.prints, mark.shows, mark.layer), Tally()).add(mark.visible)
        if isinstance(mark.detail, ShownText) and not (mark.prints and paints):
            self._add_text(mark, mark.detail, False, 0)

    def _below(self, mark: Mark, visible: Box) -> Below:
        """What lies below the whole of a mark, as far as a look at its middle tells, or at the line of a frame."""
        points = points_on_the_line(mark) if min(visible.width, visible.height) > 2 * self.ground.cell else []
        if not points:
            return self.ground.below(visible)
        first, *others = (self.ground.at(x, y) for x, y in points)
        for other in others:
            first = Below(first.sorts & other.sorts, first.tints if first.tints == other.tints else None)
        return first

    # --- each kind of object ---

    def _add_image(self, mark: Mark, placed: PlacedImage, visible: Box) -> None:
        facts, matrix = placed
        if matrix.x_scale == 0 or matrix.y_scale == 0:
            return
        if len(self.images) >= MOST_IMAGES:
            raise TooMuchWork("it places more than {count} pictures", count=MOST_IMAGES)
        self.images.append(
            Image(
                box_mm=mark.box,
                visible_box_mm=visible,
                width_px=facts.width_px, height_px=facts.height_px,
                ppi_x=facts.width_px / matrix.x_scale * MM_PER_INCH,
                ppi_y=facts.height_px / matrix.y_scale * MM_PER_INCH,
                kind=facts.kind,
                space=facts.space.written if facts.space else mark.paint.written,
                bits=facts.bits,
                filter=facts.filter,
                jpeg_quality=facts.jpeg_quality,
                inline=facts.inline,
                stored_bytes=facts.stored_bytes,
                object_number=facts.object_number, step_percent=NOT_DECODED,
            )
        )

    def _add_text(self, mark: Mark, shown: ShownText, visible: bool, below: int) -> None:
        font, paint = shown.font, mark.paint
        if visible and mark.visible is not None:
            self.fonts.setdefault(id(font), (font, Tally()))[1].add(mark.visible)
        ink = shown.ink if isinstance(shown.ink, Box) else mark.box
        inks = inks_at_the_edge(paint, self.ground.under_all_of(ink)) if len(paint.inks) > 1 else paint.inks
        run = TextRun(
            shown.text, mark.box, shown.ink, visible, font.facts.name, shown.size_pt, paint.written, inks,
            round(paint.tint, 3), paint.white, below > 0, leaves_ink_below(mark, below), round(black_tint(paint), 3),
        )
        one = joined(self.runs[-1], run) if self.runs else None
        if one:
            self.runs[-1] = one
        elif len(self.runs) >= MOST_TEXT_RUNS:
            raise TooMuchWork("it shows more than {count} pieces of text", count=MOST_TEXT_RUNS)
        else:
            self.runs.append(run)

    def _add_vector(self, mark: Mark, visible: Box) -> None:
        if looks_like_a_line(mark):
            below = self._below(mark, visible)
            inks = inks_at_the_edge(mark.paint, below) if len(mark.paint.inks) > 1 else mark.paint.inks
            self.lines.add(mark, visible, inks, below.sorts, outside(visible, self.interior))
            if not mark.paint.white:
                self.around.add(mark)
        if not mark.paint.white and mark.kind in ("fill", "stroke", "shading"):
            self.areas.add(mark, visible)

    # --- what several kinds share ---

    def _add_color(self, mark: Mark, visible: Box) -> None:
        paint, bleed = mark.paint, self.bleed
        if paint.white and paint.family == "registration":
            return  # at tint 0 it is white on every plate
        beyond = not (visible[0] < bleed[2] and bleed[0] < visible[2] and visible[1] < bleed[3] and bleed[1] < visible[3])
        beyond = beyond or self._is_printers_mark(mark, visible)
        key = (paint.family, paint.written, mark.kind, beyond, paint.profile, paint.white)
        found = self.colors.get(key)
        if found is None:
            found = self.colors[key] = (Tally(), {})
        tally, inks = found
        tally.count += 1
        if tally.count <= MOST_PLACES:
            tally.boxes.append(visible)
        for ink in paint.inks:
            if ink not in inks:
                inks[ink] = None

    def _is_printers_mark(self, mark: Mark, visible: Box) -> bool:
        """Some programs let their marks begin within the bleed."""
        return outside(visible, self.interior) and isinstance(mark.detail, StrokedPath) and bool(mark_lines(mark))

    def _add_spot(self, mark: Mark, visible: Box) -> None:
        overprints = inks_kept(mark) == ANY_INK
        for ink in mark.paint.inks:
            tally = self.spots.setdefault((ink, mark.kind), SpotTally())
            tally.add(visible, mark.paint.tint_of(ink), alone=len(mark.paint.inks) == 1, overprints=overprints)

    def _add_transparency(self, mark: Mark, visible: Box) -> None:
        blends = mark.blend_mode != "Normal"
        cases = [("alpha", "", mark.alpha < 1), ("blend mode", mark.blend_mode, blends), ("soft mask", "", mark.masked)]
        if isinstance(mark.detail, PlacedImage):
            cases.append(("picture with soft mask", "", mark.detail.facts.transparent))
        for kind, detail, uses in cases:
            if uses:
                tally, alphas = self.transparency.setdefault((kind, detail), (Tally(), [1.0]))
                tally.add(visible)
                alphas[0] = min(alphas[0], mark.alpha)

    def _add_overprint(self, mark: Mark, visible: Box, below: Below) -> None:
        case = overprint_case(mark, below)
        if case is None or is_edge_of_its_area(mark):
            return
        below = below if case == "black knocks out" else self.ground.under_all_of(visible) or Below(below.sorts, None)
        detail = mark.detail
        if isinstance(detail, ShownText):
            size = detail.size_pt
        elif isinstance(detail, StrokedPath):
            size = detail.width_pt
        else:
            size = (thin_area_mm(mark) or min(visible.width, visible.height)) / MM_PER_POINT
        key = (case, mark.kind, round(size, 1), below.tints)
        tally = self.overprints.get(key)
        if tally is None:
            tally = self.overprints[key] = Tally()
        tally.add(visible)

    # --- what came of it ---

    def content(self, stand_ins: list[StandIn]) -> Content:
        overprints = tuple(
            OverprintUse(case, kind, size, tally.count, tuple(tally.boxes), facts_of(tints))
            for (case, kind, size, tints), tally in self.overprints.items()
        )
        return Content(
            images=tuple(self.images),
            colors=tuple(
                ColorUse(family, written, kind, tuple(inks), tally.count, tuple(tally.boxes), beyond, profile, white)  # type: ignore[arg-type]
                for (family, written, kind, beyond, profile, white), (tally, inks) in self.colors.items()
            ),
            fonts=fonts_found(self.fonts.values()),
            text_runs=tuple(self.runs),
            meets_trim=self.edges.met(),
            lines=self.lines.found(),
            overprints=overprints,
            transparency=tuple(
                TransparencyUse(kind, f"{alphas[0]:.2g}" if kind == "alpha" else detail, tally.count, tuple(tally.boxes))  # type: ignore[arg-type]
                for (kind, detail), (tally, alphas) in self.transparency.items()
            ),
            hidden=tuple(HiddenContent(*key, tally.count, tuple(tally.boxes)) for key, tally in self.hidden.items()),
            spots=tuple(tally.found(ink, kind) for (ink, kind), tally in self.spots.items()),
            artwork=self.areas.found(),
            mark_lines=tuple(self.around.marks),
            stand_ins=tuple(stand_ins),
            frames=tuple(self.around.frames),
            plain_ink_percent=self.plain_ink.most_percent(overprints),
            plain_colors=self.plain_colors.found(),
            layers=self.layers.found(),
        )
