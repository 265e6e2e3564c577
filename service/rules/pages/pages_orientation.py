"""The rule on pages that lie on their side."""

from __future__ import annotations

from collections.abc import Iterator

from service.language.spoken import say, say_many
from service.language.wording import page_list, size
from service.pdf.facts.geometry import SLACK_MM
from service.pdf.facts.page import Page
from service.product.spreads import accepts, double_pages, single_size
from service.rules.base import LEFT_OUT, Finding, Outcome, rule, trim_places
from service.rules.pages.pages import numbers_of
from service.rules.product_asked import SizeAsked, size_asked
from service.rules.seen import Pages, pages_of
from service.sheets.model import TrimAsked


@rule(
    "pages.orientation",
    needs=pages_of,
    asks=lambda sheet: size_asked(sheet) if sheet.trim and sheet.trim.orientation != "any" else None,
    asked_by="trim.orientation",
    level="must",
    source="ISO 32000-2:2020, 7.7.3.3 (page objects: Rotate)",
    measured={"orientation": "portrait or landscape, as displayed", "rotation": "degrees by which the page is turned for display",
              "width_mm": "trimmed width (of one half of a spread)", "height_mm": "trimmed height", **LEFT_OUT},
    required={"orientation": "portrait or landscape"},
)
def pages_orientation(pages: Pages, asked: SizeAsked) -> Iterator[Outcome]:
    """Every page stands upright as the product does.

    Why: a page that lies on its side is turned by hand or by software, and then front and back may not match.
    Remedy: turn the page in the layout, not in a viewer, and export again.
    Knows: the trimmed page as displayed, after Rotate; of a double page, each half. What is not of the product's size either
    way up is told by trim.size alone.
    Cannot know: whether what is on the page stands upright.
    """
    doubles = double_pages(pages, asked.trim) if asked.spreads_known else frozenset()
    groups: dict[tuple[int, TrimAsked], list[Page]] = {}
    for page in pages:
        width, height = single_size(page, doubles)
        own = asked.trim.on(page.number)
        if own.orientation == "any" or (asked.size_is_judged and not accepts(own, width, height)):
            continue
        if width - height > SLACK_MM if own.orientation == "portrait" else height - width > SLACK_MM:
            groups.setdefault((page.rotation, own), []).append(page)
    for (rotation, own), members in groups.items():
        yield _lying(rotation, members, single_size(members[0], doubles), own)


def _lying(rotation: int, pages: list[Page], found: tuple[float, float], trim: TrimAsked) -> Finding:
    numbers = numbers_of(pages)
    lies = "landscape" if trim.orientation == "portrait" else "portrait"
    return Finding(
        message=(_landscape_told if lies == "landscape" else _portrait_told)(numbers, size(*found), rotation),
        remedy=say("Take the rotation out (it is often added in a viewer) and export again.")
        if rotation in (90, 270)
        else say("Turn the page in your layout and export again."),
        measured={"orientation": lies, "rotation": rotation, "width_mm": round(found[0], 2), "height_mm": round(found[1], 2)},
        required={"orientation": trim.orientation},
        pages=numbers,
        places=trim_places(pages),
    )


def _landscape_told(numbers: tuple[int, ...], found: str, rotation: int) -> str:
    pages = page_list(numbers)
    if rotation:
        return say_many(
            "Page {pages}, turned by {angle}° for display, is landscape ({size}); the product is portrait.",
            "Pages {pages}, turned by {angle}° for display, are landscape ({size}); the product is portrait.",
            len(numbers),
            pages=pages,
            size=found,
            angle=rotation,
        )
    return say_many(
        "Page {pages} is landscape ({size}); the product is portrait.",
        "Pages {pages} are landscape ({size}); the product is portrait.",
        len(numbers),
        pages=pages,
        size=found,
    )


def _portrait_told(numbers: tuple[int, ...], found: str, rotation: int) -> str:
    pages = page_list(numbers)
    if rotation:
        return say_many(
            "Page {pages}, turned by {angle}° for display, is portrait ({size}); the product is landscape.",
            "Pages {pages}, turned by {angle}° for display, are portrait ({size}); the product is landscape.",
            len(numbers),
            pages=pages,
            size=found,
            angle=rotation,
        )
    return say_many(
        "Page {pages} is portrait ({size}); the product is landscape.",
        "Pages {pages} are portrait ({size}); the product is landscape.",
        len(numbers),
        pages=pages,
        size=found,
    )
