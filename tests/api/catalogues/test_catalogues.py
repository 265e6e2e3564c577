"""Catalogues over HTTP: several sheets of one printer, with what holds for all of them; checked by, searched, matched, moved."""

from __future__ import annotations

from typing import Any
from urllib.parse import quote

import yaml
from werkzeug.test import TestResponse

from service.sheets.format.validation import read_sheet
from service.sheets.format.writing import digest
from tests.api.checks.test_checks import finished
from tests.api.contract import Caller
from tests.api.http.test_errors import told
from tests.build import page

CARD = "business-card-85x55"
OWN = {"id": "halyard-card", "extends": CARD, "title": "Halyard Lane's card", "bleed": {"minimum": "2 mm"}}
PRESS: dict[str, Any] = {
    "id": "copperbeck-press",
    "title": "Copperbeck Press",
    "defaults": {"bleed": {"minimum": "5 mm"}, "color": {"ink_limit": "280 %"}},
    "sheets": [CARD, "flyer-a6", OWN],
}
PATH = "/v1/catalogues/copperbeck-press"


def kept(caller: Caller, catalogue: dict[str, Any] = PRESS) -> TestResponse:
    answer = caller.post("/v1/catalogues", json=catalogue)
    assert answer.status_code == 201, answer.get_data(as_text=True)
    return answer


def put(caller: Caller, catalogue: Any, tag: str | None) -> TestResponse:
    return caller.call("PUT", PATH, json=catalogue, headers={"If-Match": tag} if tag else {})


def ids(answer: TestResponse) -> list[str]:
    return [one["id"] for one in answer.get_json()["specs"]]


def test_a_catalogue_is_kept_as_it_was_sent_and_its_sheets_ask_for_its_defaults(caller: Caller) -> None:
    answer = kept(caller, {**PRESS, "revision": 9})
    assert answer.headers["Location"] == PATH
    assert answer.get_json() == {**PRESS, "revision": 1}
    listed = caller.get("/v1/catalogues").get_json()["catalogues"]
    assert [(one["id"], one["revision"], one["sheets"]) for one in listed] == [("copperbeck-press", 1, 3)]
    for name, limit in (("halyard-card", "280 %"), (CARD, "280 %"), ("flyer-a6", "280 %")):
        sheet = caller.get(f"{PATH}/sheets/{name}").get_json()
        assert (sheet["id"], sheet["revision"]) == (f"copperbeck-press/{name}", 1)
        assert (sheet["bleed"]["minimum"], sheet["color"]["ink_limit"]) == ("5 mm", limit)
    assert "aliases" not in sheet
    stored = caller.get(f"/v1/specs/{CARD}").get_json()
    assert stored["bleed"]["minimum"] == "3 mm", "the sheet itself stays as it is"


def test_a_check_names_catalogue_and_sheet_in_one_word(caller: Caller) -> None:
    kept(caller)
    pdf = page(85, 55, bleed=3).fill(cyan=1).bytes()
    for spec, verdict in ((CARD, "conforming"), (f"copperbeck-press/{CARD}", "nonconforming")):
        sent = caller.post(f"/v1/checks?spec={spec}", data=pdf, content_type="application/pdf").get_json()
        check = finished(caller, sent["id"])
        assert check["verdict"] == verdict, check["summary"]
    assert (check["spec"]["id"], check["spec"]["revision"]) == (f"copperbeck-press/{CARD}", 1)
    sheet = caller.get(f"{PATH}/sheets/{CARD}").get_json()
    assert check["spec"]["digest"] == digest(read_sheet(sheet, stored=True))
    assert caller.get(f"/checks/{check['id']}").status_code == 200, "its page needs no page of the sheet"
    wrong = f"/v1/checks?spec=copperbeck-press/{CARD[:-1]}"
    problem = caller.post(wrong, data=pdf, content_type="application/pdf")
    assert CARD in told(problem, "unknown-spec")["/spec"]
    told(caller.post("/v1/checks?spec=other/card", data=pdf, content_type="application/pdf"), "unknown-spec")


