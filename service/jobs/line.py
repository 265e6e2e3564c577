"""Who waits for a check, and who is next: the senders in turn, each one's checks in the order in which they came."""

from __future__ import annotations

from collections import OrderedDict, deque


class Line:
    def __init__(self) -> None:
        self._senders: OrderedDict[str, deque[str]] = OrderedDict()
        """The first is next; whose turn it was goes to the end."""

    def __len__(self) -> int:
        return sum(map(len, self._senders.values()))

    @property
    def senders(self) -> int:
        return len(self._senders)

    def of(self, sender: str) -> int:
        """How many checks of this sender wait."""
        return len(self._senders.get(sender, ()))

    def add(self, check_id: str, sender: str) -> None:
        self._senders.setdefault(sender, deque()).append(check_id)

    def next(self) -> str | None:
        if not self._senders:
            return None
        sender, checks = self._senders.popitem(last=False)
        check_id = checks.popleft()
        if checks:
            self._senders[sender] = checks
        return check_id

    def remove(self, check_id: str, sender: str) -> bool:
        """Whether it stood here."""
        checks = self._senders.get(sender)
        if not checks or check_id not in checks:
            return False
        checks.remove(check_id)
        if not checks:
            del self._senders[sender]
        return True

    def leave(self) -> list[str]:
        """All of them, and nobody waits any longer."""
        left = [check_id for checks in self._senders.values() for check_id in checks]
        self._senders.clear()
        return left
