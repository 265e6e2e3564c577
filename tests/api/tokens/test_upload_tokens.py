"""Upload tokens: what one allows, from where, how long; and that nobody else reads the answers."""

from __future__ import annotations

import io
import json
import re
import time
from base64 import urlsafe_b64decode, urlsafe_b64encode
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from werkzeug.test import TestResponse

from service.answers.problems import PROBLEMS
from service.api.tokens.grants import Grant, read_grant, signed
from service.api.tokens.origins import origin_mistake
from tests.api.conftest import Start
from tests.api.contract import Caller

SHOP = "https://shop.example"
SPEC = "business-card-85x55"
CORS = "Access-Control-Allow-Origin"
FIRST, SECOND = "a" * 40, "b" * 40
LONG_SHEET = {"keep_clear": [{"name": f"area {n} {'n' * 80}", "box": [1, 1, 50, 50]} for n in range(500)]}
"""Right, and longer than a token."""


def ask(caller: Caller, **form: Any) -> TestResponse:
    return caller.post("/v1/upload-tokens", json={"origin": SHOP, **({} if "spec_sheet" in form else {"spec": SPEC}), **form})


def token(caller: Caller, **form: Any) -> str:
    answer = ask(caller, **form)
    assert answer.status_code == 201, answer.get_json()
    return str(answer.get_json()["token"])


def upload(caller: Caller, given: str, pdf: bytes, origin: str | None = SHOP, **form: Any) -> TestResponse:
    fields = {"token": given, "file": (io.BytesIO(pdf), "card.pdf"), **form}
    headers = {"Origin": origin} if origin else {}
    return caller.post("/v1/checks", data=fields, headers=headers, content_type="multipart/form-data")


def told(answer: TestResponse, code: str) -> dict[str, str]:
    problem = answer.get_json()
    assert (problem["type"], answer.status_code) == (f"/problems/{code}", PROBLEMS[code].status), problem
    return {one["pointer"]: one["detail"] for one in problem.get("errors", [])}


def readable(answer: TestResponse) -> bool:
    """By the shop's page; and nothing on the way gives it to another."""
    return answer.headers.get(CORS) == SHOP and "Origin" in answer.vary


# --- Asking for one --------------------------------------------------------------------------------------------------


def test_a_token_says_what_it_allows(caller: Caller) -> None:
    answer = ask(caller, maximum_size="20 MB", valid_seconds=60)
    assert answer.status_code == 201
    assert answer.headers["Cache-Control"] == "no-store"
    given = answer.get_json()
    assert (given["spec"]["id"], given["origin"], given["maximum_size_bytes"]) == (SPEC, SHOP, 20_000_000)
    ends = datetime.fromisoformat(given["expires_at"]) - datetime.now(UTC)
    assert timedelta(seconds=50) < ends <= timedelta(seconds=60)
    assert CORS not in answer.headers


def test_left_to_itself_a_token_lasts_a_quarter_of_an_hour_and_takes_what_the_service_takes(start: Start) -> None:
    caller = start(maximum_upload_bytes=5_000_000)
    given = ask(caller).get_json()
    assert given["maximum_size_bytes"] == 5_000_000
    ends = datetime.fromisoformat(given["expires_at"]) - datetime.now(UTC)
    assert timedelta(seconds=890) < ends <= timedelta(seconds=900)


