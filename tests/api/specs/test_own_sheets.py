"""One's own sheets over HTTP: kept, extended, replaced, deleted; revisions that stay; checks that name them."""

from __future__ import annotations

from typing import Any

import pytest
from jsonschema import Draft202012Validator
from werkzeug.test import TestResponse

from service.sheets.catalogue import base_document, stored_sheets
from service.sheets.format.validation import read_sheet, read_sheet_text
from service.sheets.format.writing import digest
from tests.api.conftest import Start
from tests.api.contract import Caller
from tests.api.http.test_errors import told

CARD: dict[str, Any] = {
    "id": "halyard-card",
    "title": "Halyard Lane Bakery's card",
    "product": "business-card",
    "trim": {"width": "85 mm", "height": "55 mm"},
    "bleed": {"minimum": "3 mm"},
}
LAYERED: dict[str, Any] = {"id": "bleedy-card", "extends": "business-card-85x55", "bleed": {"minimum": "5 mm", "note": "Ours."}}


def kept(caller: Caller, sheet: dict[str, Any] | None = None) -> TestResponse:
    answer = caller.post("/v1/specs", json=sheet or CARD)
    assert answer.status_code == 201, answer.get_data(as_text=True)
    return answer


def put(caller: Caller, spec_id: str, sheet: Any, tag: str | None) -> TestResponse:
    return caller.call("PUT", f"/v1/specs/{spec_id}", json=sheet, headers={"If-Match": tag} if tag else {})


# --- Keeping ------------------------------------------------------------------------------------------------------------


def test_a_sheet_that_is_sent_is_kept_under_its_id_as_revision_1(caller: Caller) -> None:
    answer = kept(caller, {**CARD, "revision": 7})
    assert answer.headers["Location"] == "/v1/specs/halyard-card"
    trim = {**CARD["trim"], "tolerance": "0.5 mm", "orientation": "any"}
    assert answer.get_json() == {**CARD, "revision": 1, "trim": trim, "purpose": "print"}
    read = caller.get("/v1/specs/halyard-card")
    assert read.get_json() == answer.get_json()
    assert read.headers["ETag"] == answer.headers["ETag"]


def test_yaml_goes_both_ways(caller: Caller) -> None:
    text = "id: yaml-card\ntitle: Card\nproduct: business-card\nbleed: {minimum: 1/8 in}\n"
    sent = caller.post("/v1/specs", data=text, content_type="application/yaml", headers={"Accept": "application/yaml"})
    assert (sent.status_code, sent.mimetype) == (201, "application/yaml")
    sheet = read_sheet_text(sent.get_data(), stored=True)
    assert sheet.bleed is not None
    assert sheet.bleed.minimum_mm == 3.175


def test_an_id_that_is_taken_is_refused(caller: Caller) -> None:
    kept(caller)
    assert set(told(caller.post("/v1/specs", json=CARD), "spec-exists")) == {"/id"}


@pytest.mark.parametrize("spec_id", ["business-card-85x55", "schema", "matches", "readings", "offset-process-print"])
def test_the_ids_of_the_service_itself_are_refused(caller: Caller, spec_id: str) -> None:
    assert set(told(caller.post("/v1/specs", json={**CARD, "id": spec_id}), "spec-stored")) == {"/id"}


@pytest.mark.parametrize(
    ("sheet", "pointers"),
    [
        ({**CARD, "bleed": {"minimun": "3 mm"}}, {"/bleed/minimun", "/bleed/minimum"}),
        ({"bleed": {"minimum": 3}}, {"/id"}),
        ({"id": "a", "bleed": {"minimum": 3}}, {"/title", "/product"}),
        ({**CARD, "id": "No Id"}, {"/id"}),
        ({**CARD, "id": 5}, {"/id"}),
        ({**CARD, "levels": {"trim.sice": "off"}}, {"/levels/trim.sice"}),
        ({**LAYERED, "extends": "business-card-85x56"}, {"/extends"}),
        ({**LAYERED, "spine": None}, {"/spine"}),
        (["bleed"], {""}),
    ],
)
def test_a_sheet_that_is_wrong_is_told_every_place(caller: Caller, sheet: Any, pointers: set[str]) -> None:
    assert set(told(caller.post("/v1/specs", json=sheet), "invalid-sheet")) == pointers


