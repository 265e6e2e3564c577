"""What a dummy says of itself, in the spoken language: what is different from the file, and how it is printed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from service.language.spoken import say, say_many, to_say
from service.language.wording import listed, number
from service.proofs.dummy.faces import DummyBrief, DummyKind, Face, Paper
from service.proofs.dummy.imposition import BlanksPlace
from service.proofs.dummy.wishes import Flip

MOST_STAPLED_PAGES = 64
"""On thin paper; on thicker paper fewer. Common practice, no source."""

_TITLES: Mapping[DummyKind, str] = {
    "booklet": to_say("Folding dummy: booklet"),
    "leaflet": to_say("Folding dummy: leaflet"),
    "cover": to_say("Folding dummy: cover"),
    "leaf": to_say("Folding dummy: leaf"),
}
_ON_BOTH_SIDES: Mapping[Flip, str] = {
    "short": to_say("Print on both sides, turned over about the short edge, at 100 % without fitting to the page."),
    "long": to_say("Print on both sides, turned over about the long edge, at 100 % without fitting to the page."),
}


def told_dummy(
    kind: DummyKind, paper: Paper, faces: Sequence[Face], changes: tuple[str, ...], blanks: tuple[int, ...]
) -> DummyBrief:
    flip = paper.wishes.flip
    told = (
        say("Each page is cut to its trim; bleed and marks, links, scripts and attachments are left out."),
        *changes,
        say(_ON_BOTH_SIDES[flip]) if len(faces) > 1 else say("Print on one side, at 100 % without fitting to the page."),
        say("A dummy shows order, size and folds, not colour; the printer's own proof and terms decide."),
    )
    size = paper.width_mm, paper.height_mm
    return DummyBrief(kind, say(_TITLES[kind]), paper.name, *size, paper.scale, tuple(faces), flip, blanks, told)


def side_told(sheet: int, sheets: int, *, back: bool) -> str:
    if back:
        return say("Sheet {number} of {count}, back.", number=sheet, count=sheets)
    return say("Sheet {number} of {count}, front.", number=sheet, count=sheets)


def page_told(number_in_file: int) -> str:
    return say("page {page}", page=number_in_file)


def scale_told(paper: Paper) -> tuple[str, ...]:
    if paper.scale >= 1:
        return (say("In its real size on {paper}.", paper=paper.name),)
    scale = number(100 * paper.scale)
    return (say("Made smaller to fit {paper}: {scale} % of its real size.", paper=paper.name, scale=scale),)


def blanks_told(blanks: tuple[int, ...], place: BlanksPlace) -> tuple[str, ...]:
    if not blanks:
        return ()
    count, numbers = len(blanks), listed(map(str, blanks))
    if place == "end":
        told = say_many(
            "{count} blank page was added at the end, to make the count a multiple of 4: page {numbers}.",
            "{count} blank pages were added at the end, to make the count a multiple of 4: pages {numbers}.",
            count,
            numbers=numbers,
        )
    elif place == "before-last":
        told = say_many(
            "{count} blank page was added before the last page, to make the count a multiple of 4: page {numbers}.",
            "{count} blank pages were added before the last page, to make the count a multiple of 4: pages {numbers}.",
            count,
            numbers=numbers,
        )
    else:
        told = say_many(
            "{count} blank page was added after the first page, to make the count a multiple of 4: page {numbers}.",
            "{count} blank pages were added after the first page, to make the count a multiple of 4: pages {numbers}.",
            count,
            numbers=numbers,
        )
    return (told,)


def thickness_told(count: int) -> tuple[str, ...]:
    if count <= MOST_STAPLED_PAGES:
        return ()
    return (
        say(
            "{count} pages are many for one saddle-stitched booklet, which rarely has more than {most}: ask the printer how it "
            "is to be bound.",
            count=count,
            most=MOST_STAPLED_PAGES,
        ),
    )


def creep_told(creep: float, caliper_mm: float) -> tuple[str, ...]:
    if not creep:
        return ()
    return (
        say(
            "Pages are moved towards the fold by {caliper} mm for each sheet further in, {creep} mm on the innermost; what "
            "reaches across the fold there is cut off.",
            caliper=number(caliper_mm, 3),
            creep=number(creep, 2),
        ),
    )
