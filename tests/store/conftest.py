from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from service.store.blobs import Blobs
from service.store.checks import Checks
from service.store.database import open_database


@pytest.fixture
def checks(tmp_path: Path) -> Iterator[Checks]:
    opened = Checks(open_database("", tmp_path))
    yield opened
    opened.close()


@pytest.fixture
def blobs(tmp_path: Path) -> Blobs:
    return Blobs(tmp_path / "files")
