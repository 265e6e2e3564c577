"""Spreads become single pages: the same content, other boxes; what PDFium shows of a half is what it showed of the spread.

The built spreads measure whole pixels at 160 ppi (4 × 3 in a page, 1/8 in of bleed), so that pictures agree to the last bit.
"""

from __future__ import annotations

import shutil
from pathlib import Path

import numpy as np
import pikepdf
import pypdfium2 as pdfium
import pytest
from pikepdf import Array, Dictionary, Name, Pdf

from service.jobs.question import question_for
from service.pdf.facts.unknown import Unmeasured
from service.pdf.measure import measure
from service.pdf.question import Question
from service.product.spreads import double_pages
from service.proofs.single_pages.brief import cut_apart
from service.proofs.single_pages.drawn import single_pages_pdf
from service.rules.judge import judge
from service.sheets.catalogue import stored_sheets
from tests.build import PageBuilder, document, page
from tests.proofs.made_single import INCH, box, made, pages_of, pixels
from tests.sweeps import part_of

WIDTH, HEIGHT, BLEED = 4 * INCH, 3 * INCH, INCH / 8
PPI = 160


def spread(slug: float = 0) -> PageBuilder:
    """Two pages side by side, each with something of its own, and a picture across the fold."""
    built = page(2 * WIDTH, HEIGHT, bleed=BLEED, slug=slug)
    built.fill(at=(-BLEED, -BLEED, WIDTH, HEIGHT + BLEED), cyan=0.7).fill(
        at=(WIDTH, -BLEED, 2 * WIDTH + BLEED, HEIGHT + BLEED), yellow=0.6
    )
    built.picture(at=(WIDTH - 20.3, 20.2, WIDTH + 20.1, 50.4), ppi=100)
    return built.text("Halyard", 14, at=(10, 20)).text("Lane", 14, at=(WIDTH + 40, 20))


# --- Pictures -------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("rotation", [0, 90, 180, 270])
@pytest.mark.parametrize("unit", [1.0, 2.0])
def test_each_half_shows_what_its_half_of_the_spread_showed(rotation: int, unit: float, tmp_path: Path) -> None:
    path = spread().rotated(rotation).user_unit(unit).save(tmp_path / "spread.pdf")
    single = made(path, [1])
    left, right = pixels(single.data, 0), pixels(single.data, 1)
    less = 4 * 72 / unit  # a page's width less both bleeds and the neighbour's; PDFium does not heed UserUnit
    assert left.shape == right.shape == (round(3.25 * PPI / unit), round(4.25 * PPI / unit), 3)
    assert np.array_equal(left, pixels(path, 0, cut_right_pt=less))
    assert np.array_equal(right, pixels(path, 0, cut_left_pt=less))
    assert not np.array_equal(left, right)


def test_what_lies_outside_the_trim_stays_on_the_outer_sides(tmp_path: Path) -> None:
    path = spread(slug=INCH / 4).crop_marks(offset=4, length=4).save(tmp_path / "spread.pdf")
    single = made(path, [1])
    for index, cut in enumerate(({"cut_right_pt": 4 * 72 + 18}, {"cut_left_pt": 4 * 72 + 18})):
        assert np.array_equal(pixels(single.data, index), pixels(path, 0, **cut))


# --- Boxes ----------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("rotation", [0, 90, 180, 270])
@pytest.mark.parametrize("upright", [True, False])
def test_each_half_is_trimmed_to_its_page_and_bleeds_on_four_sides(rotation: int, upright: bool, tmp_path: Path) -> None:
    if not upright and rotation in (90, 270):
        built = page(HEIGHT, 2 * WIDTH, bleed=BLEED).fill(cyan=1).rotated(rotation, upright=False)
    else:
        built = spread().rotated(rotation, upright)
    single = made(built.user_unit(1.5).origin(100, -40).save(tmp_path / "spread.pdf"), [1])
    for half in single.measured():
        assert (half.trim_source, half.bleed_declared) == ("trim_box", True)
        assert [half.trim_width_mm, half.trim_height_mm] == pytest.approx([WIDTH, HEIGHT], abs=0.001)
        assert [side for _, side in half.bleed_mm.items()] == pytest.approx([BLEED] * 4, abs=0.001)
        assert half.boxes_mm.media == pytest.approx(half.boxes_mm.bleed, abs=0.001)
        assert (half.rotation, half.user_unit) == (rotation, 1.5)


