"""What a sheet can ask and this version does not measure: said, never passed over."""

from __future__ import annotations

import pytest

from service.pdf.geometry import Box
from service.rules.judge import judge
from service.rules.not_yet import WAITING
from service.sheets.model import (
    BleedAsked,
    ColorAsked,
    FileAsked,
    Finish,
    Fold,
    ImagesAsked,
    KeepClearArea,
    LinesAsked,
    MarginAsked,
    MarksAsked,
    Resolution,
    SpecSheet,
    SpineAsked,
    TextAsked,
    TransparencyAsked,
)
from tests.rules.measured import document, judged, outcome, page

AREA = KeepClearArea(name="writing area", box_mm=Box(20, 45, 190, 277), level="should")

ASKED = {
    "file.standard": SpecSheet(file=FileAsked(standards=("PDF/X-4",))),
    "file.output-intent": SpecSheet(file=FileAsked(output_conditions=("FOGRA39",))),
    "file.linearized": SpecSheet(file=FileAsked(linearized="required")),
    "bleed.excess": SpecSheet(bleed=BleedAsked(minimum_mm=3, maximum_mm=10)),
    "margin.text": SpecSheet(margin=MarginAsked(minimum_mm=3)),
    "margin.artwork": SpecSheet(margin=MarginAsked(minimum_mm=3)),
    "margin.fold": SpecSheet(folds=(Fold(at_mm=97, axis="vertical"),)),
    "margin.spine": SpecSheet(spine=SpineAsked(page_width_mm=148)),
    "marks.crop": SpecSheet(marks=MarksAsked(crop_marks="required")),
    "marks.offset": SpecSheet(marks=MarksAsked(offset_minimum_mm=3)),
    "image.resolution-bilevel": SpecSheet(images=ImagesAsked(bilevel=Resolution(minimum_ppi=600))),
    "image.excess": SpecSheet(images=ImagesAsked(contone=Resolution(maximum_ppi=450))),
    "ink.total": SpecSheet(color=ColorAsked(ink_limit_percent=300)),
    "text.size": SpecSheet(text=TextAsked(reversed_minimum_size_pt=6)),
    "text.inks": SpecSheet(text=TextAsked(rich_black_minimum_size_pt=14)),
    "line.width": SpecSheet(lines=LinesAsked(minimum_width_pt=0.25)),
    "copy.keep-clear": SpecSheet(keep_clear=(AREA,)),
    "transparency.live": SpecSheet(transparency=TransparencyAsked(live="forbidden")),
    "fold.panels": SpecSheet(folds=(Fold(at_mm=97, axis="vertical"),)),
    "spine.width": SpecSheet(spine=SpineAsked(page_width_mm=148)),
    "finish.plate": SpecSheet(finishes=(Finish(ink="Gold Foil"),)),
}
LEAVES_IT_OPEN = {
    "marks.crop": SpecSheet(marks=MarksAsked(crop_marks="allowed")),
    "transparency.live": SpecSheet(transparency=TransparencyAsked(live="allowed")),
    "bleed.excess": SpecSheet(bleed=BleedAsked(minimum_mm=3)),
    "image.resolution-bilevel": SpecSheet(images=ImagesAsked()),
    "file.linearized": SpecSheet(file=FileAsked(linearized="allowed")),
}


def test_every_waiting_rule_has_a_sheet_here() -> None:
    assert ASKED.keys() == {waiting.rule_id for waiting in WAITING}


@pytest.mark.parametrize(("rule_id", "sheet"), ASKED.items(), ids=list(ASKED))
def test_what_is_asked_and_not_measured_is_said(rule_id: str, sheet: SpecSheet) -> None:
    rule, findings = judged(rule_id, document(page()), sheet)
    assert (rule.outcome, findings) == ("not_measured", ())
    assert rule.reason is not None
    assert "not measured yet by this version" in rule.reason


@pytest.mark.parametrize(("rule_id", "sheet"), LEAVES_IT_OPEN.items(), ids=list(LEAVES_IT_OPEN))
def test_what_the_sheet_leaves_open_is_not_asked(rule_id: str, sheet: SpecSheet) -> None:
    assert outcome(rule_id, document(page()), sheet) == "not_applicable"


@pytest.mark.parametrize(
    ("file", "level"),
    [
        (FileAsked(standards=("PDF/X-4",)), "must"),
        (FileAsked(standards=("PDF/X-4",), standards_level="should"), "should"),
        (FileAsked(standards=("PDF/X-4",), level="should"), "should"),
    ],
)
def test_the_standard_has_a_level_of_its_own(file: FileAsked, level: str) -> None:
    assert judged("file.standard", document(page()), SpecSheet(file=file))[0].level == level


def test_the_strictest_area_decides_whether_the_verdict_stays_open() -> None:
    must = KeepClearArea(name="stamp", box_mm=Box(0, 0, 20, 20))
    assert judge(document(page()), SpecSheet(keep_clear=(AREA,))).verdict == "conforming"
    assert judge(document(page()), SpecSheet(keep_clear=(AREA, must))).verdict == "inconclusive"
