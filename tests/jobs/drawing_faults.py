"""Drawing steps that go wrong, each in its own way. They run in the child process."""

# ruff: noqa: ARG001 (each has the arguments of a drawing step)

from __future__ import annotations

import os
import resource
import sys
import time
from pathlib import Path

from service.pdf.facts.unknown import Unmeasured


def draws(path: Path, brief: object) -> bytes | Unmeasured:
    """Bytes with line ends in them, more than a pipe holds."""
    return b"R{}\nE\n" * 100_000 + repr(brief).encode()


def draws_nothing_known(path: Path, brief: object) -> bytes | Unmeasured:
    return b"<html>no picture</html>"


def lists_open_files(path: Path, brief: object) -> bytes | Unmeasured:
    """What each open file leads to, one a line."""
    found = []
    for number in range(4096):  # listing the folder would be refused
        try:
            found.append(f"{number} {Path(f'/proc/self/fd/{number}').readlink()}")
        except OSError:
            continue
    return "\n".join(found).encode()


def lists_what_is_loaded(path: Path, brief: object) -> bytes | Unmeasured:
    return "\n".join(sys.modules).encode()


def has_a_reason(path: Path, brief: object) -> bytes | Unmeasured:
    return Unmeasured("The page is damaged. Export it again.")


def aborts(path: Path, brief: object) -> bytes | Unmeasured:
    os.abort()


def leaves(path: Path, brief: object) -> bytes | Unmeasured:
    os._exit(0)


def raises(path: Path, brief: object) -> bytes | Unmeasured:
    raise KeyError("a mistake in our own drawing")


def hangs(path: Path, brief: object) -> bytes | Unmeasured:
    time.sleep(3600)
    raise AssertionError


def eats_memory(path: Path, brief: object) -> bytes | Unmeasured:
    kept = []
    while True:
        kept.append(bytearray(2**26))


def says_garbage(path: Path, brief: object) -> bytes | Unmeasured:
    return _says(b"\x80\x04\x95 this is no line of ours\n")


def says_too_much(path: Path, brief: object) -> bytes | Unmeasured:
    return _says(b"B99999999999\n")


def says_more_than_told(path: Path, brief: object) -> bytes | Unmeasured:
    return _says(b"B4\n12345")


def says_less_than_told(path: Path, brief: object) -> bytes | Unmeasured:
    _write(b"B4\n123")
    os._exit(0)


def says_a_line_without_end(path: Path, brief: object) -> bytes | Unmeasured:
    while True:
        _write(b"N" + b"x" * 2**20)


def says_an_endless_reason(path: Path, brief: object) -> bytes | Unmeasured:
    return _says(b'N"' + b"x" * 50_000 + b'"\n')


def says_a_reason_that_is_none(path: Path, brief: object) -> bytes | Unmeasured:
    return _says(b"N{}\n")


def _says(line: bytes) -> bytes:
    _write(line)
    time.sleep(3600)
    raise AssertionError


def _write(line: bytes) -> None:
    """To every open file, as a process that was taken over could."""
    for number in range(3, 64):
        try:
            os.write(number, line)
        except OSError:
            continue


def tells_what_it_has_cost(path: Path, brief: object) -> bytes | Unmeasured:
    return str(time.process_time()).encode()


def tells_what_memory_used_again_has_cost(path: Path, brief: object) -> bytes | Unmeasured:
    """Pieces of 1 to 7 MB, one after the other: each is let go before the next is written."""
    before = resource.getrusage(resource.RUSAGE_SELF).ru_minflt
    for megabytes in range(1, 8):
        bytearray(b"\1") * (megabytes * 2**20)
    return str(resource.getrusage(resource.RUSAGE_SELF).ru_minflt - before).encode()