def test_the_printer_s_bleed_is_taken_from_the_neighbour_even_where_the_outer_sides_have_none(tmp_path: Path) -> None:
    single = made(page(200, 100, bleed=0).fill(cyan=1).save(tmp_path / "spread.pdf"), [1], bleed_mm=3)
    left, right = single.measured()
    assert (left.bleed_mm.left, left.bleed_mm.right) == pytest.approx((0, 3), abs=0.001)
    assert (right.bleed_mm.left, right.bleed_mm.right) == pytest.approx((3, 0), abs=0.001)


def test_single_covers_and_the_order_of_pages_stay_as_they_are(tmp_path: Path) -> None:
    cover, back = page(WIDTH, HEIGHT, bleed=BLEED).fill(magenta=1), page(WIDTH, HEIGHT, bleed=BLEED).fill(black=1)
    path = document(cover, spread(), spread(), back).save(tmp_path / "brochure.pdf")
    single = made(path, [2, 3])
    with single.pdf as after, pikepdf.open(path) as before:
        assert len(after.pages) == 6
        for old, new in ((0, 0), (3, 5)):
            for name in ("MediaBox", "TrimBox", "BleedBox", "CropBox"):
                assert box(after.pages[new], name) == box(before.pages[old], name)
            assert np.array_equal(pixels(single.data, new), pixels(path, old))


def test_a_file_that_reads_from_right_to_left_has_its_right_halves_first(tmp_path: Path) -> None:
    def from_right(pdf: Pdf) -> None:
        pdf.Root.ViewerPreferences = Dictionary(Direction=Name.R2L)

    usual = made(spread().save(tmp_path / "usual.pdf"), [1])
    turned = made(document(spread()).also(from_right).save(tmp_path / "turned.pdf"), [1])
    for index in (0, 1):
        assert np.array_equal(pixels(turned.data, index), pixels(usual.data, 1 - index))


@pytest.mark.parametrize(
    ("crop", "left", "right"),
    [
        ((0, 0, 200, 100), (0, 100), (100, 200)),
        ((-3, -3, 203, 103), (-3, 103), (97, 203)),
        ((-1, 0, 201, 100), (-1, 101), (99, 201)),
    ],
)
def test_a_crop_box_shows_of_each_half_as_much_across_as_outside(
    crop: tuple[float, ...], left: tuple[float, ...], right: tuple[float, ...], tmp_path: Path
) -> None:
    built = page(200, 100).fill(cyan=1).box("CropBox", crop)  # type: ignore[arg-type]
    single = made(built.save(tmp_path / "spread.pdf"), [1])
    halves = single.measured()
    assert (halves[0].boxes_mm.crop.x0, halves[0].boxes_mm.crop.x1) == pytest.approx(left, abs=0.001)
    shown = halves[1].boxes_mm.crop
    assert (shown.x0 + 100, shown.x1 + 100) == pytest.approx(right, abs=0.001)


def test_a_box_that_is_missing_is_written_as_it_was_measured(tmp_path: Path) -> None:
    bare = page(85, 55, bleed=3).fill(cyan=1).without_trim_box().without_bleed_box()
    path, question = bare.save(tmp_path / "card.pdf"), Question(((85.0, 55.0),))
    before = pages_of(path, question)[0]
    assert before.trim_source == "media_minus_bleed"
    (after,) = made(path, [], question=question).measured()
    assert (after.trim_source, after.bleed_declared) == ("trim_box", True)
    assert after.boxes_mm.trim == pytest.approx(before.boxes_mm.trim, abs=0.001)
    assert [side for _, side in after.bleed_mm.items()] == pytest.approx([side for _, side in before.bleed_mm.items()], abs=0.001)
    assert after.boxes_mm.media.contains(after.boxes_mm.bleed, slack=0)


