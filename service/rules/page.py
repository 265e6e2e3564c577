"""Rules on what lies upon a page beside its content: comments, form fields, links."""

from __future__ import annotations

from collections.abc import Iterator

from service.pdf.measurements import Annotation, Measurements, Unmeasured
from service.rules.base import LEFT_OUT, Finding, NotMeasured, Outcome, always, pages_of, rule
from service.rules.sightings import Sightings, bleed_area, within
from service.rules.wording import counted, listed, pages_phrase, verb
from service.sheets.model import SpecSheet

FOR_PRINTERS = frozenset({"PrinterMark", "TrapNet", "Popup"})
"""ISO 32000-2:2020, 14.11.3 and 14.11.6: marks and traps are the press's own. A pop-up window goes with its comment."""


@rule(
    "page.annotation",
    asks=always,
    asked_by="always",
    level="should",
    source="ISO 32000-2:2020, 12.5.3 (annotation flags); ISO 15930 allows no annotations inside the bleed",
    measured={"kinds": "kind of annotation → how many", "prints": "whether they are set to print",
              "shows": "whether they show on a screen", **LEFT_OUT},
    required={"inside_bleed": "0: none inside the bleed"},
)  # fmt: skip
def page_annotation(measurements: Measurements, sheet: SpecSheet) -> Iterator[Outcome]:
    """No comments, form fields or links lie on the printed page.

    Why: a comment that is set to print gets printed. A filled-in form field that is not, is missing on paper, though the screen
    shows it. Links do nothing on paper, and some draw a frame.
    Remedy: delete comments and links, flatten form fields (turn them into page content), and export for print.
    Knows: every annotation inside the bleed, with the flags that say whether it prints and shows. Those that do neither,
    and the press's own marks, are left out; so are the links of a file that is only a preview.
    Cannot know: a printer's software that prints annotations against their flags, or never.
    """
    found: dict[tuple[bool, bool, bool], tuple[Sightings, dict[str, int]]] = {}
    for page in pages_of(measurements):
        if isinstance(page, NotMeasured):
            yield page
        elif isinstance(page.annotations, Unmeasured):
            yield NotMeasured(f"Page {page.number}: {page.annotations.why}")
        else:
            for one in page.annotations:
                if _counts(one, sheet) and within(bleed_area(page), [one.box_mm]):
                    seen, kinds = found.setdefault((one.subtype == "Link", one.prints, one.shows), (Sightings(), {}))
                    seen.add(page, [one.box_mm])
                    kinds[one.label] = kinds.get(one.label, 0) + 1
    for (link, prints, shows), (seen, kinds) in found.items():
        told = listed(counted(count, kind) for kind, count in kinds.items())
        yield Finding(
            message=f"{pages_phrase(seen.pages)} {verb(seen.pages, 'has', 'have')} {told} on the printed area"
            f"{_becomes(link, prints, shows, seen.count == 1)}.",
            remedy="Export for print with links and other interactive parts switched off."
            if link
            else "Delete comments; flatten form fields and stamps so that they become part of the page; then save or export "
            "again.",
            measured={"kinds": kinds, "prints": prints, "shows": shows},
            required={"inside_bleed": 0},
            pages=seen.pages,
            places=tuple(seen.places),
        )


def _counts(one: Annotation, sheet: SpecSheet) -> bool:
    """Whether it is for this rule to tell: what neither prints nor shows is not, nor are a preview's links."""
    if one.subtype == "Link" and sheet.purpose == "client-preview":
        return False
    return one.subtype not in FOR_PRINTERS and (one.prints or one.shows)


def _becomes(link: bool, prints: bool, shows: bool, one: bool) -> str:
    if link:
        them = "it" if one else "them"
        nothing = f", which {'does' if one else 'do'} nothing on paper"
        return f"{nothing}; a frame around {them} may print" if prints else nothing
    if prints:
        unseen = f" that will print, though the screen does not show {'it' if one else 'them'}"
        return " that will print with the page" if shows else unseen
    return " that the screen shows and that will not print"
