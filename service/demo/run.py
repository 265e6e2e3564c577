"""`print-spec demo`: makes the order, starts the real service, sends every file over HTTP and shows what came back."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import requests
from rich.console import Console
from rich.progress import BarColumn, Progress, TaskID, TextColumn, TimeElapsedColumn

import service
from service.cli import telling
from service.demo.order import ORDER, Sent, make_files
from service.demo.port import free_port
from service.demo.summary import summary
from service.language.spoken import say, spoken
from service.language.wording import number

START_SECONDS = 60
CHECK_SECONDS = 120


class DemoFailed(RuntimeError):
    """The service did not start, or did not answer as a service should."""


@dataclass(frozen=True)
class Outcome:
    sent: Sent
    answer: Mapping[str, Any]
    seconds: float
    """From sending the file to having the finished check."""

    @property
    def surprises(self) -> list[str]:
        """How the result differs from what this file deserves; empty where it does not."""
        surprises = []
        if self.answer["verdict"] != self.sent.verdict:
            surprises.append(f"is {self.answer['verdict']}, expected {self.sent.verdict}")
        broken = {one["rule"] for one in self.answer["findings"]}
        surprises += [f"does not break {rule}" for rule in self.sent.rules if rule not in broken]
        return surprises


def run_demo(out: Path) -> int:
    """0 where every file got the verdict that it deserves, else 1. Leaves PDFs, results and summary.md in `out`."""
    screen = telling.console()
    out.mkdir(parents=True, exist_ok=True)
    try:
        with _progress() as progress:
            _make(out, progress)
            with running_service() as address:
                outcomes = list(_send_all(out, address, progress))
    except DemoFailed as failed:
        print(failed, file=sys.stderr)
        return 1
    _write(out, outcomes)
    _show(screen, out, outcomes)
    surprises = [f"{one.sent.file} as {one.sent.spec} {what}" for one in outcomes for what in one.surprises]
    for line in surprises:
        screen.print(f"Not as expected: {line}", style="bold", markup=False)
    return 1 if surprises else 0


def _progress() -> Progress:
    """On stderr, and only where someone watches."""
    watched = telling.console(stderr=True)
    columns = (TextColumn("{task.description}", markup=False), BarColumn(), TimeElapsedColumn())
    return Progress(*columns, console=watched, transient=True, disable=not watched.is_terminal)


def _make(out: Path, progress: Progress) -> None:
    names = list(dict.fromkeys(one.file for one in ORDER))
    task = progress.add_task(say("Drawing the order"), total=len(names))

    def step(name: str) -> None:
        progress.update(task, description=say("Drawing {file}", file=name), completed=names.index(name))

    make_files(out, step)
    progress.update(task, description=say("Drawing the order"), completed=len(names))


@contextmanager
def running_service() -> Iterator[str]:
    """A service of its own on a free port of this machine, with default settings and a data folder that is thrown away."""
    with tempfile.TemporaryDirectory(prefix="print-spec-demo-") as data:
        port = free_port()
        environment = {name: value for name, value in os.environ.items() if not name.startswith("PRINT_SPEC_")}
        log = Path(data, "service.log")
        with log.open("wb") as lines:
            process = subprocess.Popen(
                [sys.executable, "-m", "service", "serve", "--port", str(port)],
                env=environment | {"PRINT_SPEC_DATA": str(Path(data, "data"))},
                cwd=Path(service.__file__).parents[1],  # the same package, whatever folder the demo was started in
                stdout=lines,
                stderr=subprocess.STDOUT,
                start_new_session=True,
            )
            try:
                address = f"http://127.0.0.1:{port}"
                _wait_until_ready(process, address, log)
                yield address
            finally:
                process.terminate()
                try:
                    process.wait(20)
                except subprocess.TimeoutExpired:
                    process.kill()
                    process.wait()


def _wait_until_ready(process: subprocess.Popen[bytes], address: str, log: Path) -> None:
    until = time.monotonic() + START_SECONDS
    with _session() as session:
        while process.poll() is None and time.monotonic() < until:
            try:
                if session.get(f"{address}/readyz", timeout=2).ok:
                    return
            except (requests.ConnectionError, requests.Timeout):  # it may be slow on a busy machine
                time.sleep(0.05)
    raise DemoFailed(f"The service did not start. It said:\n{log.read_text(errors='replace')[-4000:]}")


def _session() -> requests.Session:
    session = requests.Session()
    session.trust_env = False  # a proxy for the internet must not get requests for this machine
    session.headers["Accept-Language"] = spoken()
    return session


def _send_all(out: Path, address: str, progress: Progress) -> Iterator[Outcome]:
    whole = progress.add_task(say("Checking the order"), total=len(ORDER))
    with _session() as session:
        for sent in ORDER:
            task = progress.add_task(f"  {sent.file}", total=None)
            started = time.monotonic()
            answer = _check(session, address, out / sent.file, sent.spec, progress, task)
            yield Outcome(sent, answer, time.monotonic() - started)
            progress.remove_task(task)
            progress.advance(whole)


def _check(session: requests.Session, address: str, pdf: Path, spec: str, progress: Progress, task: TaskID) -> Mapping[str, Any]:
    """Sends the file as an upload form does, then asks how it goes until the check is finished."""
    with pdf.open("rb") as file:
        sent = session.post(
            f"{address}/v1/checks",
            files={"file": (pdf.name, file, "application/pdf")},
            data={"spec": spec},
            headers={"Prefer": "respond-async"},
            timeout=CHECK_SECONDS,
        )
    answer = _json(sent, pdf)
    until = time.monotonic() + CHECK_SECONDS
    while answer["state"] in ("queued", "running"):
        if time.monotonic() > until:
            raise DemoFailed(f"The check of {pdf.name} did not end within {CHECK_SECONDS} seconds.")
        if how_far := answer.get("progress"):
            progress.update(task, completed=how_far["page"], total=how_far["pages"] or None)
        time.sleep(0.05)
        answer = _json(session.get(f"{address}/v1/checks/{answer['id']}", timeout=CHECK_SECONDS), pdf)
    if answer["state"] != "finished":
        raise DemoFailed(f"The check of {pdf.name} failed: {answer.get('problem')}")
    return answer


def _json(response: requests.Response, pdf: Path) -> Mapping[str, Any]:
    if not response.ok:
        raise DemoFailed(f"The service refused {pdf.name} with {response.status_code}:\n{response.text[:2000]}")
    found: Mapping[str, Any] = response.json()
    return found


def _write(out: Path, outcomes: list[Outcome]) -> None:
    for one in outcomes:
        result = out / result_name(one.sent)
        result.write_text(json.dumps(one.answer, indent=2, ensure_ascii=False) + "\n", encoding="utf-8")
    parts = [(one.sent.story, result_name(one.sent), one.answer) for one in outcomes]
    (out / "summary.md").write_text(summary(parts), encoding="utf-8")


def result_name(sent: Sent) -> str:
    return f"{Path(sent.file).stem}.{sent.spec}.json"


def _show(screen: Console, out: Path, outcomes: list[Outcome]) -> None:
    screen.print(say("Halyard Lane Bakery sends its print order to Copperbeck Press"), "\n", style="bold", sep="")
    screen.print(telling.verdicts([one.answer for one in outcomes]))
    for one in outcomes:
        if one.answer["findings"]:
            screen.print()
            screen.print(telling.findings(one.answer))
    seconds = sorted(one.seconds for one in outcomes)
    lines = (
        "",
        say("Over HTTP the checks took {least} to {most} seconds each.", least=_seconds(seconds[0]), most=_seconds(seconds[-1])),
        say("Conforming is not a promise of a good print: the printer's own proof and terms decide."),
        say("PDFs, results as JSON and summary.md are in {folder}", folder=str(out)),
    )
    screen.print("\n".join(lines), markup=False, soft_wrap=True)


def _seconds(value: float) -> str:
    return number(value, 2)
