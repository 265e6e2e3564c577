"""Measurements of other people's files, made once in a run for all the tests that compare them with something.

A process of its own measures them: a file that brings it down or hangs fails its test and not the run.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import ExitStack
from functools import cache
from multiprocessing import get_context
from multiprocessing.pool import Pool
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
    with ExitStack() as at_the_end:

        @cache
        def pool() -> Pool:
            """Begun with the first file: without other people's files nothing need be there of what a pool asks of a system."""
            return at_the_end.enter_context(get_context("spawn").Pool(1))

        @cache
        def measured(path: Path) -> Measurements:
            folder = made_once(f"measured-{path.stem}", lambda folder: _write(pool(), path, folder))
            return measurements_from_json((folder / "measurements.json").read_text())

        yield measured


def _write(pool: Pool, path: Path, folder: Path) -> None:
    text = pool.apply_async(_measured, (path,)).get(PATIENCE_SECONDS)
    (folder / "measurements.json").write_text(text)


def _measured(path: Path) -> str:
    return measurements_to_json(measure(path))
