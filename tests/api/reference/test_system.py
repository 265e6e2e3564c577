"""The service's own pages and what every answer carries."""

from __future__ import annotations

import logging
import re
from html.parser import HTMLParser

import pytest

from service.jobs.children.confinement.walls import Walls, offered
from tests.api.contract import Caller


class _Page(HTMLParser):
    def __init__(self, text: str) -> None:
        super().__init__()
        self.tags: list[str] = []
        self.loads: list[str] = []
        self.anchors: list[str] = []
        self.ids: list[str] = []
        self.styled: list[str] = []
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        values = {name: value or "" for name, value in attrs}
        self.loads += [values[name] for name in ("src", "action") if name in values]
        if tag == "link":
            self.loads.append(values["href"])
        elif values.get("href", "").startswith("#"):
            self.anchors.append(values["href"][1:])
        self.ids += [values["id"]] if "id" in values else []
        self.styled += [name for name in values if name == "style" or name.startswith("on")]


def test_the_reference_needs_no_network_and_no_script(caller: Caller) -> None:
    answer = caller.get("/docs")
    found = _Page(answer.get_data(as_text=True))
    assert "script" not in found.tags
    assert "style" not in found.tags
    assert found.styled == []
    assert found.loads == ["/docs/style.css"]
    assert caller.get("/docs/style.css").mimetype == "text/css"
    policy = answer.headers["Content-Security-Policy"]
    assert "default-src 'none'" in policy
    assert "unsafe" not in policy


def test_every_link_within_the_reference_leads_somewhere_once(caller: Caller) -> None:
    found = _Page(caller.get("/docs").get_data(as_text=True))
    assert set(found.anchors) <= set(found.ids)
    assert len(found.ids) == len(set(found.ids))
    assert len(found.anchors) > 20


def test_the_reference_shows_every_call(caller: Caller) -> None:
    text = caller.get("/docs").get_data(as_text=True)
    for path, item in caller.description["paths"].items():
        for method in set(item) - {"parameters"}:
            assert f"{method.upper()} {path}" in text


def test_the_first_address_leads_to_the_reference(caller: Caller) -> None:
    """It is a page for people; whoever writes a program finds the way."""
    assert '<a href="/docs">' in caller.get("/").get_data(as_text=True)


def test_every_rule_has_its_reference(caller: Caller) -> None:
    rules = caller.get("/v1/rules").get_json()["rules"]
    assert {"trim.size", "bleed.declared", "file.readable"} <= {one["id"] for one in rules}
    assert len({one["id"] for one in rules}) == len(rules)


@pytest.mark.parametrize("path", ["/v1/specs", "/nothing", "/docs", "/healthz"])
def test_every_answer_is_guarded(caller: Caller, path: str) -> None:
    headers = caller.get(path).headers
    assert headers["X-Content-Type-Options"] == "nosniff"
    assert "frame-ancestors 'none'" in headers["Content-Security-Policy"]
    assert headers["Referrer-Policy"] == "no-referrer"


def test_a_request_has_an_id_in_the_answer_and_in_the_log(caller: Caller, caplog: pytest.LogCaptureFixture) -> None:
    caplog.set_level(logging.INFO, "service.access")
    answer = caller.get("/healthz", headers={"X-Request-Id": "order-7.1"})
    assert answer.headers["X-Request-Id"] == "order-7.1"
    assert "order-7.1 'GET' /healthz 200" in caplog.text


@pytest.mark.parametrize("sent", ["a b", "x" * 65, "<script>"])
def test_an_id_that_could_do_harm_in_a_log_is_replaced(caller: Caller, sent: str) -> None:
    assert re.fullmatch(r"[0-9a-f]{16}", caller.get("/healthz", headers={"X-Request-Id": sent}).headers["X-Request-Id"])


def test_an_address_leaves_no_line_of_its_own_in_the_log(caller: Caller, caplog: pytest.LogCaptureFixture) -> None:
    caplog.set_level(logging.INFO, "service.access")
    caller.get("/v1/checks/x%0aforged?secret=1")
    assert "secret" not in caplog.text
    assert "forged" not in caplog.text


def test_whoever_asks_whether_it_is_ready_hears_what_the_sandbox_lacks(caller: Caller, monkeypatch: pytest.MonkeyPatch) -> None:
    here = caller.get("/readyz").get_json()
    assert (here["status"], here["sandbox_lacks"]) == ("ok", list(offered().lacks))
    monkeypatch.setattr("service.api.reference.system.offered", lambda: Walls(landlock_abi=0, seccomp=False))
    assert caller.get("/readyz").get_json()["sandbox_lacks"] == ["landlock", "seccomp"]
