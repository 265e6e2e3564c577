"""No text of a result escapes the catalogues: real files, judged in a language that shows what is said and what is not.

What the rules' tests build by hand is judged so as well (`tests.rules.measured.judged`).
"""

from __future__ import annotations

from pathlib import Path

import pytest

from service.demo.order import ORDER
from service.jobs.judging import judge_in_every_language
from service.jobs.question import question_for
from service.language.spoken import speaking
from service.pdf.measure import measure
from service.rules.catalogue import RULES
from service.rules.judge import judge
from service.rules.judgement import differ_in_words_alone
from service.sheets.catalogue import stored_sheets
from service.sheets.order import for_order
from tests.build import document, page
from tests.language.mirror import assert_all_is_said, mirrored, not_said
from tests.sheets.breaks import Break, breaks_of

SHEETS = {sheet_id: for_order(one, {"inner_pages": 160, "caliper_mm": 0.1}) for sheet_id, one in stored_sheets().items()}


def _breaks() -> dict[str, tuple[str, Break]]:
    """Each rule broken once, with a sheet that asks for it."""
    found: dict[str, tuple[str, Break]] = {}
    for sheet_id, sheet in SHEETS.items():
        for one in breaks_of(sheet):
            found.setdefault(one.rule, (sheet_id, one))
    return found


BREAKS = _breaks()


@pytest.mark.parametrize("sent", ORDER, ids=lambda one: one.file)
def test_the_demo_is_told_wholly_in_another_language(sent: object, bakery_order: Path) -> None:
    file, spec = sent.file, sent.spec  # type: ignore[attr-defined]
    sheet = SHEETS[spec]
    measurements = measure(bakery_order / file, question_for(sheet))
    assert_all_is_said(measurements, sheet, RULES)
    judgements = judge_in_every_language(measurements, sheet)
    for language, judgement in judgements.items():
        assert differ_in_words_alone(judgement, judgements["en"])
        with speaking(language):
            assert judgement == judge(measurements, sheet)


@pytest.mark.parametrize("rule", ["trim.size", "bleed.reach", "margin.outline", "finish.plate", "spine.width", "ink.total"])
def test_a_file_with_one_fault_is_told_wholly(rule: str, tmp_path: Path) -> None:
    sheet_id, one = BREAKS[rule]
    sheet = SHEETS[sheet_id]
    path = tmp_path / "made.pdf"
    path.write_bytes(one.file(sheet))
    assert assert_all_is_said(measure(path, question_for(sheet)), sheet, RULES).findings


@pytest.mark.parametrize("how", ["cut off", "locked", "garbage", "slips"])
def test_a_file_that_cannot_be_read_is_told_wholly(how: str, tmp_path: Path) -> None:
    path, card = tmp_path / "made.pdf", document(page(85, 55).fill(cyan=1), page(85, 55).fill(cyan=1))
    if how == "locked":
        card.encrypted(user="brioche").save(path)
    else:
        data = card.save(path).read_bytes()
        change = {
            "cut off": data[: len(data) * 2 // 3],
            "garbage": b"%PDF-1.7\n" + b"\x00\xff" * 500,
            "slips": data.replace(b"/Rotate 0", b"/Rotate 7").replace(b"/TrimBox", b"/TrimBax"),
        }
        path.write_bytes(change[how])
    assert_all_is_said(measure(path), SHEETS["business-card-85x55"], RULES)


def test_the_mirror_shows_what_was_not_said() -> None:
    with mirrored() as mirror:
        said = mirror.gettext("Page {page} has {found}.").format(page=2, found="no bleed")
    assert said == "⟦Page ⟧2⟦ has ⟧no bleed⟦.⟧"
    assert not_said(said) == ["no", "bleed"]
    assert not_said("⟦a ⟧⟦‘⟧Bakery Sans⟦’⟧⟦ of ⟧1,2 mm") == []
