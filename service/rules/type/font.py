"""Rules on fonts."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from service.language.spoken import say, say_many
from service.language.wording import first_few, on_pages, page_list, quoted, reason
from service.pdf.facts.document import Document
from service.pdf.facts.unknown import Unmeasured
from service.rules.base import LEFT_OUT, Finding, Outcome, Place, always, rule
from service.rules.file.file import damage_first
from service.rules.seen import NotMeasured, PagesWithContent, both, contents_of, document_of
from service.rules.sightings import Sightings
from service.sheets.model import Block, SpecSheet


@dataclass(frozen=True, kw_only=True)
class EmbeddedAsked(Block):
    by_the_sheet: bool


def _embedded_asked(sheet: SpecSheet) -> EmbeddedAsked | None:
    """A sheet for print that says nothing of fonts asks what is usual: an observation."""
    fonts = sheet.fonts
    if fonts is None:
        return EmbeddedAsked(by_the_sheet=False, level="should") if sheet.purpose == "print" else None
    return EmbeddedAsked(by_the_sheet=True, level=fonts.level, note=fonts.note) if fonts.embedded == "required" else None


@rule(
    "font.embedded",
    needs=both(contents_of, document_of),
    asks=_embedded_asked,
    asked_by="always (a must where fonts.embedded asks)",
    level="must",
    source="ISO 32000-2:2020, 9.9 (embedded font programs); ISO 15930 asks for all fonts, the standard 14 included",
    measured={"fonts": "names of the fonts that are missing", **LEFT_OUT},
    required={"embedded": "true: every font that prints is in the file"},
)
def font_embedded(seen: tuple[PagesWithContent, Document], asked: EmbeddedAsked) -> Iterator[Outcome]:
    """Every font that prints is in the file.

    Why: a printer who lacks the font prints another one in its place: lines break anew, characters go missing.
    Remedy: switch on the embedding of all fonts in the export settings, or choose a font whose licence allows it.
    Knows: the fonts that paint visible text, and whether their programs are in the file.
    Cannot know: whether an embedded program is complete and right, or text that was turned to outlines.
    """
    pages, document = seen
    missing: dict[str, list[Place]] = {}
    lacking: set[int] = set()
    for page, content in pages:
        for font in content.fonts:
            if not font.embedded:
                missing.setdefault(font.name, []).extend(Place(page.number, box) for box in font.boxes_mm)
                lacking.add(page.number)
    if missing:
        numbers = tuple(sorted(lacking))
        names = sorted(missing)
        remedy = say_many(
            "Export again with all fonts embedded. If the export refuses, the font's licence forbids it: choose another font or "
            "turn its text to outlines.",
            "Export again with all fonts embedded. If the export refuses, the font's licence forbids it: choose another font or "
            "turn their text to outlines.",
            len(names),
        )
        yield Finding(
            message=_not_in_the_file(names, numbers, asked),
            remedy=damage_first(document) + remedy,
            measured={"fonts": names},
            required={"embedded": True},
            pages=numbers,
            places=tuple(place for places in missing.values() for place in places),
        )


def _not_in_the_file(names: list[str], numbers: tuple[int, ...], asked: EmbeddedAsked) -> str:
    where, told = on_pages(numbers), first_few([quoted(name) for name in names])
    if asked.by_the_sheet:
        return say_many(
            "{count} font {on_pages} is not in the file: {names}; all fonts have to be embedded.",
            "{count} fonts {on_pages} are not in the file: {names}; all fonts have to be embedded.",
            len(names), on_pages=where, names=told,
        )
    return say_many(
        "{count} font {on_pages} is not in the file: {names}; a printer who lacks it prints another one in its place.",
        "{count} fonts {on_pages} are not in the file: {names}; a printer who lacks them prints others in their place.",
        len(names), on_pages=where, names=told,
    )


@rule(
    "font.type3",
    needs=contents_of,
    asks=always,
    asked_by="always",
    level="should",
    source="ISO 32000-2:2020, 9.6.4 (Type 3 fonts)",
    measured={"fonts": "names of the Type 3 fonts whose letters are bitmaps", **LEFT_OUT},
    required={"type": "any type but Type 3"},
)
def font_type3(pages: PagesWithContent, _: SpecSheet) -> Iterator[Outcome]:
    """No text is set in letters that are bitmaps (Type 3 fonts).

    Why: bitmaps print with steps at every slanted stroke, the more the larger the type.
    Remedy: choose an OpenType, TrueType or Type 1 font in the layout, or export without converting fonts.
    Knows: Type 3 fonts of which a visible letter is a picture. Those whose letters are drawn as outlines print well.
    Cannot know: how fine the bitmaps are, and outlines that were traced from bitmaps.
    """
    found, names = Sightings(), dict[str, None]()
    for page, content in pages:
        for font in content.fonts:
            if font.type == "Type3" and font.has_pictures:
                found.add(page, font.boxes_mm)
                names[font.name] = None
    if names:
        yield Finding(
            message=say_many(
                "Page {pages} has text in fonts whose letters are bitmaps (Type 3): {names}.",
                "Pages {pages} have text in fonts whose letters are bitmaps (Type 3): {names}.",
                len(found.pages), pages=page_list(found.pages), names=first_few([quoted(name) for name in names]),
            ),
            remedy=say(
                "Set this text in an OpenType, TrueType or Type 1 font, and export again; look at its edges at high "
                "magnification."
            ),
            measured={"fonts": list(names)},
            required={"type": "any but Type 3"},
            pages=found.pages,
            places=tuple(found.places),
        )


@rule(
    "font.damaged",
    needs=contents_of,
    asks=always,
    asked_by="always",
    level="must",
    source="ISO 32000-2:2020, 9.9 (embedded font programs)",
    measured={"fonts": "names of the damaged fonts", "damage": "what is wrong with each, in the same order", **LEFT_OUT},
    required={"readable": "true: every embedded font can be read"},
)
def font_damaged(pages: PagesWithContent, _: SpecSheet) -> Iterator[Outcome]:
    """Every embedded font can be read.

    Why: where a font is damaged, letters go missing, turn into boxes, or the printer's RIP refuses the file. A screen that has
    the same font installed may hide it.
    Remedy: install the font anew, or replace it, and export again.
    Knows: whether the program of every font that paints visible text can be read, and whether its outlines are whole.
    Cannot know: a sound program that draws the wrong letters.
    """
    found, damage = Sightings(), dict[str, str]()
    for page, content in pages:
        for font in content.fonts:
            if isinstance(font.damage, Unmeasured):
                yield NotMeasured(say("The font {name}: {reason}", name=quoted(font.name), reason=reason(font.damage)))
            elif font.damage is not None:
                found.add(page, font.boxes_mm)
                damage.setdefault(font.name, font.damage)
    if damage:
        told = first_few([f"{quoted(name)} ({say(why)})" for name, why in damage.items()])
        fonts = say_many("a damaged font: {fonts}", "damaged fonts: {fonts}", len(damage), fonts=told)
        yield Finding(
            message=say_many(
                "Page {pages} uses {fonts}.", "Pages {pages} use {fonts}.",
                len(found.pages), pages=page_list(found.pages), fonts=fonts,
            ),
            remedy=say(
                "Install the font anew from its source, or choose another one, and export again; then look at every page."
            ),
            measured={"fonts": list(damage), "damage": list(damage.values())},
            required={"readable": True},
            pages=found.pages,
            places=tuple(found.places),
        )
