"""The dummy as PDF: what is printed is what the page shows, in its place, as vectors, and nothing else goes out."""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import numpy as np
import numpy.typing as npt
import pikepdf
import pypdfium2
import pytest
from pdfminer.converter import PDFPageAggregator
from pdfminer.high_level import extract_text
from pdfminer.layout import LTChar, LTFigure
from pdfminer.pdfinterp import PDFPageInterpreter, PDFResourceManager
from pdfminer.pdfpage import PDFPage
from pikepdf import Array, Dictionary, Name, Pdf, Stream

from service.pdf.facts.painted.content import Content
from service.pdf.facts.unknown import Unmeasured
from service.pdf.measure import measure
from service.pdf.question import Question
from service.proofs.dummy.brief import DummyBrief, dummy_brief
from service.proofs.dummy.drawn import dummy_pdf
from service.proofs.dummy.wishes import DummyWishes
from service.sheets.model import Fold, SpecSheet, SpineAsked
from tests.build import DocumentBuilder, PageBuilder, document, page
from tests.outside_tools import tool
from tests.proofs.on_the_desk import Printed, read_through

PPI = 100
Grey = npt.NDArray[np.float64]


def made(built: DocumentBuilder, folder: Path, sheet: SpecSheet | None = None, **wishes: Any) -> tuple[bytes, DummyBrief]:
    path = built.save(folder / "source.pdf")
    pages = measure(path).pages
    assert not isinstance(pages, Unmeasured)
    dummy = dummy_brief(pages, sheet or SpecSheet(), DummyWishes(**wishes))
    assert isinstance(dummy, DummyBrief), dummy
    data = dummy_pdf(path, dummy)
    assert isinstance(data, bytes), data
    return data, dummy


def rendered(data: bytes | Path, number: int, ppi: float = PPI) -> Grey:
    with pypdfium2.PdfDocument(data) as pdf:
        return np.asarray(pdf[number - 1].render(scale=ppi / 72).to_pil().convert("L"), float)


def cut(picture: Grey, x0: float, y0: float, x1: float, y1: float, ppi: float = PPI) -> Grey:
    """Mm from the paper's top-left corner."""
    x0, y0, x1, y1 = (round(one / 25.4 * ppi) for one in (x0, y0, x1, y1))
    return picture[y0:y1, x0:x1]


