"""A child that a file has taken over, against each wall alone, all of them, and none: what it gets, and what remains true.

Where the kernel that the tests run on offers less, less is expected of 'all of them'.
"""

from __future__ import annotations

import ctypes
import os
import select
import signal
import socket
import subprocess
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from service.jobs.children import sandbox
from service.jobs.children.confinement.walls import offered
from service.jobs.children.drawing import draw
from service.jobs.children.fork_server import ForkServer
from service.jobs.children.measuring.check import run
from service.jobs.children.tasks import MEASURING, DrawingTask, Limits, Task
from service.pdf.facts.unknown import Unmeasured
from service.pdf.measure import measure
from service.pdf.question import Question
from service.proofs.plates.brief import PLATE, PlatesBrief, plates_brief
from service.proofs.plates.drawn import plate_png
from service.proofs.plates.wishes import PlatesWishes
from service.sheets.model import SpecSheet
from tests.build import document, page
from tests.jobs.children.processes import alive, children_of, descendants_of, forkers_of
from tests.patience import PATIENCE_SECONDS, until

LIMITS = Limits(seconds=60, memory_bytes=2**30)
SECRET = "PRINT_SPEC_TOKEN_SECRET"
HALVES = ("only-the-server-knows-", "this-of-all-processes-0123456789")
VARIANTS = {
    "all walls": frozenset[str](),
    "no Landlock": frozenset({"landlock", "namespaces"}),
    "no seccomp": frozenset({"seccomp", "namespaces"}),
    "namespaces alone": frozenset({"landlock", "seccomp"}),
    "no wall": frozenset({"landlock", "seccomp", "namespaces"}),
    "all walls around a spare": frozenset[str](),
}

Attempt = Callable[..., tuple[str, int]]

_spares_of: dict[ForkServer, int] = {}
"""Fork servers whose children are to be spares, and of how many processes they are themselves."""


def _what_forks(server: ForkServer, pdf: Path) -> int:
    """As long as a child runs, there is no spare."""
    with server.child(MEASURING, Task(sheet=SpecSheet(), pdf=pdf, measure="tests.jobs.faults:hangs"), LIMITS):
        until(lambda: server.is_ready() and bool(children_of(server)), "a child")
        return len(forkers_of(server))


