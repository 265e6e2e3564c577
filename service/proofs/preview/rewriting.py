"""How the content of a page is rewritten for a screen: the plates' rewriter with sRGB in the place of inks.

* Text, lines and areas stay text, lines and areas, with their fonts; only how their colours are written changes.
* Overprint is not shown: each object covers what lies below it, as in a reader that does not simulate overprint.
* Pictures and forms that lie wholly outside the trim are left out. Text and lines there are cut off but still in the file.
* Gradients by meshes keep the colours that they are written in.
* What does not print (layers, annotations) is left out by the rewriter.
"""

from __future__ import annotations

import pikepdf
from pikepdf import Array, Dictionary, Name

from service.pdf.facts.geometry import Box
from service.pdf.plates.rewriting.objects import form_for
from service.pdf.plates.rewriting.rewriter import Handler, Replacement, Rewriter
from service.pdf.plates.rewriting.table import HANDLERS
from service.pdf.reading.arrays import box_of, matrix_of
from service.pdf.reading.lexer import INLINE_IMAGE
from service.pdf.reading.operands import Operands, floats, name_of
from service.proofs.preview.screen_color import ScreenColors, shadings_of


def _do(rewriter: Rewriter, _operator: bytes, operands: Operands, _written: bytes) -> Replacement:
    source = rewriter.frame.source
    stream = source.stream("/XObject", name_of(operands) or "")
    if stream is None or rewriter.hidden or not rewriter.shared.prints(stream.get("/OC")):
        return b""
    if stream.get("/Subtype") == "/Image":
        if not _is_seen(rewriter, rewriter.state.ctm.box_of_unit_square()):
            return b""
        need = rewriter.covered_px()
        made: pikepdf.Object = rewriter.pictures.plate_picture(stream, source, rewriter.table, rewriter.out, need)
    elif stream.get("/Subtype") == "/Form" and (stream.objgen not in rewriter.running or stream.objgen == (0, 0)):
        box = box_of(stream.get("/BBox"))
        if box is not None and not _is_seen(rewriter, matrix_of(stream.get("/Matrix")).then(rewriter.state.ctm).box(box)):
            return b""
        made = form_for(rewriter, stream)
    else:
        return b""
    return rewriter.frame.name("/XObject", made) + b" Do"


def _inline_image(rewriter: Rewriter, _operator: bytes, operands: Operands, _written: bytes) -> Replacement:
    image, data = operands
    assert isinstance(image, dict)
    assert isinstance(data, bytes)
    if rewriter.hidden or not _is_seen(rewriter, rewriter.state.ctm.box_of_unit_square()):
        return b""
    table, out = rewriter.table, rewriter.out
    made = rewriter.pictures.inline_plate_picture(image, data, rewriter.frame.source, table, out, rewriter.covered_px())
    return rewriter.frame.name("/XObject", made) + b" Do"


def _is_seen(rewriter: Rewriter, box: Box) -> bool:
    """Whether some of it can lie within the page; inside a pattern, whose cell is repeated, anything can."""
    return bool(rewriter.running) or box.intersection(rewriter.media_px) is not None


def _colors(operator: bytes) -> Handler:
    """The plates' own handler, once the alternates of these resources' spot inks are known."""
    plain = HANDLERS[operator]

    def handle(rewriter: Rewriter, name: bytes, operands: Operands, written: bytes) -> Replacement:
        assert isinstance(rewriter.table, ScreenColors)
        if rewriter.table.learn(rewriter.frame.source):
            _keep_meshes(rewriter)
        return plain(rewriter, name, operands, written)

    return handle


def _keep_meshes(rewriter: Rewriter) -> None:
    """Gradients of types 4 to 7 are copied: as triangles with colours of their own they would be many times as large."""
    for shading in shadings_of(rewriter.frame.source.dictionary):
        if isinstance(shading, pikepdf.Stream) and shading.get("/ShadingType") in (4, 5, 6, 7) and shading.objgen != (0, 0):
            space = rewriter.frame.source.space(shading.get("/ColorSpace"))
            key = ("shading", shading.objgen, space.written)
            if key not in rewriter.forms:
                rewriter.forms[key] = rewriter.copied(shading)


def _graphics_state(rewriter: Rewriter, operator: bytes, operands: Operands, written: bytes) -> Replacement:
    """Without overprint; a soft mask's pictures are made smaller, too."""
    replacement = HANDLERS[b"gs"](rewriter, operator, operands, written)
    rewriter.state.fill_overprint = rewriter.state.stroke_overprint = False
    entries = rewriter.frame.source.dictionary_of("/ExtGState", name_of(operands) or "")
    mask = entries.get("/SMask") if entries is not None else None
    if replacement and isinstance(mask, Dictionary):
        made = rewriter.frame.made["/ExtGState"][replacement.split()[0].decode()]
        _soft_mask(rewriter, mask, made)
    return replacement


def _soft_mask(rewriter: Rewriter, mask: Dictionary, made: pikepdf.Object) -> None:
    """Rewrite a mask that holds pictures; one in process inks, or of vectors only, stays the copy that it is (11.5.3)."""
    group = mask.get("/G")
    if not isinstance(group, pikepdf.Stream) or group.objgen == (0, 0) or group.objgen in rewriter.running:
        return
    resources, blending = group.get("/Resources"), group.get("/Group")
    if not isinstance(resources, Dictionary) or "/XObject" not in resources or not isinstance(blending, Dictionary):
        return
    space = rewriter.frame.source.space(blending.get("/CS")) if "/CS" in blending else None
    on_screen = space is not None and (space.is_additive_gray or space.family == "rgb")
    if mask.get("/S") == "/Luminosity" and not on_screen:
        return
    backdrop = mask.get("/BC")
    smaller = Dictionary(Type=Name.Mask, S=mask.get("/S", Name.Luminosity), G=form_for(rewriter, group))
    if isinstance(backdrop, Array) and len(backdrop) in (1, 3):
        values = [float(one) for one in backdrop]
        smaller.BC = Array(values * 3 if len(values) == 1 else values)
    transfer = mask.get("/TR")
    if isinstance(transfer, pikepdf.Dictionary | pikepdf.Stream):
        smaller.TR = rewriter.copied(transfer)
    made.SMask = smaller


def _show(rewriter: Rewriter, operator: bytes, operands: Operands, written: bytes) -> Replacement:
    """Text of a hidden layer goes, not only its ink; what follows it on the same line without a place of its own moves up."""
    if not rewriter.hidden:
        return HANDLERS[operator](rewriter, operator, operands, written)
    if operator == b'"':
        spacing = floats(operands, 2)
        return b"%.6f Tw %.6f Tc T*" % (spacing[0], spacing[1]) if spacing else b"T*"
    return b"T*" if operator == b"'" else b""


SCREEN_HANDLERS: dict[bytes, Handler] = {
    **HANDLERS,
    b"Do": _do, INLINE_IMAGE: _inline_image, b"gs": _graphics_state,
    **dict.fromkeys((b"Tj", b"TJ", b"'", b'"'), _show),
    **{operator: _colors(operator) for operator in (b"cs", b"CS", b"sc", b"SC", b"scn", b"SCN", b"sh")},
}