@pytest.mark.parametrize(
    ("form", "pointer"),
    [
        ({"spec": None}, "/spec"),
        ({"spec": SPEC, "spec_sheet": {"bleed": {"minimum": 3}}}, "/spec_sheet"),
        ({"origin": None}, "/origin"),
        ({"origin": 5}, "/origin"),
        ({"origin": "https://shop.example/"}, "/origin"),
        ({"valid_seconds": 0}, "/valid_seconds"),
        ({"valid_seconds": 3601}, "/valid_seconds"),
        ({"valid_seconds": "60"}, "/valid_seconds"),
        ({"maximum_size": "20"}, "/maximum_size"),
        ({"maximum_size": 0}, "/maximum_size"),
        ({"maximum_size": -1}, "/maximum_size"),
        ({"maximum_size": True}, "/maximum_size"),
        ({"maximum_size": "201 MB"}, "/maximum_size"),
        ({"order": "{}"}, "/order"),
        ({"order": {"pages": 8}}, "/order/pages"),
        ({"spec": None, "spec_sheet": "x" * 300_000}, "/spec_sheet"),
        ({"spec": None, "spec_sheet": LONG_SHEET}, "/spec_sheet"),
        ({"spec": "caf\ud800"}, "/spec"),
        ({"spec": "card\0"}, "/spec"),
        ({"orign": SHOP}, "/orign"),
    ],
)
def test_a_wrong_wish_is_pointed_at(caller: Caller, form: dict[str, Any], pointer: str) -> None:
    body = {"spec": SPEC, "origin": SHOP, **form}
    answer = caller.post("/v1/upload-tokens", json={name: value for name, value in body.items() if value is not None})
    assert answer.status_code == 422, answer.get_json()
    assert pointer in {one["pointer"] for one in answer.get_json()["errors"]}


def test_a_sheet_that_is_not_there_or_not_right_gets_no_token(caller: Caller) -> None:
    assert list(told(ask(caller, spec="business-card-85x54"), "unknown-spec")) == ["/spec"]
    assert "/spec_sheet/bleed/minimun" in told(ask(caller, spec_sheet="bleed: {minimun: 3 mm}"), "invalid-sheet")
    assert list(told(ask(caller, spec_sheet=[1]), "invalid-sheet")) == ["/spec_sheet"]


@pytest.mark.parametrize(
    ("body", "kind", "code"),
    [
        ("{", "application/json", "bad-request"),
        ("[" * 100_000, "application/json", "bad-request"),
        ("[]", "application/json", "invalid-request"),
        ("spec=x", "application/x-www-form-urlencoded", "unsupported-media-type"),
        ("{}", "text/plain", "unsupported-media-type"),
        (" " * 1_100_000, "application/json", "too-large"),
    ],
)
def test_another_body_is_refused(caller: Caller, body: str, kind: str, code: str) -> None:
    """A page of another origin could send only the kinds of a form or of plain text without being asked first."""
    told(caller.post("/v1/upload-tokens", data=body, content_type=kind), code)


@pytest.mark.parametrize(
    "origin",
    [
        SHOP,
        "https://shop.example:8443",
        "https://xn--bckerei-5wa.example",
        "https://192.0.2.7",
        "https://[2001:db8::7]",
        "http://localhost:3000",
        "http://shop.localhost",
        "http://127.0.0.1:8010",
        "http://[::1]:8010",
    ],
)
def test_what_a_browser_can_send_as_an_origin_is_taken(origin: str) -> None:
    assert origin_mistake(origin) is None


@pytest.mark.parametrize(
    ("origin", "says"),
    [
        ("null", "‘null’"),
        ("", "https://shop.example"),
        ("shop.example", "https://shop.example"),
        ("*", "https://shop.example"),
        ("https://", "https://shop.example"),
        ("https://shop.example/", "https://shop.example,"),
        ("https://shop.example/order", "https://shop.example,"),
        ("https://shop.example?x", "https://shop.example,"),
        ("https://Shop.Example", "https://shop.example,"),
        ("HTTPS://shop.example", "https://shop.example,"),
        ("https://shop.example:443", "https://shop.example,"),
        ("http://localhost:80", "http://localhost,"),
        ("https://shop.example:0", "port"),
        ("https://shop.example:08443", "port"),
        ("https://shop.example:70000", "port"),
        ("https://shop.example:", "port"),
        ("https://user@shop.example", "https://shop.example"),
        ("https://shop.example\n", "https://shop.example"),
        ("https://shop.example https://other.example", "https://shop.example"),
        ("https://bäckerei.example", "xn--"),
        ("https://shop..example", "host"),
        ("https://-shop.example", "host"),
        ("https://*.example", "host"),
        ("https://192.0.2.999", "host"),
        ("https://0x7f.1", "host"),
        ("https://[2001:db8:0:0::7]", "host"),
        ("https://[shop]", "host"),
        ("https://[fe80::7%25eth0]", "host"),
        ("http://shop.example", "this machine"),
        ("http://192.0.2.7", "this machine"),
        ("http://127.0.0.1.example", "this machine"),
        ("ftp://shop.example", "https://"),
        ("file:///home/card.html", "https://shop.example"),
        (f"https://{'a.' * 200}example", "https://shop.example"),
    ],
)
def test_what_no_browser_sends_as_an_origin_is_told_what_to_write(origin: str, says: str) -> None:
    mistake = origin_mistake(origin)
    assert mistake is not None
    assert says in mistake


