"""The pages under /docs: what they show, what they load, where they lead. `tests/browser/test_reference.py` uses the viewer."""

from __future__ import annotations

import gzip
import hashlib
import re
from html import unescape
from pathlib import Path

from service.rules.reference import reference
from service.settings import table
from service.web.docs.guides import GUIDES, REFERENCES
from service.web.pages import POLICY
from tests.api.contract import Caller

VIEWER = Path(__file__).parents[3] / "service" / "web" / "docs" / "viewer"
DIGESTS = {
    "swagger-ui-bundle.js": "e6a898692f2d768e807c3ba4626068a69a2c5dd960dd6c76f3e4d3a3de180af2",
    "swagger-ui.css": "5ed08757e53da3e026d6cbecc61fe5d43585c9560b302d534ad56692519a273d",
    "LICENSE": "cfc7749b96f63bd31c3c42b5c471bf756814053e847c10f3eb003417bc523d30",
}
"""SHA-256 of the files of swagger-ui-dist 5.35.0."""


def test_the_viewer_is_the_published_one_with_its_licences() -> None:
    assert {name: hashlib.sha256((VIEWER / name).read_bytes()).hexdigest() for name in DIGESTS} == DIGESTS
    assert "Apache License" in (VIEWER / "LICENSE").read_text()
    assert (VIEWER / "NOTICE").is_file()
    assert "MIT" in (VIEWER / "swagger-ui-bundle.js.LICENSE.txt").read_text()


def test_the_viewer_comes_packed_to_whoever_takes_it_so(caller: Caller) -> None:
    path = "/docs/viewer/swagger-ui-bundle.js"
    plain, packed = caller.get(path), caller.get(path, headers={"Accept-Encoding": "gzip, br"})
    assert packed.headers["Content-Encoding"] == "gzip"
    assert gzip.decompress(packed.get_data()) == plain.get_data()
    assert len(packed.get_data()) < 500_000
    assert caller.client.get(path, headers={"If-None-Match": plain.headers["ETag"]}).status_code == 304


def test_the_reference_allows_nothing_inline_and_nothing_from_elsewhere(caller: Caller) -> None:
    answer = caller.get("/docs")
    assert answer.headers["Content-Security-Policy"] == POLICY
    assert "unsafe" not in POLICY
    loaded = re.findall(r'(?:src|href)="([^"]+)"', answer.get_data(as_text=True))
    assert [one for one in loaded if not one.startswith(("/", "#"))] == []


def test_without_a_script_the_reference_names_every_call(caller: Caller) -> None:
    text = caller.get("/docs").get_data(as_text=True)
    for path, item in caller.description["paths"].items():
        for method in item:
            assert f"{method.upper()} {path}" in text


def test_links_of_the_pages_lead_somewhere(caller: Caller) -> None:
    links: set[str] = set()
    for path in ("/docs", *(f"/docs/{one.name}" for one in (*GUIDES, *REFERENCES))):
        answer = caller.get(path)
        assert answer.status_code == 200, path
        links |= set(re.findall(r'href="(/[^"#]*)', unescape(answer.get_data(as_text=True))))
    assert {one for one in links if caller.client.get(one, buffered=True).status_code != 200} == set()


def test_a_guide_speaks_of_the_address_that_was_called(caller: Caller) -> None:
    text = caller.get("/docs/script", headers={"Host": "print.shop.example"}).get_data(as_text=True)
    assert "http://print.shop.example/v1/checks" in text
    assert "127.0.0.1:8000" not in text


def test_what_is_no_host_is_not_said_again(caller: Caller) -> None:
    for path in ("/docs/script", "/openapi.json"):
        text = caller.client.get(path, headers={"Host": 'x"><b>'}).get_data(as_text=True)
        assert "<b>" not in text


def test_rules_and_settings_stand_there_whole(caller: Caller) -> None:
    rules = caller.get("/docs/rules").get_data(as_text=True)
    assert [one["id"] for one in reference() if f'id="{one["id"]}"' not in rules] == []
    settings = unescape(caller.get("/docs/settings").get_data(as_text=True))
    assert [name for name, _, sentence in table() if name not in settings or sentence not in settings] == []


def test_a_page_that_there_is_not(caller: Caller) -> None:
    answer = caller.get("/docs/nothing")
    assert (answer.status_code, answer.get_json()["type"]) == (404, "/problems/not-found")


def test_the_description_names_the_address_that_was_called(caller: Caller) -> None:
    answer = caller.client.get("/openapi.json", headers={"Host": "print.shop.example:8443"})
    assert answer.get_json()["servers"][0]["url"] == "http://print.shop.example:8443"
    assert "127.0.0.1:8000" not in answer.get_data(as_text=True)
