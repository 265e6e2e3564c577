"""Rewriting of pictures, forms, shadings, fonts and marked content (see `rewriting`)."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

import pikepdf
from pikepdf import Array, Dictionary, Name

from service.pdf.content.color_spaces import CMYK
from service.pdf.content.forms import read_form
from service.pdf.content.resources import Resources
from service.pdf.content.work_limits import DEEPEST_NESTING
from service.pdf.facts.geometry import Box, Matrix
from service.pdf.plates.pictures.placed import Placement
from service.pdf.plates.rewriting.colors import shading_for
from service.pdf.plates.rewriting.knockout import blends_over_itself
from service.pdf.plates.rewriting.rewriter import CannotSeparate, Handler, Replacement, Rewriter, Treatment, stepped
from service.pdf.reading.arrays import box_of, matrix_of
from service.pdf.reading.lexer import INLINE_IMAGE
from service.pdf.reading.operands import Operands, name_of


def _do(rewriter: Rewriter, _operator: bytes, operands: Operands, _written: bytes) -> Replacement:
    source = rewriter.frame.source
    stream = source.stream("/XObject", name_of(operands) or "")
    if stream is None or rewriter.hidden or not rewriter.shared.prints(stream.get("/OC")):
        return b""
    if stream.get("/Subtype") == "/Image":
        return _place(rewriter, stream)
    if stream.get("/Subtype") != "/Form" or (stream.objgen in rewriter.running and stream.objgen != (0, 0)):
        return b""
    return rewriter.frame.name("/XObject", form_for(rewriter, stream)) + b" Do"


def _place(rewriter: Rewriter, image: pikepdf.Stream) -> bytes:
    """A stencil is painted as an area is, in the current colour; any other picture in its own space."""
    source, written = rewriter.frame.source, image.get("/ColorSpace")
    stencil = image.get("/ImageMask") == True  # noqa: E712  (a value of the file)
    space = source.space(written) if written is not None else CMYK
    treatment = rewriter.fill_treatment() if stencil else rewriter.sampled_treatment(space)
    if _goes_without(rewriter, treatment):
        return b""
    pictures, table, out, need = rewriter.pictures, rewriter.table, rewriter.out, rewriter.covered_px()
    place = None if stencil else rewriter.placement()
    if place is None:
        return _painted(rewriter, pictures.plate_picture(image, source, table, out, need), treatment)
    return _painted(rewriter, pictures.placed_picture(image, source, table, out, need, place), treatment, place)


def _inline_image(rewriter: Rewriter, _operator: bytes, operands: Operands, _written: bytes) -> Replacement:
    image, data = operands
    assert isinstance(image, dict)
    assert isinstance(data, bytes)
    source, name = rewriter.frame.source, image.get(b"CS", image.get(b"ColorSpace"))
    stencil = image.get(b"IM", image.get(b"ImageMask")) is True
    space = source.named_space(name.decode("latin-1")) if isinstance(name, bytes) else CMYK
    treatment = rewriter.fill_treatment() if stencil else rewriter.sampled_treatment(space)
    if _goes_without(rewriter, treatment):
        return b""
    pictures, table, out, need = rewriter.pictures, rewriter.table, rewriter.out, rewriter.covered_px()
    place = None if stencil else rewriter.placement()
    if place is None:
        return _painted(rewriter, pictures.inline_plate_picture(image, data, source, table, out, need), treatment)
    return _painted(rewriter, pictures.placed_inline_picture(image, data, source, table, out, need, place), treatment, place)


def _goes_without(rewriter: Rewriter, treatment: Treatment) -> bool:
    """Whether the picture or shading is not even needed."""
    return treatment is Treatment.NOTHING or (treatment is Treatment.LEAVES and not rewriter.isolated_groups)


_EXACT_EDGES = b"q 0 0 m 1 0 l 1 1 l 0 1 l h 0.5 0.5 m 0.501 0.5 l 0.5 0.501 l h W n %s Q"
"""PDFium paints whole pixels at a picture's edges, and at those of a rectangular clip; a clip with a fifth corner is
anti-aliased, so that a picture that stops short of the bleed is seen to the fraction of a pixel."""


def _painted(rewriter: Rewriter, picture: pikepdf.Object, treatment: Treatment, place: Placement | None = None) -> bytes:
    painting = rewriter.frame.name("/XObject", picture) + b" Do"
    if place is not None:
        painting = b"%s cm %s" % (b" ".join(b"%.9f" % one for one in place.in_unit), painting)
    covers = place is None and rewriter.state.ctm.box_of_unit_square().contains(rewriter.media_px, slack=1)
    painting = painting if covers else _EXACT_EDGES % painting
    return rewriter.left(painting) if treatment is Treatment.LEAVES else painting


def form_for(rewriter: Rewriter, stream: pikepdf.Stream) -> pikepdf.Object:
    """The rewritten form; one for each state that it can inherit (8.10.1)."""
    state = rewriter.state
    ctm = matrix_of(stream.get("/Matrix")).then(state.ctm)
    step: tuple[object, ...] = ()
    placed = state.placed and _keeps_its_place(rewriter, stream, ctm)
    if not placed:
        ctm, step = stepped(ctm, rewriter.steps)
    key = (
        stream.objgen, ctm if placed else step, *state.fill.inherited, *state.stroke.inherited,
        state.fill_overprint, state.stroke_overprint, state.overprint_mode, state.text_mode, state.blocked,
        state.type_3 and (state.type_3[0].objgen, state.type_3[1]), state.blend_mode, rewriter.isolated_groups > 0,
    )
    if stream.objgen != (0, 0) and key in rewriter.forms:
        return rewriter.forms[key]
    made = Dictionary()
    form = read_form(stream, rewriter.frame.source)
    knocks_out, isolated = (form.group is not None and bool(form.group.get(key)) for key in ("/K", "/I"))
    if knocks_out:
        refuse_knockout(rewriter, [form.data], form.resources or rewriter.frame.source, form.bounds)
    rewriter.running.append(stream.objgen)
    rewriter.isolated_groups += isolated
    blend_mode = state.blend_mode if form.group is None else "Normal"  # a group is blended as a whole (11.6.6)
    inside = replace(state, ctm=ctm, placed=placed, blend_mode=blend_mode)
    data = rewriter.stream(form.data, form.resources or rewriter.frame.source, inside, made)
    rewriter.isolated_groups -= isolated
    rewriter.running.pop()
    written = pikepdf.Stream(rewriter.out, data, Type=Name.XObject, Subtype=Name.Form, Resources=made)
    for entry in ("/BBox", "/Matrix"):
        if isinstance(stream.get(entry), Array):
            written[entry] = Array([float(one) for one in stream[entry]])
    if form.group is not None:
        written.Group = rgb_group(form.group)
    rewriter.forms[key] = rewriter.out.make_indirect(written)
    return rewriter.forms[key]


def refuse_knockout(rewriter: Rewriter, pieces: Iterable[bytes], resources: Resources, bounds: Box | None) -> None:
    """Raise CannotSeparate for a knockout group that would not be seen as one."""
    if rewriter.refuses_knockout and blends_over_itself(pieces, resources, bounds, rewriter.shared):
        raise CannotSeparate("it blends objects over each other inside a knockout group (ISO 32000-2:2020, 11.4.6)")


MOST_PLACES = 64
"""In which one form is rewritten for its own place; beyond, and without pictures, once for each size of `stepped`. Ours, no
source."""


def _keeps_its_place(rewriter: Rewriter, form: pikepdf.Stream, ctm: Matrix) -> bool:
    """Whether the form is rewritten for this very place, so that its pictures can be the plate's own pixels."""
    if not _holds_pictures(rewriter, form):
        return False
    places = rewriter.form_places.setdefault(form.objgen, set())
    if ctm not in places and len(places) >= MOST_PLACES:
        return False
    places.add(ctm)
    return True


