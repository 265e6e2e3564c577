"""Rules on what inks do to each other: overprint."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from service.language.spoken import say_many
from service.language.wording import listed, number, page_list
from service.pdf.facts.geometry import MM_PER_POINT
from service.pdf.facts.painted.colors import OverprintUse, Tint
from service.rules.base import LEFT_OUT, Finding, Outcome, always, rule
from service.rules.seen import PagesWithContent, contents_of
from service.rules.sightings import Sightings, bleed_area, within
from service.sheets.model import SpecSheet

SMALL_TEXT_PT, THIN_LINE_PT = 12.0, 2.0
"""Black text and lines under these sizes are to overprint: requirements of the Ghent Workgroup (2015), from memory, not
verified."""

LARGE_BLACK_MM = 10.0
"""Solid black whose smaller side (of type: its size) is this large lets what it overprints show through. Common practice, no
source."""

FAINT = 0.15
"""Inks below that are together lighter than that show no white edge beside black; yellow counts a third. Common practice, no
source."""

_MEASURED = {"objects": "kind of object → how many", **LEFT_OUT}


class _Objects(Sightings):
    """Objects of one cause, counted by kind; those wholly in the slug are left out."""

    def __init__(self) -> None:
        super().__init__()
        self.kinds: dict[str, int] = {}
        self.sizes_pt: list[float] = []

    def add_use(self, use: OverprintUse) -> None:
        self.kinds[use.kind] = self.kinds.get(use.kind, 0) + use.count
        self.sizes_pt.append(use.size_pt)

    def told(self, said: Callable[[str, int], str]) -> str:
        return listed(said(kind, count) for kind, count in self.kinds.items())


def _objects(kind: str, count: int) -> str:
    match kind:
        case "text":
            return say_many("{count} piece of text", "{count} pieces of text", count)
        case "stroke":
            return say_many("{count} line", "{count} lines", count)
        case "fill":
            return say_many("{count} area", "{count} areas", count)
        case _:
            return say_many("{count} object", "{count} objects", count)


def _small_black_objects(kind: str, count: int) -> str:
    match kind:
        case "text":
            return say_many("{count} piece of small black text", "{count} pieces of small black text", count)
        case "stroke":
            return say_many("{count} thin black line", "{count} thin black lines", count)
        case "fill":
            return say_many("{count} thin black area", "{count} thin black areas", count)
        case _:
            return say_many("{count} object", "{count} objects", count)


def _overprints(pages: PagesWithContent) -> Iterator[tuple[OverprintUse, Sightings]]:
    """Every use inside a page's bleed, with its places."""
    for page, content in pages:
        for use in content.overprints:
            places = within(bleed_area(page), use.boxes_mm)
            if places or use.count > len(use.boxes_mm):
                seen = Sightings()
                seen.add(page, places, use.count)
                yield use, seen


@rule(
    "ink.overprint-white",
    needs=contents_of,
    asks=always,
    asked_by="always",
    level="must",
    source="ISO 32000-2:2020, 8.6.7 (overprint control) and 11.7.4.3",
    measured=_MEASURED,
    required={"overprint": "false: white knocks out"},
)
def ink_overprint_white(pages: PagesWithContent, _: SpecSheet) -> Iterator[Outcome]:
    """White on colour does not overprint.

    Why: white that overprints paints nothing. The screen shows white type or a white logo on colour; the print shows colour only.
    Remedy: switch overprint off for everything that is white.
    Knows: white objects set to overprint that stand on ink, in the ways of writing white in which overprint works.
    Cannot know: a printer's software that ignores overprint on white. White on bare paper is harmless and left out.
    """
    found = _Objects()
    for use, seen in _overprints(pages):
        if use.case == "white vanishes":
            found.join(seen)
            found.add_use(use)
    if found.count:
        yield _white_vanishes(found)


def _white_vanishes(found: _Objects) -> Finding:
    objects = say_many(
        "{objects} in white that is set to overprint",
        "{objects} in white that are set to overprint",
        found.count,
        objects=found.told(_objects),
    )
    return Finding(
        message=say_many(
            "Page {pages} has {objects}: on the ink below, white vanishes in print.",
            "Pages {pages} have {objects}: on the ink below, white vanishes in print.",
            len(found.pages),
            pages=page_list(found.pages),
            objects=objects,
        ),
        remedy=say_many(
            "Select the white object, switch 'overprint' off in the attributes of its fill and stroke, and export "
            "again. Look at the result with overprint preview on.",
            "Select the white objects, switch 'overprint' off in the attributes of their fill and stroke, and export "
            "again. Look at the result with overprint preview on.",
            found.count,
        ),
        measured={"objects": found.kinds},
        required={"overprint": False},
        pages=found.pages,
        places=tuple(found.places),
    )