# --- Uploading with it -----------------------------------------------------------------------------------------------


def test_a_page_of_the_token_uploads_and_reads_the_result(caller: Caller, card: bytes) -> None:
    answer = upload(caller, token(caller), card)
    assert answer.status_code == 201
    assert readable(answer)
    assert "Access-Control-Allow-Credentials" not in answer.headers
    assert "Set-Cookie" not in answer.headers
    check = answer.get_json()
    assert (check["spec"]["id"], check["verdict"]) == (SPEC, "conforming")
    asked = caller.get(answer.headers["Location"], headers={"Origin": SHOP})
    assert readable(asked)


@pytest.mark.parametrize("other", ["https://other.example", "http://shop.example", f"{SHOP}:8443", "https://SHOP.example"])
def test_no_other_page_reads_the_check(caller: Caller, card: bytes, other: str) -> None:
    location = upload(caller, token(caller), card).headers["Location"]
    asked = caller.get(location, headers={"Origin": other})
    assert asked.status_code == 200
    assert CORS not in asked.headers
    assert "Origin" in asked.vary
    assert CORS not in caller.get(location).headers


def test_a_check_without_a_token_is_read_from_nowhere_else(caller: Caller, card: bytes) -> None:
    answer = caller.check(card, headers={"Origin": SHOP})
    asked = caller.get(answer.headers["Location"], headers={"Origin": SHOP})
    for one in (answer, asked):
        assert one.status_code in (200, 201)
        assert CORS not in one.headers
        assert "Origin" not in one.vary


def test_only_the_check_itself_is_read_from_another_origin(caller: Caller, card: bytes) -> None:
    location = upload(caller, token(caller), card).headers["Location"]
    for path in (f"{location}/pages/1/plates", "/v1/specs", f"/v1/specs/{SPEC}", "/healthz", "/openapi.json"):
        assert CORS not in caller.get(path, headers={"Origin": SHOP}).headers, path


@pytest.mark.parametrize("origin", [None, "null", "https://other.example", "http://shop.example", f"{SHOP}:443", f"{SHOP}/"])
def test_another_page_or_none_cannot_upload(caller: Caller, card: bytes, tmp_path: Path, origin: str | None) -> None:
    answer = upload(caller, token(caller), card, origin)
    assert SHOP in told(answer, "token-origin")["/token"]
    assert CORS not in answer.headers
    assert list((tmp_path / "data0" / "files").iterdir()) == []


def test_an_expired_token_is_told_so_and_its_page_may_read_it(caller: Caller, card: bytes) -> None:
    given = token(caller, valid_seconds=1)
    time.sleep(1.1)
    answer = upload(caller, given, card)
    assert list(told(answer, "token-expired")) == ["/token"]
    assert answer.headers[CORS] == SHOP
    assert answer.headers["WWW-Authenticate"] == "Upload-Token"


def forged(given: str) -> dict[str, str]:
    text, signature = given.split(".")
    facts = json.loads(urlsafe_b64decode(text + "=" * (-len(text) % 4)))
    more = urlsafe_b64encode(json.dumps(facts | {"expires": facts["expires"] + 9999}).encode()).decode().rstrip("=")
    return {
        "longer valid": f"{more}.{signature}",
        "other signature": f"{text}.{'A' * len(signature)}",
        "no signature": text,
        "nothing signed": f".{signature}",
        "not ASCII": "tökèn.é",
        "words": "open the door",
    }


@pytest.mark.parametrize("how", ["longer valid", "other signature", "no signature", "not ASCII"])
def test_a_forged_token_is_refused_and_nobody_reads_it(caller: Caller, card: bytes, how: str) -> None:
    answer = upload(caller, forged(token(caller))[how], card)
    assert list(told(answer, "token-invalid")) == ["/token"]
    assert CORS not in answer.headers


