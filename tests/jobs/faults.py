"""Measuring steps that go wrong, each in its own way. They run in the child process."""

# ruff: noqa: ARG001 (each has the arguments of a measuring step)

from __future__ import annotations

import os
import signal
import subprocess
import time
from collections.abc import Callable
from pathlib import Path

from service.pdf.facts.measurements import Measurements
from service.pdf.facts.unknown import Failure
from service.pdf.question import Question

Progress = Callable[[str, int, int], None]


def aborts(path: Path, question: Question, progress: Progress) -> Measurements:
    os.abort()


def hangs(path: Path, question: Question, progress: Progress) -> Measurements:
    signal.signal(signal.SIGTERM, signal.SIG_IGN)
    progress("pages", 1, 9)
    time.sleep(3600)
    raise AssertionError


def spins(path: Path, question: Question, progress: Progress) -> Measurements:
    while True:
        pass


def stays_if_told(path: Path, question: Question, progress: Progress) -> Measurements:
    """Runs until it is stopped where the file says so, and leaves the processor to the others; those are measured."""
    if path.read_bytes().startswith(b"%PDF-1.7 stays"):
        time.sleep(3600)
    from service.pdf.measure import measure

    return measure(path, question, progress)


def eats_memory(path: Path, question: Question, progress: Progress) -> Measurements:
    kept = []
    while True:
        kept.append(bytearray(2**26))


def raises(path: Path, question: Question, progress: Progress) -> Measurements:
    raise KeyError("a mistake in our own measuring")


def leaves(path: Path, question: Question, progress: Progress) -> Measurements:
    os._exit(0)


def says_garbage(path: Path, question: Question, progress: Progress) -> Measurements:
    _say(b"\x80\x04\x95 this is no line of ours\n")
    time.sleep(3600)
    raise AssertionError


def says_wrong_measurements(path: Path, question: Question, progress: Progress) -> Measurements:
    _say(b'M{"document": {"size_bytes": "many"}, "pages": []}\n')
    time.sleep(3600)
    raise AssertionError


def says_bottomless_json(path: Path, question: Question, progress: Progress) -> Measurements:
    _say(b"M" + b"[" * 200_000 + b"\n")
    time.sleep(3600)
    raise AssertionError


def says_impossible_progress(path: Path, question: Question, progress: Progress) -> Measurements:
    _say(b'P["<b>pages</b>", 3, 2]\n')
    time.sleep(3600)
    raise AssertionError


def talks_without_end(path: Path, question: Question, progress: Progress) -> Measurements:
    while True:
        _say(b"M" + b" " * 2**20)


def has_a_child_of_its_own(path: Path, question: Question, progress: Progress) -> Measurements:
    """The grandchild keeps the pipe open; its id is told as the number of pages."""
    grandchild = subprocess.Popen(["sleep", "3600"], close_fds=False)
    progress("pages", 0, grandchild.pid)
    time.sleep(3600)
    raise AssertionError


def writes_a_file(path: Path, question: Question, progress: Progress) -> Measurements:
    path.with_suffix(".left").write_bytes(b"x" * 100)
    raise AssertionError


def is_quick(path: Path, question: Question, progress: Progress) -> Measurements:
    progress("pages", 1, 1)
    return Measurements.unreadable(7, Failure("broken", "Nothing to see."))


def waits_for_a_file(path: Path, question: Question, progress: Progress) -> Measurements:
    """Goes on when a file 'go' lies beside the PDF."""
    progress("pages", 1, 2)
    while not (path.parent / "go").exists():
        time.sleep(0.02)
    return is_quick(path, question, progress)


def _say(line: bytes) -> None:
    """To every open file, as a process that was taken over could."""
    for number in range(3, 64):
        try:
            os.write(number, line)
        except OSError:
            continue
