"""The pages as they are sent: their policy, what keeps them, what stands in them without script. `tests/browser` uses them."""

from __future__ import annotations

import io
import json
import re
from html import unescape
from pathlib import Path
from urllib.parse import parse_qsl

import pytest

from service.language.spoken import LANGUAGES
from service.proofs.plates.ink_scale import ramp
from service.web.pages import POLICY
from tests.api.contract import Caller

STATIC = Path(__file__).parents[2] / "service" / "web" / "static"
TEMPLATES = STATIC.parent / "templates"
OURS = sorted(one for one in (*STATIC.iterdir(), *TEMPLATES.rglob("*.html")) if not one.name.startswith("check-upload."))
MOST_LINES = 400


def result_page(caller: Caller, pdf: bytes, **fields: str) -> str:
    return f"/checks/{caller.check(pdf, **fields).get_json()['id']}"


def test_nothing_inline_is_allowed_and_nothing_from_elsewhere(caller: Caller) -> None:
    answer = caller.get("/")
    assert answer.headers["Content-Security-Policy"] == POLICY
    assert "unsafe" not in POLICY
    assert "http" not in POLICY
    assert "default-src 'none'" in POLICY


@pytest.mark.parametrize("path", [one for one in OURS if one.suffix == ".html"], ids=lambda one: one.name)
def test_a_template_has_no_style_and_no_script_of_its_own(path: Path) -> None:
    """The policy would stop them anyway; here it is said where."""
    text = path.read_text(encoding="utf-8")
    assert re.findall(r"\s(?:on[a-z]+|style)=", text) == []
    assert re.findall(r"<script(?![^>]*(?:src=|application/json))|<style", text) == []
    assert re.findall(r"(?:src|href)=\"(?:https?:)?//", text) == []


@pytest.mark.parametrize("path", OURS, ids=lambda one: one.name)
def test_a_file_of_the_pages_is_short(path: Path) -> None:
    assert len(path.read_text(encoding="utf-8").splitlines()) <= MOST_LINES


def test_the_first_page_offers_every_sheet_in_a_plain_form(caller: Caller) -> None:
    text = caller.get("/?spec=letterhead-a4").get_data(as_text=True)
    total = caller.get("/v1/specs").get_json()["total"]
    assert len(re.findall(r"<option value=\"[a-z0-9-]+\"", text)) == total
    assert re.findall(r"<option value=\"([a-z0-9-]+)\"[^>]* selected>", text) == ["letterhead-a4"]
    assert 'action="/v1/checks" method="post" enctype="multipart/form-data"' in text
    assert '<input type="hidden" name="answer" value="report">' in text


def test_a_sheet_of_ones_own_is_offered_too(caller: Caller) -> None:
    sheet = {"id": "halyard-card", "extends": "business-card-85x55", "title": "Halyard <card>"}
    assert caller.post("/v1/specs", json=sheet).status_code == 201
    assert "Halyard &lt;card&gt;</option>" in caller.get("/").get_data(as_text=True)


def test_a_result_is_kept_nowhere_and_listed_nowhere(caller: Caller, card: bytes) -> None:
    answer = caller.get(result_page(caller, card))
    assert answer.headers["Cache-Control"] == "no-store"
    assert answer.headers["X-Robots-Tag"] == "noindex, nofollow"
    assert answer.headers["Referrer-Policy"] == "no-referrer"
    assert '<meta name="robots" content="noindex, nofollow">' in answer.get_data(as_text=True)


def test_a_result_stands_in_the_page_without_script(caller: Caller, card_without_bleed: bytes) -> None:
    check = caller.check(card_without_bleed).get_json()
    text = caller.get(f"/checks/{check['id']}").get_data(as_text=True)
    (finding,) = check["findings"]
    assert check["summary"]["headline"] in text
    assert finding["message"] in text
    assert f'src="/v1/checks/{check["id"]}/pages/1/picture?ppi=110"' in text


