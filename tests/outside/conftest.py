"""Measurements of other people's files, made once in a run for all the tests that compare them with something."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import cache
from multiprocessing import get_context
from multiprocessing.connection import Connection
from multiprocessing.context import SpawnProcess
from pathlib import Path

import pytest

from service.pdf.codec import measurements_from_json, measurements_to_json
from service.pdf.facts.measurements import Measurements
from service.pdf.measure import measure
from tests.conftest import MadeOnce
from tests.patience import PATIENCE_SECONDS

MeasuredOnce = Callable[[Path], Measurements]


@pytest.fixture(scope="session")
def measured_once(made_once: MadeOnce) -> Iterator[MeasuredOnce]:
    aside = Aside()

    @cache
    def measured(path: Path) -> Measurements:
        folder = made_once(f"measured-{path.stem}", lambda folder: (folder / "it.json").write_text(aside.measured(path)))
        return measurements_from_json((folder / "it.json").read_text())

    yield measured
    aside.end()


class Aside:
    """A process that measures. A file that brings it down or hangs fails its test and not the run: the next gets another."""

    _process: SpawnProcess | None = None
    _line: Connection

    def measured(self, path: Path) -> str:
        if self._process is None:
            context = get_context("spawn")
            self._line, theirs = context.Pipe()
            self._process = context.Process(target=_measure_each, args=(theirs,), daemon=True)
            self._process.start()
            theirs.close()
        try:
            self._line.send(path)
            if not self._line.poll(PATIENCE_SECONDS):
                raise TimeoutError(f"{path.name} was not measured in {PATIENCE_SECONDS} seconds")
            return str(self._line.recv())
        except BaseException:
            self.end()
            raise

    def end(self) -> None:
        if self._process:
            self._line.close()
            self._process.kill()
            self._process.join(PATIENCE_SECONDS)
            self._process = None


def _measure_each(line: Connection) -> None:
    while True:
        line.send(measurements_to_json(measure(line.recv())))
