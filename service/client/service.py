"""One service and what can be asked of it."""

from __future__ import annotations

import json
import time
import uuid
from collections.abc import Callable, Mapping
from contextlib import ExitStack
from pathlib import Path
from types import TracebackType
from typing import Any, BinaryIO

from service.client.connection import Connection
from service.client.records import Answer, Check, check_of
from service.client.sending import FormWithFile, Sent

Stage = Callable[[str, int | None, int | None], None]
"""Called with the stage of a running check, its page and how many there are."""
_ASK_AGAIN_SECONDS = 0.5
_REPORTS = {".html": "html", ".pdf": "pdf", ".json": "json"}


class PrintSpec:
    """Close it, or use it with `with`. `key`: an API key, where the service asks for one. `language`: of messages, as 'de'.
    `retries`: of calls that may be made again.
    """

    def __init__(
        self,
        address: str,
        *,
        key: str | None = None,
        timeout_seconds: float = 120.0,
        language: str | None = None,
        retries: int = 4,
    ) -> None:
        self._connection = Connection(address, timeout_seconds=timeout_seconds, language=language, retries=retries, key=key)

    def __enter__(self) -> PrintSpec:
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None) -> None:
        self.close()

    def close(self) -> None:
        self._connection.close()

    # --- Checks -------------------------------------------------------------------------------------------------------

    def check(
        self,
        file: Path | BinaryIO | None = None,
        *,
        check: str | None = None,
        spec: str | None = None,
        spec_sheet: str | Mapping[str, Any] | None = None,
        order: Mapping[str, Any] | None = None,
        name: str | None = None,
        idempotency_key: str | None = None,
        readable_by: str | None = None,
        wait: bool = True,
        sent: Sent | None = None,
        stage: Stage | None = None,
    ) -> Check:
        """Send a PDF (or the id of an earlier check), and wait until the check is finished or has failed.

        `name`: what the file is called in the answer. `readable_by` 'link': whoever has its address may read it, without a key.
        An upload that breaks off is sent again under the same Idempotency-Key, so that there is one check. Raises `ProblemError`
        where the service refuses, `TimeoutError` past the client's timeout.
        """
        sheet = json.dumps(spec_sheet) if isinstance(spec_sheet, Mapping) else spec_sheet
        wished = {"check": check, "spec": spec, "spec_sheet": sheet, "order": None if order is None else json.dumps(order)}
        wished["readable_by"] = readable_by
        fields = {key: value for key, value in wished.items() if value is not None}
        headers = {"Idempotency-Key": idempotency_key or str(uuid.uuid4())}
        until = time.monotonic() + self._connection.timeout_seconds
        with ExitStack() as stack:
            if file is None:
                answer = self._connection.json("POST", "/v1/checks", files=_plain(fields), headers=headers)
            else:
                stream = stack.enter_context(file.open("rb")) if isinstance(file, Path) else file
                called = name or (file.name if isinstance(file, Path) else "file.pdf")
                form = FormWithFile(fields, stream, called, sent)
                headers["Content-Type"] = form.content_type
                answer = self._connection.json("POST", "/v1/checks", data=form, headers=headers)
        found = check_of(answer)
        return self._waited(found, until, stage) if wait else found

    def _waited(self, found: Check, until: float, stage: Stage | None) -> Check:
        while not found.is_done:
            if stage:
                progress = found.answer.get("progress") or {}
                stage(progress.get("stage") or found.state, progress.get("page"), progress.get("pages"))
            if time.monotonic() > until:
                raise TimeoutError(f"check {found.id} is not finished yet")
            time.sleep(_ASK_AGAIN_SECONDS)
            found = self.result(found.id)
        return found

    def result(self, check_id: str) -> Check:
        return check_of(self._connection.json("GET", f"/v1/checks/{check_id}"))

    def forget(self, check_id: str) -> None:
        """The check and its file, now."""
        self._connection.json("DELETE", f"/v1/checks/{check_id}")

    # --- What people look at, into files -------------------------------------------------------------------------------

    def report(self, check_id: str, to: Path) -> Path:
        """By the file's ending: .html, .pdf or .json."""
        if to.suffix not in _REPORTS:
            raise ValueError(f"{to.name} says no format: end it in .html, .pdf or .json")
        return self._connection.file(f"/v1/checks/{check_id}/report", to, params={"format": _REPORTS[to.suffix]})

    def picture(self, check_id: str, page: int, to: Path, **wishes: Any) -> Path:
        """A page as it prints, boxes and findings drawn, as PNG; wishes: ppi, show."""
        return self._connection.file(f"/v1/checks/{check_id}/pages/{page}/picture", to, params=wishes)

    def plates(self, check_id: str, page: int) -> list[Answer]:
        """The inks of a page with their coverage."""
        found: list[Answer] = self._connection.json("GET", f"/v1/checks/{check_id}/pages/{page}/plates")["inks"]
        return found

    def plate(self, check_id: str, page: int, ink: str, to: Path, **wishes: Any) -> Path:
        """One ink of a page as a grey PNG, or 'total'; wishes: ppi."""
        return self._connection.file(f"/v1/checks/{check_id}/pages/{page}/plates/{ink}", to, params=wishes)

    def preview(self, check_id: str, to: Path, **wishes: Any) -> Path:
        """A light PDF for the client."""
        return self._connection.file(f"/v1/checks/{check_id}/preview", to, params=wishes)

    def dummy(self, check_id: str, to: Path, **wishes: Any) -> Path:
        """A PDF to print, fold and staple on a desk; wishes: paper, flip, blanks, caliper_mm."""
        return self._connection.file(f"/v1/checks/{check_id}/dummy", to, params=wishes)

    def single_pages(self, check_id: str, to: Path, **wishes: Any) -> Path:
        return self._connection.file(f"/v1/checks/{check_id}/single-pages", to, params=wishes)

    # --- Sheets ---------------------------------------------------------------------------------------------------------

    def specs(self, **filters: str) -> list[Answer]:
        """The stored sheets, all pages; filters: product, region, purpose, q."""
        found: list[Answer] = []
        page = 1
        while True:
            asked = {**filters, "page": str(page), "page_size": "100"}
            answer = self._connection.json("GET", "/v1/specs", params=asked)
            found += answer["specs"]
            if len(found) >= answer["total"] or not answer["specs"]:
                return found
            page += 1

    def spec(self, spec_id: str, *, revision: int | None = None, units: str = "mm", resolved: bool = True) -> Answer:
        """One sheet; `resolved=False` as it was sent, with `extends` and without what comes from there."""
        asked = {"units": units, "resolved": "true" if resolved else "false"}
        asked |= {"revision": str(revision)} if revision else {}
        return self._connection.json("GET", f"/v1/specs/{spec_id}", params=asked)

    def revisions(self, spec_id: str) -> list[Answer]:
        """The newest first; each with its number and digest, as checks name them."""
        found: list[Answer] = self._connection.json("GET", f"/v1/specs/{spec_id}/revisions")["revisions"]
        return found

    def drawing(self, spec_id: str, to: Path, **wishes: Any) -> Path:
        """The product to scale, .svg or .pdf by the file's ending; wishes: units, revision, inner_pages, caliper_mm."""
        return self._connection.file(f"/v1/specs/{spec_id}/drawing", to, params={"format": to.suffix[1:], **wishes})

    def template(self, spec_id: str, to: Path, **wishes: Any) -> Path:
        """An empty document, .pdf or .svg by the file's ending; wishes: pages, page, revision, inner_pages, caliper_mm."""
        return self._connection.file(f"/v1/specs/{spec_id}/template", to, params={"format": to.suffix[1:], **wishes})

    def keep_spec(self, sheet: Mapping[str, Any]) -> Answer:
        """Keep a new sheet of one's own; gives it complete. Raises `ProblemError` 409 where the id is taken."""
        return self._connection.json("POST", "/v1/specs", json=dict(sheet), again=False)

    def replace_spec(self, spec_id: str, sheet: Mapping[str, Any], *, digest: str) -> Answer:
        """The next revision. `digest` is that of the revision which was read; `ProblemError` 412 where there is a newer one."""
        headers = {"If-Match": f'"{digest}"'}
        return self._connection.json("PUT", f"/v1/specs/{spec_id}", json=dict(sheet), headers=headers, again=False)

    def delete_spec(self, spec_id: str, *, digest: str | None = None) -> None:
        """Its revisions stay readable."""
        headers = {"If-Match": f'"{digest}"'} if digest else {}
        self._connection.json("DELETE", f"/v1/specs/{spec_id}", headers=headers, again=False)

    def matches(self, file: Path | BinaryIO, **filters: str) -> Answer:
        """The sheets that a PDF fits, the best first, or the nearest; filters: product, region, most."""
        with ExitStack() as stack:
            stream = stack.enter_context(file.open("rb")) if isinstance(file, Path) else file
            form = FormWithFile(filters, stream, file.name if isinstance(file, Path) else "file.pdf")
            headers = {"Content-Type": form.content_type}
            return self._connection.json("POST", "/v1/specs/matches", data=form, headers=headers)

    def reading(self, text: str, media_type: str = "text/plain") -> Answer:
        """A printer's published text as a draft of a sheet. The draft is not kept: look it over, then `keep_spec`."""
        return self._connection.json("POST", "/v1/specs/readings", json={"text": text, "media_type": media_type})

    def template_reading(self, file: Path | BinaryIO) -> Answer:
        """A printer's empty document, by its boxes and named guides, as a draft of a sheet. Not kept, as that of `reading`."""
        with ExitStack() as stack:
            stream = stack.enter_context(file.open("rb")) if isinstance(file, Path) else file
            form = FormWithFile({}, stream, file.name if isinstance(file, Path) else "file.pdf")
            headers = {"Content-Type": form.content_type}
            return self._connection.json("POST", "/v1/specs/template-readings", data=form, headers=headers)

    def upload_token(
        self,
        origin: str,
        *,
        spec: str | None = None,
        spec_sheet: str | Mapping[str, Any] | None = None,
        order: Mapping[str, Any] | None = None,
        maximum_size: int | str | None = None,
        valid_seconds: int | None = None,
        uses: int | None = None,
    ) -> Answer:
        """For a page of that origin, to upload with from there, so often at most. Only a shop's own backend asks for it."""
        wished: dict[str, Any] = {"spec": spec, "spec_sheet": spec_sheet, "order": order}
        wished |= {"maximum_size": maximum_size, "valid_seconds": valid_seconds, "uses": uses}
        given = {name: value for name, value in wished.items() if value is not None}
        return self._connection.json("POST", "/v1/upload-tokens", json={"origin": origin, **given}, again=False)

    def take_back_upload_token(self, token_id: str) -> None:
        """By the `id` that came with it; what was uploaded with it stays."""
        self._connection.json("DELETE", f"/v1/upload-tokens/{token_id}", again=False)


def _plain(fields: Mapping[str, str]) -> dict[str, tuple[None, str]]:
    """Fields as parts of a form without a file."""
    return {name: (None, value) for name, value in fields.items()}
