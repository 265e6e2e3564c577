"""Actions and layers in a file of a print standard."""

from __future__ import annotations

from dataclasses import replace

import pytest

from service.pdf.facts.document import ActiveContent, LayerConfiguration
from service.pdf.facts.geometry import Box
from tests.facts import fact
from tests.rules.measured import only_finding, page
from tests.rules.print_files import asks_for, breaches, broken, print_file

X_4 = "PDF/X-4"
BOX = Box(10, 10, 30, 20)


def test_actions_are_told_with_the_pages_and_places_that_are_known() -> None:
    """One of the document, one of a page without a place, one of a page that is in no tree."""
    found = (
        fact(ActiveContent, "JavaScript", "document", None, None, ""),
        fact(ActiveContent, "URI", "annotation", 2, BOX, ""),
        fact(ActiveContent, "URI", "page", 1, None, ""),
        fact(ActiveContent, "GoToR", "annotation", None, BOX, ""),
    )
    file = print_file(X_4, page(), page(), active_content=found)
    assert [(one["demand"], one["pages"]) for one in breaches(file, X_4)] == [("actions", [1, 2])]
    places = only_finding("file.standard", file, asks_for(X_4)).finding.places
    assert [(place.page, place.box_mm) for place in places] == [(2, BOX)]


RIGHT = fact(LayerConfiguration, "Print", False, 0)
SCREEN = replace(RIGHT, name="Screen")


@pytest.mark.parametrize(
    ("wrong", "found"),
    [
        (replace(SCREEN, name=None), "not named"),
        (replace(SCREEN, automatic=True), "by themselves"),
        (replace(SCREEN, layers_not_in_order=2), "leaves out 2 layers"),
    ],
    ids=["without a name", "automatic", "incomplete"],
)
def test_one_wrong_state_of_layers_beside_a_right_one_is_told(wrong: LayerConfiguration, found: str) -> None:
    (told,) = breaches(print_file(X_4, layers=(RIGHT, wrong)), X_4)
    assert told["demand"] == "layers"
    assert found in told["found"]
    assert broken(print_file(X_4, layers=(RIGHT, SCREEN)), X_4) == []
