"""A file sent to a running service, other bytes each time: the same again would be answered from what is stored."""

from __future__ import annotations

import itertools
import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import requests

SECONDS = 900
_NUMBERS = itertools.count()


def as_new(pdf: bytes) -> bytes:
    """With a comment of its own at the end, which changes nothing else."""
    return pdf + b"\n%% %d %d" % (os.getpid(), next(_NUMBERS))


@contextmanager
def file_as_new(pdf: Path) -> Iterator[None]:
    """The same of a file that is too large to hold; it is as before afterwards."""
    size = pdf.stat().st_size
    with pdf.open("ab") as file:
        file.write(as_new(b""))
    try:
        yield
    finally:
        os.truncate(pdf, size)


def new_session() -> requests.Session:
    session = requests.Session()
    session.trust_env = False
    return session


def checked(session: requests.Session, address: str, pdf: Any, sheet: str) -> dict[str, Any]:
    """The finished check; `pdf` as `requests` takes it."""
    answer = session.post(f"{address}/v1/checks", files={"file": pdf}, data={"spec": sheet}, timeout=SECONDS)
    while answer.status_code in (200, 202) and answer.json().get("state") in ("queued", "running"):
        check = answer.json()["id"]
        answer = session.get(f"{address}/v1/checks/{check}", headers={"Prefer": "wait=30"}, timeout=SECONDS)
    if answer.status_code not in (200, 201) or answer.json()["state"] != "finished":
        raise SystemExit(f"{answer.status_code} {answer.text[:500]}")
    told: dict[str, Any] = answer.json()
    return told
