"""Fonts as the walk needs them: how wide each glyph is and which character it shows (ISO 32000-2:2020, 9.6 to 9.10).

* Widths come from the font dictionary (9.2.4); where a standard-14 font has none, from reportlab's copy of its metrics.
* Characters come from ToUnicode, else from the encoding's glyph names (Adobe Glyph List, through fontTools).
* A character that nothing tells is U+FFFD.
* Lengths are in ems: text space at size 1.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from typing import NamedTuple

import pikepdf
from fontTools import agl
from reportlab.pdfbase import _fontdata as standard_fonts  # type: ignore[attr-defined]

from service.pdf.content.fonts.character_maps import CharacterMap, embedded_map, predefined_map, to_unicode
from service.pdf.content.fonts.font_facts import FontFacts, describe_font
from service.pdf.content.fonts.font_programs import embedded_program, font_damage
from service.pdf.facts.geometry import Matrix
from service.pdf.glyphs.of_font import GlyphInk, GlyphsOfFont
from service.pdf.glyphs.outline import NOT_KNOWN, Outline
from service.pdf.reading.names import name_text

UNKNOWN = "\ufffd"
_SYMBOLIC, _NONSYMBOLIC = 1 << 2, 1 << 5
"""Font flags (9.8.2, Table 121)."""
DEFAULT_ASCENT, DEFAULT_DESCENT = 0.75, -0.25
"""Where the descriptor gives none that can be: usual for Latin text. Common practice, no source."""


class Glyph(NamedTuple):
    code: int
    width: float
    """Along the writing direction, ems: negative downwards in vertical writing."""
    text: str
    is_space: bool
    """A single-byte code 32, to which word spacing applies (9.3.3)."""
    ink: GlyphInk
    """Its outline. Of a Type 3 font `NOT_KNOWN` until its procedure is walked: `inked`."""


class TextFont:
    """One font dictionary, read once."""

    def __init__(self, font: pikepdf.Dictionary) -> None:
        self.facts: FontFacts = describe_font(font)
        self.dictionary = font
        self.damage = font_damage(font)
        self.has_pictures = False
        """Among the Type 3 glyphs that were walked so far."""
        self._unicode = _unicode_map(font)
        self.vertical = False
        self._map: CharacterMap | None = None
        self.matrix = Matrix(0.001, 0, 0, 0.001, 0, 0)
        if self.facts.type == "Type3":
            self.matrix = _font_matrix(font)
        descendant = _descendant(font)
        if descendant is not None:
            self._map = _encoding_map(font)
            self.vertical = self._map.vertical
            self._default, self._widths = _cid_widths(descendant)
            self._vertical_origin, self._vertical_default = _vertical_metrics(descendant)
        else:
            self._names = _glyph_names(font)
            self._default, self._widths = _simple_widths(font, self._names, self.matrix, self.facts)
        self.ascent, self.descent = _vertical_extent(descendant if descendant is not None else font, self.matrix)
        self._glyphs: dict[tuple[int, int], Glyph] = {}
        own = descendant if descendant is not None else font
        self._outlines = GlyphsOfFont(self.facts.name, lambda: None if self.damage else embedded_program(font))
        self._written = _written_names(font)
        self._symbolic = _is_symbolic(font)
        self._to_glyph = _glyph_numbers(own)
        self._origins_differ = "/W2" in own

    def glyphs(self, shown: bytes) -> list[Glyph]:
        """The glyphs of a shown string, in order."""
        codes = self._map.codes(shown) if self._map else [(code, 1) for code in shown]
        known = self._glyphs
        return [known.get(key) or self._read(key) for key in codes]

    def _read(self, key: tuple[int, int]) -> Glyph:
        code, length = key
        if self._map:
            cid = self._map.cid(code)
            half = 2 if length == 1 else 1  # single-byte codes of a predefined map are half wide
            width = self._default / half if cid is None else self._widths.get(cid, self._default)
            text = self._unicode.get(code) or self._map.unicode(code, length) or UNKNOWN
            ink = self._outlines.of_cid(cid, self._to_glyph)
            if self.vertical:
                ink = self._hung(ink, width)
                width = self._vertical_default
        else:
            width = self._widths.get(code, self._default)
            text = self._unicode.get(code) or _character(self._names.get(code))
            ink = self._ink_of_code(code)
        if ink is NOT_KNOWN and text.isspace():
            ink = None
        glyph = Glyph(code, width, text, length == 1 and code == 32, ink)
        self._glyphs[key] = glyph
        return glyph

    def _ink_of_code(self, code: int) -> GlyphInk:
        if self.facts.type == "Type3":
            return NOT_KNOWN
        if self.facts.embedded:
            return self._outlines.of_code(code, self._names, self._written, self._symbolic)
        return self._outlines.standing_in(_character(self._names.get(code)))

    def _hung(self, ink: GlyphInk, width: float) -> GlyphInk:
        """In vertical writing: from the origin at the glyph's top middle (9.7.4.3)."""
        if isinstance(ink, Outline):
            return NOT_KNOWN if self._origins_differ else ink.moved(-width / 2, -self._vertical_origin)
        return ink

    def inked(self, glyph: Glyph, ink: GlyphInk) -> Glyph:
        """The same glyph, whose ink is known from now on."""
        known = self._glyphs[glyph.code, 1] = glyph._replace(ink=ink)
        return known

    def glyph_procedure(self, code: int) -> pikepdf.Stream | None:
        """The content stream that draws a Type 3 glyph."""
        procedures, name = self.dictionary.get("/CharProcs"), self._names.get(code)
        if not isinstance(procedures, pikepdf.Dictionary) or not name:
            return None
        found = procedures.get("/" + name)
        return found if isinstance(found, pikepdf.Stream) else None


