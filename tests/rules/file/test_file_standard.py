"""A print standard is claimed, and the claim is true: every demand is broken alone, once, in a file that is right otherwise.

The demands are those of ISO 15930 as a published table gives them (see the demands' own sources); a right file and the names
by which editions claim themselves are written down here apart from the code.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from service.language.spoken import speaking
from service.pdf.facts.document import ActiveContent, Encryption, LayerConfiguration
from service.pdf.facts.geometry import Box
from service.pdf.facts.measurements import Measurements
from service.pdf.facts.painted.colors import ColorUse, TransparencyUse
from service.pdf.facts.painted.text import FontUse
from service.pdf.facts.unknown import Unmeasured
from service.rules.file.print_standard.claims import accepts, claims_of
from service.rules.file.print_standard.demands import DEMANDS
from service.sheets.model import FileAsked, SpecSheet
from tests.facts import fact
from tests.rules.measured import color, content, document, judged, only_finding, outcome, page, without_content
from tests.rules.print_files import (
    EDITIONS,
    INTENT,
    PRESS,
    XMP,
    asks_for,
    boxes,
    broken,
    feature,
    identification,
    note,
    painted,
    print_file,
)

BOX = Box(10, 10, 20, 20)


# --- The claim --------------------------------------------------------------------------------------------------------


def test_a_false_label_is_an_observation_where_the_sheet_asks_for_none() -> None:
    """A card that says PDF/X-1a and holds RGB without an output intent."""
    labelled = print_file("PDF/X-1a:2003", output_intents=())
    found = only_finding("file.claim", labelled, SpecSheet())
    assert found.level == "should"
    assert found.finding.measured["standard"] == "PDF/X-1a:2003"
    assert "output-intent" in str(found.finding.measured["broken"])
    assert outcome("file.claim", labelled, asks_for("PDF/X-4")) == "not_applicable"  # file.standard tells of it


@pytest.mark.parametrize("edition", EDITIONS)
def test_a_true_label_that_nobody_asked_for_is_nothing_to_tell(edition: str) -> None:
    assert judged("file.claim", print_file(edition), SpecSheet())[0].outcome == "met"


def test_a_file_without_a_label_and_one_with_an_unknown_label_claim_nothing_that_could_be_false() -> None:
    assert outcome("file.claim", document(page()), SpecSheet()) == "met"
    other = replace(identification("PDF/X-1a:2003"), info_version="PDF/X-9", info_conformance=None)
    assert outcome("file.claim", print_file("PDF/X-1a:2003", identification=other), SpecSheet()) == "met"


@pytest.mark.parametrize("edition", EDITIONS)
def test_a_right_file_of_each_edition_is_what_it_claims(edition: str) -> None:
    assert judged("file.standard", print_file(edition), asks_for(edition))[0].outcome == "met"


@pytest.mark.parametrize("edition", EDITIONS)
def test_each_edition_claims_itself_by_its_own_keys(edition: str) -> None:
    assert claims_of(identification(edition)) == (edition,)


def test_the_version_of_pdf_x_1a_2001_says_only_x_1() -> None:
    facts = identification("PDF/X-1a:2001")
    assert claims_of(replace(facts, info_conformance=None)) == ("PDF/X-1:2001",)
    assert claims_of(replace(facts, info_conformance="PDF/X-1:2001")) == ("PDF/X-1:2001",)


def test_pdf_x_4_in_the_info_dictionary_is_no_claim() -> None:
    file = print_file("PDF/X-4", identification=identification("PDF/X-4", info_version="PDF/X-4", metadata=XMP))
    finding = only_finding("file.standard", file, asks_for("PDF/X-4")).finding
    assert finding.measured["claims"] == []
    assert "XMP" in finding.message


@pytest.mark.parametrize(
    ("name", "claim", "taken"),
    [
        ("PDF/X-1a", "PDF/X-1a:2001", True),
        ("PDF/X-1a", "PDF/X-1a:2003", True),
        ("PDF/X-1a:2003", "PDF/X-1a:2003", True),
        ("PDF/X-1a:2003", "PDF/X-1a:2001", False),
        ("PDF/X-1a", "PDF/X-1:2001", False),
        ("PDF/X-4", "PDF/X-4", True),
        ("PDF/X-4", "PDF/X-4p", False),
        ("PDF/X-3", "PDF/X-4", False),
    ],
)
def test_a_name_without_a_year_takes_every_year(name: str, claim: str, taken: bool) -> None:
    assert accepts(name, claim) is taken


def test_a_file_without_a_claim_is_told_what_the_printer_takes() -> None:
    finding = only_finding("file.standard", document(page()), asks_for("PDF/X-1a", "PDF/X-4")).finding
    assert finding.measured == {"claims": [], "standard": None, "broken": []}
    assert finding.required["standards"] == ["PDF/X-1a", "PDF/X-4"]


def test_another_standard_than_the_printer_takes_is_not_enough() -> None:
    finding = only_finding("file.standard", print_file("PDF/X-3:2003"), asks_for("PDF/X-1a", "PDF/X-4")).finding
    assert finding.measured["claims"] == ["PDF/X-3:2003"]


def test_one_true_claim_of_two_is_enough() -> None:
    both = replace(identification("PDF/X-1a:2003"), metadata=replace(XMP, pdfx_version="PDF/X-4"))
    colors = (fact(ColorUse, "rgb", "ICCBased (3 channels)", "image", (), 1, (BOX,), profile="9 0"),)
    file = print_file("PDF/X-1a:2003", page(content=content(colors=colors)), identification=both)
    assert outcome("file.standard", file, asks_for("PDF/X-1a", "PDF/X-4")) == "met"
    assert broken(file, "PDF/X-1a") == ["inks-only"]


def test_demands_that_nobody_here_knows_are_not_passed() -> None:
    file = print_file("PDF/X-4", identification=identification("PDF/X-4", metadata=replace(XMP, pdfx_version="PDF/X-6")))
    rule, findings = judged("file.standard", file, asks_for("PDF/X-6"))
    assert (rule.outcome, findings) == ("not_measured", ())


def test_a_false_claim_says_so_and_lists_every_broken_demand() -> None:
    pages = (page(), page(content=content(fonts=(fact(FontUse, "Bakery Sans", "TrueType", False, False, (BOX,)),))))
    file = print_file("PDF/X-4", *pages, output_intents=(), features=(feature("LZW", "", (1,)),))
    finding = only_finding("file.standard", file, asks_for("PDF/X-4")).finding
    assert "says that it is PDF/X-4, and it is not" in finding.message
    listed = finding.measured["broken"]
    assert isinstance(listed, list)
    assert {one["demand"]: one["pages"] for one in listed} == {"output-intent": [], "filters": [1], "fonts": [2]}
    assert finding.pages == (1, 2)
    assert [place.page for place in finding.places] == [2]
    assert finding.required["part"] == "ISO 15930-7:2010"


MANY: tuple[tuple[str, dict[str, Any]], ...] = (
    ("file-id", {}),
    ("encryption", {"encryption": Encryption(encrypted=True, printing_allowed=True)}),
    ("pdf-version", {"version": "1.7"}),
    ("opi", {"features": (feature("OPI", "", (1,)),)}),
    ("layers", {"layers": (fact(LayerConfiguration, None, False, 0),)}),
    ("actions", {"active_content": (fact(ActiveContent, "URI", "annotation", 1, None, ""),)}),
)
"""Demands of PDF/X-4 with remedies of their own, and what breaks each."""


def wrong_in(count: int) -> Any:
    changes = {name: value for _, change in MANY[:count] for name, value in change.items()}
    file = print_file("PDF/X-4", identification=identification("PDF/X-4", has_file_id=False), **changes)
    return only_finding("file.standard", file, asks_for("PDF/X-4")).finding


@pytest.mark.parametrize(("count", "anew"), [(3, False), (4, True)])
def test_a_file_with_more_than_three_faults_is_exported_anew(count: int, anew: bool) -> None:
    assert ("too much is wrong to mend" in wrong_in(count).remedy) is anew


@pytest.mark.parametrize(("count", "more"), [(5, False), (6, True)])
def test_five_faults_are_told_one_by_one(count: int, more: bool) -> None:
    found = wrong_in(count)
    assert len(found.measured["broken"]) == count
    assert ("and 1 more" in found.message) is more


def test_what_was_found_reads_the_same_in_every_language() -> None:
    file = print_file("PDF/X-4", identification=identification("PDF/X-4", has_file_id=False))
    english = only_finding("file.standard", file, asks_for("PDF/X-4")).finding
    with speaking("de"):
        german = only_finding("file.standard", file, asks_for("PDF/X-4")).finding
    assert german.message != english.message
    assert german.measured == english.measured


@pytest.mark.parametrize(
    ("file", "level"),
    [
        (FileAsked(standards=("PDF/X-4",)), "must"),
        (FileAsked(standards=("PDF/X-4",), standards_level="should"), "should"),
        (FileAsked(standards=("PDF/X-4",), level="should"), "should"),
    ],
)
def test_the_standard_has_a_level_of_its_own(file: FileAsked, level: str) -> None:
    assert only_finding("file.standard", document(page()), SpecSheet(file=file)).level == level


def test_a_sheet_without_standards_does_not_ask() -> None:
    assert outcome("file.standard", document(page()), SpecSheet(file=FileAsked())) == "not_applicable"


def test_a_claim_that_could_not_be_read_is_not_measured() -> None:
    file = document(page(), identification=Unmeasured("The file asks for a password."))
    assert judged("file.standard", file, asks_for("PDF/X-4"))[0].reason == "The file asks for a password."


@pytest.mark.parametrize("fact", ["output_intents", "profiles", "layers", "features", "active_content"])
def test_a_demand_that_could_not_be_checked_is_not_passed(fact: str) -> None:
    file = print_file("PDF/X-4", **{fact: Unmeasured("It is damaged.")})
    rule, findings = judged("file.standard", file, asks_for("PDF/X-4"))
    assert (rule.outcome, rule.reason, findings) == ("not_measured", "It is damaged.", ())


def test_a_page_that_could_not_be_followed_leaves_the_claim_open() -> None:
    file = print_file("PDF/X-1a:2003", without_content(page(), "its content stops"))
    assert judged("file.standard", file, asks_for("PDF/X-1a"))[0].reason == "Page 1: its content stops"


# --- Every demand -----------------------------------------------------------------------------------------------------


RGB = fact(ColorUse, "rgb", "DeviceRGB", "image", (), 1, (BOX,))
PICTURE_ICC = fact(ColorUse, "rgb", "ICCBased (3 channels)", "image", (), 1, (BOX,), profile="9 0")
OWN_PROFILE = fact(ColorUse, "cmyk", "ICCBased (4 channels)", "image", (), 1, (BOX,), profile="12 0")
LAB_INK = fact(ColorUse, "spot", 'Separation "Copper"', "fill", ("Copper",), 1, (BOX,))
FADE = fact(TransparencyUse, "alpha", "0.5", 1, (BOX,))
OUTSIDE = Box(-30, 0, -10, 10)
"""Beyond the bleed of 3 mm."""
LAYERS = fact(LayerConfiguration, "Print", False, 0)
X_1A, X_3, X_4 = "PDF/X-1a:2003", "PDF/X-3:2003", "PDF/X-4"

BREACHES: dict[str, tuple[str, Measurements]] = {
    "title-and-dates": (X_3, print_file(X_3, identification=identification(X_3, info_title=None))),
    "xmp-properties": (X_4, print_file(X_4, identification=identification(X_4, metadata=replace(
        XMP, pdfx_version="PDF/X-4", rendition_class=None)))),
    "xmp-unpacked": (X_4, print_file(X_4, identification=identification(X_4, metadata=replace(
        XMP, pdfx_version="PDF/X-4", filtered=True)))),
    "file-id": (X_4, print_file(X_4, identification=identification(X_4, has_file_id=False))),
    "encryption": (X_1A, print_file(X_1A, encryption=Encryption(encrypted=True, printing_allowed=True))),
    "trapped": (X_3, print_file(X_3, identification=identification(X_3, info_trapped="Unknown"))),
    "pdf-version": (X_1A, print_file(X_1A, version="1.5")),
    "output-intent": (X_4, print_file(X_4, output_intents=(INTENT, INTENT))),
    "output-condition": (X_3, print_file(X_3, output_intents=(replace(INTENT, identifier=None),))),
    "output-info": (X_3, print_file(X_3, output_intents=(replace(INTENT, registry=None, info=None),))),
    "output-profile": (X_4, print_file(X_4, output_intents=(replace(INTENT, profile=None),))),
    "output-profile-kind": (X_1A, print_file(X_1A, profiles=(replace(PRESS, device_class="mntr"),))),
    "trim-box": (X_1A, print_file(X_1A, boxes(trim=None))),
    "box-nesting": (X_3, print_file(X_3, boxes(trim=Box(-4, 0, 85, 55), media=Box(-10, -10, 95, 65)))),
    "annotations": (X_4, print_file(X_4, note(Box(70, 10, 120, 20)))),
    "separated-pages": (X_1A, print_file(X_1A, features=(feature("separated page", "", (1,)),))),
    "inks-only": (X_1A, print_file(X_1A, painted(PICTURE_ICC))),
    "spot-substitutes": (X_1A, print_file(X_1A, painted(LAB_INK), features=(feature("alternate space", "Copper: Lab", (1,)),))),
    "device-colors": (X_4, print_file(X_4, painted(RGB))),
    "profile-twice": (X_4, print_file(X_4, painted(OWN_PROFILE))),
    "transparency": (X_3, print_file(X_3, painted(transparency=(FADE,)))),
    "fonts": (X_1A, print_file(X_1A, page(content=content(fonts=(fact(FontUse, "Vera", "TrueType", False, False, (BOX,)),))))),
    "filters": (X_4, print_file(X_4, features=(feature("LZW", "", (1,)),))),
    "opi": (X_3, print_file(X_3, features=(feature("OPI", "", (1,)),))),
    "postscript": (X_3, print_file(X_3, features=(feature("PostScript", "", (1,)),))),
    "transfer-functions": (X_4, print_file(X_4, features=(feature("transfer function", "TR", (1,)),))),
    "halftones": (X_1A, print_file(X_1A, features=(feature("halftone", "type 6", (1,)),))),
    "actions": (X_4, print_file(X_4, active_content=(fact(ActiveContent, "URI", "annotation", 1, None, ""),))),
    "viewer-areas": (X_4, print_file(X_4, features=(feature("viewer area", "PrintArea: CropBox", ()),))),
    "alternate-images": (X_3, print_file(X_3, features=(feature("alternate image for printing", "", (1,)),))),
    "self-contained": (X_4, print_file(X_4, features=(feature("data outside the file", "", (1,)),))),
    "layers": (X_1A, print_file(X_1A, layers=(LAYERS,))),
    "rendering-intents": (X_4, print_file(X_4, features=(feature("rendering intent", "Vivid", (1,)),))),
}


def test_every_demand_is_broken_once_here() -> None:
    assert BREACHES.keys() == DEMANDS.keys()


@pytest.mark.parametrize("demand", BREACHES)
def test_one_broken_demand_makes_the_claim_false(demand: str) -> None:
    edition, file = BREACHES[demand]
    assert broken(file, edition) == [demand]


NEAR_MISSES: dict[str, tuple[str, Measurements]] = {
    "title in XMP only": (X_4, print_file(X_4, identification=identification(X_4, info_title=None))),
    "trapped in XMP only": (X_4, print_file(X_4, identification=identification(X_4, info_trapped=None))),
    "older PDF": (X_4, print_file(X_4, version="1.4")),
    "object streams in PDF/X-4": (X_4, print_file(X_4, features=(feature("object stream", "", ()),))),
    "an intent for archiving besides": (X_4, print_file(X_4, output_intents=(INTENT, replace(INTENT, subtype="GTS_PDFA1")))),
    "a registered condition without a profile": (X_1A, print_file(X_1A, output_intents=(replace(INTENT, profile=None),))),
    "a profile outside, in PDF/X-4p": ("PDF/X-4p", print_file("PDF/X-4p", output_intents=(
        replace(INTENT, profile=None, profile_outside=True),), profiles=())),
    "an ArtBox in place of the TrimBox": (X_3, print_file(X_3, boxes(trim=None, art=Box(0, 0, 85, 55)))),
    "no BleedBox": (X_4, print_file(X_4, boxes(bleed=None))),
    "boxes that touch": (X_4, print_file(X_4, boxes(bleed=Box(0, 0, 85, 55)))),
    "a note beside the page": (X_4, print_file(X_4, note(OUTSIDE))),
    "a note that touches the bleed": (X_4, print_file(X_4, note(Box(88, 0, 100, 10)))),
    "a printer's mark annotation": (X_4, print_file(X_4, note(BOX, "PrinterMark"))),
    "a Lab swatch that nothing paints": (X_1A, print_file(X_1A, features=(feature("alternate space", "Copper: Lab", (1,)),))),
    "RGB with a profile, in PDF/X-3": (X_3, print_file(X_3, painted(PICTURE_ICC))),
    "RGB for an RGB condition": (X_3, print_file(X_3, painted(RGB), profiles=(
        replace(PRESS, space="RGB", channels=3, declared_channels=3),))),
    "CMYK with another profile": (X_4, print_file(X_4, painted(replace(OWN_PROFILE, profile="9 0")), profiles=(
        PRESS, replace(PRESS, key="9 0", digest="cd" * 32)))),
    "transparency in PDF/X-4": (X_4, print_file(X_4, painted(transparency=(FADE,)), features=(
        feature("transparency group", "", (1,)),))),
    "JPEG 2000 in PDF/X-4": (X_4, print_file(X_4, features=(feature("JPEG 2000", "", (1,)),))),
    "JBIG2 in PDF 1.4": (X_3, print_file(X_3, features=(feature("JBIG2", "", (1,)),))),
    "an embedded file": (X_4, print_file(X_4, active_content=(
        fact(ActiveContent, "EmbeddedFile", "document", None, None, "a.txt"),))),
    "printing cut to the bleed": (X_4, print_file(X_4, features=(feature("viewer area", "PrintArea: BleedBox", ()),))),
    "layers in PDF/X-4": (X_4, print_file(X_4, layers=(LAYERS, replace(LAYERS, name="Screen")))),
}


@pytest.mark.parametrize("case", NEAR_MISSES)
def test_what_a_standard_takes_does_not_break_it(case: str) -> None:
    edition, file = NEAR_MISSES[case]
    assert broken(file, edition) == []
    assert outcome("file.standard", file, asks_for(edition)) == "met"


@pytest.mark.parametrize(
    ("edition", "changes", "demand"),
    [
        ("PDF/X-1a:2001", {"features": (feature("JBIG2", "", (1,)),)}, "filters"),
        (X_3, {"features": (feature("JPEG 2000", "", (1,)),)}, "filters"),
        (X_1A, {"features": (feature("cross-reference stream", "", ()),)}, "pdf-version"),
        (X_3, {"features": (feature("transparency group", "", (1,)),)}, "transparency"),
        (X_4, {"layers": (replace(LAYERS, name=None),)}, "layers"),
        (X_4, {"layers": (LAYERS, LAYERS)}, "layers"),
        (X_4, {"layers": (replace(LAYERS, automatic=True),)}, "layers"),
        (X_4, {"layers": (replace(LAYERS, layers_not_in_order=2),)}, "layers"),
        (X_4, {"output_intents": ()}, "output-intent"),
        ("PDF/X-4p", {"output_intents": (replace(INTENT, profile=None),)}, "output-profile"),
        (X_1A, {"output_intents": (replace(INTENT, profile=None, registry=None),)}, "output-profile"),
        (X_4, {"profiles": (replace(PRESS, damage="It is cut off."),)}, "output-profile-kind"),
        (X_1A, {"profiles": (replace(PRESS, space="RGB", channels=3, declared_channels=3),)}, "output-profile-kind"),
        (X_4, {"profiles": (replace(PRESS, declared_channels=3),)}, "output-profile-kind"),
        (X_4, {"version": "1.7"}, "pdf-version"),
        (X_4, {"features": (feature("halftone phase", "", (1,)),)}, "halftones"),
        (X_4, {"features": (feature("reference to another file", "", (1,)),)}, "self-contained"),
    ],
)
def test_other_ways_to_break_a_demand(edition: str, changes: dict[str, Any], demand: str) -> None:
    assert broken(print_file(edition, **changes), edition) == [demand]


@pytest.mark.parametrize(
    ("edition", "use", "demand"),
    [
        (X_1A, RGB, "inks-only"),
        (X_1A, fact(ColorUse, "lab", "Lab", "fill", (), 1, (BOX,)), "inks-only"),
        (X_1A, fact(ColorUse, "gray", "CalGray", "fill", (), 1, (BOX,)), "inks-only"),
        (X_1A, fact(ColorUse, "rgb", "Indexed (DeviceRGB)", "image", (), 1, (BOX,)), "inks-only"),
        (X_3, RGB, "device-colors"),
        (X_4, fact(ColorUse, "rgb", "Indexed (DeviceRGB)", "image", (), 1, (BOX,)), "device-colors"),
        (X_4, fact(ColorUse, "rgb", "DeviceRGB", "group", (), 1, (BOX,)), "device-colors"),
    ],
)
def test_colours_that_a_standard_does_not_take(edition: str, use: ColorUse, demand: str) -> None:
    assert broken(print_file(edition, painted(use)), edition) == [demand]


def test_a_converted_colour_needs_the_profile_of_the_condition() -> None:
    file = print_file(X_3, painted(PICTURE_ICC), output_intents=(replace(INTENT, profile=None),), profiles=())
    assert broken(file, X_3) == ["output-profile"]


def test_marks_in_the_slug_count_for_a_standard_too() -> None:
    file = print_file(X_1A, painted(replace(color("rgb", "stroke"), written="DeviceRGB", beyond_bleed=True)))
    assert broken(file, X_1A) == ["inks-only"]


@pytest.mark.parametrize("demand", DEMANDS.values(), ids=list(DEMANDS))
def test_a_demand_says_what_it_asks_of_whom_and_why(demand: Any) -> None:
    assert demand.subject
    assert demand.remedy.endswith(".")
    assert demand.source
    assert set(demand.editions) <= set(EDITIONS)
