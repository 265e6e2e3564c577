"""Plates as pictures: what is white, what is black, and what they are cut to."""

from __future__ import annotations

import io
from pathlib import Path

import numpy as np
import numpy.typing as npt
import pytest
from pikepdf import Dictionary, Name
from PIL import Image

from service.pdf.facts.geometry import Box
from service.pdf.facts.unknown import Unmeasured
from service.pdf.measure import measure
from service.pdf.plates.separation import MOST_PIXELS
from service.proofs.plates.brief import PlatesBrief, PlatesTold, grey_png, plates_brief, told_from_json
from service.proofs.plates.drawn import plate_png, plates_told
from service.proofs.plates.wishes import PlatesArea, PlatesWishes
from tests.build import PageBuilder, document, page

CARD = Box(0, 0, 85, 55)


def card() -> PageBuilder:
    """Cyan to the bleed's edge; a copper box that knocks it out."""
    return page(85, 55, bleed=3).fill(cyan=1).fill(at=(10, 10, 40, 30), spot=("Copper", 0.7))


class Proofs:
    """The plates of one built page."""

    def __init__(self, built: PageBuilder, folder: Path, area: PlatesArea = "bleed", ppi: float = 100) -> None:
        self.path = built.save(folder / "page.pdf")
        pages = measure(self.path).pages
        assert not isinstance(pages, Unmeasured)
        brief = plates_brief(pages[0], PlatesWishes(area, ppi))
        assert isinstance(brief, PlatesBrief)
        self.brief = brief

    @property
    def told(self) -> PlatesTold:
        data = plates_told(self.path, self.brief)
        assert isinstance(data, bytes), data
        return told_from_json(data, self.brief.inks)

    def picture(self, ink: str | None) -> npt.NDArray[np.uint8]:
        """Grey levels, row by row."""
        data = plate_png(self.path, self.brief.of(ink))
        assert isinstance(data, bytes), data
        with Image.open(io.BytesIO(grey_png(data))) as image:
            assert image.mode == "L"
            assert image.info["dpi"][0] == pytest.approx(self.brief.ppi, abs=0.1)
            return np.asarray(image)


def at(picture: npt.NDArray[np.uint8], told: PlatesTold, x_mm: float, y_mm: float) -> int:
    """The grey at that place of the ruler."""
    area = told.area_mm
    rows, columns = picture.shape
    return int(picture[int((y_mm - area.y0) * rows / area.height), int((x_mm - area.x0) * columns / area.width)])


def test_full_tint_is_black_paper_is_white_and_a_tint_is_grey_between(tmp_path: Path) -> None:
    proofs = Proofs(card(), tmp_path)
    cyan, copper, told = proofs.picture("Cyan"), proofs.picture("Copper"), proofs.told
    assert (at(cyan, told, 5, 5), at(copper, told, 5, 5)) == (0, 255)
    assert (at(cyan, told, 25, 20), at(copper, told, 25, 20)) == (255, pytest.approx(255 * 0.3, abs=1))


def test_black_in_the_map_of_total_ink_is_four_full_inks_on_every_page(tmp_path: Path) -> None:
    built = card().fill(at=(50, 10, 70, 30), cyan=1, magenta=1, yellow=1, black=1)
    proofs = Proofs(built.fill(at=(50, 35, 70, 45), cyan=1, magenta=1), tmp_path)
    total, told = proofs.picture(None), proofs.told
    assert at(total, told, 5, 5) == pytest.approx(255 * (1 - 100 / 400), abs=1)
    assert at(total, told, 25, 20) == pytest.approx(255 * (1 - 70 / 400), abs=1)
    assert at(total, told, 60, 20) == 0
    assert at(total, told, 60, 40) == pytest.approx(255 * (1 - 200 / 400), abs=1)
    assert told.highest_percent == pytest.approx(400, abs=0.1)


def test_spots_on_top_of_four_full_inks_stay_black(tmp_path: Path) -> None:
    """They overprint, so that all five stack up (ISO 32000-2:2020, 8.6.7)."""
    built = page(85, 55).fill(cyan=1, magenta=1, yellow=1, black=1)
    built.resource("ExtGState", "O", Dictionary(OP=True, op=True, OPM=1)).raw(b"/O gs").fill(spot=("Copper", 1))
    proofs = Proofs(built, tmp_path)
    assert proofs.told.highest_percent == pytest.approx(500, abs=0.1)
    assert proofs.picture(None).max() == 0


