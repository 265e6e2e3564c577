"""A file piece by piece (tus 1.0), and the check that takes it."""

from __future__ import annotations

import hashlib
from base64 import b64encode
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest
from werkzeug.test import TestResponse

from service.jobs.checking import now
from service.store.files import uploads as kept
from tests.api.conftest import Start
from tests.api.contract import CARD_SHEET, Caller

SHOP = "https://shop.example"
FORM = "application/x-www-form-urlencoded"


def announce(caller: Caller, length: int, metadata: str = "", **options: Any) -> TestResponse:
    headers = {"Tus-Resumable": "1.0.0", "Upload-Length": str(length), **({"Upload-Metadata": metadata} if metadata else {})}
    return caller.post("/v1/uploads", headers={**headers, **options.pop("headers", {})}, **options)


def add(caller: Caller, path: str, offset: int, piece: bytes, **headers: str) -> TestResponse:
    sent = {"Tus-Resumable": "1.0.0", "Upload-Offset": str(offset), "Content-Type": "application/offset+octet-stream", **headers}
    return caller.call("PATCH", path, data=piece, headers=sent)


def uploaded(caller: Caller, pdf: bytes, metadata: str = "") -> str:
    """The id of a whole upload."""
    path = announce(caller, len(pdf), metadata).headers["Location"]
    assert add(caller, path, 0, pdf).status_code == 204
    return str(path.rsplit("/", 1)[1])


def check(caller: Caller, upload: str, key: str = "", sheet: str = CARD_SHEET, **fields: str) -> TestResponse:
    form = {"upload": upload, **(fields if fields else {"spec_sheet": sheet})}
    return caller.post("/v1/checks", data=form, content_type=FORM, headers={"Idempotency-Key": key} if key else {})


def problem(answer: TestResponse) -> tuple[int, str]:
    return answer.status_code, answer.get_json()["type"].removeprefix("/problems/")


def files(caller: Caller) -> list[Path]:
    data: Path = caller.client.application.extensions["print-spec"].settings.data
    return sorted(one for one in data.rglob("*") if one.suffix in (".pdf", ".bytes"))


def base64(text: str) -> str:
    return b64encode(text.encode()).decode()


# --- The protocol ------------------------------------------------------------------------------------------------------


def test_what_is_spoken_is_told(caller: Caller) -> None:
    for path in ("/v1/uploads", "/v1/uploads/x"):
        answer = caller.client.options(path)
        assert (answer.headers["Tus-Version"], answer.headers["Tus-Resumable"]) == ("1.0.0", "1.0.0")
        assert answer.headers["Tus-Max-Size"] == "200000000"
        assert answer.headers["Tus-Extension"] == "creation,creation-with-upload,expiration,termination"


def test_a_file_comes_in_pieces_and_is_checked(caller: Caller, card: bytes) -> None:
    answer = announce(caller, len(card), f"filename {base64('Karte ü.pdf')},kind {base64('x')}")
    path = answer.headers["Location"]
    assert (answer.status_code, answer.headers["Upload-Offset"]) == (201, "0")
    assert add(caller, path, 0, card[:100]).headers["Upload-Offset"] == "100"
    asked = caller.client.head(path, headers={"Tus-Resumable": "1.0.0"})
    assert (asked.headers["Upload-Offset"], asked.headers["Upload-Length"]) == ("100", str(len(card)))
    assert (asked.headers["Cache-Control"], asked.headers["Upload-Metadata"].split(",")[1]) == ("no-store", f"kind {base64('x')}")
    last = add(caller, path, 100, card[100:])
    assert (last.status_code, last.headers["Upload-Offset"], "Upload-Expires" in last.headers) == (204, str(len(card)), True)
    answer = check(caller, path.rsplit("/", 1)[1])
    assert (answer.status_code, answer.get_json()["verdict"]) == (201, "conforming")
    told = answer.get_json()["file"]
    assert told == {"name": "Karte ü.pdf", "size_bytes": len(card), "sha256": hashlib.sha256(card).hexdigest()}
    assert [one.name for one in files(caller)] == [f"{answer.get_json()['id']}.pdf"]  # and nothing beside


def test_the_first_bytes_may_come_with_the_announcement(caller: Caller, card: bytes) -> None:
    kind = {"Content-Type": "application/offset+octet-stream"}
    answer = announce(caller, len(card), data=card[:50], headers=kind)
    assert (answer.headers["Upload-Offset"], answer.get_json()["received_bytes"]) == ("50", 50)


def test_a_piece_at_another_place_is_refused_and_changes_nothing(caller: Caller, card: bytes) -> None:
    path = announce(caller, len(card)).headers["Location"]
    add(caller, path, 0, card[:100])
    for offset in (0, 99, 101):
        answer = add(caller, path, offset, card[offset:])
        assert (*problem(answer), answer.headers["Upload-Offset"]) == (409, "upload-offset", "100")
    assert problem(add(caller, path, 100, card)) == (413, "too-large")  # more than was announced
    assert add(caller, path, 100, card[100:]).status_code == 204


