"""What a sheet can ask and this version does not measure yet: each comes out `not_measured`, never as a silent pass.

A rule that gets its function loses its line here. Standing rules that are not written yet have no line: no sheet asks for them.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import NamedTuple

from service.pdf.measurements import Measurements
from service.rules.base import DECLARED, NotMeasured, Outcome, Rule
from service.sheets.model import Block, FileAsked, KeepClearArea, Level, SpecSheet

NOT_YET = "{title}: not measured yet by this version"
"""The reason in the result."""


class Waiting(NamedTuple):
    rule_id: str
    title: str
    level: Level
    asked_by: str
    asks: Callable[[SpecSheet], object | None]


def _standard(file: FileAsked | None) -> Block | None:
    """`standards_level` unless the whole block is lowered."""
    return Block(level=file.level or file.standards_level, note=file.note) if file and file.standards else None


def _strictest(areas: tuple[KeepClearArea, ...]) -> KeepClearArea | None:
    """One area stands for all: the one that would break a must, if there is one."""
    return min(areas, key=lambda area: area.level == "should", default=None)


WAITING = (
    Waiting("file.standard", "The claimed standard", "must", "file.standards", lambda s: _standard(s.file)),
    Waiting("file.output-intent", "The printing condition", "must", "file.output_conditions",
            lambda s: s.file if s.file and s.file.output_conditions else None),
    Waiting("file.linearized", "Fast first page of a preview", "should", "file.linearized",
            lambda s: s.file if s.file and s.file.linearized not in (None, "allowed") else None),
    Waiting("bleed.excess", "The deepest bleed that the printer takes", "must", "bleed.maximum",
            lambda s: s.bleed if s.bleed and s.bleed.maximum_mm is not None else None),
    Waiting("margin.text", "The quiet zone around live text", "must", "margin", lambda s: s.margin),
    Waiting("margin.artwork", "The quiet zone around small artwork", "must", "margin", lambda s: s.margin),
    Waiting("margin.fold", "Text and faces across a fold", "must", "folds", lambda s: next(iter(s.folds), None)),
    Waiting("margin.spine", "Text and faces in the spine", "must", "spine", lambda s: s.spine),
    Waiting("marks.crop", "Crop marks", "must", "marks.crop_marks",
            lambda s: s.marks if s.marks and s.marks.crop_marks not in (None, "allowed") else None),
    Waiting("marks.offset", "The distance of marks from the trim", "must", "marks.offset_minimum",
            lambda s: s.marks if s.marks and s.marks.offset_minimum_mm is not None else None),
    Waiting("image.resolution-bilevel", "The resolution of line art", "must", "images.bilevel_ppi",
            lambda s: s.images if s.images and s.images.bilevel else None),
    Waiting("image.excess", "More pixels than useful", "should", "images.contone_ppi.maximum",
            lambda s: s.images if s.images and s.images.contone and s.images.contone.maximum_ppi is not None else None),
    Waiting("ink.total", "Total ink", "must", "color.ink_limit",
            lambda s: s.color if s.color and s.color.ink_limit_percent is not None else None),
    Waiting("text.size", "The size of text", "must", "text.minimum_size",
            lambda s: s.text if s.text and (s.text.minimum_size_pt, s.text.reversed_minimum_size_pt) != (None, None) else None),
    Waiting("text.inks", "Small text in several inks", "must", "text.rich_black_minimum_size",
            lambda s: s.text if s.text and s.text.rich_black_minimum_size_pt is not None else None),
    Waiting("line.width", "The width of lines", "must", "lines", lambda s: s.lines),
    Waiting("copy.keep-clear", "Ink in an area that must stay clear", "must", "keep_clear", lambda s: _strictest(s.keep_clear)),
    Waiting("transparency.live", "Live transparency", "must", "transparency.live",
            lambda s: s.transparency if s.transparency and s.transparency.live != "allowed" else None),
    Waiting("fold.panels", "The widths of folded panels", "must", "folds", lambda s: next(iter(s.folds), None)),
    Waiting("spine.width", "The width of the spine", "must", "spine", lambda s: s.spine),
    Waiting("finish.plate", "Plates of finishing inks", "must", "finishes", lambda s: next(iter(s.finishes), None)),
)  # fmt: skip


def _declaration(waiting: Waiting) -> Rule:
    reason = NOT_YET.format(title=waiting.title)

    def run(measurements: Measurements, sheet: SpecSheet) -> Iterator[Outcome]:  # noqa: ARG001  (the shape of every rule)
        yield NotMeasured(reason)

    return Rule(
        id=waiting.rule_id,
        title=f"{reason}.",
        why="The sheet can ask for it, and a result must not pass over it in silence.",
        remedy="Look at this point yourself, or ask the printer to; this service says nothing about it yet.",
        knows="Only that the sheet asks.",
        cannot_know="Whether the file meets it.",
        source="the sheet",
        level=waiting.level,
        measured={},
        required={},
        asked_by=waiting.asked_by,
        asks=waiting.asks,
        run=run,
        module=__name__,
        built=False,
    )


DECLARED.update((waiting.rule_id, _declaration(waiting)) for waiting in WAITING)
