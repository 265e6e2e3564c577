"""`print-spec rules`."""

from __future__ import annotations

import json

import pytest

from service.__main__ import main
from service.rules.catalogue import RULES


def test_every_rule_is_in_the_reference(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["rules", "--json"]) == 0
    assert [one["id"] for one in json.loads(capsys.readouterr().out)] == list(RULES)
    assert main(["rules"]) == 0
    assert "bleed.declared" in capsys.readouterr().out


def test_who_asks_for_a_rule_is_said_in_the_reader_s_language(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["rules", "--lang", "de"]) == 0
    told = capsys.readouterr().out
    assert "immer" in told
    assert "always" not in told
