"""A whole file measured, page by page."""

from __future__ import annotations

import zlib
from pathlib import Path

import pikepdf
import pytest

from service.pdf.facts.measurements import Measurements
from service.pdf.facts.page import Page
from service.pdf.facts.painted.content import Content
from service.pdf.facts.unknown import BeyondLimits, Unmeasured
from service.pdf.measure import measure
from service.pdf.question import Question
from tests.build import PageBuilder, document, page
from tests.pdf.by_hand import A_PAGE, CATALOG, ONE_PAGE, pages, saved, written


def measured(*made: PageBuilder, folder: Path, question: Question = Question()) -> tuple[Page, ...]:  # noqa: B008
    return pages_of(measure(document(*made).save(folder / "made.pdf"), question))


def pages_of(found: Measurements) -> tuple[Page, ...]:
    assert not isinstance(found.pages, Unmeasured)
    return found.pages


def test_a_right_card(tmp_path: Path) -> None:
    (found,) = measured(page(85, 55, bleed=3).fill(cyan=1), folder=tmp_path)
    assert (found.number, found.rotation, found.user_unit, found.trim_source) == (1, 0, 1.0, "trim_box")
    assert (found.trim_width_mm, found.trim_height_mm) == pytest.approx((85, 55), abs=1e-3)
    assert found.bleed_declared
    assert [side for _, side in found.bleed_mm.items()] == pytest.approx([3, 3, 3, 3], abs=1e-3)
    assert found.boxes_mm.media == pytest.approx((-3, -3, 88, 58), abs=1e-3)
    assert [one.name for one in found.declared_boxes] == ["media", "bleed", "trim"]
    assert isinstance(found.content, Content)
    assert [one.family for one in found.content.colors] == ["cmyk"]


@pytest.mark.parametrize("degrees", [0, 90, 180, 270])
def test_sides_are_those_of_the_page_as_displayed(degrees: int, tmp_path: Path) -> None:
    made = page(85, 55, bleed=5).box("BleedBox", (-1, -2, 85 + 3, 55 + 4)).rotated(degrees).user_unit(2)
    (found,) = measured(made, folder=tmp_path)
    assert dict(found.bleed_mm.items()) == pytest.approx({"top": 2, "right": 3, "bottom": 4, "left": 1}, abs=1e-3)
    assert found.rotation == degrees


def test_a_page_shown_on_its_side_has_its_width_across(tmp_path: Path) -> None:
    (found,) = measured(page(85, 55).rotated(90, upright=False), folder=tmp_path)
    assert (found.trim_width_mm, found.trim_height_mm) == pytest.approx((55, 85), abs=1e-3)


def test_a_page_without_trim_box_is_measured_against_the_size_asked_about(tmp_path: Path) -> None:
    plain = page(85, 55, bleed=3).without_trim_box().without_bleed_box()
    (unasked,) = measured(plain, folder=tmp_path)
    assert unasked.trim_source == "media_box"
    assert unasked.trim_width_mm == pytest.approx(91, abs=1e-3)
    (asked,) = measured(plain, folder=tmp_path, question=Question(((85, 55),)))
    assert asked.trim_source == "media_minus_bleed"
    assert asked.trim_width_mm == pytest.approx(85, abs=1e-3)
    assert not asked.bleed_declared
    assert asked.bleed_mm.left == pytest.approx(3, abs=1e-3)


def test_progress_is_told_after_each_page(tmp_path: Path) -> None:
    told: list[tuple[str, int, int]] = []
    measure(document(page(85, 55), page(85, 55)).save(tmp_path / "two.pdf"), progress=lambda *step: told.append(step))
    assert told == [("pages", 1, 2), ("pages", 2, 2)]


def test_a_locked_file_is_measured_as_locked(tmp_path: Path) -> None:
    found = measure(document(page(85, 55)).encrypted(user="secret").save(tmp_path / "locked.pdf"))
    assert found.document.failure
    assert found.document.failure.kind == "locked"
    assert found.document.size_bytes == (tmp_path / "locked.pdf").stat().st_size
    assert isinstance(found.pages, Unmeasured)


def test_a_file_that_is_not_there_is_a_problem_and_no_measurement(tmp_path: Path) -> None:
    with pytest.raises(FileNotFoundError):
        measure(tmp_path / "absent.pdf")


# --- Damage ---


