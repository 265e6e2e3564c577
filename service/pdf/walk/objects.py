"""XObjects, inline images, shadings, soft masks and annotations' appearances (ISO 32000-2:2020, 8.8 to 8.10, 11.6.5, 12.5.5)."""

from __future__ import annotations

from dataclasses import dataclass

import pikepdf

from service.pdf.content.appearances import appearances
from service.pdf.content.forms import Form, read_form
from service.pdf.content.graphics_state import GraphicsState, Paint, blended_paint
from service.pdf.content.image_facts import ImageFacts, image_facts, inline_image_facts
from service.pdf.content.kept import Key
from service.pdf.content.resources import Resources
from service.pdf.facts.geometry import Box
from service.pdf.reading.arrays import box_of
from service.pdf.reading.lexer import INLINE_IMAGE
from service.pdf.reading.operands import Operands, name_of
from service.pdf.walk.patterns import paint_area
from service.pdf.walk.small_areas import SmallAreas
from service.pdf.walk.walker import SEEN, FilledPath, Handler, Hidden, Mark, PlacedImage, StrokedPath, Walk

MOST_TOLD_AGAIN = 20_000
_BYTES_OF_A_MARK = 600
_INHERITED = tuple(slot for slot in GraphicsState.__slots__ if slot not in ("scaled_ctm", "scales"))
MOST_BYTES_KEPT = 1_000_000
"""A form's content beyond this is read again each time it is drawn, so that memory stays small."""


def _do(walk: Walk, operands: Operands) -> None:
    stream = walk.resources.stream("/XObject", name_of(operands) or "")
    if stream is None:
        walk.tell_stand_in("missing object", walk.state.ctm.box_of_unit_square())
        return
    if "/OPI" in stream:
        walk.tell_stand_in("OPI", walk.state.ctm.box_of_unit_square())
    walk.marked_hidden.append(walk.hide_by(stream.get("/OC"), walk.hidden))
    if stream.get("/Subtype") == "/Image":
        facts = _facts_of(walk, stream)
        if facts:
            _place(walk, facts)
    elif stream.get("/Subtype") == "/Form":
        walk_form(walk, stream)
    walk.marked_hidden.pop()


def _facts_of(walk: Walk, stream: pikepdf.Stream) -> ImageFacts | None:
    identity = stream.objgen
    if identity not in walk.images:
        walk.images[identity] = image_facts(stream, walk.resources)
    return walk.images[identity]


def _inline_image(walk: Walk, operands: Operands) -> None:
    image, data = operands
    assert isinstance(image, dict)
    assert isinstance(data, bytes)
    facts = inline_image_facts(image, data, walk.resources)
    if facts:
        _place(walk, facts)


def _place(walk: Walk, facts: ImageFacts) -> None:
    """An image fills the unit square of user space (8.9.5.1)."""
    state = walk.state
    if state.fill_alpha <= 0:
        return
    if facts.transparent:
        walk.transparency_seen = True
    box = state.ctm.box_of_unit_square()
    paint = blended_paint(facts.space) if facts.space else state.fill
    walk.emit("image", box, paint, PlacedImage(facts, state.ctm))
    if facts.space is None and isinstance(paint.pattern, pikepdf.Stream):
        paint_area(walk, "fill", box, paint)


GROUP_AS_A_WHOLE = Paint(None, "(group)", (), False)
"""Stands for a group that is blended as one object: what it holds is told apart from it."""


def _form_of(walk: Walk, stream: pikepdf.Stream) -> Form:
    """Read once for the page however often it is drawn."""
    identity = stream.objgen
    known = walk.forms.get(identity)
    if known is not None and identity != (0, 0):
        return known
    form = read_form(stream, walk.resources)
    if len(form.data) <= MOST_BYTES_KEPT:
        walk.forms[identity] = form
    return form


def walk_form(walk: Walk, stream: pikepdf.Stream) -> None:
    """A form XObject: its own matrix, clip and resources; colours and text state are inherited (8.10.1).

    Followed once a file where it is drawn in the same way, as the background of pages is; what it told is told again.
    """
    how = _how_it_is_drawn(walk, stream)
    if how is None:
        _draw_form(walk, stream)
        return
    seen_before, walk.transparency_seen = walk.transparency_seen, False
    known = walk.shared.drawn_forms.get(how)
    if isinstance(known, DrawnForm):
        _tell_again(walk, known)
    else:
        _draw_and_keep(walk, stream, how)
    walk.transparency_seen = walk.transparency_seen or seen_before


def _draw_form(walk: Walk, stream: pikepdf.Stream) -> None:
    identity = stream.objgen
    if identity in walk.running and identity != (0, 0):
        return
    form = _form_of(walk, stream)
    outer, seen_before = walk.state, walk.transparency_seen
    walk.state = outer.saved()
    walk.state.ctm = form.matrix.then(outer.ctm)
    if form.bounds is not None:
        walk.state.clip_to(walk.state.ctm.box(form.bounds))
    blends_as_a_whole = form.group is not None and outer.blends(outer.fill_alpha)
    walk.transparency_seen = blends_as_a_whole
    if form.group is not None:
        if blends_as_a_whole and walk.state.clip is not None:
            walk.emit("group", walk.state.clip, GROUP_AS_A_WHOLE)
        _enter_group(walk)
    resources = form.resources or walk.resources
    walk.running.append(identity)
    walk.run(form.data, resources)
    walk.running.pop()
    if form.group is not None and walk.transparency_seen:
        emit_group_space(walk, form.group, resources, walk.state.clip)
    walk.state = outer
    walk.transparency_seen = walk.transparency_seen or seen_before


# --- Once a file ---


