"""Rules on lines."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import inf
from typing import Literal

from service.language.spoken import say, say_many
from service.language.wording import listed, number, page_list
from service.pdf.facts.ink_names import names_a_tool
from service.pdf.facts.painted.vectors import LineUse
from service.rules.base import LEFT_OUT, Finding, Outcome, rule
from service.rules.product_asked import registration_is_told
from service.rules.seen import PagesWithContent, contents_of
from service.rules.sightings import Sightings
from service.rules.type.text import is_several, under
from service.sheets.model import Block, SpecSheet

SOLID_FROM = 0.99
"""A lighter tint is made of dots, which break a thin line up. Common practice, no source."""

Drawn = Literal["hairline", "plain", "reversed", "tinted", "several inks"]


DOT_MM = 0.2
"""A stroke that is no longer is a dot, as wide as its line. Ours, no source."""


@dataclass(frozen=True, kw_only=True)
class WidthsAsked(Block):
    minimum_pt: float | None
    reversed_minimum_pt: float | None
    registration_is_told: bool
    """By color.registration: lines in every ink are then judged as plain ones."""


def _widths_asked(sheet: SpecSheet) -> WidthsAsked | None:
    lines = sheet.lines
    if lines is None or (lines.minimum_width_pt, lines.reversed_minimum_width_pt) == (None, None):
        return None
    return WidthsAsked(
        minimum_pt=lines.minimum_width_pt,
        reversed_minimum_pt=lines.reversed_minimum_width_pt,
        registration_is_told=registration_is_told(sheet),
        level=lines.level,
        note=lines.note,
    )


@rule(
    "line.width",
    needs=contents_of,
    asks=_widths_asked,
    asked_by="lines.minimum_width, lines.reversed_minimum_width",
    level="must",
    source="ISO 32000-2:2020, 8.4.3.2 (line width; 0 is the thinnest line that the device can draw); the limits are the "
    "printer's",
    measured={"width_pt": "width of the thinnest line, through every scaling",
              "drawn": "how that one is: hairline (width 0), plain, reversed (white out of ink), tinted, several inks",
              "lines": "how many lines", **LEFT_OUT},
    required={"minimum_pt": "least width of lines that are printed like this"},
)
def line_width(pages: PagesWithContent, asked: WidthsAsked) -> Iterator[Outcome]:
    """Lines are thick enough to print.

    Why: a line thinner than the plate can hold breaks up or vanishes. A line of width 0 looks right on a screen and is hardly
    to be seen from a plate-setter. White lines fill in; lines of tints or of several inks blur.
    Remedy: give lines a width of at least the printer's minimum after all scaling.
    Knows: strokes and filled areas as thin as a line, their width where a scaling squeezes them most, tint and inks. Lines
    that are white on ink, tinted or of several inks have the larger minimum. Marks outside the trim are left out, and lines in
    inks that are named for cutting, creasing or perforating.
    Cannot know: lines inside pictures, and outlines of letters.
    """
    found: dict[tuple[Drawn, float], _Lines] = {}
    for page, content in pages:
        for line in content.lines:
            broken = _broken_limit(line, asked)
            if broken and not line.beyond_trim and not _are_dots(line) and not _show_a_tool(line):
                lines = found.setdefault(broken, _Lines())
                lines.add(page, line.boxes_mm, line.count)
                lines.thinnest_pt = min(lines.thinnest_pt, line.width_pt)
    if found:
        yield _too_thin(found, asked)


_MOST_REMEDIES = 2
"""Of the kinds that are furthest below; what is left is thickened alike."""


class _Lines(Sightings):
    thinnest_pt = inf


def _show_a_tool(line: LineUse) -> bool:
    return bool(line.inks) and all(map(names_a_tool, line.inks))


def _are_dots(line: LineUse) -> bool:
    return line.count <= len(line.boxes_mm) and all(max(one.width, one.height) <= DOT_MM for one in line.boxes_mm)


def _too_thin(found: dict[tuple[Drawn, float], _Lines], asked: WidthsAsked) -> Finding:
    """One finding, however the lines of an illustration are painted; measured are those that are furthest below their minimum."""
    kinds = sorted(found.items(), key=lambda one: one[1].thinnest_pt / one[0][1] if one[0][1] else 0.0)
    (drawn, limit_pt), worst = kinds[0]
    seen = Sightings()
    for _, lines in kinds:
        seen.join(lines)
    limits = sorted({limit for _, limit in found})
    wanted = say("at least {limit} pt", limit=number(limits[0], 3))
    if len(limits) > 1:
        wanted = say(
            "at least {limit} pt, and {larger} pt for lines that are white, tinted or of several inks",
            limit=number(limits[0], 3),
            larger=number(limits[-1], 3),
        )
    return Finding(
        message=say_many(
            "Page {pages} has {lines}; the printer asks for {asked}.",
            "Pages {pages} have {lines}; the printer asks for {asked}.",
            len(seen.pages),
            pages=page_list(seen.pages),
            lines=listed(_told(drawn, lines.count, number(lines.thinnest_pt, 3)) for (drawn, _), lines in kinds),
            asked=wanted,
        ),
        remedy=" ".join(
            list(dict.fromkeys(_thicker(how, least, asked.minimum_pt, seen.count) for (how, least), _ in kinds))[:_MOST_REMEDIES]
        ),
        measured={"width_pt": round(worst.thinnest_pt, 3), "drawn": drawn, "lines": seen.count},
        required={"minimum_pt": limit_pt},
        pages=seen.pages,
        places=tuple(seen.places),
    )


def _thicker(drawn: Drawn, least_pt: float, plain_pt: float | None, count: int) -> str:
    """How thick lines that are drawn like this have to be, and how thick where they are drawn plainly instead."""
    least, plain = number(least_pt, 3), number(plain_pt, 3) if plain_pt is not None else ""
    match drawn:
        case "hairline":
            return say_many(
                "Give this line a width of its own in the layout, at least the printer's minimum, instead of 'hairline' or 0.",
                "Give these lines a width of their own in the layout, at least the printer's minimum, instead of 'hairline' "
                "or 0.",
                count,
            )
        case "plain":
            return say("Draw lines at least {least} pt thick. Artwork that was scaled down takes its lines with it.", least=least)
        case "reversed" if plain_pt is None:
            return say("Draw white lines at least {least} pt thick, or in a solid colour instead.", least=least)
        case "reversed":
            return say(
                "Draw white lines at least {least} pt thick; in a solid colour, {plain} pt is enough.", least=least, plain=plain
            )
        case "tinted" if plain_pt is None:
            return say("Draw tinted lines at least {least} pt thick, or in the solid ink.", least=least)
        case "tinted":
            return say(
                "Draw tinted lines at least {least} pt thick; in the solid ink, {plain} pt is enough.", least=least, plain=plain
            )
        case "several inks" if plain_pt is None:
            return say("Draw lines of several inks at least {least} pt thick, or in one solid ink.", least=least)
        case "several inks":
            return say(
                "Draw lines of several inks at least {least} pt thick; in one solid ink, {plain} pt is enough.",
                least=least,
                plain=plain,
            )


def _told(drawn: Drawn, count: int, width: str) -> str:
    """'3 lines in a tint as thin as 0.1 pt'."""
    match drawn:
        case "hairline":
            return say_many("{count} line of width 0", "{count} lines of width 0", count)
        case "plain":
            return say_many("{count} line as thin as {width} pt", "{count} lines as thin as {width} pt", count, width=width)
        case "reversed":
            return say_many(
                "{count} line in white on colour as thin as {width} pt",
                "{count} lines in white on colour as thin as {width} pt",
                count,
                width=width,
            )
        case "tinted":
            return say_many(
                "{count} line in a tint as thin as {width} pt",
                "{count} lines in a tint as thin as {width} pt",
                count,
                width=width,
            )
        case "several inks":
            return say_many(
                "{count} line in several inks as thin as {width} pt",
                "{count} lines in several inks as thin as {width} pt",
                count,
                width=width,
            )


def _broken_limit(line: LineUse, asked: WidthsAsked) -> tuple[Drawn, float] | None:
    """The largest minimum that the line is under, so that each line is told once. White lines on bare paper are none."""
    if line.white and not line.on_ink:
        return None
    limits: list[tuple[Drawn, float | None]] = [("plain", asked.minimum_pt)]
    if line.white:
        limits.append(("reversed", asked.reversed_minimum_pt))
    elif "All" in line.inks and asked.registration_is_told:
        pass
    elif is_several(line.inks):
        limits.append(("several inks", asked.reversed_minimum_pt))
    elif line.tint < SOLID_FROM:
        limits.append(("tinted", asked.reversed_minimum_pt))
    broken = [(drawn, limit) for drawn, limit in limits if limit is not None and under(line.width_pt, limit)]
    if line.width_pt == 0:
        asked_for = [one for one in (asked.minimum_pt, asked.reversed_minimum_pt) if one is not None]
        return "hairline", max((limit for _, limit in broken), default=min(asked_for))
    return max(broken, key=lambda one: one[1], default=None)
