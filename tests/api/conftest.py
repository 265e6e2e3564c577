from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from service import create_app
from service.jobs.children.child import Task
from service.settings import read_settings
from service.wiring import Parts, make_parts
from tests.api.contract import Caller
from tests.build import page

Start = Callable[..., Caller]


@pytest.fixture
def start(tmp_path: Path) -> Iterator[Start]:
    """Starts a service in this process: `start(queue_length=1, measure="tests.jobs.faults:hangs")`."""
    running: list[Parts] = []

    def begin(measure: str = Task.measure, **settings: Any) -> Caller:
        base = read_settings({"PRINT_SPEC_DATA": str(tmp_path / f"data{len(running)}")})
        parts = make_parts(replace(base, stop_seconds=0.0, **settings), measure)
        running.append(parts)
        app = create_app(parts=parts)
        return Caller(app)

    yield begin
    for parts in running:
        parts.close()


@pytest.fixture
def caller(start: Start) -> Caller:
    return start()


@pytest.fixture(scope="session")
def card(tmp_path_factory: pytest.TempPathFactory) -> bytes:
    """A right card: 85 × 55 mm, 3 mm of bleed, filled to its edge."""
    path = tmp_path_factory.mktemp("pdf") / "card.pdf"
    page(85, 55, bleed=3).fill(cyan=1).save(path)
    return path.read_bytes()


@pytest.fixture(scope="session")
def card_without_bleed(tmp_path_factory: pytest.TempPathFactory) -> bytes:
    path = tmp_path_factory.mktemp("pdf") / "card.pdf"
    page(85, 55, bleed=0).fill(cyan=1).save(path)
    return path.read_bytes()
