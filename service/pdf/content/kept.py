"""What is kept once it was worked out: the latest used, within a bound of bytes."""

from __future__ import annotations

from collections import OrderedDict
from typing import Generic, Protocol, TypeVar


class Sized(Protocol):
    @property
    def size_bytes(self) -> int: ...


Key = tuple[object, ...]
Kind = TypeVar("Kind", bound=Sized)


class Kept(Generic[Kind]):
    def __init__(self, most_bytes: int) -> None:
        self._most_bytes = most_bytes
        self._bytes = 0
        self._kept: OrderedDict[Key, Kind] = OrderedDict()

    def get(self, key: Key) -> Kind | None:
        """None also for the key of what has none of its own: ()."""
        found = self._kept.get(key)
        if found is not None:
            self._kept.move_to_end(key)
        return found

    def taken(self, key: Key) -> Kind | None:
        """For the last time: it is kept no longer."""
        found = self._kept.pop(key, None)
        self._bytes -= found.size_bytes if found is not None else 0
        return found

    def clear(self) -> None:
        self._kept.clear()
        self._bytes = 0

    def keep(self, key: Key, found: Kind) -> Kind:
        if key and found.size_bytes <= self._most_bytes:
            before = self._kept.pop(key, None)
            self._kept[key] = found
            self._bytes += found.size_bytes - (before.size_bytes if before else 0)
            while self._bytes > self._most_bytes:
                self._bytes -= self._kept.popitem(last=False)[1].size_bytes
        return found
