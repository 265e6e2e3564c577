"""`/specs/new` and `/specs/{id}/edit` without script: every button sends the form, and a page comes back."""

from __future__ import annotations

import io
import re
from html import unescape
from typing import Any

import pytest
from werkzeug.datastructures import MultiDict
from werkzeug.test import TestResponse

from service.language.spoken import speaking
from service.web.pages import POLICY
from service.web.writing.controls import Ready, form_of
from service.web.writing.draft import from_sheet, read_by_the_reader
from tests.api.contract import Caller
from tests.web.writing.filled import filled

PUBLISHED = "Cards are trimmed to 85 x 55 mm with 3 mm bleed on all sides. Pictures need 300 dpi. We love tidy files of course."
CARD = {"/trim/width": "85 mm", "/trim/height": "55", "/bleed/minimum": "1/8 in"}
NAMED = {**CARD, "/title": "Halyard card, 85 × 55", "/product": "business-card"}


def sent(caller: Caller, address: str = "/specs/new", status: int = 200, headers: Any = None, **form: Any) -> str:
    answer = caller.client.post(address, data=form, headers=headers)
    assert answer.status_code == status, text(answer)[:3000]
    assert answer.headers["Content-Security-Policy"] == POLICY
    return text(answer)


def text(answer: TestResponse) -> str:
    return unescape(answer.get_data(as_text=True))


def value_of(page: str, name: str) -> str | None:
    found = re.search(rf'name="{re.escape(name)}" value="([^"]*)"', page)
    return found and found[1]


def said_at(page: str, name: str) -> str:
    found = re.search(rf'id="problem:{re.escape(name)}">([^<]*)<', page)
    assert found, name
    return found[1]


def kept(caller: Caller, **form: str) -> str:
    """The address of a sheet that the form has kept."""
    answer = caller.client.post("/specs/new", data={**NAMED, **form, "do": "keep"})
    assert answer.status_code == 303, text(answer)
    return str(answer.headers["Location"])


def test_an_empty_form_refuses_nothing_and_is_linked_from_the_products(caller: Caller) -> None:
    page = text(caller.client.get("/specs/new"))
    assert "Nothing yet: give the first answer." in page
    assert re.findall(r'class="problem" id="problem:[^"]+">[^<]+<', page) == []
    assert 'href="/specs/new"' in text(caller.client.get("/specs"))


def test_a_stored_sheet_a_family_and_an_own_sheet_are_starts(caller: Caller) -> None:
    american = text(caller.client.get("/specs/new?from=business-card-us"))
    assert (value_of(american, "/trim/width"), value_of(american, "base")) == ("3.5 in", "business-card-us")
    assert value_of(american, "/title") == "", "its name is its own"
    assert value_of(text(caller.client.get("/specs/new?from=flat-print")), "base") == "flat-print"
    address = kept(caller)
    own = text(caller.client.get(f"/specs/new?from={address.rpartition('/')[2]}"))
    assert (value_of(own, "/bleed/minimum"), value_of(own, "/title"), value_of(own, "/id")) == ("1/8 in", "", "")
    missing = caller.client.get("/specs/new?from=nobodys")
    assert missing.status_code == 404
    assert "GET " not in missing.text


def test_a_printers_text_is_read_with_its_words_and_what_is_open(caller: Caller) -> None:
    raw = caller.client.post("/specs/new", data={"do": "read", "text": PUBLISHED}).get_data(as_text=True)
    page = unescape(raw)
    assert value_of(page, "/bleed/minimum") == "3 mm"
    assert "<q>3 mm bleed" in page
    assert "does 1-bit art need more?" in page
    (carried,) = re.findall(r'name="reading" value="([^"]*)"', raw)
    again = sent(caller, do="look", reading=unescape(carried), **{"/bleed/minimum": "4 mm"})
    assert "<q>3 mm bleed" in again, "what was read stays in view"
    assert "Paste the printer's text" in sent(caller, status=422, do="read", text=" ").replace("’", "'")
    assert "Nothing in this text" in sent(caller, status=422, do="read", text="Good morning.")
    assert value_of(sent(caller, do="read", text="bleed: {minimum: 5 mm}"), "/bleed/minimum") == "5 mm"


def test_what_may_be_meant_is_asked_and_taken_over_by_a_button(caller: Caller) -> None:
    told = "Bleed 3 mm. Our machine cuts text that is nearer than 4 mm to the edge. Pictures have 300 ppi."
    raw = caller.client.post("/specs/new", data={"do": "read", "text": told}).get_data(as_text=True)
    assert value_of(unescape(raw), "/margin/minimum") == ""
    (carried,) = re.findall(r'name="reading" value="([^"]*)"', raw)
    (button,) = re.findall(r'name="do" value="(take:/margin/minimum=[^"]*)"', raw)
    after = sent(caller, do=unescape(button), reading=unescape(carried), **{"/bleed/minimum": "3 mm"})
    assert value_of(after, "/margin/minimum") == "4 mm"
    assert value_of(after, "/bleed/minimum") == "3 mm", "what else was answered stays"
    assert "take:/margin/minimum" not in after, "it is no longer open"