def test_a_body_that_is_no_sheet_at_all_is_refused(caller: Caller) -> None:
    told(caller.post("/v1/specs", data=b"x", content_type="image/png"), "unsupported-media-type")
    told(caller.post("/v1/specs", data=b"", content_type="application/json"), "invalid-sheet")
    told(caller.post("/v1/specs", data=b"[" * 5000, content_type="application/json"), "invalid-sheet")
    told(caller.post("/v1/specs", data=b"a: b\n" * 60_000, content_type="application/yaml"), "invalid-sheet")


# --- Extending ----------------------------------------------------------------------------------------------------------


def test_a_sheet_that_extends_another_is_answered_complete_and_as_sent(caller: Caller) -> None:
    kept(caller, LAYERED)
    complete = caller.get("/v1/specs/bleedy-card").get_json()
    assert (complete["extends"], complete["bleed"]["minimum"]) == ("business-card-85x55", "5 mm")
    assert complete["trim"]["width"] == "85 mm"
    as_sent = caller.get("/v1/specs/bleedy-card?resolved=false")
    assert as_sent.get_json() == {**LAYERED, "revision": 1}
    assert as_sent.headers["ETag"] != caller.get("/v1/specs/bleedy-card").headers["ETag"]


def test_null_takes_a_block_out_and_sending_the_answer_again_keeps_it_out(caller: Caller) -> None:
    first = kept(caller, {**LAYERED, "pages": None})
    assert first.get_json()["pages"] is None
    again = put(caller, "bleedy-card", first.get_json(), first.headers["ETag"])
    assert again.status_code == 200
    assert {**again.get_json(), "revision": 1} == first.get_json()


def test_a_stored_sheet_can_be_read_as_it_was_written(caller: Caller) -> None:
    as_written = caller.get("/v1/specs/business-card-85x55?resolved=false").get_json()
    assert as_written == base_document("business-card-85x55")


def test_the_complete_sheet_judges(caller: Caller, card: bytes) -> None:
    kept(caller, LAYERED)
    check = caller.check(card, spec="bleedy-card").get_json()
    assert check["findings"][0]["rule"] == "bleed.declared"
    assert check["findings"][0]["required"]["minimum_mm"] == 5.0
    assert check["findings"][0]["note"] == "Ours."


def test_a_sheet_that_comes_with_a_check_may_extend_too(caller: Caller, card: bytes) -> None:
    check = caller.check(card, spec_sheet="extends: business-card-85x55\nbleed: {minimum: 6 mm}\n").get_json()
    assert check["findings"][0]["required"]["minimum_mm"] == 6.0
    refused = caller.check(card, spec_sheet="extends: business-card-85x66\nbleed: {minimum: 6 mm}\n")
    assert set(told(refused, "invalid-sheet")) == {"/spec_sheet/extends"}


# --- Replacing, deleting, revisions -------------------------------------------------------------------------------------


def test_a_replaced_sheet_is_the_next_revision_and_the_old_one_stays(caller: Caller) -> None:
    first = kept(caller)
    second = put(caller, "halyard-card", {**CARD, "bleed": {"minimum": "4 mm"}}, first.headers["ETag"])
    assert (second.status_code, second.get_json()["revision"]) == (200, 2)
    assert caller.get("/v1/specs/halyard-card").get_json()["bleed"]["minimum"] == "4 mm"
    assert caller.get("/v1/specs/halyard-card?revision=1").get_json() == first.get_json()
    listed = caller.get("/v1/specs/halyard-card/revisions").get_json()
    assert [one["revision"] for one in listed["revisions"]] == [2, 1]
    assert listed["revisions"][1]["digest"] == digest(read_sheet(first.get_json()))
    assert caller.get(listed["revisions"][1]["links"]["self"]).get_json() == first.get_json()


def test_who_has_not_read_the_newest_revision_cannot_replace_it(caller: Caller) -> None:
    tag = kept(caller).headers["ETag"]
    told(put(caller, "halyard-card", CARD, None), "if-match-missing")
    assert put(caller, "halyard-card", CARD, tag).status_code == 200
    told(put(caller, "halyard-card", CARD, tag), "spec-changed")
    told(put(caller, "halyard-card", CARD, '"x"'), "spec-changed")
    told(caller.delete("/v1/specs/halyard-card", headers={"If-Match": tag}), "spec-changed")
    assert caller.get("/v1/specs/halyard-card").get_json()["revision"] == 2


