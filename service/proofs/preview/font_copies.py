"""One copy of each font program in a file, however many fonts bring the same (ISO 32000-2:2020, 9.9)."""

from __future__ import annotations

import hashlib

import pikepdf
from pikepdf import Dictionary, Stream

_PROGRAMS = ("/FontFile", "/FontFile2", "/FontFile3")


def share_font_programs(pdf: pikepdf.Pdf) -> None:
    """Point every font descriptor to the first of the programs that are alike, byte for byte."""
    first: dict[bytes, Stream] = {}
    for one in pdf.objects:
        if not isinstance(one, Dictionary) or isinstance(one, Stream) or one.get("/Type") != "/FontDescriptor":
            continue
        for key in _PROGRAMS:
            program = one.get(key)
            if isinstance(program, Stream):
                mark = hashlib.sha256(repr(sorted(program.keys())).encode() + program.read_raw_bytes()).digest()
                one[key] = first.setdefault(mark, program)
