"""One's own sheet as it is kept: what was sent, and what it stands for."""

from __future__ import annotations

import pytest

from service.sheets.format.refusals import SheetRefused
from service.sheets.format.validation import read_sheet
from service.sheets.format.writing import digest
from service.sheets.revisions import read_complete, read_own

LAYERED = {"id": "our-card", "extends": "business-card-85x55", "bleed": {"minimum": "5 mm"}, "pages": None}


def test_what_was_sent_and_what_it_stands_for_are_both_kept() -> None:
    own = read_own(LAYERED, sheet_id=None, revision=4)
    assert own.sent == {**LAYERED, "revision": 4}
    assert (own.complete["bleed"]["minimum"], own.complete["trim"]["width"], own.complete["revision"]) == ("5 mm", "85 mm", 4)
    assert "pages" not in own.complete
    assert own.digest == digest(read_sheet(own.complete))
    assert own.extends == "business-card-85x55"


def test_its_document_sent_again_means_the_same() -> None:
    own = read_own(LAYERED, sheet_id="our-card", revision=1)
    document = own.document()
    assert (document["extends"], document["pages"]) == ("business-card-85x55", None)
    assert read_own(document, sheet_id="our-card", revision=1).complete == own.complete


def test_a_sheet_that_extends_nothing_is_its_own_document() -> None:
    own = read_own({"id": "a", "title": "A", "product": "a", "bleed": {"minimum": 3}}, sheet_id=None, revision=1)
    assert own.document() == own.complete


@pytest.mark.parametrize(
    ("document", "sheet_id", "pointer"),
    [
        ({"bleed": {"minimum": 3}}, None, "/id"),
        ({**LAYERED, "id": "b"}, "a", "/id"),
        ("x", "a", ""),
        ({**LAYERED, "extends": 3}, None, "/extends"),
    ],
)
def test_a_sheet_without_an_id_of_its_own_is_refused(document: object, sheet_id: str | None, pointer: str) -> None:
    with pytest.raises(SheetRefused) as refused:
        read_own(document, sheet_id=sheet_id, revision=1)
    assert pointer in {place for place, _ in refused.value.errors}


def test_the_id_of_the_base_is_never_inherited() -> None:
    assert read_complete({"extends": "business-card-85x55", "bleed": {"minimum": 4}}).id is None
