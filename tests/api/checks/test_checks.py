"""Checks over HTTP: sending, waiting, asking again, repeating, forgetting."""

from __future__ import annotations

import hashlib
import io
import json
import time
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

import pikepdf
import pytest

from tests.api.conftest import Start
from tests.api.contract import CARD_SHEET, Caller
from tests.build import page
from tests.databases import run_sql
from tests.patience import until

LATER = {"Prefer": "respond-async"}


def finished(caller: Caller, check_id: str) -> dict[str, Any]:
    def look() -> dict[str, Any] | None:
        answer: dict[str, Any] = caller.get(f"/v1/checks/{check_id}").get_json()
        return answer if answer["state"] in ("finished", "failed") else None

    found = until(look, "finished")
    assert found
    return found


def outcomes(answer: dict[str, Any]) -> dict[str, str]:
    return {one["rule"]: one["outcome"] for one in answer["rules"]}


def test_a_card_without_bleed_comes_back_with_what_to_put_right(caller: Caller, card_without_bleed: bytes) -> None:
    answer = caller.check(card_without_bleed)
    assert answer.status_code == 201
    check = answer.get_json()
    assert answer.headers["Location"] == f"/v1/checks/{check['id']}" == check["links"]["self"]
    assert (check["state"], check["verdict"]) == ("finished", "nonconforming")
    finding = next(one for one in check["findings"] if one["rule"] == "bleed.declared")
    assert (finding["level"], finding["pages"]) == ("must", [1])
    assert finding["required"]["minimum_mm"] == 3.0
    assert {place["page"] for place in finding["places"]} == {1}
    assert check["summary"]["nonconformities"] == len([one for one in check["findings"] if one["level"] == "must"])


def test_a_right_card_meets_what_is_asked(caller: Caller, card: bytes) -> None:
    check = caller.check(card).get_json()
    assert check["verdict"] == "conforming"
    assert (outcomes(check)["trim.size"], outcomes(check)["bleed.declared"]) == ("met", "met")
    assert check["file"] == {"name": "card.pdf", "size_bytes": len(card), "sha256": hashlib.sha256(card).hexdigest()}
    measured = check["measurements"]["pages"][0]
    assert (measured["trim_width_mm"], measured["trim_height_mm"], measured["trim_source"]) == (85, 55, "trim_box")
    assert measured["bleed_mm"] == {"top": 3, "right": 3, "bottom": 3, "left": 3}


def test_the_answer_reads_in_the_order_of_the_contract(caller: Caller, card: bytes) -> None:
    keys = list(caller.check(card).get_json())
    assert keys[:3] == ["id", "state", "verdict"]
    assert keys.index("findings") < keys.index("rules") < keys.index("measurements")


def test_a_stored_sheet_is_named_in_the_answer(caller: Caller, card: bytes) -> None:
    check = caller.check(card, spec="business-card-85x55").get_json()
    sheet = caller.get("/v1/specs/business-card-85x55")
    assert check["spec"]["id"] == "business-card-85x55"
    assert (check["spec"]["revision"], check["spec"]["title"]) == (sheet.get_json()["revision"], sheet.get_json()["title"])
    assert check["spec"]["digest"] == sheet.get_etag()[0]


@pytest.mark.parametrize("written", [CARD_SHEET, json.dumps({"trim": {"width": 85, "height": 55}, "bleed": {"minimum": "3 mm"}})])
@pytest.mark.parametrize("as_file", [False, True])
def test_a_sheet_may_come_as_yaml_or_json_and_as_text_or_file(caller: Caller, card: bytes, written: str, as_file: bool) -> None:
    sheet = (io.BytesIO(written.encode()), "sheet") if as_file else written
    check = caller.check(card, spec_sheet=sheet).get_json()
    assert check["spec"]["id"] is None
    assert outcomes(check)["trim.size"] == "met"


def test_a_sheet_may_come_as_a_file_before_the_pdf_even_with_a_name(caller: Caller, card: bytes) -> None:
    form = {
        "spec_sheet": (io.BytesIO(CARD_SHEET.encode()), "../../etc/sheet.yaml"),
        "file": (io.BytesIO(card), "../../etc/a\u202eb\x07.pdf"),
    }
    answer = caller.post("/v1/checks", data=form, content_type="multipart/form-data")
    assert answer.status_code == 201
    assert answer.get_json()["file"]["name"] == "ab.pdf"


def test_a_bare_pdf_is_taken_with_the_sheet_in_the_address(caller: Caller, card: bytes) -> None:
    answer = caller.post("/v1/checks?spec=business-card-85x55", data=card, content_type="application/pdf")
    assert answer.status_code == 201
    assert (answer.get_json()["file"]["name"], answer.get_json()["spec"]["id"]) == (None, "business-card-85x55")


def test_what_only_the_order_knows_is_taken(caller: Caller, card: bytes) -> None:
    assert caller.check(card, order='{"inner_pages": 96, "caliper_mm": 0.11}').status_code == 201


# --- Files that cannot be read are results --------------------------------------------------------------------------


