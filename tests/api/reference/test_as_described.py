"""Requests made up from the OpenAPI description, right ones and wrong ones, alone and one after the other (schemathesis).

Whatever is sent, the answer is one that is described, and never a fault of the service. A made-up text is seldom a PDF or a sheet
that means something, so it is no matter that what the description allows is refused (422) all the same.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from service import create_app
from service.settings import read_settings
from tests.build import page
from tests.databases import database_url
from tests.sweeps import WHOLE

ONE_BY_ONE, ONE_AFTER_THE_OTHER, STEPS = (6, 5, 6) if WHOLE else (4, 4, 6)
"""How many, so that all of it takes a minute."""
BOUNDED = {
    "deadline": None, "database": None, "phases": [Phase.generate], "derandomize": True,
    "suppress_health_check": list(HealthCheck),
}


@pytest.fixture(scope="module")
def schemathesis() -> Any:
    """Loaded here alone: it takes a second of each process of a run that collects these tests."""
    return pytest.importorskip("schemathesis")


@pytest.fixture(scope="module")
def described(schemathesis: Any, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Any]:
    folder = tmp_path_factory.mktemp("described")
    data = folder / "data"
    base = read_settings({"PRINT_SPEC_DATA": str(data), "PRINT_SPEC_DATABASE_URL": database_url(data)})
    app = create_app(replace(base, wait_seconds=5.0, stop_seconds=0.0, check_seconds=10.0))
    page(85, 55, bleed=3).fill(cyan=1).save(folder / "card.pdf")
    card = (folder / "card.pdf").read_bytes()
    schemathesis.openapi.media_type("application/pdf", st.sampled_from([card, card[:300], b"%PDF-1.7", b"no PDF", b""]))
    schemathesis.openapi.media_type("application/offset+octet-stream", st.binary(max_size=200))
    schema = schemathesis.openapi.from_wsgi("/openapi.json", app)
    schema.config.checks.negative_data_rejection.expected_statuses += ["412"]  # another version of tus, as tus has it
    yield schema
    app.extensions["print-spec"].close()


@pytest.fixture(scope="module")
def not_held(schemathesis: Any) -> list[Any]:
    return [schemathesis.checks.positive_data_acceptance]


def test_every_request_is_answered_as_it_is_described(described: Any, not_held: list[Any]) -> None:
    cases = 0
    for found in described.get_all_operations():
        operation = found.ok()

        @settings(max_examples=ONE_BY_ONE, **BOUNDED)
        @given(case=operation.as_strategy())
        def ask(case: Any) -> None:
            nonlocal cases
            cases += 1
            case.call_and_validate(excluded_checks=not_held)

        ask()
    assert cases > 100


def test_what_one_request_made_is_there_for_the_next_and_gone_when_deleted(described: Any, not_held: list[Any]) -> None:
    class Sequence(described.as_state_machine()):  # type: ignore[misc]  # made at run time
        def validate_response(self, response: Any, case: Any, **more: Any) -> None:
            case.validate_response(response, excluded_checks=not_held, **more)

    Sequence.run(settings=settings(max_examples=ONE_AFTER_THE_OTHER, stateful_step_count=STEPS, **BOUNDED))


def test_the_folder_of_files_holds_what_checks_hold(described: Any) -> None:
    """After all of that."""
    data = Path(described.app.extensions["print-spec"].settings.data)
    ids = {path.stem for path in (data / "files").glob("*.pdf")}
    assert described.app.extensions["print-spec"].checks.existing(sorted(ids)) == ids
