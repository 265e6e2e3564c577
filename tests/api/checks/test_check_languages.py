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
    assert "1,2\u00a0mm" in bleed_message(sent.get_json())
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
    assert "1,2\u00a0mm" in bleed_message(told["fr"].get_json())
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
        assert "1,2\u00a0mm" in bleed_message(answer.get_json())


def test_a_repeat_in_another_language_gets_the_same_check(caller: Caller, narrow: bytes) -> None:
    key = {"Idempotency-Key": "order-1047"}
    first = caller.check(narrow, headers={**key, **GERMAN})
    again = caller.check(narrow, headers={**key, **FRENCH})
    assert first.get_json()["id"] == again.get_json()["id"]
    assert (first.headers["Content-Language"], again.headers["Content-Language"]) == ("de", "fr")


def test_a_check_judged_again_is_told_in_every_language_too(caller: Caller, narrow: bytes) -> None:
    first = caller.check(narrow).get_json()
    again = caller.check(check=first["id"], headers=GERMAN).get_json()
    assert "1,2\u00a0mm" in bleed_message(again)


def test_a_file_that_crashed_the_measuring_is_told_in_every_language(start: Start, narrow: bytes) -> None:
    caller = start(measure="tests.jobs.faults:aborts")
    english = caller.check(narrow).get_json()
    german = caller.get(english["links"]["self"], headers=GERMAN).get_json()
    assert english["summary"]["headline"].startswith("Not decided: the measuring process crashed")
    assert german["summary"]["headline"].startswith("Nicht abschließend prüfbar: Der Messvorgang ist abgestürzt")
    assert without_words(german) == without_words(english)


# --- Matches, readings, plates -----------------------------------------------------------------------------------------


def test_what_a_file_fits_is_told_in_the_language(caller: Caller, narrow: bytes) -> None:
    for options in ({"headers": GERMAN}, {"query_string": {"lang": "de"}}):
        form = {"file": (io.BytesIO(narrow), "card.pdf"), "product": "business-card", "region": "GB"}
        answer = caller.post("/v1/specs/matches", data=form, content_type="multipart/form-data", **options)
        assert (answer.headers["Content-Language"], answer.headers["Vary"]) == ("de", "Accept-Language")
        best = answer.get_json()["matches"][0]
        assert any(one["says"].startswith("1,2\u00a0mm") for one in best["against"])


def test_a_draft_is_the_same_in_every_language_and_its_questions_are_asked_in_it(caller: Caller) -> None:
    text = {"data": b"Size: 85 x 55 mm. Bleed 2.5 mm.", "content_type": "text/plain"}
    english = caller.post("/v1/specs/readings", **text).get_json()
    answer = caller.post("/v1/specs/readings?lang=de", **text)  # read in a process of its own, which has the real catalogues
    german = answer.get_json()
    assert (answer.headers["Content-Language"], answer.headers["Vary"]) == ("de", "Accept-Language")
    asked = [(one["question"], other["question"]) for one, other in zip(german["questions"], english["questions"], strict=True)]
    assert asked
    assert all(one != other for one, other in asked)
    assert {**german, "questions": []} == {**english, "questions": []}


def test_how_colours_were_converted_is_told_in_the_language(caller: Caller) -> None:
    check = caller.check(page(85, 55).fill(rgb=(0.2, 0.4, 0.6)).bytes()).get_json()
    plates = check["links"]["plates"].replace("{page}", "1")
    english = caller.get(plates)
    kept = {"If-None-Match": english.headers["ETag"]}
    with mirrored():
        german = caller.get(plates, headers={**GERMAN, **kept})
    assert (english.status_code, german.status_code) == (200, 200)  # English words are no answer to a German reader
    assert german.get_json()["conversion"] == f"⟦{english.get_json()['conversion']}⟧"
    assert german.headers["Content-Language"] == "de"
    again = caller.get(plates, headers=kept)
    assert (again.status_code, again.headers["Vary"]) == (304, "Accept-Language")


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
)
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


FORM, TEXT, JSON = "multipart/form-data", "text/plain", "application/json"
TYPES_OF_A_CHECK, TYPES_OF_A_TEXT = {FORM, "application/pdf"}, {TEXT, "text/html", "application/pdf", JSON}
SPEC = {"spec": "business-card-85x55"}
AGAIN = {**SPEC, "check": "nothing"}


