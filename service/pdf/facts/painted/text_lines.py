"""Text runs as the lines that a reader sees, whatever pieces the layout program set them in.

Gaps are told in ems of the type that follows. Text that runs upwards or across is joined only where one run holds it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from service.pdf.facts.geometry import MM_PER_POINT, Box
from service.pdf.facts.painted.text import TextRun
from service.pdf.facts.unknown import Unmeasured

WORD_GAP_EM = 0.18
"""A wider gap between runs is a blank. Common practice, no source: blanks are a quarter of the size, kerning far less."""

COLUMN_GAP_EM = 2.0
"""A wider gap starts another line: the next column, or cell of a table. Ours, no source."""

OVERLAP_EM = 1.0
"""A run that starts this far back stands on top of the line, as a drop shadow does: a line of its own."""

LONGEST_LINE = 2000
"""Characters of a line that are looked at."""


class Line(NamedTuple):
    text: str
    box_mm: Box
    """By the type boxes of its runs."""
    ink_mm: Box
    """Where its ink ends, as far as that is known; else as `box_mm`."""


def _gap_em(box: Box, run: TextRun) -> float:
    """From the end of what stands in the box to the start of the run."""
    return (run.box_mm.x0 - box.x1) / max(run.size_pt * MM_PER_POINT, 0.1)


def read_on(text: str, following: str, gap: float) -> str:
    """Both as one text, with a blank where the gap is one and none is written."""
    blank = " " if gap > WORD_GAP_EM and not text.endswith(" ") and not following.startswith(" ") else ""
    return text + blank + following


def lines_of(runs: Iterable[TextRun]) -> list[Line]:
    """Visible runs that share a baseline, from left to right, blanks put in where there are gaps; lines from top to bottom."""
    return [line for row in rows_of(runs) for line in row]


def rows_of(runs: Iterable[TextRun]) -> Iterator[list[Line]]:
    """The same with the lines of one height beside each other: columns of text, or cells of a table."""
    seen = (run for run in runs if run.visible and run.text.strip())
    for row in _runs_side_by_side(sorted(seen, key=lambda run: _middle(run.box_mm))):
        row.sort(key=lambda run: run.box_mm.x0)
        yield list(_split(row))


def _middle(box: Box) -> float:
    return (box.y0 + box.y1) / 2


def _runs_side_by_side(runs: Iterable[TextRun]) -> Iterator[list[TextRun]]:
    """Runs sorted by height; a row ends where the middles are further apart than half the lower one is tall.

    So a large initial does not draw the lines beside it into one.
    """
    row: list[TextRun] = []
    first = height = 0.0
    for run in runs:
        middle, own_height = _middle(run.box_mm), run.box_mm.height
        if not row or middle - first > min(height, own_height) / 2:
            if row:
                yield row
            row, first, height = [], middle, own_height
        row.append(run)
    if row:
        yield row


def _split(row: list[TextRun]) -> Iterator[Line]:
    text, box, ink = row[0].text, row[0].box_mm, _ink(row[0])
    for run in row[1:]:
        gap = _gap_em(box, run)
        if not -OVERLAP_EM < gap <= COLUMN_GAP_EM:
            yield _line(text, box, ink)
            text, box, ink = run.text, run.box_mm, _ink(run)
        else:
            text, box, ink = read_on(text, run.text, gap), box.union(run.box_mm), ink.union(_ink(run))
    yield _line(text, box, ink)


def _ink(run: TextRun) -> Box:
    return run.box_mm if run.ink_mm is None or isinstance(run.ink_mm, Unmeasured) else run.ink_mm


def _line(text: str, box: Box, ink: Box) -> Line:
    return Line(" ".join(text[:LONGEST_LINE].split()), box, ink)
