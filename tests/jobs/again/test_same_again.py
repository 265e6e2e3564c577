"""Which checks come out alike: those of one account that ask the same of the same file."""

from __future__ import annotations

import pytest

from service.jobs.again.same_again import likeness
from tests.store.rows import row


def test_whoever_sends_the_same_again_is_given_the_same() -> None:
    assert likeness(row("one", file_name="card.pdf")) == likeness(row("two", file_name="card-final.pdf"))


@pytest.mark.parametrize("change", [
    {"account": "florist"}, {"sha256": "b"}, {"sheet": "{}"}, {"order": '{"inner_pages": 96}'}, {"question": "{}"},
])  # fmt: skip
def test_another_account_file_sheet_order_or_question_is_looked_at(change: dict[str, str]) -> None:
    assert likeness(row("one", account="bakery", sheet="[]", question="[]", sha256="a")) != likeness(
        row("two", **{"account": "bakery", "sheet": "[]", "question": "[]", "sha256": "a", **change})
    )
