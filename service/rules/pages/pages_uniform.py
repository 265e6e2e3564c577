"""The rule on pages of different sizes in one document."""

from __future__ import annotations

from collections.abc import Iterator

from service.language.spoken import say, say_many
from service.language.wording import page_list, size
from service.pdf.facts.geometry import SLACK_MM
from service.pdf.facts.page import Page
from service.product.spreads import accepts, double_pages, single_size
from service.rules.base import LEFT_OUT, Finding, Outcome, always, rule, trim_places
from service.rules.pages.pages import numbers_of
from service.rules.product_asked import size_is_judged
from service.rules.seen import Pages, pages_of
from service.sheets.model import SpecSheet, TrimAsked


@rule(
    "pages.uniform",
    needs=pages_of,
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
def pages_uniform(pages: Pages, sheet: SpecSheet) -> Iterator[Outcome]:
    """All pages of the document have one trimmed size.

    Why: pages of one product are cut in one go; a page of another size is scaled, cut off or turned.
    Remedy: give every page of the layout the same size, and export them together.
    Knows: the trimmed size of every page. Double pages are compared by half, where the sheet speaks of pages. What is not of the
    product's size is told by trim.size alone; pages that have a size of their own in the sheet (trim.parts) are not compared.
    Cannot know: a fold-out page that is meant.
    """
    tolerance = sheet.trim.tolerance_mm if sheet.trim else TrimAsked.tolerance_mm
    # Spreads among single pages belong to pages.arrangement, a page turned against the asked orientation to pages.orientation.
    doubles = double_pages(pages, sheet.trim) if sheet.pages else frozenset()
    turned_is_told = sheet.trim is not None and sheet.trim.orientation != "any"
    groups: list[tuple[tuple[float, float], list[Page]]] = []
    for page in pages:
        width, height = single_size(page, doubles)
        if sheet.trim and sheet.trim.part_on(page.number):
            continue
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
    usual, numbers = most[0], numbers_of(pages)
    turned = all(abs(one - other) <= tolerance_mm + SLACK_MM for one, other in zip(found, reversed(usual), strict=True))
    return Finding(
        message=(_crosswise if turned else _of_another_size)(numbers, len(most[1]), size(*found), size(*usual)),
        remedy=say_many(
            "Turn page {pages} in your layout, not in a viewer, and export again.",
            "Turn pages {pages} in your layout, not in a viewer, and export again.",
            len(numbers),
            pages=page_list(numbers),
        )
        if turned
        else say_many(
            "Set page {pages} to {size} and export again.",
            "Set pages {pages} to {size} and export again.",
            len(numbers),
            pages=page_list(numbers),
            size=size(*usual),
        ),
        measured={"width_mm": round(found[0], 2), "height_mm": round(found[1], 2)},
        required={"width_mm": round(usual[0], 2), "height_mm": round(usual[1], 2), "tolerance_mm": tolerance_mm},
        pages=numbers,
        places=trim_places(pages),
    )


def _crosswise(numbers: tuple[int, ...], others: int, found: str, usual: str) -> str:
    """Where there is only one other page, there is only one that differs."""
    pages = page_list(numbers)
    if others == 1:
        return say("Page {page} lies crosswise to the other: {found}, not {usual}.", page=pages, found=found, usual=usual)
    return say_many(
        "Page {pages} lies crosswise to the others: {found}, not {usual}.",
        "Pages {pages} lie crosswise to the others: {found}, not {usual}.",
        len(numbers),
        pages=pages,
        found=found,
        usual=usual,
    )


def _of_another_size(numbers: tuple[int, ...], others: int, found: str, usual: str) -> str:
    pages = page_list(numbers)
    if others == 1:
        return say("Page {page} has another size than the other: {found}, not {usual}.", page=pages, found=found, usual=usual)
    return say_many(
        "Page {pages} has another size than the others: {found}, not {usual}.",
        "Pages {pages} have another size than the others: {found}, not {usual}.",
        len(numbers),
        pages=pages,
        found=found,
        usual=usual,
    )