@pytest.mark.parametrize("query", ["", "?units=in", "?resolved=false", "?revision=1"])
@pytest.mark.parametrize("accept", ["application/json", "application/yaml"])
def test_the_etag_of_every_form_of_the_sheet_counts(caller: Caller, query: str, accept: str) -> None:
    kept(caller)
    tag = caller.get(f"/v1/specs/halyard-card{query}", headers={"Accept": accept}).headers["ETag"]
    assert put(caller, "halyard-card", CARD, tag).status_code == 200


def test_any_revision_may_be_replaced_by_who_says_so(caller: Caller) -> None:
    kept(caller)
    assert put(caller, "halyard-card", CARD, "*").status_code == 200


def test_the_id_in_the_sheet_is_that_of_the_address_or_none(caller: Caller) -> None:
    tag = kept(caller).headers["ETag"]
    assert set(told(put(caller, "halyard-card", {**CARD, "id": "other"}, tag), "invalid-sheet")) == {"/id"}
    without = {key: value for key, value in CARD.items() if key != "id"}
    assert put(caller, "halyard-card", without, tag).get_json()["id"] == "halyard-card"


def test_a_refused_sheet_replaces_nothing(caller: Caller) -> None:
    tag = kept(caller).headers["ETag"]
    told(put(caller, "halyard-card", {**CARD, "bleed": 3}, tag), "invalid-sheet")
    assert caller.get("/v1/specs/halyard-card").headers["ETag"] == tag


def test_a_deleted_sheet_is_gone_and_its_revisions_are_not(caller: Caller, card: bytes) -> None:
    kept(caller)
    assert caller.delete("/v1/specs/halyard-card").status_code == 204
    told(caller.get("/v1/specs/halyard-card"), "spec-deleted")
    told(caller.delete("/v1/specs/halyard-card"), "spec-deleted")
    told(put(caller, "halyard-card", CARD, "*"), "spec-deleted")
    assert set(told(caller.check(card, spec="halyard-card"), "unknown-spec")) == {"/spec"}
    assert caller.get("/v1/specs/halyard-card?revision=1").status_code == 200
    assert caller.get("/v1/specs/halyard-card/revisions").get_json()["deleted_at"]
    assert "halyard-card" not in {one["id"] for one in caller.get("/v1/specs?origin=own").get_json()["specs"]}


def test_an_id_that_is_used_again_goes_on_counting(caller: Caller) -> None:
    kept(caller)
    caller.delete("/v1/specs/halyard-card")
    assert kept(caller).get_json()["revision"] == 2
    assert caller.get("/v1/specs/halyard-card/revisions").get_json()["deleted_at"] is None


def test_what_came_with_the_service_cannot_be_changed(caller: Caller) -> None:
    told(put(caller, "business-card-85x55", CARD, "*"), "spec-stored")
    told(caller.delete("/v1/specs/business-card-85x55"), "spec-stored")


@pytest.mark.parametrize("method", ["GET", "PUT", "DELETE"])
def test_what_nobody_has_kept_is_not_found(caller: Caller, method: str) -> None:
    told(caller.call(method, "/v1/specs/halyard-card", json=CARD, headers={"If-Match": "*"}), "spec-not-found")
    told(caller.get("/v1/specs/halyard-card/revisions"), "spec-not-found")


def test_a_revision_that_is_not_there_is_not_found(caller: Caller) -> None:
    kept(caller)
    told(caller.get("/v1/specs/halyard-card?revision=2"), "spec-not-found")


# --- Checks -------------------------------------------------------------------------------------------------------------


def test_a_check_says_which_revision_judged_and_that_can_be_asked_for_again(caller: Caller, card: bytes) -> None:
    first = kept(caller)
    old = caller.check(card, spec="halyard-card").get_json()
    put(caller, "halyard-card", {**CARD, "bleed": {"minimum": "5 mm"}}, first.headers["ETag"])
    new = caller.check(card, spec="halyard-card").get_json()
    assert [(one["spec"]["revision"], one["verdict"]) for one in (old, new)] == [(1, "conforming"), (2, "nonconforming")]
    assert old["spec"]["digest"] == caller.get("/v1/specs/halyard-card/revisions").get_json()["revisions"][1]["digest"]
    again = caller.check(card, spec="halyard-card@1").get_json()
    assert (again["spec"], again["verdict"]) == (old["spec"], "conforming")


