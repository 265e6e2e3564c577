"""Rules on finishing inks: foil, varnish, cutting and creasing lines, each on a plate of its own."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Literal

from service.language.spoken import say, to_say
from service.language.wording import first_few, number, pages_phrase, quoted, reason
from service.pdf.facts.geometry import Box
from service.pdf.facts.ink_names import same_ink
from service.pdf.facts.page import Page
from service.pdf.facts.painted.colors import SpotUse
from service.pdf.facts.painted.content import Content
from service.pdf.facts.plates import FinishingPlate
from service.pdf.facts.unknown import Unmeasured
from service.rules.base import LEFT_OUT, Finding, Outcome, rule
from service.rules.seen import NotMeasured, PagesWithContent, Seen, contents_of, knowing_gaps
from service.rules.sightings import Sightings, bleed_area, within
from service.rules.type.line import SOLID_FROM
from service.sheets.model import Block, Finish, SpecSheet

Fault = Literal["missing", "tinted", "raster", "knocks out"]


@dataclass(frozen=True, kw_only=True)
class FinishesAsked(Block):
    finishes: tuple[Finish, ...]


def _finishes_asked(sheet: SpecSheet) -> FinishesAsked | None:
    """The strictest entry decides the level of the rule as a whole; each finding has that of its own entry."""
    if not sheet.finishes:
        return None
    lowered = all(one.level == "should" for one in sheet.finishes)  # what may knock out may still lack something else
    return FinishesAsked(finishes=sheet.finishes, level="should" if lowered else None)


@rule(
    "finish.plate",
    needs=knowing_gaps(contents_of),
    asks=_finishes_asked,
    asked_by="finishes",
    level="must",
    source="ISO 32000-2:2020, 8.6.6.4 (Separation) and 8.6.7 (overprint control); what a finishing plate may hold is the "
    "printer's to say",
    measured={"fault": "missing, tinted, raster or knocks out",
              "ink": "the ink as the file spells it; null where nothing names it",
              "tint_percent": "its lightest tint", **LEFT_OUT},
    required={"ink": "name of the finishing ink", "tint_percent": "100: solid only", "artwork": "vector: no pictures",
              "overprint": "true: it leaves the inks below in place"},
)
def finish_plate(seen: Seen[PagesWithContent], asked: FinishesAsked) -> Iterator[Outcome]:
    """Each finishing ink is there, solid, drawn as vectors and set to overprint, as far as the sheet asks.

    Why: a foil die, a varnish plate or a cutting line knows all or nothing: a tint becomes a rough screen, a picture a ragged
    edge. A finish that knocks out leaves the artwork below white where the finish is not exactly in place.
    Remedy: draw the finish in its own spot swatch at 100 %, as vectors, set to overprint.
    Knows: how every object inside the bleed uses the ink; where plates were made, whether anything of it prints, and whether
    pictures leave tints in it. Names that differ only in case, blanks or dashes are one ink,
    and so are all names that the sheet lists for the finish.
    Cannot know: tints in a picture over less than 1 mm², and whether the finish stands where it should.
    """
    for finish in asked.finishes:
        uses = [found for page, content in seen.known for found in _uses(page, content, finish)]
        if not uses and finish.required and not seen.missing:
            yield _nowhere(finish, _switched_off(seen.known))
        if uses and finish.required and not seen.missing and all(_is_empty(page, use.ink) for page, use in uses):
            yield _finding(finish, "missing", _seen(uses), uses[0][1].ink, {"ink": finish.ink})
            continue
        yield from _faults(finish, uses)
        if finish.artwork == "any" and not _tinted(uses):
            yield from _tints_in_pictures(finish, uses)


def _switched_off(pages: PagesWithContent) -> list[str]:
    """Layers whose content does not print, in the order of the pages."""
    return list(dict.fromkeys(one.layer for _, content in pages for one in content.hidden if not one.prints))


def _nowhere(finish: Finish, layers: list[str]) -> Finding:
    """Nothing that prints names the ink: it may stand on a layer that is switched off."""
    missing = _finding(finish, "missing", Sightings(), None, {"ink": finish.ink})
    if not layers:
        return missing
    return replace(
        missing,
        message=say(
            "Nothing that prints is drawn in the finishing ink {ink}; the printer needs its plate. It may stand on what is "
            "switched off: {layers}.",
            ink=quoted(finish.ink),
            layers=first_few([quoted(one) for one in layers]),
        ),
        remedy=say("Switch the layer on and export again. {otherwise}", otherwise=missing.remedy),
    )


Use = tuple[Page, SpotUse]


def _uses(page: Page, content: Content, finish: Finish) -> Iterator[Use]:
    """Uses of the ink inside the bleed: a swatch in the slug makes no plate."""
    names = {same_ink(name) for name in finish.plate_names}
    for use in content.spots:
        if same_ink(use.ink) in names and (within(bleed_area(page), use.boxes_mm) or use.count > len(use.boxes_mm)):
            yield page, use


def _faults(finish: Finish, uses: list[Use]) -> Iterator[Finding]:
    raster = [(page, use) for page, use in uses if use.kind == "image"]
    tinted = _tinted(uses)
    knocking = [(page, use) for page, use in uses if not use.overprints]
    if raster and finish.artwork == "vector":
        yield _finding(finish, "raster", _seen(raster), raster[0][1].ink, {"artwork": "vector"})
    if tinted:
        lightest = round(min(use.tint_least for _, use in tinted) * 100, 1)
        yield _finding(finish, "tinted", _seen(tinted), tinted[0][1].ink, {"tint_percent": 100}, lightest)
    if knocking and finish.must_overprint:
        yield _finding(finish, "knocks out", _seen(knocking), knocking[0][1].ink, {"overprint": True})


def _tinted(uses: list[Use]) -> list[Use]:
    return [(page, use) for page, use in uses if use.kind != "image" and use.tint_least < SOLID_FROM]


# --- What the plates add ----------------------------------------------------------------------------------------------


def _is_empty(page: Page, ink: str) -> bool:
    """Nothing of the ink prints on the page, though objects name it; False where no plate tells."""
    return not isinstance(page.plates, Unmeasured) and any(one.ink == ink and one.empty for one in page.plates.inks)


def _tints_in_pictures(finish: Finish, uses: list[Use]) -> Iterator[Outcome]:
    seen, tints, inks = Sightings(), list[float](), list[str]()
    for page, use in uses:
        if use.kind != "image":
            continue
        plate = _plate(page, use.ink)
        if isinstance(plate, Unmeasured):
            yield NotMeasured(
                say(
                    "Page {page}: whether pictures leave tints in {ink} is not known. {reason}",
                    page=page.number, ink=quoted(use.ink), reason=reason(plate),
                )
            )
        elif plate.tint_least_percent is not None and (boxes := _of_pictures(page, plate.tinted_boxes_mm)):
            seen.add(page, boxes)
            tints.append(plate.tint_least_percent)
            inks.append(use.ink)
    if tints:
        yield _finding(finish, "tinted", seen, inks[0], {"tint_percent": 100}, min(tints))


def _plate(page: Page, ink: str) -> FinishingPlate | Unmeasured:
    if isinstance(page.plates, Unmeasured):
        return page.plates
    unknown = Unmeasured(to_say("Its plate was not looked at for tints."))
    return next((one for one in page.plates.finishing if one.ink == ink), unknown)


def _of_pictures(page: Page, boxes: tuple[Box, ...]) -> tuple[Box, ...]:
    """Those that lie in a picture of more than one bit: fine vectors and line art look like tints at the plates' resolution."""
    images = () if isinstance(page.content, Unmeasured) else page.content.images
    pictures = [one.visible_box_mm for one in images if one.kind == "contone"]
    return tuple(box for box in boxes if any(within(picture, [box]) for picture in pictures))


