"""A full disk, a locked or lost database: said as what it is, and nothing stays behind."""

from __future__ import annotations

import errno
import io
import shutil
import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

import pytest

from service.store.files.blobs import Blobs, NoRoom
from service.wiring import Parts
from tests.api.conftest import Start
from tests.api.contract import Caller
from tests.databases import of_sqlite

FULL = 2**62


def parts_of(caller: Caller) -> Parts:
    parts = caller.client.application.extensions["print-spec"]
    assert isinstance(parts, Parts)
    return parts


def files(caller: Caller) -> list[str]:
    return [path.name for path in (parts_of(caller).settings.data / "files").iterdir()]


@contextmanager
def locked(caller: Caller) -> Iterator[None]:
    with closing(sqlite3.connect(parts_of(caller).settings.data / "checks.sqlite3", isolation_level=None)) as other:
        other.execute("BEGIN EXCLUSIVE")
        yield


@pytest.fixture
def hasty(start: Start, monkeypatch: pytest.MonkeyPatch) -> Caller:
    """Its database waits briefly for a writer."""
    monkeypatch.setattr("service.store.database._BUSY_MS", 20)
    return start()


def test_a_full_disk_takes_no_file_and_says_so(start: Start, card: bytes) -> None:
    caller = start(free_space_bytes=FULL)
    answer = caller.check(card)
    assert (answer.status_code, answer.get_json()["type"]) == (507, "/problems/no-room")
    assert int(answer.headers["Retry-After"]) > 0
    assert files(caller) == []
    ready = caller.get("/readyz")
    assert (ready.status_code, "PRINT_SPEC_FREE_SPACE" in ready.get_json()["detail"]) == (503, True)
    assert caller.get("/healthz").status_code == 200


def test_on_a_full_disk_a_check_can_be_forgotten(caller: Caller, card: bytes, monkeypatch: pytest.MonkeyPatch) -> None:
    check = caller.check(card).get_json()["id"]
    monkeypatch.setattr(parts_of(caller).blobs, "_free_bytes", FULL)
    assert caller.get(f"/v1/checks/{check}").status_code == 200
    assert caller.delete(f"/v1/checks/{check}").status_code == 204
    assert files(caller) == []


def test_a_disk_that_fills_while_a_file_comes_leaves_nothing(tmp_path: Path) -> None:
    class Full(io.BytesIO):
        def read(self, size: int | None = -1, /) -> bytes:  # noqa: ARG002
            raise OSError(errno.ENOSPC, "No space left on device")

    blobs = Blobs(tmp_path / "files")
    with pytest.raises(NoRoom):
        blobs.save("one", Full(), 100)
    assert list((tmp_path / "files").iterdir()) == []


@of_sqlite
def test_a_locked_database_is_said_and_keeps_no_file(hasty: Caller, card: bytes) -> None:
    check = hasty.check(card).get_json()["id"]
    with locked(hasty):
        answer = hasty.check(card)
        assert (answer.status_code, answer.get_json()["type"]) == (503, "/problems/not-ready")
        assert int(answer.headers["Retry-After"]) > 0
        assert hasty.get(f"/v1/checks/{check}").status_code == 200, "who only reads does not wait"
        assert hasty.get("/healthz").status_code == 200
    assert files(hasty) == [f"{check}.pdf"]
    assert hasty.check(card).status_code == 201


@of_sqlite
def test_a_check_that_cannot_be_deleted_loses_its_file_all_the_same(hasty: Caller, card: bytes) -> None:
    check = hasty.check(card).get_json()["id"]
    with locked(hasty):
        assert hasty.delete(f"/v1/checks/{check}").status_code == 503
    assert files(hasty) == []
    assert hasty.delete(f"/v1/checks/{check}").status_code == 204


def test_a_data_folder_that_is_gone_is_said(caller: Caller, card: bytes) -> None:
    shutil.rmtree(parts_of(caller).settings.data)
    assert caller.get("/readyz").status_code == 503
    answer = caller.check(card)
    assert (answer.status_code, answer.get_json()["type"]) == (503, "/problems/not-ready")


def test_another_sender_s_key_is_another_key(caller: Caller, card: bytes) -> None:
    def sent(address: str) -> str:
        caller.client.environ_base["REMOTE_ADDR"] = address
        return str(caller.check(card, headers={"Idempotency-Key": "order-7"}).get_json()["id"])

    first = sent("192.0.2.7")
    assert sent("192.0.2.7") == first
    assert sent("192.0.2.8") != first
    assert sent("2001:db8::1") == sent("2001:db8::2"), "one machine has many addresses of its own"
    assert sent("2001:db8::1") != first
