"""The stored sheets travel with the distribution: they are in its wheel, and so in a plain `pip install .`."""

from __future__ import annotations

import shutil
import subprocess
import sys
import zipfile
from pathlib import Path

from service.sheets.catalogue import sheet_files

PROJECT = Path(__file__).parents[2]


def test_the_wheel_carries_every_stored_sheet(tmp_path: Path) -> None:
    source = tmp_path / "source"
    source.mkdir()
    for name in ("pyproject.toml", "README.md", "LICENSE"):
        shutil.copy(PROJECT / name, source)
    for name in ("service", "specs"):
        shutil.copytree(PROJECT / name, source / name, ignore=shutil.ignore_patterns("__pycache__"))
    build = [sys.executable, "-m", "pip", "wheel", "--quiet", "--no-deps", "--no-build-isolation", "--wheel-dir", str(tmp_path)]
    subprocess.run([*build, str(source)], check=True, capture_output=True, timeout=120)
    (wheel,) = tmp_path.glob("*.whl")
    carried = {Path(name).name for name in zipfile.ZipFile(wheel).namelist() if name.startswith("service/sheets/stored/")}
    assert carried >= {file.name for file in sheet_files()}
