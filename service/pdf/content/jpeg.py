"""How hard a JPEG was compressed, estimated from its quantisation tables.

The estimate is the quality that would scale the example tables of ITU-T T.81, Annex K.1 to the ones in the file, as the
common free encoder scales them: 50 leaves them as they are, 100 makes every step 1. Other encoders count differently, and
a picture that was compressed twice shows only the last time: it is an estimate, not what was typed into a dialogue.

The header is read here and not by Pillow, which gives the same tables on the files that it opens, but refuses JPEGs of two
components (ISO 32000-2:2020, 7.4.8 allows one to four) and those with a byte before them, and does not tell a lossless one.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cache

from service.pdf.facts.unknown import Unmeasured

# T.81, Tables K.1 and K.2, in rows.
_LUMINANCE = (
    16, 11, 10, 16, 24, 40, 51, 61,
    12, 12, 14, 19, 26, 58, 60, 55,
    14, 13, 16, 24, 40, 57, 69, 56,
    14, 17, 22, 29, 51, 87, 80, 62,
    18, 22, 37, 56, 68, 109, 103, 77,
    24, 35, 55, 64, 81, 104, 113, 92,
    49, 64, 78, 87, 103, 121, 120, 101,
    72, 92, 95, 98, 112, 100, 103, 99,
)
_CHROMINANCE = (
    17, 18, 24, 47, 99, 99, 99, 99,
    18, 21, 26, 66, 99, 99, 99, 99,
    24, 26, 56, 99, 99, 99, 99, 99,
    47, 66, 99, 99, 99, 99, 99, 99,
) + (99,) * 32

# T.81, Figure A.6: a table in the file follows the diagonals, to and fro.
_ZIGZAG = sorted(range(64), key=lambda at: (at // 8 + at % 8, at // 8 if (at // 8 + at % 8) % 2 else at % 8))

_END, _SCAN, _TABLES = 0xD9, 0xDA, 0xDB
_NO_LENGTH = frozenset({0x00, 0x01, *range(0xD0, 0xD9)})  # T.81, B.1.1.3; 00 is no marker
_FRAMES = frozenset(range(0xC0, 0xD0)) - {0xC4, 0xC8, 0xCC}  # T.81, Table B.1: the start-of-frame markers
_LOSSLESS_FRAMES = frozenset({0xC3, 0xC7, 0xCB, 0xCF})


_MOST_SEGMENTS = 4096
"""A header with more is not followed to its end: a large picture's profile takes a few dozen. Ours, no source."""


@dataclass
class _Header:
    tables: dict[int, tuple[int, ...]] = field(default_factory=dict)
    table_of_component: list[int] = field(default_factory=list)
    lossless: bool = False


def jpeg_quality(data: bytes) -> int | Unmeasured:
    """1 (coarsest) to 100 (finest), from the header alone. Unmeasured where the header cannot be read."""
    header = _read_header(data)
    if header.lossless:
        return Unmeasured("The JPEG is compressed without loss; it has no quality to estimate.")
    used = tuple(dict.fromkeys(header.table_of_component))
    if not used or any(one not in header.tables for one in used):
        return Unmeasured("The JPEG's header is damaged or incomplete: its quality cannot be estimated.")
    # The first component is the brightness, or each is an ink of its own with the same table.
    pairs = [(header.tables[one], _LUMINANCE if one == used[0] else _CHROMINANCE) for one in used]
    return _exact(pairs) or _by_sums(pairs)


def _exact(pairs: Sequence[tuple[tuple[int, ...], tuple[int, ...]]]) -> int | None:
    """The quality that gives exactly these tables, the highest where several do."""
    return next((q for q in range(100, 0, -1) if all(_scaled(example, q) == found for found, example in pairs)), None)


@cache
def _scaled(example: tuple[int, ...], quality: int) -> tuple[int, ...]:
    """In the order of the file, steps held to 1–255 as a baseline JPEG needs."""
    percent = 5000 // quality if quality < 50 else 200 - 2 * quality
    return tuple(min(255, max(1, (example[at] * percent + 50) // 100)) for at in _ZIGZAG)


def _by_sums(pairs: Sequence[tuple[tuple[int, ...], tuple[int, ...]]]) -> int:
    percent = 100 * sum(sum(found) for found, _ in pairs) / sum(sum(example) for _, example in pairs)
    quality = (200 - percent) / 2 if percent <= 100 else 5000 / percent
    return min(100, max(1, round(quality)))


def _read_header(data: bytes) -> _Header:
    """Tables and frame up to the first scan (T.81, B.2). What cannot be followed ends the reading."""
    header = _Header()
    at = 0
    for _ in range(_MOST_SEGMENTS):
        at = data.find(0xFF, at)
        if at < 0 or at + 4 > len(data) or data[at + 1] in (_SCAN, _END):
            break
        marker = data[at + 1]
        if marker in _NO_LENGTH or marker == 0xFF:  # 0xFF: fill before a marker
            at += 1 if marker == 0xFF else 2
            continue
        length = int.from_bytes(data[at + 2 : at + 4], "big")
        body = data[at + 4 : at + 2 + length]
        if marker == _TABLES:
            _read_tables(body, header)
        elif marker in _FRAMES:
            header.lossless = marker in _LOSSLESS_FRAMES
            header.table_of_component = [body[i + 2] for i in range(6, len(body) - 2, 3)][: body[5] if len(body) > 5 else 0]
        at += 2 + max(length, 2)
    return header


def _read_tables(body: bytes, header: _Header) -> None:
    """T.81, B.2.4.1: precision and number in one byte, then 64 steps of one or two bytes."""
    at = 0
    while at < len(body):
        wide, number = body[at] >> 4, body[at] & 15
        size = 2 if wide else 1
        steps = body[at + 1 : at + 1 + 64 * size]
        if len(steps) < 64 * size:
            return
        header.tables[number] = tuple(int.from_bytes(steps[i : i + size], "big") for i in range(0, len(steps), size))
        at += 1 + 64 * size
