"""The client preview: what stays, what becomes lighter, what does not leave the house."""

from __future__ import annotations

import io
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest
from pikepdf import Array, Dictionary, Name, Pdf, Stream, String
from PIL import Image

from service.pdf.facts.unknown import Unmeasured
from service.proofs.preview.brief import preview_brief
from service.proofs.preview.drawn import LEAST_PPI, preview_pdf
from service.proofs.preview.wishes import PreviewWishes
from service.rules.judge import judge
from service.sheets.catalogue import stored_sheets
from service.sheets.model import SpecSheet
from tests.build import PageBuilder, document, drawing, page
from tests.proofs.made_preview import Preview, differing, pages_of, trimmed

PT = 72 / 25.4
EDGES = 0.03
"""Which part of the pixels may differ: the trim line falls between pixels, and edges are anti-aliased elsewhere."""


def leaf(number: int) -> PageBuilder:
    """A5, cyan to the bleed, its number as text, a mark of another place on each side."""
    built = page(148, 210, bleed=3, slug=8).fill(cyan=0.1 * number).crop_marks()
    return built.fill(at=(10, 20, 60, 50), rgb=(0.9, 0.2, 0.1)).text(f"Page {number}", size=14, at=(80, 40))


# --- Cut, arranged ------------------------------------------------------------------------------------------------------


def test_a_page_is_cut_to_its_trim_and_looks_as_it_did(tmp_path: Path) -> None:
    path = leaf(3).save(tmp_path / "leaf.pdf")
    made = Preview(path)
    assert differing(made.shown(), trimmed(path)) < EDGES
    found = made.measured().pages
    assert not isinstance(found, Unmeasured)
    assert (found[0].trim_width_mm, found[0].trim_height_mm) == (pytest.approx(148, abs=0.01), pytest.approx(210, abs=0.01))
    assert found[0].boxes_mm.media == pytest.approx((0, 0, 148, 210), abs=0.01)


@pytest.mark.parametrize(
    "change",
    [
        lambda one: one.rotated(90), lambda one: one.rotated(180), lambda one: one.rotated(270),
        lambda one: one.rotated(90, upright=False), lambda one: one.user_unit(2), lambda one: one.origin(-300, 700),
    ],
)
def test_rotation_unit_and_origin_are_honoured(change: Callable[[PageBuilder], PageBuilder], tmp_path: Path) -> None:
    path = change(leaf(3)).save(tmp_path / "leaf.pdf")
    shown = Preview(path).shown()
    expected = trimmed(path)
    if expected.shape[0] < 0.7 * shown.shape[0]:  # PDFium leaves UserUnit to the viewer
        expected = trimmed(path, ppi=144)
    assert differing(shown, expected) < EDGES


def test_facing_pages_stand_side_by_side_without_their_bleed(tmp_path: Path) -> None:
    path = document(*(leaf(number) for number in range(1, 5))).save(tmp_path / "booklet.pdf")
    made = Preview(path, "spreads")
    with Pdf.open(io.BytesIO(made.bytes)) as pdf:
        widths = [float(one.MediaBox[2]) for one in pdf.pages]
    assert widths == pytest.approx([148 * PT, 296 * PT, 148 * PT], abs=0.01)
    spread = made.shown(2)
    middle = round(148 * PT)
    assert differing(spread[:, : middle - 1], trimmed(path, 2)[:, : middle - 1]) < EDGES
    assert differing(spread[:, middle + 1 :], trimmed(path, 3)[:, : spread.shape[1] - middle - 1]) < EDGES * 2
    assert made.text(2).split() == ["Page", "2", "Page", "3"]


def test_a_pattern_keeps_its_place_on_a_right_hand_page(tmp_path: Path) -> None:
    def tiles(pdf: Pdf) -> Stream:
        keys = Dictionary(PatternType=1, PaintType=1, TilingType=1, BBox=Array([0, 0, 40, 40]), XStep=40, YStep=40)
        keys.Resources = Dictionary()
        return pdf.make_indirect(Stream(pdf, b"1 0 0 rg 0 0 20 20 re f", keys))

    patterned = leaf(3).resource("Pattern", "Tiles", tiles).raw(b"/Pattern cs /Tiles scn 60 60 300 400 re f")
    path = document(leaf(1), leaf(2), patterned).save(tmp_path / "booklet.pdf")
    spread, alone = Preview(path, "spreads").shown(2), trimmed(path, 3)
    middle = round(148 * PT)
    assert differing(spread[:, middle + 1 :], alone[:, : spread.shape[1] - middle - 1], by=60) < 0.06


# --- What is kept ---------------------------------------------------------------------------------------------------------


def test_text_stays_text_with_one_font_for_all_pages_and_a_watermark_does_not_mix_with_it(tmp_path: Path) -> None:
    path = document(leaf(1), leaf(2)).save(tmp_path / "two.pdf")
    made = Preview(path, watermark="For approval")
    assert (made.text(1).strip(), made.text(2).strip()) == ("Page 1", "Page 2")
    assert made.unpacked().count(b"/Length1") == 1
    assert differing(made.shown(1), trimmed(path)) > EDGES


