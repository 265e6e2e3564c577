"""A check's words in the language that the request asks for; everything else is the same in all of them."""

from __future__ import annotations

import io
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.api.conftest import Start
from tests.api.contract import CARD_SHEET, Caller
from tests.build import page
from tests.language.mirror import Mirror, mirrored, not_said

GERMAN, FRENCH = {"Accept-Language": "de-AT, en;q=0.5"}, {"Accept-Language": "fr"}
WORDS = {"message", "remedy", "headline", "reason", "why", "damage"}


@pytest.fixture(scope="module")
def narrow(tmp_path_factory: pytest.TempPathFactory) -> bytes:
    """A card with 1.2 mm of bleed where 3 mm are asked."""
    return page(85, 55, bleed=1.2).fill(cyan=1).save(tmp_path_factory.mktemp("pdf") / "card.pdf").read_bytes()


def bleed_message(check: dict[str, Any]) -> str:
    return str(next(one for one in check["findings"] if one["rule"] == "bleed.declared")["message"])


def without_words(value: Any) -> Any:
    if isinstance(value, dict):
        return {key: without_words(inner) for key, inner in value.items() if key not in WORDS}
    return [without_words(one) for one in value] if isinstance(value, list) else value


def test_one_stored_check_is_told_in_every_language(caller: Caller, narrow: bytes) -> None:
    sent = caller.check(narrow, headers=GERMAN)
    assert (sent.status_code, sent.headers["Content-Language"]) == (201, "de")
    assert "1,2 mm" in bleed_message(sent.get_json())
    address = sent.headers["Location"]
    told = {
        "en": caller.get(address),
        "de": caller.get(address, headers=GERMAN),
        "fr": caller.get(f"{address}?lang=fr", headers=GERMAN),
    }
    for language, answer in told.items():
        assert answer.headers["Content-Language"] == language
        assert "Accept-Language" in answer.headers["Vary"]
        assert without_words(answer.get_json()) == without_words(sent.get_json())
    assert "1.2 mm" in bleed_message(told["en"].get_json())
    assert "1,2 mm" in bleed_message(told["fr"].get_json())
    assert told["de"].get_json() == sent.get_json()


def test_a_language_that_is_not_spoken_gets_english(caller: Caller, narrow: bytes) -> None:
    answer = caller.check(narrow, headers={"Accept-Language": "pl, cs"})
    assert answer.headers["Content-Language"] == "en"
    assert "1.2 mm" in bleed_message(answer.get_json())


@pytest.mark.parametrize("language", ["de", "fr"])
def test_the_address_of_an_upload_may_name_the_language(language: str, caller: Caller, narrow: bytes) -> None:
    """In a form all else stands in the form; a bare PDF has all else in the address."""
    form = {"file": (io.BytesIO(narrow), "card.pdf"), "spec_sheet": CARD_SHEET}
    answers = [
        caller.post(f"/v1/checks?lang={language}", data=form, content_type="multipart/form-data"),
        caller.post(f"/v1/checks?spec=business-card-85x55&lang={language}", data=narrow, content_type="application/pdf"),
    ]
    for answer in answers:
        assert (answer.status_code, answer.headers["Content-Language"]) == (201, language)
        assert "1,2 mm" in bleed_message(answer.get_json())


def test_a_repeat_in_another_language_gets_the_same_check(caller: Caller, narrow: bytes) -> None:
    key = {"Idempotency-Key": "order-1047"}
    first = caller.check(narrow, headers={**key, **GERMAN})
    again = caller.check(narrow, headers={**key, **FRENCH})
    assert first.get_json()["id"] == again.get_json()["id"]
    assert (first.headers["Content-Language"], again.headers["Content-Language"]) == ("de", "fr")


def test_a_check_judged_again_is_told_in_every_language_too(caller: Caller, narrow: bytes) -> None:
    first = caller.check(narrow).get_json()
    again = caller.check(check=first["id"], headers=GERMAN).get_json()
    assert "1,2 mm" in bleed_message(again)


def test_a_file_that_crashed_the_measuring_is_told_in_every_language(start: Start, narrow: bytes) -> None:
    caller = start(measure="tests.jobs.faults:aborts")
    english = caller.check(narrow).get_json()
    german = caller.get(english["links"]["self"], headers=GERMAN).get_json()
    assert [one["rule"] for one in german["findings"]] == [one["rule"] for one in english["findings"]] == ["file.readable"]
    assert without_words(german) == without_words(english)


# --- Problems -----------------------------------------------------------------------------------------------------------


@pytest.fixture
def mirror() -> Iterator[Mirror]:
    """What a German reader gets shows what was said."""
    with mirrored() as made:
        yield made


@pytest.mark.usefixtures("mirror")
@pytest.mark.parametrize(
    ("sent", "code"),
    [(b"", "not-a-pdf"), (b"\x89PNG\r\n\x1a\n" + bytes(99), "not-a-pdf"), (b"plain", "not-a-pdf"),
     (b"%PDF-1.7\n" + bytes(5000), "too-large")],
)  # fmt: skip
def test_a_refused_file_is_refused_in_the_language(sent: bytes, code: str, start: Start) -> None:
    answer = start(maximum_upload_bytes=4000).check(sent, headers=GERMAN)
    problem = answer.get_json()
    assert problem["type"] == f"/problems/{code}"
    assert answer.headers["Content-Language"] == "de"
    assert "Accept-Language" in answer.headers["Vary"]
    for text in (problem["title"], problem["detail"], *(one["detail"] for one in problem["errors"])):
        assert "⟦" in text
        assert not_said(text) == []


@pytest.mark.usefixtures("mirror")
@pytest.mark.parametrize(("path", "own"), [("/v1/checks/nowhere", set()), ("/v1/nothing", {"v1/nothing"})])
def test_what_is_not_found_is_said_in_the_language(path: str, own: set[str], caller: Caller) -> None:
    problem = caller.get(path, headers=GERMAN).get_json()
    assert set(not_said(problem["title"] + problem["detail"])) <= own
    assert "⟦" in problem["detail"]


@pytest.mark.usefixtures("mirror")
def test_a_check_that_still_runs_and_one_that_is_too_many_are_told(start: Start, card: bytes) -> None:
    caller = start(measure="tests.jobs.faults:hangs", workers=1, queue_length=1)
    later = {"Prefer": "respond-async", **GERMAN}
    running = caller.check(card, headers=later).get_json()["id"]
    told = [caller.get(f"/v1/checks/{running}/preview", headers=GERMAN), caller.check(check=running, headers=GERMAN)]
    told += [caller.check(card, headers=later) for _ in range(3)]
    assert {one.status_code for one in told} >= {409, 429}
    for one in (answer.get_json() for answer in told if answer.status_code >= 400):
        assert not_said(one["title"] + one["detail"]) == [], one


@pytest.mark.usefixtures("mirror")
def test_a_file_that_is_no_longer_kept_is_told(start: Start, card: bytes, tmp_path: Path) -> None:
    caller = start()
    check = caller.check(card).get_json()
    (tmp_path / "data0" / "files" / f"{check['id']}.pdf").unlink()
    problem = caller.get(check["links"]["preview"], headers=GERMAN).get_json()
    assert problem["type"] == "/problems/file-forgotten"
    assert not_said(problem["title"] + problem["detail"]) == []