def test_a_piece_is_held_to_its_digest(caller: Caller, card: bytes) -> None:
    path = announce(caller, len(card)).headers["Location"]
    right, wrong = (f"sha-256=:{b64encode(hashlib.sha256(one).digest()).decode()}:" for one in (card, b"other"))
    assert problem(add(caller, path, 0, card, **{"Content-Digest": wrong})) == (400, "digest-mismatch")
    assert caller.get(path).get_json()["received_bytes"] == 0
    assert add(caller, path, 0, card, **{"Content-Digest": right}).status_code == 204


def test_another_version_or_kind_of_body_is_refused(caller: Caller, card: bytes) -> None:
    answer = announce(caller, 10, headers={"Tus-Resumable": "0.2.1"})
    assert (*problem(answer), answer.headers["Tus-Version"]) == (412, "tus-version", "1.0.0")
    path = announce(caller, len(card)).headers["Location"]
    assert problem(add(caller, path, 0, card, **{"Content-Type": "application/pdf"})) == (415, "unsupported-media-type")
    assert problem(add(caller, path, 0, card, **{"Upload-Offset": "x"})) == (400, "bad-request")
    assert problem(caller.post("/v1/uploads")) == (400, "bad-request")  # no length
    assert problem(announce(caller, 10, "filename !")) == (400, "bad-request")


def test_a_proxy_that_lets_only_get_and_post_pass_is_no_hindrance(caller: Caller, card: bytes) -> None:
    path = announce(caller, len(card)).headers["Location"]
    sent = {"X-HTTP-Method-Override": "PATCH", "Upload-Offset": "0", "Content-Type": "application/offset+octet-stream"}
    assert caller.client.post(path, data=card, headers=sent).status_code == 204
    assert caller.client.post(path, headers={"X-HTTP-Method-Override": "DELETE"}).status_code == 204
    assert problem(caller.get(path)) == (404, "upload-not-found")


# --- What is taken, and how long it is kept -----------------------------------------------------------------------------


def test_what_is_too_large_is_refused_before_it_comes(start: Start) -> None:
    caller = start(maximum_upload_bytes=1000)
    assert announce(caller, 1000).status_code == 201
    assert problem(announce(caller, 1001)) == (413, "too-large")


def test_no_upload_takes_the_room_that_is_to_stay_free(start: Start, monkeypatch: pytest.MonkeyPatch, card: bytes) -> None:
    caller = start(free_space_bytes=2**60)
    assert problem(announce(caller, 10)) == (507, "no-room")
    caller = start()
    path = announce(caller, len(card)).headers["Location"]
    monkeypatch.setattr("service.store.files.blobs.Blobs.has_room", lambda *_: False)
    assert problem(add(caller, path, 0, card)) == (507, "no-room")
    assert caller.get(path).get_json()["received_bytes"] == 0


def test_a_sender_has_so_many_uploads_on_their_way(caller: Caller, monkeypatch: pytest.MonkeyPatch, card: bytes) -> None:
    monkeypatch.setattr(kept, "MOST_OF_A_SENDER", 2)
    first = uploaded(caller, card)
    announce(caller, 10)
    assert problem(announce(caller, 10)) == (429, "too-many-uploads")
    assert announce(caller, 10, environ_overrides={"REMOTE_ADDR": "192.0.2.1"}).status_code == 201
    assert check(caller, first).status_code == 201  # which takes it
    assert announce(caller, 10).status_code == 201


def test_an_upload_is_forgotten_when_its_time_is_over(caller: Caller, card: bytes) -> None:
    upload = uploaded(caller, card)
    uploads = caller.client.application.extensions["print-spec"].uploads
    later = now() + timedelta(hours=23)
    uploads.sweep(later)
    assert uploads.get(upload, later) is not None
    later = now() + timedelta(hours=25)
    assert uploads.get(upload, later) is None
    uploads.sweep(later)
    assert files(caller) == []
    assert problem(caller.get(f"/v1/uploads/{upload}")) == (404, "upload-not-found")


def test_an_upload_can_be_taken_back(caller: Caller, card: bytes) -> None:
    upload = uploaded(caller, card)
    assert caller.delete(f"/v1/uploads/{upload}").status_code == 204
    assert files(caller) == []
    assert problem(check(caller, upload)) == (422, "invalid-request")


# --- The check that takes it --------------------------------------------------------------------------------------------


