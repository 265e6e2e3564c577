"""The products that the upload page offers: every sheet as one line of a list that can be searched by name or by size."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from babel import Locale

from service.api.specs.kept_sheets import every_sheet
from service.language.alphabet import by_letters
from service.language.spoken import say, say_many, spoken, translated
from service.language.wording import asked_size
from service.sheets.formats import DL_ENVELOPE, DL_LEAFLET, ISO
from service.sheets.model import SpecSheet
from service.sheets.usual_names import usual_names

_WESTERN_EUROPE = frozenset({"GB", "IE", "DE", "AT", "CH", "FR", "IT", "ES", "NL", "BE"})
_NORTH_AMERICA = frozenset({"US", "CA"})
_NAMED_REGIONS = 2
"""Countries that a line names before it counts the rest."""


@dataclass(frozen=True)
class Choice:
    """One sheet in the list."""

    id: str
    title: str
    facts: str
    """Size and region, as the second line of the choice."""
    summary: str
    words: str
    """What a search by words looks in, small letters."""
    size_mm: tuple[float, ...] | None
    """Width and height of every size that is taken, one pair after the other."""
    asks_order: bool
    """Whether only the order knows how wide the spine is."""


def choices(regions: Sequence[str] = ()) -> list[Choice]:
    """Those that came with the service and one's own, by title; what is not for these regions (as 'GB') comes last."""
    sheets = [sheet for _, sheet in every_sheet() if sheet.id]
    elsewhere = {sheet.id for sheet in sheets if regions and sheet.regions and not set(regions) & set(sheet.regions)}
    return sorted((_choice(sheet) for sheet in sheets), key=lambda one: (one.id in elsewhere, by_letters(one.title)))


def _choice(sheet: SpecSheet) -> Choice:
    title, summary = translated(sheet.title) or sheet.id or "", translated(sheet.summary)
    size = (sheet.trim.width_mm, sheet.trim.height_mm) if sheet.trim else None
    kind = product_named(sheet.product)
    measure = asked_size(*size) if size else ""
    foreign = spoken() != "en" and title == sheet.title
    facts = (kind if foreign else "", "" if measure in title else measure, region_named(sheet.regions))
    named = (*sheet.names, *sheet.aliases, *usual_names(_named_by(sheet)))
    words = (title, sheet.title, sheet.id, summary, sheet.product, kind, *named, *_formats(size))
    return Choice(
        id=sheet.id or "",
        title=title,
        facts=" · ".join(one for one in facts if one),
        summary=summary,
        words=" ".join(one for one in words if one).casefold(),
        size_mm=_sizes(sheet),
        asks_order=sheet.spine is not None and sheet.spine.caliper_mm is None,
    )


def _named_by(sheet: SpecSheet) -> dict[str, Any]:
    """What the usual names of a product hang on."""
    way = {"type": sheet.folding.type} if sheet.folding else None
    folds = [{"axis": fold.axis} for fold in sheet.folds]
    return {"id": sheet.id, "product": sheet.product, "aliases": sheet.aliases, "folds": folds, "folding": way}


def _sizes(sheet: SpecSheet) -> tuple[float, ...] | None:
    if sheet.trim is None:
        return None
    others = (side for one in sheet.trim.alternatives for side in (one.width_mm, one.height_mm))
    return (sheet.trim.width_mm, sheet.trim.height_mm, *others)


def _formats(size_mm: tuple[float, float] | None) -> list[str]:
    """Names of the paper sizes that the product is trimmed to, lying or standing."""
    if size_mm is None:
        return []
    names = [*ISO.items(), ("DL", DL_ENVELOPE), ("DL", DL_LEAFLET)]
    return [name for name, pair in names if all(abs(a - b) < 0.5 for a, b in zip(sorted(size_mm), sorted(pair), strict=True))]


def region_named(codes: Sequence[str]) -> str:
    """'western Europe', 'Poland, Czechia and 5 more'; empty for a sheet that names none."""
    if set(codes) <= _WESTERN_EUROPE and len(codes) > _NAMED_REGIONS:
        return say("western Europe")
    if set(codes) == _NORTH_AMERICA:
        return say("North America")
    territories = Locale(spoken()).territories
    names = [str(territories.get(code, code)) for code in codes]
    if len(names) <= _NAMED_REGIONS:
        return ", ".join(names)
    left = len(names) - _NAMED_REGIONS
    named = ", ".join(names[:_NAMED_REGIONS])
    return say_many("{names} and {count} more", "{names} and {count} more", left, names=named)


def product_named(product: str | None) -> str:
    """The kind of product in the spoken language; one that is not known here in the sheet's own word."""
    return _products().get(product or "", (product or "").replace("-", " "))


def _products() -> dict[str, str]:
    return {
        "banner": say("Banner"),
        "beer-mat": say("Beer mat"),
        "book-case": say("Book case"),
        "book-cover": say("Book cover"),
        "book-text": say("Inner pages of a book"),
        "booklet": say("Booklet"),
        "bookmark": say("Bookmark"),
        "business-card": say("Business card"),
        "calendar": say("Calendar"),
        "carbonless-form": say("Carbonless form"),
        "compliment-slip": say("Compliment slip"),
        "desk-pad": say("Desk pad"),
        "door-hanger": say("Door hanger"),
        "envelope": say("Envelope"),
        "flyer": say("Flyer"),
        "folded-leaflet": say("Folded leaflet"),
        "greeting-card": say("Greeting card"),
        "invitation": say("Invitation"),
        "label": say("Label"),
        "leaflet": say("Leaflet"),
        "letterhead": say("Letterhead"),
        "membership-card": say("Membership card"),
        "menu": say("Menu"),
        "newspaper": say("Newspaper"),
        "notepad": say("Notepad"),
        "postcard": say("Postcard"),
        "poster": say("Poster"),
        "presentation-folder": say("Presentation folder"),
        "preview": say("Preview for the client"),
        "roll-up": say("Roll-up display"),
        "sticker": say("Sticker"),
        "table-tent": say("Table tent"),
        "ticket": say("Ticket"),
        "yard-sign": say("Yard sign"),
    }
