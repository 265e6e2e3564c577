"""Files in an S3-compatible store: what one machine saves another reads, and nothing else stays behind."""

from __future__ import annotations

import hashlib
import io
import os
from collections.abc import Callable
from itertools import count
from pathlib import Path

import pytest

from service.store.files import bucket
from service.store.files.blobs import FilesAway, TooLarge
from service.store.files.bucket import Bucket
from tests.running import free_port
from tests.s3 import environment, new_bucket

PDF = b"%PDF-1.7\n" + bytes(3_000_000)
_number = count()


@pytest.fixture
def machine(s3: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Callable[[], Bucket]:
    """Another one each time, with the same store."""
    for name, value in environment(s3).items():
        monkeypatch.setenv(name, value)
    url = new_bucket(s3, f"files-{os.getpid()}-{next(_number)}")
    return lambda: Bucket(url, tmp_path / f"cache-{next(_number)}")


def test_what_one_machine_saves_another_has(machine: Callable[[], Bucket]) -> None:
    here, there = machine(), machine()
    saved = here.save("one", io.BytesIO(PDF), 4_000_000)
    assert (saved.size_bytes, saved.sha256) == (len(PDF), hashlib.sha256(PDF).hexdigest())
    assert there.holds("one")
    assert there.path("one").read_bytes() == PDF
    assert there.path("one").stat().st_mode & 0o077 == 0
    assert [path.name for path in there.path("one").parent.iterdir()] == ["one.pdf"]


def test_what_is_forgotten_is_gone_on_every_machine_that_asks(machine: Callable[[], Bucket]) -> None:
    here, there = machine(), machine()
    here.save("one", io.BytesIO(PDF), 4_000_000)
    assert here.share("one", "two")
    here.forget("one")
    here.forget("one")
    assert not there.path("one").exists()
    assert not there.holds("one")
    assert not there.share("one", "three")
    assert there.path("two").read_bytes() == PDF


def test_what_is_too_large_or_for_a_moment_never_comes_to_the_store(machine: Callable[[], Bucket]) -> None:
    here = machine()
    with pytest.raises(TooLarge):
        here.save("one", io.BytesIO(PDF), 100)
    here.save_here("moment", io.BytesIO(PDF), 4_000_000)
    assert here.path("moment").read_bytes() == PDF
    here.forget("moment")
    assert list(here.older_than(2**40)) == []


def test_old_ones_are_named_and_what_nobody_needs_here_goes_from_here(
    machine: Callable[[], Bucket], monkeypatch: pytest.MonkeyPatch
) -> None:
    here = machine()
    here.save("one", io.BytesIO(PDF), 4_000_000)
    assert list(here.older_than(0)) == []
    monkeypatch.setattr(bucket, "_LIST_EVERY_SECONDS", 0)
    monkeypatch.setattr(bucket, "_KEPT_HERE_SECONDS", -1)
    here._list_at = 0.0
    assert list(here.older_than(2**40)) == ["one"]
    assert list(here._folder.iterdir()) == []
    assert here.path("one").read_bytes() == PDF


def test_a_store_that_is_away_is_said(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for name, value in environment(f"http://127.0.0.1:{free_port()}").items():
        monkeypatch.setenv(name, value)
    monkeypatch.setattr(bucket, "_RETRIES", 0)
    here = Bucket("s3://files", tmp_path)
    with pytest.raises(FilesAway):
        here.path("one")
    with pytest.raises(FilesAway):
        here.save("one", io.BytesIO(PDF), 4_000_000)
    with pytest.raises(FilesAway):
        here.answers()
    here.forget("one")
    assert list(tmp_path.iterdir()) == []
