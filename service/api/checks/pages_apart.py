"""The pages of a long file, each read when it is looked at: whoever asks for one page's picture waits for no other page."""

from __future__ import annotations

import zlib
from collections.abc import Iterable, Sequence
from typing import overload

from service.pdf.codec import page_from_json
from service.pdf.facts.page import Page

_QUICKLY = 1


class PagesApart(Sequence[Page]):
    def __init__(self, texts: Iterable[str]) -> None:
        """`texts`: as `service.pdf.codec.pages_apart` gives them."""
        self._packed = [zlib.compress(text.encode(), _QUICKLY) for text in texts]
        self.size_bytes = sum(map(len, self._packed))

    def __len__(self) -> int:
        return len(self._packed)

    @overload
    def __getitem__(self, at: int) -> Page: ...
    @overload
    def __getitem__(self, at: slice) -> tuple[Page, ...]: ...
    def __getitem__(self, at: int | slice) -> Page | tuple[Page, ...]:
        """Raises RecordRefused."""
        if isinstance(at, slice):
            return tuple(map(_read, self._packed[at]))
        return _read(self._packed[at])


def _read(packed: bytes) -> Page:
    return page_from_json(zlib.decompress(packed).decode())