@pytest.mark.parametrize("name", ["halyard-card@9", "halyard-card@x", "halyard-card@", "business-card-85x55@7"])
def test_a_revision_that_there_is_not_judges_nothing(caller: Caller, card: bytes, name: str) -> None:
    kept(caller)
    assert set(told(caller.check(card, spec=name), "unknown-spec")) == {"/spec"}


def test_the_nearest_own_sheet_is_named_too(caller: Caller, card: bytes) -> None:
    kept(caller)
    assert "halyard-card" in told(caller.check(card, spec="halyard-crad"), "unknown-spec")["/spec"]


# --- Lists, units, schema -----------------------------------------------------------------------------------------------


def test_own_and_stored_sheets_are_listed_together_by_id(caller: Caller) -> None:
    kept(caller, LAYERED)
    listed = caller.get("/v1/specs?page_size=100&q=card").get_json()["specs"]
    by_id = {one["id"]: one for one in listed}
    assert list(by_id) == sorted(by_id)
    assert (by_id["bleedy-card"]["origin"], by_id["bleedy-card"]["extends"]) == ("own", "business-card-85x55")
    assert (by_id["business-card-85x55"]["origin"], by_id["business-card-85x55"]["extends"]) == ("stored", None)
    only_own = caller.get("/v1/specs?origin=own").get_json()
    assert [one["id"] for one in only_own["specs"]] == ["bleedy-card"]
    assert caller.get("/v1/specs?origin=stored").get_json()["total"] == len(stored_sheets())


def test_a_list_changes_its_etag_with_what_it_lists(caller: Caller) -> None:
    before = caller.get("/v1/specs?origin=own").headers["ETag"]
    kept(caller)
    assert caller.get("/v1/specs?origin=own", headers={"If-None-Match": before}).status_code == 200


def test_lengths_are_answered_in_inches_for_who_asks(caller: Caller) -> None:
    sheet = caller.get("/v1/specs/business-card-us?units=in")
    assert (sheet.get_json()["trim"]["width"], sheet.get_json()["trim"]["height"]) == ("3.5 in", "2 in")
    in_mm = caller.get("/v1/specs/business-card-us", headers={"If-None-Match": sheet.headers["ETag"]})
    assert in_mm.status_code == 200
    told(caller.get("/v1/specs/business-card-us?units=furlong"), "invalid-request")


def test_the_schema_describes_what_is_answered_and_taken(caller: Caller) -> None:
    served = caller.get("/v1/specs/schema?stored=true")
    assert served.mimetype == "application/schema+json"
    validator = Draft202012Validator(served.get_json())
    for sheet in (CARD, LAYERED, kept(caller, LAYERED).get_json(), caller.get("/v1/specs/business-card-us").get_json()):
        validator.validate(sheet)
    assert not validator.is_valid({**CARD, "levels": {"trim.sice": "off"}})
    assert caller.get("/v1/specs/schema?stored=true", headers={"If-None-Match": served.headers["ETag"]}).status_code == 304


# --- How many -----------------------------------------------------------------------------------------------------------


def test_as_many_sheets_are_kept_as_the_service_keeps(start: Start) -> None:
    caller = start(own_sheets=2)
    for number in (1, 2):
        kept(caller, {**CARD, "id": f"card-{number}"})
    full = caller.post("/v1/specs", json={**CARD, "id": "card-3"})
    assert (full.status_code, full.get_json()["type"]) == (507, "/problems/too-many-sheets")
    tag = caller.get("/v1/specs/card-1").headers["ETag"]
    assert put(caller, "card-1", {**CARD, "id": "card-1"}, tag).status_code == 200, "what is kept can be changed"
    assert caller.delete("/v1/specs/card-2").status_code == 204
    kept(caller, {**CARD, "id": "card-3"})


def test_a_sheet_has_an_end_of_revisions(caller: Caller, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("service.store.sheets.MOST_REVISIONS", 2)
    tag = kept(caller).headers["ETag"]
    second = put(caller, "halyard-card", {**CARD, "title": "Two"}, tag)
    third = put(caller, "halyard-card", {**CARD, "title": "Three"}, second.headers["ETag"])
    assert (second.status_code, third.status_code) == (200, 507)