@pytest.fixture(scope="module", params=VARIANTS)
def server(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Iterator[ForkServer]:
    """Begun by a process whose environment holds a secret."""
    os.environ[SECRET] = "".join(HALVES)
    one = ForkServer(VARIANTS[request.param])
    try:
        one.begin()
        if "spare" in request.param:
            _spares_of[one] = _what_forks(one, page(85, 55).save(tmp_path_factory.mktemp("pdf") / "one.pdf"))
        yield one
    finally:
        del os.environ[SECRET]
        one.close()


@pytest.fixture
def attempt(server: ForkServer, files: Path, monkeypatch: pytest.MonkeyPatch) -> Attempt:
    """`attempt("reads", target)`: 'done' or 'refused', and the number that came with it."""
    monkeypatch.setattr(sandbox, "SERVER", server)

    def told(name: str, *about: object) -> tuple[str, int]:
        steps: list[tuple[str, int]] = []
        task = Task(
            sheet=SpecSheet(),
            pdf=files / "one.pdf",
            question=Question(finishing_inks=tuple(map(str, about))),
            measure=f"tests.jobs.attacks:{name}",
        )
        others = children_of(server)
        if server in _spares_of and not others:  # none is kept beside a child that runs
            until(lambda: len(forkers_of(server)) > _spares_of[server], "a spare")
        run(task, LIMITS, lambda stage, done, _: steps.append((stage, done)))
        assert children_of(server) == others
        (step,) = steps
        return step

    return told


@pytest.fixture
def up(server: ForkServer) -> Callable[..., bool]:
    """Whether a wall stands in this variant, on this kernel: `up(seccomp=True, landlock=4)`, any of them."""

    def stands(*, seccomp: bool = False, landlock: int = 99) -> bool:
        walls = offered(server._without)
        return (seccomp and walls.seccomp) or 0 < landlock <= walls.landlock_abi

    return stands


@pytest.fixture
def files(tmp_path: Path) -> Path:
    """A data folder: the check's own file, another's, the secret, the database."""
    page(85, 55).save(tmp_path / "one.pdf")
    page(85, 55).save(tmp_path / "other.pdf")
    (tmp_path / "token-secret").write_text("0" * 64)
    (tmp_path / "print-spec.db").write_bytes(b"SQLite format 3\0")
    return tmp_path


@pytest.fixture
def neighbour() -> Iterator[subprocess.Popen[bytes]]:
    """A process of the same user that has nothing to do with the check."""
    with subprocess.Popen(["sleep", "3600"]) as process:
        yield process
        process.kill()


def test_it_reads_its_own_file_and_starts_threads(attempt: Attempt, files: Path) -> None:
    assert attempt("reads_its_own_file") == ("done", (files / "one.pdf").stat().st_size)
    assert attempt("starts_threads") == ("done", 8)


def test_an_encrypted_file_is_measured_behind_any_walls(
    server: ForkServer, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """For which qpdf wants random numbers."""
    monkeypatch.setattr(sandbox, "SERVER", server)
    path = document(page(85, 55).fill(cyan=1)).encrypted().save(tmp_path / "card.pdf")
    assert run(Task(sheet=SpecSheet(), pdf=path), LIMITS).measurements == measure(path, Question(), lambda *_: None)


def test_what_is_measured_and_drawn_is_the_same_behind_any_walls(
    server: ForkServer, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As in a process that nothing confines: this one."""
    monkeypatch.setattr(sandbox, "SERVER", server)
    card = page(85, 55, bleed=3).fill(cyan=1).picture(ppi=149, at=(10, 10, 40, 30)).text("Open", size=8, at=(12, 45))
    path = card.save(tmp_path / "card.pdf")
    question = Question(trim_sizes_mm=((85, 55),), ink_limits_percent=(240,))
    plain = measure(path, question, lambda *_: None)
    assert plain.document.failure is None
    assert run(Task(sheet=SpecSheet(), pdf=path, question=question), LIMITS).measurements == plain
    assert not isinstance(plain.pages, Unmeasured)
    brief = plates_brief(plain.pages[0], PlatesWishes())
    assert isinstance(brief, PlatesBrief)
    drawn = plate_png(path, brief.of("Cyan"))
    assert isinstance(drawn, bytes)
    assert draw(DrawingTask(pdf=path, brief=brief.of("Cyan"), draw=PLATE), LIMITS) == drawn


# --- Reading -----------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", ["token-secret", "print-spec.db", "other.pdf"])
def test_it_reads_no_other_file(name: str, attempt: Attempt, up: Callable[..., bool], files: Path) -> None:
    """Without Landlock it does, which the guide says."""
    assert attempt("reads", files / name)[0] == ("refused" if up(landlock=1) else "done")
    assert attempt("lists", files)[0] == ("refused" if up(landlock=1) else "done")


@pytest.mark.parametrize("what", ["environ", "mem"])
def test_it_reads_neither_environment_nor_memory_of_server_fork_server_and_other_children(
    what: str, attempt: Attempt, server: ForkServer, files: Path
) -> None:
    task = Task(sheet=SpecSheet(), pdf=files / "other.pdf", measure="tests.jobs.faults:hangs")
    with server.child("service.jobs.children.child:main", task, LIMITS) as other:
        read_to(b"P", other.pipe)
        assert server._process is not None
        of = {os.getpid(), server._process.pid, *descendants_of(server._process.pid)}
        assert len(of) > 2
        for pid in of:
            assert attempt("opens", f"/proc/{pid}/{what}")[0] == "refused"


def test_it_reads_no_memory_by_a_call(attempt: Attempt) -> None:
    known = ctypes.c_uint64(4711)
    assert attempt("reads_memory_by_call", os.getpid(), ctypes.addressof(known))[0] == "refused"
    assert attempt("traces", os.getpid())[0] == "refused"


def test_it_has_inherited_no_secret(attempt: Attempt, up: Callable[..., bool]) -> None:
    assert attempt("has_in_its_environment", "PRINT_SPEC_") == ("done", 0)
    if not up(landlock=1) and not os.geteuid():  # it cannot even look through itself otherwise
        assert attempt("finds_in_its_own_memory", *HALVES) == ("done", 0)


def read_to(letter: bytes, pipe: int) -> None:
    """It has got so far: what it says comes in lines."""
    said = b""
    while letter not in said:
        assert select.select([pipe], [], [], PATIENCE_SECONDS)[0]
        said += os.read(pipe, 2**12)


# --- Changing ----------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("attack", ["changes_through_memory", "deletes"])
def test_it_changes_and_deletes_no_file(attack: str, attempt: Attempt, up: Callable[..., bool], files: Path) -> None:
    """Either wall is enough; without both the rights of the service's user are the only ones."""
    other = files / "other.pdf"
    before = other.read_bytes()
    held = up(landlock=1, seccomp=True)
    assert attempt(attack, other)[0] == ("refused" if held else "done")
    assert (other.exists() and other.read_bytes() == before) is held


@pytest.mark.parametrize(("attack", "since"), [("makes", 1), ("empties", 3), ("locks_out", 99)])
def test_it_makes_and_empties_no_file_and_locks_none(
    attack: str, since: int, attempt: Attempt, up: Callable[..., bool], files: Path
) -> None:
    target = files / ("new" if attack == "makes" else "other.pdf")
    assert attempt(attack, target)[0] == ("refused" if up(landlock=since, seccomp=True) else "done")


def test_it_cannot_raise_its_limits(attempt: Attempt) -> None:
    assert attempt("raises_its_limits")[0] == "refused"


# --- Reaching others ---------------------------------------------------------------------------------------------------------


def test_it_reaches_nobody_over_the_network(attempt: Attempt, up: Callable[..., bool]) -> None:
    with socket.create_server(("127.0.0.1", 0)) as listening:
        port = listening.getsockname()[1]
        assert attempt("connects", port)[0] == ("refused" if up(landlock=4, seccomp=True) else "done")


def test_it_reaches_no_socket_by_its_abstract_name(attempt: Attempt, up: Callable[..., bool]) -> None:
    name = f"print-spec-test-{os.getpid()}"
    with socket.socket(socket.AF_UNIX) as listening:
        listening.bind("\0" + name)
        listening.listen()
        assert attempt("connects_to_a_name", name)[0] == ("refused" if up(landlock=6, seccomp=True) else "done")


def test_nobody_but_its_owner_can_ask_the_fork_server(attempt: Attempt) -> None:
    """Its socket has no name, and a child holds none."""
    assert attempt("finds_open_sockets") == ("done", 0)


def test_it_leaves_nobody_behind(attempt: Attempt, up: Callable[..., bool]) -> None:
    """Without a list of calls it may fork; what it leaves ends with it all the same (`attempt` looks)."""
    assert attempt("leaves_a_grandchild")[0] == ("refused" if up(seccomp=True) else "done")


def test_it_starts_no_program(attempt: Attempt, up: Callable[..., bool]) -> None:
    """Landlock keeps it from running a file, which the forked process tells by 127."""
    said = attempt("starts_a_program")
    assert said[0] == "refused" if up(seccomp=True) else said == ("done", 128 if up(landlock=1) else 1)


def test_it_kills_nobody(
    attempt: Attempt, up: Callable[..., bool], server: ForkServer, neighbour: subprocess.Popen[bytes]
) -> None:
    held = up(landlock=6, seccomp=True)
    said = attempt("kills", neighbour.pid)[0]
    if held:
        assert said == "refused"
        assert neighbour.poll() is None
    elif "namespaces" in server._without:
        assert said == "done"
        assert neighbour.wait(60) == -signal.SIGKILL


def test_it_has_nobody_signalled(attempt: Attempt, up: Callable[..., bool], neighbour: subprocess.Popen[bytes]) -> None:
    if up(seccomp=True):
        assert attempt("signals_through_a_pipe", neighbour.pid)[0] == "refused"


CALLS = {
    "socket": (41, 198), "execve": (59, 221), "ptrace": (101, 117), "mount": (165, 40), "unshare": (272, 97), "bpf": (321, 280),
    "keyctl": (250, 219), "userfaultfd": (323, 282), "perf_event_open": (298, 241), "process_vm_readv": (310, 270),
    "process_vm_writev": (311, 271), "memfd_create": (319, 279), "open_by_handle_at": (304, 265), "setns": (308, 268),
    "chroot": (161, 51), "setuid": (105, 146), "kexec_load": (246, 104), "init_module": (175, 105), "tkill": (200, 130),
    "rt_sigqueueinfo": (129, 138), "io_uring_setup": (425, 425), "io_uring_enter": (426, 426), "pidfd_send_signal": (424, 424),
    "pidfd_open": (434, 434), "clone3": (435, 435), "openat2": (437, 437), "pidfd_getfd": (438, 438),
}  # fmt: skip
"""On x86_64 and aarch64."""


@pytest.mark.parametrize("call", CALLS)
def test_it_makes_no_such_call(call: str, attempt: Attempt, up: Callable[..., bool]) -> None:
    if up(seccomp=True):
        numbers = dict(zip(("x86_64", "aarch64"), CALLS[call], strict=True))
        number = numbers[os.uname().machine]
        assert attempt("calls", number) == ("refused", 38 if number >= 424 else 1)  # ENOSYS, EPERM


# --- What ends with whom -----------------------------------------------------------------------------------------------------


def test_children_end_with_the_fork_server_and_it_with_its_owner(files: Path, server: ForkServer) -> None:
    task = Task(sheet=SpecSheet(), pdf=files / "one.pdf", measure="tests.jobs.faults:hangs")
    with server.child("service.jobs.children.child:main", task, LIMITS):
        (child,) = until(lambda: children_of(server), "a child that runs")
        server.close()
        until(lambda: not alive(child), "the child gone")