def test_a_page_knows_where_things_stand_in_mm(caller: Caller, card_without_bleed: bytes) -> None:
    text = caller.get(result_page(caller, card_without_bleed)).get_data(as_text=True)
    drawn = json.loads(re.findall(r'id="drawn">(.*?)</script>', text, re.DOTALL)[0])
    (page,) = drawn["pages"]
    assert page["area"] == [-5, -5, 90, 60]
    boxes = {one["style"]: one["box"] for one in page["lines"]}
    assert (boxes["trim"], boxes["bleed"]) == ([0, 0, 85, 55], [-3, -3, 88, 58])
    assert drawn["findings"][0]["number"] == 1
    assert [1, -3, -3, 88, 0] in drawn["findings"][0]["places"]


def test_what_a_file_is_called_is_text(caller: Caller, card: bytes) -> None:
    form = {"file": (io.BytesIO(card), "</script><b>.pdf"), "spec": "business-card-85x55"}
    check = caller.post("/v1/checks", data=form, content_type="multipart/form-data").get_json()
    text = caller.get(f"/checks/{check['id']}").get_data(as_text=True)
    assert "<b>.pdf" not in text
    assert "&lt;b&gt;.pdf" in text


def test_a_check_that_is_not_there_is_said_on_a_page(caller: Caller) -> None:
    answer = caller.client.get("/checks/nothing")
    assert answer.status_code == 404
    assert answer.mimetype == "text/html"
    assert "There is no such check" in answer.get_data(as_text=True)
    german = caller.client.get("/checks/nothing?lang=de").get_data(as_text=True)
    assert '<html lang="de">' in german
    assert "There is no such check" not in german


def test_the_language_is_asked_for_and_kept_in_links(caller: Caller, card: bytes) -> None:
    german = caller.get("/", headers={"Accept-Language": "de-AT"})
    assert german.headers["Content-Language"] == "de"
    assert '<html lang="de">' in german.get_data(as_text=True)
    text = caller.get(f"{result_page(caller, card)}?lang=fr").get_data(as_text=True)
    assert '<html lang="fr">' in text
    assert 'href="/?lang=fr"' in text
    assert re.search(r'href="/v1/checks/[\w-]+/report\?lang=fr"', text)


@pytest.mark.parametrize("page", ["/", "/checks/nothing"])
@pytest.mark.parametrize(
    "said", ["_scheme=javascript&_external=1", "_method=x", "endpoint=y", "_anchor=z", "check_id=another", "x=%22%3E%3Cb%3E"]
)
def test_nothing_that_an_address_says_leads_its_language_links_elsewhere(caller: Caller, page: str, said: str) -> None:
    """Names that the library would obey are names like any other."""
    answer = caller.client.get(f"{page}?{said}")
    assert answer.status_code == (200 if page == "/" else 404)
    links = re.findall(r'<a href="([^"]+)" lang="[a-z]{2}"', answer.get_data(as_text=True))
    assert len(links) == len(LANGUAGES)
    for link in map(unescape, links):
        assert link.startswith(f"{page}?")
        assert parse_qsl(link.partition("?")[2])[:-1] == parse_qsl(said)


def test_a_script_is_asked_for_anew_and_not_sent_twice(caller: Caller) -> None:
    with caller.client.get("/static/start.js") as first:
        assert first.mimetype == "text/javascript"
        assert "no-cache" in first.headers["Cache-Control"]
        tag = first.headers["ETag"]
    with caller.client.get("/static/start.js", headers={"If-None-Match": tag}) as again:
        assert again.status_code == 304
    assert caller.client.get("/static/../pages.py").status_code == 404


def test_the_scale_has_the_colours_of_the_map() -> None:
    text = (STATIC / "total_scale.js").read_text(encoding="utf-8")
    stops = [(int(percent), color) for percent, color in re.findall(r"\[(\d+), \"(#[0-9a-f]{6})\"\]", text)]
    assert [percent for percent, _ in stops] == list(range(0, 401, 50))
    assert [color for _, color in stops] == ["#{:02x}{:02x}{:02x}".format(*ramp()[percent]) for percent, _ in stops]


@pytest.mark.parametrize("module", sorted(STATIC.glob("*.js")), ids=lambda one: one.name)
def test_every_module_that_a_script_imports_is_there(module: Path) -> None:
    for name in re.findall(r"from \"\./([\w.]+)\"", module.read_text(encoding="utf-8")):
        assert (STATIC / name).is_file()
