"""What a font dictionary says of its font: name, type, embedded or not, subset or not.

* A composite font's facts stand with its descendant (ISO 32000-2:2020, 9.7.1).
* The program is embedded where the descriptor has FontFile, FontFile2 or FontFile3 (9.9.1, Table 124).
* A Type 3 font's glyphs are content streams of its own (9.6.4): always in the file.
* A subset is marked by six capitals and a plus sign before the name (9.9.2).

Whether the program parses is not looked at here. The standard 14 fonts without a program are not embedded: a printer's
system replaces them.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

import pikepdf

from service.pdf.facts.painted.text import FontType
from service.pdf.reading.names import name_text

LONGEST_NAME = 127
"""Bytes of a name (ISO 32000-1:2008, Annex C, Table C.1)."""

_SUBTYPES: dict[str, FontType] = {
    "Type1": "Type1",
    "TrueType": "TrueType",
    "Type3": "Type3",
    "MMType1": "MMType1",
    "CIDFontType0": "CIDFontType0",
    "CIDFontType2": "CIDFontType2",
}
_PROGRAMS = ("/FontFile", "/FontFile2", "/FontFile3")
_SUBSET_TAG = re.compile(r"[A-Z]{6}\+")


@dataclass(frozen=True)
class FontFacts:
    name: str
    """Without the subset tag; 'unnamed' where the dictionary has none."""
    type: FontType
    embedded: bool
    subset: bool


def describe_font(font: pikepdf.Object) -> FontFacts:
    """Facts of one font dictionary as Resources has it. A dictionary that says nothing gives an unknown, unembedded font."""
    if not isinstance(font, pikepdf.Dictionary):
        return FontFacts("unnamed", "unknown", embedded=False, subset=False)
    own = _descendant(font) or font
    kind = _SUBTYPES.get(name_text(own.get("/Subtype")), "unknown")
    descriptor = own.get("/FontDescriptor")
    if not isinstance(descriptor, pikepdf.Dictionary):
        descriptor = pikepdf.Dictionary()
    written = _written_name(own, font, descriptor)
    tag = _SUBSET_TAG.match(written)
    return FontFacts(
        name=(written[tag.end() :] if tag else written)[:LONGEST_NAME] or "unnamed",
        type=kind,
        embedded=kind == "Type3" or any(isinstance(descriptor.get(key), pikepdf.Stream) for key in _PROGRAMS),
        subset=tag is not None,
    )


def _descendant(font: pikepdf.Object) -> pikepdf.Object | None:
    """The CIDFont of a composite font; None for a simple font."""
    if name_text(font.get("/Subtype")) != "Type0":
        return None
    descendants = font.get("/DescendantFonts")
    if isinstance(descendants, pikepdf.Array) and len(descendants) > 0 and isinstance(descendants[0], pikepdf.Dictionary):
        return descendants[0]
    return None


def _written_name(own: pikepdf.Object, font: pikepdf.Object, descriptor: pikepdf.Object) -> str:
    for place, key in ((own, "/BaseFont"), (font, "/BaseFont"), (descriptor, "/FontName"), (font, "/Name")):
        name = name_text(place.get(key))
        if name:
            return name
    return ""
