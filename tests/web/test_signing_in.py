"""A browser sends no key with a page: it is shown once, and a cookie stands for it."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime
from typing import Any

import pytest
from flask.testing import FlaskClient
from werkzeug.test import TestResponse

from service.api.http.callers.signed_in import COOKIE
from tests.api.accounts.shops import Service, Shop, keyed_service

HERE = {"Origin": "http://localhost", "Sec-Fetch-Site": "same-origin"}
OWN = {"/id": "halyard-card", "/title": "Halyard card", "/product": "business-card", "/trim/width": "85", "/trim/height": "55"}


@pytest.fixture(scope="module")
def service(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Service]:
    with keyed_service(tmp_path_factory.mktemp("signed") / "data") as found:
        yield found


def entered(service: Service, shop: Shop, headers: dict[str, str] | None = None, **form: str) -> TestResponse:
    key = shop.made.key if shop.made else ""
    return browser(service).post("/sign-in", data={"key": key, **form}, headers=HERE if headers is None else headers)


def browser(service: Service) -> FlaskClient:
    return service.caller.client.application.test_client()


def of(service: Service, shop: Shop) -> FlaskClient:
    """A browser in which somebody has signed in with the shop's key."""
    found = browser(service)
    assert shop.made
    assert found.post("/sign-in", data={"key": shop.made.key}, headers=HERE).status_code == 303
    return found


def keep(found: FlaskClient, headers: dict[str, str] = HERE, **form: Any) -> TestResponse:
    return found.post("/specs/new", data={**OWN, "do": "keep", **form}, headers=headers)


def test_whoever_is_signed_in_writes_a_sheet_of_his_account_and_sees_it(service: Service) -> None:
    bakery, florist = service.key("bakery"), service.key("florist")
    here = of(service, bakery)
    assert here.get("/specs/new").status_code == 200
    assert "bakery" in here.get("/").text
    kept = keep(here)
    assert kept.status_code == 303, kept.text
    for path in ("/specs/halyard-card", "/specs/halyard-card/edit", "/v1/specs/halyard-card"):
        answer = here.get(path)
        assert answer.status_code == 200, path
        assert "Cookie" in answer.headers["Vary"]
        assert {"private", "no-store"} & {part.strip() for part in answer.headers["Cache-Control"].split(",")}, path
        assert of(service, florist).get(path).status_code == 404, path
        assert browser(service).get(path).status_code in (401, 404), path
    assert "Halyard card" in here.get("/specs").text
    assert "Halyard card" not in of(service, florist).get("/specs").text
    trail = bakery.get("/v1/audit").get_json()["entries"]
    assert bakery.made
    assert any(one["by"] == f"signed in with key {bakery.made.prefix}" and "halyard-card" in one["about"] for one in trail)


def test_without_a_key_the_form_leads_to_the_sign_in_and_that_back(service: Service) -> None:
    shut = browser(service).get("/specs/new")
    assert shut.status_code == 401
    assert 'href="/sign-in?next=/specs/new"' in shut.text
    answer = entered(service, service.key("bakery"), next="/specs/new?from=business-card-85x55")
    assert (answer.status_code, answer.headers["Location"]) == (303, "/specs/new?from=business-card-85x55")


@pytest.mark.parametrize(
    "wished", ["https://elsewhere.example/", "//elsewhere.example/", "/\\elsewhere.example", "javascript:x", "/a\r\nb: c"]
)
def test_nobody_is_led_elsewhere(service: Service, wished: str) -> None:
    assert entered(service, service.key("bakery"), next=wished).headers["Location"] == "/"


def test_the_cookie_is_for_browsers_alone_and_holds_no_key(service: Service) -> None:
    bakery = service.key("bakery")
    (cookie,) = entered(service, bakery).headers.getlist("Set-Cookie")
    assert bakery.made
    assert bakery.made.key.split("_")[2] not in cookie
    assert {"HttpOnly", "SameSite=Strict", "Path=/"} <= {part.strip() for part in cookie.split(";")}
    secure = browser(service).post("/sign-in", data={"key": bakery.made.key}, headers=HERE, base_url="https://localhost")
    assert "Secure" in secure.headers["Set-Cookie"]


