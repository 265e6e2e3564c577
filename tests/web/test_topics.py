"""What a finding is about, as its heading."""

from __future__ import annotations

import pytest

from service.rules.catalogue import RULES
from service.web.topics import topic_named


@pytest.mark.parametrize(
    ("rule", "topic"),
    [
        ("copy.placeholder", "Placeholder text"),
        ("copy.keep-clear", "Area that stays clear"),
        ("copy.trial", "Trial program"),
        ("image.resolution", "Pictures"),
    ],
)
def test_a_finding_is_headed_by_what_it_is_about(rule: str, topic: str) -> None:
    assert topic_named(rule) == topic


def test_every_rule_has_a_topic_in_words() -> None:
    assert [rule for rule in RULES if topic_named(rule) == rule] == []
