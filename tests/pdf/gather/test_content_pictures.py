"""Pictures as placed: effective ppi through every matrix, kind, space, filter, and which of them are listed."""

from __future__ import annotations

import base64
import io
from collections.abc import Sequence
from pathlib import Path

import PIL.Image
import pytest
from pikepdf import Array, Dictionary, Name, Pdf, Stream

from service.pdf.content import image_facts
from service.pdf.facts.geometry import Box
from service.pdf.facts.painted.content import Content
from service.pdf.facts.unknown import BeyondLimits, Unmeasured
from service.pdf.measure import measure
from service.pdf.reading.outer_filters import start_of
from service.pdf.walk import walker
from tests.build import PageBuilder, document, drawing, page
from tests.pdf.gather.content_of import content_of, content_or_reason


def card() -> PageBuilder:
    return page(85, 55, bleed=3)


def near(box: Box) -> object:
    return pytest.approx(box, abs=0.01)


def test_effective_ppi_is_pixels_over_placed_inches(tmp_path: Path) -> None:
    """ISO 32000-2:2020, 8.9.5.1: an image fills the unit square."""
    (picture,) = content_of(card().picture(at=(10, 10, 35.4, 22.7), pixels=(300, 75)), tmp_path).images
    assert (picture.ppi_x, picture.ppi_y) == (pytest.approx(300, rel=1e-4), pytest.approx(150, rel=1e-4))
    assert picture.ppi == picture.ppi_y
    assert picture.box_mm == near(Box(10, 10, 35.4, 22.7))


@pytest.mark.parametrize("turn", [0, 30, 90, 217])
def test_a_turned_picture_keeps_its_ppi(tmp_path: Path, turn: float) -> None:
    (picture,) = content_of(card().picture(at=(20, 10, 45.4, 22.7), pixels=(300, 150), turn=turn), tmp_path).images
    assert (picture.ppi_x, picture.ppi_y) == (pytest.approx(300, rel=1e-4), pytest.approx(300, rel=1e-4))


def test_a_form_scaled_to_half_doubles_the_ppi_of_its_picture(tmp_path: Path) -> None:
    inner = drawing(40, 30).picture(at=(0, 0, 25.4, 25.4), pixels=(100, 100))
    outer = drawing(40, 30).form(inner, at=(0, 0), scale=0.5)
    (once,) = content_of(card().form(inner, at=(10, 10), scale=0.5), tmp_path).images
    (twice,) = content_of(card().form(outer, at=(10, 10), scale=0.5), tmp_path).images
    assert once.ppi == pytest.approx(200, rel=1e-4)
    assert twice.ppi == pytest.approx(400, rel=1e-4)
    assert once.box_mm == near(Box(10, 10, 22.7, 22.7))


def test_a_user_unit_scales_the_ppi_as_it_scales_the_page(tmp_path: Path) -> None:
    (picture,) = content_of(card().picture(at=(10, 10, 35.4, 35.4), pixels=(300, 300)).user_unit(2), tmp_path).images
    assert picture.ppi == pytest.approx(300, rel=1e-4)


def test_places_are_where_the_page_shows_them_when_it_is_rotated(tmp_path: Path) -> None:
    for degrees in (0, 90, 180, 270):
        (picture,) = content_of(card().picture(at=(10, 5, 30, 15), ppi=100).rotated(degrees), tmp_path).images
        assert picture.box_mm == near(Box(10, 5, 30, 15)), degrees


def test_an_inline_picture_is_measured_like_any_other(tmp_path: Path) -> None:
    (picture,) = content_of(card().picture(at=(10, 10, 35.4, 35.4), pixels=(50, 50), inline=True), tmp_path).images
    assert picture.inline
    assert (picture.width_px, picture.height_px, picture.space) == (50, 50, "DeviceCMYK")
    assert picture.ppi == pytest.approx(50, rel=1e-4)


