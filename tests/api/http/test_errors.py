"""Every road to an error: each answers a problem of the closed list, a sentence, and the place where the input is at fault."""

from __future__ import annotations

import io
import json
from pathlib import Path
from typing import Any

import pytest
from flask import Flask
from werkzeug.test import TestResponse

from service.answers.problems import PROBLEMS
from tests.api.conftest import Start
from tests.api.contract import CARD_SHEET, Caller
from tests.databases import lose

PNG = b"\x89PNG\r\n\x1a\n" + bytes(64)


def told(answer: TestResponse, code: str) -> dict[str, str]:
    """The errors by pointer, once the answer is the problem of that code."""
    problem = answer.get_json()
    assert problem["type"] == f"/problems/{code}", problem
    assert answer.status_code == problem["status"] == PROBLEMS[code].status
    assert problem["title"] == PROBLEMS[code].title
    assert len(problem["detail"]) > 15
    return {one["pointer"]: one["detail"] for one in problem.get("errors", [])}


# --- The form -----------------------------------------------------------------------------------------------------------


def test_an_empty_form_is_told_both_fields_at_once(caller: Caller) -> None:
    assert set(told(caller.post("/v1/checks", data={}, content_type="multipart/form-data; boundary=x"), "invalid-request")) == {
        "/file",
        "/spec",
    }


def test_an_unknown_field_is_refused_with_the_nearest_name(caller: Caller, card: bytes) -> None:
    errors = told(caller.check(card, spec_sheat="…"), "invalid-request")
    assert "‘spec_sheet’" in errors["/spec_sheat"]


@pytest.mark.parametrize(
    ("fields", "pointer"),
    [
        ({"spec": "business-card-85x55", "spec_sheet": CARD_SHEET}, "/spec_sheet"),
        ({"check": "abc"}, "/check"),
        ({"callback_url": "https://halyard-lane.example/done"}, "/callback_url"),
        ({"spec": ["business-card-85x55", "business-card-us"]}, "/spec"),
        ({"spec_sheet": [CARD_SHEET, CARD_SHEET]}, "/spec_sheet"),
        ({"spec_sheet": "x" * 300_000}, "/spec_sheet"),
        ({"spec_sheet": (io.BytesIO(b"\xff\xfe\x00"), "sheet.yaml")}, "/spec_sheet"),
        ({"spec": (io.BytesIO(b"business-card-85x55"), "spec.txt")}, "/spec"),
        ({"spec": ""}, "/spec"),
        ({"order": "96 pages"}, "/order"),
        ({"order": '{"inner_pages": 8, "inner_pages": 12}'}, "/order"),
        ({"order": '{"inner_pages": -4}'}, "/order/inner_pages"),
        ({"order": '{"pages": 8}'}, "/order/pages"),
        ({"order": "[" * 3000}, "/order"),
        ({"a~b/c": "1"}, "/a~0b~1c"),
    ],
)
def test_a_field_that_is_wrong_is_pointed_at(caller: Caller, card: bytes, fields: dict[str, Any], pointer: str) -> None:
    assert list(told(caller.check(card, **fields), "invalid-request")) == [pointer]


def test_the_pdf_as_plain_text_is_told_to_come_as_a_file(caller: Caller) -> None:
    assert list(told(caller.check(file="%PDF-1.7"), "invalid-request")) == ["/file"]


def test_fields_of_the_form_do_not_belong_into_the_address(caller: Caller, card: bytes) -> None:
    form = {"file": (io.BytesIO(card), "card.pdf")}
    answer = caller.post("/v1/checks?spec=business-card-85x55", data=form, content_type="multipart/form-data")
    assert list(told(answer, "invalid-request")) == ["/spec"]


def test_a_bare_pdf_without_a_sheet_or_with_an_unknown_key_is_pointed_at(caller: Caller, card: bytes) -> None:
    bare = {"data": card, "content_type": "application/pdf"}
    assert list(told(caller.post("/v1/checks", **bare), "invalid-request")) == ["/spec"]
    assert list(told(caller.post("/v1/checks?spec=business-card-us&sepc=x", **bare), "invalid-request")) == ["/sepc"]


