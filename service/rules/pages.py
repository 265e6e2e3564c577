"""Rules on the pages: how many, in which arrangement, all of one size, which way up. Counts are of reader's pages."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from service.pdf.geometry import SLACK_MM
from service.pdf.measurements import Measurements, Page, Unmeasured
from service.rules.base import LEFT_OUT, Finding, NotMeasured, Outcome, always, rule, trim_places
from service.rules.spreads import (
    MakeUpAsked,
    SizeAsked,
    accepts,
    double_pages,
    make_up_asked,
    single_size,
    size_asked,
    size_is_judged,
)
from service.rules.wording import counted, listed, number, pages_named, pages_phrase, size, verb
from service.sheets.model import PagesAsked, SpecSheet, TrimAsked


def _numbers(pages: Sequence[Page]) -> tuple[int, ...]:
    return tuple(page.number for page in pages)


def _readers_pages(measurements: Measurements, trim: TrimAsked | None) -> int | NotMeasured:
    """How many pages the reader turns: a double page counts two."""
    count = measurements.document.page_count
    if isinstance(measurements.pages, Unmeasured):
        return NotMeasured(measurements.pages.why)
    return NotMeasured(count.why) if isinstance(count, Unmeasured) else count + len(double_pages(measurements.pages, trim))


# --- How many ---------------------------------------------------------------------------------------------------------


@rule(
    "pages.count",
    asks=lambda sheet: make_up_asked(sheet) if sheet.pages and _limits_count(sheet.pages) else None,
    asked_by="pages.allowed, pages.minimum, pages.maximum",
    level="must",
    source="common practice, no source; the counts are the printer's",
    measured={"pages": "reader's pages: a double page counts two"},
    required={"allowed": "counts that the printer takes", "minimum": "fewest pages", "maximum": "most pages"},
)
def pages_count(measurements: Measurements, asked: MakeUpAsked) -> Iterator[Outcome]:
    """The document has as many pages as the product.

    Why: a missing page prints blank or moves all others, and one too many is left out.
    Remedy: add or take off pages until the count is one that the product comes in.
    Knows: the number of pages, and which hold two pages side by side.
    Cannot know: which count was ordered where several are allowed.
    """
    pages, count = asked.pages, _readers_pages(measurements, asked.trim)
    if isinstance(count, NotMeasured):
        yield count
    elif not _count_is_allowed(pages, count):
        counts = _nearest(pages, count)
        yield Finding(
            message=f"The document has {counted(count, 'page')}; the product has {_counts_asked(pages)}.",
            remedy=f"Make it {listed([str(one) for one in counts], 'or')} {'page' if counts == [1] else 'pages'}"
            f"{'' if len(pages.allowed) == 1 else ', the nearest that the printer takes'}."
            if counts
            else "No count fits what the sheet asks; ask the printer.",
            measured={"pages": count},
            required={"allowed": list(pages.allowed)} if pages.allowed else {"minimum": pages.minimum, "maximum": pages.maximum},
        )


def _limits_count(pages: PagesAsked) -> bool:
    return bool(pages.allowed) or pages.minimum is not None or pages.maximum is not None


def _count_is_allowed(pages: PagesAsked, count: int) -> bool:
    if pages.allowed and count not in pages.allowed:
        return False
    return (pages.minimum is None or count >= pages.minimum) and (pages.maximum is None or count <= pages.maximum)


def _counts_asked(pages: PagesAsked) -> str:
    if pages.allowed:
        return f"{listed([str(one) for one in sorted(pages.allowed)], 'or')} {'page' if pages.allowed == (1,) else 'pages'}"
    if pages.minimum is not None and pages.maximum is not None:
        return f"{pages.minimum} to {pages.maximum} pages" if pages.minimum != pages.maximum else counted(pages.minimum, "page")
    return (
        f"at least {counted(pages.minimum, 'page')}"
        if pages.minimum is not None
        else f"at most {counted(pages.maximum or 0, 'page')}"
    )


def _nearest(pages: PagesAsked, count: int) -> list[int]:
    """The nearest counts below and above that meet limits and multiple alike."""
    if pages.allowed:
        below, above = [one for one in pages.allowed if one < count], [one for one in pages.allowed if one > count]
        return [*([max(below)] if below else []), *([min(above)] if above else [])]
    step = pages.multiple_of or 1
    lowest = -(-max(pages.minimum or 1, 1) // step) * step
    highest = (pages.maximum // step) * step if pages.maximum is not None else None
    below_count, above_count = count // step * step, -(-count // step) * step
    if highest is not None:
        below_count, above_count = min(below_count, highest), above_count if above_count <= highest else highest
    return sorted({one for one in (max(below_count, lowest), max(above_count, lowest)) if highest is None or one <= highest})


@rule(
    "pages.multiple",
    asks=lambda sheet: make_up_asked(sheet) if sheet.pages and sheet.pages.multiple_of and not sheet.pages.allowed else None,
    asked_by="pages.multiple_of (a list of allowed counts says it all, and replaces it)",
    level="must",
    source="common practice, no source: a folded sheet of a stapled booklet carries four pages",
    measured={"pages": "reader's pages: a double page counts two"},
    required={"multiple_of": "the number that the count must be a multiple of"},
)
def pages_multiple(measurements: Measurements, asked: MakeUpAsked) -> Iterator[Outcome]:
    """The number of pages is a multiple of what one sheet carries.

    Why: a stapled booklet is made of folded sheets with four pages each; what is missing becomes a blank page where the
    printer puts it.
    Remedy: add blank or filled pages, or take pages off, until the count divides.
    Knows: the number of pages, and which hold two pages side by side.
    Cannot know: whether the cover comes in a file of its own.
    """
    step, count = asked.pages.multiple_of, _readers_pages(measurements, asked.trim)
    if isinstance(count, NotMeasured):
        yield count
    elif step and count % step:
        off, blanks = count % step, step - count % step
        take_off = f", or take {counted(off, 'page')} off" if count > off else ""
        yield Finding(
            message=f"The document has {counted(count, 'page')}; the printer asks for a multiple of {step}.",
            remedy=f"Add {counted(blanks, 'blank page')} where you want {verb(range(blanks), 'it', 'them')}{take_off}.",
            measured={"pages": count},
            required={"multiple_of": step},
        )


# --- In which arrangement ---------------------------------------------------------------------------------------------


@rule(
    "pages.arrangement",
    asks=lambda sheet: make_up_asked(sheet) if sheet.pages and sheet.pages.arrangement != "any" else None,
    asked_by="pages.arrangement",
    level="must",
    source="common practice, no source",
    measured={
        "arrangement": "single-pages or reader-spreads, as found",
        "pages_of_the_file": "how many pages of the file are arranged so",
        "width_mm": "trimmed width of the first of them",
        "height_mm": "trimmed height of the first of them",
        **LEFT_OUT,
    },
    required={"arrangement": "single-pages or reader-spreads"},
)
def pages_arrangement(measurements: Measurements, asked: MakeUpAsked) -> Iterator[Outcome]:
    """The pages come one by one, or as reader spreads, as the printer asks.

    Why: the printer arranges the pages on the press sheet himself; two pages glued together cannot be set apart without loss
    of bleed.
    Remedy: switch 'spreads' off (or on) in the PDF export settings and export again.
    Knows: pages twice as wide as the single page, mixed documents included (a cover alone, then spreads).
    Cannot know: printer's spreads (such as 12|1): by size they are the same as reader spreads. Spreads one above the other.
    """
    if isinstance(measurements.pages, Unmeasured):
        yield NotMeasured(measurements.pages.why)
        return
    pages, doubles = measurements.pages, double_pages(measurements.pages, asked.trim)
    if asked.trim is None and not doubles and any(page.trim_width_mm > page.trim_height_mm for page in pages):
        yield NotMeasured(
            "The sheet names no trimmed size, so a page in landscape format cannot be told from two pages side by side."
        )
    elif asked.pages.arrangement == "single-pages":
        yield from _found(tuple(page for page in pages if page.number in doubles), "reader-spreads")
    else:
        yield from _found(_singles_inside(pages, doubles, asked.trim), "single-pages")


def _singles_inside(pages: tuple[Page, ...], doubles: frozenset[int], trim: TrimAsked | None) -> tuple[Page, ...]:
    """Single pages other than the first and the last, which stand alone in reader spreads too (1, 2|3, …, 12)."""
    return tuple(
        page
        for page in pages[1:-1]
        if page.number not in doubles and (trim is None or accepts(trim, page.trim_width_mm, page.trim_height_mm))
    )


def _found(pages: tuple[Page, ...], arrangement: str) -> Iterator[Finding]:
    if not pages:
        return
    numbers, first = _numbers(pages), pages[0]
    spreads = arrangement == "reader-spreads"
    found = (
        f"{verb(numbers, 'holds', 'hold')} two pages side by side"
        if spreads
        else f"{verb(numbers, 'is a single page', 'are single pages')}"
    )
    wanted = "each page on its own" if spreads else "reader spreads (1, 2|3, …)"
    yield Finding(
        message=f"{pages_phrase(numbers)} of the file {found} ({size(first.trim_width_mm, first.trim_height_mm)}); the "
        f"printer asks for {wanted}.",
        remedy=f"In the PDF export settings switch 'spreads' {'off' if spreads else 'on'} and export again.",
        measured={"arrangement": arrangement, "pages_of_the_file": len(pages),
                  "width_mm": round(first.trim_width_mm, 2), "height_mm": round(first.trim_height_mm, 2)},
        required={"arrangement": "single-pages" if spreads else "reader-spreads"},
        pages=numbers,
        places=trim_places(pages),
    )  # fmt: skip


# --- Of one size, one way up ------------------------------------------------------------------------------------------


@rule(
    "pages.uniform",
    asks=always,
    asked_by="always",
    level="should",
    source="common practice, no source",
    measured={
        "width_mm": "trimmed width of the pages that differ (of one half of a spread)",
        "height_mm": "their trimmed height",
        **LEFT_OUT,
    },
    required={
        "width_mm": "trimmed width of most pages",
        "height_mm": "trimmed height of most pages",
        "tolerance_mm": "allowed difference",
    },
)
def pages_uniform(measurements: Measurements, sheet: SpecSheet) -> Iterator[Outcome]:
    """All pages of the document have one trimmed size.

    Why: pages of one product are cut in one go; a page of another size is scaled, cut off or turned.
    Remedy: give every page of the layout the same size, and export them together.
    Knows: the trimmed size of every page. Double pages are compared by half, where the sheet speaks of pages. What is not of the
    product's size is told by trim.size alone.
    Cannot know: a fold-out page that is meant.
    """
    if isinstance(measurements.pages, Unmeasured):
        yield NotMeasured(measurements.pages.why)
        return
    tolerance = sheet.trim.tolerance_mm if sheet.trim else TrimAsked.tolerance_mm
    # Spreads among single pages belong to pages.arrangement, a page turned against the asked orientation to pages.orientation.
    doubles = double_pages(measurements.pages, sheet.trim) if sheet.pages else frozenset()
    turned_is_told = sheet.trim is not None and sheet.trim.orientation != "any"
    groups: list[tuple[tuple[float, float], list[Page]]] = []
    for page in measurements.pages:
        width, height = single_size(page, doubles)
        if sheet.trim and size_is_judged(sheet) and not accepts(sheet.trim, width, height):
            continue
        found = (min(width, height), max(width, height)) if turned_is_told else (width, height)
        for usual, members in groups:
            if all(abs(one - other) <= tolerance + SLACK_MM for one, other in zip(found, usual, strict=True)):
                members.append(page)
                break
        else:
            groups.append((found, [page]))
    groups.sort(key=lambda group: -len(group[1]))
    for found, members in groups[1:]:
        yield _differing(found, members, groups[0], tolerance)


def _differing(
    found: tuple[float, float], pages: list[Page], most: tuple[tuple[float, float], list[Page]], tolerance_mm: float
) -> Finding:
    usual, others = most[0], len(most[1])
    numbers, rest = _numbers(pages), "other" if others == 1 else "others"
    turned = all(abs(one - other) <= tolerance_mm + SLACK_MM for one, other in zip(found, reversed(usual), strict=True))
    difference = f"lie crosswise to the {rest}" if turned else f"have another size than the {rest}"
    return Finding(
        message=f"{pages_phrase(numbers)} {verb(numbers, difference.replace('lie', 'lies').replace('have', 'has'), difference)}: "
        f"{size(*found)}, not {size(*usual)}.",
        remedy=f"Turn {pages_named(numbers)} in your layout, not in a viewer, and export again."
        if turned
        else f"Set {pages_named(numbers)} to {size(*usual)} and export again.",
        measured={"width_mm": round(found[0], 2), "height_mm": round(found[1], 2)},
        required={"width_mm": round(usual[0], 2), "height_mm": round(usual[1], 2), "tolerance_mm": tolerance_mm},
        pages=numbers,
        places=trim_places(pages),
    )


@rule(
    "pages.orientation",
    asks=lambda sheet: size_asked(sheet) if sheet.trim and sheet.trim.orientation != "any" else None,
    asked_by="trim.orientation",
    level="must",
    source="ISO 32000-2:2020, 7.7.3.3 (page objects: Rotate)",
    measured={"orientation": "portrait or landscape, as displayed", "rotation": "degrees by which the page is turned for display",
              "width_mm": "trimmed width (of one half of a spread)", "height_mm": "trimmed height", **LEFT_OUT},
    required={"orientation": "portrait or landscape"},
)  # fmt: skip
def pages_orientation(measurements: Measurements, asked: SizeAsked) -> Iterator[Outcome]:
    """Every page stands upright as the product does.

    Why: a page that lies on its side is turned by hand or by software, and then front and back may not match.
    Remedy: turn the page in the layout, not in a viewer, and export again.
    Knows: the trimmed page as displayed, after Rotate; of a double page, each half. What is not of the product's size either
    way up is told by trim.size alone.
    Cannot know: whether what is on the page stands upright.
    """
    if isinstance(measurements.pages, Unmeasured):
        yield NotMeasured(measurements.pages.why)
        return
    doubles = double_pages(measurements.pages, asked.trim) if asked.spreads_known else frozenset()
    groups: dict[int, list[Page]] = {}
    for page in measurements.pages:
        width, height = single_size(page, doubles)
        if asked.size_is_judged and not accepts(asked.trim, width, height):
            continue
        if width - height > SLACK_MM if asked.trim.orientation == "portrait" else height - width > SLACK_MM:
            groups.setdefault(page.rotation, []).append(page)
    for rotation, pages in groups.items():
        yield _lying(rotation, pages, single_size(pages[0], doubles), asked.trim)


def _lying(rotation: int, pages: list[Page], found: tuple[float, float], trim: TrimAsked) -> Finding:
    numbers = _numbers(pages)
    lies = "landscape" if trim.orientation == "portrait" else "portrait"
    turned = f" and turned by {number(rotation, 0)}° for display" if rotation else ""
    cure = "Take the rotation out (it is often added in a viewer)" if rotation in (90, 270) else "Turn the page in your layout"
    return Finding(
        message=f"{pages_phrase(numbers)} {verb(numbers, 'is', 'are')} {lies} ({size(*found)}){turned}; the product is "
        f"{trim.orientation}.",
        remedy=f"{cure} and export again.",
        measured={"orientation": lies, "rotation": rotation, "width_mm": round(found[0], 2), "height_mm": round(found[1], 2)},
        required={"orientation": trim.orientation},
        pages=numbers,
        places=trim_places(pages),
    )  # fmt: skip
