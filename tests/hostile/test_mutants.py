"""Mutated PDFs over HTTP: each is answered, none takes another along, nothing is left."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

from tests.conftest import MOST_SECONDS
from tests.hostile.mutants import mutant, originals
from tests.hostile.nightly import hostile_service, is_wrong, measuring, nothing_is_left, sent
from tests.patience import until
from tests.sweeps import part_of

COUNT = len(part_of(range(300), one_in=5))


def test_the_same_number_is_the_same_file(tmp_path: Path) -> None:
    files = originals(tmp_path)
    assert [mutant(files, number) for number in range(50)] == [mutant(files, number) for number in range(50)]
    assert len({mutant(files, number) for number in range(50)}) > 40


def test_each_gets_an_answer_and_nothing_is_left(tmp_path: Path) -> None:
    files = originals(tmp_path)
    with hostile_service(tmp_path) as service:
        with ThreadPoolExecutor(1) as thread:
            sending = thread.submit(sent, service, files, range(COUNT))
            assert until(lambda: measuring(service), "a child that measures"), "so that its end can be seen"
            outcomes = sending.result(MOST_SECONDS)
        nothing_is_left(service, tmp_path)
        assert service.log.count("Traceback") == 0, service.log[-3000:]
    assert [one for one in outcomes if is_wrong(one)] == []
    assert len(outcomes) == COUNT
