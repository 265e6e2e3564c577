"""What one machine keeps, saved while it is written to, and put into a new folder."""

from __future__ import annotations

import io
import tarfile
from datetime import timedelta
from pathlib import Path

import pytest

from service.jobs.checking import now
from service.store.backup import BackupRefused, restore, save
from service.store.checks import Checks
from service.store.database import open_database
from service.store.files.blobs import Blobs
from tests.store.rows import row


def kept(folder: Path, *names: str) -> Checks:
    checks, blobs = Checks(open_database("", folder)), Blobs(folder / "files")
    for name in names:
        blobs.save(name, io.BytesIO(b"%PDF-" + name.encode()), 100)
        checks.add(row(name, expires_at=now() + timedelta(hours=1)))
    (folder / "token-secret").write_text("a" * 64)
    return checks


def test_what_is_saved_while_the_service_runs_comes_back_whole(tmp_path: Path) -> None:
    here, there = tmp_path / "here", tmp_path / "there"
    here.mkdir()
    checks = kept(here, "one", "two")
    checks.add(row("without-file", expires_at=now() + timedelta(hours=1)))
    Blobs(here / "files").save("stray", io.BytesIO(b"%PDF-"), 100)
    assert save(here, tmp_path / "saved.tar") == 2
    checks.add(row("later"))
    checks.close()
    assert restore(tmp_path / "saved.tar", there) == 2
    again = Checks(open_database("", there))
    assert again.existing(["one", "two", "without-file", "later"]) == {"one", "two", "without-file"}
    again.close()
    assert sorted(path.name for path in (there / "files").iterdir()) == ["one.pdf", "two.pdf"]
    assert (there / "files" / "one.pdf").read_bytes() == b"%PDF-one"
    assert (there / "token-secret").read_text() == "a" * 64
    assert {path.stat().st_mode & 0o077 for path in (tmp_path / "saved.tar", *there.rglob("*"))} <= {0}


def test_what_is_there_is_never_written_over(tmp_path: Path) -> None:
    kept(tmp_path, "one").close()
    save(tmp_path, tmp_path / "saved.tar")
    with pytest.raises(BackupRefused, match="already"):
        restore(tmp_path / "saved.tar", tmp_path)


def test_what_is_no_back_up_is_said_and_writes_nothing_elsewhere(tmp_path: Path) -> None:
    with pytest.raises(BackupRefused, match="no database"):
        save(tmp_path, tmp_path / "saved.tar")
    assert not (tmp_path / "saved.tar").exists()
    (tmp_path / "odd.tar").write_bytes(b"no tar at all" * 100)
    with tarfile.open(tmp_path / "hostile.tar", "w") as tar:
        for name in ("../out.pdf", "files/../../out.pdf", "/out.pdf", "files/x.sh"):
            tar.addfile(tarfile.TarInfo(name), io.BytesIO())
    for name in ("odd.tar", "hostile.tar"):
        with pytest.raises(BackupRefused, match="no back-up"):
            restore(tmp_path / name, tmp_path / "new")
    assert [path.name for path in tmp_path.rglob("*") if path.name.startswith(("out", "x."))] == []
