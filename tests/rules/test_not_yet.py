"""What a sheet can ask and this version does not measure: said, never passed over."""

from __future__ import annotations

import pytest

from service.rules.not_yet import WAITING
from service.sheets.model import ColorAsked, SpecSheet
from tests.rules.measured import document, judged, page

ASKED = {
    "ink.total": SpecSheet(color=ColorAsked(ink_limit_percent=300)),
}


def test_every_waiting_rule_has_a_sheet_here() -> None:
    assert ASKED.keys() == {waiting.rule_id for waiting in WAITING}


@pytest.mark.parametrize(("rule_id", "sheet"), ASKED.items(), ids=list(ASKED))
def test_what_is_asked_and_not_measured_is_said(rule_id: str, sheet: SpecSheet) -> None:
    rule, findings = judged(rule_id, document(page()), sheet)
    assert (rule.outcome, findings) == ("not_measured", ())
    assert rule.reason is not None
    assert "not measured yet by this version" in rule.reason
