"""Crops for reports: the right piece of the page, all in one call, and nothing believed of what comes back."""

from __future__ import annotations

import io
import struct
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from service.pdf.facts.geometry import Box
from service.pdf.facts.unknown import Unmeasured
from service.proofs.picture.crops import draw_crops
from service.proofs.picture.crops_brief import (
    LEAST_CROP_MM,
    MOST_CROP_PIXELS,
    MOST_CROPS,
    SLIMMEST,
    THUMBNAIL_HEIGHT,
    CropsBrief,
    crop_area,
    crop_brief,
    pack_crops,
    read_crops,
    thumbnail_brief,
)
from service.proofs.picture.page_brief import AROUND_MM, Mark, picture_area
from tests.build import document, page
from tests.proofs.pictured import RUST, measured


def opened(data: bytes | None) -> np.ndarray:  # type: ignore[type-arg]
    assert data is not None
    with Image.open(io.BytesIO(data)) as image:
        return np.asarray(image)


@pytest.fixture
def card(tmp_path: Path) -> Path:
    return page(85, 55, bleed=3).fill(cyan=0.2).fill(at=(60, 40, 64, 43), magenta=1).save(tmp_path / "card.pdf")


# --- Which piece --------------------------------------------------------------------------------------------------------


def test_a_small_place_is_shown_with_its_surroundings(card: Path) -> None:
    area = crop_area(measured(card), [Box(40, 30, 42, 31)])
    assert min(area.width, area.height) >= LEAST_CROP_MM
    assert area.contains(Box(40, 30, 42, 31).grown(5))
    assert area.width < 60


def test_a_place_at_the_edge_is_shown_within_what_the_page_s_picture_shows(card: Path) -> None:
    one = measured(card)
    area = crop_area(one, [Box(-3, -3, 0, 0)])
    assert picture_area(one).contains(area)
    assert area.x0 == pytest.approx(-3 - AROUND_MM, abs=0.01)


def test_places_all_over_the_page_are_shown_on_the_whole_page(card: Path) -> None:
    one = measured(card)
    assert crop_area(one, [Box(1, 1, 2, 2), Box(80, 50, 81, 51)]) == picture_area(one)
    assert crop_area(one, []) == picture_area(one)
    assert crop_area(one, [Box(500, 500, 501, 501)]) == picture_area(one)


def test_a_long_thin_place_makes_no_splinter_of_a_picture(card: Path) -> None:
    area = crop_area(measured(card), [Box(-3, -3, 0, 58)])
    assert max(area.width, area.height) <= SLIMMEST * min(area.width, area.height) * 1.01


# --- Drawn --------------------------------------------------------------------------------------------------------------


def test_all_crops_of_a_check_come_from_one_call_each_of_its_own_page(tmp_path: Path) -> None:
    path = document(page(85, 55).fill(cyan=1), page(85, 55).fill(magenta=1)).save(tmp_path / "two.pdf")
    pages = [measured(path, number) for number in (1, 2)]
    mark = Mark(1, "must", (Box(40, 30, 46, 34),))
    crops = (crop_brief(pages[1], mark), crop_brief(pages[0], mark), thumbnail_brief(pages[1]), thumbnail_brief(pages[0]))
    brief = CropsBrief(crops)
    data = draw_crops(path, brief)
    assert isinstance(data, bytes)
    second, first, small_second, small_first = (opened(one) for one in read_crops(data, brief))
    assert first[5, 5].argmin() == small_first[9, 9].argmin() == 0  # cyan takes the red away
    assert second[5, 5].argmin() == small_second[9, 9].argmin() == 1
    assert (first == RUST).all(axis=2).any()
    assert not (small_first == RUST).all(axis=2).any()
    assert small_first.shape[0] == THUMBNAIL_HEIGHT
    assert first.shape[:2] == tuple(reversed(crops[1].size_px))


