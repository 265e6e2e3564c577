"""The grammar against texts that were written apart from it: the honest measure.

A wrong number costs a print run, a missing one a question; so precision has the higher bar.
"""

from __future__ import annotations

from tests.sheets.readings_score import FOLDERS, score

LEAST_PRECISION = 0.95
LEAST_RECALL = 0.85


def test_texts_that_the_grammar_was_not_made_with_are_read_well() -> None:
    total = score(FOLDERS["unseen"])
    assert total.texts >= 60
    assert total.precision >= LEAST_PRECISION
    assert total.recall >= LEAST_RECALL
