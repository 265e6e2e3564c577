"""ASCII85 undone in whole groups (ISO 32000-2:2020, 7.4.3): letter by letter, as the parser does it, takes thrice as long."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

_FIRST, _LAST, _NOTHING = ord("!"), ord("u"), b"!!!!!"
_ZEROS, _END, _WHITE = b"z", b"~>", b" \t\n\v\f\r"
_GROUPS_AT_A_TIME = 1 << 14
"""What is worked out stays in the processor's own memory. Ours, no source."""
_OFFSET = np.uint32(sum(_FIRST * 85**place for place in range(5)) % 2**32)

Letters = npt.NDArray[np.uint8]


def whole_groups(data: bytes) -> tuple[bytes, bytes] | None:
    """What all whole groups hold, and what text is left behind them; None for what is for the parser to judge."""
    end = data.find(_END[:1])
    if not data.startswith(_END, max(end, 0)):
        return None
    letters = np.frombuffer(data, np.uint8, end)
    if end and letters.min() < _FIRST:
        letters = np.frombuffer(data[:end].translate(None, _WHITE), np.uint8)
    if len(letters) and letters.max() > _LAST:
        short = np.flatnonzero(letters == ord(_ZEROS))
        if ((short - np.arange(len(short))) % 5).any():  # one may stand for a whole group only
            return None
        letters = np.frombuffer(letters.tobytes().replace(_ZEROS, _NOTHING), np.uint8)
    if len(letters) and not _FIRST <= letters.min() <= letters.max() <= _LAST:
        return None
    count = len(letters) // 5
    rest = letters[5 * count :].tobytes()
    return _numbers(letters[: 5 * count].reshape(count, 5)), rest and rest + _END


def _numbers(groups: Letters) -> bytes:
    """Each group as a number of four bytes, the highest first; of one that is too large the lowest four, as the parser does."""
    numbers = np.empty(len(groups), ">u4")
    for start in range(0, len(groups), _GROUPS_AT_A_TIME):
        some = groups[start : start + _GROUPS_AT_A_TIME]
        number = some[:, 0].astype(np.uint32)
        for place in range(1, 5):
            number *= np.uint32(85)
            number += some[:, place]
        numbers[start : start + len(some)] = number - _OFFSET
    return numbers.tobytes()