def test_a_truncated_pdf_is_a_finished_check(caller: Caller, card: bytes) -> None:
    answer = caller.check(card[:200])
    assert (answer.status_code, answer.get_json()["state"], answer.get_json()["verdict"]) == (201, "finished", "nonconforming")
    assert "file.readable" in {one["rule"] for one in answer.get_json()["findings"]}
    assert answer.get_json()["measurements"]["pages"] is None


def test_a_locked_pdf_is_a_finished_check(caller: Caller, card: bytes, tmp_path: Path) -> None:
    with pikepdf.open(io.BytesIO(card)) as pdf:
        pdf.save(tmp_path / "locked.pdf", encryption=pikepdf.Encryption(user="secret", owner="secret"))
    check = caller.check((tmp_path / "locked.pdf").read_bytes()).get_json()
    assert (check["state"], check["verdict"]) == ("finished", "nonconforming")
    assert "file.locked" in {one["rule"] for one in check["findings"]}
    assert check["measurements"]["document"]["failure"]["kind"] == "locked"
    assert outcomes(check)["trim.size"] == "not_measured"


def test_a_hostile_pdf_is_a_finished_check(start: Start, card: bytes) -> None:
    check = start(measure="tests.jobs.faults:aborts").check(card).get_json()
    assert (check["state"], check["verdict"], check["findings"]) == ("finished", "inconclusive", [])
    assert check["measurements"]["document"]["failure"]["kind"] == "hostile"
    assert check["summary"]["headline"].startswith("Not decided: the measuring process crashed")


def test_a_pdf_beyond_our_limits_is_not_decided_and_not_broken(start: Start, card: bytes) -> None:
    check = start(measure="tests.jobs.faults:spins", check_seconds=0.5).check(card).get_json()
    assert (check["state"], check["verdict"], check["findings"]) == ("finished", "inconclusive", [])
    assert check["measurements"]["document"]["failure"]["kind"] == "limits"
    assert set(outcomes(check).values()) == {"not_measured", "not_applicable"}


def test_a_fault_of_the_service_is_a_failed_check_and_no_verdict(start: Start, card: bytes) -> None:
    check = start(measure="tests.jobs.faults:no_such_function").check(card).get_json()
    assert (check["state"], check["verdict"], check["measurements"]) == ("failed", None, None)
    assert check["problem"]["type"] == "/problems/internal-error"


# --- Waiting ----------------------------------------------------------------------------------------------------------


def test_who_does_not_wait_gets_an_address_and_the_result_later(caller: Caller, card: bytes) -> None:
    answer = caller.check(card, headers=LATER)
    assert answer.status_code == 202
    assert answer.headers["Preference-Applied"] == "respond-async"
    check = answer.get_json()
    assert check["state"] in ("queued", "running")
    assert check["verdict"] is None
    assert finished(caller, check["id"])["verdict"] == "conforming"


def test_past_the_waiting_limit_the_answer_is_202_with_the_progress(start: Start, card: bytes) -> None:
    caller = start(measure="tests.jobs.faults:hangs", wait_seconds=0.05)
    answer = caller.check(card)
    assert (answer.status_code, answer.headers["Retry-After"]) == (202, "1")
    assert "Preference-Applied" not in answer.headers
    until(lambda: caller.get(answer.headers["Location"]).get_json()["progress"], "how far it is")
    check = caller.get(answer.headers["Location"]).get_json()
    assert check["progress"] == {"stage": "pages", "page": 1, "pages": 9}
    assert check["state"] == "running"


def test_a_caller_may_ask_for_a_shorter_wait(start: Start, card: bytes) -> None:
    caller = start(measure="tests.jobs.faults:hangs", wait_seconds=3600)
    began = time.monotonic()
    assert caller.check(card, headers={"Prefer": "respond-async, wait=1"}).status_code == 202
    assert time.monotonic() - began > 0.9


def test_a_full_queue_says_when_to_come_again_and_keeps_nothing(start: Start, card: bytes, tmp_path: Path) -> None:
    caller = start(measure="tests.jobs.faults:hangs", workers=1, queue_length=1)
    running = caller.check(card, headers=LATER).get_json()["id"]
    until(lambda: caller.get(f"/v1/checks/{running}").get_json()["state"] == "running", "running")
    assert caller.check(card, headers=LATER).status_code == 202
    full = caller.check(card, headers={**LATER, "Idempotency-Key": "again"})
    assert (full.status_code, full.get_json()["type"]) == (429, "/problems/queue-full")
    assert int(full.headers["Retry-After"]) >= 1
    assert len(list((tmp_path / "data0" / "files").iterdir())) == 2
    caller.delete(f"/v1/checks/{running}")

    def again() -> int:
        return caller.check(card, headers={**LATER, "Idempotency-Key": "again"}).status_code

    until(lambda: again() != 429, "taken")
    assert again() == 202


# --- Sending again ------------------------------------------------------------------------------------------------------


