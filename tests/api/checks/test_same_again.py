"""The same file by the same sheet again is answered from what is stored; anything else is looked at."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any
from unittest.mock import patch

import pytest

from service.jobs.queue import Queue
from service.store.models import CheckRow
from tests.api.conftest import Start
from tests.api.contract import CARD_SHEET, Caller

OF_ITS_OWN = ("id", "created_at", "finished_at", "expires_at", "links")


@pytest.fixture
def queued() -> Iterator[list[str]]:
    """The ids of the checks that had to wait for their result."""
    ids: list[str] = []
    submit = Queue.submit

    def noted(queue: Queue, row: CheckRow, *by: Any) -> None:
        ids.append(row.id)
        submit(queue, row, *by)

    with patch.object(Queue, "submit", noted):
        yield ids


def result(answer: dict[str, Any]) -> dict[str, Any]:
    return {name: value for name, value in answer.items() if name not in OF_ITS_OWN}


def test_the_same_again_is_a_new_check_with_the_same_result(caller: Caller, card: bytes, queued: list[str]) -> None:
    first, second = (caller.check(card) for _ in range(2))
    assert (first.status_code, second.status_code) == (201, 201)
    one, other = first.get_json(), second.get_json()
    assert queued == [one["id"]]
    assert one["id"] != other["id"]
    assert result(one) == result(other)
    assert caller.delete(f"/v1/checks/{one['id']}").status_code == 204
    assert result(caller.get(f"/v1/checks/{other['id']}").get_json()) == result(one)
    assert caller.get(f"/v1/checks/{other['id']}/pages/1/picture").status_code == 200


def test_other_bytes_or_another_sheet_are_looked_at(caller: Caller, card: bytes, queued: list[str]) -> None:
    caller.check(card)
    caller.check(card + b"\n%")
    caller.check(card, spec_sheet=CARD_SHEET.replace("3 mm", "2 mm"))
    assert len(queued) == 3


def test_a_result_that_lacks_something_is_not_given_again(start: Start, card: bytes, queued: list[str]) -> None:
    caller = start(check_seconds=0.001)
    assert [caller.check(card).get_json()["verdict"] for _ in range(2)] == ["inconclusive"] * 2
    assert len(queued) == 2
