"""A service that asks for keys, and two shops that share it."""

from __future__ import annotations

import io
import json
import threading
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from sqlalchemy import event
from sqlalchemy.engine import Engine
from werkzeug.test import TestResponse

from service import create_app
from service.accounts.callers import SCOPES
from service.accounts.keys import NewKey, new_key
from service.settings import read_settings
from service.wiring import Parts, make_parts
from tests.api.contract import Caller
from tests.databases import database_url
from tests.patience import PATIENCE_SECONDS

SHEET = {"extends": "business-card-85x55", "title": "A card of the bakery alone", "bleed": {"minimum": "5 mm"}}


@dataclass(frozen=True)
class Service:
    caller: Caller
    parts: Parts

    def key(self, owner: str, *scopes: str) -> Shop:
        """With all scopes, unless some are named."""
        made = new_key()
        now = datetime.now(UTC)
        self.parts.accounts.make_key(owner, made.digest, made.prefix, scopes or SCOPES, "", "a test", now)
        return Shop(self.caller, made)

    @property
    def anybody(self) -> Shop:
        return Shop(self.caller, None)


@dataclass(frozen=True)
class Shop:
    """Whoever calls with this key, or without one."""

    caller: Caller
    made: NewKey | None

    @property
    def _own(self) -> dict[str, str]:
        return {"Authorization": f"Bearer {self.made.key}"} if self.made else {}

    def call(self, method: str, path: str, headers: dict[str, str] | None = None, **options: Any) -> TestResponse:
        return self.caller.call(method.upper(), path, headers={**self._own, **(headers or {})}, **options)

    def text(self, path: str) -> str:
        """Of a page or an answer, whatever it is."""
        return str(self.caller.client.get(path, headers=self._own).get_data(as_text=True))

    def get(self, path: str, **options: Any) -> TestResponse:
        return self.call("GET", path, **options)

    def check(self, pdf: bytes, headers: dict[str, str] | None = None, **fields: str) -> TestResponse:
        form: dict[str, Any] = {"file": (io.BytesIO(pdf), "card.pdf"), **({} if "token" in fields else {"spec": CARD}), **fields}
        return self.call("POST", "/v1/checks", headers, data=form, content_type="multipart/form-data")

    def keep(self, spec_id: str) -> TestResponse:
        return self.call("POST", "/v1/specs", json={"id": spec_id, **SHEET})

    def token(self, **form: Any) -> dict[str, Any]:
        answer = self.call("POST", "/v1/upload-tokens", json={"spec": CARD, "origin": "https://shop.example", **form})
        assert answer.status_code == 201, answer.get_json()
        found: dict[str, Any] = answer.get_json()
        return found


CARD = "business-card-85x55"


@contextmanager
def keyed_service(data: Path, **wishes: Any) -> Iterator[Service]:
    said = {"DATA": str(data), "ACCESS": "keys", "DATABASE_URL": database_url(data)}
    base = read_settings({f"PRINT_SPEC_{name}": value for name, value in said.items()})
    parts = make_parts(replace(base, **{"stop_seconds": 0.0, "wait_seconds": float(PATIENCE_SECONDS), **wishes}))
    try:
        yield Service(Caller(create_app(parts=parts)), parts)
    finally:
        parts.close()


@contextmanager
def statements() -> Iterator[list[str]]:
    """What is asked of the database meanwhile, by whoever answers the request; workers look for checks besides."""
    _SEEN[threading.get_ident()] = seen = []
    try:
        yield seen
    finally:
        del _SEEN[threading.get_ident()]


_SEEN: dict[int, list[str]] = {}
"""By the thread that asks."""


@event.listens_for(Engine, "before_cursor_execute")  # once: other threads' statements run while one is added or taken away
def _note(_: Any, __: Any, statement: str, *___: Any) -> None:
    if (seen := _SEEN.get(threading.get_ident())) is not None:
        seen.append(statement)


def told(answer: TestResponse, ids: Sequence[str]) -> tuple[int, dict[str, str], str]:
    """What a caller can tell an answer by, whatever id he asked for."""
    text = answer.get_data(as_text=True)
    for one in ids:
        text = text.replace(one, "…")
    varying = ("X-Request-Id", "Server-Timing", "RateLimit", "Content-Length", "Date")
    return answer.status_code, {name: value for name, value in answer.headers.items() if name not in varying}, text


def code(answer: TestResponse) -> str:
    return str(json.loads(answer.get_data())["type"]).removeprefix("/problems/")
