"""Whether an embedded font program parses (ISO 32000-2:2020, 9.9), by fontTools.

TrueType and OpenType: the tables that every reader needs are read, and each glyph's place in `glyf`. CFF: its dictionaries
and charstring index. Type 1: its clear text and its encrypted part. Glyph outlines are not drawn.
"""

from __future__ import annotations

import io
import logging
import struct
from itertools import pairwise

import pikepdf
from fontTools.cffLib import CFFFontSet
from fontTools.misc import eexec
from fontTools.ttLib import TTFont, TTLibError

from service.pdf.measurements import Unmeasured

logging.getLogger("fontTools").setLevel(logging.ERROR)  # it warns of old dates and the like, which no print depends on

LARGEST_PROGRAM = 30_000_000
_UNREADABLE = "its program in the file is damaged"
_PARSING_ERRORS = (
    TTLibError, struct.error, ValueError, KeyError, IndexError, AssertionError, AttributeError, TypeError, EOFError,
    OverflowError, NotImplementedError, RecursionError,
)  # fmt: skip


def font_damage(font: pikepdf.Object) -> str | Unmeasured | None:
    """Why the embedded program does not parse; None where it does, or where there is none."""
    key, program = _program(font)
    if program is None:
        return None
    try:
        data = program.read_bytes()
    except pikepdf.PdfError:
        return "its program in the file cannot be unpacked"
    if len(data) > LARGEST_PROGRAM:
        return Unmeasured(f"its program is larger than {LARGEST_PROGRAM // 1_000_000} MB and was not read")
    if not data:
        return "its program in the file is empty"
    try:
        return _READERS[key](data)
    except _PARSING_ERRORS:
        return _UNREADABLE


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


def _true_type(data: bytes) -> str | None:
    """A PDF needs less of a TrueType program than a system does: no names, no character map for composite fonts (9.9.1)."""
    with TTFont(io.BytesIO(data), lazy=True, fontNumber=0, recalcBBoxes=False) as font:
        if "glyf" not in font and "CFF " not in font:
            return "its program has no outlines"
        for table in ("head", "maxp", "hhea"):
            font[table]
        if "glyf" in font:
            places = font["loca"].locations
            if any(later < earlier for earlier, later in pairwise(places)):
                return "the index of its outlines is damaged"
            if places[-1] > font.reader.tables["glyf"].length:
                return "its outlines are cut off"
    return None


def _compact(data: bytes) -> str | None:
    """FontFile3: bare CFF, or an OpenType file around it."""
    if data[:4] in (b"OTTO", b"\0\1\0\0", b"true"):
        return _true_type(data)
    fonts = CFFFontSet()
    fonts.decompile(io.BytesIO(data), None, isCFF2=False)
    return None if len(fonts[0].CharStrings.keys()) else "its program has no outlines"


def _type_1(data: bytes) -> str | None:
    if data[:1] == b"\x80":
        data = data[6:]
    at = data.find(b"eexec")
    if not data.startswith(b"%!") or at < 0:
        return _UNREADABLE
    encrypted = data[at + 5 :].lstrip(b" \t\r\n")
    if encrypted[:1] == b"\x80":
        encrypted = encrypted[6:]
    if all(byte in b"0123456789abcdefABCDEF \t\r\n" for byte in encrypted[:8]):
        encrypted = bytes.fromhex(encrypted[:4096].translate(None, b" \t\r\n").decode("ascii")[:4000])
    clear, _ = eexec.decrypt(encrypted[:4000], 55665)
    return None if b"/Private" in clear or b"/Subrs" in clear or b"/lenIV" in clear else _UNREADABLE


_READERS = {"/FontFile": _type_1, "/FontFile2": _true_type, "/FontFile3": _compact}