@pytest.mark.usefixtures("mirror")
@pytest.mark.parametrize(
    ("fields", "own"),
    [
        ({"spec": ["x", "x"]}, set()),
        (SPEC, set()),
        ({"check": "x"}, set()),
        ({**SPEC, "file": "the file's name"}, set()),
        ({**AGAIN, "callback_url": "https://shop.example"}, set()),
        ({**AGAIN, "spec_sheet": "trim: {width: 85 mm}"}, set()),
        ({**AGAIN, "token": "x"}, set()),
        ({**AGAIN, "order": "x" * 4097}, set()),
        ({**AGAIN, "order": b"\xff"}, set()),
        ({**AGAIN, "order": "{"}, {"inner_pages", "caliper_mm"}),
    ],
)
def test_a_field_that_is_wrong_is_told_in_the_language(fields: dict[str, Any], own: set[str], caller: Caller) -> None:
    form = {name: (io.BytesIO(value), "part") if isinstance(value, bytes) else value for name, value in fields.items()}
    problem = caller.post("/v1/checks", data=form, content_type=FORM, headers=GERMAN).get_json()
    assert problem["type"] == "/problems/invalid-request"
    for text in (problem["title"], *(one["detail"] for one in problem["errors"])):
        assert "⟦" in text
        assert set(not_said(text)) <= own


@pytest.mark.usefixtures("mirror")
@pytest.mark.parametrize(
    ("path", "body", "kind", "own"),
    [
        ("checks", b"{}", JSON, {*TYPES_OF_A_CHECK, JSON}),
        ("checks", b"{}", "", TYPES_OF_A_CHECK),
        ("checks", b"--x\r\n", f"{FORM}; boundary=y", set()),
        ("checks?spec=x", {"spec": "x"}, FORM, set()),
        ("specs/matches", {"product": "card"}, FORM, set()),
        ("specs/readings", b"x", "image/png", {*TYPES_OF_A_TEXT, "image/png"}),
        ("specs/readings", b"x", "", TYPES_OF_A_TEXT),
        ("specs/readings", b"x" * 200_001, TEXT, set()),
        ("specs/readings", b"\xff", TEXT, set()),
        ("specs/readings", b"x", f"{TEXT}; charset=klingon", {"klingon"}),
        ("specs/readings", b"{", JSON, {"text"}),
    ],
)
def test_a_body_that_is_wrong_is_told_in_the_language(path: str, body: Any, kind: str, own: set[str], caller: Caller) -> None:
    data = dict(body) if isinstance(body, dict) else body
    problem = caller.post(f"/v1/{path}", data=data, content_type=kind, headers=GERMAN).get_json()
    for text in (problem["title"], problem["detail"], *(one["detail"] for one in problem.get("errors", ()))):
        assert "⟦" in text
        assert set(not_said(text)) <= own


@pytest.mark.parametrize("body", [b'{"text": "x", "media_type": "text/rtf"}', b'{"text": "%s"}' % (b"x" * 200_001)])
def test_what_the_reader_of_texts_refuses_is_told_in_the_language(body: bytes, caller: Caller) -> None:
    """In a process of its own, which has the real catalogues."""
    told = [
        caller.post("/v1/specs/readings", data=body, content_type=JSON, headers=headers).get_json()
        for headers in (GERMAN, FRENCH, {})
    ]
    assert len({one["errors"][0]["detail"] if one.get("errors") else one["detail"] for one in told}) == 3


@pytest.mark.usefixtures("mirror")
def test_a_key_of_another_request_and_one_that_is_none_are_told(caller: Caller, card: bytes, narrow: bytes) -> None:
    key = {"Idempotency-Key": "order-7", **GERMAN}
    caller.check(card, headers=key)
    for headers, code in ((key, "key-reused"), ({**key, "Idempotency-Key": "two words"}, "bad-request")):
        problem = caller.check(narrow, headers=headers).get_json()
        assert problem["type"] == f"/problems/{code}"
        assert not_said(problem["title"] + problem["detail"]) == []


@pytest.mark.usefixtures("mirror")
@pytest.mark.parametrize(("step", "own"), [("Cyann", {"Cyann", "Cyan"}), ("Sourdough", {"Sourdough", "Cyan"})])
def test_an_ink_that_is_not_there_is_told_in_the_language(step: str, own: set[str], caller: Caller, card: bytes) -> None:
    plates = caller.check(card).get_json()["links"]["plates"].replace("{page}", "1")
    problem = caller.get(f"{plates}/{step}", headers=GERMAN).get_json()
    assert problem["type"] == "/problems/ink-not-found"
    assert set(not_said(problem["title"] + problem["detail"])) <= own


@pytest.mark.usefixtures("mirror")
def test_more_mistakes_of_a_sheet_than_are_named_are_counted_in_the_language(caller: Caller, card: bytes) -> None:
    sheet = "trim: {width: x, height: x}\nbleed: {minimum: x}\nmargin: {minimum: x}\n"
    problem = caller.check(card, spec_sheet=sheet, headers=GERMAN).get_json()
    assert problem["detail"].endswith("⟦And ⟧1⟦ more in the spec sheet.⟧")