@dataclass(frozen=True)
class DrawnForm:
    """What following a form has come to."""

    told: tuple[Mark | SmallAreas, ...]
    transparency_seen: bool
    operators: int
    unpacked_bytes: int

    @property
    def size_bytes(self) -> int:
        return sum(_size_bytes(one) for one in self.told) + _BYTES_OF_A_MARK


class _Told:
    """Takes note of what is told, up to a bound."""

    def __init__(self) -> None:
        self.so_far: list[Mark | SmallAreas] = []
        self.too_many = False

    def add(self, one: Mark | SmallAreas) -> None:
        if len(self.so_far) < MOST_TOLD_AGAIN:
            self.so_far.append(one)
        else:
            self.too_many = True


def _size_bytes(told: Mark | SmallAreas) -> int:
    if isinstance(told, SmallAreas):
        return _BYTES_OF_A_MARK + told.boxes.nbytes + told.colors.nbytes + told.which.nbytes
    points = told.detail.points if isinstance(told.detail, StrokedPath | FilledPath) else ()
    return _BYTES_OF_A_MARK + 32 * len(points)


def _how_it_is_drawn(walk: Walk, stream: pikepdf.Stream) -> Key | None:
    """The form and all that its content inherits; None where it may depend on more: on other streams that are being followed, on
    the page's resources, on glyphs that were walked or stand-ins that were noted before.
    """
    state = walk.state
    inside = walk.running or walk.inside_mask or walk.inside_glyph or walk.colors_fixed or walk.text_clip
    if inside or walk.glyphs_walked or walk.stand_ins or walk.shared.borrows:
        return None
    if stream.objgen == (0, 0) or "/Resources" not in stream:
        return None
    if state.fill.pattern is not None or state.stroke.pattern is not None:
        return None
    inherited = (getattr(state, slot) for slot in _INHERITED)
    return stream.objgen, id(walk.handlers), walk.hidden, walk.at_once and walk.at_once[0], *inherited


def _draw_and_keep(walk: Walk, stream: pikepdf.Stream, how: Key) -> None:
    told, listeners, at_once = _Told(), walk.listeners, walk.at_once
    operators, unpacked = walk.operators_left, walk.bytes_left
    walk.listeners = [*listeners, told.add]
    if at_once:
        within, tell = at_once

        def both(areas: SmallAreas) -> None:
            told.add(areas)
            tell(areas)

        walk.at_once = within, both
    try:
        _draw_form(walk, stream)
    finally:
        walk.listeners, walk.at_once = listeners, at_once
    if not (told.too_many or walk.glyphs_walked or walk.stand_ins or walk.shared.borrows):
        operators, unpacked = operators - walk.operators_left, unpacked - walk.bytes_left
        walk.shared.drawn_forms.keep(how, DrawnForm(tuple(told.so_far), walk.transparency_seen, operators, unpacked))


def _tell_again(walk: Walk, known: DrawnForm) -> None:
    walk.count(known.operators)
    walk.count_bytes(known.unpacked_bytes)
    walk.transparency_seen = known.transparency_seen
    for one in known.told:
        if isinstance(one, Mark):
            for listener in walk.listeners:
                listener(one)
        elif walk.at_once:
            walk.at_once[1](one)


def _enter_group(walk: Walk) -> None:
    """A transparency group starts opaque, in Normal, without a mask (11.6.6): these apply to the group as a whole."""
    walk.state.fill_alpha = walk.state.stroke_alpha = 1.0 if walk.state.fill_alpha > 0 else 0.0
    walk.state.blend_mode, walk.state.soft_mask = "Normal", False


def emit_group_space(walk: Walk, group: object, resources: Resources, area: Box | None) -> None:
    """Tell in which space a group blends, where it has one of its own (11.4.7)."""
    written = group.get("/CS") if isinstance(group, pikepdf.Dictionary) else None
    if written is not None and area is not None:
        walk.emit("group", area, blended_paint(resources.space(written))._replace(inks=()))


def walk_soft_mask(walk: Walk, mask: pikepdf.Dictionary) -> None:
    """The group of a soft mask: what it is drawn with is told as 'soft mask', since none of it is painted itself."""
    form = mask.get("/G")
    if not isinstance(form, pikepdf.Stream) or walk.inside_mask:
        return
    state, seen = walk.state, walk.transparency_seen
    walk.state = state.saved()
    walk.state.soft_mask = False
    walk.inside_mask = True
    walk_form(walk, form)
    walk.inside_mask = False
    walk.state, walk.transparency_seen = state, seen


def _shading(walk: Walk, operands: Operands) -> None:
    """`sh` fills the whole clip (8.7.4.2)."""
    shading = walk.resources.shading(name_of(operands) or "")
    if shading is None or walk.state.clip is None or walk.state.fill_alpha <= 0:
        return
    space = walk.resources.space(shading.get("/ColorSpace"))
    area: Box | None = walk.state.clip
    bounds = box_of(shading.get("/BBox"))
    if bounds is not None and area is not None:
        area = area.intersection(walk.state.ctm.box(bounds))
    if area is not None:
        walk.emit("shading", area, blended_paint(space))


def walk_annotations(walk: Walk, page: pikepdf.Dictionary) -> None:
    """Walk the appearances, with what flags and layers hide from print and screen."""
    for one in appearances(page):
        by_flags = SEEN if one.prints and one.shows else Hidden(one.prints, one.shows, "annotation")
        walk.marked_hidden = [walk.hide_by(one.annotation.get("/OC"), by_flags)]
        outer = walk.state
        walk.state = outer.saved()
        walk.state.ctm = one.fit.then(outer.ctm)
        walk_form(walk, one.stream)
        walk.state = outer
    walk.marked_hidden = []


OBJECTS: dict[bytes, Handler] = {b"Do": _do, b"sh": _shading, INLINE_IMAGE: _inline_image}
