"""The measurements of a check, for whatever is answered with them.

Large ones are read by few requests at a time: a file that says little can be measured as much.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager, nullcontext
from typing import Any

from flask import json

from service.answers.measurements import measurement_answer
from service.api.checks.pages_apart import PagesApart
from service.api.http.blueprint import parts
from service.api.http.problems import Problem, busy
from service.jobs.queue_full import QueueFull
from service.language.spoken import say
from service.pdf.codec import measurements_from_json, pages_apart
from service.pdf.facts.measurements import Measurements
from service.pdf.facts.page import Page
from service.pdf.facts.unknown import Unmeasured
from service.store.measured import Sizes
from service.store.models import CheckRow

MOST_IN_A_CHECK_BYTES = 2_000_000
"""That measurements have of a check's answer; what is more has an address of its own (design 8.23)."""
_LARGE_BYTES = 2_000_000
"""Of what is kept; an answer has a tenth of it as a rule (measured)."""
_SURELY_TOO_LARGE_BYTES = 20 * MOST_IN_A_CHECK_BYTES
_LONGER_AT_MOST = 10
"""Times, than what is kept, an answer surely is: one that is short anyhow is not put together once more to count it."""


def measurements_of(row: CheckRow) -> Measurements | None:
    """None where there are none. Raises `Problem`."""
    with reading(row) as found:
        return found


@contextmanager
def reading(row: CheckRow) -> Iterator[Measurements | None]:
    """For what is told of them while they are there. Raises `Problem`."""
    digest = row.measured
    sizes = parts().measured.sizes(digest) if digest else None
    if digest is None or sizes is None:
        yield None
        return
    with _read_by_turns(digest, sizes) as found:
        yield found


@contextmanager
def _read_by_turns(digest: str, sizes: Sizes) -> Iterator[Measurements | None]:
    known = parts().recent.get(digest)
    with _by_turns(sizes):
        yield known or _read(digest)


@contextmanager
def _by_turns(sizes: Sizes) -> Iterator[None]:
    try:
        with parts().workbench.turn() if sizes.stored_bytes > _LARGE_BYTES else nullcontext():
            yield
    except QueueFull as full:
        raise busy(full) from full


def _read(digest: str) -> Measurements | None:
    text = parts().measured.text(digest)
    if text is None:
        return None
    found = measurements_from_json(text)
    if len(text) <= _LARGE_BYTES:  # a larger one is gone as soon as it is told
        parts().recent.keep(digest, found, len(text))
    return found


def pages_of(row: CheckRow) -> Sequence[Page] | Unmeasured:
    """Of a finished check; large ones are read one by one, as they are looked at. Raises `Problem`."""
    digest = row.measured
    sizes = parts().measured.sizes(digest) if digest else None
    if digest is None or sizes is None or sizes.stored_bytes <= _LARGE_BYTES or parts().recent.get(digest):
        return needed(measurements_of(row)).pages
    with _by_turns(sizes):
        text = parts().measured.text(digest)
        if text is None:
            return needed(None).pages  # forgotten just now
        found = pages_apart(text)
        return found if isinstance(found, Unmeasured) else PagesApart(found)


def in_a_check(row: CheckRow) -> dict[str, Any] | None:
    """For a check's answer; None where there are none, or too many. Raises `Problem`."""
    here, digest = parts(), row.measured
    if digest and (known := here.recent.get(digest, MOST_IN_A_CHECK_BYTES // _LONGER_AT_MOST)):
        return measurement_answer(known)  # surely short enough
    sizes = here.measured.sizes(digest) if digest else None
    if digest is None or sizes is None or sizes.stored_bytes > _SURELY_TOO_LARGE_BYTES:
        return None
    if (sizes.answer_bytes or 0) > MOST_IN_A_CHECK_BYTES:
        return None
    with _read_by_turns(digest, sizes) as found:
        answer = measurement_answer(found) if found else None
        if sizes.answer_bytes is None and answer and _LONGER_AT_MOST * sizes.stored_bytes > MOST_IN_A_CHECK_BYTES:
            size = len(json.dumps(answer).encode())
            here.measured.note_answer(digest, size)
            return answer if size <= MOST_IN_A_CHECK_BYTES else None
    return answer


def needed(measurements: Measurements | None) -> Measurements:
    """Where the check is finished. Raises `Problem` where it was forgotten just now."""
    if measurements is None:
        raise Problem("check-not-found", say("There is no check of this id, or it was forgotten meanwhile."))
    return measurements