def _descendant(font: pikepdf.Dictionary) -> pikepdf.Dictionary | None:
    fonts = font.get("/DescendantFonts")
    if font.get("/Subtype") == "/Type0" and isinstance(fonts, pikepdf.Array) and len(fonts):
        first = fonts[0]
        return first if isinstance(first, pikepdf.Dictionary) else None
    return None


def _unicode_map(font: pikepdf.Dictionary) -> Mapping[int, str]:
    written = font.get("/ToUnicode")
    if name_text(written).startswith("Identity"):
        return {code: chr(code) for code in range(0x10000) if not 0xD800 <= code < 0xE000}
    return to_unicode(_bytes(written)) if isinstance(written, pikepdf.Stream) else {}


def _bytes(stream: pikepdf.Stream) -> bytes:
    try:
        return stream.read_bytes()
    except pikepdf.PdfError:
        return b""


def _encoding_map(font: pikepdf.Dictionary) -> CharacterMap:
    encoding = font.get("/Encoding")
    if isinstance(encoding, pikepdf.Stream):
        return embedded_map(_bytes(encoding), encoding.get("/WMode") == 1)
    return predefined_map(name_text(encoding) if isinstance(encoding, pikepdf.Name) else "Identity-H")


def _cid_widths(descendant: pikepdf.Dictionary) -> tuple[float, dict[int, float]]:
    """DW and W (9.7.4.3), in ems."""
    default = _number(descendant.get("/DW"), 1000.0) / 1000
    widths: dict[int, float] = {}
    listed = descendant.get("/W")
    items = list(listed) if isinstance(listed, pikepdf.Array) else []
    position = 0
    while position + 1 < len(items):
        first, second = int(_number(items[position], 0)), items[position + 1]
        if isinstance(second, pikepdf.Array):
            for offset, width in enumerate(second):
                widths[first + offset] = _number(width, 1000.0) / 1000
            position += 2
        elif position + 2 < len(items):
            last = min(int(_number(second, 0)), first + 0xFFFF)
            widths.update(dict.fromkeys(range(first, last + 1), _number(items[position + 2], 1000.0) / 1000))
            position += 3
        else:
            break
    return default, widths


def _vertical_metrics(descendant: pikepdf.Dictionary) -> tuple[float, float]:
    """DW2 (9.7.4.3): how high the origin of vertical writing lies, and the advance from it, in ems."""
    dw2 = descendant.get("/DW2")
    height, advance = dw2[:2] if isinstance(dw2, pikepdf.Array) and len(dw2) > 1 else (880, -1000)
    return _number(height, 880.0) / 1000, _number(advance, -1000.0) / 1000


def _glyph_numbers(descendant: pikepdf.Dictionary) -> bytes | None:
    """CIDToGIDMap (9.7.4.2); None where it is Identity."""
    written = descendant.get("/CIDToGIDMap")
    return _bytes(written) if isinstance(written, pikepdf.Stream) else None


def _is_symbolic(font: pikepdf.Dictionary) -> bool:
    """By its flags (9.8.2); where there are none, as a font whose codes are its own."""
    descriptor = font.get("/FontDescriptor")
    flags = descriptor.get("/Flags") if isinstance(descriptor, pikepdf.Dictionary) else None
    return bool(flags & _SYMBOLIC) and not flags & _NONSYMBOLIC if isinstance(flags, int) else "/Encoding" not in font


