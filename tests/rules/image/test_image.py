"""The resolution of pictures as placed."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from pikepdf import Dictionary, Name, Object, Pdf, Stream
from PIL import Image

from service.demo.photographs import photograph
from service.jobs.question import question_for
from service.pdf.facts.geometry import Box
from service.pdf.facts.unknown import Unmeasured
from service.pdf.measure import measure
from service.sheets.model import ImagesAsked, Resolution, SpecSheet
from tests.build import POINTS_PER_MM
from tests.build import page as built_page
from tests.rules.image.pictured import ASKED, LINE_ART, with_pictures
from tests.rules.measured import content, document, judged, only_finding, outcome, page, picture, without_content

PRINT = SpecSheet(images=ImagesAsked(contone=Resolution(minimum_ppi=200, preferred_ppi=300)))


@pytest.mark.parametrize(
    ("ppi", "levels"), [(300, []), (298.6, []), (298.4, ["should"]), (199.1, ["should"]), (198.9, ["must"]), (72, ["must"])]
)
def test_low_is_a_must_and_less_than_preferred_an_observation(ppi: float, levels: list[str]) -> None:
    _, findings = judged("image.resolution", document(with_pictures(picture(ppi))), PRINT)
    assert [one.level for one in findings] == levels


def test_low_pictures_are_one_finding_that_describes_the_worst() -> None:
    """An original of 600 × 400 pixels at 149 ppi is printed 102.3 × 68.2 mm; 300 ppi there take 1209 × 806 pixels."""
    pages = (with_pictures(picture(180), picture(149)), with_pictures(picture(190), picture(350)))
    finding = only_finding("image.resolution", document(*pages), PRINT).finding
    assert finding.measured == {"ppi": 149, "images": 3}
    assert finding.required == {"minimum_ppi": 200}
    assert finding.pages == (1, 2)
    assert "1209 × 806" in finding.remedy


def test_pictures_behind_a_dot_or_line_art_are_judged_too() -> None:
    dot, art = picture(72, pixels=(8, 8)), picture(72, kind="bilevel")
    assert outcome("image.resolution", document(with_pictures(dot, art, picture(72))), PRINT) == "not_met"


def test_a_whole_number_of_pixels_is_not_rounded_up() -> None:
    """600 × 400 pixels at 150 ppi are printed 101.6 × 67.7 mm: 300 ppi take just twice as many."""
    assert "1200 × 800" in only_finding("image.resolution", document(with_pictures(picture(150))), PRINT).finding.remedy


def test_the_lower_of_the_two_directions_counts() -> None:
    stretched = replace(picture(300), ppi_y=150.0)
    assert only_finding("image.resolution", document(with_pictures(stretched)), PRINT).finding.measured["ppi"] == 150


def test_the_place_is_what_can_be_seen_of_the_picture() -> None:
    clipped = replace(picture(100), visible_box_mm=Box(5, 5, 20, 20))
    assert only_finding("image.resolution", document(with_pictures(clipped)), PRINT).finding.places[0].box_mm == (5, 5, 20, 20)


@pytest.mark.parametrize(("pixels", "expected"), [((63, 400), "met"), ((400, 63), "met"), ((64, 64), "not_met")])
def test_tiny_pictures_are_exempt(pixels: tuple[int, int], expected: str) -> None:
    assert outcome("image.resolution", document(with_pictures(picture(72, pixels=pixels))), PRINT) == expected


@pytest.mark.parametrize("kind", ["bilevel", "mask"])
def test_line_art_has_a_rule_of_its_own(kind: str) -> None:
    assert outcome("image.resolution", document(with_pictures(picture(72, kind=kind))), PRINT) == "met"


def test_only_a_preferred_value_never_breaks_a_must() -> None:
    sheet = SpecSheet(images=ImagesAsked(contone=Resolution(preferred_ppi=300)), levels={"image.resolution": "must"})
    assert only_finding("image.resolution", document(with_pictures(picture(72))), sheet).level == "should"


def test_a_page_that_could_not_be_walked_is_not_a_pass() -> None:
    assert outcome("image.resolution", document(page(), without_content(page())), PRINT) == "not_measured"


def test_no_resolution_is_asked_for() -> None:
    for silent in (ImagesAsked(), ImagesAsked(contone=Resolution(maximum_ppi=400))):
        assert outcome("image.resolution", document(with_pictures(picture(10))), SpecSheet(images=silent)) == "not_applicable"


def test_a_picture_squeezed_to_nothing_does_not_break_the_rule() -> None:
    flat = replace(picture(100), ppi_x=float("inf"))
    assert only_finding("image.resolution", document(with_pictures(flat)), PRINT).finding.measured["ppi"] == 100


def test_a_page_is_named_once() -> None:
    low = content(images=(picture(150), picture(120)))
    assert only_finding("image.resolution", document(page(content=low)), PRINT).finding.message.count("page 1") == 1


# --- Line art ---


@pytest.mark.parametrize(("ppi", "levels"), [(1200, []), (1195, []), (1193, ["should"]), (598, ["should"]), (596, ["must"])])
@pytest.mark.parametrize("kind", ["bilevel", "mask"])
def test_line_art_wants_more_pixels(kind: str, ppi: float, levels: list[str]) -> None:
    _, findings = judged("image.resolution-bilevel", document(with_pictures(picture(ppi, kind=kind))), LINE_ART)
    assert [found.level for found in findings] == levels


def test_photographs_and_dots_are_no_line_art() -> None:
    photograph, dot = picture(72), picture(72, pixels=(63, 400), kind="mask")
    assert outcome("image.resolution-bilevel", document(with_pictures(photograph, dot)), LINE_ART) == "met"


def test_line_art_that_is_not_asked_for_or_not_seen() -> None:
    assert outcome("image.resolution-bilevel", document(with_pictures(picture(72, kind="mask"))), ASKED) == "not_applicable"
    assert outcome("image.resolution-bilevel", document(without_content(page())), LINE_ART) == "not_measured"


# --- Gradients that became pictures -----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("step", "levels"),
    [
        (0.78, ["should"]),  # two steps of 255
        (1.18, ["should"]),  # 1 %, either pixel rounded
        (1.57, ["must"]),
        (100.0, ["must"]),  # a photograph, or drawing with edges
        (0.0, []),  # one flat colour, stretched: there is nothing to see
        (Unmeasured("The pixels of this picture were not all looked at."), ["must"]),
    ],
)
def test_a_coarse_picture_of_a_smooth_tone_is_an_observation(step: float | Unmeasured, levels: list[str]) -> None:
    coarse = picture(11, pixels=(91, 128), step_percent=step)
    for sheet in (PRINT, replace(PRINT, levels={"image.resolution": "must"})):
        _, findings = judged("image.resolution", document(with_pictures(coarse)), sheet)
        assert [one.level for one in findings] == levels


def test_what_is_told_of_smooth_tones_stands_beside_the_coarse_photograph() -> None:
    tones = (picture(22, step_percent=0.4), picture(11, step_percent=0.8))
    measured = document(with_pictures(*tones), with_pictures(picture(72, step_percent=30.0)))
    photograph, smooth = (one.finding for one in judged("image.resolution", measured, PRINT)[1])
    assert (photograph.measured, photograph.pages) == ({"ppi": 72, "images": 1}, (2,))
    assert (smooth.measured, smooth.pages) == ({"ppi": 11, "images": 2, "step_percent": 0.8}, (1,))
    assert smooth.required == {"minimum_ppi": 200}


def test_of_a_smooth_tone_no_more_pixels_are_wished_for() -> None:
    assert outcome("image.resolution", document(with_pictures(picture(250, step_percent=0.8))), PRINT) == "met"
    assert outcome("image.resolution", document(with_pictures(picture(250, step_percent=4.0))), PRINT) == "not_met"


@pytest.mark.parametrize("step", [0.0, 0.8])
def test_line_art_is_judged_by_its_pixels_alone(step: float) -> None:
    stencil = picture(72, kind="bilevel", step_percent=step)
    assert only_finding("image.resolution-bilevel", document(with_pictures(stencil)), LINE_ART).level == "must"


@pytest.mark.parametrize(("shown", "levels"), [("gradient", ["should"]), ("photograph", ["must"]), ("flat colour", [])])
def test_what_an_export_made_a_picture_of_at_eleven_ppi(shown: str, levels: list[str], tmp_path: Path) -> None:
    """91 × 128 pixels all over an A4 page with its bleed."""
    tones = np.linspace((250, 200, 140), (90, 60, 200), 128)[:, np.newaxis].repeat(91, axis=1)
    drawn = {
        "gradient": Image.fromarray(tones.round().astype(np.uint8)),
        "photograph": photograph("boule", 910, 1280).convert("RGB").resize((91, 128)),
        "flat colour": Image.new("RGB", (91, 128), (250, 200, 140)),
    }[shown]

    def made(pdf: Pdf) -> Object:
        keys = {"Width": 91, "Height": 128, "BitsPerComponent": 8, "ColorSpace": Name.DeviceRGB}
        return pdf.make_indirect(Stream(pdf, drawn.tobytes(), Dictionary(Type=Name.XObject, Subtype=Name.Image, **keys)))

    across, down = 216 * POINTS_PER_MM, 303 * POINTS_PER_MM
    flyer = built_page(210, 297, bleed=3).resource("XObject", "P", made).raw(b"q %.3f 0 0 %.3f 0 0 cm /P Do Q" % (across, down))
    measured = measure(flyer.text("Open", size=24, at=(40, 60)).save(tmp_path / "flyer.pdf"), question_for(PRINT))
    assert [one.level for one in judged("image.resolution", measured, PRINT)[1]] == levels
