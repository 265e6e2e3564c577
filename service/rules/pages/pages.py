"""Rules on the pages: how many, in which arrangement. Counts are of reader's pages."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from service.language.spoken import say, say_many
from service.language.wording import listed_or, page_list, pages_counted, size
from service.pdf.facts.page import Page
from service.product.spreads import accepts_page, double_pages
from service.rules.base import LEFT_OUT, Finding, Outcome, rule, trim_places
from service.rules.product_asked import MakeUpAsked, make_up_asked
from service.rules.seen import NotMeasured, Pages, both, fact_of, pages_of
from service.sheets.model import PagesAsked, TrimAsked


def numbers_of(pages: Sequence[Page]) -> tuple[int, ...]:
    return tuple(page.number for page in pages)


PAGES_AND_COUNT = both(pages_of, fact_of(lambda document: document.page_count))


def _readers_pages(seen: tuple[Pages, int], trim: TrimAsked | None) -> int:
    """How many pages the reader turns: a double page counts two."""
    pages, count = seen
    return count + len(double_pages(pages, trim))


# --- How many ---------------------------------------------------------------------------------------------------------


@rule(
    "pages.count",
    needs=PAGES_AND_COUNT,
    asks=lambda sheet: make_up_asked(sheet) if sheet.pages and _limits_count(sheet.pages) else None,
    asked_by="pages.allowed, pages.minimum, pages.maximum",
    level="must",
    source="common practice, no source; the counts are the printer's",
    measured={"pages": "reader's pages: a double page counts two"},
    required={"allowed": "counts that the printer takes", "minimum": "fewest pages", "maximum": "most pages"},
)
def pages_count(seen: tuple[Pages, int], asked: MakeUpAsked) -> Iterator[Outcome]:
    """The document has as many pages as the product.

    Why: a missing page prints blank or moves all others, and one too many is left out.
    Remedy: add or take off pages until the count is one that the product comes in.
    Knows: the number of pages, and which hold two pages side by side.
    Cannot know: which count was ordered where several are allowed.
    """
    pages, count = asked.pages, _readers_pages(seen, asked.trim)
    if not _count_is_allowed(pages, count):
        counts = _nearest(pages, count)
        yield Finding(
            message=say(
                "The document has {pages}; the product has {asked}.", pages=pages_counted(count), asked=_counts_asked(pages)
            ),
            remedy=_to_the_nearest(counts, only_one=len(pages.allowed) == 1),
            measured={"pages": count},
            required={"allowed": list(pages.allowed)} if pages.allowed else {"minimum": pages.minimum, "maximum": pages.maximum},
        )


def _limits_count(pages: PagesAsked) -> bool:
    return bool(pages.allowed) or pages.minimum is not None or pages.maximum is not None


def _count_is_allowed(pages: PagesAsked, count: int) -> bool:
    if pages.allowed and count not in pages.allowed:
        return False
    return (pages.minimum is None or count >= pages.minimum) and (pages.maximum is None or count <= pages.maximum)


def _to_the_nearest(counts: list[int], *, only_one: bool) -> str:
    if not counts:
        return say("No count fits what the sheet asks; ask the printer.")
    if only_one:
        return say("Make it {pages}.", pages=_one_of(counts))
    return say("Make it {pages}, the nearest that the printer takes.", pages=_one_of(counts))


def _one_of(counts: Sequence[int]) -> str:
    """'8 or 12 pages'."""
    return say_many("{counts} page", "{counts} pages", max(counts), counts=listed_or(str(one) for one in sorted(counts)))


def _counts_asked(pages: PagesAsked) -> str:
    """'8 to 16 pages', 'at least 4 pages'."""
    least, most = pages.minimum, pages.maximum
    if pages.allowed:
        return _one_of(pages.allowed)
    if least is None:
        return say_many("at most {count} page", "at most {count} pages", most or 0)
    if most is None:
        return say_many("at least {count} page", "at least {count} pages", least)
    return pages_counted(least) if least == most else say("{least} to {most} pages", least=least, most=most)


def _nearest(pages: PagesAsked, count: int) -> list[int]:
    """Those below and above in a list of counts, else the one that meets limits and multiple alike; none where they clash."""
    if pages.allowed:
        below, above = [one for one in pages.allowed if one < count], [one for one in pages.allowed if one > count]
        return [*([max(below)] if below else []), *([min(above)] if above else [])]
    step = pages.multiple_of or 1
    lowest = -(-(pages.minimum or 1) // step) * step
    highest = pages.maximum // step * step if pages.maximum is not None else lowest
    return [max(lowest, min(count, highest))] if lowest <= highest else []


@rule(
    "pages.multiple",
    needs=PAGES_AND_COUNT,
    asks=lambda sheet: make_up_asked(sheet) if sheet.pages and sheet.pages.multiple_of and not sheet.pages.allowed else None,
    asked_by="pages.multiple_of (a list of allowed counts says it all, and replaces it)",
    level="must",
    source="common practice, no source: a folded sheet of a stapled booklet carries four pages",
    measured={"pages": "reader's pages: a double page counts two"},
    required={"multiple_of": "the number that the count must be a multiple of"},
)
def pages_multiple(seen: tuple[Pages, int], asked: MakeUpAsked) -> Iterator[Outcome]:
    """The number of pages is a multiple of what one sheet carries.

    Why: a saddle-stitched booklet is made of folded sheets with four pages each; what is missing becomes a blank page where the
    printer puts it.
    Remedy: add blank or filled pages, or take pages off, until the count divides.
    Knows: the number of pages, and which hold two pages side by side.
    Cannot know: whether the cover comes in a file of its own.
    """
    step, count = asked.pages.multiple_of, _readers_pages(seen, asked.trim)
    if step and count % step:
        yield Finding(
            message=say(
                "The document has {pages}; the printer asks for a multiple of {step}.", pages=pages_counted(count), step=step
            ),
            remedy=_to_a_multiple(asked.pages, count, step),
            measured={"pages": count},
            required={"multiple_of": step},
        )


def _to_a_multiple(pages: PagesAsked, count: int, step: int) -> str:
    """As `pages.count` says it, where that has its own limits and the next multiple is outside."""
    off, blanks = count % step, step - count % step
    if not _count_is_allowed(pages, count + blanks):
        return _to_the_nearest(_nearest(pages, count), only_one=False)
    if count <= off or not _count_is_allowed(pages, count - off):
        return say_many("Add {count} blank page where you want it.", "Add {count} blank pages where you want them.", blanks)
    return say_many(
        "Add {count} blank page where you want it, or take {pages} off.",
        "Add {count} blank pages where you want them, or take {pages} off.",
        blanks,
        pages=pages_counted(off),
    )


# --- In which arrangement ---------------------------------------------------------------------------------------------


@rule(
    "pages.arrangement",
    needs=pages_of,
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
def pages_arrangement(pages: Pages, asked: MakeUpAsked) -> Iterator[Outcome]:
    """The pages come one by one, or as reader spreads, as the printer asks.

    Why: the printer arranges the pages on the press sheet himself; two pages glued together cannot be set apart without loss
    of bleed.
    Remedy: switch 'spreads' off (or on) in the PDF export settings and export again.
    Knows: pages twice as wide as the single page, mixed documents included (a cover alone, then spreads).
    Cannot know: printer's spreads (such as 12|1): by size they are the same as reader spreads. Spreads one above the other.
    """
    doubles = double_pages(pages, asked.trim)
    if asked.trim is None and not doubles and any(page.trim_width_mm > page.trim_height_mm for page in pages):
        yield NotMeasured(
            say("The sheet names no trimmed size, so a page in landscape format cannot be told from two pages side by side.")
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
        if page.number not in doubles and (trim is None or (not trim.part_on(page.number) and accepts_page(trim, page)))
    )


def _found(pages: tuple[Page, ...], arrangement: str) -> Iterator[Finding]:
    if not pages:
        return
    numbers, first = numbers_of(pages), pages[0]
    spreads = arrangement == "reader-spreads"
    found = size(first.trim_width_mm, first.trim_height_mm)
    yield Finding(
        message=_spreads_told(numbers, found) if spreads else _single_pages_told(numbers, found),
        remedy=say("In the PDF export settings switch 'spreads' off and export again.")
        if spreads
        else say("In the PDF export settings switch 'spreads' on and export again."),
        measured={"arrangement": arrangement, "pages_of_the_file": len(pages),
                  "width_mm": round(first.trim_width_mm, 2), "height_mm": round(first.trim_height_mm, 2)},
        required={"arrangement": "single-pages" if spreads else "reader-spreads"},
        pages=numbers,
        places=trim_places(pages),
    )


def _spreads_told(numbers: tuple[int, ...], found: str) -> str:
    return say_many(
        "Page {pages} of the file holds two pages side by side ({size}); the printer asks for each page on its own.",
        "Pages {pages} of the file hold two pages side by side ({size}); the printer asks for each page on its own.",
        len(numbers),
        pages=page_list(numbers),
        size=found,
    )


def _single_pages_told(numbers: tuple[int, ...], found: str) -> str:
    return say_many(
        "Page {pages} of the file is a single page ({size}); the printer asks for reader spreads (1, 2|3, …).",
        "Pages {pages} of the file are single pages ({size}); the printer asks for reader spreads (1, 2|3, …).",
        len(numbers),
        pages=page_list(numbers),
        size=found,
    )
