"""What the fork server loads, and when."""

from __future__ import annotations

import time
from collections.abc import Iterator
from pathlib import Path

import pytest
from cattrs.dispatch import MultiStrategyDispatch

from service.jobs.children import sandbox
from service.jobs.children.drawing import draw
from service.jobs.children.fork_server import ForkServer
from service.jobs.children.forking import PRELOADED
from service.jobs.children.measuring.check import run
from service.jobs.children.preloaded import warm_up
from service.jobs.children.tasks import DrawingTask, Limits, Task
from service.language.spoken import LANGUAGES, catalogue
from service.pdf.facts.unknown import Unmeasured
from service.sheets.model import SpecSheet, TrimAsked
from tests.build import page
from tests.patience import until

LIMITS = Limits(seconds=60, memory_bytes=2**30)


@pytest.fixture(autouse=True)
def server(monkeypatch: pytest.MonkeyPatch) -> Iterator[ForkServer]:
    """A fork server that nobody has asked for anything yet."""
    server = ForkServer()
    monkeypatch.setattr(sandbox, "SERVER", server)
    yield server
    server.close()


def loaded_in_a_child() -> set[str]:
    task = DrawingTask(pdf=None, brief=None, draw="tests.jobs.drawing_faults:lists_what_is_loaded")
    drawn = draw(task, LIMITS)
    assert isinstance(drawn, bytes)
    return set(drawn.decode().split())


def test_who_has_something_drawn_does_not_wait_for_what_measures() -> None:
    assert not {"service.pdf.measure", "service.sheets.prose.reading"} & loaded_in_a_child()


def test_who_has_a_file_measured_waits_for_nothing_that_draws(tmp_path: Path) -> None:
    sheet = SpecSheet(trim=TrimAsked(width_mm=85, height_mm=55))
    run(Task(sheet=sheet, pdf=page(85, 55).fill(cyan=1).save(tmp_path / "card.pdf")), LIMITS)
    found = loaded_in_a_child()
    assert "service.jobs.children.preloaded" in found
    assert not {"service.proofs.dummy.drawn", "service.sheets.prose.reading"} & found


def test_everything_is_loaded_while_nobody_asks(server: ForkServer) -> None:
    server.begin()

    def all_is_loaded() -> bool:
        time.sleep(1.5)  # who is asked again and again comes to nothing else
        return set(PRELOADED) <= loaded_in_a_child()

    until(all_is_loaded, "all modules loaded")


def test_no_child_has_to_read_a_catalogue() -> None:
    catalogue.cache_clear()
    warm_up()
    assert catalogue.cache_info().currsize == len(LANGUAGES)


def test_a_child_works_out_no_forms_of_records(monkeypatch: pytest.MonkeyPatch) -> None:
    """Whatever its page holds of what pages usually hold: here, as in the fork server, that is done before."""
    import service.jobs.children.practised  # noqa: F401

    monkeypatch.setattr(MultiStrategyDispatch, "dispatch_without_caching", lambda _, kind: pytest.fail(f"{kind} is new"))
    warm_up()


def test_the_page_that_warms_the_parser_is_measured_to_its_end() -> None:
    measured = warm_up()
    assert measured.document.failure is None
    assert not isinstance(measured.pages, Unmeasured)
    assert not isinstance(measured.pages[0].content, Unmeasured)
    assert not isinstance(measured.pages[0].plates, Unmeasured)