def test_the_same_request_under_the_same_key_is_one_check(caller: Caller, card: bytes, tmp_path: Path) -> None:
    key = {"Idempotency-Key": "order-7/card"}
    first, second = caller.check(card, headers=key), caller.check(card, headers=key)
    assert (first.status_code, second.status_code) == (201, 201)
    assert first.get_json() == second.get_json()
    assert len(list((tmp_path / "data0" / "files").iterdir())) == 1


def test_another_request_under_the_same_key_is_refused(caller: Caller, card: bytes, card_without_bleed: bytes) -> None:
    key = {"Idempotency-Key": "order-7"}
    caller.check(card, headers=key)
    for other in (
        caller.check(card_without_bleed, headers=key),
        caller.check(card, headers=key, spec="business-card-85x55"),
        caller.check(card, headers=key, order='{"inner_pages": 8}'),
    ):
        assert (other.status_code, other.get_json()["type"]) == (422, "/problems/key-reused")


def test_requests_without_a_key_are_checks_of_their_own(caller: Caller, card: bytes) -> None:
    assert caller.check(card).get_json()["id"] != caller.check(card).get_json()["id"]


# --- Judging again ------------------------------------------------------------------------------------------------------


def test_an_earlier_check_is_judged_against_another_sheet(caller: Caller, card: bytes) -> None:
    first = caller.check(card).get_json()
    second = caller.check(check=first["id"], spec_sheet="trim: {width: 90 mm, height: 50 mm}").get_json()
    assert second["id"] != first["id"]
    assert second["file"] == first["file"]
    assert second["measurements"] == first["measurements"]
    assert outcomes(second)["trim.size"] == "not_met"


def test_judging_again_may_come_as_a_plain_form(caller: Caller, card: bytes) -> None:
    first = caller.check(card).get_json()
    answer = caller.post("/v1/checks", data={"check": first["id"], "spec": "business-card-85x55"})
    assert answer.status_code == 201


def test_measurements_serve_without_the_file_where_the_trim_is_declared(caller: Caller, card: bytes, tmp_path: Path) -> None:
    first = caller.check(card).get_json()
    (tmp_path / "data0" / "files" / f"{first['id']}.pdf").unlink()
    assert caller.check(check=first["id"], spec_sheet="bleed: {minimum: 2 mm}").get_json()["verdict"] == "conforming"


def test_a_trim_that_was_guessed_for_one_sheet_is_measured_anew_for_another(caller: Caller, tmp_path: Path) -> None:
    path = tmp_path / "plain.pdf"
    page(90, 60).fill(cyan=1).without_trim_box().save(path)
    first = caller.check(path.read_bytes(), spec_sheet="trim: {width: 200 mm, height: 200 mm}").get_json()
    second = caller.check(check=first["id"], spec_sheet="trim: {width: 90 mm, height: 60 mm}").get_json()
    assert first["measurements"]["pages"][0]["trim_source"] != "media_minus_bleed"
    assert second["measurements"]["pages"][0]["trim_source"] == "media_minus_bleed"


def test_a_check_that_still_runs_cannot_be_judged_again(start: Start, card: bytes) -> None:
    caller = start(measure="tests.jobs.faults:hangs")
    running = caller.check(card, headers=LATER).get_json()["id"]
    answer = caller.check(check=running)
    assert (answer.status_code, answer.get_json()["type"]) == (409, "/problems/check-not-finished")
    assert answer.headers["Retry-After"]


# --- Forgetting ---------------------------------------------------------------------------------------------------------


def test_a_forgotten_check_is_gone_with_its_file(caller: Caller, card: bytes, tmp_path: Path) -> None:
    check = caller.check(card).get_json()
    assert caller.delete(check["links"]["self"]).status_code == 204
    assert caller.get(check["links"]["self"]).status_code == 404
    assert caller.delete(check["links"]["self"]).status_code == 404
    assert list((tmp_path / "data0" / "files").iterdir()) == []


def test_a_running_check_is_stopped_when_it_is_forgotten(start: Start, card: bytes) -> None:
    caller = start(measure="tests.jobs.faults:hangs", workers=1)
    first = caller.check(card, headers=LATER).get_json()["id"]
    assert caller.delete(f"/v1/checks/{first}").status_code == 204
    second = caller.check(card, headers=LATER).get_json()["id"]
    state = until(lambda: caller.get(f"/v1/checks/{second}").get_json()["state"].replace("queued", ""), "begun")
    assert state == "running"


def test_a_check_is_gone_when_its_time_is_over(start: Start, card: bytes, tmp_path: Path) -> None:
    caller = start(retention_hours=2.0)
    check = caller.check(card, headers=LATER).get_json()
    begun, over = (datetime.fromisoformat(check[name]) for name in ("created_at", "expires_at"))
    assert over - begun == timedelta(hours=2)
    assert run_sql(tmp_path / "data0", "update checks set expires_at = created_at where id = :id", id=check["id"]) == 1
    assert caller.get(check["links"]["self"]).status_code == 404


def test_checks_are_not_kept_by_anybody_on_the_way(caller: Caller, card: bytes) -> None:
    answer = caller.check(card)
    assert answer.headers["Cache-Control"] == "no-store"
    assert caller.get(answer.headers["Location"]).headers["Cache-Control"] == "no-store"
