"""Which product a file looks like: its pages' sizes, count and bleed against those of many sheets, the best first.

* A sheet fits where the trimmed size, its orientation and the count of pages do. Bleed that is missing speaks against it and
  does not rule it out: 'a DL flyer without bleed' is one.
* A page that does not say where it is trimmed may be the trimmed page or that page with bleed around it: for each sheet the
  reading that comes nearest to it is taken, and the answer says so.
* A sheet that asks for no size fits every file and says nothing: it is left out.

A fit is no check. Nothing but the boxes was looked at.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from typing import Any, Literal

from service.language.spoken import decimal_mark, say, say_many, to_say
from service.language.wording import by, with_unit
from service.pdf.facts.geometry import SLACK_MM
from service.pdf.facts.measurements import Measurements
from service.pdf.facts.page import Page
from service.pdf.facts.unknown import Unmeasured
from service.pdf.question import Question
from service.sheets.format.lengths import plain_decimal
from service.sheets.model import PagesAsked, SpecSheet, TrimAsked
from service.sheets.variants import variants_at_scale, with_parts_of

About = Literal["size", "orientation", "arrangement", "pages", "bleed"]

_DECLARED = ("trim_box", "art_box", "crop_marks")
"""Sources of a trim that the file itself vouches for; a CropBox is often a view and no trim."""


@dataclass(frozen=True)
class Reason:
    """One thing that speaks for a sheet, or against it."""

    about: About
    says: str
    measured: dict[str, Any] = field(default_factory=dict)
    required: dict[str, Any] = field(default_factory=dict)


@dataclass(frozen=True)
class Match:
    sheet: SpecSheet
    fits: bool
    speaks_for: tuple[Reason, ...]
    speaks_against: tuple[Reason, ...]
    width_off_mm: float
    """Found less asked, of the page that is farthest off, turned as it fits best."""
    height_off_mm: float
    turned: bool
    """Width and height are swapped."""
    scale: int = 1  # the file is drawn at 1 : scale

    @property
    def off_mm(self) -> float:
        return max(abs(self.width_off_mm), abs(self.height_off_mm))


def rank(measurements: Measurements, sheets: Iterable[SpecSheet]) -> list[Match]:
    """Every sheet that asks for a size: those that fit first, then the nearest. Empty where the pages could not be measured."""
    pages = measurements.pages
    if isinstance(pages, Unmeasured) or not pages:
        return []
    return sorted((_best_way(sheet, pages) for sheet in sheets if sheet.trim is not None), key=_order)


def _best_way(sheet: SpecSheet, pages: Sequence[Page]) -> Match:
    """The size and scale of those that the sheet takes which the file comes nearest to."""
    ways = [(scale, with_parts_of(way, len(pages))) for scale, way in variants_at_scale(sheet)]
    matches = [_at_scale(_match(way, way.trim, pages), scale) for scale, way in ways if way.trim]
    return replace(min(matches, key=_order), sheet=sheet)


def _at_scale(match: Match, scale: int) -> Match:
    if scale == 1 or not match.fits:
        return replace(match, scale=scale)
    says = say("{told} That is the product at 1 : {scale}.", told=match.speaks_for[0].says, scale=scale)
    return replace(match, scale=scale, speaks_for=(replace(match.speaks_for[0], says=says), *match.speaks_for[1:]))


def _order(match: Match) -> tuple[Any, ...]:
    against = len(match.speaks_against)
    if match.fits:
        return (0, against, match.scale > 1, match.turned, round(match.off_mm, 1), -len(match.speaks_for), match.sheet.id or "")
    return (1, round(match.off_mm * match.scale, 1), against, match.turned, -len(match.speaks_for), match.sheet.id or "")


def _match(sheet: SpecSheet, trim: TrimAsked, pages: Sequence[Page]) -> Match:
    read = [_nearest_reading(page, sheet, trim.on(page.number)) for page in pages]
    worst_at, worst = max(enumerate(read), key=lambda one: one[1].off_mm)
    reasons = [*_size(trim.on(pages[worst_at].number), worst), *_bleed(sheet, read), *_pages(sheet.pages, read)]
    if worst.off_mm <= _tolerance(trim):
        reasons += [*_orientation(trim, read), *_arrangement(sheet, read)]
    against = tuple(reason for good, reason in reasons if not good)
    return Match(
        sheet=sheet,
        fits=all(reason.about == "bleed" for reason in against),
        speaks_for=tuple(reason for good, reason in reasons if good),
        speaks_against=against,
        width_off_mm=worst.width_mm - worst.asked_width_mm,
        height_off_mm=worst.height_mm - worst.asked_height_mm,
        turned=worst.turned,
    )


# --- One page as a page of one sheet ----------------------------------------------------------------------------------


@dataclass(frozen=True)
class _Reading:
    """A page taken as this sheet would have it."""

    width_mm: float
    height_mm: float
    asked_width_mm: float
    asked_height_mm: float
    bleed_mm: float
    turned: bool
    double: bool
    """Two pages side by side."""
    guessed: bool
    """The file does not say where the trim is."""

    @property
    def off_mm(self) -> float:
        return max(abs(self.width_mm - self.asked_width_mm), abs(self.height_mm - self.asked_height_mm))


def _nearest_reading(page: Page, sheet: SpecSheet, trim: TrimAsked) -> _Reading:
    def readings() -> Iterator[_Reading]:
        for width, height, bleed, guessed in _trims(page, sheet):
            yield _Reading(width, height, trim.width_mm, trim.height_mm, bleed, False, False, guessed)
            if trim.width_mm != trim.height_mm:
                yield _Reading(width, height, trim.height_mm, trim.width_mm, bleed, True, False, guessed)
            if _has_many_pages(sheet.pages):
                yield _Reading(width, height, 2 * trim.width_mm, trim.height_mm, bleed, False, True, guessed)

    return min(readings(), key=lambda one: (round(one.off_mm, 1), one.double, one.turned, -one.bleed_mm))


def _trims(page: Page, sheet: SpecSheet) -> Iterator[tuple[float, float, float, bool]]:
    """(width, height, bleed, whether it is a guess): as measured, and what a media without a declared trim may hold."""
    guessed = page.trim_source not in _DECLARED
    yield page.trim_width_mm, page.trim_height_mm, min(side for _, side in page.bleed_mm.items()), guessed
    if guessed:
        media = page.boxes_mm.media
        asked = (sheet.bleed.minimum_mm, sheet.bleed.advised_mm) if sheet.bleed else ()
        for bleed in {0.0, *asked, *Question().bleeds_mm}:
            if 2 * bleed < min(media.width, media.height):
                yield media.width - 2 * bleed, media.height - 2 * bleed, bleed, True


def _has_many_pages(pages: PagesAsked | None) -> bool:
    """Whether a spread can be meant at all: a card as wide as two is no spread of cards."""
    if pages is None:
        return False
    counts = (pages.minimum or 0, pages.maximum or 0, pages.multiple_of or 0, *pages.allowed)
    return max(counts) > 2


# --- What speaks for a sheet and against it ---------------------------------------------------------------------------


def _tolerance(trim: TrimAsked) -> float:
    return trim.tolerance_mm + SLACK_MM


def _size(trim: TrimAsked, worst: _Reading) -> Iterator[tuple[bool, Reason]]:
    fits = worst.off_mm <= _tolerance(trim)
    yield (
        fits,
        Reason(
            "size",
            " ".join(_size_said(trim, worst, fits=fits)),
            {"width_mm": round(worst.width_mm, 3), "height_mm": round(worst.height_mm, 3)},
            {"width_mm": trim.width_mm, "height_mm": trim.height_mm, "tolerance_mm": trim.tolerance_mm},
        ),
    )


def _size_said(trim: TrimAsked, worst: _Reading, *, fits: bool) -> Iterator[str]:
    found = with_unit(by(_number(worst.width_mm), _number(worst.height_mm)), "mm")
    asked = with_unit(by(_number(trim.width_mm), _number(trim.height_mm)), "mm")
    if not fits:
        yield say("{found} found, {asked} asked.", found=found, asked=asked)
        return
    if worst.double:
        yield say("{found}: two pages side by side of this product, {asked}.", found=found, asked=asked)
    else:
        yield say("{found}: a trimmed size that this product takes, {asked}.", found=found, asked=asked)
    if worst.guessed and worst.bleed_mm:
        yield say(
            "The file does not say where it is trimmed: this check takes its pages as the trimmed size with {bleed} of "
            "bleed around it.", bleed=_mm(worst.bleed_mm),
        )
    elif worst.guessed:
        yield say("The file does not say where it is trimmed: this check takes its pages as the trimmed size.")


def _orientation(trim: TrimAsked, read: Sequence[_Reading]) -> Iterator[tuple[bool, Reason]]:
    turned = any(one.turned for one in read)
    if trim.width_mm == trim.height_mm:
        return
    if turned and trim.orientation != "any":
        yield False, Reason("orientation", say("The pages are turned."), {"turned": True}, {"orientation": trim.orientation})
    elif turned:
        says = say("The pages are turned, which this product takes.")
        yield True, Reason("orientation", says, {"turned": True}, {"orientation": "any"})
    else:
        says = say("The pages stand as the product does.")
        yield True, Reason("orientation", says, {"turned": False}, {"orientation": trim.orientation})


_ARRANGED = {
    ("reader-spreads", "reader-spreads"): to_say("The file has pages side by side; the product asks for pages side by side."),
    ("reader-spreads", "single-pages"): to_say("The file has pages side by side; the product asks for single pages."),
    ("reader-spreads", "any"): to_say("The file has pages side by side; the product asks for pages either way."),
    ("single-pages", "reader-spreads"): to_say("The file has single pages; the product asks for pages side by side."),
}
"""(Found, asked); of single pages where others do as well nothing is said."""


def _arrangement(sheet: SpecSheet, read: Sequence[_Reading]) -> Iterator[tuple[bool, Reason]]:
    asked = sheet.pages.arrangement if sheet.pages else "any"
    doubles = sum(one.double for one in read)
    if asked != "reader-spreads" and not doubles:
        return
    found = "reader-spreads" if doubles else "single-pages"
    alone = len(read) == 1 and not doubles  # one page may be either
    says = say(_ARRANGED[found, asked])
    yield asked in ("any", found) or alone, Reason("arrangement", says, {"arrangement": found}, {"arrangement": asked})


def _pages(asked: PagesAsked | None, read: Sequence[_Reading]) -> Iterator[tuple[bool, Reason]]:
    """Counts are of reader's pages (design: reader spreads): a double counts two."""
    count = len(read) + sum(one.double for one in read)
    wanted = dict(_counts(asked)) if asked else {}
    if asked is None or not wanted:
        return
    fits = (
        (not asked.allowed or count in asked.allowed)
        and count >= (asked.minimum or 1)
        and count <= (asked.maximum or count)
        and count % (asked.multiple_of or 1) == 0
    )
    says = say_many(
        "{count} page; the product takes {asked}.", "{count} pages; the product takes {asked}.", count, asked=_counts_said(asked)
    )
    yield fits, Reason("pages", says, {"count": count}, wanted)


