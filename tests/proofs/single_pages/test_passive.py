"""Nothing that acts, plays or is carried along goes out with a PDF that was made of the file."""

from __future__ import annotations

import io
from collections.abc import Callable

import numpy as np
import pikepdf
import pytest
from pikepdf import Array, Dictionary, Name, Pdf, Stream, String

from service.pdf.document.active_content import active_content_of
from service.proofs.single_pages.passive import make_passive
from tests.build import document, page
from tests.proofs.made_single import pixels


def script() -> Dictionary:
    return Dictionary(S=Name.JavaScript, JS=String("app.alert('Halyard Lane')"))


def file_inside(pdf: Pdf) -> Dictionary:
    stream = pdf.make_indirect(Stream(pdf, b"the prices of next year"))
    return Dictionary(Type=Name.Filespec, F=String("prices.csv"), EF=Dictionary(F=stream))


def annotation(pdf: Pdf, **keys: object) -> None:
    made = Dictionary(Type=Name.Annot, Rect=Array([10, 10, 60, 30]), **keys)  # type: ignore[arg-type]
    pdf.pages[0].obj.Annots = Array([pdf.make_indirect(made)])


def names(pdf: Pdf, tree: str, value: object) -> None:
    pdf.Root.Names = Dictionary({tree: Dictionary(Names=Array([String("one"), value]))})


def bookmark(pdf: Pdf) -> None:
    item = pdf.make_indirect(Dictionary(Title=String("Bread"), A=script()))
    pdf.Root.Outlines = pdf.make_indirect(Dictionary(First=item, Last=item, Count=1))
    item.Parent = pdf.Root.Outlines


def field(pdf: Pdf) -> None:
    parent = pdf.make_indirect(Dictionary(FT=Name.Tx, T=String("Name"), AA=Dictionary(K=script())))
    annotation(pdf, Subtype=Name.Widget, Parent=parent)
    parent.Kids = Array([pdf.pages[0].obj.Annots[0]])
    pdf.Root.AcroForm = Dictionary(Fields=Array([parent]), XFA=pdf.make_indirect(Stream(pdf, b"<xdp/>")))


ACTIVE: dict[str, Callable[[Pdf], object]] = {
    "a script on opening": lambda pdf: setattr(pdf.Root, "OpenAction", script()),
    "a script after a jump": lambda pdf: setattr(
        pdf.Root, "OpenAction", Dictionary(S=Name.GoTo, D=Array([pdf.pages[0].obj, Name.Fit]), Next=script())
    ),
    "events of the document": lambda pdf: setattr(pdf.Root, "AA", Dictionary(WC=script())),
    "events of a page": lambda pdf: setattr(pdf.pages[0].obj, "AA", Dictionary(O=script())),
    "scripts by name": lambda pdf: names(pdf, "/JavaScript", script()),
    "files inside": lambda pdf: names(pdf, "/EmbeddedFiles", file_inside(pdf)),
    "a link to the web": lambda pdf: annotation(pdf, Subtype=Name.Link, A=Dictionary(S=Name.URI, URI=String("https://bread.example"))),
    "a program to start": lambda pdf: annotation(pdf, Subtype=Name.Link, A=Dictionary(S=Name.Launch, F=String("bake.exe"))),
    "a file on the page": lambda pdf: annotation(pdf, Subtype=Name.FileAttachment, FS=file_inside(pdf)),
    "a film": lambda pdf: annotation(pdf, Subtype=Name.Screen, A=Dictionary(S=Name.Rendition)),
    "a bookmark that acts": bookmark,
    "a form": field,
}


@pytest.mark.parametrize("active", ACTIVE)
def test_what_acts_or_is_carried_along_is_gone_from_the_bytes_and_named(active: str) -> None:
    with pikepdf.open(io.BytesIO(document(page(85, 55).fill(cyan=1)).also(ACTIVE[active]).bytes())) as pdf:
        assert active_content_of(pdf, lambda _: None)
        assert make_passive(pdf)
        out = io.BytesIO()
        pdf.save(out, stream_decode_level=pikepdf.StreamDecodeLevel.all)
    for trace in (b"JavaScript", b"app.alert", b"prices", b"bread.example", b"bake.exe", b"xdp"):
        assert trace not in out.getvalue()
    with pikepdf.open(io.BytesIO(out.getvalue())) as after:
        left = active_content_of(after, lambda _: None)
        assert isinstance(left, tuple)
        assert {one.kind for one in left} <= {"GoTo"}


def test_a_file_that_hangs_on_a_picture_goes_too() -> None:
    def attach(pdf: Pdf) -> None:
        picture = next(iter(pdf.pages[0].obj.Resources.XObject.values()))
        picture.AF = Array([pdf.make_indirect(file_inside(pdf))])

    built = document(page(85, 55).picture(at=(10, 10, 20, 20), ppi=50)).also(attach)
    with pikepdf.open(io.BytesIO(built.bytes())) as pdf:
        assert make_passive(pdf) == ("attached files",)
        out = io.BytesIO()
        pdf.save(out)
    assert b"prices of" not in out.getvalue()


def test_what_describes_the_pages_stays() -> None:
    def describe(pdf: Pdf) -> None:
        goal = Array([pdf.pages[0].obj, Name.Fit])
        names(pdf, "/Dests", goal)
        pdf.Root.OpenAction = goal
        pdf.Root.OutputIntents = Array([Dictionary(S=Name.GTS_PDFX)])
        pdf.Root.OCProperties = Dictionary(D=Dictionary(), OCGs=Array())
        annotation(pdf, Subtype=Name.Link, A=Dictionary(S=Name.GoTo, D=goal))

    with pikepdf.open(io.BytesIO(document(page(85, 55)).also(describe).bytes())) as pdf:
        assert make_passive(pdf) == ()
        assert {"/OpenAction", "/OutputIntents", "/OCProperties", "/Names"} <= set(pdf.Root.keys())
        assert "/A" in pdf.pages[0].obj.Annots[0]


def test_a_form_field_that_the_file_draws_stays_as_it_looks() -> None:
    def drawn(pdf: Pdf) -> None:
        field(pdf)
        appearance = Stream(pdf, b"0 0 1 rg 0 0 50 20 re f")
        appearance.Type, appearance.Subtype, appearance.BBox = Name.XObject, Name.Form, Array([0, 0, 50, 20])
        widget = pdf.pages[0].obj.Annots[0]
        widget.AP, widget.F = Dictionary(N=pdf.make_indirect(appearance)), 4

    before = document(page(85, 55).fill(cyan=1)).also(drawn).bytes()
    with pikepdf.open(io.BytesIO(before)) as pdf:
        assert "form fields" in make_passive(pdf)
        out = io.BytesIO()
        pdf.save(out)
    assert np.array_equal(pixels(out.getvalue(), 0), pixels(before, 0))
    assert not np.array_equal(pixels(before, 0), pixels(document(page(85, 55).fill(cyan=1)).bytes(), 0))


def test_a_ring_of_bookmarks_has_an_end() -> None:
    def ring(pdf: Pdf) -> None:
        bookmark(pdf)
        item = pdf.Root.Outlines.First
        item.Next = item.First = item

    with pikepdf.open(io.BytesIO(document(page(85, 55)).also(ring).bytes())) as pdf:
        assert make_passive(pdf) == ("actions",)
