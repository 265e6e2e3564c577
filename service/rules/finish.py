"""Rules on finishing inks: foil, varnish, cutting and creasing lines, each on a plate of its own."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Literal

from service.pdf.ink_names import same_ink
from service.pdf.measurements import Content, Measurements, Page, SpotUse
from service.rules.base import LEFT_OUT, Finding, NotMeasured, Outcome, contents_of, rule
from service.rules.line import SOLID_FROM
from service.rules.sightings import Sightings, bleed_area, within
from service.rules.wording import number, pages_phrase, quoted
from service.sheets.model import Block, Finish, SpecSheet

Fault = Literal["missing", "tinted", "raster", "knocks out"]


@dataclass(frozen=True, kw_only=True)
class FinishesAsked(Block):
    finishes: tuple[Finish, ...]


def _finishes_asked(sheet: SpecSheet) -> FinishesAsked | None:
    """The strictest entry decides the level of the rule as a whole; each finding has that of its own entry."""
    if not sheet.finishes:
        return None
    lowered = all(one.level == "should" for one in sheet.finishes)
    return FinishesAsked(finishes=sheet.finishes, level="should" if lowered else None)


@rule(
    "finish.plate",
    asks=_finishes_asked,
    asked_by="finishes",
    level="must",
    source="ISO 32000-2:2020, 8.6.6.4 (Separation) and 8.6.7 (overprint control); what a finishing plate may hold is the "
    "printer's to say",
    measured={"fault": "missing, tinted, raster or knocks out", "ink": "the ink as the file spells it; null where it is missing",
              "tint_percent": "its lightest tint", **LEFT_OUT},
    required={"ink": "name of the finishing ink", "tint_percent": "100: solid only", "artwork": "vector: no pictures",
              "overprint": "true: it leaves the inks below in place"},
)  # fmt: skip
def finish_plate(measurements: Measurements, asked: FinishesAsked) -> Iterator[Outcome]:
    """Each finishing ink is there, solid, drawn as vectors and set to overprint, as far as the sheet asks.

    Why: a foil die, a varnish plate or a cutting line knows all or nothing: a tint becomes a rough screen, a picture a ragged
    edge. A finish that knocks out leaves the artwork below white where the finish is not exactly in place.
    Remedy: draw the finish in its own spot swatch at 100 %, as vectors, set to overprint.
    Knows: how every object inside the bleed uses the ink. Names that differ only in case, blanks or dashes are one ink.
    Cannot know: tints inside a picture where pictures are taken, and whether the finish stands where it should.
    """
    pages: list[tuple[Page, Content]] = []
    unknown = False
    for item in contents_of(measurements):
        if isinstance(item, NotMeasured):
            yield item
            unknown = True
        else:
            pages.append(item)
    for finish in asked.finishes:
        uses = [found for page, content in pages for found in _uses(page, content, finish.ink)]
        if not uses and finish.required and not unknown:
            yield _finding(finish, "missing", Sightings(), None, {"ink": finish.ink})
        yield from _faults(finish, uses)


Use = tuple[Page, SpotUse]


def _uses(page: Page, content: Content, ink: str) -> Iterator[Use]:
    """Uses of the ink inside the bleed: a swatch in the slug makes no plate."""
    for use in content.spots:
        if same_ink(use.ink) == same_ink(ink) and (within(bleed_area(page), use.boxes_mm) or use.count > len(use.boxes_mm)):
            yield page, use


def _faults(finish: Finish, uses: list[Use]) -> Iterator[Finding]:
    raster = [(page, use) for page, use in uses if use.kind == "image"]
    tinted = [(page, use) for page, use in uses if use.kind != "image" and use.tint_least < SOLID_FROM]
    knocking = [(page, use) for page, use in uses if not use.overprints]
    if raster and finish.artwork == "vector":
        yield _finding(finish, "raster", _seen(raster), raster[0][1].ink, {"artwork": "vector"})
    if tinted:
        lightest = round(min(use.tint_least for _, use in tinted) * 100, 1)
        yield _finding(finish, "tinted", _seen(tinted), tinted[0][1].ink, {"tint_percent": 100}, lightest)
    if knocking and finish.must_overprint:
        yield _finding(finish, "knocks out", _seen(knocking), knocking[0][1].ink, {"overprint": True})


def _seen(uses: list[Use]) -> Sightings:
    seen = Sightings()
    for page, use in uses:
        seen.add(page, within(bleed_area(page), use.boxes_mm), use.count)
    return seen


_REMEDIES: Mapping[Fault, str] = {
    "missing": "Draw the finish in a spot swatch of exactly this name at 100 %, as vectors, and export again without converting "
    "spot colours.",
    "tinted": "Set everything in this swatch to 100 %; a gradient or a tint cannot be finished.",
    "raster": "Trace the picture, or place the artwork of this finish as vectors.",
    "knocks out": "Set everything in this swatch to overprint (fill and stroke), and export again.",
}


def _finding(
    finish: Finish,
    fault: Fault,
    seen: Sightings,
    ink: str | None,
    required: dict[str, str | float | bool],
    lightest: float | None = None,
) -> Finding:
    where, name = f"{pages_phrase(seen.pages)}: " if seen.pages else "", quoted(finish.ink)
    told = {
        "missing": f"The finishing ink {name} is used nowhere in the file; the printer needs its plate.",
        "tinted": f"{where}the finishing ink {name} is used in tints (down to {number(lightest or 0)} %); it must be solid.",
        "raster": f"{where}the finishing ink {name} is used in a picture; the printer asks for vectors.",
        "knocks out": f"{where}objects in the finishing ink {name} knock out what is below; the printer asks for overprint.",
    }
    tint = {} if lightest is None else {"tint_percent": lightest}
    return Finding(
        message=told[fault],
        remedy=_REMEDIES[fault],
        measured={"fault": fault, "ink": ink, **tint},
        required=required,
        pages=seen.pages,
        places=tuple(seen.places),
        level=finish.level,
        note=finish.note,
    )
