"""A sheet that extends another: what is taken over, what is laid over it, and what is refused."""

from __future__ import annotations

from typing import Any

import pytest

from service.sheets.catalogue import base_document
from service.sheets.extending import LONGEST_CHAIN, resolve
from service.sheets.format.refusals import SheetRefused
from service.sheets.format.validation import read_sheet

CARD: dict[str, Any] = {
    "id": "card",
    "revision": 4,
    "title": "Card",
    "product": "card",
    "references": [{"name": "common practice, no source", "about": "trim"}, {"name": "a standard", "about": "bleed"}],
    "pages": {"allowed": [1, 2], "arrangement": "single-pages"},
    "trim": {"width": "85 mm", "height": "55 mm"},
    "bleed": {"minimum": "3 mm", "note": "Let pictures run past the trim."},
    "keep_clear": [{"name": "chip", "box": [1, 1, 9, 9]}],
}


def resolved(own: dict[str, Any], **bases: dict[str, Any]) -> dict[str, Any]:
    known: dict[str, dict[str, Any]] = {"card": CARD, **{name.replace("_", "-"): base for name, base in bases.items()}}
    document = resolve(own, known.get, known)
    assert isinstance(document, dict)
    return document


def refused(own: dict[str, Any], **bases: dict[str, Any]) -> tuple[str, str]:
    with pytest.raises(SheetRefused) as caught:
        resolved(own, **bases)
    (error,) = caught.value.errors
    return error


def test_a_block_is_laid_over_key_by_key() -> None:
    document = resolved({"extends": "card", "bleed": {"minimum": "5 mm"}})
    assert document["bleed"] == {"minimum": "5 mm", "note": "Let pictures run past the trim."}
    assert document["trim"] == CARD["trim"]
    sheet = read_sheet(document)
    assert sheet.bleed is not None
    assert (sheet.bleed.minimum_mm, sheet.title) == (5.0, "Card")


def test_a_list_takes_the_place_of_the_old_one() -> None:
    document = resolved({"extends": "card", "pages": {"allowed": [2]}, "keep_clear": [{"name": "stamp", "box": [0, 0, 5, 5]}]})
    assert document["pages"] == {"allowed": [2], "arrangement": "single-pages"}
    assert [area["name"] for area in document["keep_clear"]] == ["stamp"]


def test_null_takes_a_block_or_a_key_out() -> None:
    document = resolved({"extends": "card", "keep_clear": None, "bleed": {"note": None}, "references": None})
    assert "keep_clear" not in document
    assert "references" not in document
    assert document["bleed"] == {"minimum": "3 mm"}


@pytest.mark.parametrize(
    ("own", "place"),
    [
        ({"margin": None}, "/margin"),
        ({"bleed": {"maximum": None}}, "/bleed/maximum"),
        ({"bleeed": None}, "/bleeed"),  # a slip of the pen must not pass unseen
    ],
)
def test_null_for_what_the_base_does_not_have_is_refused(own: dict[str, Any], place: str) -> None:
    assert refused({"extends": "card", **own})[0] == place


def test_identity_and_revision_are_ones_own() -> None:
    inherited = resolved({"extends": "card"})
    assert not {"id", "revision", "extends"} & set(inherited)
    own = resolved({"id": "mine", "revision": 2, "extends": "card"})
    assert (own["id"], own["revision"], own["title"]) == ("mine", 2, "Card")


def test_own_references_come_first_and_replace_those_about_the_same_keys() -> None:
    mine = {"name": "our press", "about": "bleed"}
    assert resolved({"extends": "card", "references": [mine]})["references"] == [mine, CARD["references"][0]]


def test_references_about_a_block_that_is_taken_out_go_with_it() -> None:
    mine = {"name": "our press", "about": "pages"}
    document = resolved({"extends": "card", "bleed": None, "references": [mine]})
    assert document["references"] == [mine, CARD["references"][0]]


def test_a_base_may_extend_another() -> None:
    document = resolved(
        {"extends": "thick", "pages": {"allowed": [1]}}, thick={"id": "thick", "extends": "card", "bleed": {"minimum": 5}}
    )
    assert (document["bleed"]["minimum"], document["pages"]["allowed"], document["trim"]) == (5, [1], CARD["trim"])
    assert document["bleed"]["note"] == CARD["bleed"]["note"]


def test_what_extends_nothing_comes_back_as_it_is() -> None:
    assert resolved({"bleed": None}) == {"bleed": None}
    assert resolve(["no", "block"], {}.get) == ["no", "block"]