def test_a_crop_shows_its_piece_to_the_pixel(card: Path) -> None:
    one = measured(card)
    crop = replace(crop_brief(one, Mark(1, "must", ())), area_mm=Box(55, 35, 75, 50), ppi=254.0, marks=(), lines=())
    brief = CropsBrief((crop, thumbnail_brief(one)))
    data = draw_crops(card, brief)
    assert isinstance(data, bytes)
    pixels = opened(read_crops(data, brief)[0])
    assert pixels.shape == (150, 200, 3)
    rows, columns = np.nonzero(pixels[:, :, 1] < 120)
    assert (columns.min() / 10 + 55, (columns.max() + 1) / 10 + 55) == pytest.approx((60, 64), abs=0.2)
    assert (rows.min() / 10 + 35, (rows.max() + 1) / 10 + 35) == pytest.approx((40, 43), abs=0.2)


def test_a_page_that_is_not_there_leaves_the_others_be(card: Path) -> None:
    one = measured(card)
    lost = thumbnail_brief(replace(one, number=7))
    brief = CropsBrief((lost, thumbnail_brief(one)))
    data = draw_crops(card, brief)
    assert isinstance(data, bytes)
    assert [found is None for found in read_crops(data, brief)] == [True, False]


def test_what_is_too_much_is_not_made(card: Path) -> None:
    one = measured(card)
    huge = replace(thumbnail_brief(one), ppi=5000.0)
    width, height = huge.size_px
    assert width * height > MOST_CROP_PIXELS
    brief = CropsBrief((huge, *[replace(thumbnail_brief(one), ppi=10.0)] * (MOST_CROPS + 3)))
    data = draw_crops(card, brief)
    assert isinstance(data, bytes)
    made = [found is not None for found in read_crops(data, brief)]
    assert made == [False, *[True] * (MOST_CROPS - 1), *[False] * 4]


def test_no_time_left_is_no_pictures(card: Path) -> None:
    brief = CropsBrief((thumbnail_brief(measured(card)),), seconds=-1)
    data = draw_crops(card, brief)
    assert isinstance(data, bytes)
    assert read_crops(data, brief) == (None,)


def test_a_locked_file_gives_a_reason(card: Path, tmp_path: Path) -> None:
    brief = CropsBrief((thumbnail_brief(measured(card)),))
    path = document(page(85, 55).fill(cyan=1)).encrypted(user="secret").save(tmp_path / "locked.pdf")
    assert isinstance(draw_crops(path, brief), Unmeasured)


# --- The container ------------------------------------------------------------------------------------------------------


def right_ones(card: Path) -> tuple[CropsBrief, bytes]:
    brief = CropsBrief((thumbnail_brief(measured(card)),) * 2)
    data = draw_crops(card, brief)
    assert isinstance(data, bytes)
    return brief, data


def test_hostile_bytes_are_refused_as_a_whole(card: Path) -> None:
    brief, data = right_ones(card)
    one = read_crops(data, brief)[0]
    assert one is not None
    hostile = [
        b"", b"\0", data[:-1], data[: len(data) // 2], data + b"\0", data + data, b"\xff\xff\xff\xff" + data[4:],
        struct.pack(">I", len(one) + 1) + data[4:], pack_crops([one]), pack_crops([one, one, one]),
        pack_crops([b"<script>alert(1)</script>", one]), pack_crops([one, one.replace(b"IDAT", b"tEXt")]), b"\0" * 7,
    ]
    for bad in hostile:
        with pytest.raises(ValueError, match=r"PNG|cut off|more than|picture"):
            read_crops(bad, brief)


def test_a_picture_of_another_size_is_refused(card: Path) -> None:
    brief, data = right_ones(card)
    smaller = CropsBrief((brief.crops[0], replace(brief.crops[1], ppi=20.0)))
    with pytest.raises(ValueError, match="not asked for"):
        read_crops(data, smaller)


def test_none_stands_for_one_that_could_not_be_made(card: Path) -> None:
    brief, data = right_ones(card)
    one = read_crops(data, brief)[0]
    assert read_crops(pack_crops([None, one]), brief) == (None, one)
    assert read_crops(pack_crops([None, None]), brief) == (None, None)
