"""A small client for scripts: send a PDF, get the result.

service = PrintSpec("http://127.0.0.1:8000")
result = service.check(Path("card.pdf"), spec="business-card-85x55")
for finding in result["findings"]:
    print(finding["message"], finding["remedy"])
"""

from __future__ import annotations

import json
import time
from collections.abc import Mapping
from contextlib import ExitStack
from pathlib import Path
from types import TracebackType
from typing import Any, BinaryIO

import requests

Answer = dict[str, Any]
"""A JSON answer as /openapi.json describes it."""


class ProblemError(Exception):
    """The service answered with a problem (RFC 9457)."""

    def __init__(self, status: int, problem: Mapping[str, Any]) -> None:
        self.status = status
        self.code = str(problem.get("type", "")).removeprefix("/problems/")
        self.detail = str(problem.get("detail", ""))
        self.errors: list[dict[str, str]] = list(problem.get("errors", []))
        super().__init__(f"{status} {problem.get('title', 'no answer of this service')}: {self.detail}")


class PrintSpec:
    """One service. Close it, or use it with `with`."""

    def __init__(self, address: str, *, timeout_seconds: float = 120.0) -> None:
        self._address = address.rstrip("/")
        self._timeout = timeout_seconds
        self._session = requests.Session()

    def __enter__(self) -> PrintSpec:
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None) -> None:
        self.close()

    def close(self) -> None:
        self._session.close()

    def specs(self, **filters: str) -> list[Answer]:
        """The stored sheets, all pages; filters: product, region, purpose, q."""
        found: list[Answer] = []
        page = 1
        while True:
            answer = self._call("GET", "/v1/specs", params={**filters, "page": str(page), "page_size": "100"})
            found += answer["specs"]
            if len(found) >= answer["total"] or not answer["specs"]:
                return found
            page += 1

    def spec(self, spec_id: str, *, revision: int | None = None, units: str = "mm", resolved: bool = True) -> Answer:
        """One sheet; `resolved=False` as it was sent, with `extends` and without what comes from there."""
        asked = {"units": units, "resolved": "true" if resolved else "false"}
        return self._call("GET", f"/v1/specs/{spec_id}", params=asked | ({"revision": str(revision)} if revision else {}))

    def revisions(self, spec_id: str) -> list[Answer]:
        """The newest first; each with its number and digest, as checks name them."""
        found: list[Answer] = self._call("GET", f"/v1/specs/{spec_id}/revisions")["revisions"]
        return found

    def keep_spec(self, sheet: Mapping[str, Any]) -> Answer:
        """Keep a new sheet of one's own; gives it complete. Raises `ProblemError` 409 where the id is taken."""
        return self._call("POST", "/v1/specs", json=dict(sheet))

    def replace_spec(self, spec_id: str, sheet: Mapping[str, Any], *, digest: str) -> Answer:
        """The next revision. `digest` is that of the revision which was read; `ProblemError` 412 where there is a newer one."""
        return self._call("PUT", f"/v1/specs/{spec_id}", json=dict(sheet), headers={"If-Match": f'"{digest}"'})

    def delete_spec(self, spec_id: str, *, digest: str | None = None) -> None:
        """Its revisions stay readable."""
        self._call("DELETE", f"/v1/specs/{spec_id}", headers={"If-Match": f'"{digest}"'} if digest else {})

    def matches(self, file: Path | BinaryIO, **filters: str) -> Answer:
        """The sheets that a PDF fits, the best first, or the nearest; filters: product, region, most."""
        with ExitStack() as stack:
            stream = stack.enter_context(file.open("rb")) if isinstance(file, Path) else file
            name = file.name if isinstance(file, Path) else "file.pdf"
            return self._call("POST", "/v1/specs/matches", data=filters, files={"file": (name, stream, "application/pdf")})

    def reading(self, text: str, media_type: str = "text/plain") -> Answer:
        """A printer's published text as a draft of a sheet. The draft is not kept: look it over, then `keep_spec`."""
        return self._call("POST", "/v1/specs/readings", json={"text": text, "media_type": media_type})

    def check(
        self,
        file: Path | BinaryIO | None = None,
        *,
        check: str | None = None,
        spec: str | None = None,
        spec_sheet: str | Mapping[str, Any] | None = None,
        order: Mapping[str, Any] | None = None,
        idempotency_key: str | None = None,
    ) -> Answer:
        """Send a PDF (or the id of an earlier check) and wait until the check is finished or has failed.

        Raises `ProblemError` where the service refuses, `TimeoutError` past the client's timeout.
        """
        fields: dict[str, str | None] = {
            "check": check,
            "spec": spec,
            "spec_sheet": json.dumps(spec_sheet) if isinstance(spec_sheet, Mapping) else spec_sheet,
            "order": None if order is None else json.dumps(order),
        }
        headers = {"Idempotency-Key": idempotency_key} if idempotency_key else {}
        until = time.monotonic() + self._timeout
        with ExitStack() as stack:
            stream = stack.enter_context(file.open("rb")) if isinstance(file, Path) else file
            name = file.name if isinstance(file, Path) else "file.pdf"
            files = {"file": (name, stream, "application/pdf")} if stream else None
            form = {name: value for name, value in fields.items() if value is not None}
            answer = self._call("POST", "/v1/checks", data=form, files=files, headers=headers)
        while answer["state"] in ("queued", "running"):
            if time.monotonic() > until:
                raise TimeoutError(f"check {answer['id']} is not finished yet")
            time.sleep(0.5)
            answer = self.result(answer["id"])
        return answer

    def upload_token(
        self,
        origin: str,
        *,
        spec: str | None = None,
        spec_sheet: str | Mapping[str, Any] | None = None,
        order: Mapping[str, Any] | None = None,
        maximum_size: int | str | None = None,
        valid_seconds: int | None = None,
    ) -> Answer:
        """For a page of that origin, to upload with from there. Only a shop's own backend asks for it."""
        wished: dict[str, Any] = {"spec": spec, "spec_sheet": spec_sheet, "order": order}
        wished |= {"maximum_size": maximum_size, "valid_seconds": valid_seconds}
        given = {name: value for name, value in wished.items() if value is not None}
        return self._call("POST", "/v1/upload-tokens", json={"origin": origin, **given})

    def result(self, check_id: str) -> Answer:
        return self._call("GET", f"/v1/checks/{check_id}")

    def forget(self, check_id: str) -> None:
        """The check and its file, now."""
        self._call("DELETE", f"/v1/checks/{check_id}")

    def _call(self, method: str, path: str, **arguments: Any) -> Answer:
        answer = self._session.request(method, self._address + path, timeout=self._timeout, **arguments)
        if answer.status_code == 204:
            return {}
        try:
            document = answer.json()
        except requests.exceptions.JSONDecodeError:
            document = {"title": "This is no answer of the service", "detail": answer.text[:200]}
        if not answer.ok or not isinstance(document, dict):
            raise ProblemError(answer.status_code, document if isinstance(document, dict) else {})
        return document
