"""How much an account may send, and what the headers say of it (draft-ietf-httpapi-ratelimit-headers-09)."""

from __future__ import annotations

import re
import sqlite3
from base64 import b64encode
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest
from werkzeug.test import TestResponse

from service.accounts.limits import Wished
from service.door.holding import GOES_ON
from tests.api.accounts.shops import Service, Shop, code, keyed_service
from tests.databases import of_sqlite


@pytest.fixture(scope="module")
def service(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Service]:
    with keyed_service(tmp_path_factory.mktemp("quotas") / "data") as found:
        yield found


@pytest.fixture
def clock(monkeypatch: pytest.MonkeyPatch) -> list[datetime]:
    time = [datetime.now(UTC).replace(hour=12, minute=0, second=30)]
    monkeypatch.setattr("service.api.http.callers.quotas.now", lambda: time[0])
    return time


def limited(service: Service, name: str, **wished: int) -> Shop:
    service.parts.accounts.set_limits(name, Wished(**wished), "a test", datetime.now(UTC))
    return service.key(name)


def test_a_minute_has_so_many_requests_and_the_headers_count_them(service: Service, clock: list[datetime]) -> None:
    bakery = limited(service, "bakery", requests_per_minute=3, bytes_per_day=10**6)
    answers = [bakery.get("/v1/audit") for _ in range(4)]
    assert [one.status_code for one in answers] == [200, 200, 200, 429]
    assert [one.headers["RateLimit"] for one in answers] == [f'"requests";r={left};t=30' for left in (2, 1, 0, 0)]
    policy = '"requests";q=3;w=60, "bytes";q=1000000;w=86400;qu="content-bytes"'
    assert {one.headers["RateLimit-Policy"] for one in answers} == {policy}
    assert (code(answers[3]), answers[3].headers["Retry-After"]) == ("too-many-requests", "30")
    assert service.key("florist").get("/v1/audit").status_code == 200
    clock[0] += timedelta(seconds=30)
    assert bakery.get("/v1/audit").headers["RateLimit"] == '"requests";r=2;t=60'


@pytest.mark.usefixtures("clock")
def test_another_key_of_the_account_shares_its_quota(service: Service) -> None:
    grocer = limited(service, "grocer", requests_per_minute=2)
    assert grocer.get("/v1/audit").status_code == 200
    assert service.key("grocer").get("/v1/audit").status_code == 200
    assert code(grocer.get("/v1/audit")) == "too-many-requests"


def test_a_day_has_so_many_bytes(service: Service, card: bytes, clock: list[datetime]) -> None:
    whole = len(card) + 1000  # a form has a few lines around its file
    baker = limited(service, "baker", bytes_per_day=whole)
    first = baker.check(card)
    assert first.status_code == 201
    left = int(re.findall(r'"bytes";r=(\d+)', first.headers["RateLimit"])[0])
    assert 0 < left < whole - len(card)
    refused = baker.check(card)
    assert (refused.status_code, code(refused)) == (429, "bytes-spent")
    assert int(refused.headers["Retry-After"]) == 11 * 3600 + 59 * 60 + 30
    assert f'"bytes";r={left};' in refused.headers["RateLimit"]
    clock[0] += timedelta(days=1)
    assert baker.check(card).status_code == 201


def test_files_that_are_kept_count_until_they_are_forgotten(service: Service, card: bytes) -> None:
    printer = limited(service, "printer", disk_bytes=len(card) + 1000)
    check = printer.check(card).get_json()["id"]
    refused = printer.check(card)
    assert (refused.status_code, code(refused)) == (507, "account-full")
    printer.call("DELETE", f"/v1/checks/{check}")
    assert printer.check(card).status_code == 201


def test_what_comes_piece_by_piece_counts_when_it_is_announced(service: Service) -> None:
    sender = limited(service, "sender", bytes_per_day=3000, disk_bytes=2500)
    announced = [sender.call("POST", "/v1/uploads", {"Upload-Length": size}) for size in ("2000", "2000", "2600")]
    assert [one.status_code for one in announced] == [201, 429, 507]
    assert [code(one) for one in announced[1:]] == ["bytes-spent", "account-full"]
    token = sender.token(uses=1)
    sender.call("DELETE", f"/v1/upload-tokens/{token['id']}")
    said = f"token {b64encode(token['token'].encode()).decode()}"
    headers = {"Upload-Length": "10", "Upload-Metadata": said, "Origin": "https://shop.example"}
    assert code(service.anybody.call("POST", "/v1/uploads", headers)) == "token-spent"


