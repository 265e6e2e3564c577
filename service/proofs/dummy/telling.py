"""What a dummy says of itself: what is different from the file, and how it is printed.

Its words and numbers are English, whatever language is spoken.
"""

from __future__ import annotations

from collections.abc import Sequence

from service.language.wording import plain_number
from service.proofs.dummy.faces import DummyBrief, DummyKind, Face, Paper
from service.proofs.dummy.imposition import BlanksPlace

MOST_STAPLED_PAGES = 64
"""On thin paper; on thicker paper fewer. Common practice, no source."""


def told_dummy(
    kind: DummyKind, paper: Paper, faces: Sequence[Face], changes: tuple[str, ...], blanks: tuple[int, ...]
) -> DummyBrief:
    flip = paper.wishes.flip
    printing = f"Print on both sides, turned over about the {flip} edge, " if len(faces) > 1 else "Print on one side, "
    told = (
        "Each page is cut to its trim; bleed and marks, links, scripts and attachments are left out.",
        *changes,
        f"{printing}at 100 % without fitting to the page.",
        "A dummy shows order, size and folds, not colour; the printer's own proof and terms decide.",
    )
    return DummyBrief(kind, paper.name, paper.width_mm, paper.height_mm, paper.scale, tuple(faces), flip, blanks, told)


def scale_told(paper: Paper) -> tuple[str, ...]:
    if paper.scale >= 1:
        return (f"In its real size on {paper.name}.",)
    return (f"Made smaller to fit {paper.name}: {plain_number(100 * paper.scale)} % of its real size.",)


def blanks_told(blanks: tuple[int, ...], place: BlanksPlace) -> tuple[str, ...]:
    if not blanks:
        return ()
    where = {"end": "at the end", "before-last": "before the last page", "after-first": "after the first page"}[place]
    count = "1 blank page was" if len(blanks) == 1 else f"{len(blanks)} blank pages were"
    return (f"{count} added {where}, to make the count a multiple of 4: {', '.join(map(str, blanks))}.",)


def thickness_told(count: int) -> tuple[str, ...]:
    if count <= MOST_STAPLED_PAGES:
        return ()
    told = f"{count} pages are many for one stapled booklet, which rarely has more than {MOST_STAPLED_PAGES}"
    return (f"{told}: ask the printer how it is to be bound.",)


def creep_told(creep: float, caliper_mm: float) -> tuple[str, ...]:
    if not creep:
        return ()
    return (
        f"Pages are moved towards the fold by {plain_number(caliper_mm, 3)} mm for each sheet further in, "
        f"{plain_number(creep, 2)} mm on the innermost; what reaches across the fold there is cut off.",
    )
