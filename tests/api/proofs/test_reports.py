"""The report over HTTP: three forms of one result, in a language, before the check is finished and after its file is gone."""

from __future__ import annotations

import io
import re
from datetime import UTC, datetime
from html import unescape

import pikepdf
import pytest
from werkzeug.test import TestResponse

from tests.api.conftest import Start
from tests.api.contract import Caller
from tests.api.http.test_errors import told
from tests.build import document, page
from tests.patience import until
from tests.proofs.made_report import Page


def report_of(caller: Caller, pdf: bytes, **fields: str) -> str:
    link: str = caller.check(pdf, **fields).get_json()["links"]["report"]
    return link


def parsed(answer: TestResponse) -> Page:
    assert (answer.status_code, answer.mimetype) == (200, "text/html"), answer.get_data()[:300]
    return Page(answer.get_data(as_text=True))


@pytest.mark.parametrize(
    ("accept", "query", "mimetype"),
    [
        (None, "", "text/html"), ("*/*", "", "text/html"), ("text/html,application/xhtml+xml,*/*;q=0.8", "", "text/html"),
        ("application/pdf", "", "application/pdf"), ("application/json", "", "application/json"),
        ("application/pdf;q=0.5, application/json", "", "application/json"),
        ("text/html", "?format=pdf", "application/pdf"), ("application/pdf", "?format=json", "application/json"),
        ("application/json", "?format=html", "text/html"),
    ],
)
def test_the_form_is_the_one_asked_for(
    caller: Caller, card_without_bleed: bytes, accept: str | None, query: str, mimetype: str
) -> None:
    link = report_of(caller, card_without_bleed)
    answer = caller.get(link + query, headers={"Accept": accept} if accept else {})
    assert (answer.status_code, answer.mimetype) == (200, mimetype)
    assert "Accept" in answer.headers["Vary"]
    assert answer.headers["Content-Language"] == "en"


def test_what_is_no_form_of_a_report_is_refused(caller: Caller, card: bytes) -> None:
    link = report_of(caller, card)
    told(caller.get(link, headers={"Accept": "image/png"}), "not-acceptable")
    assert list(told(caller.get(f"{link}?format=docx"), "invalid-request")) == ["/format"]
    told(caller.get("/v1/checks/nothing/report"), "check-not-found")
    page = caller.client.get("/v1/checks/nothing/report", headers={"Accept": "text/html,*/*;q=0.8"})
    assert (page.status_code, page.mimetype) == (404, "text/html")
    assert "There is no such check" in page.get_data(as_text=True)
    assert "Back button" not in page.get_data(as_text=True)


def test_the_json_is_the_check(caller: Caller, card_without_bleed: bytes) -> None:
    check = caller.check(card_without_bleed).get_json()
    assert caller.get(f"{check['links']['report']}?format=json").get_json() == caller.get(check["links"]["self"]).get_json()


def test_the_page_shows_the_finding_with_its_picture_and_lets_nothing_else_in(caller: Caller, card_without_bleed: bytes) -> None:
    check = caller.check(card_without_bleed).get_json()
    answer = caller.get(check["links"]["report"])
    shown = parsed(answer)
    finding = check["findings"][0]
    for words in (check["summary"]["headline"], finding["message"], finding["remedy"], "card.pdf"):
        assert words in shown.words
    (crop,) = shown.all("img")
    assert str(crop["src"]).startswith("data:image/png;base64,")
    policy = answer.headers["Content-Security-Policy"]
    assert policy.startswith("default-src 'none'; img-src data:; style-src 'sha256-")
    assert "script" not in policy
    assert shown.all("script") == []
    assert not re.search(r"(?:src|href|url)\W{1,3}(?:https?:|//|/)", answer.get_data(as_text=True))


def test_the_pdf_has_a_name_and_shows_in_the_browser(caller: Caller, card_without_bleed: bytes) -> None:
    answer = caller.get(f"{report_of(caller, card_without_bleed)}?format=pdf")
    assert answer.headers["Content-Disposition"] == 'inline; filename="card-report.pdf"'
    with pikepdf.open(io.BytesIO(answer.get_data())) as pdf:
        assert str(pdf.docinfo.Title) == "card.pdf: report of a check"
        images = [name for one in pdf.pages for name, image in _images(one.Resources) if image.Width > 100]
    assert images


def _images(resources: pikepdf.Object) -> list[tuple[str, pikepdf.Object]]:
    """Those of forms within too."""
    found = []
    for name, one in resources.get("/XObject", {}).items():
        if one.Subtype == "/Image":
            found.append((name, one))
        else:
            found += _images(one.get("/Resources", pikepdf.Dictionary()))
    return found


