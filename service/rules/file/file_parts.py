"""Rules on what a file may not bring along: layers, separated pages, screening of its own."""

from __future__ import annotations

from collections.abc import Iterator

from service.language.spoken import say
from service.pdf.facts.document import Feature, LayerConfiguration
from service.rules.base import Finding, Outcome, rule
from service.rules.seen import fact_of
from service.sheets.model import FileAsked

SCREENING = frozenset({"halftone", "halftone phase", "transfer function"})


@rule(
    "file.layers",
    needs=fact_of(lambda document: document.layers),
    asks=lambda sheet: sheet.file if sheet.file and sheet.file.layers == "forbidden" else None,
    asked_by="file.layers",
    level="must",
    source="ISO 32000-2:2020, 8.11 (optional content); whether layers are taken is the printer's to say",
    measured={"layers": "true: the file has layers"},
    required={"layers": "false: it has none"},
)
def file_layers(found: tuple[LayerConfiguration, ...] | None, _: FileAsked) -> Iterator[Outcome]:
    """The file has no layers.

    Why: a layer that is off on one screen and on at another prints where nobody meant it to, or not at all.
    Remedy: merge the layers in the layout, or export without layers.
    Knows: whether the file has optional content.
    Cannot know: layers of the layout program that were merged on export, which do no harm.
    """
    if found is not None:
        yield Finding(
            message=say("The file has layers; the printer asks for a file without them."),
            remedy=say("Export again with 'create layers' switched off, or save in a version before PDF 1.5."),
            measured={"layers": True},
            required={"layers": False},
        )


def _pages_with(features: tuple[Feature, ...], kinds: frozenset[str]) -> tuple[list[str], tuple[int, ...]]:
    """Which of them the file uses, and on which pages."""
    found = [one for one in features if one.kind in kinds]
    return list(dict.fromkeys(one.kind for one in found)), tuple(sorted({page for one in found for page in one.pages}))


@rule(
    "file.separated",
    needs=fact_of(lambda document: document.features),
    asks=lambda sheet: sheet.file if sheet.file and sheet.file.separations == "forbidden" else None,
    asked_by="file.separations",
    level="must",
    source="ISO 32000-2:2020, 14.11.4 (separation dictionaries); the printer asks for composite pages",
    measured={"separated": "true: pages are one ink each"},
    required={"separated": "false: each page has all its inks"},
)
def file_separated(features: tuple[Feature, ...], _: FileAsked) -> Iterator[Outcome]:
    """Each page comes with all its inks, and not one ink a page.

    Why: pages that were separated before cannot be trapped, proofed or converted, and count four times.
    Remedy: export composite pages: switch separations off where the PDF is made.
    Knows: the dictionaries by which pages say that they are one ink of another page.
    Cannot know: separated pages that do not say so.
    """
    kinds, pages = _pages_with(features, frozenset({"separated page"}))
    if kinds:
        yield Finding(
            message=say("Pages are separated into single inks; the printer asks for all inks in one page."),
            remedy=say("Export again as composite, with separations switched off."),
            measured={"separated": True},
            required={"separated": False},
            pages=pages,
        )


@rule(
    "file.screening",
    needs=fact_of(lambda document: document.features),
    asks=lambda sheet: sheet.file if sheet.file and sheet.file.screening == "forbidden" else None,
    asked_by="file.screening",
    level="must",
    source="ISO 32000-2:2020, 10.5 (transfer functions) and 10.6 (halftones); screening is the printer's",
    measured={"kinds": "halftone, halftone phase or transfer function"},
    required={"kinds": "none of them"},
)
def file_screening(features: tuple[Feature, ...], _: FileAsked) -> Iterator[Outcome]:
    """The file brings no halftones and transfer functions of its own.

    Why: they were made for another press or an office printer, and may change tints or show another screen.
    Remedy: export without 'preserve halftone information' and 'preserve transfer functions'.
    Knows: halftones and transfer functions that the file's objects hold, painted or not.
    Cannot know: functions of black generation, and whether the printer's software heeds any of it.
    """
    kinds, pages = _pages_with(features, SCREENING)
    if kinds:
        yield Finding(
            message=say("The file brings halftones or transfer functions of its own; the printer asks for a file without them."),
            remedy=say("Export again without keeping halftone information and transfer functions."),
            measured={"kinds": kinds},
            required={"kinds": []},
            pages=pages,
        )