def test_a_revision_of_a_catalogue_always_asks_the_same(caller: Caller) -> None:
    own = {"id": "our-card", "extends": CARD, "margin": {"minimum": "4 mm"}}
    tag = caller.post("/v1/specs", json=own).headers["ETag"]
    of_ours = {**PRESS, "sheets": ["our-card"]}
    read = kept(caller, of_ours).headers["ETag"]
    sheet = f"{PATH}/sheets/our-card"
    changed = {**own, "margin": {"minimum": "6 mm"}}
    assert caller.call("PUT", "/v1/specs/our-card", json=changed, headers={"If-Match": tag}).status_code == 200
    assert caller.get(sheet).get_json()["margin"]["minimum"] == "4 mm"
    second = put(caller, of_ours, read)
    assert second.get_json()["revision"] == 2
    assert caller.get(sheet).get_json()["margin"]["minimum"] == "6 mm"
    assert caller.get(f"{sheet}?revision=1").get_json()["margin"]["minimum"] == "4 mm"
    assert put(caller, {**of_ours, "sheets": ["our-card@1"]}, "*").status_code == 200, "or an older one is named"
    assert caller.get(sheet).get_json()["margin"]["minimum"] == "4 mm"
    assert caller.get("/v1/specs?catalogue=copperbeck-press").get_json()["specs"][0]["extends"] == "our-card@1"


def test_nobody_s_work_is_written_over_and_old_revisions_stay(caller: Caller) -> None:
    tag = kept(caller).headers["ETag"]
    told(caller.post("/v1/catalogues", json=PRESS), "catalogue-exists")
    told(put(caller, PRESS, None), "if-match-missing")
    assert put(caller, {**PRESS, "sheets": [CARD]}, tag).status_code == 200
    told(put(caller, PRESS, tag), "catalogue-changed")
    told(caller.delete(PATH, headers={"If-Match": tag}), "catalogue-changed")
    assert caller.delete(PATH).status_code == 204
    told(caller.get(PATH), "catalogue-deleted")
    told(caller.get(f"/v1/specs?catalogue={PRESS['id']}"), "catalogue-deleted")
    assert len(caller.get(f"{PATH}?revision=1").get_json()["sheets"]) == 3
    told(caller.get(f"{PATH}?revision=7"), "catalogue-not-found")
    history = caller.get(f"{PATH}/revisions").get_json()
    assert [one["revision"] for one in history["revisions"]] == [2, 1]
    assert history["deleted_at"]
    assert kept(caller).get_json()["revision"] == 3
    assert "copperbeck-press" in told_detail(caller.get("/v1/catalogues/copperbeck-pres"))


def told_detail(answer: TestResponse) -> str:
    told(answer, "catalogue-not-found")
    return str(answer.get_json()["detail"])


def test_a_catalogue_moves_to_another_service_as_one_file(caller: Caller) -> None:
    caller.post("/v1/specs", json={"id": "our-card", "extends": CARD, "margin": {"minimum": "4 mm"}, "bleed": {"note": "Ours."}})
    kept(caller, {**PRESS, "sheets": [CARD, "our-card", OWN]})
    before = {name: caller.get(f"{PATH}/sheets/{name}").get_json() for name in (CARD, "our-card", "halyard-card")}
    file = caller.get(f"{PATH}?whole=true", headers={"Accept": "application/yaml"}).get_data(as_text=True)
    assert [one if isinstance(one, str) else one["id"] for one in yaml.safe_load(file)["sheets"]] == [*before]
    caller.delete("/v1/specs/our-card")
    caller.delete(PATH)
    moved = file.replace("copperbeck-press", "copperbeck-elsewhere")
    assert caller.post("/v1/catalogues", data=moved, content_type="application/yaml").status_code == 201
    for name, sheet in before.items():
        there = caller.get(f"/v1/catalogues/copperbeck-elsewhere/sheets/{name}").get_json()
        assert there == {**sheet, "id": f"copperbeck-elsewhere/{name}"}, name


