"""Rules on what inks do to each other: overprint."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from service.pdf.geometry import MM_PER_POINT
from service.pdf.measurements import Measurements, OverprintUse
from service.rules.base import LEFT_OUT, Finding, NotMeasured, Outcome, always, contents_of, rule
from service.rules.sightings import Sightings, bleed_area, within
from service.rules.wording import counted, listed, number, pages_phrase, verb
from service.sheets.model import SpecSheet

SMALL_TEXT_PT, THIN_LINE_PT = 12.0, 2.0
"""Black text and lines under these sizes are to overprint: requirements of the Ghent Workgroup (2015), from memory, not
verified."""

LARGE_BLACK_MM = 10.0
"""Solid black whose smaller side (of type: its size) is this large lets what it overprints show through. Common practice, no
source."""

_OBJECTS = {"text": ("piece of text", "pieces of text"), "stroke": ("line", "lines"), "fill": ("area", "areas")}

_SMALL_BLACK = {
    "text": ("piece of small black text", "pieces of small black text"),
    "stroke": ("thin black line", "thin black lines"),
    "fill": ("thin black area", "thin black areas"),
}

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

    @property
    def told(self) -> str:
        return self.told_as(_OBJECTS)

    def told_as(self, words: Mapping[str, tuple[str, str]]) -> str:
        return listed(counted(count, *words.get(kind, ("object", "objects"))) for kind, count in self.kinds.items())


def _overprints(measurements: Measurements) -> Iterator[tuple[OverprintUse, Sightings] | NotMeasured]:
    """Every use inside a page's bleed, with its places."""
    for item in contents_of(measurements):
        if isinstance(item, NotMeasured):
            yield item
            continue
        page, content = item
        for use in content.overprints:
            places = within(bleed_area(page), use.boxes_mm)
            if places or use.count > len(use.boxes_mm):
                seen = Sightings()
                seen.add(page, places, use.count)
                yield use, seen


@rule(
    "ink.overprint-white",
    asks=always,
    asked_by="always",
    level="must",
    source="ISO 32000-2:2020, 8.6.7 (overprint control) and 11.7.4.3",
    measured=_MEASURED,
    required={"overprint": "false: white knocks out"},
)
def ink_overprint_white(measurements: Measurements, _: SpecSheet) -> Iterator[Outcome]:
    """White on colour does not overprint.

    Why: white that overprints paints nothing. The screen shows white type or a white logo on colour; the print shows colour only.
    Remedy: switch overprint off for everything that is white.
    Knows: white objects set to overprint that stand on ink, in the ways of writing white in which overprint works.
    Cannot know: a printer's software that ignores overprint on white. White on bare paper is harmless and left out.
    """
    found = _Objects()
    for item in _overprints(measurements):
        if isinstance(item, NotMeasured):
            yield item
        elif item[0].case == "white vanishes":
            found.join(item[1])
            found.add_use(item[0])
    if found.count:
        yield Finding(
            message=f"{pages_phrase(found.pages)} {verb(found.pages, 'has', 'have')} {found.told} in white that "
            f"{'is' if found.count == 1 else 'are'} set to overprint: on the ink below, white vanishes in print.",
            remedy="Select the white objects, switch 'overprint' off in the attributes of their fill and stroke, and export "
            "again. Look at the result with overprint preview on.",
            measured={"objects": found.kinds},
            required={"overprint": False},
            pages=found.pages,
            places=tuple(found.places),
        )


@rule(
    "ink.overprint-black",
    asks=always,
    asked_by="always",
    level="should",
    source="common practice; the sizes of text and lines are the Ghent Workgroup's of 2015, from memory, not verified",
    measured={"overprints": "whether these objects overprint", "size_pt": "smallest size of text, width of line or side of area; "
              "of large black the largest", **_MEASURED},
    required={"overprints": "whether they should"},
)  # fmt: skip
def ink_overprint_black(measurements: Measurements, _: SpecSheet) -> Iterator[Outcome]:
    """Small black type and thin black lines overprint what is below; large black areas do not.

    Why: black type that knocks out leaves a hole of its own shape in the colours below, and the least shift of the plates shows
    as a white edge. Large black areas that overprint let what is below show through as stains.
    Remedy: set small black text and thin lines of 100 % black to overprint; switch it off for large black areas.
    Knows: objects of solid black ink that stand on ink: text under 12 pt and lines under 2 pt that knock out; areas and type of
    10 mm and more that overprint.
    Cannot know: a printer's software that makes all black overprint, as many do. What lies below is told by the bounds of
    objects.
    """
    small, large = _Objects(), _Objects()
    for item in _overprints(measurements):
        if isinstance(item, NotMeasured):
            yield item
            continue
        use, seen = item
        into = small if _is_small_that_knocks_out(use) else large if _is_large_that_overprints(use) else None
        if into is not None:
            into.join(seen)
            into.add_use(use)
    if small.count:
        yield Finding(
            message=f"{pages_phrase(small.pages)} {verb(small.pages, 'has', 'have')} {small.told_as(_SMALL_BLACK)} that "
            f"{'leaves' if small.count == 1 else 'leave'} a hole in the colour below instead of printing on it (overprint): "
            "white edges show where the plates do not meet exactly.",
            remedy="Set these objects to 100 % black and to overprint (in most layout programs the swatch 'black' does so by "
            "preference), and export again.",
            measured={"overprints": False, "size_pt": min(small.sizes_pt), "objects": small.kinds},
            required={"overprints": True},
            pages=small.pages,
            places=tuple(small.places),
        )
    if large.count:
        yield Finding(
            message=f"{pages_phrase(large.pages)} {verb(large.pages, 'has', 'have')} {large.told} of large black (up to "
            f"{number(max(large.sizes_pt) * MM_PER_POINT, 0)} mm) that {'overprints' if large.count == 1 else 'overprint'}: what "
            "lies below shows through the black.",
            remedy="Switch overprint off for these objects, or use a black of several inks within the printer's ink limit.",
            measured={"overprints": True, "size_pt": max(large.sizes_pt), "objects": large.kinds},
            required={"overprints": False},
            pages=large.pages,
            places=tuple(large.places),
        )


def _is_small_that_knocks_out(use: OverprintUse) -> bool:
    limit_pt = SMALL_TEXT_PT if use.kind == "text" else THIN_LINE_PT
    return use.case == "black knocks out" and use.size_pt < limit_pt


def _is_large_that_overprints(use: OverprintUse) -> bool:
    return use.case == "black overprints" and use.kind != "stroke" and use.size_pt * MM_PER_POINT >= LARGE_BLACK_MM