@pytest.mark.parametrize("form", ["html", "pdf"])
def test_a_report_that_the_caller_has_is_not_made_again(caller: Caller, card_without_bleed: bytes, form: str) -> None:
    link = f"{report_of(caller, card_without_bleed)}?format={form}"
    first = caller.get(link)
    assert first.headers["Cache-Control"] == "private, no-cache"
    tag = {"If-None-Match": first.headers["ETag"]}
    again = caller.get(link, headers=tag)
    assert (again.status_code, again.get_data()) == (304, b"")
    assert caller.get(f"{link}&lang=de", headers=tag).status_code == 200


def test_the_language_is_the_one_asked_for(caller: Caller, card_without_bleed: bytes) -> None:
    link = report_of(caller, card_without_bleed)
    answer = caller.get(link, headers={"Accept-Language": "fr-CH, de;q=0.5"})
    assert answer.headers["Content-Language"] == "fr"
    assert "Accept-Language" in answer.headers["Vary"]
    assert parsed(answer).all("html") == [{"lang": "fr"}]
    german = caller.get(f"{link}?lang=de", headers={"Accept-Language": "fr"})
    assert parsed(german).all("html") == [{"lang": "de"}]
    assert "?format=pdf&amp;lang=de" in german.get_data(as_text=True)
    with pikepdf.open(io.BytesIO(caller.get(f"{link}?lang=de&format=pdf").get_data())) as pdf:
        assert str(pdf.Root.Lang).startswith("de")


def test_while_the_check_runs_the_page_says_how_far_it_is_and_asks_again(start: Start, card: bytes) -> None:
    caller = start(measure="tests.jobs.faults:hangs", wait_seconds=0.05)
    link = report_of(caller, card)
    until(lambda: "1 of 9" in caller.get(link).get_data(as_text=True), "how far it is")
    shown = Page(caller.get(link).get_data(as_text=True))
    assert "Measured: page 1 of 9" in shown.words
    assert [one for one in shown.all("meta") if one.get("http-equiv") == "refresh"]
    assert shown.all("script") == []
    waiting = caller.get(link)
    assert waiting.headers["Cache-Control"] == "no-store"
    assert "default-src 'none'" in waiting.headers["Content-Security-Policy"]
    told(caller.get(f"{link}?format=pdf"), "check-not-finished")
    assert caller.get(f"{link}?format=json").get_json()["state"] == "running"


def test_the_report_of_a_failed_check_says_what_to_do(start: Start, card: bytes) -> None:
    caller = start(measure="tests.jobs.faults:no_such_function")
    link = report_of(caller, card)
    shown = parsed(caller.get(link))
    assert "There is no report of this check" in shown.words
    assert "This is no fault of your file" in unescape(shown.words)
    assert [one for one in shown.all("meta") if one.get("http-equiv") == "refresh"] == []
    told(caller.get(f"{link}?format=pdf"), "check-failed")


def test_a_check_whose_file_is_gone_has_a_report_without_pictures_that_says_so(start: Start, card_without_bleed: bytes) -> None:
    caller = start()
    check = caller.check(card_without_bleed).get_json()
    first = caller.get(check["links"]["report"])
    caller.client.application.extensions["print-spec"].blobs.forget(check["id"])
    answer = caller.get(check["links"]["report"], headers={"If-None-Match": first.headers["ETag"]})
    shown = parsed(answer)
    assert shown.all("img") == []
    assert "This report has no pictures" in shown.words
    assert check["findings"][0]["message"] in shown.words
    assert caller.get(f"{check['links']['report']}?format=pdf").mimetype == "application/pdf"


def test_a_locked_file_has_a_report(caller: Caller) -> None:
    link = report_of(caller, document(page(85, 55)).encrypted(user="secret").bytes())
    assert "password" in parsed(caller.get(link)).words
    assert caller.get(f"{link}?format=pdf").get_data().startswith(b"%PDF-")


def test_a_sheets_words_are_shown_as_words(caller: Caller, card_without_bleed: bytes) -> None:
    sheet = '{"title": "<b>Card</b>", "bleed": {"minimum": "3 mm", "note": "<i>so</i>"}}'
    shown = parsed(caller.get(report_of(caller, card_without_bleed, spec_sheet=sheet)))
    assert "<b>Card</b>" in shown.words
    assert "<i>so</i>" in shown.words
    assert shown.all("b") == shown.all("i") == []


def test_a_report_says_until_when_it_is_kept(caller: Caller, card: bytes) -> None:
    check = caller.check(card).get_json()
    until = datetime.fromisoformat(check["expires_at"]).astimezone(UTC)
    assert f"{until.day} {until:%B} {until.year}, {until:%H:%M} UTC" in parsed(caller.get(check["links"]["report"])).words