def test_its_sheets_are_searched_by_size_in_any_order_and_unit(caller: Caller) -> None:
    kept(caller)
    find = "/v1/specs?catalogue=copperbeck-press"
    assert ids(caller.get(find)) == [f"copperbeck-press/{one}" for one in (CARD, "flyer-a6", "halyard-card")]
    for trim in ("85x55", "55 x 85 mm", "5.5x8.5cm", "2.165 x 3.346 in"):
        assert ids(caller.get(f"{find}&trim={quote(trim)}")) == [
            f"copperbeck-press/{CARD}", "copperbeck-press/halyard-card",
        ], trim
    assert ids(caller.get(f"{find}&trim=A6")) == ["copperbeck-press/flyer-a6"]
    assert ids(caller.get(f"{find}&trim=A6&product=business-card")) == []
    assert ids(caller.get(f"{find}&q=halyard")) == ["copperbeck-press/halyard-card"]
    page_2 = caller.get(f"{find}&page=2&page_size=2")
    assert (ids(page_2), page_2.get_json()["total"]) == (["copperbeck-press/halyard-card"], 3)
    assert "catalogue=copperbeck-press" in page_2.headers["Link"]
    assert CARD in ids(caller.get("/v1/specs?trim=55x85")), "stored ones as well"
    assert set(told(caller.get("/v1/specs?trim=large"), "invalid-request")) == {"/trim"}
    told(caller.get("/v1/specs?catalogue=nobody"), "catalogue-not-found")


def test_which_of_your_products_is_this_file(caller: Caller) -> None:
    kept(caller)
    pdf = page(105, 148, bleed=5).fill(cyan=1).bytes()
    address = "/v1/specs/matches?catalogue="
    answer = caller.post(f"{address}copperbeck-press", data=pdf, content_type="application/pdf").get_json()
    assert [one["spec"]["id"] for one in answer["matches"]] == ["copperbeck-press/flyer-a6"]
    told(caller.post(f"{address}nobody", data=pdf, content_type="application/pdf"), "catalogue-not-found")


def test_every_mistake_of_a_catalogue_is_told_with_its_place(caller: Caller) -> None:
    wrong = {
        **PRESS,
        "sheets": [CARD, "no-such-sheet", {"id": "odd", "extends": CARD, "margin": {"minimum": "3 apples"}}, "flyer-a6@77"],
    }
    assert set(told(caller.post("/v1/catalogues", json=wrong), "invalid-catalogue")) == {
        "/sheets/1", "/sheets/2/margin/minimum", "/sheets/3",
    }
    shape: dict[str, Any] = {"id": "No Name", "titel": "x", "defaults": {"id": "x"}, "sheets": [CARD, CARD, 5, "x@y"]}
    assert set(told(caller.post("/v1/catalogues", json=shape), "invalid-catalogue")) == {
        "/id", "/titel", "/title", "/defaults/id", "/sheets/1", "/sheets/2", "/sheets/3",
    }
    for body in ({}, [], {"id": "x", "title": "X", "sheets": []}, {"id": "x", "title": "X", "sheets": [{"bleed": 3}]}):
        told(caller.post("/v1/catalogues", json=body), "invalid-catalogue")
    told(caller.post("/v1/catalogues", data="<x/>", content_type="text/xml"), "unsupported-media-type")
    told(caller.post("/v1/specs", json={**OWN, "id": "copperbeck-press/card"}), "invalid-sheet")


def test_a_default_that_takes_a_key_out_takes_it_where_there_is_one(caller: Caller) -> None:
    kept(caller, {**PRESS, "defaults": {"margin": None}, "sheets": [CARD, "client-preview"]})
    assert "margin" not in caller.get(f"{PATH}/sheets/{CARD}").get_json()
    assert "margin" in caller.get(f"/v1/specs/{CARD}").get_json()


def test_an_upload_token_may_be_for_a_sheet_of_a_catalogue(caller: Caller) -> None:
    kept(caller)
    asked = {"spec": f"copperbeck-press/{CARD}", "origin": "https://shop.halyard-lane.example"}
    answer = caller.post("/v1/upload-tokens", json=asked)
    assert answer.status_code == 201, answer.get_data(as_text=True)
    assert answer.get_json()["spec"]["id"] == f"copperbeck-press/{CARD}"
