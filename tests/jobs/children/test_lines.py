"""The lines between child and parent: what is sent comes in however it is cut, and nothing else does."""

from __future__ import annotations

import os
from collections.abc import Callable

import pytest

from service.jobs.children.lines import (
    MEASUREMENTS,
    NOT_DRAWN,
    READY,
    ErrorTold,
    Heard,
    TooMuchSaid,
    progress_told,
    send,
    send_bytes,
    send_error,
    send_progress,
)


class Listener(Heard):
    def __init__(self, most_bytes: int = 10_000, longest_line: int | None = None, most_drawn: int = 0) -> None:
        super().__init__(most_bytes, longest_line, most_drawn)
        self.lines: list[tuple[bytes, str]] = []
        self.taken: list[bytes] = []

    @property
    def complete(self) -> bool:
        return bool(self.taken)

    def understand(self, letter: bytes, text: str) -> None:
        self.lines.append((letter, text))

    def take(self, data: bytes) -> None:
        self.taken.append(data)


def sent(*sends: Callable[[int], None]) -> bytes:
    """What comes out of the pipe."""
    theirs, ours = os.pipe()
    try:
        for one in sends:
            one(ours)
        os.close(ours)
        with os.fdopen(theirs, "rb", closefd=False) as pipe:
            return pipe.read()
    finally:
        os.close(theirs)


@pytest.mark.parametrize("size", [1, 2, 3, 7, 1000])
def test_what_is_sent_comes_in_however_it_is_cut(size: int) -> None:
    data = sent(
        lambda out: send(out, READY),
        lambda out: send_progress(out, "pages", 1, 2),
        lambda out: send(out, MEASUREMENTS, '{"name": "Bäckerei"}'),
        lambda out: send_bytes(out, b"E\nbytes with\nlines in them\n"),
    )
    listener = Listener(most_drawn=100)
    for at in range(0, len(data), size):
        listener.hear(data[at : at + size])
    assert listener.ready
    assert listener.lines == [(b"P", '["pages", 1, 2]'), (b"M", '{"name": "Bäckerei"}')]
    assert listener.taken == [b"E\nbytes with\nlines in them\n"]


@pytest.mark.parametrize("memory", [True, False])
def test_an_error_comes_in_with_the_end_of_its_trace(memory: bool) -> None:
    listener = Listener(most_bytes=20_000)
    listener.hear(sent(lambda out: send_error(out, memory=memory, trace="x" * 20_000 + "KeyError: 'é\n'")))
    assert isinstance(listener.error, ErrorTold)
    assert listener.error.memory is memory
    assert len(listener.error.trace) == 8000
    assert listener.error.trace.endswith("KeyError: 'é\n'")


def test_half_a_character_pair_is_sent_as_something_else() -> None:
    listener = Listener()
    listener.hear(sent(lambda out: send(out, NOT_DRAWN, "cut \ud83e")))
    assert listener.lines == [(b"N", r"cut \ud83e")]


@pytest.mark.parametrize(
    "line",
    [
        b"E{}\n", b'E[true, 7]\n', b'E["true", ""]\n', b"M\xff\xfe\n", b"B4\n", b"E" + b"[" * 9000 + b"\n",
    ],
)
def test_what_no_child_of_ours_sends_is_refused(line: bytes) -> None:
    with pytest.raises((ValueError, RecursionError)):
        Listener().hear(line)


@pytest.mark.parametrize("number", [b"", b"0", b"-1", b"101", b"4.0", b"99999999999999", "٤".encode(), b"1_0", b" 4"])
def test_a_number_of_bytes_is_one_that_may_be_drawn(number: bytes) -> None:
    with pytest.raises(ValueError, match="bytes"):
        Listener(most_drawn=100).hear(b"B" + number + b"\n")


def test_more_bytes_than_were_told_are_refused() -> None:
    with pytest.raises(ValueError, match="more bytes"):
        Listener(most_drawn=100).hear(b"B4\n12345")


@pytest.mark.parametrize("data", [b"M" + b"x" * 101, b"M" + b"x" * 101 + b"\n"])
def test_a_line_has_an_end(data: bytes) -> None:
    Listener(longest_line=200).hear(data)
    with pytest.raises(ValueError, match="line"):
        Listener(longest_line=100).hear(data)


def test_all_that_is_said_has_an_end() -> None:
    listener = Listener(most_bytes=1000)
    listener.hear(b"P[]\n" * 250)
    with pytest.raises(TooMuchSaid):
        listener.hear(b"P")


@pytest.mark.parametrize(
    "text",
    ["[]", '["<b>pages</b>", 1, 2]', '["pages", 3, 2]', '["pages", -1, 2]', '["pages", 1.0, 2]', '["pages", 1, 9999999999]', "7"],
)
def test_progress_that_cannot_be_is_refused(text: str) -> None:
    assert progress_told('["pages", 1, 2]') == ("pages", 1, 2)
    with pytest.raises(ValueError, match="progress"):
        progress_told(text)
