"""Pages as pictures: the colours of the print, the paper's end, boxes and findings where they are, the legend below."""

from __future__ import annotations

import io
from pathlib import Path

import numpy as np
import pytest
from pikepdf import Array, Dictionary, Name, Pdf
from PIL import Image, ImageCms

from service.language.spoken import speaking
from service.pdf.facts.geometry import Box
from service.pdf.facts.unknown import Unmeasured
from service.proofs.picture.ink_hues import STAND_IN
from service.proofs.picture.markers.lettering import font
from service.proofs.picture.page_brief import AROUND_MM, MOST_PIXELS, Made, picture_area, read_picture
from service.proofs.picture.page_picture import page_picture
from service.proofs.picture.printed_page import DESK
from service.proofs.plates.brief import PlatesBrief, plates_brief, read_plate
from service.proofs.plates.drawn import plate_png
from service.proofs.plates.wishes import PlatesWishes
from service.rules.catalogue import RULES
from service.sheets.model import Fold, SpecSheet
from tests.build import document, page
from tests.build_objects import separation
from tests.proofs.pictured import BLUE, CARD_SHEET, INK, RUST, Pictured, columns_of, finding
from tests.proofs.press_profile import press_profile, with_press_profile

WHITE = (255, 255, 255)


def bare(built: object, folder: Path, ppi: float = 100) -> Pictured:
    return Pictured(built, folder, ppi=ppi, shown=())  # type: ignore[arg-type]


# --- Colours ------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("ink", ["cyan", "magenta", "yellow", "black"])
def test_an_ink_looks_as_the_profile_of_the_output_intent_says(ink: str, tmp_path: Path) -> None:
    shown = bare(document(page(85, 55).fill(**{ink: 1})).also(with_press_profile), tmp_path)
    assert shown.made == Made("plates", "output intent")
    transform = ImageCms.buildTransform(
        ImageCms.ImageCmsProfile(io.BytesIO(press_profile())), ImageCms.createProfile("sRGB"), "CMYK", "RGB",
        ImageCms.Intent.RELATIVE_COLORIMETRIC, ImageCms.Flags.BLACKPOINTCOMPENSATION,
    )
    pixel = Image.new("CMYK", (1, 1), tuple(255 * (one == ink) for one in ("cyan", "magenta", "yellow", "black")))
    told = ImageCms.applyTransform(pixel, transform)
    assert told is not None
    assert shown.at(40, 30) == pytest.approx(told.getpixel((0, 0)), abs=1)


