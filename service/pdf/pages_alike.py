"""Pages that say the same, such as the blank ones of a book, measured once.

Two pages are alike where their dictionaries are written alike, the same objects included, and their contents hold the same bytes.
Annotations are objects of one page: a page with any is measured by itself, and so is one with damage.
"""

from __future__ import annotations

import hashlib
from collections import OrderedDict
from collections.abc import Callable
from dataclasses import replace

import pikepdf

from service.pdf.facts.parts import PagePart
from service.pdf.reading.reading_errors import READING_ERRORS

MOST_KEPT = 4
"""The latest ones: blank pages stand between others, and backs repeat. Ours, no source."""
_OF_ONE_PAGE = ("/Contents", "/StructParents", "/PieceInfo", "/Metadata", "/LastModified", "/B")
"""What says nothing of how a page is painted, and the contents, which are compared by what they hold."""
_LONGEST = 2**20
"""Bytes of packed contents: two pages with more are hardly alike. Ours, no source."""


class PagesAlike:
    def __init__(self) -> None:
        self._kept: OrderedDict[bytes, PagePart] = OrderedDict()

    def once(self, page: pikepdf.Dictionary, number: int, measured: Callable[[], PagePart]) -> PagePart:
        """`measured`, or what came of a page like it."""
        likeness = _likeness(page)
        if likeness is None:
            return measured()
        known = self._kept.get(likeness)
        if known is not None:
            self._kept.move_to_end(likeness)
            return replace(known, page=replace(known.page, number=number))
        part = measured()
        if not part.slips:
            self._kept[likeness] = part
            if len(self._kept) > MOST_KEPT:
                self._kept.popitem(last=False)
        return part


def _likeness(page: pikepdf.Dictionary) -> bytes | None:
    """None for a page that is to be measured by itself."""
    try:
        if "/Annots" in page:
            return None
        digest = hashlib.sha256()
        for key in sorted(page.keys()):
            if key not in _OF_ONE_PAGE:
                digest.update(key.encode() + b" " + _written(page[key]))
        contents = page.get("/Contents")
        left = _LONGEST
        for one in list(contents) if isinstance(contents, pikepdf.Array) else [contents]:
            if isinstance(one, pikepdf.Stream):
                data = one.read_raw_bytes()
                left -= len(data)
                if left < 0:
                    return None
                digest.update(b"stream %d " % len(data) + one.stream_dict.unparse() + data)
            elif one is not None:
                return None
        return digest.digest()
    except READING_ERRORS:
        return None


def _written(value: object) -> bytes:
    """As the file has it; objects of their own by their numbers."""
    if isinstance(value, pikepdf.Object):
        return b"%d %d R" % value.objgen if value.is_indirect else value.unparse()
    return repr(value).encode()