def _counts(asked: PagesAsked) -> Iterator[tuple[str, Any]]:
    if asked.allowed:
        yield "allowed", list(asked.allowed)
    for key in ("minimum", "maximum", "multiple_of"):
        if getattr(asked, key) is not None:
            yield key, getattr(asked, key)


def _counts_said(asked: PagesAsked) -> str:
    if asked.allowed:
        counts, *others = map(str, asked.allowed)
        for other in others:
            counts = say("{first} or {last}", first=counts, last=other)
    elif asked.minimum and asked.maximum:
        counts = say("{lowest} to {highest}", lowest=asked.minimum, highest=asked.maximum)
    elif asked.minimum:
        counts = say("at least {amount}", amount=asked.minimum)
    elif asked.maximum:
        counts = say("at most {amount}", amount=asked.maximum)
    else:
        counts = say("any number")
    return say("{counts}, in multiples of {multiple}", counts=counts, multiple=asked.multiple_of) if asked.multiple_of else counts


def _bleed(sheet: SpecSheet, read: Sequence[_Reading]) -> Iterator[tuple[bool, Reason]]:
    least = min(one.bleed_mm for one in read)
    asked, advised = (sheet.bleed.minimum_mm, sheet.bleed.advised_mm) if sheet.bleed else (0.0, 0.0)
    if least <= SLACK_MM and not asked:
        return
    told = _mm(asked if asked - SLACK_MM <= least < advised - SLACK_MM else advised)
    if least <= SLACK_MM:
        says = say("No bleed; the product asks for {asked}.", asked=told)
    elif asked:
        says = say("{found} of bleed; the product asks for {asked}.", found=_mm(least), asked=told)
    else:
        says = say("{found} of bleed; the product asks for none.", found=_mm(least))
    yield least >= asked - SLACK_MM, Reason("bleed", says, {"bleed_mm": round(least, 3)}, {"minimum_mm": asked})


def _mm(value: float) -> str:
    return with_unit(_number(value), "mm")


def _number(value: float) -> str:
    return plain_decimal(round(value, 1)).replace(".", decimal_mark())
