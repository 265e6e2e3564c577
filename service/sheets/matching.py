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
from dataclasses import dataclass, field
from typing import Any, Literal

from service.pdf.geometry import SLACK_MM
from service.pdf.measurements import Measurements, Page, Question, Unmeasured
from service.sheets.lengths import plain_decimal
from service.sheets.model import PagesAsked, SpecSheet, TrimAsked

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

    @property
    def off_mm(self) -> float:
        return max(abs(self.width_off_mm), abs(self.height_off_mm))


def rank(measurements: Measurements, sheets: Iterable[SpecSheet]) -> list[Match]:
    """Every sheet that asks for a size: those that fit first, then the nearest. Empty where the pages could not be measured."""
    pages = measurements.pages
    if isinstance(pages, Unmeasured) or not pages:
        return []
    return sorted((_match(sheet, sheet.trim, pages) for sheet in sheets if sheet.trim is not None), key=_order)


def _order(match: Match) -> tuple[Any, ...]:
    against = len(match.speaks_against)
    if match.fits:
        return (0, against, match.turned, round(match.off_mm, 1), -len(match.speaks_for), match.sheet.id or "")
    return (1, round(match.off_mm, 1), against, match.turned, -len(match.speaks_for), match.sheet.id or "")


def _match(sheet: SpecSheet, trim: TrimAsked, pages: Sequence[Page]) -> Match:
    read = [_nearest_reading(page, sheet, trim) for page in pages]
    worst = max(read, key=lambda one: one.off_mm)
    reasons = [*_size(trim, worst), *_bleed(sheet, read), *_pages(sheet.pages, read)]
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
        asked = (sheet.bleed.minimum_mm,) if sheet.bleed else ()
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
    found = f"{_mm(worst.width_mm)} × {_mm(worst.height_mm)} mm"
    asked = f"{_mm(trim.width_mm)} × {_mm(trim.height_mm)} mm"
    fits = worst.off_mm <= _tolerance(trim)
    what = "two pages side by side" if worst.double else "the trimmed page"
    says = f"{found}: {what} of this product, {asked}." if fits else f"{found} found, {asked} asked."
    if fits and worst.guessed:
        around = f" with {_mm(worst.bleed_mm)} mm of bleed around it" if worst.bleed_mm else ""
        says += f" The file does not say where it is trimmed: this takes its pages as the trimmed size{around}."
    yield (
        fits,
        Reason(
            "size",
            says,
            {"width_mm": round(worst.width_mm, 3), "height_mm": round(worst.height_mm, 3)},
            {"width_mm": trim.width_mm, "height_mm": trim.height_mm, "tolerance_mm": trim.tolerance_mm},
        ),
    )


def _orientation(trim: TrimAsked, read: Sequence[_Reading]) -> Iterator[tuple[bool, Reason]]:
    turned = any(one.turned for one in read)
    if trim.width_mm == trim.height_mm:
        return
    if turned and trim.orientation != "any":
        yield False, Reason("orientation", "The pages are turned.", {"turned": True}, {"orientation": trim.orientation})
    elif turned:
        yield (
            True,
            Reason("orientation", "The pages are turned, which this product takes.", {"turned": True}, {"orientation": "any"}),
        )
    else:
        yield (
            True,
            Reason("orientation", "The pages stand as the product does.", {"turned": False}, {"orientation": trim.orientation}),
        )


def _arrangement(sheet: SpecSheet, read: Sequence[_Reading]) -> Iterator[tuple[bool, Reason]]:
    asked = sheet.pages.arrangement if sheet.pages else "any"
    doubles = sum(one.double for one in read)
    if asked != "reader-spreads" and not doubles:
        return
    found = "reader-spreads" if doubles else "single-pages"
    words = {"reader-spreads": "pages side by side", "single-pages": "single pages", "any": "pages either way"}
    alone = len(read) == 1 and not doubles  # one page may be either
    says = f"The file has {words[found]}; the product asks for {words[asked]}."
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
    says = f"{count} page{'s' * (count != 1)}; the product takes {_counts_said(asked)}."
    yield fits, Reason("pages", says, {"count": count}, wanted)


def _counts(asked: PagesAsked) -> Iterator[tuple[str, Any]]:
    if asked.allowed:
        yield "allowed", list(asked.allowed)
    for key in ("minimum", "maximum", "multiple_of"):
        if getattr(asked, key) is not None:
            yield key, getattr(asked, key)


def _counts_said(asked: PagesAsked) -> str:
    if asked.allowed:
        said = " or ".join(str(count) for count in asked.allowed)
    elif asked.minimum and asked.maximum:
        said = f"{asked.minimum} to {asked.maximum}"
    elif asked.minimum or asked.maximum:
        said = f"at least {asked.minimum}" if asked.minimum else f"at most {asked.maximum}"
    else:
        said = "any number"
    return said + (f", in multiples of {asked.multiple_of}" if asked.multiple_of else "")


def _bleed(sheet: SpecSheet, read: Sequence[_Reading]) -> Iterator[tuple[bool, Reason]]:
    least = min(one.bleed_mm for one in read)
    asked = sheet.bleed.minimum_mm if sheet.bleed else 0.0
    found = f"{_mm(least)} mm of bleed" if least > SLACK_MM else "No bleed"
    says = f"{found}; the product asks for {_mm(asked)} mm." if asked else f"{found}; the product asks for none."
    fits = least >= asked - SLACK_MM
    if asked or least > SLACK_MM:
        yield fits, Reason("bleed", says, {"bleed_mm": round(least, 3)}, {"minimum_mm": asked})


def _mm(value: float) -> str:
    return plain_decimal(round(value, 1))
