"""The digest of what is sent, both ways (RFC 9530)."""

from __future__ import annotations

import hashlib
from base64 import b64encode

import pytest

from tests.api.contract import Caller

BARE = "/v1/checks?spec=business-card-85x55"


def written(body: bytes, name: str = "sha256") -> str:
    return f"{name[:3]}-{name[3:]}=:{b64encode(hashlib.new(name, body).digest()).decode()}:"


def send(caller: Caller, body: bytes, digest: str) -> tuple[int, str]:
    headers = {"Content-Type": "application/pdf", "Content-Digest": digest}
    answer = caller.post(BARE, data=body, headers=headers)
    return answer.status_code, answer.get_json().get("type", "")


def test_a_file_that_came_as_it_was_sent_is_checked(caller: Caller, card: bytes) -> None:
    assert send(caller, card, f"{written(card)}, {written(card, 'sha512')}") == (201, "")


def test_a_file_that_changed_on_its_way_is_refused_and_not_kept(caller: Caller, card: bytes) -> None:
    changed = card[:-1] + b"?"
    assert send(caller, changed, written(card)) == (400, "/problems/digest-mismatch")
    assert send(caller, changed, f"{written(changed)}, {written(card, 'sha512')}") == (400, "/problems/digest-mismatch")
    assert list(caller.client.application.extensions["print-spec"].settings.data.glob("files/*.pdf")) == []


@pytest.mark.parametrize("digest", ["unixsum=:AAAA:", "md5=:1B2M2Y8AsgTpgAmY7PhCfg==:"])
def test_a_digest_of_another_kind_is_passed_over(caller: Caller, card: bytes, digest: str) -> None:
    assert send(caller, card, digest)[0] == 201


@pytest.mark.parametrize("digest", ["sha-256", "sha-256=abc", "sha-256=:abc:", "=:AAAA:", "sha-256=:AAAA:,"])
def test_what_is_no_digest_is_refused(caller: Caller, card: bytes, digest: str) -> None:
    assert send(caller, card, digest) == (400, "/problems/bad-request")


def test_a_form_is_held_to_the_digest_of_the_whole_form(caller: Caller, card: bytes) -> None:
    head = b'--x\r\nContent-Disposition: form-data; name="spec"\r\n\r\nbusiness-card-85x55\r\n--x\r\n'
    part = b'Content-Disposition: form-data; name="file"; filename="card.pdf"\r\n\r\n'
    body = head + part + card + b"\r\n--x--\r\n"
    kind = {"Content-Type": "multipart/form-data; boundary=x"}
    assert caller.post("/v1/checks", data=body, headers={**kind, "Content-Digest": written(body)}).status_code == 201
    assert caller.post("/v1/checks", data=body, headers={**kind, "Content-Digest": written(card)}).status_code == 400


def test_a_pdf_carries_its_digest(caller: Caller) -> None:
    answer = caller.get("/v1/specs/business-card-85x55/template")
    assert answer.mimetype == "application/pdf"
    assert answer.headers["Content-Digest"] == written(answer.get_data())


def test_any_answer_carries_the_digest_that_is_wanted(caller: Caller) -> None:
    path = "/v1/specs/business-card-85x55"
    assert "Content-Digest" not in caller.get(path).headers
    wishes = {
        "sha-256=1": "sha256", "sha-512=3, sha-256=10": "sha256", "sha-256=1, sha-512=9": "sha512", "md5=10, sha-256=1": "sha256",
    }
    for wish, name in wishes.items():
        answer = caller.get(path, headers={"Want-Content-Digest": wish})
        assert answer.headers["Content-Digest"] == written(answer.get_data(), name)
    for wish in ("md5=10", "sha-256=0", "sha-256", ""):
        assert "Content-Digest" not in caller.get(path, headers={"Want-Content-Digest": wish}).headers
