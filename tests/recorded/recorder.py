"""Plays a call and writes its answer to a file: `specs/list-page-2.txt`, and beside it what is no text."""

from __future__ import annotations

import re
import threading
from hashlib import sha256
from pathlib import Path
from typing import Any

import requests

from tests.recorded.volatile import Volatile, file_ids_left_out

SUFFIXES = {"application/pdf": ".pdf", "image/png": ".png"}
MOST_BYTES = 1_000_000
"""Of a larger answer that is no text only a digest is kept."""
_TEXT = re.compile(r"text/|image/svg|application/([a-z.+-]*json|yaml|javascript)")


class Recorder:
    """The files of one room: `inside` makes the next room of the same recording."""

    def __init__(self, folder: Path, address: str = "", room: str = "", like: Recorder | None = None) -> None:
        self.folder, self.address, self.room = folder, address, room
        self.volatile: Volatile = like.volatile if like else Volatile()
        self.played: set[tuple[str, str]] = like.played if like else set()
        """Method and path of every call."""
        self.problems: set[str] = like.problems if like else set()
        self._here: threading.local = like._here if like else threading.local()

    def inside(self, room: str, address: str | None = None) -> Recorder:
        return Recorder(self.folder, self.address if address is None else address, room, self)

    def call(self, name: str, method: str, path: str, headers: dict[str, str] | None = None, **body: Any) -> requests.Response:
        """`body`: data=, json=, files= as in requests."""
        sent = {"X-Request-Id": "recorded", "Accept-Encoding": "identity", **(headers or {})}
        answer = self.session.request(
            method, self.address + path, headers=sent, timeout=300, allow_redirects=False, **body
        )
        self.played.add((method, path.split("?")[0]))
        self._learn(name, answer)
        kind = answer.headers.get("Content-Type", "")
        if kind.startswith("application/problem+json") and answer.content:
            self.problems.add(answer.json()["type"])
        told = [f"{method} {path}", *(f"{key}: {value}" for key, value in (headers or {}).items())]
        told += ["", f"{answer.status_code} {answer.reason}"]
        told += [f"{key}: {self.volatile.header(path, key, value)}" for key, value in answer.headers.items()]
        if _TEXT.match(kind):
            told += ["", answer.content.decode("utf-8")]
        elif answer.content:
            self.write_bytes(name + SUFFIXES.get(kind.split(";")[0], ".bin"), answer.content)
        self.write(name, "\n".join(told))
        return answer

    def get(self, name: str, path: str, **options: Any) -> requests.Response:
        return self.call(name, "GET", path, **options)

    def post(self, name: str, path: str, **options: Any) -> requests.Response:
        return self.call(name, "POST", path, **options)

    def write(self, name: str, text: str) -> None:
        self.write_bytes(name + ".txt", self.volatile.text(text, self.address).encode("utf-8", "surrogateescape"))

    def write_bytes(self, name: str, data: bytes) -> None:
        path = self.folder / self.room / re.sub(r"[^A-Za-z0-9._-]+", "-", name)
        path.parent.mkdir(parents=True, exist_ok=True)
        if path.exists():
            raise ValueError(f"two calls are named {self.room}/{name}")
        data = file_ids_left_out(data)
        path.write_bytes(data if len(data) <= MOST_BYTES else f"{len(data)} bytes, sha256 {sha256(data).hexdigest()}\n".encode())

    @property
    def session(self) -> requests.Session:
        """One a thread."""
        if not hasattr(self._here, "session"):
            self._here.session = requests.Session()
            self._here.session.trust_env = False  # a proxy for the internet must not get requests for this machine
        session: requests.Session = self._here.session
        return session

    def _learn(self, name: str, answer: requests.Response) -> None:
        if found := re.match(r"/v1/(?:checks|uploads)/([\w-]{20,})", answer.headers.get("Location", "")):
            self.volatile.learn(found[1], f"check {self.room}/{name}")
        if answer.url.endswith("/v1/upload-tokens") and answer.status_code == 201:
            self.volatile.learn(answer.json()["id"], f"token {self.room}/{name}")
            for part in answer.json()["token"].split("."):
                self.volatile.learn(part, f"in the token {self.room}/{name}")
        if answer.url.split("?")[0].endswith("/report"):  # its tag holds the check's id
            self.volatile.learn(answer.headers.get("ETag", "").strip('W/"'), f"tag {self.room}/{name}")
