"""Rules on which fonts the printer takes, if any."""

from __future__ import annotations

from collections.abc import Iterator

from service.language.spoken import say, say_many, to_say
from service.language.wording import first_few, listed_or, page_list, quoted
from service.pdf.facts.painted.text import FontType
from service.rules.base import LEFT_OUT, Finding, Outcome, rule
from service.rules.seen import PagesWithContent, contents_of
from service.rules.sightings import Sightings
from service.sheets.model import FontFormat, FontsAsked

_FORMATS: dict[FontType, FontFormat] = {
    "Type1": "type-1", "MMType1": "type-1", "CIDFontType0": "type-1",
    "TrueType": "truetype", "CIDFontType2": "truetype",
    "Type3": "type-3",
}
"""ISO 32000-2:2020, 9.6 and 9.7.4: what outlines a font has. OpenType has either of the first two."""

_NAMED: dict[FontFormat, str] = {"type-1": to_say("Type 1"), "truetype": to_say("TrueType"), "type-3": to_say("Type 3")}


@rule(
    "font.outlined",
    needs=contents_of,
    asks=lambda sheet: sheet.fonts if sheet.fonts and sheet.fonts.outlines == "required" else None,
    asked_by="fonts.outlines",
    level="must",
    source="common practice, no source; whether fonts are taken is the printer's to say",
    measured={"fonts": "names of the fonts that paint text", **LEFT_OUT},
    required={"fonts": "none: text is turned to outlines"},
)
def font_outlined(pages: PagesWithContent, _: FontsAsked) -> Iterator[Outcome]:
    """All text is turned to outlines.

    Why: the printer's software takes no fonts, and would print other letters in their place, or none.
    Remedy: turn all text to outlines in the layout (keep a copy with live text), and export again.
    Knows: the fonts that paint visible text.
    Cannot know: whether text that is no font is outlines or a picture.
    """
    found, names = Sightings(), dict[str, None]()
    for page, content in pages:
        for font in content.fonts:
            found.add(page, font.boxes_mm)
            names[font.name] = None
    if names:
        yield Finding(
            message=say_many(
                "Page {pages} has text in fonts ({names}); the printer asks for text turned to outlines.",
                "Pages {pages} have text in fonts ({names}); the printer asks for text turned to outlines.",
                len(found.pages), pages=page_list(found.pages), names=first_few([quoted(name) for name in names]),
            ),
            remedy=say("Turn all text to outlines in a copy of your layout, and export again."),
            measured={"fonts": list(names)},
            required={"fonts": "none"},
            pages=found.pages,
            places=tuple(found.places),
        )


@rule(
    "font.format",
    needs=contents_of,
    asks=lambda sheet: sheet.fonts if sheet.fonts and sheet.fonts.formats else None,
    asked_by="fonts.formats",
    level="must",
    source="ISO 32000-2:2020, 9.6 and 9.7.4 (kinds of fonts); which of them are taken is the printer's to say",
    measured={"fonts": "names of the fonts of other kinds", **LEFT_OUT},
    required={"formats": "kinds of fonts that the printer takes"},
)
def font_format(pages: PagesWithContent, asked: FontsAsked) -> Iterator[Outcome]:
    """Fonts are of the kinds that the printer takes.

    Why: older software prints some kinds of fonts badly, or not at all.
    Remedy: choose a font of another kind, or turn its text to outlines.
    Knows: the kind of every font that paints visible text. An OpenType font counts by its outlines, Type 1 or TrueType.
    Cannot know: what the font was before the layout program put it into the file.
    """
    found, names = Sightings(), dict[str, FontFormat]()
    for page, content in pages:
        for font in content.fonts:
            kind = _FORMATS.get(font.type)
            if kind is not None and kind not in asked.formats:
                found.add(page, font.boxes_mm)
                names[font.name] = kind
    if names:
        yield Finding(
            message=say_many(
                "Page {pages} has text in fonts of another kind: {names}; the printer takes {formats}.",
                "Pages {pages} have text in fonts of another kind: {names}; the printer takes {formats}.",
                len(found.pages),
                pages=page_list(found.pages),
                names=first_few([f"{quoted(name)} ({say(_NAMED[kind])})" for name, kind in names.items()]),
                formats=listed_or(say(_NAMED[one]) for one in asked.formats),
            ),
            remedy=say("Set this text in a font of a kind that is taken, or turn it to outlines, and export again."),
            measured={"fonts": list(names)},
            required={"formats": list(asked.formats)},
            pages=found.pages,
            places=tuple(found.places),
        )
