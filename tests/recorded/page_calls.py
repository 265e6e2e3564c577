"""The pages for people and what they load, the description of it all, the problems, and how each address takes other methods."""

from __future__ import annotations

import re
from typing import Any

from tests.recorded.check_calls import CARD, send
from tests.recorded.files import Made
from tests.recorded.recorder import Recorder

LANGUAGES = ("en", "de", "fr", "es")


def play(here: Recorder, files: list[Made]) -> None:
    pages = here.inside("pages")
    check = send(pages, "check", files[0], spec=CARD)
    found: list[str] = []
    for name, path in {"start": "/", "docs": "/docs", "guide": "/docs/script", "check": f"/checks/{check}"}.items():
        for language in LANGUAGES:
            found.append(pages.get(f"{name}-{language}", f"{path}?lang={language}").text)
            pages.get(f"{name}-header-{language}", path, headers={"Accept-Language": f"{language}-AT,{language};q=0.8"})
    found.append(pages.get("start-chosen", f"/?spec={CARD}", headers={"Accept-Language": "en-US"}).text)
    _static(here.inside("static"), found)
    problems = here.inside("problems")
    for problem in problems.get("list", "/problems").json()["problems"]:
        for language in LANGUAGES:
            problems.get(f"{problem['type']}-{language}", f"{problem['type']}?lang={language}")
    problems.get("nothing", "/problems/nothing")
    problems.get("list-german-html", "/problems?lang=de", headers={"Accept": "text/html"})
    description: dict[str, Any] = pages.get("openapi", "/openapi.json").json()
    pages.get("health", "/healthz")
    pages.get("ready", "/readyz")
    for path in (
        "/v1/nothing",
        "/nothing",
        "/checks/nothing",
        "/static/nothing.js",
        "/static/../pages.py",
        "/v1/checks/%00",
        "/v1/specs/",
        "//",
    ):
        pages.get(f"nothing-{path}", path)
    pages.get("own-request-id", "/healthz", headers={"X-Request-Id": "two words"})
    pages.get("absurd-date", "/static/base.css", headers={"If-Modified-Since": "Mon, 01 Jan 99999999999 00:00:00 GMT"})
    _methods(here.inside("methods"), description, check)


def _static(here: Recorder, pages: list[str]) -> None:
    """Whatever the pages load, and what that loads."""
    waiting, seen = [*pages, '"/static/check-upload.js" "/static/check-upload.mjs" "/static/check-upload.d.ts"'], set()
    while waiting:
        text = waiting.pop(0)
        beside = re.findall(r"(?:from|import)\s*[\"']\./([\w.-]+)", text)
        for path in [*re.findall(r"[\"'(](/(?:static|docs)/[\w./-]+)", text), *(f"/static/{name}" for name in beside)]:
            if path not in seen:
                seen.add(path)
                waiting.append(here.get(path.strip("/"), path).text)


def _methods(here: Recorder, description: dict[str, Any], check: str) -> None:
    values = {"{spec_id}": CARD, "{check_id}": check, "{page}": "1", "{ink}": "Cyan", "{slug}": "not-found"}
    for template in ["/", "/docs", "/checks/{check_id}", "/static/base.css", "/openapi.json", *description["paths"]]:
        path = template
        for name, value in values.items():
            path = path.replace(name, value)
        for method in ("HEAD", "OPTIONS", "PATCH", "PUT" if not template.endswith("{spec_id}") else "POST"):
            here.call(f"{method}-{template}", method, path)
    asks = {"Access-Control-Request-Method": "POST", "Access-Control-Request-Headers": "prefer"}
    for origin in ("https://shop.example", "null", "https://shop.example/"):
        for path in ("/v1/checks", f"/v1/checks/{check}", "/v1/specs"):
            here.call(f"preflight-{origin}-{path.replace(check, 'check')}", "OPTIONS", path, headers={"Origin": origin, **asks})
