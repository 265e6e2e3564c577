"""XObjects, inline images, shadings, soft masks and annotations' appearances (ISO 32000-2:2020, 8.8 to 8.10, 11.6.5, 12.5.5)."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

import pikepdf

from service.pdf.content.graphics_state import Paint, blended_paint
from service.pdf.content.image_facts import ImageFacts, image_facts, inline_image_facts
from service.pdf.content.resources import Resources, Shared
from service.pdf.facts.geometry import Box, Matrix
from service.pdf.reading.arrays import box_of, matrix_of
from service.pdf.reading.lexer import INLINE_IMAGE
from service.pdf.reading.names import name_text
from service.pdf.reading.streams import content_bytes
from service.pdf.walk.form import Form
from service.pdf.walk.patterns import paint_area
from service.pdf.walk.walker import SEEN, Handler, Hidden, Operands, PlacedImage, Walk, name_of

MOST_BYTES_KEPT = 1_000_000
"""A form's content beyond this is read again each time it is drawn, so that memory stays small."""
_HIDDEN, _PRINT, _NO_VIEW = 1 << 1, 1 << 2, 1 << 5
"""Annotation flags (12.5.3, Table 167)."""


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
    identity = stream.objgen
    known = walk.forms.get(identity)
    if known is not None and identity != (0, 0):
        return known
    group, own = stream.get("/Group"), stream.get("/Resources")
    form = Form(
        matrix_of(stream.get("/Matrix")),
        box_of(stream.get("/BBox")),
        group if isinstance(group, pikepdf.Dictionary) and group.get("/S") == "/Transparency" else None,
        walk.resources.inner(own) if isinstance(own, pikepdf.Dictionary) else None,
        content_bytes(stream),
    )
    if len(form.data) <= MOST_BYTES_KEPT:
        walk.forms[identity] = form
    return form


def walk_form(walk: Walk, stream: pikepdf.Stream) -> None:
    """A form XObject: its own matrix, clip and resources; colours and text state are inherited (8.10.1)."""
    identity = stream.objgen
    if identity in walk.running and identity != (0, 0):
        return
    form = _form_of(walk, stream)
    outer, seen_before = walk.state, walk.transparency_seen
    walk.state = outer.saved()
    walk.state.ctm = form.matrix.then(outer.ctm)
    if form.bounds is not None:
        walk.state.clip_to(walk.state.ctm.box(form.bounds))
    walk.transparency_seen = form.group is not None and outer.transparent
    if form.group is not None:
        if outer.transparent and walk.state.clip is not None:
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


class Appearance(NamedTuple):
    """How an annotation looks, and what its flags say (12.5.3, Table 167)."""

    annotation: pikepdf.Dictionary
    stream: pikepdf.Stream
    fit: Matrix
    """From the appearance's form space, after its own matrix, to default user space."""
    prints: bool
    shows: bool


def appearances(page: pikepdf.Dictionary) -> Iterator[Appearance]:
    """The normal appearances of a page's annotations; popups never print (12.5.6.14)."""
    annotations = page.get("/Annots")
    for annotation in annotations if isinstance(annotations, pikepdf.Array) else ():
        if not isinstance(annotation, pikepdf.Dictionary) or annotation.get("/Subtype") == "/Popup":
            continue
        stream = _normal_appearance(annotation)
        fit = _fit(annotation, stream) if stream is not None else None
        if stream is None or fit is None:
            continue
        written = annotation.get("/F")
        flags = written if isinstance(written, int) else 0
        prints, shows = bool(flags & _PRINT and not flags & _HIDDEN), not flags & (_HIDDEN | _NO_VIEW)
        yield Appearance(annotation, stream, fit, prints, shows)


def printed_appearances(page: pikepdf.Dictionary, shared: Shared) -> Iterator[tuple[Matrix, pikepdf.Stream]]:
    """Those that print, each with its fit."""
    for one in appearances(page):
        if one.prints and shared.prints(one.annotation.get("/OC")):
            yield one.fit, one.stream


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


def _normal_appearance(annotation: pikepdf.Dictionary) -> pikepdf.Stream | None:
    appearances = annotation.get("/AP")
    normal = appearances.get("/N") if isinstance(appearances, pikepdf.Dictionary) else None
    if isinstance(normal, pikepdf.Dictionary):
        normal = normal.get("/" + (name_text(annotation.get("/AS")) or "Off"))
    return normal if isinstance(normal, pikepdf.Stream) else None


def _fit(annotation: pikepdf.Dictionary, appearance: pikepdf.Stream) -> Matrix | None:
    """Algorithm of 12.5.5: the box of the transformed BBox is fitted to the annotation's rectangle."""
    rectangle, bounds = box_of(annotation.get("/Rect")), box_of(appearance.get("/BBox"))
    if rectangle is None or bounds is None:
        return None
    drawn = matrix_of(appearance.get("/Matrix")).box(bounds)
    if drawn.width <= 0 or drawn.height <= 0:
        return None
    across, up = rectangle.width / drawn.width, rectangle.height / drawn.height
    return Matrix(across, 0, 0, up, rectangle.x0 - drawn.x0 * across, rectangle.y0 - drawn.y0 * up)


OBJECTS: dict[bytes, Handler] = {b"Do": _do, b"sh": _shading, INLINE_IMAGE: _inline_image}
