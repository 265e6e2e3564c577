"""Runs of text as a person reads them: letters and words that one line of type was cut into are joined again; and their fonts."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from service.pdf.content.fonts.text_fonts import TextFont
from service.pdf.facts.geometry import Box
from service.pdf.facts.painted.text import FontUse, TextRun
from service.pdf.facts.painted.text_lines import LONGEST_LINE, read_on
from service.pdf.facts.unknown import Unmeasured
from service.pdf.gather.tally import Tally

_LINE_SHARE = 0.2
"""Runs whose boxes start within this share of their height of each other stand on one line. Our own choice."""
_OVERLAP, _JOIN = 0.3, 1.0
"""Runs that overlap by more, or are further apart, stay two: places that are told stay small. In heights of the first one's box,
about an em. Our own choice.
"""


def joined(before: TextRun, run: TextRun) -> TextRun | None:
    """The two runs as one where the second goes on with the first's line in the same type; else None."""
    height = before.box_mm.height
    if not _alike(before, run) or len(before.text) > LONGEST_LINE:
        return None
    if abs(before.box_mm.y0 - run.box_mm.y0) > height * _LINE_SHARE or abs(run.box_mm.height - height) > height * _LINE_SHARE:
        return None
    gap = run.box_mm.x0 - before.box_mm.x1
    if not -_OVERLAP * height < gap < _JOIN * height:
        return None
    text, ink = read_on(before.text, run.text, gap / height), _both(before.ink_mm, run.ink_mm)
    return replace(before, text=text, box_mm=before.box_mm.union(run.box_mm), ink_mm=ink)


def _both(one: Box | Unmeasured | None, other: Box | Unmeasured | None) -> Box | Unmeasured | None:
    if one is None or isinstance(other, Unmeasured):
        return other
    return one if other is None or isinstance(one, Unmeasured) else one.union(other)


def _alike(before: TextRun, run: TextRun) -> bool:
    return (
        abs(before.size_pt - run.size_pt) <= 0.01
        and (before.visible, before.font, before.written, before.inks, before.tint, before.white)
        == (run.visible, run.font, run.written, run.inks, run.tint, run.white)
        and (before.on_ink, before.overprints, before.black_tint) == (run.on_ink, run.overprints, run.black_tint)
    )


def fonts_found(tallies: Iterable[tuple[TextFont, Tally]]) -> tuple[FontUse, ...]:
    """Fonts that say the same of themselves are one."""
    found: dict[tuple[object, ...], FontUse] = {}
    for font, tally in tallies:
        facts = font.facts
        boxes = tuple(tally.boxes)
        use = FontUse(facts.name, facts.type, facts.embedded, facts.subset, boxes, font.damage, font.has_pictures)
        key = (facts, use.damage, use.has_pictures)
        found.setdefault(key, use)
    return tuple(found.values())