def test_one_page_that_cannot_be_read_does_not_take_the_others_along(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    from service.pdf import one_page as module

    read = module.read_page
    numbers = iter((1, 2, 3))

    def second_fails(page: pikepdf.Object, *, has_size: bool) -> object:
        if next(numbers) == 2:
            raise pikepdf.PdfError("object lost")
        return read(page, has_size=has_size)

    monkeypatch.setattr(module, "read_page", second_fails)
    three = document(*(page(85, 55).fill(cyan=tint) for tint in (0.1, 0.2, 0.3)))
    found = measure(three.save(tmp_path / "three.pdf"))
    unreadable = [isinstance(one.content, Unmeasured) for one in pages_of(found)]
    assert unreadable == [False, True, False]
    assert pages_of(found)[1].declared_boxes == ()
    assert any(one.english.startswith("Page 2:") for one in found.document.damage)


def test_slips_of_many_pages_are_told_once_with_their_pages(tmp_path: Path) -> None:
    found = measure(saved(pages(*[f"{A_PAGE}/Rotate 45"] * 5, A_PAGE), tmp_path))
    (told,) = (one.english for one in found.document.damage)
    assert told.startswith("Pages 1, 2, 3 and 2 more: the Rotate")


def packed_page(data: bytes) -> bytes:
    stream = f"<</Length {len(data)}/Filter/FlateDecode>>stream\n{data.decode('latin-1')}\nendstream"
    return written(CATALOG, ONE_PAGE, f"<</Type/Page/Parent 2 0 R/Resources<<>>{A_PAGE}/Contents 4 0 R>>", stream)


PACKED = zlib.compress(b"".join(b"0 1 0 0 k %d %d 10 10 re f\n" % (step, step % 97) for step in range(300)))


@pytest.mark.parametrize(
    ("data", "measured_at_all"),
    [(PACKED, True), (PACKED[:-4], True), (PACKED[: len(PACKED) // 2], False), (PACKED[:50] + b"\xff" * 50, False)],
    ids=["whole", "checksum missing", "cut off", "not Flate from there"],
)
def test_content_that_is_cut_off_is_not_half_measured(data: bytes, measured_at_all: bool, tmp_path: Path) -> None:
    found = measure(saved(packed_page(data), tmp_path))
    assert isinstance(pages_of(found)[0].content, Content) is measured_at_all
    assert bool(found.document.damage) is (data != PACKED)


def test_an_empty_page_of_a_whole_file_is_empty(tmp_path: Path) -> None:
    (found,) = pages_of(measure(saved(pages(A_PAGE), tmp_path)))
    assert isinstance(found.content, Content)


def test_an_empty_page_of_a_file_that_lost_parts_may_not_be_empty(tmp_path: Path) -> None:
    data = pages(A_PAGE, f"{A_PAGE}/Contents 99 0 R")[:-60]
    first, second = pages_of(measure(saved(data, tmp_path)))
    assert isinstance(first.content, Unmeasured)
    assert isinstance(second.content, Unmeasured)


def test_content_of_which_a_part_cannot_be_found_is_unmeasured(tmp_path: Path) -> None:
    (found,) = pages_of(measure(saved(pages(f"{A_PAGE}/Contents[99 0 R]"), tmp_path)))
    assert isinstance(found.content, Unmeasured)


@pytest.mark.parametrize("keep", [0.2, 0.4, 0.6, 0.8, 0.95, 0.999])
def test_a_truncated_file_never_passes_as_whole(keep: float, tmp_path: Path) -> None:
    made = [page(85, 55).fill(cyan=1).text(f"Page {number}", size=8, at=(10, 10)) for number in range(3)]
    found = measure(document(*made).truncated(keep).save(tmp_path / "cut.pdf"))
    assert found.document.failure or found.document.damage


def test_a_file_of_five_thousand_pages_is_measured_to_its_end(tmp_path: Path) -> None:
    path = saved(pages(*[f"{A_PAGE}/TrimBox[10 10 190 90]"] * 5_000), tmp_path)
    told: list[int] = []
    found = measure(path, progress=lambda _stage, done, _total: told.append(done))
    assert found.document.page_count == 5_000
    assert told[-1] == 5_000


# --- Our limits, which are no damage ----------------------------------------------------------------------------------

DEEP = "[" * 600 + "]" * 600
"""qpdf reads 499 levels."""


def test_a_page_that_uses_what_is_nested_beyond_our_reach_is_not_damaged(tmp_path: Path) -> None:
    uses = f"{A_PAGE}/Contents 6 0 R/Resources<</ColorSpace<</Deep 5 0 R>>>>"
    objects = [f"<</Type/Page/Parent 2 0 R{one}>>" for one in (uses, f"{A_PAGE}/Resources<<>>")]
    stream = "<</Length 22>>stream\n/Deep cs 0 0 9 9 re f \nendstream"
    found = measure(saved(written(CATALOG, "<</Type/Pages/Kids[3 0 R 4 0 R]/Count 2>>", *objects, DEEP, stream), tmp_path))
    first, second = pages_of(found)
    assert isinstance(first.content, BeyondLimits)
    assert isinstance(second.content, Content)
    assert (found.document.failure, found.document.damage) == (None, ())


def test_a_page_that_unpacks_beyond_our_reach_is_not_damaged(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("service.pdf.reading.streams.MOST_UNPACKED_BYTES", 1_000_000)
    found = measure(page(85, 55).fill(cyan=1).raw(b" " * 3_000_000).save(tmp_path / "large.pdf"))
    (only,) = pages_of(found)
    assert isinstance(only.content, BeyondLimits)
    assert found.document.damage == ()


@pytest.mark.parametrize(
    "objects",
    [
        (CATALOG, ONE_PAGE, f"<</Type/Page/Parent 2 0 R/MediaBox[0 0 200 100]/Resources<</ColorSpace<</A {DEEP}>>>>>>"),
        (CATALOG, *(f"<</Type/Pages/Kids[{number} 0 R]/Count 1>>" for number in range(3, 600)), "<</Type/Page>>"),
    ],
    ids=["a page", "the list of pages"],
)
def test_a_file_whose_pages_are_nested_beyond_our_reach_is_over_our_limits(objects: tuple[str, ...], tmp_path: Path) -> None:
    found = measure(saved(written(*objects), tmp_path)).document
    assert found.failure is not None
    assert (found.failure.kind, found.damage) == ("limits", ())
