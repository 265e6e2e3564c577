"""Makes a call and keeps request and answer as `service/api/description/exchanges.py` reads them."""

from __future__ import annotations

import base64
import hashlib
import json
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import requests

from service.api.description.exchanges import ADDRESS

_SHOWN_HEADERS = ("Location", "Link", "Retry-After", "Preference-Applied", "Allow", "ETag", "Upload-Offset")
_MOST_IN_A_LIST = 3
_MOST_IN_A_SCHEMA = 2
_MOST_CHARACTERS = 1000


class Recorder:
    def __init__(self, address: str, files: Path) -> None:
        self.address, self.files = address, files
        self.exchanges: dict[str, list[dict[str, Any]]] = {}
        self.problems: dict[str, dict[str, Any]] = {}
        self._made_up: dict[str, str] = {}
        self._session = requests.Session()
        self._session.trust_env = False

    def at(self, address: str) -> Recorder:
        """Another service of the same recording."""
        other = Recorder(address, self.files)
        other.exchanges, other.problems, other._made_up = self.exchanges, self.problems, self._made_up
        return other

    def call(
        self,
        operation: str | None,
        says: str,
        call: str,
        *,
        headers: Mapping[str, str] | None = None,
        form: Mapping[str, str] | None = None,
        file: str | None = None,
        body: Any = None,
        type: str | None = None,
        new: str | None = None,
    ) -> requests.Response:
        """`call`: "GET /v1/specs". `operation` None: what is not shown, or only for the problem that it ends in.

        `new`: names what the call makes.
        """
        method, path = call.split(" ", 1)
        sent = dict(headers or {})
        options: dict[str, Any] = {}
        if file is not None:
            named = {"file": (file, (self.files / file).read_bytes(), "application/pdf")}
            options |= {"files": named, "data": dict(form or {})}
        elif form is not None:
            options["files"] = {name: (None, value) for name, value in form.items()}
        elif body is not None:
            options["data"] = (body if isinstance(body, str) else json.dumps(body)).encode()
            sent["Content-Type"] = type or "application/json"
        answer = self._session.request(
            method, self.address + path, headers=sent, timeout=120, allow_redirects=False, **options
        )
        if new:
            self.name(answer.json()["id"], new)
        if path == "/v1/upload-tokens" and answer.status_code == 201:  # new each time
            self.name(answer.json()["token"], "token")
            self.name(answer.json()["id"], "id of the token")
        request = {
            "method": method,
            "path": _cut(path),
            "headers": {name: _shown(name, value) for name, value in (headers or {}).items()},
            "form": dict(form or {}),
            "files": {"file": file} if file else {},
            "body": body,
            "type": sent.get("Content-Type"),
        }
        kept = self._plain({"says": says, "request": _filled(request), "answer": self._answer(answer)})
        if operation:
            assert answer.ok, (call, answer.text)
            self.exchanges.setdefault(operation, []).append(kept)
        elif answer.status_code >= 400:
            self.problems.setdefault(answer.json()["type"].rsplit("/", 1)[-1], kept)
        return answer

    def name(self, value: str, name: str) -> str:
        """An id that is new each time gets one that is the same each time."""
        digest = base64.urlsafe_b64encode(hashlib.sha256(name.encode()).digest()).decode()
        self._made_up[value] = digest[:24].replace("-", "x").replace("_", "y")
        return value

    def made_up(self, value: str) -> str:
        return self._made_up[value]

    def _answer(self, answer: requests.Response) -> dict[str, Any]:
        kind = answer.headers.get("Content-Type", "").split(";")[0] if answer.content else None
        told: dict[str, Any] = {"status": answer.status_code, "type": kind}
        shown = {name: answer.headers[name] for name in _SHOWN_HEADERS if name in answer.headers}
        if "/v1/specs" not in answer.url:  # a check's hold its id
            shown.pop("ETag", None)
        told["headers"] = shown
        if kind and kind.endswith("json"):
            whole = answer.json()
            told["body"] = shortened(whole)
            told["shortened"] = told["body"] != whole
        elif kind in ("application/yaml", "text/event-stream"):
            told["body"] = answer.text
        return _filled(told)

    def _plain(self, kept: dict[str, Any]) -> dict[str, Any]:
        text = json.dumps(kept, ensure_ascii=False)
        for value, made_up in self._made_up.items():
            text = text.replace(value, made_up)
        found: dict[str, Any] = json.loads(text.replace(self.address, ADDRESS))
        return found


def _shown(header: str, value: str) -> str:
    """A key is new each time, and nobody's to read."""
    return "Bearer psk_…" if header == "Authorization" else _cut(value)


def _cut(text: str) -> str:
    return text if len(text) <= _MOST_CHARACTERS else f"{text[:40]}… ({len(text)} characters)"


def _filled(values: dict[str, Any]) -> dict[str, Any]:
    return {name: value for name, value in values.items() if value not in (None, {}, False)}


def shortened(value: Any, key: str = "") -> Any:
    """Long lists of records and texts are cut, and so is what a JSON Schema lists; numbers stay, four of them are a place."""
    if isinstance(value, dict):
        most = _MOST_IN_A_SCHEMA if key in ("properties", "$defs") else len(value)
        return {name: shortened(one, name) for name, one in list(value.items())[:most]}
    if isinstance(value, list):
        is_long = len(value) > _MOST_IN_A_LIST and not all(isinstance(one, int | float) for one in value)
        return [shortened(one) for one in (value[:_MOST_IN_A_LIST] if is_long else value)]
    return value
