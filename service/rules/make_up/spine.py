"""The rule on the width of a book's spine."""

from __future__ import annotations

from collections.abc import Iterator

from service.language.spoken import say, say_many, to_say
from service.language.wording import millimetres, page_list
from service.pdf.facts.geometry import SLACK_MM
from service.pdf.facts.page import Page
from service.product.covers import laid_flat, spine_asked_mm
from service.rules.base import LEFT_OUT, Finding, Outcome, rule, trim_places
from service.rules.seen import NotMeasured, Pages, pages_of
from service.sheets.model import SpineAsked

NOT_ORDERED = to_say(
    "To check the width of the spine, the order has to name the number of inner pages (inner_pages) and the thickness of a leaf "
    "in mm (caliper_mm)."
)


@rule(
    "spine.width",
    needs=pages_of,
    asks=lambda sheet: sheet.spine,
    asked_by="spine, with inner_pages and caliper_mm of the order",
    level="must",
    source="arithmetic: leaves × caliper + the cover twice; the calipers are the printer's (ISO 534 measures them)",
    measured={"width_mm": "trimmed width of the cover", "spine_mm": "what it leaves for the spine", **LEFT_OUT},
    required={"width_mm": "two pages and the spine", "spine_mm": "thickness of the book", "tolerance_mm": "allowed difference"},
)
def spine_width(pages: Pages, spine: SpineAsked) -> Iterator[Outcome]:
    """The cover is as wide as back, spine and front together.

    Why: a spine that is too narrow or too wide moves the front over the edge, and text on the spine round the corner.
    Remedy: set the spine of the cover to the width that the pages and the paper give, and keep everything else in place.
    Knows: the trimmed width, the page's width, and from the order how many pages and how thick a leaf.
    Cannot know: how thick this batch of paper really is, or flaps. The printer's own figure for the spine decides.
    """
    covers = laid_flat(pages, spine)
    if pages and not covers:
        yield _not_flat(pages, spine)
        return
    asked_mm = spine_asked_mm(spine)
    if asked_mm is None:
        yield NotMeasured(say(NOT_ORDERED))
        return
    groups: dict[float, list[Page]] = {}
    for page in covers:
        off = page.trim_width_mm - 2 * spine.page_width_mm - asked_mm
        if abs(off) > spine.tolerance_mm + SLACK_MM:
            groups.setdefault(round(page.trim_width_mm, 1), []).append(page)
    for ones in groups.values():
        yield _wrong_spine(ones, asked_mm, spine)


def _wrong_spine(pages: list[Page], asked_mm: float, spine: SpineAsked) -> Finding:
    numbers, width = tuple(page.number for page in pages), pages[0].trim_width_mm
    found_mm, wanted = width - 2 * spine.page_width_mm, 2 * spine.page_width_mm + asked_mm
    assert spine.inner_pages is not None, "without it no spine is asked for"
    return Finding(
        message=say_many(
            "Page {pages} is {width} wide, which leaves {found} for the spine; {inner_pages} pages of this paper make a spine of "
            "{asked}, a cover of {cover}.",
            "Pages {pages} are {width} wide, which leaves {found} for the spine; {inner_pages} pages of this paper make a spine "
            "of {asked}, a cover of {cover}.",
            len(numbers),
            pages=page_list(numbers),
            width=millimetres(width),
            found=millimetres(max(found_mm, 0)),
            inner_pages=spine.inner_pages,
            asked=millimetres(asked_mm),
            cover=millimetres(wanted),
        ),
        remedy=_changed(asked_mm - found_mm, asked_mm, spine),
        measured={"width_mm": round(width, 2), "spine_mm": round(found_mm, 2)},
        required={"width_mm": round(wanted, 2), "spine_mm": round(asked_mm, 2), "tolerance_mm": spine.tolerance_mm},
        pages=numbers,
        places=trim_places(pages),
    )


def _changed(by_mm: float, asked_mm: float, spine: SpineAsked) -> str:
    change, asked = millimetres(abs(by_mm)), millimetres(asked_mm)
    tolerance, page_width = millimetres(spine.tolerance_mm), millimetres(spine.page_width_mm)
    if by_mm > 0:
        return say(
            "Make the spine {change} wider: {asked} (give or take {tolerance}), between two pages of {page_width}. Ask the "
            "printer for the exact figure before you export.",
            change=change, asked=asked, tolerance=tolerance, page_width=page_width,
        )
    return say(
        "Make the spine {change} narrower: {asked} (give or take {tolerance}), between two pages of {page_width}. Ask the "
        "printer for the exact figure before you export.",
        change=change, asked=asked, tolerance=tolerance, page_width=page_width,
    )


def _not_flat(pages: Pages, spine: SpineAsked) -> Finding:
    numbers, width = tuple(page.number for page in pages), pages[0].trim_width_mm
    return Finding(
        message=say(
            "No page holds back, spine and front in one: page {page} is {width} wide, the cover laid flat needs more "
            "than {two_pages}.",
            page=numbers[0],
            width=millimetres(width),
            two_pages=millimetres(2 * spine.page_width_mm),
        ),
        remedy=say("Lay the cover out as one page: back on the left, spine in the middle, front on the right."),
        measured={"width_mm": round(width, 2)},
        required={
            "width_mm": round(2 * spine.page_width_mm + (spine_asked_mm(spine) or 0), 2),
            "tolerance_mm": spine.tolerance_mm,
        },
        pages=numbers,
        places=trim_places(pages),
    )
