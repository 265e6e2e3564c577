"""The secret of the upload tokens in the data folder: one for all, for its own user only."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from service.store.token_secret import kept_secret
from tests.patience import PATIENCE_SECONDS


def test_it_is_made_once_and_kept(tmp_path: Path) -> None:
    first = kept_secret(tmp_path)
    assert len(first) == 64
    assert kept_secret(tmp_path) == first
    assert (tmp_path / "token-secret").stat().st_mode & 0o777 == 0o600


def test_each_data_folder_has_its_own(tmp_path: Path) -> None:
    for name in ("one", "two"):
        (tmp_path / name).mkdir()
    assert kept_secret(tmp_path / "one") != kept_secret(tmp_path / "two")


def test_processes_that_start_at_once_agree(tmp_path: Path) -> None:
    program = "import sys, pathlib, service.store.token_secret as it; print(it.kept_secret(pathlib.Path(sys.argv[1])))"
    command = [sys.executable, "-c", program, str(tmp_path)]
    started = [subprocess.Popen(command, stdout=subprocess.PIPE, text=True) for _ in range(6)]
    try:
        secrets = {process.communicate(timeout=PATIENCE_SECONDS)[0] for process in started}
    finally:
        for process in started:
            process.kill()
    assert [process.returncode for process in started] == [0] * 6
    assert len(secrets) == 1


@pytest.mark.parametrize("half", ["", "abc", "é", "0123456789abcdef"])
def test_what_a_crash_left_half_written_is_made_anew(tmp_path: Path, half: str) -> None:
    (tmp_path / "token-secret").write_text(half, encoding="utf-8")
    made = kept_secret(tmp_path)
    assert len(made) == 64
    assert kept_secret(tmp_path) == made