def _holds_pictures(rewriter: Rewriter, form: pikepdf.Stream, depth: int = 0) -> bool:
    """Image XObjects among its resources, or in forms there. Inline images are small: a form is not kept in place for them."""
    resources = form.get("/Resources")
    listed = resources.get("/XObject") if isinstance(resources, Dictionary) else None
    if not isinstance(listed, Dictionary) or depth > DEEPEST_NESTING:
        return False
    key = listed.objgen if listed.is_indirect else form.objgen  # many forms may share what they list
    known = rewriter.with_pictures.get(key)
    if known is None:
        rewriter.with_pictures[key] = False  # a form within itself adds nothing
        known = rewriter.with_pictures[key] = any(
            one.get("/Subtype") == "/Image" or (one.get("/Subtype") == "/Form" and _holds_pictures(rewriter, one, depth + 1))
            for one in listed.values()
            if isinstance(one, pikepdf.Stream)
        )
    return known


def rgb_group(group: Dictionary) -> Dictionary:
    """The group blending in the rendering's own space; isolation and knockout stay."""
    made = Dictionary(S=Name.Transparency, CS=Name.DeviceRGB)
    for entry in ("/I", "/K"):
        if isinstance(group.get(entry), bool):
            made[entry] = group[entry]
    return made


def _shading(rewriter: Rewriter, _operator: bytes, operands: Operands, _written: bytes) -> Replacement:
    source = rewriter.frame.source
    shading = source.shading(name_of(operands) or "")
    if shading is None:
        return b""
    space = source.space(shading.get("/ColorSpace"))
    treatment = rewriter.sampled_treatment(space)
    if _goes_without(rewriter, treatment):
        return b""
    name = rewriter.frame.name("/Shading", shading_for(rewriter, shading, space))
    box = box_of(shading.get("/BBox"))
    painting = name + b" sh"
    if box is not None:
        # PDFium takes the box's bounds on the page for the box itself; as a clip it is right when turned, too
        painting = b"q %.6f %.6f %.6f %.6f re W n %s sh Q" % (box.x0, box.y0, box.width, box.height, name)
    return rewriter.left(painting) if treatment is Treatment.LEAVES else painting


# --- Marked content: what belongs to a layer that does not print is left out -------------------------------------------


def _begin(rewriter: Rewriter, _operator: bytes, operands: Operands, _written: bytes) -> Replacement:
    rewriter.frame.hidden.append(not rewriter.shared.prints(rewriter.frame.source.layer_of(operands)))
    return b""


def _end(rewriter: Rewriter, _operator: bytes, _operands: Operands, _written: bytes) -> Replacement:
    if rewriter.frame.hidden:
        rewriter.frame.hidden.pop()
    return b""


def _nothing(_rewriter: Rewriter, _operator: bytes, _operands: Operands, _written: bytes) -> Replacement:
    return b""


OBJECTS: dict[bytes, Handler] = {
    b"Do": _do, INLINE_IMAGE: _inline_image, b"sh": _shading,
    b"BMC": _begin, b"BDC": _begin, b"EMC": _end, b"MP": _nothing, b"DP": _nothing,
}
