from __future__ import annotations

import os
import shutil
from collections import defaultdict
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from flask import Flask
from sqlalchemy import Dialect, Engine, create_engine

from service import create_app
from service.settings import Settings, read_settings
from service.store import database
from service.store.database import open_database
from service.wiring import Parts, make_parts
from tests.api.contract import Caller
from tests.build import page
from tests.databases import KIND, KINDS, database_url, goes_on_both, standing_on
from tests.patience import PATIENCE_SECONDS

Start = Callable[..., Caller]


@pytest.fixture(scope="session")
def empty_database(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """With its tables made, which takes longer than a test; `tests/store` makes them each time."""
    folder = tmp_path_factory.mktemp("empty")
    open_database("", folder).dispose()
    return folder / "checks.sqlite3"


def pytest_generate_tests(metafunc: pytest.Metafunc) -> None:
    if "kept_on" in metafunc.fixturenames and goes_on_both(metafunc.definition):
        metafunc.parametrize("kept_on", KINDS, indirect=True)


@pytest.fixture(scope="session", autouse=True)
def _statements_are_compiled_once() -> Iterator[None]:
    """SQLAlchemy keeps a compiled statement with its engine and dialect, of which each service has its own: much of what a test
    takes. SQLite's have one dialect here, and what is kept with it.
    """
    kept: dict[Any, Any] = {}
    dialects: list[Dialect] = []

    def like_the_first(*given: Any, **named: Any) -> Engine:
        engine = create_engine(*given, **named)
        if engine.dialect.name == "sqlite":
            dialects.append(engine.dialect)
            engine.dialect = dialects[0]
            engine.update_execution_options(compiled_cache=kept)
        return engine

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("service.store.database.create_engine", like_the_first)
        yield


@pytest.fixture(scope="session", autouse=True)
def _nothing_need_survive_the_machine() -> Iterator[None]:
    """What is on its way to the disk may be lost with it: no test waits for it."""
    set_up = database._set_up_sqlite

    def set_up_hastily(connection: Any, entry: Any) -> None:
        set_up(connection, entry)
        connection.execute("PRAGMA synchronous = OFF")

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(database, "_set_up_sqlite", set_up_hastily)
        patch.setattr(os, "fsync", lambda _: None)
        yield


@pytest.fixture(scope="session", autouse=True)
def _readers_are_waited_for() -> Iterator[None]:
    """The first reading of a process loads the grammar: seconds of processor time, and many more beside other work."""
    with pytest.MonkeyPatch.context() as patch:
        for name in ("readings", "template_readings"):
            patch.setattr(f"service.api.specs.{name}.MOST_SECONDS", PATIENCE_SECONDS)
        yield


@pytest.fixture
def kept_on(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[str]:
    """On what services of this test keep their tables."""
    kind = str(getattr(request, "param", KIND))
    if kind == KIND:
        yield kind
        return
    with standing_on(request.getfixturevalue("postgres"), tmp_path):
        yield kind


@pytest.fixture
def start(tmp_path: Path, empty_database: Path, kept_on: str) -> Iterator[Start]:  # noqa: ARG001
    """Starts a service in this process: `start(queue_length=1, measure="tests.jobs.faults:hangs")`."""
    running: list[tuple[Parts, Flask]] = []

    def begin(measure: str | None = None, **wishes: Any) -> Caller:
        data = wishes.get("data", tmp_path / f"data{len(running)}")
        url = database_url(data)
        if not url and not data.exists():
            data.mkdir()
            shutil.copy(empty_database, data)
        base = read_settings({"PRINT_SPEC_DATA": str(data), "PRINT_SPEC_DATABASE_URL": url})
        patient = {"stop_seconds": 0.0, "first_pass_seconds": 3600.0, "wait_seconds": float(PATIENCE_SECONDS)}
        parts = make_parts(replace(base, **{**patient, **wishes}), measure)
        idle = IDLE[made_from(parts.settings)]
        app = idle.pop() if idle else create_app(parts=parts)
        app.extensions["print-spec"] = parts
        running.append((parts, app))
        return Caller(app)

    yield begin
    for parts, app in running:
        parts.close()
        IDLE[made_from(parts.settings)].append(app)


IDLE: defaultdict[tuple[object, ...], list[Flask]] = defaultdict(list)
"""Applications of tests that have ended, by what they are made from: to make one takes longer than to answer what most tests
ask. Everything else an application asks of the parts that it has at that moment."""

MADE_FROM = ("access", "maximum_upload_bytes", "proxies")
"""The settings that are read when an application is made; `tests/api/test_made_from.py` holds that no other is."""


def made_from(settings: Settings) -> tuple[object, ...]:
    return tuple(getattr(settings, name) for name in MADE_FROM)


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
