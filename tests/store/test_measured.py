"""Measurements are kept once, and go with the last check that judges them."""

from __future__ import annotations

from datetime import timedelta

import pytest
from sqlalchemy import Engine

from service.store.checks import Checks
from service.store.measured import Measured, Sizes
from service.store.models import CheckRow
from tests.store.rows import NOON, row

TEXT = '{"pages": "Halyard Lane"}' * 1000
LATER = NOON + timedelta(minutes=1)


@pytest.fixture
def measured(checks: Checks) -> Measured:
    return Measured(engine_of(checks))


def engine_of(checks: Checks) -> Engine:
    return checks._engine


def finished(checks: Checks, check_id: str, text: str = TEXT) -> CheckRow:
    checks.add(row(check_id, state="running"))
    assert checks.finish(check_id, "here", LATER, measurements=text, judgement="{}", verdict="conforming")
    found = checks.get(check_id, LATER)
    assert found is not None
    return found


def test_what_was_measured_is_read_as_it_was_kept(checks: Checks, measured: Measured) -> None:
    digest = finished(checks, "one").measured
    assert digest is not None
    assert measured.text(digest) == TEXT
    assert measured.sizes(digest) == Sizes(len(TEXT), None)
    measured.note_answer(digest, 77)
    assert measured.sizes(digest) == Sizes(len(TEXT), 77)


def test_two_checks_share_what_is_the_same_until_the_last_is_forgotten(checks: Checks, measured: Measured) -> None:
    digest = finished(checks, "one").measured
    assert finished(checks, "two").measured == digest
    assert finished(checks, "other", "{}").measured != digest
    assert digest is not None
    checks.forget("one")
    assert measured.text(digest) == TEXT
    checks.forget("two")
    assert measured.text(digest) is None
    assert measured.sizes(digest) is None


def test_a_check_that_was_forgotten_while_it_ran_leaves_nothing(checks: Checks) -> None:
    assert not checks.finish("gone", "here", LATER, measurements=TEXT, judgement="{}", verdict="conforming")
    digest = finished(checks, "one", "{}").measured
    assert digest is not None
    with engine_of(checks).connect() as connection:
        assert connection.exec_driver_sql("select count(*) from measured").scalar() == 1