def test_marks_are_not_taken_for_bleed_where_no_bleed_box_says_how_deep_it_is(tmp_path: Path) -> None:
    bare = page(85, 55, bleed=3, slug=10).fill(cyan=1).crop_marks(offset=4).without_trim_box().without_bleed_box()
    path = bare.save(tmp_path / "card.pdf")
    assert pages_of(path)[0].trim_source == "crop_marks"
    (after,) = made(path, [], bleed_mm=3).measured()
    assert (after.trim_width_mm, after.trim_height_mm) == pytest.approx((85, 55), abs=0.05)
    assert [side for _, side in after.bleed_mm.items()] == pytest.approx([3] * 4, abs=0.05)


def test_an_art_box_gives_way_to_the_trim_box_that_says_the_same(tmp_path: Path) -> None:
    built = page(85, 55).fill(cyan=1).without_trim_box().box("ArtBox", (0, 0, 85, 55))
    single = made(built.save(tmp_path / "card.pdf"), [])
    assert box(single.pdf.pages[0], "ArtBox") is None
    assert single.measured()[0].trim_width_mm == pytest.approx(85, abs=0.001)


# --- What stays -----------------------------------------------------------------------------------------------------------


def test_content_is_the_same_byte_for_byte_and_shared_by_both_halves(tmp_path: Path) -> None:
    path = document(spread(), page(WIDTH, HEIGHT).fill(cyan=1)).save(tmp_path / "spread.pdf")
    single = made(path, [1]).pdf
    with pikepdf.open(path) as before:
        raw = [one.obj.Contents.read_raw_bytes() for one in before.pages]
    assert [one.obj.Contents.read_raw_bytes() for one in single.pages] == [raw[0], raw[0], raw[1]]
    assert single.pages[0].obj.Contents.objgen == single.pages[1].obj.Contents.objgen


def test_every_stream_of_the_file_is_as_it_was(tmp_path: Path) -> None:
    path = spread().save(tmp_path / "spread.pdf")
    with pikepdf.open(path) as before:
        streams = sorted(one.read_raw_bytes() for one in before.objects if isinstance(one, pikepdf.Stream))
    single = made(path, [1]).pdf
    assert sorted(one.read_raw_bytes() for one in single.objects if isinstance(one, pikepdf.Stream)) == streams


def test_the_same_question_gives_the_same_bytes(tmp_path: Path) -> None:
    path = spread().save(tmp_path / "spread.pdf")
    assert made(path, [1]).data == made(path, [1]).data


