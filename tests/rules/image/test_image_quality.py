"""What was done to pictures: too many pixels, hard compression, stretching, stand-ins."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

import pytest

from service.pdf.facts.geometry import Box
from service.pdf.facts.images import Image, StandIn
from service.pdf.facts.page import Page
from service.pdf.facts.unknown import Unmeasured
from service.sheets.model import ImagesAsked, Resolution, SpecSheet
from tests.facts import fact
from tests.rules.measured import content, document, judged, only_finding, outcome, page, picture, without_content

ASKED = SpecSheet(images=ImagesAsked(contone=Resolution(minimum_ppi=200, preferred_ppi=300)))
LIMITED = SpecSheet(images=ImagesAsked(contone=Resolution(preferred_ppi=300, maximum_ppi=400)))
LINE_ART = SpecSheet(images=ImagesAsked(bilevel=Resolution(minimum_ppi=600, preferred_ppi=1200)))
SILENT = SpecSheet()


def with_pictures(*pictures: Image, stand_ins: Iterable[StandIn] = ()) -> Page:
    return page(content=replace(content(images=pictures), stand_ins=tuple(stand_ins)))


def one(**changes: object) -> Page:
    return with_pictures(replace(picture(), **changes))  # type: ignore[arg-type]


@pytest.mark.parametrize("rule_id", ["image.compression", "image.distorted", "image.proxy"])
def test_standing_rules_on_a_right_page_and_on_one_that_nobody_saw(rule_id: str) -> None:
    assert outcome(rule_id, document(with_pictures(picture(), picture(200))), SILENT) == "met"
    assert outcome(rule_id, document(without_content(page())), SILENT) == "not_measured"


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


# --- Too many pixels ---


@pytest.mark.parametrize(
    ("ppi", "pixels", "expected"),
    [(450, (600, 600), "met"), (452, (600, 600), "met"), (453, (600, 600), "not_met"), (900, (400, 400), "met")],
)
def test_more_pixels_than_print_can_show(ppi: float, pixels: tuple[int, int], expected: str) -> None:
    """450 ppi is the common limit, and a small picture is no burden."""
    assert outcome("image.excess", document(with_pictures(picture(ppi, pixels=pixels))), ASKED) == expected


def test_the_sheets_own_maximum_counts_for_small_pictures_too() -> None:
    found = only_finding("image.excess", document(with_pictures(picture(405, pixels=(100, 100)))), LIMITED)
    assert (found.level, found.finding.required) == ("should", {"maximum_ppi": 400})
    assert outcome("image.excess", document(with_pictures(picture(401, pixels=(100, 100)))), LIMITED) == "met"


def test_excess_is_a_remark_even_where_the_block_is_a_must() -> None:
    strict = SpecSheet(images=ImagesAsked(contone=Resolution(minimum_ppi=200), level="must"))
    assert only_finding("image.excess", document(with_pictures(picture(600, pixels=(900, 900)))), strict).level == "should"


def test_line_art_may_have_far_more() -> None:
    art = picture(2400, pixels=(2000, 2000), kind="bilevel")
    assert outcome("image.excess", document(with_pictures(art)), LINE_ART) == "met"
    assert outcome("image.excess", document(with_pictures(replace(art, ppi_x=4000.0, ppi_y=4000.0))), LINE_ART) == "not_met"
    assert outcome("image.excess", document(with_pictures(replace(art, ppi_x=4000.0, ppi_y=4000.0))), ASKED) == "met"


def test_excess_that_is_not_asked_for_or_not_seen() -> None:
    assert outcome("image.excess", document(with_pictures(picture(2000))), SILENT) == "not_applicable"
    assert outcome("image.excess", document(without_content(page())), ASKED) == "not_measured"


# --- Compression ---


@pytest.mark.parametrize(("quality", "expected"), [(100, "met"), (60, "met"), (59, "not_met"), (25, "not_met")])
def test_a_jpeg_saved_for_email_shows_it(quality: int, expected: str) -> None:
    assert outcome("image.compression", document(one(jpeg_quality=quality)), SILENT) == expected


def test_hard_jpegs_are_one_remark_with_the_worst_quality() -> None:
    pictures = (replace(picture(), jpeg_quality=quality) for quality in (85, 45, 30))
    found = only_finding("image.compression", document(with_pictures(*pictures)), SILENT)
    assert (found.level, found.finding.measured, found.finding.required) == (
        "should",
        {"quality": 30, "images": 2},
        {"quality": 60},
    )


@pytest.mark.parametrize(("stored_bytes", "expected"), [(9000, "met"), (8999, "not_met")])
def test_jpeg_2000_is_judged_by_its_bits_a_pixel(stored_bytes: int, expected: str) -> None:
    """600 × 400 pixels at 0.3 bits a pixel are 9,000 bytes."""
    packed = one(filter="JPXDecode", jpeg_quality=None, stored_bytes=stored_bytes)
    assert outcome("image.compression", document(packed), SILENT) == expected


def test_a_quality_that_cannot_be_read_is_not_a_pass() -> None:
    unreadable = one(jpeg_quality=Unmeasured("Its header is damaged."))
    rule, findings = judged("image.compression", document(unreadable), SILENT)
    assert (rule.outcome, rule.reason, findings) == ("not_measured", "Page 1: Its header is damaged.", ())
    assert outcome("image.compression", document(one(filter="JPXDecode", jpeg_quality=None)), SILENT) == "not_measured"


def test_a_preview_may_be_compressed_and_small() -> None:
    preview = SpecSheet(purpose="client-preview")
    assert outcome("image.compression", document(one(jpeg_quality=30)), preview) == "not_applicable"
    assert outcome("image.proxy", document(with_pictures(picture(72, pixels=(200, 200)))), preview) == "met"


def test_pictures_without_loss_and_dots_have_no_quality() -> None:
    assert outcome("image.compression", document(one(filter="FlateDecode", jpeg_quality=None)), SILENT) == "met"
    assert outcome("image.compression", document(one(width_px=63, jpeg_quality=10)), SILENT) == "met"


# --- Stretching ---


@pytest.mark.parametrize(("ppi_y", "expected"), [(300, "met"), (314, "met"), (286, "met"), (316, "not_met"), (150, "not_met")])
def test_a_picture_keeps_its_shape(ppi_y: float, expected: str) -> None:
    assert outcome("image.distorted", document(one(ppi_y=ppi_y)), SILENT) == expected


def test_a_stretched_picture_is_told_its_right_size() -> None:
    """600 × 400 pixels at 300 ppi across and 150 ppi down: the height is doubled. At 150 ppi both ways it is 101.6 × 67.7 mm."""
    found = only_finding("image.distorted", document(one(ppi_y=150.0)), SILENT)
    assert (found.level, found.finding.measured, found.finding.required) == (
        "should",
        {"percent": 100, "images": 1},
        {"percent": 5},
    )
    assert "height" in found.finding.message
    assert "101.6 × 67.7 mm" in found.finding.remedy


def test_gradients_dots_and_line_art_may_be_stretched() -> None:
    gradient = replace(picture(), width_px=1, ppi_x=1.0)
    fax = replace(picture(), kind="bilevel", ppi_x=204.0, ppi_y=98.0)
    flat = replace(picture(), ppi_y=float("inf"))
    assert outcome("image.distorted", document(with_pictures(gradient, fax, flat)), SILENT) == "met"


# --- Stand-ins ---


@pytest.mark.parametrize("kind", ["missing object", "OPI"])
def test_what_is_not_in_the_file_does_not_print(kind: str) -> None:
    stand_in = fact(StandIn, kind, Box(10, 10, 40, 30))  # type: ignore[arg-type]
    found = only_finding("image.proxy", document(with_pictures(stand_ins=(stand_in, stand_in)), page()), SILENT)
    assert (found.level, found.finding.measured, found.finding.pages) == ("must", {"kind": kind, "objects": 2}, (1,))
    assert found.finding.places[0].box_mm == (10, 10, 40, 30)


@pytest.mark.parametrize(
    ("ppi", "pixels", "expected"),
    [(99, (320, 200), "not_met"), (100, (320, 200), "met"), (72, (321, 200), "met"), (72, (60, 60), "met")],
)
def test_a_tiny_picture_blown_up_is_likely_a_stand_in(ppi: float, pixels: tuple[int, int], expected: str) -> None:
    assert outcome("image.proxy", document(with_pictures(picture(ppi, pixels=pixels))), SILENT) == expected


def test_a_tiny_picture_is_only_suspected_and_left_to_the_sheets_own_limit() -> None:
    tiny = document(with_pictures(picture(72, pixels=(200, 200))))
    found = only_finding("image.proxy", tiny, SILENT)
    assert (found.level, found.finding.measured) == ("should", {"kind": "small picture", "objects": 1, "ppi": 72})
    assert outcome("image.proxy", tiny, ASKED) == "met"
    assert outcome("image.resolution", tiny, ASKED) == "not_met"


@pytest.mark.parametrize(("pictures", "up_to"), [(1, False), (2, True)])
def test_of_one_picture_nothing_is_up_to(pictures: int, up_to: bool) -> None:
    fine = content(images=tuple(picture(900, pixels=(2000, 1000)) for _ in range(pictures)))
    assert ("up to" in only_finding("image.excess", document(page(content=fine)), ASKED).finding.message) is up_to