def test_an_upload_that_is_not_whole_is_no_file_yet(caller: Caller, card: bytes) -> None:
    path = announce(caller, len(card)).headers["Location"]
    add(caller, path, 0, card[:-1])
    answer = check(caller, path.rsplit("/", 1)[1])
    assert (*problem(answer), answer.headers["Upload-Offset"]) == (409, "upload-not-whole", str(len(card) - 1))


def test_what_is_no_pdf_is_refused_and_not_kept(caller: Caller) -> None:
    upload = uploaded(caller, b"\x89PNG and more")
    assert problem(check(caller, upload)) == (415, "not-a-pdf")
    assert files(caller) == []


def test_a_refused_check_leaves_the_upload_to_be_named_again(caller: Caller, card: bytes) -> None:
    upload = uploaded(caller, card)
    assert problem(check(caller, upload, spec="no-such-sheet")) == (422, "unknown-spec")
    assert check(caller, upload, spec="business-card-85x55").status_code == 201


def test_the_same_request_again_gets_the_same_check_and_another_is_told_where_the_file_is(caller: Caller, card: bytes) -> None:
    upload = uploaded(caller, card)
    first = check(caller, upload, "a-key").get_json()["id"]
    assert check(caller, upload, "a-key").get_json()["id"] == first
    assert problem(check(caller, upload, "a-key", sheet="bleed: {minimum: 5 mm}\n")) == (422, "key-reused")
    assert problem(check(caller, upload)) == (409, "upload-taken")
    assert problem(check(caller, upload, "another-key")) == (409, "upload-taken")
    assert caller.get(f"/v1/uploads/{upload}").get_json()["check"] == first
    assert caller.check(check=first, spec="business-card-85x55").status_code == 201
    for one in (first, *(path.stem for path in files(caller))):
        caller.client.delete(f"/v1/checks/{one}")
    assert files(caller) == []  # nothing is left in the upload's name


# --- From a page of another origin --------------------------------------------------------------------------------------


def token(caller: Caller, **wishes: Any) -> str:
    wish = {"spec": "business-card-85x55", "origin": SHOP, **wishes}
    return str(caller.post("/v1/upload-tokens", json=wish).get_json()["token"])


def test_a_shops_page_uploads_with_its_token(caller: Caller, card: bytes) -> None:
    mine, at = token(caller), {"Origin": SHOP}
    answer = announce(caller, len(card), f"token {base64(mine)},filename {base64('a.pdf')}", headers=at)
    path = answer.headers["Location"]
    assert answer.headers["Access-Control-Allow-Origin"] == SHOP
    assert {"Location", "Upload-Offset"} <= set(answer.headers["Access-Control-Expose-Headers"].split(", "))
    assert add(caller, path, 0, card, **at).headers["Access-Control-Allow-Origin"] == SHOP
    asked = caller.client.head(path, headers=at)
    assert "token" not in asked.headers["Upload-Metadata"]
    assert "Access-Control-Allow-Origin" not in caller.client.head(path, headers={"Origin": "https://other.example"}).headers
    form = {"upload": path.rsplit("/", 1)[1], "token": mine}
    answer = caller.post("/v1/checks", data=form, content_type=FORM, headers=at)
    assert (answer.status_code, answer.headers["Access-Control-Allow-Origin"]) == (201, SHOP)


def test_a_token_holds_an_upload_to_its_page_and_its_size(caller: Caller, card: bytes) -> None:
    mine = token(caller, maximum_size=100)
    for headers, length, expected in (
        ({"Origin": SHOP}, 101, (413, "too-large")),
        ({"Origin": "https://other.example"}, 10, (403, "token-origin")),
        ({}, 10, (403, "token-origin")),
    ):
        assert problem(announce(caller, length, f"token {base64(mine)}", headers=headers)) == expected
    assert problem(announce(caller, 10, f"token {base64(mine[:-2])}", headers={"Origin": SHOP})) == (401, "token-invalid")
    elsewhere = {"upload": uploaded(caller, card), "token": token(caller)}  # an upload of somebody else
    answer = caller.post("/v1/checks", data=elsewhere, content_type=FORM, headers={"Origin": SHOP})
    assert problem(answer) == (422, "invalid-request")


def test_a_browser_asks_first_and_each_page_is_told_yes(caller: Caller) -> None:
    one = "/v1/uploads/x"
    for path, method in (("/v1/uploads", "POST"), (one, "PATCH"), (one, "HEAD"), (one, "DELETE")):
        answer = caller.client.options(path, headers={"Origin": SHOP, "Access-Control-Request-Method": method})
        assert answer.headers["Access-Control-Allow-Origin"] == SHOP
        assert method in answer.headers["Access-Control-Allow-Methods"].split(", ")
        allowed = set(answer.headers["Access-Control-Allow-Headers"].split(", "))
        assert {"Tus-Resumable", "Upload-Offset", "Content-Type"} <= allowed