def test_inherited_attributes_reach_both_halves(tmp_path: Path) -> None:
    def inherit(pdf: Pdf) -> None:
        first = pdf.pages[0].obj
        for key in ("/MediaBox", "/Resources", "/Rotate"):
            pdf.Root.Pages[key] = first[key]
            del first[key]

    path = document(spread().rotated(90), spread().rotated(90)).also(inherit).save(tmp_path / "spread.pdf")
    single = made(path, [1, 2])
    for index in (0, 2):
        assert np.array_equal(pixels(single.data, index), pixels(path, index // 2, cut_right_pt=4 * 72))
        assert np.array_equal(pixels(single.data, index + 1), pixels(path, index // 2, cut_left_pt=4 * 72))


def test_a_claim_of_pdf_x_and_the_version_stay_and_the_file_says_what_was_changed(tmp_path: Path) -> None:
    built = document(spread()).info(GTS_PDFXVersion="PDF/X-4", Title="Halyard Lane Bakery").version("1.6")
    pdf = made(built.save(tmp_path / "spread.pdf"), [1]).pdf
    assert (str(pdf.docinfo["/GTS_PDFXVersion"]), str(pdf.docinfo["/Title"]), pdf.pdf_version) == (
        "PDF/X-4",
        "Halyard Lane Bakery",
        "1.6",
    )
    told = str(pdf.docinfo["/Changes"])
    assert "Page 1" in told
    assert "PDF/X-4" in told


# --- What cannot be ---------------------------------------------------------------------------------------------------------


def test_a_file_that_is_protected_against_changes_is_not_changed(tmp_path: Path) -> None:
    def locked(**allowed: bool) -> bytes | Unmeasured:
        built = spread().save(tmp_path / "plain.pdf")
        with pikepdf.open(built) as pdf:
            permissions = pikepdf.Permissions(**allowed)
            pdf.save(tmp_path / "locked.pdf", encryption=pikepdf.Encryption(user="", owner="owner", allow=permissions))
        brief = cut_apart(pages_of(tmp_path / "locked.pdf"), [1], None)
        return single_pages_pdf(tmp_path / "locked.pdf", brief)

    assert isinstance(locked(modify_assembly=False, modify_other=False), Unmeasured)
    free = locked(modify_assembly=True, modify_other=True)
    assert isinstance(free, bytes)


def test_a_file_of_other_pages_than_were_measured_is_refused(tmp_path: Path) -> None:
    brief = cut_apart(pages_of(spread().save(tmp_path / "one.pdf")), [1], None)
    other = document(spread(), spread()).save(tmp_path / "two.pdf")
    assert isinstance(single_pages_pdf(other, brief), Unmeasured)
    for width in (50, 500):
        assert isinstance(single_pages_pdf(page(width, 50).save(tmp_path / "other.pdf"), brief), Unmeasured)


def test_a_file_that_names_pages_it_does_not_have_is_not_passed_on_as_whole(tmp_path: Path) -> None:
    def lose(pdf: Pdf) -> None:
        pdf.Root.Pages.Kids.append(pdf.make_indirect(Array()))

    path = document(spread()).also(lose).save(tmp_path / "spread.pdf")
    assert isinstance(single_pages_pdf(path, cut_apart(pages_of(path), [1], None)), Unmeasured)


# --- The bakery's brochure --------------------------------------------------------------------------------------------------


@pytest.fixture
def brochure(bakery_order: Path, tmp_path: Path) -> Path:
    return Path(shutil.copy(bakery_order / "brochure-as-spreads.pdf", tmp_path))


def test_the_brochure_as_spreads_becomes_twelve_single_pages_that_conform(brochure: Path) -> None:
    sheet = stored_sheets()["booklet-a5-stapled"]
    assert sheet.bleed is not None
    pages = pages_of(brochure, question_for(sheet))
    spreads = double_pages(pages, sheet.trim)
    assert spreads == {2, 3, 4, 5, 6}
    data = single_pages_pdf(brochure, cut_apart(pages, spreads, sheet.bleed.minimum_mm))
    assert isinstance(data, bytes), data
    single = brochure.with_name("single.pdf")
    single.write_bytes(data)
    measured = measure(single, question_for(sheet))
    assert not isinstance(measured.pages, Unmeasured)
    assert len(measured.pages) == 12
    judgement = judge(measured, sheet)
    assert judgement.verdict == "conforming", judgement.findings
    _same_as_spreads(brochure, data)


def _same_as_spreads(brochure: Path, data: bytes) -> None:
    """PDFium shows the same of a spread that is cut to a half's box as of that half, to the last bit.

    A cover, a left and a right half; all pages where sweeps are whole.
    """
    spreads, singles = pdfium.PdfDocument(brochure), pdfium.PdfDocument(data)
    for index in part_of(range(12), one_in=5):
        half, whole = singles[index], spreads[(index + 1) // 2]
        for (x0, y0, x1, y1), size in ((half.get_trimbox(), (148, 210)), (half.get_bleedbox(), (154, 216))):
            assert ((x1 - x0) / 72 * 25.4, (y1 - y0) / 72 * 25.4) == pytest.approx(size, abs=0.001)
        whole.set_mediabox(*half.get_mediabox())
        whole.set_cropbox(*half.get_mediabox())
        assert np.array_equal(half.render(scale=0.5).to_numpy(), whole.render(scale=0.5).to_numpy()), index
    spreads.close()
    singles.close()
