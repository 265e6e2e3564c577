"""Draw a dummy as PDF: the pages' own drawing, cut to the trim and placed, with the marks and words of the plan above it.

* Each page becomes one form XObject (ISO 32000-2:2020, 8.10) that is cut where it is placed; nothing is rasterised, pictures and
  fonts go over as they are, once.
* Annotations that print become part of the page, as they look; all others, and every link, stay behind.
* Of the catalog only the layers go over, set to what prints (8.11); the print dialog is told both sides and no scaling (12.2).
* Only what the pages' resources reach is copied; a script, an attached file, an action or a piece of the file's structure among
  that is emptied.

It shows order, size and folds. It is no proof of colour: the output intent stays behind.
"""

from __future__ import annotations

import io
from collections.abc import Iterator
from pathlib import Path

import pikepdf
import reportlab
from pikepdf import Array, Dictionary, Name, Stream
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

from service.language.spoken import to_say
from service.language.typography import without_narrow_spaces
from service.pdf.content.layers import layer_states
from service.pdf.facts.geometry import MM_PER_POINT, Matrix
from service.pdf.facts.unknown import Failure, Unmeasured, unmeasured
from service.pdf.pages.page_boxes import read_page, ruler
from service.pdf.reading.opening import OpenedPdf, opened
from service.pdf.reading.page_tree import inherited
from service.pdf.reading.reading_errors import READING_ERRORS
from service.pdf.reading.streams import page_streams
from service.proofs.dummy.faces import DummyBrief, Face, Line, Placement, Words

POINTS_PER_MM = 1 / MM_PER_POINT
TYPE_PT, SMALLEST_TYPE_PT = 7.0, 3.5
_TYPE_FACE = "Vera"
_BLACK, _WHITE = 0.0, 1.0
_PAGE_DAMAGED = to_say("Page {page} cannot be placed in a dummy: its content is damaged. Export the file again.")

_EMPTIED_TYPES = frozenset({
    "/Catalog", "/Pages", "/Page", "/Action", "/Annot", "/Filespec", "/F", "/EmbeddedFile", "/StructTreeRoot", "/StructElem",
    "/Outlines", "/ObjStm", "/XRef", "/Metadata",
})
_ACTIONS = frozenset({
    "/JavaScript", "/Launch", "/URI", "/GoTo", "/GoToR", "/GoToE", "/SubmitForm", "/ImportData", "/Rendition", "/Movie", "/Sound",
    "/Named", "/RichMediaExecute",
})
_LEFT_OF_STREAMS = ("/AF", "/PieceInfo", "/Metadata", "/StructParent", "/StructParents", "/OPI", "/Alternates", "/LastModified")


def dummy_pdf(path: Path, brief: DummyBrief) -> bytes | Unmeasured:
    """The dummy as PDF, or why it cannot be made of this file."""
    with opened(path) as pdf:
        if isinstance(pdf, Failure):
            return pdf.reason
        try:
            if any("/Annots" in page.obj for page in pdf.pdf.pages):
                pdf.pdf.flatten_annotations("print")
            with pikepdf.open(io.BytesIO(_marks(brief))) as out:
                placed = _Placer(pdf, out).place(brief)
                return placed if placed is not None else _written(out, pdf.pdf, brief)
        except READING_ERRORS:
            return Unmeasured("A dummy cannot be made of this file: some of it is damaged. Export it again.")


def _written(out: pikepdf.Pdf, source: pikepdf.Pdf, brief: DummyBrief) -> bytes:
    _keep_layers(out, source)
    _empty_what_acts(out)
    del out.docinfo
    out.docinfo["/Title"] = brief.title
    out.docinfo["/Subject"] = out.docinfo["/Changes"] = " ".join(brief.changes)
    out.docinfo["/Creator"] = "print-spec-service"
    preferences = Dictionary(PrintScaling=Name("/None"), DisplayDocTitle=True)
    if brief.both_sides:
        preferences.Duplex = Name.DuplexFlipShortEdge if brief.flip == "short" else Name.DuplexFlipLongEdge
    out.Root.ViewerPreferences = preferences
    made = io.BytesIO()
    modes = pikepdf.ObjectStreamMode.generate
    out.save(made, min_version="1.7", deterministic_id=True, object_stream_mode=modes, compress_streams=True)
    return made.getvalue()


# --- The pages ----------------------------------------------------------------------------------------------------------


