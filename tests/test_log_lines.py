"""The log: one record, one line of ours; no id of a check."""

from __future__ import annotations

import logging
import re
import secrets

import pytest

from service.jobs.children.failures import failure_of
from service.jobs.children.lines import ErrorTold
from service.log_lines import LogLines

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


def test_an_ordinary_line_stays_as_it_is() -> None:
    assert written(record("%s GET /v1/checks/<check_id> 200", "order-7")).endswith(
        "INFO service.test order-7 GET /v1/checks/<check_id> 200"
    )
