"""Keys over HTTP: how one is sent, what a wrong one is answered, what it may do; checks that are read by their address; audit."""

from __future__ import annotations

import io
from collections.abc import Iterator
from datetime import UTC, datetime

import pytest
from sqlalchemy import text

from service.accounts.keys import new_key
from service.answers.problems import PROBLEMS
from tests.api.accounts.shops import CARD, Service, code, keyed_service, statements, told
from tests.api.conftest import Start
from tests.databases import all_that_is_kept

SHOP = "https://shop.example"


@pytest.fixture(scope="module")
def service(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Service]:
    with keyed_service(tmp_path_factory.mktemp("keys") / "data") as found:
        yield found


def test_a_key_is_sent_as_a_bearer_and_opens_what_it_allows(service: Service) -> None:
    bakery = service.key("bakery", "administer")
    assert bakery.get("/v1/audit").status_code == 200
    assert bakery.made
    lower = {"Authorization": f"bearer  {bakery.made.key} "}
    assert service.anybody.get("/v1/audit", headers=lower).status_code == 200  # RFC 9110, 11.1: in letters of any size


def test_without_a_key_one_is_told_to_send_one(service: Service) -> None:
    answer = service.anybody.get("/v1/audit")
    assert (answer.status_code, code(answer)) == (401, "key-missing")
    assert answer.headers["WWW-Authenticate"] == 'Bearer realm="print-spec-service"'


@pytest.mark.parametrize("sent", [
    "Bearer", "Bearer ", "Bearer psk_", "Basic {key}", "{key}", "Bearer {key}x", "Bearer x{key}", "Bearer {other}",
    "Bearer {off}", "Bearer \u00e9", "Bearer " + "k" * 5000,
])  # fmt: skip
def test_whatever_is_wrong_with_a_key_the_answer_and_the_work_are_the_same(service: Service, sent: str) -> None:
    bakery, off = service.key("bakery"), service.key("bakery")
    assert bakery.made
    assert off.made
    service.parts.accounts.turn_off(off.made.prefix, "a test", datetime.now(UTC))
    header = sent.format(key=bakery.made.key, off=off.made.key, other=new_key().key)
    seen = []
    for one in (header, f"Bearer {new_key().key}"):
        with statements() as asked:
            answer = service.anybody.get("/v1/audit", headers={"Authorization": one})
        assert (answer.status_code, code(answer)) == (401, "key-invalid")
        assert answer.headers["WWW-Authenticate"].endswith('error="invalid_token"')
        seen.append((told(answer, ()), asked))
    if not sent.startswith("Basic"):
        assert seen[0] == seen[1]


def test_a_key_is_nowhere_in_the_database_or_in_an_answer(service: Service) -> None:
    bakery = service.key("bakery")
    assert bakery.made
    secret = bakery.made.key.rpartition("_")[2] or bakery.made.key[-20:]
    bakery.get("/v1/audit")
    kept = all_that_is_kept(service.parts.settings.data)
    assert bakery.made.digest.encode() in kept
    assert secret.encode() not in kept
    assert bakery.made.key.encode() not in kept
    assert bakery.made.key not in bakery.text("/v1/audit")


def test_a_key_that_may_not_read_is_told_so_whether_there_is_a_check_or_not(service: Service, card: bytes) -> None:
    sender = service.key("bakery", "check")
    mine = sender.check(card).get_json()["id"]
    others = service.key("florist").check(card).get_json()["id"]
    for check in (mine, others, "A" * 24):
        answer = sender.get(f"/v1/checks/{check}")
        assert (answer.status_code, code(answer)) == (403, "key-not-enough"), check
        assert 'scope="read"' in answer.headers["WWW-Authenticate"]
        assert code(service.anybody.get(f"/v1/checks/{check}")) == "key-missing"
    by_link = sender.check(card, readable_by="link").get_json()["id"]
    assert sender.get(f"/v1/checks/{by_link}").status_code == 200, "a key never makes one see less"


def test_a_turned_off_key_is_off_at_once_and_its_upload_tokens_with_it(service: Service, card: bytes) -> None:
    bakery = service.key("bakery")
    token = bakery.token()["token"]
    assert bakery.made
    assert service.parts.accounts.turn_off(bakery.made.prefix, "a test", datetime.now(UTC)) == "bakery"
    assert code(bakery.get("/v1/audit")) == "key-invalid"
    assert code(service.anybody.check(card, {"Origin": SHOP}, token=token)) == "token-spent"
    assert service.parts.accounts.turn_off(bakery.made.prefix, "a test", datetime.now(UTC)) is None


def test_health_pages_and_the_description_ask_nobody_and_not_even_the_database(service: Service) -> None:
    for path in ("/healthz", "/problems", "/openapi.json", "/docs", "/static/check-upload.js"):
        with statements() as asked:
            answer = service.caller.client.get(path, headers={"Authorization": "Bearer nonsense"})
            answer.close()
        assert (answer.status_code, asked) == (200, []), path


def test_stored_sheets_are_everybodys(service: Service) -> None:
    assert service.anybody.get(f"/v1/specs/{CARD}").status_code == 200
    assert service.anybody.get("/v1/specs/no-such-sheet").status_code == 404
    assert code(service.anybody.keep("card")) == "key-missing"