def _glyph_names(font: pikepdf.Dictionary) -> dict[int, str]:
    """Code → glyph name of a simple font (9.6.5): a base encoding and its differences."""
    encoding = font.get("/Encoding")
    base = encoding
    if isinstance(encoding, pikepdf.Dictionary):
        base = encoding.get("/BaseEncoding")
    name = name_text(base) if isinstance(base, pikepdf.Name) else _built_in_encoding(font)
    return {**_named_encoding(name), **_differences(encoding)}


def _written_names(font: pikepdf.Dictionary) -> dict[int, str]:
    """Those that the dictionary gives itself: without a base encoding the others are the font program's own."""
    encoding = font.get("/Encoding")
    base = encoding.get("/BaseEncoding") if isinstance(encoding, pikepdf.Dictionary) else encoding
    names = _named_encoding(name_text(base)) if isinstance(base, pikepdf.Name) else {}
    return {**names, **_differences(encoding)}


def _differences(encoding: object) -> dict[int, str]:
    names: dict[int, str] = {}
    differences = encoding.get("/Differences") if isinstance(encoding, pikepdf.Dictionary) else None
    code = 0
    for one in differences if isinstance(differences, pikepdf.Array) else ():
        if isinstance(one, pikepdf.Name):
            names[code] = name_text(one)
            code += 1
        else:
            code = int(_number(one, code))
    return names


def _built_in_encoding(font: pikepdf.Dictionary) -> str:
    name = name_text(font.get("/BaseFont"))
    if name in ("Symbol", "ZapfDingbats"):
        return name + "Encoding"
    return "StandardEncoding"


@lru_cache(maxsize=16)
def _named_encoding(name: str) -> Mapping[int, str]:
    table = standard_fonts.encodings.get(name) or standard_fonts.encodings["StandardEncoding"]
    return {code: glyph for code, glyph in enumerate(table) if glyph}


def _simple_widths(
    font: pikepdf.Dictionary, names: Mapping[int, str], matrix: Matrix, facts: FontFacts
) -> tuple[float, dict[int, float]]:
    """Widths of a simple font in ems, and what a code without one gets."""
    listed = font.get("/Widths")
    if isinstance(listed, pikepdf.Array):
        first = int(_number(font.get("/FirstChar"), 0))
        descriptor = font.get("/FontDescriptor")
        missing = descriptor.get("/MissingWidth") if isinstance(descriptor, pikepdf.Dictionary) else None
        return _number(missing, 0.0) * matrix.a, {first + at: _number(one, 0.0) * matrix.a for at, one in enumerate(listed)}
    metrics = standard_fonts.widthsByFontGlyph.get(facts.name) or standard_fonts.widthsByFontGlyph["Helvetica"]
    return 0.0, {code: metrics[glyph] / 1000 for code, glyph in names.items() if glyph in metrics}


def _vertical_extent(font: pikepdf.Dictionary, matrix: Matrix) -> tuple[float, float]:
    """(ascent, descent) in ems: the descriptor's where they can be true, Type 3's FontBBox, else the usual."""
    if font.get("/Subtype") == "/Type3":
        box = font.get("/FontBBox")
        edges = [_number(one, 0.0) * matrix.d for one in box] if isinstance(box, pikepdf.Array) and len(box) == 4 else []
        if edges and edges[1] != edges[3]:
            return max(edges[1], edges[3]), min(edges[1], edges[3])
    descriptor = font.get("/FontDescriptor")
    if isinstance(descriptor, pikepdf.Dictionary):
        ascent, descent = (_number(descriptor.get(key), 0.0) / 1000 for key in ("/Ascent", "/Descent"))
        return (
            ascent if 0.3 <= ascent <= 1.5 else DEFAULT_ASCENT,
            descent if -0.8 <= descent < 0 else DEFAULT_DESCENT,
        )
    return DEFAULT_ASCENT, DEFAULT_DESCENT


def _font_matrix(font: pikepdf.Dictionary) -> Matrix:
    values = font.get("/FontMatrix")
    if isinstance(values, pikepdf.Array) and len(values) == 6:
        return Matrix(*(_number(one, 0.0) for one in values))
    return Matrix(0.001, 0, 0, 0.001, 0, 0)


@lru_cache(maxsize=8192)
def _character(name: str | None) -> str:
    return (agl.toUnicode(name) if name else "") or UNKNOWN


def _number(value: object, otherwise: float) -> float:
    try:
        found = float(value)  # type: ignore[arg-type]
    except (TypeError, ValueError, OverflowError):
        return otherwise
    return found if -1e9 < found < 1e9 else otherwise
