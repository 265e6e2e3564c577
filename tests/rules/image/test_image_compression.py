"""Pictures that were compressed too hard."""

from __future__ import annotations

from dataclasses import replace

import pytest

from service.pdf.facts.unknown import Unmeasured
from service.sheets.model import SpecSheet
from tests.rules.image.pictured import SILENT, one, with_pictures
from tests.rules.measured import document, judged, only_finding, outcome, page, picture, without_content


def test_a_right_page_and_one_that_nobody_saw() -> None:
    assert outcome("image.compression", document(with_pictures(picture(), picture(200))), SILENT) == "met"
    assert outcome("image.compression", document(without_content(page())), SILENT) == "not_measured"


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


def test_a_preview_may_be_compressed() -> None:
    preview = SpecSheet(purpose="client-preview")
    assert outcome("image.compression", document(one(jpeg_quality=30)), preview) == "not_applicable"


def test_pictures_without_loss_and_dots_have_no_quality() -> None:
    assert outcome("image.compression", document(one(filter="FlateDecode", jpeg_quality=None)), SILENT) == "met"
    assert outcome("image.compression", document(one(width_px=63, jpeg_quality=10)), SILENT) == "met"
    line_art = one(kind="bilevel", filter="JPXDecode", jpeg_quality=None, stored_bytes=100)
    assert outcome("image.compression", document(line_art), SILENT) == "met"