@pytest.mark.parametrize("answer", ["take:", "take:x=1", "take:/bleed/minimum", "take:/bleed/minimum={", "take:/bleed={}"])
def test_what_no_button_sends_takes_nothing_over(caller: Caller, answer: str) -> None:
    assert value_of(sent(caller, do=answer, **{"/bleed/minimum": "3 mm"}), "/bleed/minimum") == "3 mm"


def test_an_empty_document_is_a_start_and_what_it_does_not_say_is_asked(caller: Caller) -> None:
    template = caller.get("/v1/specs/leaflet-dl-roll-6/template?format=pdf").get_data()
    page = sent(caller, do="template", template=(io.BytesIO(template), "leaflet.pdf"))
    assert [value_of(page, f"/folds/{at}/at") for at in (0, 1)] == ["97 mm", "197 mm"]
    assert "<q>the BleedBox of page 1</q>" in page
    assert "How many pages do you take?" in page
    assert "Choose the PDF first." in sent(caller, status=422, do="template")
    assert "does not begin as a PDF does" in sent(caller, status=415, do="template", template=(io.BytesIO(b"x"), "x.pdf"))


def test_a_text_of_several_products_asks_which(caller: Caller) -> None:
    told = "Flyers: trimmed to 210 x 297 mm. Bleed 3 mm.\n\nPosters: trimmed to 420 x 594 mm. Bleed 5 mm."
    page = sent(caller, do="read", text=told)
    options = re.findall(r'<option value="(\d+)"[^>]*>([^<]+)<', page.split('id="which"')[1].split("</select>")[0])
    assert len(options) > 1
    chosen = {value_of(sent(caller, do="read", text=told, product=number), "/trim/width") for number, _ in options}
    assert {"210 mm", "420 mm"} <= chosen


def test_each_refusal_stands_at_its_question_in_the_services_words(caller: Caller) -> None:
    page = sent(caller, **CARD | {"/trim/height": "tall", "/bleed/maximum": "1 mm", "/pages/minimum": "2", "/pages/allowed": "1"})
    answer = caller.post("/v1/specs", json={
        "id": "x", "title": "X", "product": "x", "trim": {"width": "85 mm", "height": "tall"},
        "bleed": {"minimum": "1/8 in", "maximum": "1 mm"}, "pages": {"minimum": 2, "allowed": [1]},
    })  # fmt: skip
    for error in answer.get_json()["errors"]:
        told = error["detail"].partition(" ")[2].replace("pages.allowed", "‘How many pages’")
        assert told in said_at(page, error["pointer"])
    assert 'name="/trim/height" value="tall"' in page
    assert "3 answers do not fit yet" in page
    assert caller.client.get("/v1/specs?origin=own").get_json()["total"] == 0


def test_what_is_right_already_is_drawn_and_what_it_asks_is_listed(caller: Caller) -> None:
    page = sent(caller, **CARD | {"/images/jpeg": "often"})
    assert 'class="drawing" src="data:image/svg+xml;base64,' in page
    assert "The page goes on beyond the trim far enough on every side." in page
    assert "id=\"part-drawing\"" in sent(caller, "/specs/new?show=parts", **CARD)
    assert "<html" not in sent(caller, "/specs/new?show=parts", **CARD)


def test_entries_are_added_and_taken_out(caller: Caller) -> None:
    page = sent(caller, do="add:/folds", **CARD)
    assert 'name="/folds/0/at"' in page
    assert said_at(page, "/folds/0/at") == "‘How far from the left edge, or from the top’ is missing."
    page = sent(caller, do="add:/folds", **CARD | {"/folds/0/at": "42 mm", "/folds/0/axis": "vertical", "/folds/0": ""})
    assert 'name="/folds/1/at"' in page
    both = {"/folds/0/at": "42 mm", "/folds/0": "", "/folds/1/at": "50 mm", "/folds/1": ""}
    page = sent(caller, do="drop:/folds/0", **CARD | both)
    assert (value_of(page, "/folds/0/at"), value_of(page, "/folds/1/at")) == ("50 mm", None)


def test_yaml_is_taken_over_only_where_it_is_a_sheet(caller: Caller) -> None:
    page = sent(caller, do="yaml", yaml="extends: flyer-a5\nbleed: {minimum: 5 mm}\n")
    assert [value_of(page, name) for name in ("base", "/bleed/minimum", "/trim/width")] == ["flyer-a5", "5 mm", "148 mm"]
    assert "1 answer differs from" in page
    refused = sent(caller, status=422, do="yaml", yaml="trim: {width: wide}", **CARD)
    assert "trim.width must be a length" in refused
    assert "trim: {width: wide}" in refused, "what was written stays"
    assert value_of(refused, "/trim/width") == "85 mm", "and so do the questions"


