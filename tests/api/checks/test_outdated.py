"""Checks that an earlier version finished: what it did not look at must not pass, so its file is measured again."""

from __future__ import annotations

import time
from pathlib import Path

import pytest

from service.store.checks import READ, STORED_AS
from tests.api.checks.test_checks import finished
from tests.api.conftest import Start
from tests.api.contract import Caller
from tests.databases import run_sql

LATER = {"Prefer": "respond-async"}


@pytest.fixture
def outdated(caller: Caller, card_without_bleed: bytes, tmp_path: Path) -> str:
    """Id of a check that an earlier version finished, which had no facts of bleed and passed the file for it."""
    check: str = caller.check(card_without_bleed, headers={"Idempotency-Key": "order-7"}).get_json()["id"]
    made_older(tmp_path, check)
    return check


def made_older(folder: Path, check: str, stored_as: int | None = min(READ) - 1) -> None:
    changed = "update checks set stored_as = :form, verdict = 'conforming', judgement = '{}', question = '[]' where id = :id"
    assert run_sql(folder / "data0", changed, form=stored_as, id=check) == 1


def file_of(folder: Path, check: str) -> Path:
    return folder / "data0" / "files" / f"{check}.pdf"


def test_its_file_is_measured_again_when_somebody_asks(caller: Caller, outdated: str) -> None:
    first = caller.get(f"/v1/checks/{outdated}").get_json()
    assert first["state"] in ("queued", "running")  # a quick worker has it already
    assert (first["verdict"], first["measurements"]) == (None, None)
    again = finished(caller, outdated)
    assert (again["state"], again["verdict"]) == ("finished", "nonconforming")
    assert [one["rule"] for one in again["findings"] if one["level"] == "must"] == ["bleed.declared"]


def test_what_is_made_from_it_can_be_had_once_it_is_measured(caller: Caller, outdated: str) -> None:
    assert caller.get(f"/v1/checks/{outdated}/pages/1/plates").status_code == 409
    assert finished(caller, outdated)["state"] == "finished"
    assert caller.get(f"/v1/checks/{outdated}/pages/1/plates").status_code == 200


def test_a_repeat_under_its_key_waits_for_the_new_result(caller: Caller, outdated: str, card_without_bleed: bytes) -> None:
    answer = caller.check(card_without_bleed, headers={"Idempotency-Key": "order-7"})
    assert answer.get_json()["id"] == outdated
    assert (answer.status_code, answer.get_json()["verdict"]) == (201, "nonconforming")


def test_judging_it_again_measures_the_file(caller: Caller, outdated: str) -> None:
    answer = caller.check(check=outdated, spec_sheet="bleed: {minimum: 3 mm}")
    assert (answer.status_code, answer.get_json()["verdict"]) == (201, "nonconforming")


@pytest.mark.parametrize("stored_as", [None, STORED_AS + 1])
def test_so_is_one_from_before_forms_had_numbers_or_from_a_later_version(
    caller: Caller, outdated: str, tmp_path: Path, stored_as: int | None
) -> None:
    made_older(tmp_path, outdated, stored_as)
    assert finished(caller, outdated)["verdict"] == "nonconforming"


def test_without_its_file_it_is_gone_and_says_why(caller: Caller, outdated: str, tmp_path: Path) -> None:
    file_of(tmp_path, outdated).unlink()
    answer = caller.get(f"/v1/checks/{outdated}")
    assert (answer.status_code, answer.get_json()["type"]) == (404, "/problems/check-not-found")
    assert "earlier version" in answer.get_json()["detail"]
    judged = caller.check(check=outdated)
    assert (judged.status_code, judged.get_json()["type"]) == (422, "/problems/invalid-request")
    assert "earlier version" in judged.get_json()["detail"]


def test_it_can_be_forgotten_unread(caller: Caller, outdated: str, tmp_path: Path) -> None:
    assert caller.delete(f"/v1/checks/{outdated}").status_code == 204
    assert not file_of(tmp_path, outdated).exists()


def test_where_the_queue_is_full_it_waits_for_the_next_who_asks(start: Start, card: bytes, tmp_path: Path) -> None:
    caller = start(measure="tests.jobs.faults:waits_for_a_file", workers=1, queue_length=1)
    (tmp_path / "data0" / "files" / "go").touch()
    old = caller.check(card).get_json()["id"]
    (tmp_path / "data0" / "files" / "go").unlink()
    made_older(tmp_path, old)
    running = caller.check(card, headers=LATER).get_json()["id"]
    until = time.monotonic() + 20
    while caller.get(f"/v1/checks/{running}").get_json()["state"] == "queued" and time.monotonic() < until:
        time.sleep(0.02)
    waiting = caller.check(card, headers=LATER).get_json()["id"]
    assert caller.get(f"/v1/checks/{old}").get_json()["state"] == "queued"
    (tmp_path / "data0" / "files" / "go").touch()
    assert finished(caller, waiting)["state"] == "finished"
    assert finished(caller, old)["state"] == "finished"