def test_bases_are_not_changed() -> None:
    before = repr(CARD)
    resolved({"extends": "card", "bleed": {"minimum": 9}, "pages": None, "references": [{"name": "x", "about": "y"}]})
    assert repr(CARD) == before


def test_an_unknown_base_gets_the_nearest_id() -> None:
    place, detail = refused({"extends": "crad"})
    assert place == "/extends"
    assert "‘card’" in detail


@pytest.mark.parametrize("name", [None, 3, ["card"], {}])
def test_a_base_is_named_by_one_id(name: object) -> None:
    assert refused({"extends": name})[0] == "/extends"


def test_a_circle_is_refused() -> None:
    place, detail = refused({"extends": "a"}, a={"id": "a", "extends": "b"}, b={"id": "b", "extends": "a"})
    assert place == "/extends"
    assert "a → b → a" in detail
    assert refused({"id": "me", "extends": "me"})[0] == "/extends"


def chain(length: int) -> dict[str, dict[str, Any]]:
    """s1 extends s2, and so on; the last has the trim."""
    bases: dict[str, dict[str, Any]] = {f"s{n}": {"id": f"s{n}", "extends": f"s{n + 1}"} for n in range(1, length)}
    return {**bases, f"s{length}": {"id": f"s{length}", "trim": {"width": 1, "height": 2}}}


def test_eight_sheets_may_stand_below_one_another_and_not_nine() -> None:
    assert resolved({"extends": "s1"}, **chain(LONGEST_CHAIN))["trim"] == {"width": 1, "height": 2}
    assert refused({"extends": "s1"}, **chain(LONGEST_CHAIN + 1))[0] == "/extends"


def test_a_base_that_cannot_be_resolved_is_told_at_the_base() -> None:
    place, detail = refused({"extends": "bad"}, bad={"id": "bad", "extends": "card", "margin": None})
    assert place == "/extends"
    assert "bad" in detail


def _prefers_more_bleed(sheet_id: str) -> dict[str, Any]:
    """The stored sheet of a printer who takes 2 mm and likes 3 mm better."""
    return base_document(sheet_id) | {"bleed": {"minimum": "2 mm", "preferred": "3 mm"}}


@pytest.mark.parametrize(
    "own",
    [
        {"bleed": {"minimum": "5 mm"}},
        {"bleed": {"maximum": "2.5 mm"}},
        {"color": {"ink_limit": "280 %"}},
        {"color": {"ink_limit": None}},
        {"images": {"contone_ppi": {"minimum": 350}}},
        {"images": {"bilevel_ppi": {"maximum": 1000}}},
    ],
)
def test_an_own_limit_overtakes_the_wish_of_the_base(own: dict[str, Any]) -> None:
    """A sheet of one's own need not know what the stored one prefers besides."""
    sheet = read_sheet(resolve({"extends": "flyer-a4", **own}, _prefers_more_bleed))
    if "ink_limit" in own.get("color", {}):
        assert sheet.color
        assert sheet.color.ink_preferred_percent is None
    if "bleed" in own:
        assert sheet.bleed
        assert sheet.bleed.preferred_mm is None
    if "contone_ppi" in own.get("images", {}):
        assert sheet.images
        assert sheet.images.contone
        assert sheet.images.contone.preferred_ppi is None


def test_a_wish_that_an_own_limit_leaves_room_for_stays() -> None:
    sheet = read_sheet(resolve({"extends": "flyer-a4", "bleed": {"minimum": "1 mm"}}, _prefers_more_bleed))
    assert sheet.bleed
    assert (sheet.bleed.minimum_mm, sheet.bleed.preferred_mm) == (1, 3)


def test_a_sheet_that_says_both_itself_is_still_told_of_it() -> None:
    with pytest.raises(SheetRefused):
        read_sheet(resolve({"extends": "flyer-a4", "bleed": {"minimum": "5 mm", "preferred": "4 mm"}}, base_document))


@pytest.mark.parametrize("folds", [None, [{"at": "148.5 mm", "axis": "vertical"}]])
def test_own_folds_take_the_place_of_those_of_other_sizes_too(folds: object) -> None:
    own = {"extends": "leaflet-dl-roll-6", "folds": folds, "folding": None}
    sheet = read_sheet(resolve(own, base_document))
    assert sheet.trim
    assert {one.folds_mm for one in sheet.trim.alternatives} == {()}
