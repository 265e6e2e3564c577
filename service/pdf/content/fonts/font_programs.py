"""Whether an embedded font program parses (ISO 32000-2:2020, 9.9), by fontTools.

TrueType and OpenType: the tables that every reader needs are read and lie within the program, and so does each glyph's place
in `glyf`. CFF: its dictionaries, and that charstrings and private data lie within. Type 1: its clear text, its encrypted part,
and that it is as long as the file says. Glyph outlines are not drawn.
"""

from __future__ import annotations

import io
import logging
import struct
from itertools import pairwise

import pikepdf
from fontTools.cffLib import CFFFontSet, Index
from fontTools.misc import eexec
from fontTools.ttLib import TTFont, TTLibError

from service.language.spoken import to_say
from service.pdf.facts.unknown import Unmeasured, unmeasured

logging.getLogger("fontTools").setLevel(logging.ERROR)  # it warns of old dates and the like, which no print depends on

LARGEST_PROGRAM = 30_000_000
_UNREADABLE = to_say("its program in the file is damaged")
_CUT_OFF = to_say("its program in the file is cut off")
_NEEDED_TABLES = ("head", "maxp", "hhea", "hmtx", "loca", "glyf", "CFF ")
_LENGTH_SLACK = 0.95
"""Lengths of Type 1 parts as files state them are a little off now and then. Our own choice."""
_PARSING_ERRORS = (
    TTLibError, struct.error, ValueError, KeyError, IndexError, AssertionError, AttributeError, TypeError, EOFError,
    OverflowError, NotImplementedError, RecursionError,
)


def font_damage(font: pikepdf.Object) -> str | Unmeasured | None:
    """Why the embedded program does not parse; None where it does, or where there is none."""
    key, program = _program(font)
    if program is None:
        return None
    try:
        data = program.read_bytes()
    except pikepdf.PdfError:
        return to_say("its program in the file cannot be unpacked")
    if len(data) > LARGEST_PROGRAM:
        return unmeasured("its program is larger than {count} MB and was not read", count=LARGEST_PROGRAM // 1_000_000)
    if not data:
        return to_say("its program in the file is empty")
    if key == "/FontFile" and len(data) < _stated_length(program) * _LENGTH_SLACK:
        return _CUT_OFF
    try:
        return _READERS[key](data)
    except _PARSING_ERRORS:
        return _UNREADABLE


def embedded_program(font: pikepdf.Object) -> bytes | None:
    """Its data; None where there are none, or none that can be used."""
    _, program = _program(font)
    try:
        data = program.read_bytes() if program is not None else b""
    except pikepdf.PdfError:
        return None
    return data if 0 < len(data) <= LARGEST_PROGRAM else None


def _program(font: pikepdf.Object) -> tuple[str, pikepdf.Stream | None]:
    own = font
    descendants = font.get("/DescendantFonts")
    if isinstance(descendants, pikepdf.Array) and len(descendants) and isinstance(descendants[0], pikepdf.Dictionary):
        own = descendants[0]
    descriptor = own.get("/FontDescriptor")
    if isinstance(descriptor, pikepdf.Dictionary):
        for key in _READERS:
            program = descriptor.get(key)
            if isinstance(program, pikepdf.Stream):
                return key, program
    return "", None


def _stated_length(program: pikepdf.Stream) -> int:
    """Of a Type 1 program's clear text and encrypted part (9.9.1, Table 125); 0 where the file does not say."""
    stated = 0
    for key in ("/Length1", "/Length2"):
        length = program.get(key)
        stated += length if isinstance(length, int) else 0
    return stated


def _true_type(data: bytes) -> str | None:
    """A PDF needs less of a TrueType program than a system does: no names, no character map for composite fonts (9.9.1)."""
    with TTFont(io.BytesIO(data), lazy=True, fontNumber=0, recalcBBoxes=False) as font:
        if "glyf" not in font and "CFF " not in font and not _is_of_empty_glyphs(font):
            return to_say("its program has no outlines")
        needed = [font.reader.tables[tag] for tag in _NEEDED_TABLES if tag in font]
        if any(table.offset + table.length > len(data) for table in needed if table.length):
            return _CUT_OFF
        for table in ("head", "maxp", "hhea"):
            font[table]
        if "CFF " in font:
            return _compact_outlines(font.reader["CFF "])
        if "glyf" in font:
            places = font["loca"].locations
            if any(later < earlier for earlier, later in pairwise(places)):
                return to_say("the index of its outlines is damaged")
            if places[-1] > font.reader.tables["glyf"].length:
                return to_say("its outlines are cut off")
    return None


def _is_of_empty_glyphs(font: TTFont) -> bool:
    """A subset of blanks may leave out the outlines, of which it has none: its index says so of each glyph."""
    return "loca" in font and not any(font["loca"].locations)


def _compact(data: bytes) -> str | None:
    """FontFile3: bare CFF, or an OpenType file around it."""
    if data[:4] in (b"OTTO", b"\0\1\0\0", b"true"):
        return _true_type(data)
    return _compact_outlines(data)


def _compact_outlines(data: bytes) -> str | None:
    """The charstrings are found by their offset: fontTools would ask for a charset first, which may be left out in a PDF."""
    file, fonts = io.BytesIO(data), CFFFontSet()
    fonts.decompile(file, None, isCFF2=False)
    font = fonts[0]
    file.seek(font.rawDict["CharStrings"])
    outlines = Index(file, isCFF2=False)
    if not len(outlines):
        return to_say("its program has no outlines")
    ends = [outlines.offsetBase + outlines.offsets[-1]]
    for holder in (font, *(font.FDArray if "FDArray" in font.rawDict else ())):
        size, start = holder.rawDict.get("Private", (0, 0))
        ends.append(size + start)
    return _CUT_OFF if max(ends) > len(data) else None


def _type_1(data: bytes) -> str | None:
    in_segments = data[:1] == b"\x80"  # with the headers of a font file of its own
    if in_segments:
        data = data[6:]
    at = data.find(b"eexec")
    if not data.startswith(b"%!") or at < 0:
        return _UNREADABLE
    encrypted = data[at + 5 :].lstrip(b" \t\r\n")
    if in_segments and encrypted[:1] == b"\x80":
        encrypted = encrypted[6:]
    if all(byte in b"0123456789abcdefABCDEF \t\r\n" for byte in encrypted[:8]):
        encrypted = bytes.fromhex(encrypted[:4096].translate(None, b" \t\r\n").decode("ascii")[:4000])
    clear, _ = eexec.decrypt(encrypted[:4000], 55665)
    return None if b"/Private" in clear or b"/Subrs" in clear or b"/lenIV" in clear else _UNREADABLE


_READERS = {"/FontFile": _type_1, "/FontFile2": _true_type, "/FontFile3": _compact}
