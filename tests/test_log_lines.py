"""The log: one record, one line of ours; no id of a check."""

from __future__ import annotations

import json
import logging
import re
import secrets

import pytest

from service.jobs.children.failures import failure_of
from service.jobs.children.lines import ErrorTold
from service.log_lines import REQUEST, JsonLines, LogLines, without_ids

FORGED = "Traceback\n2026-11-29 12:00:00,000 INFO service.access 1f GET /v1/tokens 200 3 ms\r\x1b[2J\u2028more"


def written(record: logging.LogRecord) -> str:
    return LogLines().format(record)


def record(message: str, *values: object) -> logging.LogRecord:
    return logging.LogRecord("service.test", logging.INFO, __file__, 1, message, values, None)


def test_what_a_child_says_begins_no_line_that_looks_like_ours(caplog: pytest.LogCaptureFixture) -> None:
    failure_of(ErrorTold(memory=False, trace=FORGED))
    lines = "".join(written(one) for one in caplog.records).splitlines()
    assert len(lines) > 2
    assert all(line.startswith("    | ") for line in lines[1:])
    assert not re.search(r"[\x00-\x09\x0b-\x1f\x7f-\x9f]", "".join(lines))


@pytest.mark.parametrize("told", ["{}", "/data/files/{}.pdf", "'{}'", "check {}: gone"])
def test_no_id_of_a_check_is_written(told: str) -> None:
    for _ in range(20):
        check = secrets.token_urlsafe(18)
        assert check not in written(record("%s", told.format(check)))


def test_lines_about_one_check_can_be_laid_together_and_lead_nobody_to_it() -> None:
    check = secrets.token_urlsafe(18)
    one, two, other = (without_ids(f"check {one}") for one in (check, check, secrets.token_urlsafe(18)))
    assert one == two != other


def test_a_line_for_programs_is_one_object_with_the_request_it_belongs_to() -> None:
    access = record("order-7 'GET' /v1/checks 200 3 ms")
    access.__dict__.update({"method": "GET", "route": "/v1/checks", "status": 200, "milliseconds": 3})
    token = REQUEST.set("order-7")
    line = JsonLines().format(access)
    REQUEST.reset(token)
    said = json.loads(line)
    assert (said["request_id"], said["status"], said["route"], said["level"]) == ("order-7", 200, "/v1/checks", "INFO")
    assert "request_id" not in json.loads(JsonLines().format(record("sweeping")))
    assert len(JsonLines().format(record(FORGED)).splitlines()) == 1
    check = secrets.token_urlsafe(18)
    assert check not in JsonLines().format(record("%s", f"/data/{check}.pdf"))


def test_an_ordinary_line_stays_as_it_is() -> None:
    assert written(record("%s GET /v1/checks/<check_id> 200", "order-7")).endswith(
        "INFO service.test order-7 GET /v1/checks/<check_id> 200"
    )