@rule(
    "ink.overprint-black",
    needs=contents_of,
    asks=lambda sheet: sheet if sheet.purpose == "print" else None,
    asked_by="always, for print",
    level="should",
    source="common practice; the sizes of text and lines are the Ghent Workgroup's of 2015, from memory, not verified",
    measured={"overprints": "whether these objects overprint", "size_pt": "smallest size of text, width of line or side of area; "
              "of large black the largest", **_MEASURED},
    required={"overprints": "whether they should"},
)
def ink_overprint_black(pages: PagesWithContent, _: SpecSheet) -> Iterator[Outcome]:
    """Small black type and thin black lines overprint what is below; large black areas do not.

    Why: black type that knocks out leaves a hole of its own shape in the colours below, and the least shift of the plates shows
    as a white edge. Large black areas that overprint let what is below show through as stains.
    Remedy: set small black text and thin lines of 100 % black to overprint; switch it off for large black areas.
    Knows: objects of solid black ink that stand on ink: text under 12 pt and lines under 2 pt that knock out of more than a
    faint tint, as the plates show it; areas and type of 10 mm and more that overprint what differs from spot to spot. Over one
    plain colour large black is even.
    Cannot know: a printer's software that makes all black overprint, as many do; black in an isolated transparency group, whose
    overprint ends with the group (ISO 32000-2:2020, 11.7.4.3) and which some software lets through all the same.
    """
    small, large = _Objects(), _Objects()
    for use, seen in _overprints(pages):
        into = small if _is_small_that_knocks_out(use) else large if _is_large_that_overprints(use) else None
        if into is not None:
            into.join(seen)
            into.add_use(use)
    if small.count:
        yield _small_black_knocks_out(small)
    if large.count:
        yield _large_black_overprints(large)


def _small_black_knocks_out(small: _Objects) -> Finding:
    objects = say_many(
        "{objects} that leaves a hole in the colour below instead of printing on it (overprint)",
        "{objects} that leave a hole in the colour below instead of printing on it (overprint)",
        small.count,
        objects=small.told(_small_black_objects),
    )
    return Finding(
        message=say_many(
            "Page {pages} has {objects}: white edges show where the plates do not meet exactly.",
            "Pages {pages} have {objects}: white edges show where the plates do not meet exactly.",
            len(small.pages),
            pages=page_list(small.pages),
            objects=objects,
        ),
        remedy=say_many(
            "Set this object to 100 % black and to overprint (in most layout programs the swatch 'black' does so by "
            "preference), and export again.",
            "Set these objects to 100 % black and to overprint (in most layout programs the swatch 'black' does so by "
            "preference), and export again.",
            small.count,
        ),
        measured={"overprints": False, "size_pt": min(small.sizes_pt), "objects": small.kinds},
        required={"overprints": True},
        pages=small.pages,
        places=tuple(small.places),
    )


def _large_black_overprints(large: _Objects) -> Finding:
    objects = say_many(
        "{objects} of large black (up to {largest} mm) that overprints",
        "{objects} of large black (up to {largest} mm) that overprint",
        large.count,
        objects=large.told(_objects),
        largest=number(max(large.sizes_pt) * MM_PER_POINT, 0),
    )
    return Finding(
        message=say_many(
            "Page {pages} has {objects}: what lies below shows through the black.",
            "Pages {pages} have {objects}: what lies below shows through the black.",
            len(large.pages),
            pages=page_list(large.pages),
            objects=objects,
        ),
        remedy=say_many(
            "Switch overprint off for this object, or use a black of several inks within the printer's ink limit.",
            "Switch overprint off for these objects, or use a black of several inks within the printer's ink limit.",
            large.count,
        ),
        measured={"overprints": True, "size_pt": max(large.sizes_pt), "objects": large.kinds},
        required={"overprints": False},
        pages=large.pages,
        places=tuple(large.places),
    )


def _is_small_that_knocks_out(use: OverprintUse) -> bool:
    limit_pt = SMALL_TEXT_PT if use.kind == "text" else THIN_LINE_PT
    return use.case == "black knocks out" and use.size_pt < limit_pt and not _is_faint(use.tints_below)


def _is_faint(tints: tuple[Tint, ...] | None) -> bool:
    seen = (one.strength / 3 if one.ink == "Yellow" else one.strength for one in tints or () if one.ink != "Black")
    return tints is not None and sum(seen) < FAINT


def _is_large_that_overprints(use: OverprintUse) -> bool:
    large = use.kind != "stroke" and use.size_pt * MM_PER_POINT >= LARGE_BLACK_MM
    return use.case == "black overprints" and large and use.tints_below is None
