"""Calls to one service: problems become exceptions, and what may be asked again is, as long as the caller waits."""

from __future__ import annotations

import time
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import requests
from requests.auth import AuthBase

from service.client.records import Answer

TRY_AGAIN = frozenset({429, 502, 503, 504})
"""Busy, or not reached: the same call may go through later. A full disk (507) is for a person."""
_FIRST_PAUSE_SECONDS, _LONGEST_PAUSE_SECONDS = 0.5, 30.0
_PIECE_BYTES = 1 << 16
_UNKNOWN = {"title": "This is no answer of the service"}


class ProblemError(Exception):
    """The service answered with a problem (RFC 9457)."""

    def __init__(self, status: int, problem: Mapping[str, Any]) -> None:
        self.status = status
        self.code = str(problem.get("type", "")).removeprefix("/problems/")
        """Such as 'unknown-spec'; /problems lists them all."""
        self.detail = str(problem.get("detail", ""))
        self.errors: list[dict[str, str]] = list(problem.get("errors", []))
        """Each with a `pointer` to the field and a `detail`."""
        self.problem = dict(problem)
        super().__init__(f"{status} {problem.get('title', 'no answer of this service')}: {self.detail}")


class _Bearer(AuthBase):
    """As an authentication and not as a header, which the library would put aside for a login in the user's `.netrc`."""

    def __init__(self, key: str) -> None:
        self._key = key

    def __call__(self, request: requests.PreparedRequest) -> requests.PreparedRequest:
        request.headers["Authorization"] = f"Bearer {self._key}"
        return request


class Connection:
    def __init__(self, address: str, *, timeout_seconds: float, language: str | None, retries: int, key: str | None) -> None:
        self.timeout_seconds = timeout_seconds
        self._address, self._retries = address.rstrip("/"), retries
        self._session = requests.Session()
        if language:
            self._session.headers["Accept-Language"] = language
        if key:
            self._session.auth = _Bearer(key)

    def close(self) -> None:
        self._session.close()

    def json(self, method: str, path: str, **arguments: Any) -> Answer:
        """Raises `ProblemError`, or what `requests` raises where nobody answers."""
        answer = self._call(method, path, **arguments)
        return {} if answer.status_code == 204 else _document(answer)

    def file(self, path: str, to: Path, **arguments: Any) -> Path:
        """What stands at the address, into a file; nothing is left where it does not come whole."""
        with self._call("GET", path, stream=True, **arguments) as answer, to.open("wb") as out:
            try:
                for piece in answer.iter_content(_PIECE_BYTES):
                    out.write(piece)
            except BaseException:
                out.close()
                to.unlink(missing_ok=True)
                raise
        return to

    def _call(self, method: str, path: str, *, again: bool = True, **arguments: Any) -> requests.Response:
        """`again`: whether the call may be made twice. Always true of GET; of an upload with an Idempotency-Key."""
        until, pause = time.monotonic() + self.timeout_seconds, _FIRST_PAUSE_SECONDS
        for left in range(self._retries if again else 0, -1, -1):
            try:
                answer = self._session.request(method, self._address + path, timeout=self.timeout_seconds, **arguments)
            except (requests.ConnectionError, requests.Timeout):
                if not left or time.monotonic() + pause > until:
                    raise
            else:
                if answer.ok:
                    return answer
                asked = _seconds(answer.headers.get("Retry-After"))
                pause = max(pause, asked or 0.0)
                if answer.status_code not in TRY_AGAIN or not left or time.monotonic() + pause > until:
                    raise ProblemError(answer.status_code, _document(answer, strict=False))
                answer.close()
            time.sleep(pause)
            pause = min(2 * pause, _LONGEST_PAUSE_SECONDS)
        raise AssertionError("the last try returns or raises")


def _document(answer: requests.Response, *, strict: bool = True) -> Answer:
    try:
        document = answer.json()
    except requests.exceptions.JSONDecodeError:
        document = None
    if isinstance(document, dict):
        return document
    unknown = {**_UNKNOWN, "detail": answer.text[:200]}
    if strict:
        raise ProblemError(answer.status_code, unknown)
    return unknown


def _seconds(header: str | None) -> float | None:
    return float(header) if header and header.isascii() and header.isdecimal() else None
