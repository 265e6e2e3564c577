"""What one sheet says otherwise than another."""

from __future__ import annotations

from service.sheets.differences import Change, changes, difference, spelled_as
from service.sheets.extending import resolve

BASE = {
    "id": "card",
    "revision": 3,
    "title": "Card",
    "trim": {"width": "85 mm", "height": "55 mm"},
    "bleed": {"minimum": "3.175 mm", "note": "All round."},
    "pages": {"allowed": [1, 2]},
    "references": [{"name": "A standard", "about": "trim"}],
}
OWN = {
    "id": "mine",
    "title": "Mine",
    "trim": {"width": "85 mm", "height": 54},
    "bleed": {"minimum": "1/8 in"},
    "pages": {"allowed": [2]},
    "margin": {"minimum": 3},
    "references": [{"name": "Our press", "about": "margin"}],
}


def test_a_difference_laid_over_its_base_is_the_whole_again() -> None:
    told = difference(BASE, OWN)
    assert told == {
        "id": "mine",
        "title": "Mine",
        "trim": {"height": 54},
        "bleed": {"note": None},
        "pages": {"allowed": [2]},
        "margin": {"minimum": 3},
        "references": [{"name": "Our press", "about": "margin"}],
    }
    whole = resolve({"extends": "card", **told}, lambda _: BASE)
    references = [*OWN["references"], *BASE["references"]]  # type: ignore[misc]
    assert whole == {**OWN, "bleed": {"minimum": "3.175 mm"}, "references": references}


def test_a_block_that_is_gone_is_taken_out_whole() -> None:
    assert difference(BASE, {"title": "Card", "trim": BASE["trim"]}) == {"bleed": None, "pages": None}


def test_changes_are_told_key_by_key_in_the_order_of_the_format() -> None:
    assert changes(BASE, OWN) == [
        Change(("pages", "allowed"), [1, 2], [2]),
        Change(("trim", "height"), "55 mm", 54),
        Change(("bleed", "note"), "All round.", None),
        Change(("margin", "minimum"), None, 3),
    ]


def test_a_value_is_spelled_as_it_was_written_as_long_as_it_means_the_same() -> None:
    written = {"trim": {"width": "3.5 in", "height": "2 in"}, "bleed": {"minimum": "wide"}}
    document = {"trim": {"width": "88.9 mm", "height": "51 mm"}, "bleed": {"minimum": "3 mm"}}
    assert spelled_as(document, written) == {"trim": {"width": "3.5 in", "height": "51 mm"}, "bleed": {"minimum": "3 mm"}}
