"""Whether the file's first page can show before the whole of it has arrived (ISO 32000-2:2020, Annex F).

* The linearization dictionary is the file's first object, within the first 1,024 bytes (F.3.2).
* L is the length of the file: a file that was added to since no longer matches. N is the number of pages.
* O is the object number of the first page that shows, P its index (0 where it is left out); all of it ends at byte E.

The hint tables are not looked at: a reader can do without them.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pikepdf

from service.language.sentences import Sentence, sentence
from service.pdf.facts.document import Linearization

_WITHIN = 1024
_LINEARIZED = re.compile(rb"/Linearized\b")
_DICTIONARY = re.compile(rb"\d+\s+\d+\s+obj\s*<<(.*?)>>", re.DOTALL)


def linearization_of(path: Path, pdf: pikepdf.Pdf) -> Linearization | None:
    """None where the file does not start with a linearization dictionary. Raises OSError and what reading raises."""
    with path.open("rb") as file:
        first = file.read(_WITHIN)
        found = _DICTIONARY.search(first)
        if not found or not _LINEARIZED.search(found[1]):
            return None
        end = _number(found[1], b"E")
        first_part = file.read(max(end - _WITHIN, 0)) if end else b""
    faults = _faults(found[1], path.stat().st_size, pdf, (first + first_part)[:end])
    return Linearization(tuple(faults))


def _faults(dictionary: bytes, size: int, pdf: pikepdf.Pdf, first_part: bytes) -> Iterator[Sentence]:
    length = _number(dictionary, b"L")
    if length != size:
        yield sentence(
            "It states a length of {stated} bytes; the file has {size}: something was added to it or cut off later.",
            stated=length, size=size,
        )
        return
    if _number(dictionary, b"N") != len(pdf.pages):
        yield sentence("It states {stated} pages; the file has {count}.", stated=_number(dictionary, b"N"), count=len(pdf.pages))
        return
    index = _number(dictionary, b"P")
    page = pdf.pages[index].obj if index < len(pdf.pages) else None
    number, generation = page.objgen if page is not None else (0, 0)
    if page is None or number != _number(dictionary, b"O"):
        yield sentence("The first page is another than it states.")
    elif not re.search(rb"(?<!\d)%d %d obj\b" % (number, generation), first_part):
        yield sentence("The first page does not stand in the first part of the file.")


def _number(dictionary: bytes, key: bytes) -> int:
    """0 where the key is missing."""
    found = re.search(rb"/" + key + rb"\s+(\d{1,15})(?![\d.])", dictionary)
    return int(found[1]) if found else 0