@pytest.mark.parametrize("kind", ["application/json", "text/plain", "image/png", ""])
def test_another_kind_of_body_is_refused(caller: Caller, kind: str) -> None:
    told(caller.post("/v1/checks", data=b"{}", content_type=kind), "unsupported-media-type")


@pytest.mark.parametrize("key", ["", "two words", "é", "x" * 256])
def test_an_idempotency_key_that_is_none_is_refused(caller: Caller, card: bytes, key: str) -> None:
    told(caller.check(card, headers={"Idempotency-Key": key}), "bad-request")


# --- The file -----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "data", [PNG, b"", b"x" * 1020 + b"%PDF-1.7", b"%!PS-Adobe-3.0", b"PK\x03\x04 docx", b"\xff\xd8\xff\xe0"]
)
def test_what_is_no_pdf_is_told_so_and_not_kept(caller: Caller, data: bytes, tmp_path: Path) -> None:
    assert list(told(caller.check(data), "not-a-pdf")) == ["/file"]
    assert list((tmp_path / "data0" / "files").iterdir()) == []


def test_a_header_just_within_the_first_kilobyte_is_a_pdf(caller: Caller) -> None:
    assert caller.check(b"x" * 1019 + b"%PDF-1.7").status_code == 201


def test_a_name_or_type_does_not_make_a_pdf(caller: Caller) -> None:
    form = {"file": (io.BytesIO(PNG), "card.pdf", "application/pdf"), "spec": "business-card-85x55"}
    told(caller.post("/v1/checks", data=form, content_type="multipart/form-data"), "not-a-pdf")
    told(caller.post("/v1/checks?spec=business-card-85x55", data=PNG, content_type="application/pdf"), "not-a-pdf")


def test_a_file_just_over_the_limit_is_too_large(start: Start, card: bytes) -> None:
    caller = start(maximum_upload_bytes=len(card))
    assert caller.check(card).status_code == 201
    assert list(told(caller.check(card + b"\n"), "too-large")) == ["/file"]


def test_a_body_far_over_the_limit_is_not_read_to_its_end(start: Start) -> None:
    caller = start(maximum_upload_bytes=1000)
    head = b'--cut\r\nContent-Disposition: form-data; name="file"; filename="card.pdf"\r\n\r\n%PDF-1.7'
    form = {"data": head + bytes(3_000_000) + b"\r\n--cut--\r\n", "content_type": "multipart/form-data; boundary=cut"}
    told(caller.post("/v1/checks", **form), "too-large")
    bare = {"data": b"%PDF-1.7" + bytes(3_000_000), "content_type": "application/pdf"}
    told(caller.post("/v1/checks?spec=business-card-85x55", **bare), "too-large")


# --- The sheet ----------------------------------------------------------------------------------------------------------


def test_a_stored_sheet_that_does_not_exist_is_told_the_nearest(caller: Caller, card: bytes) -> None:
    assert "business-card-85x55" in told(caller.check(card, spec="business-card-85x54"), "unknown-spec")["/spec"]


@pytest.mark.parametrize(
    ("sheet", "pointer"),
    [
        ("bleed: {minimun: 3 mm}", "/spec_sheet/bleed/minimun"),
        ("bleed: {minimum: -3 mm}", "/spec_sheet/bleed/minimum"),
        ("bleed: {minimum: 3 mm}\nlevels: {trim.sise: off}", "/spec_sheet/levels/trim.sise"),
        ("{}", "/spec_sheet"),
        ("bleed: [", "/spec_sheet"),
        ("- 1", "/spec_sheet"),
        ("a: &a [x, x]\nb: &b [*a, *a]\nc: [*b, *b]", "/spec_sheet/a"),
    ],
)
def test_a_sheet_that_is_wrong_is_pointed_at_below_its_field(caller: Caller, card: bytes, sheet: str, pointer: str) -> None:
    errors = told(caller.check(card, spec_sheet=sheet), "invalid-sheet")
    assert pointer in errors
    assert all(one.startswith("/spec_sheet") for one in errors)