def test_a_kept_sheet_is_that_of_the_interface_and_says_only_what_is_its_own(caller: Caller) -> None:
    as_it_is = filled(form_of(from_sheet("business-card-85x55").document, Ready()))
    changed = {"/bleed/minimum": ["5 mm"], "/title": ["Halyard card"], "base": ["business-card-85x55"], "do": ["keep"]}
    answer = caller.client.post("/specs/new", data=MultiDict(as_it_is | changed))
    assert (answer.status_code, answer.headers.get("Location")) == (303, "/specs/halyard-card"), text(answer)[:2000]
    own = caller.get("/v1/specs/halyard-card?resolved=false").get_json()
    assert own == {
        "id": "halyard-card", "extends": "business-card-85x55", "title": "Halyard card", "revision": 1,
        "bleed": {"minimum": "5 mm"},
    }  # fmt: skip


def test_words_of_a_stored_sheet_are_read_in_the_readers_language_and_stay_its_own(caller: Caller) -> None:
    """A note that nobody changed is no note of one's own, in whatever language it was shown."""
    german = {"Accept-Language": "de"}
    assert "Eine gesperrte Datei" in text(caller.client.get("/specs/new?from=business-card-85x55", headers=german))
    draft = from_sheet("business-card-85x55")
    with speaking("de"):
        as_it_is = filled(form_of(read_by_the_reader(draft.document, draft.base), Ready()))
    assert "gesperrte" in as_it_is["/file/note"][0]
    changed = {"/color/spots/maximum": ["1"], "base": ["business-card-85x55"], "/bleed/note": ["Halyard Lane bäckt."]}
    page = text(caller.client.post("/specs/new", data=MultiDict(as_it_is | changed), headers=german))
    compared = page.partition('id="part-changes"')[2].partition("</table>")[0]
    assert "2 Antworten sind anders" in compared
    assert "Lassen Sie Hintergründe" in compared, "what the stored sheet says is compared in German too"


def test_a_sheet_without_a_name_is_refused_at_its_name_and_one_that_is_taken_at_its_id(caller: Caller) -> None:
    page = sent(caller, status=422, do="keep", **CARD)
    assert said_at(page, "/title") == "‘Name of the product’ is missing: a stored sheet needs it."
    assert said_at(page, "/product") != ""
    assert kept(caller) == "/specs/halyard-card-85-55"
    taken = sent(caller, status=409, do="keep", **NAMED)
    assert "already. Change that one, or choose another id." in said_at(taken, "/id")
    for reserved in ("new", "schema", "flyer-a5"):
        assert "belongs to the service" in said_at(sent(caller, status=409, do="keep", **NAMED | {"/id": reserved}), "/id")


def test_a_change_is_the_next_revision_and_nobody_overwrites_unseen(caller: Caller) -> None:
    address = kept(caller)
    page = text(caller.client.get(f"{address}/edit"))
    assert (value_of(page, "/bleed/minimum"), value_of(page, "/id")) == ("1/8 in", None)
    read = value_of(page, "read")
    form = {**NAMED, "/bleed/minimum": "4 mm", "read": read, "do": "keep"}
    assert caller.client.post(f"{address}/edit", data=form).status_code == 303
    again = sent(caller, f"{address}/edit", 412, **form | {"/bleed/minimum": "9 mm"})
    assert "now has the revision 2, not the one that you read" in again
    assert value_of(again, "/bleed/minimum") == "9 mm", "what was written is not lost"
    assert value_of(again, "read") == read, "and it stays refused until the newer one was read"
    assert caller.get(f"/v1{address}").get_json()["bleed"] == {"minimum": "4 mm"}
    listed = text(caller.client.get(address))
    assert "Revision 2" in listed
    assert f'href="{address}/edit"' in listed
    assert caller.client.get("/specs/flyer-a5/edit").status_code == 409


@pytest.mark.parametrize("headers", [{"Sec-Fetch-Site": "cross-site"}, {"Origin": "https://elsewhere.example"}])
def test_another_site_cannot_write_here(caller: Caller, headers: dict[str, str]) -> None:
    sent(caller, status=422, headers=headers, do="keep", **NAMED)
    assert caller.get("/v1/specs?origin=own").get_json()["total"] == 0
    sent(caller, headers={"Origin": "http://localhost"}, **CARD)


def test_what_somebody_makes_up_breaks_nothing(caller: Caller) -> None:
    for form in (
        {"do": "add:/nothing"}, {"do": "drop:/"}, {"do": "add:"}, {"base": "nobodys"},
        {"reading": '{"quotes": []}'}, {"reading": "[["},
        {"/trim": "3", "/folds/x": "1", "/levels/": "off", "//": "1"}, {"/folds/9999/at": "1", "/folds/99999/at": "2"},
        {"/levels/no.rule": "off", **CARD},
    ):
        sent(caller, **form)
    page = sent(caller, do="look", reading='{"quotes": {"/title": "<script>"}, "questions": [["a"]], "missed": ["<b>"]}')
    assert "<script>" not in page.replace('<script type="module"', "").split("<main")[0]


def test_the_form_speaks_the_readers_language(caller: Caller) -> None:
    page = sent(caller, "/specs/new?lang=de", **{"/bleed/minimum": "1,5 mm", "/bleed/maximum": "1 mm"})
    assert value_of(page, "/bleed/minimum") == "1.5 mm"
    assert said_at(page, "/bleed/minimum").startswith("„Mindestens, an jeder Kante“")
    assert 'action="/specs/new?lang=de"' in page
