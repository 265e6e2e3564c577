"""The service's own pages and what every answer carries."""

from __future__ import annotations

import logging
import re

import pytest
from prometheus_client.parser import text_string_to_metric_families

from service.jobs.children.confinement.walls import Walls, offered
from tests.api.conftest import Start
from tests.api.contract import Caller


def test_the_first_address_leads_to_the_reference(caller: Caller) -> None:
    """It is a page for people; whoever writes a program finds the way."""
    assert '<a href="/docs">' in caller.get("/").get_data(as_text=True)


def test_every_rule_has_its_reference(caller: Caller) -> None:
    rules = caller.get("/v1/rules").get_json()["rules"]
    assert {"trim.size", "bleed.declared", "file.readable"} <= {one["id"] for one in rules}
    assert len({one["id"] for one in rules}) == len(rules)


@pytest.mark.parametrize("path", ["/v1/specs", "/nothing", "/docs", "/healthz"])
def test_every_answer_is_guarded(caller: Caller, path: str) -> None:
    headers = caller.get(path).headers
    assert headers["X-Content-Type-Options"] == "nosniff"
    assert "frame-ancestors 'none'" in headers["Content-Security-Policy"]
    assert headers["Referrer-Policy"] == "no-referrer"


def test_a_request_has_an_id_in_the_answer_and_in_the_log(caller: Caller, caplog: pytest.LogCaptureFixture) -> None:
    caplog.set_level(logging.INFO, "service.access")
    answer = caller.get("/healthz", headers={"X-Request-Id": "order-7.1"})
    assert answer.headers["X-Request-Id"] == "order-7.1"
    assert "order-7.1 'GET' /healthz 200" in caplog.text


@pytest.mark.parametrize("sent", ["a b", "x" * 65, "<script>"])
def test_an_id_that_could_do_harm_in_a_log_is_replaced(caller: Caller, sent: str) -> None:
    assert re.fullmatch(r"[0-9a-f]{16}", caller.get("/healthz", headers={"X-Request-Id": sent}).headers["X-Request-Id"])


def test_an_address_leaves_no_line_of_its_own_in_the_log(caller: Caller, caplog: pytest.LogCaptureFixture) -> None:
    caplog.set_level(logging.INFO, "service.access")
    caller.get("/v1/checks/x%0aforged?secret=1")
    assert "secret" not in caplog.text
    assert "forged" not in caplog.text


def test_whoever_asks_whether_it_is_ready_hears_what_the_sandbox_lacks(caller: Caller, monkeypatch: pytest.MonkeyPatch) -> None:
    here = caller.get("/readyz").get_json()
    assert (here["status"], here["sandbox_lacks"]) == ("ok", list(offered().lacks))
    monkeypatch.setattr("service.api.reference.system.offered", lambda: Walls(landlock_abi=0, seccomp=False))
    assert caller.get("/readyz").get_json()["sandbox_lacks"] == ["landlock", "seccomp"]


def test_whoever_runs_the_service_sees_how_it_is_doing(start: Start, card: bytes) -> None:
    caller = start()
    caller.check(card)
    ready = caller.get("/readyz").get_json()
    assert (ready["places"], ready["waiting"]) == (2, 0)
    caller.get("/v1/checks/no-such-check")
    answer = caller.get("/metrics")
    assert answer.mimetype == "text/plain"
    found = {
        (sample.name, *sorted(sample.labels.items())): sample.value
        for family in text_string_to_metric_families(answer.get_data(as_text=True))
        for sample in family.samples
    }
    assert found["print_spec_checks", ("state", "finished")] == 1
    assert (found["print_spec_places",], found["print_spec_database_up",], found["print_spec_room",]) == (2, 1, 1)
    assert (found["print_spec_oldest_waits_seconds",], found["print_spec_callbacks_waiting",]) == (0, 0)
    lost = ("method", "GET"), ("route", "/v1/checks/<check_id>"), ("status", "404")
    assert found["print_spec_http_answers_total", *lost] >= 1
    assert found["print_spec_http_seconds_count", *lost[:2]] >= 1
