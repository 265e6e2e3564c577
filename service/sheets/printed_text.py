"""The text of a measured PDF as lines, for reading a spec that was published as one: top to bottom, left to right.

Runs whose heights overlap by half stand on one line; a wide gap between two of them parts the cells of a table. Columns of
running text are not told apart. Text that does not show is left out.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from service.pdf.facts.measurements import Measurements
from service.pdf.facts.text import TextRun
from service.pdf.facts.unknown import Unmeasured

_WORD_GAP = 0.15
_CELL_GAP = 1.8
"""Both in heights of the run: about a quarter of an em parts words, two ems part cells. Ours, no source."""
_PARAGRAPH_GAP = 0.9
"""Free space between two lines, in heights of the upper one."""


def text_of(measurements: Measurements) -> str:
    """Empty where nothing can be read."""
    if isinstance(measurements.pages, Unmeasured):
        return ""
    texts = []
    for page in measurements.pages:
        if not isinstance(page.content, Unmeasured):
            texts.append("\n".join(_lines([run for run in page.content.text_runs if run.visible and run.text.strip()])))
    return "\n\n".join(text for text in texts if text)


def _lines(runs: Sequence[TextRun]) -> Iterator[str]:
    rows: list[list[TextRun]] = []
    for run in sorted(runs, key=lambda one: (one.box_mm.y0 + one.box_mm.y1, one.box_mm.x0)):
        if rows and _same_line(rows[-1][-1], run):
            rows[-1].append(run)
        else:
            rows.append([run])
    above: list[TextRun] | None = None
    for row in rows:
        if (
            above
            and min(run.box_mm.y0 for run in row) - max(run.box_mm.y1 for run in above) > _PARAGRAPH_GAP * above[0].box_mm.height
        ):
            yield ""
        yield _joined(sorted(row, key=lambda one: one.box_mm.x0))
        above = row


def _same_line(one: TextRun, other: TextRun) -> bool:
    shared = min(one.box_mm.y1, other.box_mm.y1) - max(one.box_mm.y0, other.box_mm.y0)
    return shared >= 0.5 * min(one.box_mm.height, other.box_mm.height)


def _joined(row: Sequence[TextRun]) -> str:
    text = row[0].text
    for before, run in pairwise(row):
        gap = (run.box_mm.x0 - before.box_mm.x1) / max(run.box_mm.height, 0.1)
        text += ("    " if gap > _CELL_GAP else " " if gap > _WORD_GAP and not text.endswith(" ") else "") + run.text
    return " ".join(text.split()) if "    " not in text else text.strip()
