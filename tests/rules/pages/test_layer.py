"""Layers whose screen and print differ."""

from __future__ import annotations

from dataclasses import replace

import pytest

from service.pdf.facts.geometry import Box
from service.pdf.facts.measurements import Measurements
from service.pdf.facts.page import Annotation
from service.pdf.facts.painted.content import HiddenContent
from service.pdf.facts.unknown import Unmeasured
from service.sheets.model import SpecSheet
from tests.facts import fact
from tests.rules.measured import content, document, judged, only_finding, outcome, page, without_content

SHEET = SpecSheet()
INSIDE, SLUG = Box(10, 10, 40, 14), Box(10, -9, 40, -5)


def hidden(prints: bool, shows: bool, layer: str = "Guides", count: int = 1, box: Box = INSIDE) -> HiddenContent:
    return fact(HiddenContent, prints, shows, layer, count, (box,))


def layered(*uses: HiddenContent) -> Measurements:
    return document(page(content=replace(content(), hidden=uses)))


def test_a_layer_that_shows_and_does_not_print() -> None:
    found = only_finding("layer.hidden", layered(hidden(False, True, count=7), hidden(False, True, "Cutter")), SHEET)
    assert found.level == "should"
    assert found.finding.measured == {"layers": ["Guides", "Cutter"], "prints": False, "shows": True, "objects": 8}


def test_a_layer_that_prints_and_does_not_show_is_a_cause_of_its_own() -> None:
    _, findings = judged("layer.hidden", layered(hidden(True, False), hidden(False, True)), SHEET)
    assert [one.finding.measured["prints"] for one in findings] == [True, False]


def test_a_layer_that_is_switched_off_is_named() -> None:
    """A cutting line, a second language: whoever forgot to switch it on sees nothing on the screen either."""
    found = only_finding("layer.hidden", layered(hidden(False, False, "Cutter", count=3)), SHEET)
    assert (found.level, "Cutter" in found.finding.message) == ("should", True)
    assert found.finding.measured == {"layers": ["Cutter"], "prints": False, "shows": False, "objects": 3}


@pytest.mark.parametrize("shows", [True, False])
def test_a_layer_in_the_slug_is_left_out(shows: bool) -> None:
    in_the_slug = hidden(False, shows, box=SLUG)
    assert outcome("layer.hidden", layered(in_the_slug), SHEET) == "met"
    found = only_finding("layer.hidden", layered(in_the_slug, hidden(False, shows, "Cutter")), SHEET).finding
    assert found.measured["layers"] == ["Cutter"]


def test_of_a_crowd_whose_first_places_are_in_the_slug_others_may_lie_on_the_page() -> None:
    found = only_finding("layer.hidden", layered(hidden(False, True, count=80, box=SLUG)), SHEET).finding
    assert (found.measured["objects"], found.places) == (80, ())


def test_what_an_annotation_hides_by_its_flags_is_told_elsewhere() -> None:
    note = fact(Annotation, "FreeText", "typed comment", INSIDE, prints=False, shows=True, has_appearance=True)
    measured = layered(hidden(False, True, "annotation"))
    assert isinstance(measured.pages, tuple)
    assert outcome("layer.hidden", document(replace(measured.pages[0], annotations=(note,))), SHEET) == "met"
    assert outcome("layer.hidden", measured, SHEET) == "not_met"  # a layer that happens to be called so
    unread = replace(measured.pages[0], annotations=Unmeasured("damaged"))
    assert outcome("layer.hidden", document(unread), SHEET) == "not_met"
    guides = page(annotations=(note,), content=replace(content(), hidden=(hidden(False, True, "Guides"),)))
    assert outcome("layer.hidden", document(guides), SHEET) == "not_met"


def test_layers_not_seen() -> None:
    assert outcome("layer.hidden", document(without_content(page())), SHEET) == "not_measured"
    assert outcome("layer.hidden", layered(hidden(False, True)), SpecSheet(levels={"layer.hidden": "off"})) == "not_applicable"