def test_all_mistakes_of_a_sheet_come_at_once(caller: Caller, card: bytes) -> None:
    sheet = json.dumps({"bleed": {"minimum": "three"}, "trim": {"width": "85 mm", "hight": 55}})
    errors = told(caller.check(card, spec_sheet=sheet), "invalid-sheet")
    assert {"/spec_sheet/bleed/minimum", "/spec_sheet/trim/hight"} <= set(errors)


# --- Addresses ----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("method", "path", "code"),
    [
        ("GET", "/v1/nothing", "not-found"),
        ("GET", "/v1/checks/nothing", "check-not-found"),
        ("DELETE", "/v1/checks/..%2f..%2fetc", "not-found"),
        ("GET", "/v1/checks/%00", "check-not-found"),
        ("GET", "/v1/specs/business-card", "spec-not-found"),
        ("GET", "/v1/specs/business-card-85x55?revision=99", "spec-not-found"),
        ("GET", "/problems/nothing", "problem-not-found"),
        ("PUT", "/v1/checks", "method-not-allowed"),
        ("GET", "/v1/checks", "method-not-allowed"),
        ("PUT", "/v1/specs", "method-not-allowed"),
        ("GET", "/v1/specs?page=0", "invalid-request"),
        ("GET", "/v1/specs?page=x", "invalid-request"),
        ("GET", "/v1/specs?page_size=1000", "invalid-request"),
        ("GET", "/v1/specs?purpose=art", "invalid-request"),
        ("GET", "/v1/specs?produkt=card", "invalid-request"),
        ("GET", "/v1/specs?page=1&page=2", "invalid-request"),
        ("GET", "/v1/specs/business-card-85x55?revision=x", "invalid-request"),
    ],
)
def test_an_address_that_is_wrong_is_a_problem(caller: Caller, method: str, path: str, code: str) -> None:
    told(caller.call(method, path), code)


def test_a_method_that_is_not_taken_is_told_which_are(caller: Caller) -> None:
    assert set(caller.call("PUT", "/v1/checks").headers["Allow"].split(", ")) == {"OPTIONS", "POST"}


def test_a_format_that_cannot_be_made_is_told_which_can(caller: Caller) -> None:
    told(caller.get("/v1/specs/business-card-85x55", headers={"Accept": "application/xml"}), "not-acceptable")


def test_an_earlier_check_that_is_gone_is_a_mistake_of_the_form(caller: Caller) -> None:
    assert list(told(caller.check(check="nothing"), "invalid-request")) == ["/check"]


def test_a_check_that_failed_and_lost_its_file_cannot_be_judged_again(start: Start, card: bytes, tmp_path: Path) -> None:
    caller = start(measure="tests.jobs.faults:no_such_function")
    failed = caller.check(card).get_json()["id"]
    (tmp_path / "data0" / "files" / f"{failed}.pdf").unlink()
    assert list(told(caller.check(check=failed), "invalid-request")) == ["/check"]


# --- Hostile requests -----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("boundary", "body"),
    [
        ("", b"--x\r\n"),
        ("; boundary=", b"--x\r\n"),
        ("; boundary=y", b"--x\r\nContent-Disposition: form-data; name=spec\r\n\r\na\r\n--x--\r\n"),
        ("; boundary=x", b"--x\r\nContent-Disposition: form-data; name=spec\r\n\r\ncut o"),
        ("; boundary=x", b"--x\r\nContent-Disposition: form-data; name=file; filename=\xe4.pdf\r\n\r\na\r\n--x--\r\n"),
    ],
    ids=["no boundary", "empty boundary", "another boundary", "cut off", "name not in UTF-8"],
)
def test_a_form_that_is_broken_is_told_apart_from_an_empty_one(caller: Caller, boundary: str, body: bytes) -> None:
    told(caller.post("/v1/checks", data=body, content_type=f"multipart/form-data{boundary}"), "bad-request")