def test_a_check_is_its_owners_unless_it_was_sent_to_be_read_by_its_link(service: Service, card: bytes) -> None:
    bakery, florist = service.key("bakery"), service.key("florist")
    kept = bakery.check(card).get_json()["id"]
    shared = bakery.call("POST", "/v1/checks", data={"check": kept, "spec": CARD, "readable_by": "link"},
                         content_type="multipart/form-data").get_json()["id"]  # fmt: skip
    for below in ("", "/measurements"):
        assert service.anybody.get(f"/v1/checks/{kept}{below}").status_code == 401, below
        assert service.anybody.get(f"/v1/checks/{shared}{below}").status_code == 200, below
    client = service.caller.client
    assert (client.get(f"/checks/{kept}").status_code, client.get(f"/checks/{shared}").status_code) == (404, 200)
    assert florist.get(f"/v1/checks/{shared}").status_code == 200
    again = florist.call("POST", "/v1/checks", data={"check": shared, "spec": CARD}, content_type="multipart/form-data")
    assert code(again) == "invalid-request", "reading is not having"
    assert code(florist.call("DELETE", f"/v1/checks/{shared}")) == "check-not-found"
    assert code(service.anybody.call("DELETE", f"/v1/checks/{shared}")) == "key-missing"
    assert bakery.call("DELETE", f"/v1/checks/{shared}").status_code == 204


def test_the_page_for_people_takes_a_key_and_an_open_service_asks_for_none(service: Service, start: Start) -> None:
    assert 'id="key" type="password"' in service.anybody.text("/")
    assert 'id="key"' not in start().client.get("/").get_data(as_text=True)


def test_what_was_done_is_told_to_whoever_administers(service: Service, card: bytes) -> None:
    grocer = service.key("grocer")
    check = grocer.check(card).get_json()["id"]
    grocer.keep("fruit-label")
    grocer.call("DELETE", "/v1/specs/fruit-label")
    grocer.call("DELETE", f"/v1/checks/{check}")
    token = grocer.token()["id"]
    grocer.call("DELETE", f"/v1/upload-tokens/{token}")
    assert grocer.made
    entries = grocer.get("/v1/audit").get_json()["entries"]
    assert [(one["did"], one["about"].split(" ")[0]) for one in entries] == [
        ("token.revoked", token),
        ("token.made", token),
        ("check.deleted", check),
        ("sheet.deleted", "fruit-label"),
        ("sheet.written", "fruit-label@1"),
        ("key.made", grocer.made.prefix),
    ]
    assert {one["by"] for one in entries[:-1]} == {f"key {grocer.made.prefix}"}
    first = grocer.get("/v1/audit?page_size=4")
    older = grocer.get(f"/v1/audit{first.headers['Link'].split('<')[1].split('>')[0]}")
    assert first.get_json()["entries"] + older.get_json()["entries"] == entries


def test_a_refused_act_leaves_no_trace_in_the_trail(service: Service) -> None:
    baker = service.key("baker-two")
    assert code(baker.call("DELETE", "/v1/checks/" + "A" * 24)) == "check-not-found"
    assert baker.call("DELETE", "/v1/specs/none").status_code == 404
    assert [one["did"] for one in baker.get("/v1/audit").get_json()["entries"]] == ["key.made"]


def test_in_open_mode_whoever_comes_may_do_everything_and_no_key_is_looked_at(start: Start, card: bytes) -> None:
    caller = start()
    assert [one for item in caller.description["paths"].values() for one in item.values() if "security" in one] == []
    form = {"file": (io.BytesIO(card), "card.pdf"), "spec": CARD}
    headers = {"Authorization": "Basic of-a-proxy"}
    check = caller.post("/v1/checks", data=form, headers=headers, content_type="multipart/form-data")
    assert check.status_code == 201
    assert "RateLimit-Policy" not in check.headers
    assert caller.delete(check.headers["Location"]).status_code == 204
    assert [one["by"] for one in caller.get("/v1/audit").get_json()["entries"]] == ["open mode"]


@pytest.mark.parametrize(("host", "access", "status"), [
    ("127.0.0.1:8000", "open", 200), ("[::1]:8000", "open", 200), ("rebound.example", "open", 421), ("10.0.0.7", "open", 421),
    ("print.example", "open-anywhere", 200),
])  # fmt: skip
def test_an_open_service_answers_by_the_names_of_this_machine(start: Start, host: str, access: str, status: int) -> None:
    answer = start(access=access).get("/v1/audit", headers={"Host": host})
    assert answer.status_code == status
    assert status == 200 or code(answer) == "not-this-machine"


def test_what_was_made_in_open_mode_is_reached_with_a_key_of_the_local_account(start: Start) -> None:
    caller = start()
    caller.post("/v1/specs", json={"id": "mine", "extends": CARD, "bleed": {"minimum": "4 mm"}})
    caller.check(b"%PDF-1.7")
    with keyed_service(caller.client.application.extensions["print-spec"].settings.data) as later:
        assert later.key("local").get("/v1/specs/mine").status_code == 200
        assert later.key("bakery").get("/v1/specs/mine").status_code == 404
        with later.parts.accounts._engine.connect() as connection:
            assert connection.scalar(text("SELECT account FROM checks")) == "local"


def test_every_problem_of_keys_says_what_to_do() -> None:
    for name in ("key-missing", "key-invalid", "key-not-enough", "too-many-requests", "bytes-spent", "account-full"):
        assert "Whoever runs the service" in PROBLEMS[name].what_to_do