@pytest.mark.parametrize("key", ["", "psk_1f2e3d4c_of-another-service", "x" * 5000])
def test_what_is_no_key_signs_nobody_in(service: Service, key: str) -> None:
    answer = browser(service).post("/sign-in", data={"key": key}, headers=HERE)
    assert (answer.status_code, answer.headers.get("Set-Cookie")) == (422, None)


@pytest.mark.parametrize(
    "headers",
    [
        {"Origin": "https://elsewhere.example", "Sec-Fetch-Site": "cross-site"},
        {"Origin": "http://other.localhost", "Sec-Fetch-Site": "same-site"},
        {"Origin": "https://elsewhere.example"},
        {"Origin": "null"},
        {},
    ],
)
def test_a_form_of_another_site_writes_nothing_in_somebody_s_name(service: Service, headers: dict[str, str]) -> None:
    """Even where the browser has sent the cookie; nor does it sign anybody in or out."""
    bakery = service.key("bakery")
    here = of(service, bakery)
    assert keep(here, headers, **{"/id": "forged-card"}).status_code in (401, 422)
    token = here.post("/v1/upload-tokens", json={"spec": "business-card-85x55", "origin": "https://a.example"}, headers=headers)
    assert token.status_code == 401
    assert here.get("/v1/specs/forged-card").status_code == 404
    here.post("/sign-out", headers=headers)
    assert here.get("/specs/new").status_code == 200, "still signed in"
    assert "Set-Cookie" not in entered(service, bakery, headers).headers


def test_a_page_of_this_service_may_do_what_its_key_allows(service: Service) -> None:
    here, wish = of(service, service.key("bakery")), {"spec": "business-card-85x55", "origin": "https://a.example"}
    assert here.post("/v1/upload-tokens", json=wish, headers=HERE).status_code == 201
    reader = of(service, service.key("bakery", "read"))
    assert reader.post("/v1/upload-tokens", json=wish, headers=HERE).status_code == 403
    assert reader.get("/specs/new").status_code == 401
    assert keep(reader, **{"/id": "of-a-reader"}).status_code == 401
    assert reader.get("/specs").status_code == 200


def test_it_ends_with_the_key_with_signing_out_and_with_a_word_that_was_changed(service: Service) -> None:
    bakery = service.key("bakery")
    here, left = of(service, bakery), of(service, bakery)
    assert left.post("/sign-out", headers=HERE).headers["Location"] == "/"
    assert left.get("/specs/new").status_code == 401
    cookie = here.get_cookie(COOKIE)
    assert cookie
    forged = browser(service)
    forged.set_cookie(COOKIE, cookie.value[:-2] + "xx")
    assert forged.get("/specs/new").status_code == 401
    assert here.get("/specs/new").status_code == 200
    assert bakery.made
    service.parts.accounts.turn_off(bakery.made.prefix, "a test", datetime.now(UTC))
    assert here.get("/specs/new").status_code == 401


def test_a_key_in_the_header_is_heard_instead(service: Service) -> None:
    here = of(service, service.key("bakery"))
    florist = service.key("florist")
    assert keep(here, **{"/id": "bakery-card"}).status_code == 303
    assert florist.made
    answer = here.get("/v1/specs/bakery-card", headers={"Authorization": f"Bearer {florist.made.key}"})
    assert answer.status_code == 404


def test_who_sends_a_file_from_the_page_reads_its_result_there_although_it_is_not_for_all(service: Service, card: bytes) -> None:
    bakery = service.key("bakery")
    check = bakery.check(card).get_json()["id"]
    assert of(service, bakery).get(f"/checks/{check}").status_code == 200
    assert browser(service).get(f"/checks/{check}").status_code == 404
    assert of(service, service.key("florist")).get(f"/checks/{check}").status_code == 404
    assert 'id="key"' in browser(service).get("/").text
    assert 'id="key"' not in of(service, bakery).get("/").text