def test_coverage_is_the_mean_over_the_trimmed_page_whatever_is_shown(tmp_path: Path) -> None:
    """The copper box is 30 × 20 mm of 85 × 55; the cyan is the rest."""
    share = 30 * 20 / (85 * 55)
    for area in ("bleed", "trim", "media"):
        coverage = Proofs(card(), tmp_path, area).told.coverage_percent
        assert coverage["Copper"] == pytest.approx(70 * share, abs=0.3)
        assert coverage["Cyan"] == pytest.approx(100 * (1 - share), abs=0.5)


@pytest.mark.parametrize(("area", "width_mm", "height_mm"), [("trim", 85, 55), ("bleed", 91, 61), ("media", 107, 77)])
@pytest.mark.parametrize("rotation", [0, 90])
def test_a_plate_is_cut_to_what_was_asked(
    area: PlatesArea, width_mm: float, height_mm: float, rotation: int, tmp_path: Path
) -> None:
    built = page(85, 55, bleed=3, slug=8).fill(cyan=1).rotated(rotation)
    proofs = Proofs(built, tmp_path, area, ppi=150)
    told, picture = proofs.told, proofs.picture("Cyan")
    assert picture.shape == (told.height_px, told.width_px)
    pixel_mm = 25.4 / 150
    assert (told.area_mm.width, told.area_mm.height) == (
        pytest.approx(width_mm, abs=2 * pixel_mm),
        pytest.approx(height_mm, abs=2 * pixel_mm),
    )
    assert told.area_mm.contains(proofs.brief.area_mm, slack=0.011 * pixel_mm)
    assert (at(picture, told, 1, 1), at(picture, told, 84, 54)) == (0, 0)
    assert (picture[0, 0] == 255) == (area == "media")


def test_a_page_without_ink_has_no_plates_and_a_white_map(tmp_path: Path) -> None:
    proofs = Proofs(page(85, 55), tmp_path)
    assert proofs.brief.inks == ()
    assert (proofs.told.highest_percent, dict(proofs.told.coverage_percent)) == (0, {})
    picture = proofs.picture(None)
    assert picture.min() == 255
    assert picture.shape == (proofs.told.height_px, proofs.told.width_px) == (241, 359)


def test_converted_colours_are_told_as_such(tmp_path: Path) -> None:
    told = Proofs(page(85, 55).fill(rgb=(1, 0, 0)), tmp_path).told
    assert told.conversion is not None
    assert list(told.coverage_percent) == ["Cyan", "Magenta", "Yellow", "Black"]
    assert Proofs(card(), tmp_path).told.conversion is None


def test_one_ink_alone_has_the_same_plate_as_among_all(tmp_path: Path) -> None:
    """A non-separable blend mode mixes cyan, magenta and yellow (ISO 32000-2:2020, 11.3.5.3): none of them may be left out."""
    built = page(85, 55).fill(cyan=0.8, magenta=0.2).fill(at=(0, 0, 20, 20), spot=("Copper", 0.5))
    built.resource("ExtGState", "H", Dictionary(BM=Name.Hue)).raw(b"/H gs").fill(at=(20, 10, 60, 40), yellow=0.9)
    proofs = Proofs(built, tmp_path)
    told, trimmed = proofs.told, Proofs(built, tmp_path, "trim")
    for ink in proofs.brief.inks:
        alone = (255 - trimmed.picture(ink)).mean() / 2.55
        assert alone == pytest.approx(told.coverage_percent[ink], abs=0.5), ink


def test_a_very_large_page_is_made_coarser_and_says_so(tmp_path: Path) -> None:
    proofs = Proofs(page(2000, 1500, bleed=0).fill(cyan=1), tmp_path, ppi=300)
    told = proofs.told
    assert told.ppi < 120
    assert told.width_px * told.height_px <= MOST_PIXELS * 1.01


def test_a_file_that_needs_a_password_gives_a_reason(tmp_path: Path) -> None:
    path = document(card()).encrypted(user="secret").save(tmp_path / "locked.pdf")
    brief = PlatesBrief(1, ("Cyan",), CARD, CARD, CARD, 100.0)
    assert isinstance(plate_png(path, brief), Unmeasured)
    assert isinstance(plates_told(path, brief), Unmeasured)


def test_a_page_that_is_not_there_gives_a_reason(tmp_path: Path) -> None:
    path = card().save(tmp_path / "card.pdf")
    assert isinstance(plate_png(path, PlatesBrief(7, ("Cyan",), CARD, CARD, CARD, 100.0)), Unmeasured)