def test_a_picture_gets_the_pixels_of_its_largest_showing_and_is_stored_once(tmp_path: Path) -> None:
    built = page(148, 210).picture(at=(0, 0, 100, 100), ppi=300, jpeg_quality=95)
    again = b"q %.3f 0 0 %.3f 20 20 cm /Picture1 Do Q" % (30 * PT, 30 * PT)
    path = built.raw(again).save(tmp_path / "picture.pdf")
    made = Preview(path, ppi=100)
    (image,) = made.images()
    assert (image.Width, image.Height) == (394, 394)
    assert (image.ColorSpace, image.Filter) == ("/DeviceRGB", "/DCTDecode")


def test_a_picture_is_never_made_finer_than_it_is(tmp_path: Path) -> None:
    path = page(85, 55).picture(at=(0, 0, 85, 55), pixels=(40, 26), color="rgb").save(tmp_path / "coarse.pdf")
    made = Preview(path, ppi=300)
    (image,) = made.images()
    assert (image.Width, image.Height) == (40, 26)


def test_line_art_keeps_every_pixel_and_its_two_colours(tmp_path: Path) -> None:
    built = page(85, 55).picture(at=(5, 5, 40, 40), ppi=1200, color="gray", bits=1)
    path = built.picture(at=(45, 5, 80, 40), ppi=1200, stencil=True).save(tmp_path / "art.pdf")
    made = Preview(path)
    assert {(int(one.Width), int(one.BitsPerComponent)) for one in made.images()} == {(1654, 1)}
    assert differing(made.shown(), trimmed(path)) < EDGES


@pytest.mark.parametrize("color", ["cmyk", "rgb", "gray", "lab", "indexed", "Copper"])
def test_pictures_of_every_space_look_as_they_did(color: str, tmp_path: Path) -> None:
    path = page(85, 55).picture(at=(-3, -3, 88, 58), ppi=200, color=color, soft_mask=color == "rgb").save(tmp_path / "p.pdf")
    made, expected = Preview(path, quality=90).shown(ppi=36), trimmed(path, ppi=36)
    assert differing(made, expected, by=40) < 0.05


def test_spot_inks_and_process_inks_look_as_in_a_common_reader(tmp_path: Path) -> None:
    built = page(85, 55).fill(cyan=0.8, magenta=0.3, black=0.1).fill(at=(10, 10, 40, 30), spot=("Copper", 0.7))
    path = built.fill(at=(50, 10, 80, 30), lab=(60, 40, 20)).save(tmp_path / "inks.pdf")
    made = Preview(path)
    assert differing(made.shown(), trimmed(path), by=4) < EDGES
    content = made.unpacked()
    assert b" k\n" not in content
    assert b"/Separation" not in content


def test_a_light_jpeg_stays_as_it_is_without_what_the_camera_wrote(tmp_path: Path) -> None:
    photo = io.BytesIO()
    notes = Image.Exif()
    notes[0x010E] = "taken at home"
    Image.linear_gradient("L").resize((200, 130)).convert("RGB").save(photo, "JPEG", quality=40, exif=notes.tobytes())

    def placed(pdf: Pdf) -> Stream:
        image = Stream(pdf, photo.getvalue(), Type=Name.XObject, Subtype=Name.Image, ColorSpace=Name.DeviceRGB)
        image.Width, image.Height, image.BitsPerComponent, image.Filter = 200, 130, 8, Name.DCTDecode
        return pdf.make_indirect(image)

    path = page(85, 55).resource("XObject", "P", placed).raw(b"q 200 0 0 130 20 20 cm /P Do Q").save(tmp_path / "photo.pdf")
    made = Preview(path, ppi=300)
    (image,) = made.images()
    data = image.read_raw_bytes()
    assert b"taken at home" in photo.getvalue()
    assert b"taken at home" not in data
    assert photo.getvalue().endswith(data[-500:])


# --- What does not leave ---------------------------------------------------------------------------------------------------


def test_scripts_attachments_hidden_layers_and_metadata_stay_at_home(tmp_path: Path) -> None:
    def private(pdf: Pdf) -> None:
        layer = pdf.make_indirect(Dictionary(Type=Name.OCG, Name=String("Notes")))
        pdf.Root.OCProperties = Dictionary(OCGs=Array([layer]), D=Dictionary(OFF=Array([layer])))
        pdf.pages[0].Resources.Properties = Dictionary(Notes=layer)
        pdf.attachments["costs.txt"] = b"margin 40 percent"
        pdf.Root.OpenAction = Dictionary(S=Name.JavaScript, JS=String("app.alert(1)"))
        with pdf.open_metadata(update_docinfo=False) as xmp:
            xmp["dc:creator"] = ["Somebody at the studio"]
        link = Dictionary(
            Type=Name.Annot,
            Subtype=Name.Link,
            Rect=Array([0, 0, 50, 50]),
            A=Dictionary(S=Name.URI, URI=String("http://x.example")),
        )
        pdf.pages[0].Annots = Array([pdf.make_indirect(link)])

    built = leaf(1).raw(b"/OC /Notes BDC BT /Vera 9 Tf 90 90 Td (too dear) Tj ET EMC")
    path = document(built).info(Title="Our bread", Author="Somebody", Creator="A program").also(private).save(tmp_path / "p.pdf")
    made = Preview(path)
    content = made.unpacked()
    for secret in (
        b"too dear",
        b"margin 40",
        b"app.alert",
        b"Somebody",
        b"A program",
        b"x.example",
        b"/OCProperties",
        b"/Annots",
    ):
        assert secret not in content, secret
    with Pdf.open(io.BytesIO(made.bytes)) as pdf:
        assert set(pdf.docinfo.keys()) == {"/Title", "/Changes"}
        assert set(pdf.Root.keys()) == {"/Type", "/Pages"}
        assert str(pdf.docinfo.Title) == "Our bread"