# --- What is told -----------------------------------------------------------------------------------------------------


def _seen(uses: list[Use]) -> Sightings:
    seen = Sightings()
    for page, use in uses:
        seen.add(page, within(bleed_area(page), use.boxes_mm), use.count)
    return seen


_REMEDIES: Mapping[Fault, str] = {
    "missing": to_say(
        "Draw the finish in a spot swatch of exactly this name at 100 %, as vectors, and export again without converting "
        "spot colours."
    ),
    "tinted": to_say("Set everything in this swatch to 100 %; a gradient or a tint cannot be finished."),
    "raster": to_say("Trace the picture, or place the artwork of this finish as vectors."),
    "knocks out": to_say("Set everything in this swatch to overprint (fill and stroke), and export again."),
}


_UNCOVER = to_say("Bring the finish to the front, set to overprint, so that nothing above knocks it out; then export again.")


def _finding(
    finish: Finish,
    fault: Fault,
    seen: Sightings,
    ink: str | None,
    required: dict[str, str | float | bool],
    lightest: float | None = None,
) -> Finding:
    covered = fault == "missing" and ink is not None
    tint = {} if lightest is None else {"tint_percent": lightest}
    return Finding(
        message=_told(finish, fault, seen, lightest or 0),
        remedy=say(_UNCOVER if covered else _REMEDIES[fault]),
        measured={"fault": fault, "ink": ink, **tint},
        required=required,
        pages=seen.pages,
        places=tuple(seen.places),
        level=(finish.overprint_level if fault == "knocks out" else None) or finish.level,
        note=finish.note,
    )


def _told(finish: Finish, fault: Fault, seen: Sightings, lightest_percent: float) -> str:
    """A finish that is missing has been seen nowhere, or only where its plate is empty."""
    ink = quoted(finish.ink)
    if not seen.pages:
        return say("The finishing ink {ink} is used nowhere in the file; the printer needs its plate.", ink=ink)
    pages = pages_phrase(seen.pages)
    if fault == "missing":
        return say(
            "{pages}: the finishing ink {ink} is used, but its plate is empty: what is drawn in it is covered up or white.",
            pages=pages, ink=ink,
        )
    if fault == "tinted":
        return say(
            "{pages}: the finishing ink {ink} is used in tints (down to {tint} %); it must be solid.",
            pages=pages, ink=ink, tint=number(lightest_percent),
        )
    if fault == "raster":
        return say("{pages}: the finishing ink {ink} is used in a picture; the printer asks for vectors.", pages=pages, ink=ink)
    return say(
        "{pages}: objects in the finishing ink {ink} knock out what is below; the printer asks for overprint.",
        pages=pages, ink=ink,
    )