@pytest.mark.parametrize("field", ["spec", "spec_sheet", "order", "check"])
def test_what_the_token_says_is_not_said_again(caller: Caller, card: bytes, field: str) -> None:
    answer = upload(caller, token(caller), card, **{field: SPEC})
    assert list(told(answer, "invalid-request")) == [f"/{field}"]
    assert answer.headers[CORS] == SHOP


def test_every_problem_of_the_page_is_readable_for_it(caller: Caller, card: bytes) -> None:
    given = token(caller)
    for answer, code in (
        (upload(caller, given, b"\x89PNG\r\n\x1a\n"), "not-a-pdf"),
        (upload(caller, given, card, fiel="x"), "invalid-request"),
        (caller.post("/v1/checks", data={"token": given}, headers={"Origin": SHOP}), "invalid-request"),
    ):
        told(answer, code)
        assert readable(answer)


def test_a_file_over_the_tokens_size_is_too_large(caller: Caller, card: bytes, tmp_path: Path) -> None:
    given = token(caller, maximum_size=len(card))
    assert upload(caller, given, card).status_code == 201
    answer = upload(caller, given, card + b"\n")
    assert list(told(answer, "too-large")) == ["/file"]
    assert f"{len(card):,} bytes" in answer.get_json()["detail"]
    assert answer.headers[CORS] == SHOP
    assert len(list((tmp_path / "data0" / "files").iterdir())) == 1


def test_a_token_does_not_stand_in_an_address(caller: Caller, card: bytes) -> None:
    address = f"/v1/checks?token={token(caller)}"
    answer = caller.post(address, data=card, content_type="application/pdf", headers={"Origin": SHOP})
    assert "/token" in told(answer, "invalid-request")
    form = {"file": (io.BytesIO(card), "card.pdf")}
    answer = caller.post(address, data=form, content_type="multipart/form-data", headers={"Origin": SHOP})
    assert list(told(answer, "invalid-request")) == ["/token"]


def test_the_token_keeps_sheet_revision_and_order(caller: Caller, card: bytes) -> None:
    references = [{"name": "common practice, no source", "about": "trim"}]
    sheet = {"id": "halyard-card", "title": "Card", "product": "business-card", "summary": "A card.", "references": references,
             "trim": {"width": 85, "height": 55}}
    kept = caller.post("/v1/specs", json=sheet)
    assert kept.status_code == 201, kept.get_json()
    given = token(caller, spec="halyard-card", order={"inner_pages": 8})
    changed = caller.call("PUT", "/v1/specs/halyard-card", json={**sheet, "trim": {"width": 90, "height": 50}},
                          headers={"If-Match": kept.headers["ETag"]})
    assert changed.status_code == 200
    check = upload(caller, given, card).get_json()
    assert (check["spec"]["id"], check["spec"]["revision"], check["verdict"]) == ("halyard-card", 1, "conforming")
    assert caller.delete("/v1/specs/halyard-card").status_code == 204
    assert upload(caller, given, card).status_code == 201


@pytest.mark.parametrize("sheet", ["trim: {width: 85 mm, height: 55 mm}", {"trim": {"width": 85, "height": "55 mm"}}])
def test_a_sheet_travels_in_the_token(caller: Caller, card: bytes, sheet: Any) -> None:
    check = upload(caller, token(caller, spec_sheet=sheet), card).get_json()
    assert (check["spec"]["id"], check["verdict"]) == (None, "conforming")


def test_a_sheet_that_is_gone_with_another_version_is_told(caller: Caller, card: bytes) -> None:
    ends = datetime.now(UTC) + timedelta(minutes=5)
    secrets = caller.client.application.extensions["print-spec"].token_secrets
    given = signed(Grant("t", "local", f"{SPEC}@99", None, None, SHOP, 10**6, ends), secrets)
    assert list(told(upload(caller, given, card), "unknown-spec")) == ["/token"]


