"""The demo run, from drawing to results: the real service over HTTP."""

from __future__ import annotations

import json
from pathlib import Path

from service.demo.order import ORDER, Sent
from service.demo.run import Outcome, result_name
from service.demo.summary import summary
from service.language.spoken import speaking


def answer(verdict: str, *rules: str) -> dict[str, object]:
    return {"verdict": verdict, "findings": [{"rule": rule} for rule in rules]}


def test_a_verdict_other_than_deserved_is_a_surprise() -> None:
    sent = Sent("card.pdf", "card", "", "conforming")
    assert Outcome(sent, answer("conforming"), 0.1).surprises == []
    assert len(Outcome(sent, answer("nonconforming"), 0.1).surprises) == 1


def test_a_rule_that_was_not_broken_though_it_should_be_is_a_surprise() -> None:
    sent = Sent("card.pdf", "card", "", "nonconforming", ("bleed.declared", "color.space"))
    assert Outcome(sent, answer("nonconforming", "bleed.declared", "color.space", "trim.size"), 0.1).surprises == []
    assert Outcome(sent, answer("nonconforming", "trim.size", "color.space"), 0.1).surprises == ["does not break bleed.declared"]


def test_the_demo_runs_from_nothing_to_the_verdicts_that_the_files_deserve(demo_run: Path) -> None:
    results = demo_run / "demo-results"
    for sent in ORDER:
        check = json.loads((results / result_name(sent)).read_text())
        assert check["verdict"] == sent.verdict
        assert (results / sent.file).is_file()
    shown = (demo_run / "shown.txt").read_text()
    assert all(sent.file in shown for sent in ORDER)
    assert "bleed.declared" in (results / "summary.md").read_text()


def in_short(finding: dict[str, object]) -> dict[str, object]:
    return {
        "file": {"name": "card.pdf"},
        "spec": {"id": "card"},
        "verdict": "nonconforming",
        "summary": {"headline": "Not ready"},
        "findings": [finding],
    }


def test_names_out_of_a_file_do_not_become_markdown() -> None:
    finding = {"rule": "font.embedded", "level": "must", "pages": [1], "places": [], "message": "‘[x](y)’", "remedy": "<b>"}
    text = summary([("", "card.json", in_short(finding))])
    assert r"‘\[x\](y)’" in text
    assert r"\<b\>" in text


def test_the_story_of_an_order_is_told_in_the_reader_s_language() -> None:
    finding = {"rule": "trim.size", "level": "must", "pages": [1], "places": [], "message": "", "remedy": ""}
    with speaking("de"):
        text = summary([(ORDER[0].story, "card.json", in_short(finding))])
    assert "wie die Druckerei es verlangt" in text
    assert "(zu beheben, Seite 1)" in text
    assert "What to do" not in text
