"""What is said where this kernel offers less, and who refuses to start then."""

from __future__ import annotations

import logging
from pathlib import Path

import pytest

from service.__main__ import main
from service.jobs.children.confinement import walls
from service.jobs.children.confinement.kernel import prctl
from service.jobs.children.confinement.walls import Walls, offered, told
from service.jobs.children.sandbox import demand
from service.settings import SettingsRefused, read_settings
from service.wiring import make_parts
from tests.build import page
from tests.jobs.children.processes import descendants_of
from tests.patience import until
from tests.running import running

NO_LANDLOCK = Walls(landlock_abi=0, seccomp=True)


@pytest.fixture
def without_landlock(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("service.jobs.children.confinement.walls.offered", lambda: NO_LANDLOCK)
    monkeypatch.setattr("service.working.offered", lambda: NO_LANDLOCK)
    monkeypatch.setenv("PRINT_SPEC_SANDBOX", "required")


def test_a_whole_sandbox_is_not_worth_a_word() -> None:
    assert told(Walls(landlock_abi=1, seccomp=True).lacks) == ""


@pytest.mark.parametrize(
    ("walls", "named"), [(NO_LANDLOCK, {"Landlock"}), (Walls(3, False), {"seccomp"}), (Walls(0, False), {"Landlock", "seccomp"})]
)
def test_what_is_missing_is_said_in_one_line(walls: Walls, named: set[str]) -> None:
    line = told(walls.lacks)
    assert "\n" not in line
    assert {one for one in ("Landlock", "seccomp") if one in line} == named


def test_what_a_test_leaves_out_is_missing() -> None:
    assert offered(frozenset({"landlock", "seccomp"})).lacks == ("landlock", "seccomp")


@pytest.mark.usefixtures("without_landlock")
def test_what_is_required_and_missing_keeps_everything_from_starting(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("PRINT_SPEC_DATA", str(tmp_path / "data"))
    card = page(85, 55).save(tmp_path / "card.pdf")
    for command in (["serve"], ["check", str(card), "--spec", "business-card-85x55"], ["preview", str(card), "-o", "no.pdf"]):
        assert main(command) == 2
        said = capsys.readouterr().err
        assert "PRINT_SPEC_SANDBOX" in said
        assert "Landlock" in said
    with pytest.raises(SettingsRefused):  # under another server than ours
        make_parts(read_settings())
    assert not (tmp_path / "data").exists()


@pytest.mark.usefixtures("without_landlock")
def test_what_is_missing_and_not_required_is_said_at_the_start(
    tmp_path: Path, caplog: pytest.LogCaptureFixture, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("service.serving._Server.run", lambda _: None)
    monkeypatch.setenv("PRINT_SPEC_DATA", str(tmp_path / "data"))
    monkeypatch.setenv("PRINT_SPEC_SANDBOX", "available")
    with caplog.at_level(logging.WARNING):
        assert main(["serve"]) == 0
    (line,) = [one.getMessage() for one in caplog.records if one.name == "service.working"]
    assert line == told(NO_LANDLOCK.lacks)


def test_the_server_shuts_its_memory_before_it_begins(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    get, put = 3, 4  # PR_GET_DUMPABLE, PR_SET_DUMPABLE
    prctl(put, 1)
    monkeypatch.setattr("service.serving._Server.run", lambda _: None)
    monkeypatch.setenv("PRINT_SPEC_DATA", str(tmp_path / "data"))
    assert main(["serve"]) == 0
    assert prctl(get) == 0


def test_no_secret_reaches_the_fork_server(tmp_path: Path) -> None:
    secret = "of-the-server-and-of-nobody-else-0123456789"
    with running(tmp_path / "data", own_fork_server=True, TOKEN_SECRET=secret) as service:
        environments = until(lambda: _environments_of_fork_servers(service.process.pid), "a fork server")
    assert environments
    assert not any(secret.encode() in one for one in environments)


def _environments_of_fork_servers(server: int) -> list[bytes]:
    """What whoever may look can see: an ordinary user is refused, which is as good."""
    found = []
    for pid in descendants_of(server):
        process = Path(f"/proc/{pid}")
        try:
            if b"jobs.children.forking" in (process / "cmdline").read_bytes():
                found.append((process / "environ").read_bytes())
        except PermissionError:
            found.append(b"")
        except OSError:
            continue
    return found


def test_what_is_available_is_enough_unless_said_otherwise() -> None:
    demand(read_settings({}).sandbox)


def test_a_folder_that_nobody_may_look_into_is_not_there(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """As that of a Python that was built in somebody else's home."""
    shut = tmp_path / "home" / "lib"

    def shuts(path: Path, **_: object) -> bool:
        if path == shut:
            raise PermissionError(13, "Permission denied", str(path))
        return True

    monkeypatch.setattr(walls.sysconfig, "get_config_var", lambda _: str(shut))
    monkeypatch.setattr(Path, "exists", shuts)
    found = walls._read_by_all()
    assert found
    assert shut not in found