class _Placer:
    def __init__(self, source: OpenedPdf, out: pikepdf.Pdf) -> None:
        self._source, self._out = source, out
        self._forms: dict[int, tuple[pikepdf.Object, Matrix]] = {}

    def place(self, brief: DummyBrief) -> Unmeasured | None:
        """Put the pages under the marks; None where all could be."""
        for face, sheet in zip(brief.faces, self._out.pages, strict=True):
            forms, drawing = Dictionary(), [_upside_down(brief)] if face.upside_down else []
            for at, placement in enumerate(face.placements):
                try:
                    forms[f"/Page{at}"], to_mm = self._form(placement)
                except READING_ERRORS:
                    return unmeasured(_PAGE_DAMAGED, page=str(placement.page))
                to_paper = _to_paper(placement, brief)
                seen, matrix = to_paper.box(placement.shown_mm), to_mm.then(to_paper)
                clip = _numbers(seen.x0, seen.y0, seen.width, seen.height)
                drawing.append(b"q %s re W n %s cm /Page%d Do Q\n" % (clip, _numbers(*matrix), at))
            content = self._out.make_indirect(Stream(self._out, b"q " + b"".join(drawing) + b"Q\n"))
            sheet.obj.Contents = Array([content, sheet.obj.Contents])
            sheet.obj.Resources.XObject = forms
        return None

    def _form(self, placement: Placement) -> tuple[pikepdf.Object, Matrix]:
        """The page's whole drawing, and the matrix from its user space to its ruler mm. Raises what reading raises."""
        if placement.page not in self._forms:
            self._forms[placement.page] = self._new_form(placement)
        return self._forms[placement.page]

    def _new_form(self, placement: Placement) -> tuple[pikepdf.Object, Matrix]:
        page = self._source.pdf.pages[placement.page - 1].obj
        declared = read_page(page, has_size=placement.page not in self._source.without_size)
        to_mm = ruler(declared.media_pt, declared.rotation, declared.user_unit)
        form = Stream(self._out, b"\n".join(page_streams(page)))
        form.Type, form.Subtype = Name.XObject, Name.Form
        form.BBox = Array([round(value, 4) for value in declared.media_pt])
        resources = inherited(page, "/Resources")
        form.Resources = self._copied(resources) if isinstance(resources, pikepdf.Dictionary) else Dictionary()
        group = page.get("/Group")
        if isinstance(group, pikepdf.Dictionary):
            form.Group = self._copied(group)
        return self._out.make_indirect(form), to_mm.then(Matrix(e=placement.media_mm.x0, f=placement.media_mm.y0))

    def _copied(self, value: pikepdf.Object) -> pikepdf.Object:
        return self._out.copy_foreign(value if value.is_indirect else self._source.pdf.make_indirect(value))


def _to_paper(placement: Placement, brief: DummyBrief) -> Matrix:
    """From the page's ruler mm, y downwards, to points of the paper from its bottom-left corner."""
    (x, y), shown, scale = placement.at_mm, placement.shown_mm, brief.scale
    on_paper = Matrix(scale, 0, 0, scale, x - shown.x0 * scale, y - shown.y0 * scale)
    return on_paper.then(Matrix(POINTS_PER_MM, 0, 0, -POINTS_PER_MM, 0, brief.height_mm * POINTS_PER_MM))


def _upside_down(brief: DummyBrief) -> bytes:
    return b"-1 0 0 -1 %.4f %.4f cm\n" % (brief.width_mm * POINTS_PER_MM, brief.height_mm * POINTS_PER_MM)


def _numbers(*values: float) -> bytes:
    return b" ".join(b"%.6f" % value for value in values)


def _keep_layers(out: pikepdf.Pdf, source: pikepdf.Pdf) -> None:
    """All layers as they print: without this list a reader would show every one."""
    groups = {identity: on for identity, on in layer_states(source, "Print").items() if identity != (0, 0)}
    if not groups:
        return
    copied = {identity: out.copy_foreign(source.get_object(identity)) for identity in groups}
    off = Array([copied[identity] for identity, on in groups.items() if not on])
    configuration = Dictionary(BaseState=Name.ON, OFF=off, Order=Array(), Name=pikepdf.String("As printed"))
    out.Root.OCProperties = Dictionary(OCGs=Array(list(copied.values())), D=configuration)