# --- How large ---------------------------------------------------------------------------------------------------------------


def noise(folder: Path, pages: int = 2) -> Path:
    """Pictures that compress badly."""
    pixels = np.random.default_rng(7).integers(0, 255, (900, 900, 3), np.uint8)

    def make(pdf: Pdf) -> Stream:
        image = Stream(pdf, pixels.tobytes(), Type=Name.XObject, Subtype=Name.Image, ColorSpace=Name.DeviceRGB)
        image.Width, image.Height, image.BitsPerComponent = 900, 900, 8
        return pdf.make_indirect(image)

    built = [page(100, 100).resource("XObject", "N", make).raw(b"q 283 0 0 283 8 8 cm /N Do Q") for _ in range(pages)]
    return document(*built).save(folder / "noise.pdf")


def test_pictures_are_made_coarser_until_the_file_fits(tmp_path: Path) -> None:
    path = noise(tmp_path)
    free = Preview(path, ppi=200, quality=90)
    limit = len(free.bytes) // 4
    bound = Preview(path, ppi=200, quality=90, maximum_size=str(limit))
    assert 0.7 * limit < len(bound.bytes) <= limit
    assert min(int(one.Width) for one in bound.images()) >= LEAST_PPI * 100 / 25.4 - 1
    assert "ppi, JPEG quality 90" not in bound.changes


def test_a_size_that_no_legible_picture_fits_is_refused_with_the_smallest(tmp_path: Path) -> None:
    path = noise(tmp_path)
    made = preview_pdf(path, preview_brief(pages_of(path), SpecSheet(), PreviewWishes(maximum_size="10 kB")))
    assert isinstance(made, Unmeasured)
    assert "kB" in made.why


def test_a_preview_conforms_to_the_sheet_for_previews(tmp_path: Path) -> None:
    path = leaf(2).picture(at=(-3, 100, 151, 213), ppi=300, jpeg_quality=95).save(tmp_path / "leaf.pdf")
    judged = judge(Preview(path).measured(), stored_sheets()["client-preview"])
    assert judged.verdict == "conforming", [one.finding.message for one in judged.findings]


def test_the_same_wishes_give_the_same_bytes(tmp_path: Path) -> None:
    path = leaf(2).picture(at=(0, 0, 30, 30)).save(tmp_path / "leaf.pdf")
    assert Preview(path).bytes == Preview(path).bytes


# --- What cannot be rewritten --------------------------------------------------------------------------------------------------


def test_a_page_with_a_damaged_picture_is_drawn_as_one_and_named(tmp_path: Path) -> None:
    def cut_off(pdf: Pdf) -> Stream:
        image = Stream(pdf, b"\xff\xd8\xff\xe0 cut", Type=Name.XObject, Subtype=Name.Image, ColorSpace=Name.DeviceRGB)
        image.Width, image.Height, image.BitsPerComponent, image.Filter = 100, 100, 8, Name.DCTDecode
        return pdf.make_indirect(image)

    broken = leaf(2).resource("XObject", "Cut", cut_off).raw(b"q 50 0 0 50 90 90 cm /Cut Do Q")
    path = document(leaf(1), broken).save(tmp_path / "broken.pdf")
    made = Preview(path)
    assert "Page 2 is drawn as a picture" in made.changes
    assert "Page 1" not in made.changes
    assert (made.text(1).strip(), made.text(2).strip()) == ("Page 1", "")
    assert differing(made.shown(2), trimmed(path, 2), by=60) < EDGES


def test_a_locked_file_has_no_preview_but_a_reason(tmp_path: Path) -> None:
    brief = preview_brief(pages_of(leaf(1).save(tmp_path / "open.pdf")), SpecSheet(), PreviewWishes())
    made = preview_pdf(document(leaf(1)).encrypted(user="secret").save(tmp_path / "locked.pdf"), brief)
    assert isinstance(made, Unmeasured)
    assert "password" in made.why


def test_pictures_in_forms_get_hardly_more_pixels_than_they_show(tmp_path: Path) -> None:
    inner = drawing(60, 60).picture(at=(0, 0, 60, 60), ppi=600)
    path = page(148, 210).form(inner, at=(10, 10), scale=0.53).save(tmp_path / "form.pdf")
    made = Preview(path, ppi=100)
    (image,) = made.images()
    shown = 60 * 0.53 / 25.4 * 100
    assert shown <= image.Width <= shown * 1.2
