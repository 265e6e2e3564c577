"""Layers whose screen and print differ."""

from __future__ import annotations

from dataclasses import replace

import pytest

from service.pdf.facts.geometry import Box
from service.pdf.facts.measurements import Measurements
from service.pdf.facts.page import Annotation
from service.pdf.facts.painted.content import HiddenContent, LayerUse
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


# --- layer.guides -----------------------------------------------------------------------------------------------------

SAFE_AREA, FOLD, CORNER = Box(3, 3, 82, 52), Box(42.5, -3, 42.5, 58), Box(10, 10, 40, 10)


def drawn(layer: str = "Guides", *boxes: Box, texts: int = 1, others: int = 0, inks: tuple[str, ...] = ("Cyan",)) -> LayerUse:
    lines = boxes or (SAFE_AREA,)
    return fact(LayerUse, layer, len(lines), texts, others, inks, lines)


def guided(*uses: LayerUse) -> Measurements:
    return document(page(content=replace(content(), layers=uses)))


@pytest.mark.parametrize(
    "layer", ["Guides", "Template – do not print", "DIE_LINE", "safe area", "Folds", "Hilfslinien", "Falz", "fond perdu", "Corte"]
)
def test_guides_of_a_template_that_were_left_switched_on(layer: str) -> None:
    found = only_finding("layer.guides", guided(drawn(layer, SAFE_AREA, FOLD), drawn("Artwork")), SHEET)
    assert found.level == "should"
    assert found.finding.measured == {"layers": [layer], "lines": 2}
    assert [one.box_mm for one in found.finding.places] == [SAFE_AREA, FOLD]


@pytest.mark.parametrize(
    "use",
    [
        drawn("Background"),  # named for what it is
        drawn("Bleed", others=1),  # a background that bleeds, on a layer that is called so
        drawn("Cutting board", CORNER),  # a drawing of one
        drawn("Trim marks", Box(-8, 0, -3, 0), Box(0, -8, 0, -3)),  # marks outside the bleed
        drawn("Die line", inks=("CutContour",)),  # a plate of its own
        drawn("Die line", inks=("Outline",)),
    ],
)
def test_artwork_marks_and_cutting_lines_of_their_own_plate_may_print(use: LayerUse) -> None:
    assert outcome("layer.guides", guided(use), SHEET) == "met"


@pytest.mark.parametrize(
    ("line", "expected"),
    [
        (Box(0, 20, 60, 20), "not_met"),  # 0.7 of 85 mm are 59.5
        (Box(0, 20, 59, 20), "met"),
        (Box(20, 0, 20, 38.6), "not_met"),  # of 55 mm 38.5
        (Box(20, 0, 20, 38.4), "met"),
    ],
)
def test_a_guide_spans_most_of_the_page_one_way_or_the_other(line: Box, expected: str) -> None:
    assert outcome("layer.guides", guided(drawn("Fold", line)), SHEET) == expected


def test_a_guide_in_rgb_prints_too() -> None:
    assert outcome("layer.guides", guided(drawn(inks=())), SHEET) == "not_met"


def test_guides_trouble_nobody_in_a_preview() -> None:
    assert outcome("layer.guides", guided(drawn()), SpecSheet(purpose="client-preview")) == "not_applicable"
