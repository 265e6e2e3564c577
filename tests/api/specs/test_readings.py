"""A published text in, a draft out, over HTTP; what the grammar reads is tested in tests/sheets/prose."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from service.sheets.format.validation import read_sheet, read_sheet_text
from tests.api.conftest import Start
from tests.api.contract import Caller
from tests.api.http.test_errors import PNG, told
from tests.build import page
from tests.patience import processor_seconds
from tests.sweeps import WHOLE

TEXT = "Business cards\nSize: 85 x 55 mm\n3 mm bleed on all sides\nImages at least 300 dpi\nKeep text 4 mm from the edge\n"
HTML = "<h1>Cards</h1><script>no()</script><ul><li>Size: 85 x 55 mm</li><li>3 mm bleed on all sides</li></ul>"


def asked(caller: Caller, body: Any, kind: str) -> Any:
    return caller.post("/v1/specs/readings", data=body, content_type=kind)


def test_a_text_becomes_a_draft_with_the_words_of_each_value(caller: Caller) -> None:
    answer = asked(caller, TEXT.encode(), "text/plain").get_json()
    assert answer["draft"]["bleed"] == {"minimum": "3 mm"}
    assert read_sheet_text(answer["draft_yaml"]) == read_sheet(answer["draft"])
    bleed = next(one for one in answer["values"] if one["pointer"] == "/bleed/minimum")
    assert answer["text"][bleed["start"] : bleed["end"]] == bleed["quote"]
    assert "3 mm" in bleed["quote"]
    assert "fonts" in {one["about"] for one in answer["questions"]}


def test_html_and_json_are_taken_too(caller: Caller) -> None:
    of_html = asked(caller, HTML.encode(), "text/html; charset=utf-8").get_json()
    of_json = caller.post("/v1/specs/readings", json={"text": HTML, "media_type": "text/html"}).get_json()
    assert of_html == of_json
    assert of_html["draft"]["trim"] == {"width": "85 mm", "height": "55 mm"}
    assert "no()" not in of_html["text"]


def test_a_pdf_of_the_instructions_is_read_by_its_lines(caller: Caller, tmp_path: Path) -> None:
    sheet = page(210, 297, bleed=0)
    for number, line in enumerate(TEXT.splitlines()):
        sheet.text(line, size=10, at=(20, 30 + 6 * number))
    sheet.save(tmp_path / "instructions.pdf")
    answer = asked(caller, (tmp_path / "instructions.pdf").read_bytes(), "application/pdf").get_json()
    assert answer["draft"] == asked(caller, TEXT.encode(), "text/plain").get_json()["draft"]


def test_what_is_said_of_one_product_is_in_a_draft_of_its_own(caller: Caller) -> None:
    """With what is common; the first draft has the common things alone, and is 'draft'."""
    text = b"Bleed: 3 mm\nPictures 300 dpi, posters 150 dpi\nWe print since 1952.\n"
    answer = asked(caller, text, "text/plain").get_json()
    common, posters = answer["drafts"]
    assert (common["product"], common["draft"], common["own"]) == (None, answer["draft"], [])
    assert answer["draft"] == {"bleed": {"minimum": "3 mm"}, "images": {"contone_ppi": {"minimum": 300}}}
    assert posters["product"] == "posters"
    assert posters["draft"] == {"bleed": {"minimum": "3 mm"}, "images": {"contone_ppi": {"minimum": 150}}}
    assert posters["own"] == ["/images/contone_ppi/minimum"]
    assert read_sheet_text(posters["draft_yaml"]) == read_sheet(posters["draft"])
    assert [one["quote"] for one in answer["asks_nothing"]] == ["We print since 1952."]


def test_a_page_may_be_longer_than_its_text(caller: Caller) -> None:
    html = b"<p>Bleed: 3 mm</p>" + b"<i></i>" * 100_000
    assert asked(caller, html, "text/html").get_json()["draft"] == {"bleed": {"minimum": "3 mm"}}
    told(asked(caller, b"<p>" + b"x " * 150_000, "text/html"), "invalid-request")


def test_a_draft_is_never_kept(caller: Caller) -> None:
    asked(caller, TEXT.encode(), "text/plain")
    assert caller.get("/v1/specs?origin=own").get_json()["total"] == 0


def test_a_text_that_asks_nothing_gives_an_empty_draft(caller: Caller) -> None:
    answer = asked(caller, b"We love good paper.", "text/plain").get_json()
    assert (answer["draft"], answer["draft_yaml"], answer["values"]) == ({}, "", [])


@pytest.mark.parametrize(
    ("body", "kind", "code"),
    [
        (PNG, "image/png", "unsupported-media-type"),
        (PNG, "application/pdf", "not-a-pdf"),
        (b"%PDF-1.4\n", "application/pdf", "invalid-request"),
        (b"\xff\xfe\xfd", "text/plain", "invalid-request"),
        (b"x", "text/plain; charset=klingon", "unsupported-media-type"),
        (b"x" * 200_001, "text/plain", "too-large"),
        (b"{", "application/json", "bad-request"),
        (b"[]", "application/json", "invalid-request"),
        (b'{"text": 5}', "application/json", "invalid-request"),
        (b'{"text": "x", "mediatype": "text/html"}', "application/json", "invalid-request"),
        (b'{"text": "x", "media_type": "text/rtf"}', "application/json", "invalid-request"),
        (b"[" * 100_000, "application/json", "bad-request"),
    ],
)
def test_what_cannot_be_read_is_told_why(caller: Caller, body: bytes, kind: str, code: str) -> None:
    told(asked(caller, body, kind), code)


def test_a_pdf_that_measuring_fails_on_is_told(start: Start, card: bytes) -> None:
    told(asked(start(measure="tests.jobs.faults:aborts"), card, "application/pdf"), "invalid-request")


def test_half_a_character_comes_back_as_it_was_sent(caller: Caller) -> None:
    answer = asked(caller, b'{"text": "\\ud800 bleed 3 mm"}', "application/json")
    assert answer.status_code == 200
    assert answer.get_json()["text"] == "\ud800 bleed 3 mm"


def test_only_so_many_texts_are_read_at_once(start: Start) -> None:
    caller = start(workers=1, wait_seconds=0.1)
    workbench = caller.client.application.extensions["print-spec"].workbench
    with workbench.turn():
        told(asked(caller, b"Bleed: 3 mm", "text/plain"), "queue-full")
    assert asked(caller, b"Bleed: 3 mm", "text/plain").status_code == 200


@pytest.mark.parametrize("words", ["1x1 ", "1x1x1 ", "10x10 mm ", "A4 A5 "])
def test_a_text_of_nothing_but_sizes_is_read_in_seconds(caller: Caller, words: str) -> None:
    """It took minutes: each of tens of thousands of sizes looked through the whole text for its unit."""
    share = 1 if WHOLE else 4
    with processor_seconds(at_most=15 / share):
        assert asked(caller, (words * 50_000)[: 199_000 // share].encode(), "text/plain").status_code == 200


def spins(_: object, brief: object) -> bytes:
    while True:
        assert brief is not None


def lies(_: object, brief: object) -> bytes:
    assert brief is not None
    return b'{"read": {"draft": "<b>", "text": 7}}'


def test_a_text_that_upsets_the_reading_costs_its_sender_alone(caller: Caller, monkeypatch: pytest.MonkeyPatch) -> None:
    """It is read in a process of its own, and what comes back is trusted in nothing."""
    monkeypatch.setattr("service.api.specs.readings.READ", f"{__name__}:{lies.__name__}")
    answer = asked(caller, TEXT.encode(), "text/plain")
    assert (answer.status_code, answer.get_json()["errors"][0]["pointer"]) == (422, "/text")
    assert caller.get("/healthz").status_code == 200


def test_a_reading_that_we_stop_is_not_blamed_on_the_text(caller: Caller, monkeypatch: pytest.MonkeyPatch) -> None:
    """On a busy machine a text of one line may not be read in time."""
    monkeypatch.setattr("service.api.specs.readings.READ", f"{__name__}:{spins.__name__}")
    monkeypatch.setattr("service.api.specs.readings.MOST_SECONDS", 0.5)
    answer = asked(caller, TEXT.encode(), "text/plain")
    told(answer, "out-of-time")
    assert "0.5 s that" in answer.get_json()["detail"]
    assert (answer.status_code, answer.headers["Retry-After"]) == (503, "30")
    assert caller.get("/healthz").status_code == 200