def test_a_form_without_files_is_bounded(caller: Caller) -> None:
    told(caller.post("/v1/checks", data={"spec": "x" * 1_100_000}), "too-large")


def test_a_form_of_many_unknown_fields_is_not_answered_with_all_of_them(caller: Caller) -> None:
    errors = told(caller.post("/v1/checks", data={f"a{number}": "" for number in range(2000)}), "invalid-request")
    assert len(errors) == 50


@pytest.mark.parametrize("order", ['{"\\ud800": 1}', '{"inner_pages": "\\ud800"}'])
def test_half_a_character_in_an_order_is_told(caller: Caller, card: bytes, order: str) -> None:
    told(caller.check(card, order=order), "invalid-request")


@pytest.mark.parametrize("sheet", ['{"\\ud800": 1}', '{"bleed": {"minimum": 3}, "title": "\\ud83d"}', '{"id": "a\\ud800"}'])
def test_half_a_character_in_a_sheet_is_told(caller: Caller, card: bytes, sheet: str) -> None:
    assert list(told(caller.check(card, spec_sheet=sheet), "invalid-sheet")) == ["/spec_sheet"]
    told(caller.post("/v1/specs", data=sheet, content_type="application/json"), "invalid-sheet")


def test_an_absurd_date_is_ignored(caller: Caller) -> None:
    absurd = "Sun, 06 Nov 99999999999999 08:49:37 GMT"
    for header in ("If-Modified-Since", "If-Unmodified-Since", "If-Range"):
        headers = {header: absurd, "Range": "bytes=0-1"} if header == "If-Range" else {header: absurd}
        with caller.client.get("/docs/style.css", headers=headers) as answer:
            assert answer.status_code == 200


# --- The service itself -------------------------------------------------------------------------------------------------


def test_a_fault_of_ours_tells_nothing_of_our_insides(start: Start, monkeypatch: pytest.MonkeyPatch) -> None:
    def fails(*_: object, **__: object) -> Any:
        raise RuntimeError("a secret of ours")

    caller = start()
    monkeypatch.setattr("service.sheets.catalogue.stored_sheets", fails)
    answer = caller.get("/v1/specs")
    told(answer, "internal-error")
    assert "secret" not in answer.get_data(as_text=True)
    assert "Traceback" not in answer.get_data(as_text=True)
    assert answer.headers["X-Request-Id"]


def test_a_database_that_does_not_answer_makes_the_service_not_ready_but_alive(start: Start, tmp_path: Path) -> None:
    caller = start()
    assert caller.get("/readyz").status_code == 200
    app: Flask = caller.client.application
    app.extensions["print-spec"].workers.close()  # who looks for checks would make a new one
    app.extensions["print-spec"].checks.close()
    lose(tmp_path / "data0")
    told(caller.get("/readyz"), "not-ready")
    assert caller.get("/healthz").status_code == 200


def test_every_problem_has_a_page_that_explains_it(caller: Caller) -> None:
    listed = caller.get("/problems").get_json()["problems"]
    assert [one["type"] for one in listed] == [f"/problems/{code}" for code in PROBLEMS]
    for one in listed:
        page = caller.get(one["type"]).get_json()
        assert page == one
        assert page["status"] >= 400
        for_people = caller.get(one["type"], headers={"Accept": "text/html"})
        assert one["title"] in for_people.get_data(as_text=True).replace("&#39;", "'")


@pytest.mark.parametrize(("proxies", "same"), [(0, True), (1, False)])
def test_a_proxy_that_is_known_says_who_calls_and_no_other_does(start: Start, card: bytes, proxies: int, same: bool) -> None:
    caller = start(proxies=proxies)

    def sent(address: str) -> str:
        headers = {"Idempotency-Key": "order-7", "X-Forwarded-For": address}
        return str(caller.check(card, headers=headers).get_json()["id"])

    assert (sent("192.0.2.7") == sent("192.0.2.8")) is same