def test_sheets_are_counted_for_each_account(service: Service) -> None:
    sheetmaker, other = limited(service, "sheetmaker", sheets=1), service.key("other")
    assert sheetmaker.keep("one").status_code == 201
    assert code(sheetmaker.keep("two")) == "too-many-sheets"
    assert other.keep("one").status_code == 201
    assert other.keep("two").status_code == 201


@pytest.mark.usefixtures("clock")
def test_an_upload_with_a_token_counts_for_the_account_that_the_token_is_from(service: Service, card: bytes) -> None:
    shop = limited(service, "shop", requests_per_minute=2)
    token = shop.token()["token"]
    visitor: dict[str, Any] = {"headers": {"Origin": "https://shop.example"}, "token": token}
    assert service.anybody.check(card, **visitor).status_code == 201
    assert code(service.anybody.check(card, **visitor)) == "too-many-requests"
    assert code(shop.get("/v1/audit")) == "too-many-requests"


@of_sqlite
def test_who_only_reads_is_not_kept_waiting_while_somebody_writes(service: Service, monkeypatch: pytest.MonkeyPatch) -> None:
    """Neither to be counted, nor for the first use of a key to be noted; the next one is."""
    monkeypatch.setattr("service.store.database._BRIEFLY_MS", 50)
    reader, newcomer = service.key("reader"), service.key("newcomer")
    assert reader.get("/v1/audit").status_code == 200
    writer = sqlite3.connect(service.parts.settings.data / "checks.sqlite3", isolation_level=None)
    writer.execute("BEGIN IMMEDIATE")
    try:
        assert reader.get("/v1/audit").status_code == 200
        assert newcomer.get("/v1/audit").status_code == 200
        assert not used(service, newcomer)
    finally:
        writer.close()
    assert newcomer.get("/v1/audit").status_code == 200
    assert used(service, newcomer)


def used(service: Service, shop: Shop) -> bool:
    assert shop.made
    (row,) = (one for one in service.parts.accounts.all_keys() if one.prefix == shop.made.prefix)
    return row.used_at is not None


def in_pieces(shop: Shop, pdf: bytes, **environ: Any) -> str:
    """The id of an upload that has come whole."""
    announced = shop.call("POST", "/v1/uploads", {"Upload-Length": str(len(pdf))})
    assert announced.status_code == 201, announced.get_json()
    piece = {"Upload-Offset": "0", "Content-Type": "application/offset+octet-stream"}
    path = announced.headers["Location"]
    assert shop.call("PATCH", path, piece, data=pdf, environ_overrides=environ).status_code == 204
    return str(announced.get_json()["id"])


def of_upload(shop: Shop, upload: str) -> TestResponse:
    return shop.call("POST", "/v1/checks", data={"upload": upload, "spec": "business-card-85x55"})


@pytest.mark.usefixtures("clock")
def test_a_file_that_comes_piece_by_piece_counts_as_any_other(service: Service, card: bytes) -> None:
    baker = limited(service, "baker-in-pieces", bytes_per_day=len(card) + 100)
    assert of_upload(baker, in_pieces(baker, card)).status_code == 201
    refused = baker.call("POST", "/v1/uploads", {"Upload-Length": str(len(card))})
    assert (refused.status_code, code(refused)) == (429, "bytes-spent")
    printer = limited(service, "printer-in-pieces", disk_bytes=len(card) + 100)
    first, second = in_pieces(printer, card), in_pieces(printer, card)
    assert of_upload(printer, first).status_code == 201
    assert code(of_upload(printer, second)) == "account-full"


@pytest.mark.usefixtures("clock")
def test_a_long_piece_that_the_door_hands_on_in_portions_is_one_request(service: Service, card: bytes) -> None:
    sender = limited(service, "sender-in-portions", requests_per_minute=2)
    in_pieces(sender, card, **{GOES_ON: True})  # as of every portion but the first
    left = sender.get("/v1/audit").headers["RateLimit"]
    assert left.startswith('"requests";r=0')


def test_who_may_send_and_not_read_is_told_of_the_file_that_he_waits_for(service: Service, card: bytes) -> None:
    """The door asks again for him, and an answer to his own request is his."""
    sends = service.key("waiting-shop", "check")
    location = sends.check(card).headers["Location"]
    assert sends.get(location).status_code == 403
    own = {"Authorization": f"Bearer {sends.made.key}"} if sends.made else {}
    held = service.caller.client.get(location, headers=own, environ_overrides={"print_spec.was_held": "POST"})
    assert (held.status_code, held.get_json()["state"]) == (201, "finished")
