"""Raised and lowered figures and signs beside larger type: every layout program sets them small."""

from __future__ import annotations

from collections.abc import Sequence

from service.pdf.facts.geometry import MM_PER_POINT
from service.pdf.facts.painted.text import TextRun

SMALLER_SHARE = 0.8
"""How small such a sign may be against the minimum: 4.08 pt beside text of 7 pt, where 5 pt are asked for. Common practice, no
source: layout programs set them at 58 to 70 % of the text."""

LONGEST_SIGN = 3
"""'12)' is a reference, a longer text is one to read. Ours, no source."""

LARGER = 1.25
"""The text that it belongs to is larger by so much. Ours, no source."""

NEIGHBOURS = 2
"""How far away in the order of the page the text may stand. Ours, no source."""


def is_raised_sign(runs: Sequence[TextRun], at: int) -> bool:
    """Whether the run is short and stands right beside larger type."""
    run = runs[at]
    if len(run.text.strip()) > LONGEST_SIGN:
        return False
    near = (*runs[max(at - NEIGHBOURS, 0) : at], *runs[at + 1 : at + 1 + NEIGHBOURS])
    return any(one.visible and one.text.strip() and _belongs_to(run, one) for one in near)


def _belongs_to(sign: TextRun, text: TextRun) -> bool:
    em, box, beside = text.size_pt * MM_PER_POINT, sign.box_mm, text.box_mm
    along = box.x0 - em <= beside.x1 and beside.x0 <= box.x1 + em
    across = box.y0 - em / 2 <= beside.y1 and beside.y0 <= box.y1 + em / 2
    return along and across and text.size_pt >= LARGER * sign.size_pt
