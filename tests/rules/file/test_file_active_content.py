"""Scripts, films and attached files in a file that is meant for paper."""

from __future__ import annotations

import pytest

from service.pdf.facts.document import ActiveContent
from service.pdf.facts.geometry import Box
from service.pdf.facts.unknown import Unmeasured
from service.sheets.model import SpecSheet
from tests.facts import fact
from tests.rules.measured import document, judged, only_finding, outcome, page

ANY = SpecSheet()
BOX = Box(10, 10, 30, 20)


def active(kind: str, detail: str = "") -> ActiveContent:
    return fact(ActiveContent, kind, "annotation", 2, BOX, detail)


@pytest.mark.parametrize(
    ("kind", "group", "level"),
    [
        ("JavaScript", "scripts", "must"),
        ("Launch", "scripts", "must"),
        ("SubmitForm", "actions", "should"),
        ("ImportData", "actions", "should"),
        ("GoToR", "actions", "should"),
        ("NoSuchAction", "actions", "should"),
        ("RichMedia", "multimedia", "should"),
        ("Screen", "multimedia", "should"),
        ("Movie", "multimedia", "should"),
        ("Sound", "multimedia", "should"),
        ("3D", "multimedia", "should"),
        ("FileAttachment", "files", "should"),
        ("XFA", "form", "should"),
    ],
)
def test_what_acts_does_not_belong_in_print(kind: str, group: str, level: str) -> None:
    found = only_finding("file.active-content", document(page(), page(), active_content=(active(kind),)), ANY)
    assert (found.finding.measured["group"], found.level) == (group, level)
    assert found.finding.measured["kinds"] == {kind: 1}
    assert found.finding.measured["files"] == []
    assert kind in found.finding.message
    assert [(place.page, place.box_mm) for place in found.finding.places] == [(2, BOX)]


@pytest.mark.parametrize("kind", ["GoTo", "URI", "Named", "Thread"])
def test_a_link_that_only_leads_somewhere_is_harmless(kind: str) -> None:
    assert outcome("file.active-content", document(page(), active_content=(active(kind),)), ANY) == "met"


def test_many_scripts_are_one_finding_and_a_film_another() -> None:
    found = (active("JavaScript"), active("JavaScript"), active("Movie"), active("URI"))
    _, findings = judged("file.active-content", document(page(), page(), active_content=found), ANY)
    assert [(one.finding.measured["group"], one.finding.measured["kinds"]) for one in findings] == [
        ("scripts", {"JavaScript": 2}),
        ("multimedia", {"Movie": 1}),
    ]


def test_a_file_inside_is_named() -> None:
    carried = fact(ActiveContent, "EmbeddedFile", "document", None, None, "prices.xlsx")
    finding = only_finding("file.active-content", document(page(), active_content=(carried,)), ANY).finding
    assert finding.measured["files"] == ["prices.xlsx"]
    assert "prices.xlsx" in finding.message
    assert (finding.pages, finding.places) == ((), ())


def test_only_what_has_a_page_and_a_place_is_shown() -> None:
    """A script of a page as a whole, and a button on a page that is in no tree."""
    of_a_page = fact(ActiveContent, "JavaScript", "page", 1, None, "")
    lost = fact(ActiveContent, "Launch", "form", None, BOX, "")
    finding = only_finding("file.active-content", document(page(), page(), active_content=(of_a_page, lost)), ANY).finding
    assert (finding.pages, finding.places) == ((1,), ())


def test_what_could_not_be_followed_is_not_passed() -> None:
    assert outcome("file.active-content", document(page(), active_content=Unmeasured("Damaged.")), ANY) == "not_measured"
