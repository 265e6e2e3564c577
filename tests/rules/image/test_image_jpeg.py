"""Pictures that are stored as JPEG."""

from __future__ import annotations

import pytest

from service.sheets.model import ImagesAsked, SpecSheet
from tests.rules.measured import content, document, only_finding, outcome, page, picture, without_content

LOSSLESS = SpecSheet(images=ImagesAsked(jpeg="forbidden"))


@pytest.mark.parametrize(
    ("stored", "expected"), [("DCTDecode", "not_met"), ("FlateDecode", "met"), ("JPXDecode", "met"), (None, "met")]
)
def test_a_picture_that_is_stored_as_jpeg(stored: str | None, expected: str) -> None:
    assert outcome("image.jpeg", document(page(content=content(images=(picture(filter=stored),)))), LOSSLESS) == expected


def test_they_are_counted_and_nothing_is_said_where_nobody_asks() -> None:
    two = document(page(content=content(images=(picture(), picture(at=(30, 5)), picture(filter="FlateDecode")))))
    assert only_finding("image.jpeg", two, LOSSLESS).finding.measured == {"pictures": 2}
    assert outcome("image.jpeg", two, SpecSheet(images=ImagesAsked(jpeg="allowed"))) == "not_applicable"
    assert outcome("image.jpeg", document(without_content(page())), LOSSLESS) == "not_measured"