def test_the_same_upload_sent_again_under_its_key_is_one_check(caller: Caller, card: bytes) -> None:
    """As the element does where the connection was lost: also with a renewed token, but not from another shop."""
    key = {"Idempotency-Key": "upload-1"}

    def send(origin: str) -> TestResponse:
        form = {"token": token(caller, origin=origin), "file": (io.BytesIO(card), "card.pdf")}
        return caller.post("/v1/checks", data=form, headers={**key, "Origin": origin}, content_type="multipart/form-data")

    assert send(SHOP).get_json()["id"] == send(SHOP).get_json()["id"]
    told(send("https://other.example"), "key-reused")


def test_a_token_may_be_used_again_until_it_ends(caller: Caller, card: bytes) -> None:
    """Nothing is kept of it: the README's cautions say so."""
    given = token(caller)
    assert upload(caller, given, card).get_json()["id"] != upload(caller, given, card).get_json()["id"]


# --- Asking first ----------------------------------------------------------------------------------------------------


def preflight(caller: Caller, path: str, origin: str | None, method: str = "POST") -> TestResponse:
    headers = {"Access-Control-Request-Method": method, "Access-Control-Request-Headers": "idempotency-key,prefer"}
    return caller.call("OPTIONS", path, headers={**headers, **({"Origin": origin} if origin else {})})


def test_a_browser_that_asks_first_is_told_that_pages_may_upload(caller: Caller) -> None:
    answer = preflight(caller, "/v1/checks", SHOP)
    assert answer.status_code == 200
    assert readable(answer)
    assert answer.headers["Access-Control-Allow-Methods"] == "POST"
    assert answer.headers["Access-Control-Allow-Headers"] == "Idempotency-Key, Prefer"
    assert "Access-Control-Allow-Credentials" not in answer.headers


@pytest.mark.parametrize(
    ("path", "origin", "method"),
    [
        ("/v1/checks", None, "POST"),
        ("/v1/checks", "null", "POST"),
        ("/v1/checks", "http://shop.example", "POST"),
        ("/v1/checks", SHOP, "PUT"),
        ("/v1/checks/abc", SHOP, "DELETE"),
        ("/v1/checks/abc", SHOP, "GET"),
        ("/v1/upload-tokens", SHOP, "POST"),
        ("/v1/specs", SHOP, "POST"),
    ],
)
def test_nothing_else_is_allowed_from_another_origin(caller: Caller, path: str, origin: str | None, method: str) -> None:
    assert not [name for name, _ in preflight(caller, path, origin, method).headers if name.startswith("Access-Control")]


# --- Secrets ---------------------------------------------------------------------------------------------------------


GRANT = Grant("t", "local", "card@1", None, '{"inner_pages":8}', SHOP, 1000, datetime(2026, 3, 2, 12, 0, tzinfo=UTC))


def test_the_first_secret_signs_and_every_one_is_taken() -> None:
    old, new = signed(GRANT, (FIRST,)), signed(GRANT, (SECOND, FIRST))
    assert read_grant(old, (SECOND, FIRST)) == GRANT
    assert read_grant(new, (SECOND,)) == GRANT
    assert read_grant(new, (FIRST,)) is None


@pytest.mark.parametrize("how", ["longer valid", "other signature", "no signature", "nothing signed", "not ASCII", "words"])
def test_what_no_secret_has_signed_is_no_grant(how: str) -> None:
    assert read_grant(forged(signed(GRANT, (FIRST,)))[how], (FIRST,)) is None


def test_a_sheet_in_another_language_comes_back_as_it_was() -> None:
    grant = replace(GRANT, spec=None, sheet='{"title":"Bäckerei – 85 × 55 mm"}')
    assert read_grant(signed(grant, (FIRST,)), (FIRST,)) == grant


def test_a_restarted_service_takes_the_tokens_that_it_gave(start: Start, tmp_path: Path, card: bytes) -> None:
    first = start(token_secrets=(FIRST,), data=tmp_path / "kept")
    second = start(token_secrets=(SECOND, FIRST), data=tmp_path / "kept")
    third = start(token_secrets=(SECOND,), data=tmp_path / "kept")
    given = token(first)
    assert upload(second, given, card).status_code == 201
    told(upload(third, given, card), "token-invalid")


# --- A form without a script -----------------------------------------------------------------------------------------


