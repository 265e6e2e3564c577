"""Where a run of path operators ends (see `path_runs`): by a pattern near its start, by arrays where it goes on for megabytes."""

from __future__ import annotations

import re

import numpy as np
import numpy.typing as npt

_SPACE = rb"[\t\n\x0c\r ]"
PATH_RUN = re.compile(
    _SPACE + rb"*+(?>(?:(?>(?:[-+.\d]++" + _SPACE + rb"++)*)(?:[mlcvyhnwkKgG]|re|rg|RG|[fBb]\*?|[FSs])" + _SPACE + rb"++)+)"
)
_LOOK_BYTES = 4_096
"""For the pattern; a run that goes on is looked at in pieces that double, so that a short one is never searched for long."""
_TAIL_BYTES = 256
"""An operator with its operands and blanks is shorter; of a longer one a new run is made."""
_BLANK, _NUMBER, _LETTER, _OTHER = range(4)
_KINDS = np.full(256, _OTHER, np.uint8)
_KINDS[list(b"\t\n\x0c\r ")] = _BLANK
_KINDS[list(b"0123456789+-.")] = _NUMBER
_KINDS[list(b"mlcvyhnwkKgGreRfFbBsS*")] = _LETTER
_IS_PAIR = np.zeros(1 << 16, np.bool_)
_IS_PAIR[[one[0] | one[1] << 8 for one in (b"re", b"rg", b"RG", b"f*", b"B*", b"b*")]] = True


def run_end(data: bytes, start: int) -> int | None:
    """None where no run starts."""
    found = PATH_RUN.match(data, start, start + _LOOK_BYTES)
    if not found:
        return None
    end, looked, until = found.end(), _LOOK_BYTES, start + _LOOK_BYTES
    while until < len(data) and end > until - _TAIL_BYTES:
        looked *= 2
        until = end + looked
        end = _end_within(np.frombuffer(data, np.uint8, min(until, len(data)) - end, end)) + end
    return end


def _end_within(letters: npt.NDArray[np.uint8]) -> int:
    """Behind the last operator before anything that belongs to no run: another character, two tokens in one, another operator of
    these letters (`cm`). A single letter that is no operator is left to `path_run`.
    """
    kinds = _KINDS[letters]
    others = np.flatnonzero(kinds == _OTHER)
    stop = int(others[0]) if len(others) else len(letters)
    kinds = kinds[:stop]
    joined = np.flatnonzero((kinds[:-1] != _BLANK) & (kinds[1:] != _BLANK) & ((kinds[:-1] | kinds[1:]) >= _LETTER))
    wrong = ~_IS_PAIR[letters[joined] | letters[joined + 1].astype(np.uint16) << 8]
    longer = np.diff(joined) == 1
    wrong[1:] |= longer
    wrong[:-1] |= longer
    if wrong.any():
        stop = int(joined[wrong][0])
    tail = kinds[max(stop - _TAIL_BYTES, 0) : stop]
    ends = np.flatnonzero((tail[:-1] == _LETTER) & (tail[1:] == _BLANK))
    return stop - len(tail) + int(ends[-1]) + 2 if len(ends) else 0