def test_without_a_profile_inks_look_as_in_a_common_reader(tmp_path: Path) -> None:
    import pypdfium2

    built = page(85, 55).fill(cyan=0.2, magenta=0.6, yellow=0.9, black=0.1)
    shown = bare(built, tmp_path)
    with pypdfium2.PdfDocument(shown.path) as pdf:
        rendered = pdf[0].render(scale=1).to_pil().convert("RGB")
    assert shown.made == Made("plates", "common reader")
    assert shown.at(40, 30) == pytest.approx(rendered.getpixel((rendered.width // 2, rendered.height // 2)), abs=2)


@pytest.mark.parametrize("rgb", [(0.5, 0.4, 0.3), (0.9, 0.8, 0.6), (0.2, 0.15, 0.1), (1, 1, 1), (0.5, 0.5, 0.5)])
def test_rgb_of_a_file_that_names_no_press_is_not_paler_than_it_was(rgb: tuple[float, ...], tmp_path: Path) -> None:
    shown = bare(page(85, 55).fill(rgb=rgb), tmp_path)
    assert shown.at(40, 30) == pytest.approx([255 * part for part in rgb], abs=6)


def test_overprint_shows_and_a_knockout_too(tmp_path: Path) -> None:
    """Yellow over cyan is green where it overprints, yellow where it does not (ISO 32000-2:2020, 8.6.7)."""
    built = page(85, 55).fill(cyan=1).fill(at=(10, 10, 30, 30), yellow=1)
    built.resource("ExtGState", "O", Dictionary(OP=True, op=True, OPM=1)).raw(b"/O gs").fill(at=(50, 10, 70, 30), yellow=1)
    shown = bare(built, tmp_path)
    (red, _, blue), (over_red, over_green, over_blue) = shown.at(20, 20), shown.at(60, 20)
    assert (red > 230, blue < 60) == (True, True)
    assert (over_red < 60, over_green > 120, over_blue < 120) == (True, True, True)


def test_a_spot_ink_looks_like_its_alternate_and_darkens_what_lies_below(tmp_path: Path) -> None:
    """The builder's alternate of a spot is its tint of process inks; PDFium shows the same in the same colour."""
    import pypdfium2

    built = page(85, 55).fill(at=(0, 0, 40, 55), spot=("Copper", 1))
    built.resource("ExtGState", "O", Dictionary(OP=True, op=True, OPM=1))
    shown = bare(built.raw(b"/O gs").fill(at=(0, 30, 85, 55), cyan=1), tmp_path)
    with pypdfium2.PdfDocument(shown.path) as pdf:
        rendered = pdf[0].render(scale=1).to_pil().convert("RGB")
    copper, cyan = shown.at(20, 10), shown.at(60, 40)
    assert copper == pytest.approx(rendered.getpixel((20, 20)), abs=3)
    assert shown.at(20, 40) == pytest.approx([one * other / 255 for one, other in zip(copper, cyan, strict=True)], abs=2)


def test_an_ink_whose_alternate_is_nowhere_to_be_found_has_a_stand_in(tmp_path: Path) -> None:
    def broken(pdf: Pdf) -> object:
        return pdf.make_indirect(Array([Name.Separation, Name.Copper, Name.DeviceCMYK, Dictionary(FunctionType=9)]))

    shown = bare(page(85, 55).resource("ColorSpace", "S", broken).raw(b"/S cs 1 scn 0 0 400 400 re f"), tmp_path)
    assert shown.at(40, 30) == pytest.approx(STAND_IN, abs=1)


def test_a_spot_inside_a_form_and_inside_devicen_is_found(tmp_path: Path) -> None:
    def device_n(pdf: Pdf) -> object:
        program = b"{ 0 exch dup 0.5 mul exch 0 }"
        function = pdf.make_stream(program, FunctionType=4, Domain=[0, 1, 0, 1], Range=[0, 1] * 4)
        names = Array([Name.Black, Name.Copper])
        return pdf.make_indirect(Array([Name.DeviceN, names, Name.DeviceCMYK, function]))

    def form(pdf: Pdf) -> object:
        keys = {"Type": Name.XObject, "Subtype": Name.Form, "BBox": [0, 0, 999, 999]}
        resources = Dictionary(ColorSpace=Dictionary(N=device_n(pdf)))
        return pdf.make_stream(b"/N cs 0 1 scn 0 0 400 400 re f", **keys, Resources=resources)

    shown = bare(page(85, 55).resource("XObject", "F", form).raw(b"/F Do"), tmp_path)
    assert shown.brief.page.inks is not None
    assert "Copper" in shown.brief.page.inks
    red, green, blue = shown.at(40, 30)
    assert (red, green, blue) != pytest.approx(STAND_IN, abs=3)
    assert red > green > blue or red != green


def test_what_a_separation_says_of_an_ink_counts_before_what_devicen_says(tmp_path: Path) -> None:
    def device_n(pdf: Pdf) -> object:
        function = pdf.make_stream(b"{ 0 0 0 }", FunctionType=4, Domain=[0, 1], Range=[0, 1] * 4)
        return pdf.make_indirect(Array([Name.DeviceN, Array([Name.Copper]), Name.DeviceCMYK, function]))

    painted = b"/%s cs 1 scn 0 0 400 400 re f"
    alone = bare(page(85, 55).resource("ColorSpace", "S", separation("Copper")).raw(painted % b"S"), tmp_path).at(40, 30)
    other = bare(page(85, 55).resource("ColorSpace", "N", device_n).raw(painted % b"N"), tmp_path).at(40, 30)
    both = page(85, 55).resource("ColorSpace", "N", device_n).resource("ColorSpace", "S", separation("Copper"))
    assert bare(both.raw(painted % b"N"), tmp_path).at(40, 30) == alone != other


def test_the_inks_hues_laid_over_one_another_look_about_like_the_page(tmp_path: Path) -> None:
    """Ink upon ink is no product of colours: solid overprints differ by up to 90 of 255, on the mean by less than 12."""
    built = page(85, 55).fill(cyan=0.3).fill(at=(10, 10, 40, 30), magenta=0.6, yellow=0.5).fill(at=(50, 20, 70, 40), black=0.8)
    built.fill(at=(20, 35, 40, 50), spot=("Copper", 0.7)).fill(at=(60, 5, 80, 15), cyan=1, magenta=1)
    shown = bare(built, tmp_path)
    brief = plates_brief(shown.page, PlatesWishes("picture", 100))
    assert isinstance(brief, PlatesBrief)
    together = np.ones((*reversed(shown.brief.frame.size_px), 3))
    for ink in brief.inks:
        one = brief.of(ink, "hue")
        data = plate_png(shown.path, one)
        assert isinstance(data, bytes), data
        with Image.open(io.BytesIO(read_plate(data, one))) as plate:
            assert plate.size == shown.brief.frame.size_px
            together *= np.asarray(plate) / 255
    paper = shown.brief.frame.pixels_within(shown.page.boxes_mm.media)
    off = np.abs(together[paper] * 255 - shown.artwork[paper])
    assert off.max() <= 90
    assert off.mean() < 12
    single = shown.brief.frame.pixels_within(Box(45, 45, 84, 54))
    assert np.abs(together[single] * 255 - shown.artwork[single]).max() <= 1


# --- Paper, size, place -------------------------------------------------------------------------------------------------


def test_where_the_paper_of_the_file_ends_the_desk_shows(tmp_path: Path) -> None:
    shown = bare(page(85, 55, bleed=0).fill(cyan=1), tmp_path)
    assert picture_area(shown.page) == pytest.approx(Box(0, 0, 85, 55).grown(AROUND_MM), abs=0.01)
    assert shown.at(-2, 20) == shown.at(87, 20) == shown.at(40, -2) == shown.at(40, 57) == DESK
    assert shown.at(0.3, 20) == shown.at(84.7, 54.7) != DESK
    slug = bare(page(85, 55, bleed=3, slug=9).fill(cyan=1), tmp_path)
    assert slug.at(-5, 20) == WHITE


@pytest.mark.parametrize("rotation", [0, 90, 180, 270])
def test_a_turned_page_stands_as_it_is_displayed(rotation: int, tmp_path: Path) -> None:
    built = page(85, 55, bleed=3).fill(at=(-3, -3, 10, 10), cyan=1).fill(at=(75, 45, 88, 58), magenta=1)
    shown = bare(built.rotated(rotation), tmp_path)
    assert shown.at(-2.5, -2.5) == shown.at(9.5, 9.5) != WHITE
    assert shown.at(87.5, 57.5) == shown.at(75.5, 45.5) != WHITE
    assert shown.at(-2.5, -2.5) != shown.at(87.5, 57.5)
    assert shown.at(11, 11) == shown.at(74, 44) == shown.at(80, 5) == WHITE
    assert shown.at(-4, 20) == DESK


def test_twice_as_fine_is_twice_as_large_and_the_same_picture(tmp_path: Path) -> None:
    built = page(85, 55).fill(cyan=1).fill(at=(10, 10, 40, 30), magenta=1)
    coarse, fine = bare(built, tmp_path), bare(built, tmp_path, ppi=200)
    assert fine.brief.frame.size_px == tuple(pytest.approx(2 * side, abs=1) for side in coarse.brief.frame.size_px)
    assert coarse.brief.frame.size_px == (round(101 / 25.4 * 100), round(71 / 25.4 * 100))
    places = [(5, 5), (25, 20), (9.5, 20), (10.5, 20), (-6, 10), (39.5, 29.5), (40.5, 30.5)]
    assert [coarse.at(*one) for one in places] == [fine.at(*one) for one in places]


def test_what_is_drawn_upon_it_and_its_legend_grow_with_the_resolution(tmp_path: Path) -> None:
    made = [Pictured(page(85, 55).fill(cyan=0.2), tmp_path, [finding(Box(20, 20, 40, 30))], ppi) for ppi in (100, 200)]
    heights = [one.pixels.shape[0] - one.artwork.shape[0] for one in made]
    assert heights[1] == pytest.approx(2 * heights[0], rel=0.1)
    edges = [columns_of(one.within(Box(36, 22, 44, 28)), RUST) for one in made]
    assert (len(edges[0]), len(edges[1])) == (2, 4)


def test_a_very_large_page_is_shown_coarser(tmp_path: Path) -> None:
    shown = bare(page(3000, 2000, bleed=0).fill(cyan=1), tmp_path, ppi=100)
    width, height = shown.brief.frame.size_px
    assert shown.brief.frame.ppi < 60
    assert width * height <= MOST_PIXELS * 1.001
    assert shown.at(1500, 1000) != WHITE


# --- Boxes --------------------------------------------------------------------------------------------------------------


def test_the_trim_line_stands_where_the_trim_is(tmp_path: Path) -> None:
    for ppi in (100, 200):
        shown = Pictured(page(85, 55).fill(cyan=0.2), tmp_path, ppi=ppi)
        columns = columns_of(shown.within(Box(-1.5, 20, 1.5, 50)), INK)
        assert len(columns) == ppi / 100
        assert -1.5 + (np.mean(columns) + 0.5) * 25.4 / ppi == pytest.approx(0, abs=25.4 / ppi)


def test_each_box_has_a_line_of_its_own_kind(tmp_path: Path) -> None:
    """Along the trim all is ink, along the bleed most, along the quiet zone less than half."""
    shown = Pictured(page(85, 55), tmp_path, shown=("boxes",), ppi=200)
    shares = {}
    for name, x_mm in {"trim": 0.0, "bleed": -3.0, "quiet": 4.0}.items():
        strip = shown.within(Box(x_mm - 0.3, 10, x_mm + 0.3, 45))
        shares[name] = float((strip == INK).all(axis=2).any(axis=1).mean())
    assert shares["trim"] == 1
    assert 0.55 < shares["bleed"] < 0.85
    assert 0.15 < shares["quiet"] < 0.5
    assert [one.style for one in shown.brief.lines] == ["bleed", "quiet", "trim"]


def test_lines_have_a_halo_so_that_they_can_be_seen_on_dark_artwork(tmp_path: Path) -> None:
    shown = Pictured(page(85, 55).fill(black=1, cyan=0.6), tmp_path, shown=("boxes",))
    assert columns_of(shown.within(Box(-1, 20, 1, 30)), WHITE)


def test_what_the_sheet_does_not_ask_for_is_not_drawn(tmp_path: Path) -> None:
    lines = [one.style for one in Pictured(page(85, 55), tmp_path, sheet=SpecSheet()).brief.lines]
    assert lines == ["bleed", "trim"]
    undeclared = page(85, 55).without_bleed_box()
    assert [one.style for one in Pictured(undeclared, tmp_path, sheet=SpecSheet()).brief.lines] == ["trim"]


def test_a_fold_is_drawn_where_the_sheet_has_it(tmp_path: Path) -> None:
    sheet = SpecSheet(folds=(Fold(at_mm=30, axis="vertical"),))
    shown = Pictured(page(85, 55), tmp_path, sheet=sheet)
    assert shown.has(INK, Box(29.5, 10, 30.5, 45))
    assert not shown.has(INK, Box(54.5, 10, 55.5, 45))


# --- Findings -----------------------------------------------------------------------------------------------------------


def test_a_place_is_outlined_and_numbered_by_its_level(tmp_path: Path) -> None:
    findings = [finding(Box(10, 10, 40, 25)), finding(Box(50, 30, 75, 45), level="should")]
    shown = Pictured(page(85, 55), tmp_path, findings)
    assert shown.has(RUST, Box(25, 8, 35, 11))
    assert not shown.has(BLUE, Box(5, 5, 44, 27))
    assert shown.has(BLUE, Box(60, 28, 70, 31))
    solid = (shown.within(Box(39, 14, 41.5, 22)) == RUST).all(axis=2).any(axis=1).mean()
    dashed = (shown.within(Box(74, 34, 76.5, 44)) == BLUE).all(axis=2).any(axis=1).mean()
    assert solid == 1
    assert 0.3 < dashed < 0.85
    assert [(one.number, one.level) for one in shown.brief.marks] == [(1, "must"), (2, "should")]


def test_what_is_wrong_in_the_bleed_is_outlined_in_the_bleed(tmp_path: Path) -> None:
    shown = Pictured(page(85, 55), tmp_path, [finding(Box(-3, 20, 0, 40))], shown=("findings",))
    rows, columns = np.nonzero((shown.artwork == RUST).all(axis=2))
    outline = columns[(rows > shown.brief.frame.px(Box(0, 25, 0, 25)).y0) & (rows < shown.brief.frame.px(Box(0, 35, 0, 35)).y0)]
    area = shown.brief.frame.area_mm
    assert area.x0 + outline.min() * 0.254 == pytest.approx(-3, abs=1.1)
    assert area.x0 + outline.max() * 0.254 == pytest.approx(0, abs=1.1)


def test_findings_keep_their_number_though_others_have_no_place_on_the_page(tmp_path: Path) -> None:
    findings = [finding(), finding(Box(0, 0, 9, 9), page=2), finding(Box(10, 10, 40, 25))]
    assert [one.number for one in Pictured(page(85, 55), tmp_path, findings).brief.marks] == [3]


def test_only_what_is_asked_for_is_drawn(tmp_path: Path) -> None:
    findings = [finding(Box(10, 10, 40, 25))]
    boxes = Pictured(page(85, 55), tmp_path, findings, shown=("boxes",))
    assert boxes.has(INK, Box(-1, 10, 1, 45))
    assert not boxes.has(RUST, Box(-7, -7, 92, 62))
    only = Pictured(page(85, 55), tmp_path, findings, shown=("findings",))
    assert only.has(RUST, Box(8, 8, 42, 27))
    assert not only.has(INK, Box(-1, 10, 1, 45))
    nothing = Pictured(page(85, 55), tmp_path, findings, shown=())
    assert nothing.pixels.shape == nothing.artwork.shape
    assert set(map(tuple, nothing.artwork.reshape(-1, 3))) == {WHITE, DESK}


# --- The legend ---------------------------------------------------------------------------------------------------------


def test_the_legend_stands_below_and_does_not_touch_the_artwork(tmp_path: Path) -> None:
    shown = Pictured(page(85, 55).fill(cyan=1), tmp_path, [finding(Box(10, 10, 40, 25))])
    height = shown.artwork.shape[0]
    below = shown.pixels[height:]
    assert (below[:8] == below[0, 0]).all()
    assert (below[:, :8] == below[0, 0]).all()
    assert (below[:, -8:] == below[0, 0]).all()
    assert (below[-8:] == below[0, 0]).all()
    assert (below == RUST).all(axis=2).any()
    plain = Pictured(page(85, 55).fill(cyan=1), tmp_path, shown=())
    assert (shown.artwork[:10] == plain.artwork[:10]).all()


def test_a_narrow_page_has_room_for_its_legend(tmp_path: Path) -> None:
    shown = Pictured(page(20, 100), tmp_path, [finding(Box(5, 10, 15, 25), rule="transparency.live")])
    assert shown.pixels.shape[1] >= 220 > shown.artwork.shape[1]


def test_the_typeface_has_every_letter_of_the_titles_and_of_german_and_french() -> None:
    from fontTools.ttLib import TTFont

    letters = "ÄÖÜäöüßÀÂÇÉÈÊËÎÏÔŒÙÛàâçéèêëîïôœùû«»‘’„“”–…×%:;,.!?()" + "".join(rule.title for rule in RULES.values())
    for bold in (False, True):
        face = TTFont(io.BytesIO(font(12, bold=bold).font_bytes))
        assert not {one for one in letters if ord(one) not in face.getBestCmap()}


def test_the_legend_is_said_in_the_language_of_whoever_asks(tmp_path: Path) -> None:
    with speaking("en"):
        labels = [one.label for one in Pictured(page(85, 55), tmp_path, [finding(Box(10, 10, 40, 25))]).brief.marks]
    assert labels == [RULES["trim.size"].title]


# --- Where there are no plates ------------------------------------------------------------------------------------------


def no_plates() -> object:
    """A function of no type that there is: no plate can be made of what it paints."""

    def unknown(pdf: Pdf) -> object:
        keys = {"ShadingType": 2, "ColorSpace": Name.DeviceCMYK, "Coords": [0, 0, 99, 99], "Function": Dictionary(FunctionType=9)}
        return pdf.make_indirect(Dictionary(**keys))

    return page(85, 55, bleed=0).fill(cyan=1).resource("Shading", "S", unknown).raw(b"q 0 0 5 5 re W n /S sh Q")


def test_a_page_without_plates_is_shown_as_a_reader_shows_it_and_says_so(tmp_path: Path) -> None:
    shown = Pictured(no_plates(), tmp_path, shown=())  # type: ignore[arg-type]
    assert shown.made == Made("rendering", "common reader")
    assert (shown.at(40, 20), shown.at(-2, 20)) == (pytest.approx((0, 174, 239), abs=3), DESK)
    with_legend = Pictured(no_plates(), tmp_path)  # type: ignore[arg-type]
    right = Pictured(page(85, 55, bleed=0).fill(cyan=1), tmp_path)
    assert with_legend.pixels.shape[0] > right.pixels.shape[0]


def test_a_file_that_needs_a_password_gives_a_reason(tmp_path: Path) -> None:
    brief = Pictured(page(85, 55), tmp_path, shown=()).brief
    path = document(page(85, 55).fill(cyan=1)).encrypted(user="secret").save(tmp_path / "locked.pdf")
    assert isinstance(page_picture(path, brief), Unmeasured)


@pytest.mark.parametrize(
    "data", [b"", b"plates; output intent\n", b"plates; my own\nx", b"\x89PNG", b"plates; common reader\n\x89PNG"]
)
def test_what_ours_would_not_draw_is_refused(data: bytes, tmp_path: Path) -> None:
    brief = Pictured(page(85, 55), tmp_path, sheet=CARD_SHEET).brief
    with pytest.raises(ValueError, match=r"PNG|made"):
        read_picture(data, brief)