def post_form(caller: Caller, headers: dict[str, str] | None = None, **form: Any) -> TestResponse:
    """As a browser does, and without the contract: a problem may come as a page here."""
    return caller.client.post("/v1/checks", data=form, headers=headers or {}, content_type="multipart/form-data")


def test_a_plain_form_leads_to_the_report_at_once(start: Start, card: bytes) -> None:
    caller = start(measure="tests.jobs.faults:hangs", wait_seconds=3600)
    answer = caller.check(card, spec=SPEC, answer="report")
    assert answer.status_code == 303
    check_id = answer.headers["Location"].removeprefix("/v1/checks/").removesuffix("/report")
    assert caller.get(f"/v1/checks/{check_id}").get_json()["state"] in ("queued", "running")


def test_a_plain_form_from_another_site_needs_no_token_and_may_have_one(caller: Caller, card: bytes) -> None:
    assert caller.check(card, headers={"Origin": SHOP}, spec=SPEC, answer="report").status_code == 303
    assert upload(caller, token(caller), card, answer="report").status_code == 303


@pytest.mark.parametrize(
    ("form", "status", "sentence"),
    [
        ({"spec": SPEC}, 422, "Send the PDF in this field"),
        ({"spec": "business-card-85x54", "file": b"%PDF-1.7"}, 422, "‘Business card, 85 × 55 mm’"),
        ({"spec": SPEC, "file": b""}, 415, "<h1>The file is empty</h1>"),
        ({"spec": SPEC, "file": b"\x89PNG\r\n\x1a\n"}, 415, "PNG"),
        ({"spec": SPEC, "file": b"%PDF-1.7", "prodcut": "x"}, 422, "prodcut"),
        ({"token": "forged", "file": b"%PDF-1.7"}, 401, "token"),
        ({"spec": "<b>card</b>", "file": b"%PDF-1.7"}, 422, "&lt;b&gt;card"),
    ],
)
def test_a_mistake_in_a_plain_form_comes_as_a_page(caller: Caller, form: dict[str, Any], status: int, sentence: str) -> None:
    sent = {name: (io.BytesIO(value), "card.pdf") if isinstance(value, bytes) else value for name, value in form.items()}
    answer = post_form(caller, answer="report", **sent)
    assert (answer.status_code, answer.mimetype) == (status, "text/html")
    assert sentence in answer.text
    assert "<script" not in answer.text
    assert answer.headers["Cache-Control"] == "no-store"


_FOR_PROGRAMS = re.compile(r"GET |POST |'errors'|JSON|Retry-After|PRINT_SPEC|expires_at|DELETE")


@pytest.mark.parametrize(
    "form",
    [
        {"spec": SPEC},
        {"spec": "no-sheet-of-anybody", "file": b"%PDF-1.7"},
        {"spec": SPEC, "file": b""},
        {"spec_sheet": "trim: wide", "file": b"%PDF-1.7"},
        {"spec": SPEC, "file": bytes(2000)},
    ],
)
def test_a_page_about_a_form_speaks_to_people(start: Start, form: dict[str, Any]) -> None:
    sent = {name: (io.BytesIO(value), "card.pdf") if isinstance(value, bytes) else value for name, value in form.items()}
    caller = start(maximum_upload_bytes=1000)
    page = post_form(caller, answer="report", **sent).text
    assert "Nothing was checked" in page
    assert _FOR_PROGRAMS.search(page) is None, page


def test_a_form_that_cannot_be_read_is_answered_as_its_sender_reads(start: Start) -> None:
    caller = start(maximum_upload_bytes=1000)
    head = b'--cut\r\nContent-Disposition: form-data; name="file"; filename="card.pdf"\r\n\r\n%PDF-1.7'
    form = {"data": head + bytes(3_000_000) + b"\r\n--cut--\r\n", "content_type": "multipart/form-data; boundary=cut"}
    for accept, kind in (("text/html,application/xml;q=0.9,*/*;q=0.8", "text/html"), ("*/*", "application/problem+json")):
        answer = caller.client.post("/v1/checks", headers={"Accept": accept}, **form)
        assert (answer.status_code, answer.mimetype) == (413, kind)


