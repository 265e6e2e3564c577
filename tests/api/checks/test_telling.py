"""Asking for a check again and again, waiting for it, hearing how far it is."""

from __future__ import annotations

import json
import threading
from pathlib import Path
from typing import Any

import pytest

from service.door.holding import DOOR, Wishes
from tests.api.conftest import Start
from tests.api.contract import Caller
from tests.patience import PATIENCE_SECONDS, ended, until

LATER = {"Prefer": "respond-async"}
SLOW = "tests.jobs.faults:waits_for_a_file"


def address(caller: Caller, card: bytes, **headers: str) -> str:
    return str(caller.check(card, headers=headers).headers["Location"])


def heard(data: bytes) -> list[tuple[str, dict[str, Any]]]:
    """The events of a stream, as the standard reads them: a blank line ends one, a colon begins a comment."""
    found = []
    for block in data.decode().split("\n\n"):
        fields = dict(line.split(": ", 1) for line in block.split("\n") if ": " in line and not line.startswith(":"))
        if "data" in fields:
            found.append((fields["event"], json.loads(fields["data"])))
    return found


def test_an_unchanged_check_is_told_by_its_tag_alone(caller: Caller, card: bytes) -> None:
    path = address(caller, card)
    first = caller.get(path)
    tag = first.headers["ETag"]
    again = caller.get(path, headers={"If-None-Match": tag})
    assert (again.status_code, again.get_data()) == (304, b"")
    assert (again.headers["ETag"], again.headers["Vary"]) == (tag, first.headers["Vary"])
    assert again.headers["Cache-Control"] == "no-store"
    assert caller.get(path, headers={"If-None-Match": '"another"'}).status_code == 200
    assert caller.get(f"{path}?lang=de", headers={"If-None-Match": tag}).status_code == 200  # in other words


