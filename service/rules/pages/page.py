"""Rules on what lies upon a page beside its content: comments, form fields, links."""

from __future__ import annotations

from collections.abc import Iterator

from service.language.spoken import say, say_many
from service.language.wording import listed, page_list
from service.pdf.facts.page import Annotation, Page
from service.rules.base import LEFT_OUT, Finding, Outcome, always, rule
from service.rules.seen import part_of_pages
from service.rules.sightings import Sightings, bleed_area, within
from service.sheets.model import SpecSheet

FOR_PRINTERS = frozenset({"PrinterMark", "TrapNet", "Popup"})
"""ISO 32000-2:2020, 14.11.3 and 14.11.6: marks and traps are the press's own. A pop-up window goes with its comment."""


@rule(
    "page.annotation",
    needs=part_of_pages(lambda page: page.annotations),
    asks=always,
    asked_by="always",
    level="should",
    source="ISO 32000-2:2020, 12.5.3 (annotation flags); ISO 15930 allows no annotations inside the bleed",
    measured={"kinds": "kind of annotation → how many", "prints": "whether they are set to print",
              "shows": "whether they show on a screen", **LEFT_OUT},
    required={"inside_bleed": "0: none inside the bleed"},
)
def page_annotation(pages: tuple[tuple[Page, tuple[Annotation, ...]], ...], sheet: SpecSheet) -> Iterator[Outcome]:
    """No comments, form fields or links lie on the printed page.

    Why: a comment that is set to print gets printed. A filled-in form field that is not, is missing on paper, though the screen
    shows it. The frame of a link may print too.
    Remedy: delete comments and links, flatten form fields (turn them into page content), and export for print.
    Knows: every annotation inside the bleed, with the flags that say whether it prints and shows. Those that do neither,
    and the press's own marks, are left out; so are links that leave no ink, and those of a file that is only a preview.
    Of one without an appearance, such as an empty field, the program that prints decides what it looks like: it may print.
    Cannot know: a printer's software that prints annotations against their flags, or never.
    """
    found: dict[tuple[bool, bool, bool], tuple[Sightings, dict[str, int]]] = {}
    unsure: set[tuple[bool, bool, bool]] = set()
    for page, notes in pages:
        for one in notes:
            if _counts(one, sheet) and within(bleed_area(page), [one.box_mm]):
                key = one.subtype == "Link", one.prints, one.shows
                seen, kinds = found.setdefault(key, (Sightings(), {}))
                unsure |= set() if one.has_appearance else {key}
                seen.add(page, [one.box_mm])
                kinds[one.label] = kinds.get(one.label, 0) + 1
    for key, (seen, kinds) in found.items():
        link, prints, shows = key
        told = listed(_counted(kind, count) for kind, count in kinds.items())
        yield Finding(
            message=say_many(
                "Page {pages} has {annotations}.",
                "Pages {pages} have {annotations}.",
                len(seen.pages),
                pages=page_list(seen.pages),
                annotations=_links_told(told, seen.count)
                if link
                else _comments_told(told, seen.count, prints, shows, unsure=key in unsure),
            ),
            remedy=say("Export for print with links and other interactive parts switched off, or give links no visible frame.")
            if link
            else say(
                "Delete comments; flatten form fields and stamps so that they become part of the page; then save or export again."
            ),
            measured={"kinds": kinds, "prints": prints, "shows": shows},
            required={"inside_bleed": 0},
            pages=seen.pages,
            places=tuple(seen.places),
        )


def _counts(one: Annotation, sheet: SpecSheet) -> bool:
    """Whether it is for this rule to tell: what neither prints nor shows is not, nor are a preview's links."""
    if one.subtype == "Link":
        return sheet.purpose != "client-preview" and one.prints and (one.draws_frame or one.has_appearance)
    return one.subtype not in FOR_PRINTERS and (one.prints or one.shows)


def _links_told(links: str, count: int) -> str:
    """'3 links on the printed area whose frames may print', without a full stop."""
    return say_many(
        "{links} on the printed area whose frame may print",
        "{links} on the printed area whose frames may print",
        count,
        links=links,
    )


def _comments_told(annotations: str, count: int, prints: bool, shows: bool, unsure: bool) -> str:
    """'1 note on the printed area that will print with the page', without a full stop.

    `unsure`: of one at least the file does not say how it looks.
    """
    if prints and shows and unsure:
        return say_many(
            "{annotations} on the printed area that may print with the page",
            "{annotations} on the printed area that may print with the page",
            count,
            annotations=annotations,
        )
    if prints and shows:
        return say_many(
            "{annotations} on the printed area that will print with the page",
            "{annotations} on the printed area that will print with the page",
            count,
            annotations=annotations,
        )
    if prints:
        return say_many(
            "{annotations} on the printed area that will print, though the screen does not show it",
            "{annotations} on the printed area that will print, though the screen does not show them",
            count,
            annotations=annotations,
        )
    return say_many(
        "{annotations} on the printed area that the screen shows and that will not print",
        "{annotations} on the printed area that the screen shows and that will not print",
        count,
        annotations=annotations,
    )


def _counted(label: str, count: int) -> str:
    """'2 form fields': the labels are those that measuring gives."""
    said = {
        "note": say_many("{count} note", "{count} notes", count),
        "typed comment": say_many("{count} typed comment", "{count} typed comments", count),
        "text mark-up": say_many("{count} text mark-up", "{count} text mark-ups", count),
        "drawn comment": say_many("{count} drawn comment", "{count} drawn comments", count),
        "stamp": say_many("{count} stamp", "{count} stamps", count),
        "attached file": say_many("{count} attached file", "{count} attached files", count),
        "redaction mark": say_many("{count} redaction mark", "{count} redaction marks", count),
        "link": say_many("{count} link", "{count} links", count),
        "form field": say_many("{count} form field", "{count} form fields", count),
        "watermark": say_many("{count} watermark", "{count} watermarks", count),
        "sound": say_many("{count} sound", "{count} sounds", count),
        "video": say_many("{count} video", "{count} videos", count),
        "3D model": say_many("{count} 3D model", "{count} 3D models", count),
    }
    return said.get(label) or say_many("{count} annotation", "{count} annotations", count)