def chequered(number: int) -> PageBuilder:
    """An A6 page that looks like no other: patches of differing tints, its number in a corner, and a hairline cross."""
    built = page(105, 148, bleed=3).fill(yellow=0.1)
    for at in range(12):
        x, y = 10 + 28 * (at % 3), 10 + 32 * (at // 3)
        built.fill(at=(x, y, x + 20, y + 24), black=((7 * at + 5 * number) % 11) / 10)
    return built.text(f"P{number}", size=30, at=(8, 140)).line((0, 74), (105, 74), 0.25, black=1)


# --- In its place -------------------------------------------------------------------------------------------------------


def test_each_page_is_printed_in_its_place_as_it_looks(tmp_path: Path) -> None:
    """Both rendered by PDFium at 100 ppi; on average they may differ by 2.5 of 255 levels: their pixels lie a fraction apart.

    A page that is one millimetre out differs by twice that.
    """
    built = document(*(chequered(number) for number in range(1, 9)))
    data, dummy = made(built, tmp_path, paper="A3")
    assert dummy.scale == 1
    for number, face in enumerate(dummy.faces, start=1):
        paper = rendered(data, number)
        for one in face.placements:
            source = cut(rendered(tmp_path / "source.pdf", one.page), 3, 3, 108, 151)
            x, y = one.at_mm
            assert difference(cut(paper, x, y, x + 105, y + 148), source) < 2.5
            assert difference(cut(paper, x + 1, y, x + 106, y + 148), source) > 5


def difference(found: Grey, wanted: Grey) -> float:
    rows, columns = min(found.shape[0], wanted.shape[0]) - 2, min(found.shape[1], wanted.shape[1]) - 2
    assert rows > wanted.shape[0] - 5
    assert columns > wanted.shape[1] - 5
    return float(np.abs(found[2:rows, 2:columns] - wanted[2:rows, 2:columns]).mean())


def test_a_page_is_cut_to_its_trim(tmp_path: Path) -> None:
    """Outside the trim stands paper: the bleed is black here."""
    built = page(85, 55, bleed=3, slug=8).fill(black=1).fill(at=(0, 0, 85, 55), cyan=0.2).crop_marks()
    data, dummy = made(document(built), tmp_path)
    x, y = dummy.faces[0].placements[0].at_mm
    paper = rendered(data, 1)
    assert cut(paper, x + 10, y - 0.8, x + 75, y - 0.3).min() > 250
    assert cut(paper, x + 0.3, y + 0.3, x + 84.7, y + 54.7).min() > 150


@pytest.mark.parametrize("how", ["plain", "rotated 90", "rotated 180", "rotated 270", "unit", "origin"])
def test_a_page_that_is_written_turned_or_in_other_units_is_placed_as_it_looks(how: str, tmp_path: Path) -> None:
    def card() -> PageBuilder:
        return page(85, 55).fill(yellow=0.1).fill(at=(5, 5, 30, 15), black=1).fill(at=(60, 40, 80, 50), cyan=1)

    written = {
        "plain": card(), "rotated 90": card().rotated(90), "rotated 180": card().rotated(180), "rotated 270": card().rotated(270),
        "unit": card().user_unit(2.5), "origin": card().origin(-100, 333),
    }[how]
    data, dummy = made(document(written), tmp_path)
    x, y = dummy.faces[0].placements[0].at_mm
    assert (dummy.width_mm, dummy.height_mm, dummy.scale) == (297, 210, 1)
    paper = rendered(data, 1)
    assert cut(paper, x + 6, y + 6, x + 29, y + 14).max() < 60
    assert cut(paper, x + 61, y + 41, x + 79, y + 49).max() < 200
    assert cut(paper, x + 35, y + 5, x + 80, y + 35).min() > 220


@pytest.mark.parametrize("flip", ["short", "long"])
@pytest.mark.parametrize(("count", "blanks"), [(8, "end"), (10, "before-last"), (16, "end")])
def test_the_printed_booklet_reads_in_order_once_it_is_folded(count: int, blanks: str, flip: str, tmp_path: Path) -> None:
    """The letters are found on the finished sides by pdfminer.six, the folding is done by `on_the_desk`."""
    data, dummy = made(document(*(chequered(number) for number in range(1, count + 1))), tmp_path, flip=flip, blanks=blanks)
    read = read_through([list(printed(side)) for side in sides_of(data)], landscape=True, flip=flip)
    assert len(read) == 4 * dummy.sheets
    own = [[one.text for one in on_page if one.text.startswith("P")] for on_page in read]
    numbers = iter(range(1, count + 1))
    assert own == [[] if at in dummy.blanks else [f"P{next(numbers)}"] for at in range(1, len(read) + 1)]
    for at, on_page in enumerate(read, start=1):
        margin = [one.text for one in on_page if re.match("page|blank", one.text)]
        assert margin == (["blank page, added"] if at in dummy.blanks else [f"page {at}"])
        assert all(one.upright for one in on_page)


def sides_of(data: bytes) -> list[Any]:
    """Letters of each side in the order in which they are drawn, those of a page in a figure of their own."""
    manager = PDFResourceManager()
    device = PDFPageAggregator(manager, laparams=None)
    interpreter, found = PDFPageInterpreter(manager, device), []
    for side in PDFPage.get_pages(io.BytesIO(data)):
        interpreter.process_page(side)
        found.append(device.get_result())
    return found


def printed(side: Any) -> Iterator[Printed]:
    """What stands on a side of the paper, word group by word group."""
    for letters in word_groups(side):
        across = (letters[0].x0 + letters[-1].x1) / 2 / side.width
        yield Printed("".join(one.get_text() for one in letters), across, letters[0].matrix[0] > 0)


def word_groups(found: Any) -> Iterator[list[LTChar]]:
    group: list[LTChar] = []
    for one in found:
        if isinstance(one, LTFigure):
            yield from word_groups(one)
        elif isinstance(one, LTChar):
            if group and (abs(one.y0 - group[-1].y0) > 0.1 or abs(one.x0 - group[-1].x0) > 30):
                yield group
                group = []
            group.append(one)
    if group:
        yield group


def test_page_numbers_and_the_scale_stand_in_the_margin(tmp_path: Path) -> None:
    """Found by poppler's pdftotext."""
    data, _ = made(document(*(page(148, 210) for _ in range(6))), tmp_path)
    (tmp_path / "dummy.pdf").write_bytes(data)
    told = tool("pdftotext")("-layout", tmp_path / "dummy.pdf", "-")
    assert set(re.findall(r"page \d+", told)) == {f"page {number}" for number in range(1, 7)}
    assert told.count("blank page, added") == 2
    assert "Sheet 1 of 2, front. Made smaller to fit A4: 88.6 % of its real size." in told
    assert "2 blank pages were added at the end" in told


def test_creep_moves_what_is_printed(tmp_path: Path) -> None:
    """The same letters on the same place of every page; on inner sheets they stand nearer to the fold."""
    built = document(*(page(105, 148).text("x", size=20, at=(50, 70)) for _ in range(12)))
    data, _ = made(built, tmp_path, paper="A3", caliper_mm=0.4)
    places = [sorted(_letters(side)) for side in sides_of(data)]
    for sheet in (1, 2):
        moved = 0.4 * sheet * 72 / 25.4
        for side in (0, 1):
            assert places[2 * sheet + side][0] - places[side][0] == pytest.approx(moved, abs=0.02)
            assert places[side][1] - places[2 * sheet + side][1] == pytest.approx(moved, abs=0.02)


def _letters(side: Any) -> list[float]:
    return [group[0].x0 for group in word_groups(side) if group[0].size > 15]


def test_both_halves_of_a_spread_are_drawn_from_one_and_the_same_page(tmp_path: Path) -> None:
    """Each where it belongs: the left half black, the right half cyan."""
    spread = page(210, 148).fill(at=(0, 0, 105, 148), black=1).fill(at=(105, 0, 210, 148), cyan=0.3)
    data, dummy = made(document(page(105, 148), spread, page(105, 148)), tmp_path, paper="A3")
    assert (dummy.kind, dummy.sheets) == ("booklet", 1)
    inside = rendered(data, 2)
    x, y = 210, (297 - 148) / 2
    assert cut(inside, x - 104, y + 1, x - 1, y + 147).max() < 60
    assert cut(inside, x + 1, y + 1, x + 104, y + 147).min() > 150
    with pikepdf.open(io.BytesIO(data)) as pdf:
        assert len({pdf.pages[1].Resources.XObject[name].objgen for name in ("/Page0", "/Page1")}) == 1


# --- Folds and spine ----------------------------------------------------------------------------------------------------


def test_the_folds_of_a_leaflet_are_dashed_across_the_page(tmp_path: Path) -> None:
    sheet = SpecSheet(folds=(Fold(at_mm=97, axis="vertical"), Fold(at_mm=197, axis="vertical")))
    data, dummy = made(document(page(297, 210).fill(cyan=0.2), page(297, 210).fill(cyan=0.2)), tmp_path, sheet, paper="A3")
    left, top = dummy.faces[0].placements[0].at_mm
    for side, folds in ((1, (97, 197)), (2, (100, 200))):
        paper = rendered(data, side, 200)
        for at in folds:
            strip = cut(paper, left + at - 1, top + 5, left + at + 1, top + 205, 200)
            dark = (strip.min(axis=1) < 150).mean()
            assert 0.4 < dark < 0.9
        assert cut(paper, left + 20, top + 5, left + 90, top + 205, 200).min() > 150


def test_the_spine_of_a_cover_is_marked(tmp_path: Path) -> None:
    data, dummy = made(
        document(page(304, 210).fill(cyan=0.2)), tmp_path, SpecSheet(spine=SpineAsked(page_width_mm=148)), paper="A3"
    )
    left, top = dummy.faces[0].placements[0].at_mm
    paper = rendered(data, 1, 200)
    for at in (148, 156):
        assert cut(paper, left + at - 1, top + 5, left + at + 1, top + 205, 200).min() < 150
    assert cut(paper, left + 149, top + 5, left + 155, top + 205, 200).min() > 150
    assert len(pikepdf.open(io.BytesIO(data)).pages) == 1


# --- What it is made of -------------------------------------------------------------------------------------------------


def test_type_stays_type_lines_stay_lines_and_pictures_keep_their_pixels(tmp_path: Path) -> None:
    built = [chequered(number).picture(at=(20, 20, 60, 60), ppi=300, jpeg_quality=90) for number in range(1, 5)]
    data, _ = made(document(*built), tmp_path, paper="A3")
    assert {f"P{number}" for number in range(1, 5)} <= set(re.findall(r"P\d", extract_text(io.BytesIO(data))))
    (tmp_path / "dummy.pdf").write_bytes(data)
    found = measure(tmp_path / "dummy.pdf", Question(), lambda *_: None)
    assert found.document.failure is None
    assert found.document.damage == ()
    assert not isinstance(found.pages, Unmeasured)
    for side in found.pages:
        assert isinstance(side.content, Content)
        assert [one.filter for one in side.content.images] == ["DCTDecode"] * 2
        assert all(one.ppi == pytest.approx(300, abs=1) for one in side.content.images)
        assert all(one.embedded for one in side.content.fonts)


def test_it_is_a_sound_file_and_the_same_one_every_time(tmp_path: Path) -> None:
    built = document(*(chequered(number) for number in range(1, 6)))
    data, _ = made(built, tmp_path)
    assert made(built, tmp_path)[0] == data
    (tmp_path / "dummy.pdf").write_bytes(data)
    assert "No syntax or stream encoding errors" in tool("qpdf")("--check", tmp_path / "dummy.pdf")


@pytest.mark.parametrize(("flip", "name"), [("short", "/DuplexFlipShortEdge"), ("long", "/DuplexFlipLongEdge")])
def test_the_print_dialog_is_told_both_sides_and_no_scaling_and_the_file_says_what_changed(
    flip: str, name: str, tmp_path: Path
) -> None:
    data, dummy = made(document(*(chequered(number) for number in range(1, 6))), tmp_path, flip=flip)
    with pikepdf.open(io.BytesIO(data)) as pdf:
        assert pdf.Root.ViewerPreferences.Duplex == name
        assert pdf.Root.ViewerPreferences.PrintScaling == "/None"
        assert str(pdf.docinfo["/Changes"]) == " ".join(dummy.changes)
        assert "3 blank pages were added at the end" in str(pdf.docinfo["/Changes"])


def test_layers_print_as_they_do_in_the_file(tmp_path: Path) -> None:
    def layers(pdf: Pdf) -> None:
        on, off = (pdf.make_indirect(Dictionary(Type=Name.OCG, Name=name)) for name in ("Cakes", "Guides"))
        pdf.Root.OCProperties = Dictionary(OCGs=[on, off], D=Dictionary(OFF=[off]))
        pdf.pages[0].obj.Resources.Properties = Dictionary(On=on, Off=off)

    built = page(85, 55).raw(b"/OC /On BDC").fill(at=(5, 5, 35, 50), black=1).raw(b"EMC /OC /Off BDC")
    data, dummy = made(document(built.fill(at=(50, 5, 80, 50), black=1).raw(b"EMC")).also(layers), tmp_path)
    x, y = dummy.faces[0].placements[0].at_mm
    assert cut(rendered(data, 1), x + 6, y + 6, x + 34, y + 49).max() < 60
    assert cut(rendered(data, 1), x + 51, y + 6, x + 79, y + 49).min() > 250


def test_what_prints_of_annotations_is_printed_and_what_does_not_stays_behind(tmp_path: Path) -> None:
    def annotate(pdf: Pdf) -> None:
        def square(x0: int, flags: int) -> Any:
            look = Stream(pdf, b"0 g 0 0 60 60 re f", Dictionary(Type=Name.XObject, Subtype=Name.Form, BBox=[0, 0, 60, 60]))
            keys = {"Rect": [x0, 60, x0 + 60, 120], "AP": Dictionary(N=pdf.make_indirect(look)), "F": flags}
            return pdf.make_indirect(Dictionary(Type=Name.Annot, Subtype=Name.Stamp, **keys))

        pdf.pages[0].obj.Annots = Array([square(30, 4), square(150, 0)])

    data, dummy = made(document(page(85, 55).fill(yellow=0.1)).also(annotate), tmp_path)
    x, y = dummy.faces[0].placements[0].at_mm
    paper = rendered(data, 1)
    dark = (cut(paper, x + 1, y + 1, x + 84, y + 54) < 60).mean() * 83 * 53
    assert dark == pytest.approx((60 / 72 * 25.4) ** 2, rel=0.1)
    assert b"/Annot" not in _unpacked(data)


def test_scripts_actions_attachments_and_stray_structure_do_not_go_out(tmp_path: Path) -> None:
    secret = b"app.alert('crumbs')"

    def arm(pdf: Pdf) -> None:
        script = pdf.make_indirect(Dictionary(Type=Name.Action, S=Name.JavaScript, JS=pikepdf.String(secret.decode())))
        inside = pdf.make_indirect(Stream(pdf, b"carried crumbs", Type=Name.EmbeddedFile))
        carried = pdf.make_indirect(Dictionary(Type=Name.Filespec, F="crumbs.txt", EF=Dictionary(F=inside)))
        pdf.Root.OpenAction = script
        pdf.Root.Names = Dictionary(EmbeddedFiles=Dictionary(Names=["crumbs", carried]))
        first = pdf.pages[0].obj
        first.AA = Dictionary(O=script)
        first.Annots = Array([pdf.make_indirect(Dictionary(Type=Name.Annot, Subtype=Name.Link, Rect=[0, 0, 50, 50], A=script))])
        # By way of the resources, which do go over: a property list may refer to anything.
        properties = Dictionary(Root=pdf.Root, Page=first, Act=Dictionary(Deep=Array([Dictionary(S=Name.JavaScript, JS=secret)])))
        properties.Files = Dictionary(AF=Array([carried]))
        first.Resources.Properties = Dictionary(P=properties, Q=script)
        form = Stream(pdf, b"", Type=Name.XObject, Subtype=Name.Form, BBox=[0, 0, 9, 9], AF=Array([carried]))
        form.PieceInfo = Dictionary(Own=Dictionary(Private=pikepdf.String("private crumbs")))
        first.Resources.XObject = Dictionary(F=pdf.make_indirect(form))

    built = document(page(85, 55).fill(cyan=1).raw(b"/P /P DP /F Do")).also(arm)
    assert all(word in _unpacked(built.bytes()) for word in (b"crumbs", b"/JavaScript", b"/EmbeddedFile"))
    data, _ = made(built, tmp_path)
    for word in (b"crumbs", b"/JavaScript", b"/EmbeddedFile", b"/OpenAction", b"/AA ", b"/Filespec", b"/PieceInfo"):
        assert word not in _unpacked(data), word


def _unpacked(data: bytes) -> bytes:
    with pikepdf.open(io.BytesIO(data)) as pdf:
        out = io.BytesIO()
        pdf.save(out, compress_streams=False, object_stream_mode=pikepdf.ObjectStreamMode.disable, qdf=True)
        return out.getvalue()


def test_a_resource_that_is_called_like_an_action_still_paints(tmp_path: Path) -> None:
    built = page(85, 55)
    for name in ("A", "JS", "EF", "AA", "S", "AF"):
        built.resource("ColorSpace", name, Array([Name.Separation, Name.Copper, Name.DeviceGray, _tint()])).raw(
            b"/%s cs 1 scn" % name.encode()
        )
    data, dummy = made(document(built.raw(b"-20 -20 400 400 re f")), tmp_path)
    x, y = dummy.faces[0].placements[0].at_mm
    assert cut(rendered(data, 1), x + 1, y + 1, x + 84, y + 54).max() < 60


def _tint() -> Dictionary:
    return Dictionary(FunctionType=2, Domain=[0, 1], C0=[1], C1=[0], N=1)


# --- Where there is none ------------------------------------------------------------------------------------------------


def test_a_locked_file_gives_the_reason(tmp_path: Path) -> None:
    _, dummy = made(document(page(85, 55).fill(cyan=1)), tmp_path)
    path = document(page(85, 55).fill(cyan=1)).encrypted(user="secret").save(tmp_path / "locked.pdf")
    refused = dummy_pdf(path, dummy)
    assert isinstance(refused, Unmeasured)
    assert "password" in refused.why


def test_a_page_whose_content_is_cut_off_is_named(tmp_path: Path) -> None:
    _, dummy = made(document(*(chequered(number) for number in range(1, 5))), tmp_path)

    def cut_off(pdf: Pdf) -> None:
        import zlib

        packed = zlib.compress(b"0 0 0 1 k " + b"1 2 3 4 re f " * 3000)
        pdf.pages[2].obj.Contents.write(packed[: len(packed) // 2], filter=Name.FlateDecode)

    path = document(*(chequered(number) for number in range(1, 5))).also(cut_off).save(tmp_path / "cut.pdf")
    refused = dummy_pdf(path, dummy)
    assert isinstance(refused, Unmeasured)
    assert "Page 3" in refused.why


def test_fewer_pages_than_were_planned_give_a_reason(tmp_path: Path) -> None:
    _, dummy = made(document(*(chequered(number) for number in range(1, 5))), tmp_path)
    assert isinstance(dummy_pdf(chequered(1).save(tmp_path / "short.pdf"), dummy), Unmeasured)
