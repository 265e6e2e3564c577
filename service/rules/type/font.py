"""Rules on fonts."""

from __future__ import annotations

from collections.abc import Iterator

from service.language.spoken import say, say_many
from service.language.wording import first_few, on_pages, page_list, quoted, reason
from service.pdf.facts.document import Document
from service.pdf.facts.unknown import Unmeasured
from service.rules.base import LEFT_OUT, Finding, Outcome, Place, always, rule
from service.rules.file.file import damage_first
from service.rules.seen import NotMeasured, PagesWithContent, both, contents_of, document_of
from service.rules.sightings import Sightings
from service.sheets.model import FontsAsked, SpecSheet


@rule(
    "font.embedded",
    needs=both(contents_of, document_of),
    asks=lambda sheet: sheet.fonts if sheet.fonts and sheet.fonts.embedded == "required" else None,
    asked_by="fonts.embedded",
    level="must",
    source="ISO 32000-2:2020, 9.9 (embedded font programs); ISO 15930 asks for all fonts, the standard 14 included",
    measured={"fonts": "names of the fonts that are missing", **LEFT_OUT},
    required={"embedded": "true: every font that prints is in the file"},
)
def font_embedded(seen: tuple[PagesWithContent, Document], _: FontsAsked) -> Iterator[Outcome]:
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
            message=say_many(
                "{count} font {on_pages} is not in the file: {names}; the printer asks for all fonts to be embedded.",
                "{count} fonts {on_pages} are not in the file: {names}; the printer asks for all fonts to be embedded.",
                len(names), on_pages=on_pages(numbers), names=first_few([quoted(name) for name in names]),
            ),
            remedy=damage_first(document) + remedy,
            measured={"fonts": names},
            required={"embedded": True},
            pages=numbers,
            places=tuple(place for places in missing.values() for place in places),
        )


@rule(
    "font.type3",
    needs=contents_of,
    asks=always,
    asked_by="always",
    level="should",
    source="ISO 32000-2:2020, 9.6.4 (Type 3 fonts)",
    measured={"fonts": "names of the Type 3 fonts", **LEFT_OUT},
    required={"type": "any type but Type 3"},
)
def font_type3(pages: PagesWithContent, _: SpecSheet) -> Iterator[Outcome]:
    """No text is set in Type 3 fonts.

    Why: the letters of a Type 3 font are small drawings or bitmaps without hints. Bitmaps print with steps, and some software
    draws such letters heavier than the others.
    Remedy: choose an OpenType, TrueType or Type 1 font in the layout, or export without converting fonts.
    Knows: the type of every font that paints visible text.
    Cannot know: whether the letters are drawings, which print well, or bitmaps.
    """
    found, names = Sightings(), dict[str, None]()
    for page, content in pages:
        for font in content.fonts:
            if font.type == "Type3":
                found.add(page, font.boxes_mm)
                names[font.name] = None
    if names:
        yield Finding(
            message=say_many(
                "Page {pages} has text in Type 3 fonts, whose letters are drawings or bitmaps: {names}.",
                "Pages {pages} have text in Type 3 fonts, whose letters are drawings or bitmaps: {names}.",
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
