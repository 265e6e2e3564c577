"""For all rooms: what is made once for a whole run, and an end to what hangs.

A run has a process for each processor (`-n`, pytest-xdist). `--pdb` and `-n 0` do without; so does `-p no:xdist`.
"""

from __future__ import annotations

import atexit
import fcntl
import gc
import os
import shutil
import signal
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import NoReturn

import hypothesis
import pytest

from service.demo.order import make_files
from tests import databases
from tests import s3 as s3_server
from tests.compiled import compile_tests
from tests.running_order import in_order

HERE = Path(__file__).parent
MOST_SECONDS = 600
"""For one test with its fixtures. The longest takes half a minute alone; only one that hangs takes so long on a busy machine."""

atexit.register(gc.freeze)  # as `print-spec` does
gc.disable()  # until all is collected: of what is made until then nothing is garbage
os.environ.pop("PYTHONDONTWRITEBYTECODE", None)  # of hundreds of processes each would compile the service again
sys.dont_write_bytecode = False
hypothesis.settings.register_profile("patient", deadline=None)  # a busy machine makes an example slow, not wrong
hypothesis.settings.load_profile("patient")


def pytest_xdist_auto_num_workers() -> int:
    """One more than there are processors: many tests wait for a process or a line, and leave theirs idle."""
    return (os.cpu_count() or 1) + 1


def pytest_configure() -> None:
    if databases.KIND not in databases.KINDS:
        raise pytest.UsageError(f"{databases.SWITCH} is one of {', '.join(databases.KINDS)}, not {databases.KIND!r}")


def pytest_sessionstart(session: pytest.Session) -> None:
    """Before the processes begin."""
    if getattr(session.config.option, "numprocesses", None) and not hasattr(session.config, "workerinput"):
        compile_tests(session.config.args)


@pytest.hookimpl(trylast=True)
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    processes = int(os.environ.get("PYTEST_XDIST_WORKER_COUNT", "1"))
    if processes > 1:
        items[:] = in_order(items, lambda item: item.path.relative_to(HERE).as_posix(), processes)


def pytest_collection_finish() -> None:
    """What is collected stays until the end: nobody need look there for garbage, as often as tests make some."""
    gc.freeze()
    gc.enable()


def pytest_addoption(parser: pytest.Parser, pluginmanager: pytest.PytestPluginManager) -> None:
    if not pluginmanager.has_plugin("xdist"):  # the options in pyproject.toml would be unknown then
        for option in ("--numprocesses", "--maxprocesses", "--dist"):
            parser.addoption(option, help="(pytest-xdist is left out)")


@pytest.hookimpl(wrapper=True)
def pytest_runtest_protocol(item: pytest.Item) -> Iterator[None]:
    """A test that hangs fails, and the run goes on. What no signal reaches ends its process, by `faulthandler_timeout`."""

    def too_long(*_: object) -> NoReturn:
        pytest.fail(f"it has not ended in {MOST_SECONDS} seconds")

    if item.config.getoption("usepdb"):
        return (yield)
    before = signal.signal(signal.SIGALRM, too_long)
    signal.setitimer(signal.ITIMER_REAL, MOST_SECONDS, 30)
    try:
        return (yield)
    finally:
        signal.setitimer(signal.ITIMER_REAL, 0)
        signal.signal(signal.SIGALRM, before)


MadeOnce = Callable[[str, Callable[[Path], object]], Path]


@pytest.fixture(scope="session")
def made_once(tmp_path_factory: pytest.TempPathFactory) -> MadeOnce:
    """`made_once("order", make)` is a folder that `make(folder)` has filled, in whichever process of the run came first."""
    base = tmp_path_factory.getbasetemp()
    shared = base.parent if "PYTEST_XDIST_WORKER" in os.environ else base

    def made(name: str, make: Callable[[Path], object]) -> Path:
        folder, unfinished = shared / f"once-{name}", shared / f"once-{name}-unfinished"
        with (shared / f"once-{name}.lock").open("w") as lock:
            fcntl.flock(lock, fcntl.LOCK_EX)
            if not folder.exists():
                shutil.rmtree(unfinished, ignore_errors=True)
                unfinished.mkdir()
                make(unfinished)
                unfinished.rename(folder)
        return folder

    return made


@pytest.fixture(scope="session")
def postgres(made_once: MadeOnce) -> str:
    """The address of this run's PostgreSQL server; `tests.postgres.new_database` makes a database there."""
    return (made_once("postgres", databases.begin_with_tables) / "address").read_text()


@pytest.fixture(scope="session", autouse=databases.ON_POSTGRESQL)
def _stands_on_postgresql(request: pytest.FixtureRequest) -> None:
    databases.stand_on(request.getfixturevalue("postgres"))


@pytest.fixture(autouse=databases.ON_POSTGRESQL)
def _databases_end_with_the_test(request: pytest.FixtureRequest) -> Iterator[None]:
    folder = request.getfixturevalue("tmp_path") if "tmp_path" in request.fixturenames else None
    yield
    if folder:
        databases.drop_below(folder)


@pytest.fixture(scope="session")
def s3(made_once: MadeOnce) -> str:
    """The address of this run's S3-compatible store; `tests.s3.new_bucket` makes a bucket there."""
    return (made_once("s3", s3_server.begin_for_run) / "address").read_text()


@pytest.fixture(scope="session")
def bakery_order(made_once: MadeOnce) -> Path:
    """The bakery's print order: a folder with its PDFs, to be read only."""
    return made_once("order", lambda folder: make_files(folder, lambda _: None))


@pytest.fixture(scope="session")
def demo_run(made_once: MadeOnce) -> Path:
    """A folder in which `print-spec demo` was run: demo-results, and what it printed as shown.txt."""

    def run(folder: Path) -> None:
        environment = {
            **os.environ,
            "PYTHONPATH": str(Path(__file__).parents[1]),
            "PRINT_SPEC_DATABASE_URL": "nowhere://",  # the caller's own settings are left alone
        }
        command = [sys.executable, "-m", "service", "demo"]
        with (folder / "shown.txt").open("wb") as shown:
            subprocess.run(command, cwd=folder, env=environment, stdout=shown, check=True, timeout=MOST_SECONDS)

    return made_once("demo", run)