def _empty_what_acts(out: pikepdf.Pdf) -> None:
    """What came along through the pages' resources and is no part of a drawing. The paper's own pages are ours and stay."""
    ours = {out.Root.objgen, out.Root.Pages.objgen, *(page.obj.objgen for page in out.pages)}
    for found in out.objects:
        if not isinstance(found, pikepdf.Dictionary | pikepdf.Stream | pikepdf.Array) or found.objgen in ours:
            continue
        for one in _with_direct_parts(found):
            if isinstance(one, pikepdf.Stream):
                for key in _LEFT_OF_STREAMS:
                    if key in one:
                        del one[key]
            if _is_no_drawing(one):
                for key in list(one.keys()):
                    if key not in ("/Length", "/Filter", "/DecodeParms"):
                        del one[key]
                if isinstance(one, pikepdf.Stream):
                    one.write(b"")


def _is_no_drawing(one: pikepdf.Object) -> bool:
    """By what it says of itself; an entry that is called so in a list of fonts or forms is a name, and no reason."""
    kind, action = one.get("/Type"), one.get("/S")
    return (
        (isinstance(kind, Name) and str(kind) in _EMPTIED_TYPES)
        or (isinstance(action, Name) and str(action) in _ACTIONS)
        or ("/EF" in one and ("/F" in one or "/UF" in one))
    )


def _with_direct_parts(found: pikepdf.Object) -> Iterator[pikepdf.Object]:
    """The dictionaries and the stream that this object is made of, those that stand directly inside it included."""
    pending = [found]
    while pending:
        one = pending.pop()
        if isinstance(one, pikepdf.Array):
            inner = list(one)
        else:
            yield one
            inner = [one[key] for key in one.keys()]  # noqa: SIM118 (an object, no mapping)
        pending += [part for part in inner if isinstance(part, pikepdf.Dictionary | pikepdf.Array) and not part.is_indirect]


# --- Marks and words ----------------------------------------------------------------------------------------------------


def _marks(brief: DummyBrief) -> bytes:
    """A PDF of the empty paper with its marks and words, a page a side."""
    if _TYPE_FACE not in pdfmetrics.getRegisteredFontNames():  # Bitstream Vera, which reportlab brings and which may be embedded
        pdfmetrics.registerFont(TTFont(_TYPE_FACE, str(Path(reportlab.__file__).parent / "fonts" / "Vera.ttf")))
    made = io.BytesIO()
    width, height = brief.width_mm * POINTS_PER_MM, brief.height_mm * POINTS_PER_MM
    canvas = Canvas(made, pagesize=(width, height), invariant=1, initialFontName=_TYPE_FACE)  # type: ignore[arg-type]
    for face in brief.faces:
        if face.upside_down:
            canvas.transform(-1, 0, 0, -1, width, height)
        _draw_face(canvas, face, height)
        canvas.showPage()
    canvas.save()
    return made.getvalue()


def _draw_face(canvas: Canvas, face: Face, height_pt: float) -> None:
    for line in face.lines:
        _draw_line(canvas, line, height_pt)
    for words in face.words:
        _draw_words(canvas, words, height_pt)


def _draw_line(canvas: Canvas, line: Line, height_pt: float) -> None:
    """Black on a white ground, so that it shows on any picture; folds are dashed."""
    (x0, y0), (x1, y1) = line.start_mm, line.end_mm
    ends = (x0 * POINTS_PER_MM, height_pt - y0 * POINTS_PER_MM, x1 * POINTS_PER_MM, height_pt - y1 * POINTS_PER_MM)
    width = 1.2 if line.kind == "staple" else 0.35
    canvas.setDash()
    for grey, thickness in ((_WHITE, width + 1.0), (_BLACK, width)):
        if grey == _BLACK and line.kind == "fold":
            canvas.setDash([3, 2])
        canvas.setStrokeGray(grey)
        canvas.setLineWidth(thickness)
        canvas.line(*ends)


def _draw_words(canvas: Canvas, words: Words, height_pt: float) -> None:
    text = without_narrow_spaces(words.text)
    natural = pdfmetrics.stringWidth(text, _TYPE_FACE, TYPE_PT)
    size = max(SMALLEST_TYPE_PT, TYPE_PT * min(1.0, words.most_mm * POINTS_PER_MM / natural))
    canvas.setFillGray(_BLACK)
    canvas.setFont(_TYPE_FACE, size)
    place = words.at_mm[0] * POINTS_PER_MM, height_pt - words.at_mm[1] * POINTS_PER_MM
    (canvas.drawCentredString if words.centred else canvas.drawString)(*place, text)
