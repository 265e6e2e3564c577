"""What differs from run to run without meaning anything, replaced by a word for it."""

from __future__ import annotations

import re
import threading


class Volatile:
    """Ids are learnt from the answers that bring them, and named after the call that made them."""

    def __init__(self) -> None:
        self._names: dict[str, str] = {}
        self._pattern: re.Pattern[str] | None = None
        self._lock = threading.Lock()

    def learn(self, value: str, name: str) -> None:
        with self._lock:
            self._names.setdefault(value, f"«{name}»")
            self._pattern = re.compile("|".join(map(re.escape, self._names)))

    def text(self, text: str) -> str:
        pattern = self._pattern
        return pattern.sub(lambda found: self._names[found[0]], text) if pattern else text

    def header(self, path: str, name: str, value: str) -> str:
        if name in ("Date", "Last-Modified"):
            return "«time»"
        if name == "X-Request-Id" and re.fullmatch("[0-9a-f]{16}", value):
            return "«request»"
        if name == "ETag" and path.startswith(("/static/", "/docs/")):  # from the time at which the file was written here
            return re.sub(r'"[\d.]+-', '"«time»-', value)
        return self.text(value)


def seconds_said(text: str) -> str:
    """For what people read on a terminal."""
    return re.sub(r"\b\d+\.\d\d to \d+\.\d\d seconds", "«seconds»", text)
