"""A form that is drawn on many pages in the same way is followed once, and tells each page the same."""

from __future__ import annotations

from pathlib import Path

import pikepdf
import pytest
from pikepdf import Array, Dictionary, Name, Pdf, Stream

from service.pdf.content import resources
from service.pdf.content.forms import Form, read_form
from service.pdf.content.resources import Resources, Shared
from service.pdf.facts.geometry import Box, Matrix
from service.pdf.measure import measure
from service.pdf.walk import objects
from service.pdf.walk.small_areas import SmallAreas
from service.pdf.walk.table import HANDLERS
from service.pdf.walk.walker import Mark, Walk

RULER, SHEET = Matrix(0.3, 0, 0, -0.3, 0, 60), Box(0, 0, 60, 60)
BACKGROUND = (
    b"5 5 50 20 re f 1 w 9 9 m 90 9 l S BT /F 12 Tf 20 50 Td (Halyard Lane) Tj ET q 0.5 0 0 0.5 9 9 cm /Inner Do Q "
    b"0.1 0.2 0 0.3 k " + b"\n".join(b"%d 90 3 3 re f" % (5 * (at % 30)) for at in range(2000))
)


def font(name: str = "Helvetica") -> Dictionary:
    return Dictionary(Type=Name.Font, Subtype=Name.Type1, BaseFont=Name(f"/{name}"))


class Pages:
    """One file's pages, walked one after the other."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch, form: bytes = BACKGROUND, has_names: bool = True) -> None:
        self.pdf = pikepdf.new()
        inner = self._form(b"0 0 30 30 re B", Dictionary())
        names = Dictionary(Font=Dictionary(F=font()), XObject=Dictionary(Inner=inner))
        self.form = self._form(form, names if has_names else Dictionary())
        self.shared = Shared(self.pdf)
        self.followed = 0
        monkeypatch.setattr(objects, "read_form", self._read)

    def _form(self, data: bytes, own: Dictionary) -> pikepdf.Object:
        box = Array([0, 0, 200, 200])
        return self.pdf.make_indirect(Stream(self.pdf, data, Type=Name.XObject, Subtype=Name.Form, BBox=box, Resources=own))

    def _read(self, stream: Stream, around: Resources) -> Form:
        self.followed += stream.objgen == self.form.objgen
        return read_form(stream, around)

    def told(self, content: bytes, shared: Shared | None = None, face: str = "Helvetica") -> tuple[list[object], int, int]:
        """What a page tells, with what is left of the work that it may take."""
        told: list[object] = []

        def areas(some: SmallAreas) -> None:
            told.extend([*some.boxes.tolist(), *some.colors.tolist(), some.kinds])

        def mark(one: Mark) -> None:
            told.append(one)

        states = Dictionary(Half=Dictionary(ca=0.5), Over=Dictionary(op=True))
        of_page = Dictionary(XObject=Dictionary(B=self.form), Font=Dictionary(F=font(face)), ExtGState=states)
        walk = Walk(HANDLERS, RULER, SHEET, shared or self.shared, [mark])
        walk.at_once = SHEET.grown(-1), areas
        walk.run(content, Resources(of_page, walk.shared))
        return told, walk.operators_left, walk.bytes_left

    def alone(self, content: bytes, face: str = "Helvetica") -> tuple[list[object], int, int]:
        """The same where no page came before."""
        return self.told(content, Shared(self.pdf), face)


def without_fonts(told: tuple[list[object], int, int]) -> tuple[list[object], int, int]:
    """A font that is written into the dictionary is another object each time."""
    marks = [one._replace(detail=str(type(one.detail))) if isinstance(one, Mark) else one for one in told[0]]  # type: ignore[arg-type]
    return marks, *told[1:]


@pytest.mark.parametrize(("content", "again"), [
    (b"/B Do", False),
    (b"0 0 m 9 9 l S /B Do 1 0 0 rg", False),
    (b"1 0 0 rg /B Do", True),
    (b"2 w /B Do", True),
    (b"q 0.5 0 0 0.5 0 0 cm /B Do Q", True),
    (b"q 0 0 40 40 re W n /B Do Q", True),
    (b"/Half gs /B Do", True),
    (b"/Over gs /B Do", True),
    (b"BT 7 Tr ET /B Do", True),
])  # fmt: skip
def test_a_form_is_followed_again_where_it_inherits_something_else(
    content: bytes, again: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    pages = Pages(monkeypatch)
    first = pages.told(b"/B Do")
    assert pages.followed == 1
    assert len(first[0]) > 2000
    later = pages.told(content)
    assert pages.followed == 1 + again
    assert without_fonts(later) == without_fonts(pages.alone(content))


@pytest.mark.parametrize(
    "form", [b"BT /F 12 Tf 20 50 Td (Open) Tj ET", b"/Nothing Do 5 5 9 9 re f"], ids=["font of the page", "object of no page"]
)
def test_a_form_that_looks_at_the_page_is_followed_on_each(form: bytes, monkeypatch: pytest.MonkeyPatch) -> None:
    pages = Pages(monkeypatch, form, has_names=False)
    pages.told(b"/B Do")
    later = pages.told(b"/B Do", face="Times-Roman")
    assert pages.followed == 2
    assert without_fonts(later) == without_fonts(pages.alone(b"/B Do", face="Times-Roman"))


def test_a_form_of_very_many_marks_is_not_kept(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(objects, "MOST_TOLD_AGAIN", 3)
    pages = Pages(monkeypatch)
    assert without_fonts(pages.told(b"/B Do")) == without_fonts(pages.told(b"/B Do"))
    assert pages.followed == 2


@pytest.mark.parametrize("damaged", [False, True])
def test_pages_measure_the_same_however_little_is_kept(damaged: bool, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with Pdf.new() as pdf:
        form = Stream(pdf, b"0.2 0.4 0 0.1 k 5 5 50 20 re f BT /F 12 Tf 20 50 Td (Halyard Lane) Tj ET")
        form.Type, form.Subtype, form.BBox = Name.XObject, Name.Form, Array([0, 0, 200, 200])
        form.Resources = Dictionary(Font=Dictionary(F=pdf.make_indirect(font())))
        if damaged:
            form.write(b"!!z<", filter=Name.ASCII85Decode)
        drawn = pdf.make_indirect(form)
        for number in range(3):
            page = pdf.add_blank_page(page_size=(200, 200))
            page.Resources = Dictionary(XObject=Dictionary(B=drawn))
            page.Contents = Stream(pdf, b"/B Do %d 150 9 9 re f" % (20 * number))
        pdf.save(tmp_path / "file.pdf")
    kept = measure(tmp_path / "file.pdf")
    monkeypatch.setattr(resources, "MOST_FORM_BYTES", 0)
    assert kept == measure(tmp_path / "file.pdf")