def test_an_unchanged_check_is_not_read_or_put_into_words(
    caller: Caller, card: bytes, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = address(caller, card)
    tag = caller.get(path).headers["ETag"]
    monkeypatch.setattr("service.api.checks.telling.check_answer", lambda row: pytest.fail(f"{row} was put into words"))
    assert caller.get(path, headers={"If-None-Match": tag}).status_code == 304


def test_head_gives_the_headers_alone(caller: Caller, card: bytes) -> None:
    path = address(caller, card)
    get, head = caller.get(path), caller.client.head(path)
    assert (head.status_code, head.get_data()) == (200, b"")
    for name in ("ETag", "Content-Type", "Content-Length", "Link"):
        assert head.headers[name] == get.headers[name]
    assert caller.client.head(path, headers={"If-None-Match": get.headers["ETag"]}).status_code == 304


def test_a_check_says_when_to_ask_again_and_where_to_go(start: Start, card: bytes) -> None:
    caller = start(SLOW)
    sent = caller.check(card, headers=LATER)
    path = sent.headers["Location"]
    for answer in (sent, caller.get(path)):
        assert answer.headers["Retry-After"] == "1"
        assert f'<{path}/events>; rel="monitor"' in answer.headers["Link"]
    caller.delete(path)


def test_a_finished_check_says_how_long_it_took_and_leads_to_its_report(caller: Caller, card: bytes) -> None:
    answer = caller.check(card)
    assert "Retry-After" not in answer.headers
    path = answer.headers["Location"]
    assert answer.headers["Link"] == f'<{path}/report>; rel="alternate"; type="text/html"'
    times = dict(one.split(";dur=") for one in answer.headers["Server-Timing"].split(", "))
    assert times.keys() == {"wait", "check", "app"}
    assert all(float(ms) > 0 for ms in times.values())


def test_who_wishes_to_wait_gets_the_finished_check(start: Start, card: bytes, tmp_path: Path) -> None:
    """Without our door, as here, a thread waits."""
    caller = start(SLOW)
    path = address(caller, card, **LATER)
    go_on = threading.Timer(0.3, (tmp_path / "data0" / "files" / "go").touch)
    go_on.start()
    answer = caller.get(path, headers={"Prefer": "wait=20"})
    ended(go_on)
    assert answer.get_json()["state"] == "finished"
    assert answer.headers["Preference-Applied"] == "wait=20"
    assert "Prefer" in answer.headers["Vary"]


def test_a_check_that_is_finished_in_a_moment_is_not_waited_for_once_more(
    caller: Caller, card: bytes, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The door would look for it again after its own while, and ask for an answer that was there already."""
    monkeypatch.setattr("service.api.checks.telling._FIRST_MOMENT_SECONDS", PATIENCE_SECONDS)
    door = Wishes(may_be_held=True)
    answer = caller.client.post(
        "/v1/checks?spec=business-card-85x55",
        data=card + b"\n% another",
        content_type="application/pdf",
        environ_overrides={DOOR: door},
    )
    assert (answer.status_code, answer.get_json()["state"]) == (201, "finished")
    assert door.steps is None


def test_a_check_that_takes_longer_is_waited_for_at_the_door(start: Start, card: bytes) -> None:
    caller, door = start(SLOW), Wishes(may_be_held=True)
    answer = caller.client.post(
        "/v1/checks?spec=business-card-85x55", data=card, content_type="application/pdf", environ_overrides={DOOR: door}
    )
    assert (answer.status_code, door.steps is None) == (202, False)
    caller.delete(str(answer.headers["Location"]))


@pytest.mark.parametrize("wish", ["", "wait=0", "wait=-1", "wait=soon", "respond-async"])
def test_who_wishes_no_time_is_answered_at_once(start: Start, card: bytes, wish: str) -> None:
    caller = start(SLOW)
    path = address(caller, card, **LATER)
    assert caller.get(path, headers={"Prefer": wish}).get_json()["state"] in ("queued", "running")
    caller.delete(path)


def test_no_more_is_waited_than_the_service_lets_wait(start: Start, card: bytes) -> None:
    caller = start(SLOW, wait_seconds=0.1)
    path = address(caller, card, **LATER)
    answer = caller.get(path, headers={"Prefer": "wait=900000"})
    assert (answer.get_json()["state"] in ("queued", "running"), answer.headers["Preference-Applied"]) == (True, "wait=0")
    caller.delete(path)


def test_events_tell_how_far_it_is_until_it_is_finished(start: Start, card: bytes, tmp_path: Path) -> None:
    caller = start(SLOW)
    path = address(caller, card, **LATER)
    until(lambda: caller.get(path).get_json()["state"] == "running", "running")
    go_on = threading.Timer(0.5, (tmp_path / "data0" / "files" / "go").touch)
    go_on.start()
    answer = caller.get(f"{path}/events")
    ended(go_on)
    assert (answer.mimetype, answer.headers["Cache-Control"]) == ("text/event-stream", "no-store")
    events = heard(answer.get_data())
    assert [kind for kind, _ in events][-1] == "finished"
    assert {kind for kind, _ in events[:-1]} == {"progress"}
    assert events[-1][1] == {"state": "finished", "verdict": "nonconforming", "progress": None}
    assert len({json.dumps(one) for one in events}) == len(events)  # nothing is said twice


def test_who_has_heard_the_end_need_not_come_back(caller: Caller, card: bytes) -> None:
    path = address(caller, card)
    answer = caller.get(f"{path}/events")
    assert [kind for kind, _ in heard(answer.get_data())] == ["finished"]
    last = next(line[4:] for line in answer.get_data(as_text=True).split("\n") if line.startswith("id: "))
    assert caller.get(f"{path}/events", headers={"Last-Event-ID": last}).status_code == 204
    assert caller.get(f"{path}/events", headers={"Last-Event-ID": "another"}).status_code == 200


def test_a_check_that_is_forgotten_ends_its_events(start: Start, card: bytes) -> None:
    caller = start(SLOW)
    path = address(caller, card, **LATER)
    forget = threading.Timer(0.3, lambda: caller.client.delete(path))
    forget.start()
    answer = caller.get(f"{path}/events")
    ended(forget)
    assert "finished" not in {kind for kind, _ in heard(answer.get_data())}
    assert caller.get(f"{path}/events").status_code == 404