def test_kinds_spaces_and_filters_are_as_written(tmp_path: Path) -> None:
    built = (
        card()
        .picture(at=(0, 0, 10, 10), color="rgb", jpeg_quality=80)
        .picture(at=(10, 0, 20, 10), color="gray", bits=1)
        .picture(at=(20, 0, 30, 10), stencil=True)
        .picture(at=(30, 0, 40, 10), color="indexed")
        .picture(at=(40, 0, 50, 10), color="lab")
        .picture(at=(50, 0, 60, 10), color="Copper")
    )
    found = [(one.kind, one.space, one.bits) for one in content_of(built, tmp_path).images]
    assert found == [
        ("contone", "DeviceRGB", 8), ("bilevel", "DeviceGray", 1), ("mask", "DeviceCMYK", 1),
        ("contone", "Indexed (DeviceRGB)", 8), ("contone", "Lab", 8), ("contone", 'Separation "Copper"', 8),
    ]
    jpeg = content_of(built, tmp_path).images[0]
    assert jpeg.filter == "DCTDecode"
    assert jpeg.jpeg_quality == pytest.approx(80, abs=1)


def test_a_picture_that_is_clipped_away_or_off_the_sheet_is_not_listed(tmp_path: Path) -> None:
    assert content_of(card().picture(at=(10, 10, 20, 20), clip=(40, 40, 50, 50)), tmp_path).images == ()
    assert content_of(card().picture(at=(200, 10, 220, 20)), tmp_path).images == ()


def test_a_clipped_picture_is_listed_with_the_part_that_shows(tmp_path: Path) -> None:
    (picture,) = content_of(card().picture(at=(10, 10, 30, 30), clip=(20, 5, 50, 50)), tmp_path).images
    assert picture.visible_box_mm == near(Box(20, 10, 30, 30))
    assert picture.box_mm == near(Box(10, 10, 30, 30))


def test_a_soft_mask_is_no_picture_of_its_own(tmp_path: Path) -> None:
    assert len(content_of(card().picture(at=(10, 10, 30, 30), soft_mask=True), tmp_path).images) == 1


def layered(state: str) -> PageBuilder:
    """A page with a picture on a layer that is on or off by default."""
    built = card().raw(b"/OC /Layer BDC").picture(at=(10, 10, 30, 30), ppi=100).raw(b"EMC")
    group = Dictionary(Type=Name.OCG, Name="Guides")
    return built.resource("Properties", "Layer", lambda pdf: _register(pdf, group, state))


def _register(pdf: Pdf, group: Dictionary, state: str) -> object:
    layer = pdf.make_indirect(group)
    pdf.Root.OCProperties = Dictionary(OCGs=Array([layer]), D=Dictionary({f"/{state}": Array([layer])}))
    return layer


def test_a_picture_on_a_layer_that_does_not_print_is_not_listed(tmp_path: Path) -> None:
    assert len(content_of(layered("ON"), tmp_path).images) == 1
    assert content_of(layered("OFF"), tmp_path).images == ()


def test_a_picture_in_a_tiling_pattern_is_listed_once_at_its_scale(tmp_path: Path) -> None:
    def pattern(pdf: Pdf) -> object:
        image = Stream(pdf, b"\x80" * 10_000, Type=Name.XObject, Subtype=Name.Image)
        image.Width, image.Height, image.BitsPerComponent, image.ColorSpace = 100, 100, 8, Name.DeviceGray
        cell = Stream(pdf, b"q 36 0 0 36 0 0 cm /Tile Do Q")
        cell.PatternType, cell.PaintType, cell.TilingType = 1, 1, 1
        cell.BBox, cell.XStep, cell.YStep = Array([0, 0, 36, 36]), 36, 36
        cell.Matrix = Array([2, 0, 0, 2, 0, 0])
        cell.Resources = Dictionary(XObject=Dictionary(Tile=pdf.make_indirect(image)))
        return pdf.make_indirect(cell)

    built = card().resource("Pattern", "Brick", pattern).raw(b"/Pattern cs /Brick scn 20 20 150 100 re f")
    (picture,) = content_of(built, tmp_path).images
    assert picture.ppi == pytest.approx(100, rel=1e-4), "100 pixels over 36 pt doubled by the pattern: one inch"
    assert picture.space == "DeviceGray"
    assert content_of(built, tmp_path).meets_trim.left is False


