"""Plates of foil, varnish and cutting lines."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from service.pdf.geometry import Box
from service.pdf.measurements import Measurements, SpotUse
from service.sheets.model import Finish, SpecSheet
from tests.rules.measured import content, document, judged, only_finding, outcome, page, without_content

INSIDE, SLUG = Box(10, 10, 40, 14), Box(10, -9, 40, -5)
FOIL = Finish(ink="Gold Foil", must_overprint=True, artwork="vector", required=True)
SHEET = SpecSheet(finishes=(FOIL,))
SOLID = SpotUse("Gold Foil", "fill", 1.0, 1.0, alone=True, overprints=True, count=2, boxes_mm=(INSIDE,))


def finished(*uses: SpotUse) -> Measurements:
    return document(page(), page(content=replace(content(), spots=uses)))


def faults(measurements: Measurements, sheet: SpecSheet = SHEET) -> list[Any]:
    return [one.finding.measured["fault"] for one in judged("finish.plate", measurements, sheet)[1]]


def test_a_solid_vector_that_overprints_is_right() -> None:
    assert faults(finished(SOLID, replace(SOLID, ink="GOLD foil", kind="stroke"))) == []


@pytest.mark.parametrize(
    ("use", "expected"),
    [
        (replace(SOLID, tint_least=0.3), ["tinted"]),
        (replace(SOLID, tint_least=0.995), []),
        (replace(SOLID, kind="image", tint_least=0.0), ["raster"]),
        (replace(SOLID, kind="shading", tint_least=0.0), ["tinted"]),
        (replace(SOLID, overprints=False), ["knocks out"]),
        (replace(SOLID, kind="image", tint_least=0.0, overprints=False), ["raster", "knocks out"]),
    ],
)
def test_what_a_finish_cannot_be(use: SpotUse, expected: list[str]) -> None:
    assert faults(finished(SOLID, use)) == expected


def test_a_tint_is_told_with_its_place() -> None:
    finding = only_finding("finish.plate", finished(replace(SOLID, tint_least=0.3)), SHEET).finding
    assert finding.measured == {"fault": "tinted", "ink": "Gold Foil", "tint_percent": 30}
    assert (finding.required, finding.pages, [place.box_mm for place in finding.places]) == (
        {"tint_percent": 100},
        (2,),
        [INSIDE],
    )


@pytest.mark.parametrize("uses", [(), (replace(SOLID, ink="Silver Foil"),), (replace(SOLID, boxes_mm=(SLUG,), count=1),)])
def test_a_plate_that_is_missing(uses: tuple[SpotUse, ...]) -> None:
    """A swatch in the slug makes no plate."""
    finding = only_finding("finish.plate", finished(*uses), SHEET).finding
    assert (finding.measured, finding.pages) == ({"fault": "missing", "ink": None}, ())


def test_a_sheet_that_asks_less_finds_less() -> None:
    easy = SpecSheet(finishes=(Finish(ink="Gold Foil"),))
    assert faults(finished(), easy) == []
    assert faults(finished(replace(SOLID, kind="image", tint_least=0.0, overprints=False)), easy) == []
    assert faults(finished(replace(SOLID, tint_least=0.5)), easy) == ["tinted"]


def test_each_finish_has_its_own_level_and_note() -> None:
    varnish = Finish(ink="Varnish", required=True, level="should", note="We can make this plate for you.")
    sheet = SpecSheet(finishes=(replace(FOIL, note="The die is cut from it."), varnish))
    _, findings = judged("finish.plate", finished(), sheet)
    assert [(one.level, one.note) for one in findings] == [
        ("must", "The die is cut from it."),
        ("should", "We can make this plate for you."),
    ]
    assert judged("finish.plate", finished(), SpecSheet(finishes=(varnish,)))[0].level == "should"


def test_a_plate_is_not_missing_while_a_page_was_not_seen() -> None:
    measured = document(page(), without_content(page()))
    assert outcome("finish.plate", measured, SHEET) == "not_measured"
    assert outcome("finish.plate", finished(), SpecSheet()) == "not_applicable"