def test_other_callers_get_their_problems_as_before(caller: Caller, card: bytes) -> None:
    form = {"file": (io.BytesIO(card), "card.pdf")}
    browser = {"Accept": "text/html,*/*;q=0.8"}
    answer = caller.post("/v1/checks", data=form, headers=browser, content_type="multipart/form-data")
    assert list(told(answer, "invalid-request")) == ["/spec"]


@pytest.mark.parametrize("answer", ["page", "", "Report"])
def test_an_unknown_answer_is_refused(caller: Caller, card: bytes, answer: str) -> None:
    assert list(told(caller.check(card, answer=answer), "invalid-request")) == ["/answer"]


# --- The script ------------------------------------------------------------------------------------------------------


def test_the_script_may_be_loaded_by_every_shop_and_kept_for_a_day(caller: Caller) -> None:
    with caller.client.get("/static/check-upload.js", headers={"Origin": SHOP}) as answer:
        assert (answer.status_code, answer.mimetype) == (200, "text/javascript")
        assert answer.headers["Cross-Origin-Resource-Policy"] == "cross-origin"
        assert answer.headers[CORS] == "*"
        assert "max-age=86400" in answer.headers["Cache-Control"]
        tag = answer.headers["ETag"]
    with caller.client.get("/static/check-upload.js", headers={"If-None-Match": tag}) as again:
        assert again.status_code == 304


# --- How often, and until when ----------------------------------------------------------------------------------------


def test_a_token_may_be_used_as_often_as_it_says(caller: Caller, card: bytes) -> None:
    given = ask(caller, uses=2).get_json()
    assert given["uses"] == 2
    assert [upload(caller, given["token"], card).status_code for _ in range(3)] == [201, 201, 401]
    assert "/token" in told(upload(caller, given["token"], card), "token-spent")
    assert ask(caller).get_json()["uses"] is None


def test_an_upload_that_is_repeated_uses_its_token_once(caller: Caller, card: bytes) -> None:
    given = token(caller, uses=1)
    fields: dict[str, Any] = {"content_type": "multipart/form-data", "headers": {"Origin": SHOP, "Idempotency-Key": "a-visitor"}}
    ids = {
        caller.post("/v1/checks", data={"token": given, "file": (io.BytesIO(card), "card.pdf")}, **fields).get_json()["id"]
        for _ in range(3)
    }
    assert len(ids) == 1
    other = {"token": given, "file": (io.BytesIO(card), "card.pdf")}
    fields["headers"]["Idempotency-Key"] = "another-visitor"
    told(caller.post("/v1/checks", data=other, **fields), "token-spent")


def test_what_is_refused_uses_no_token(start: Start, card: bytes) -> None:
    caller = start(workers=1, queue_length=1, wait_seconds=0.0, measure="tests.jobs.faults:hangs")
    given = token(caller, uses=4)
    told(upload(caller, given, b"no PDF"), "not-a-pdf")
    told(upload(caller, given, card, more="1"), "invalid-request")
    answers = [upload(caller, given, card).status_code for _ in range(6)]
    assert set(answers) == {202, 429}
    row = caller.client.application.extensions["print-spec"].upload_tokens.get(grant_id(given), datetime.now(UTC))
    assert row.used == answers.count(202) < 4


def grant_id(given: str) -> str:
    text = given.split(".")[0]
    return str(json.loads(urlsafe_b64decode(text + "=" * (-len(text) % 4)))["id"])


def test_a_token_can_be_taken_back_and_what_came_with_it_stays(caller: Caller, card: bytes) -> None:
    given = ask(caller).get_json()
    check = upload(caller, given["token"], card).get_json()["id"]
    assert caller.delete(f"/v1/upload-tokens/{given['id']}").status_code == 204
    told(upload(caller, given["token"], card), "token-spent")
    told(caller.delete(f"/v1/upload-tokens/{given['id']}"), "token-not-found")
    assert caller.get(f"/v1/checks/{check}").status_code == 200


@pytest.mark.parametrize("uses", [0, -1, 1001, "2", 1.5])
def test_a_number_of_uses_is_a_number(caller: Caller, uses: object) -> None:
    assert "/uses" in told(ask(caller, uses=uses), "invalid-request")