def test_a_form_that_draws_itself_is_stepped_over(tmp_path: Path) -> None:
    def loop(pdf: Pdf) -> object:
        form = Stream(pdf, b"/Self Do 1 0 0 rg 0 0 10 10 re f", Type=Name.XObject, Subtype=Name.Form)
        form.BBox = Array([0, 0, 100, 100])
        indirect = pdf.make_indirect(form)
        indirect.Resources = Dictionary(XObject=Dictionary(Self=indirect))
        return indirect

    found = content_of(card().resource("XObject", "Self", loop).raw(b"/Self Do"), tmp_path)
    assert [(use.written, use.count) for use in found.colors] == [("DeviceRGB", 1)]


def test_forms_that_multiply_without_end_are_not_followed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Ten forms deep, each drawing the next ten times: ten thousand million operators from a kilobyte."""
    monkeypatch.setattr(walker, "MOST_OPERATORS", 50_000)

    def bomb(pdf: Pdf) -> object:
        inner = pdf.make_indirect(Stream(pdf, b"0 0 1 1 re f " * 10, Subtype=Name.Form, BBox=Array([0, 0, 9, 9])))
        for _ in range(9):
            inner = pdf.make_indirect(
                Stream(pdf, b"/X Do " * 10, Subtype=Name.Form, BBox=Array([0, 0, 9, 9]), Resources={"/XObject": {"/X": inner}})
            )
        return inner

    found = content_or_reason(card().resource("XObject", "X", bomb).raw(b"/X Do"), tmp_path)
    assert isinstance(found, BeyondLimits)
    assert "50,000 drawing instructions" in found.why


def test_a_form_finds_in_the_page_what_its_own_resources_lack(tmp_path: Path) -> None:
    """Against 7.8.3 of ISO 32000-2:2020, but as readers do: the picture prints, so it is measured."""

    def form(pdf: Pdf) -> object:
        made = Stream(pdf, b"q 72 0 0 72 0 0 cm /Picture1 Do Q", Subtype=Name.Form, BBox=Array([0, 0, 99, 99]))
        made.Resources = Dictionary(Font=Dictionary())
        return pdf.make_indirect(made)

    built = card().picture(at=(60, 10, 80, 30), pixels=(72, 72)).resource("XObject", "F", form).raw(b"/F Do")
    content = content_of(built, tmp_path)
    assert [round(one.ppi) for one in content.images] == [91, 72]
    assert content.stand_ins == ()


def test_a_jpeg_is_looked_at_once_however_often_it_is_placed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    looked_at: list[bytes] = []

    def start_of_counted(data: bytes, filters: Sequence[str]) -> bytes | None:
        looked_at.append(data)
        return start_of(data, filters)

    monkeypatch.setattr(image_facts, "start_of", start_of_counted)

    def placed_everywhere(pdf: Pdf) -> None:
        data = io.BytesIO()
        PIL.Image.linear_gradient("L").save(data, "JPEG", quality=47)
        written = Stream(pdf, base64.a85encode(data.getvalue()) + b"~>", Type=Name.XObject, Subtype=Name.Image)
        written.Width, written.Height, written.BitsPerComponent, written.ColorSpace = 256, 256, 8, Name.DeviceGray
        written.Filter = Array([Name.ASCII85Decode, Name.DCTDecode])
        one = pdf.make_indirect(written)
        for sheet in pdf.pages:
            sheet.Resources.XObject = Dictionary(P=one)

    places = b"q 40 0 0 40 9 9 cm /P Do Q q 40 0 0 40 99 9 cm /P Do Q"
    document(card().raw(places), card().raw(places), card().raw(places)).also(placed_everywhere).save(tmp_path / "file.pdf")
    pages = measure(tmp_path / "file.pdf").pages
    assert not isinstance(pages, Unmeasured)
    contents = [one.content for one in pages]
    assert [len(one.images) for one in contents if isinstance(one, Content)] == [2, 2, 2]
    assert {image.jpeg_quality for one in contents if isinstance(one, Content) for image in one.images} == {47}
    assert len(looked_at) == 1
