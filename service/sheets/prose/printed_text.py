"""The text of a measured PDF, for reading a spec that was published as one: top to bottom, left to right.

Cells of a table stand apart by four blanks, paragraphs by an empty line. Columns of running text are not told apart. Text that
does not show is left out.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from service.pdf.facts.measurements import Measurements
from service.pdf.facts.painted.text import TextRun
from service.pdf.facts.painted.text_lines import Line, rows_of
from service.pdf.facts.unknown import Unmeasured

_CELL = "    "
_PARAGRAPH_GAP = 0.9
"""Free space between two lines, in heights of the upper one. Ours, no source."""


def text_of(measurements: Measurements) -> str:
    """Empty where nothing can be read."""
    if isinstance(measurements.pages, Unmeasured):
        return ""
    texts = ["\n".join(_lines(one.content.text_runs)) for one in measurements.pages if not isinstance(one.content, Unmeasured)]
    return "\n\n".join(text for text in texts if text)


def _lines(runs: Sequence[TextRun]) -> Iterator[str]:
    above: list[Line] | None = None
    for row in rows_of(runs):
        if above and _space_between(above, row) > _PARAGRAPH_GAP * above[0].box_mm.height:
            yield ""
        yield _CELL.join(line.text for line in row)
        above = row


def _space_between(above: Sequence[Line], row: Sequence[Line]) -> float:
    return min(line.box_mm.y0 for line in row) - max(line.box_mm.y1 for line in above)
