"""What a file brings along: layers, separated pages, screening."""

from __future__ import annotations

import pytest

from service.pdf.facts.document import Feature, FeatureKind, LayerConfiguration
from service.pdf.facts.unknown import Unmeasured
from service.sheets.model import FileAsked, SpecSheet
from tests.facts import fact
from tests.rules.measured import document, only_finding, outcome, page

NO_LAYERS = SpecSheet(file=FileAsked(layers="forbidden"))
COMPOSITE = SpecSheet(file=FileAsked(separations="forbidden"))
NO_SCREENS = SpecSheet(file=FileAsked(screening="forbidden"))


def feature(kind: FeatureKind, *pages: int) -> Feature:
    return fact(Feature, kind, "", pages)


def test_a_file_with_layers() -> None:
    layered = document(page(), layers=(LayerConfiguration(None, False, 0),))
    assert only_finding("file.layers", layered, NO_LAYERS).finding.measured == {"layers": True}
    assert outcome("file.layers", document(page(), layers=None), NO_LAYERS) == "met"
    assert outcome("file.layers", document(page(), layers=Unmeasured("It is damaged.")), NO_LAYERS) == "not_measured"
    assert outcome("file.layers", layered, SpecSheet(file=FileAsked(layers="allowed"))) == "not_applicable"


def test_pages_that_are_one_ink_each() -> None:
    separated = document(page(), page(), features=(feature("separated page", 1, 2),))
    assert only_finding("file.separated", separated, COMPOSITE).finding.pages == (1, 2)
    assert outcome("file.separated", document(page(), features=(feature("halftone", 1),)), COMPOSITE) == "met"
    assert outcome("file.separated", separated, NO_LAYERS) == "not_applicable"


@pytest.mark.parametrize(
    ("kind", "expected"),
    [
        ("halftone", "not_met"), ("halftone phase", "not_met"), ("transfer function", "not_met"),
        ("OPI", "met"), ("separated page", "met"),
    ],
)
def test_halftones_and_transfer_functions(kind: FeatureKind, expected: str) -> None:
    assert outcome("file.screening", document(page(), features=(feature(kind, 1),)), NO_SCREENS) == expected


def test_each_kind_is_named_once() -> None:
    features = feature("halftone", 1), feature("halftone", 2), feature("transfer function", 2)
    screened = document(page(), page(), features=features)
    finding = only_finding("file.screening", screened, NO_SCREENS).finding
    assert (finding.pages, finding.measured) == ((1, 2), {"kinds": ["halftone", "transfer function"]})
    assert outcome("file.screening", screened, COMPOSITE) == "not_applicable"
