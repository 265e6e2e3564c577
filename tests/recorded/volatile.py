"""What differs from run to run without meaning anything, replaced by a word for it."""

from __future__ import annotations

import re

_WORD = re.compile(r"(?<![\w-])[\w-]{20,}(?![\w-])")
_FILE_ID = re.compile(rb"(/ID ?\[ ?)<[0-9A-Fa-f]{32}> ?<[0-9A-Fa-f]{32}>")
_TIMES = ("Date", "Expires", "Last-Modified", "Upload-Expires")


class Volatile:
    """Ids are learnt from the answers that bring them, and named after the call that made them."""

    def __init__(self) -> None:
        self._names: dict[str, str] = {}

    def learn(self, value: str, name: str) -> None:
        self._names.setdefault(value, f"«{name}»")

    def text(self, text: str, address: str = "") -> str:
        named = _WORD.sub(lambda found: self._names.get(found[0], found[0]), text)
        return named.replace(address, "http://«service»") if address else named

    def header(self, path: str, name: str, value: str) -> str:
        if name in _TIMES:
            return "«time»"
        if name == "X-Request-Id" and re.fullmatch("[0-9a-f]{16}", value):
            return "«request»"
        if name == "Server-Timing":
            value = re.sub(r"\bwait;dur=[\d.]+(, )?", "", value)  # a quick check is waited for, a slow one at the door
            return re.sub(r"dur=[\d.]+", "dur=«time»", value)
        if name == "ETag" and re.fullmatch(r"/v1/checks(/[\w-]{20,})?", path.partition("?")[0]):  # of an id and of times
            return "«tag»"
        if name == "Allow":  # a set
            return ", ".join(sorted(value.split(", ")))
        if name == "ETag" and path.startswith(("/static/", "/docs/")):  # time, size and place of the file
            return re.sub(r'"[\d.]+-(\d+)-\d+"', r'"«time»-\1-«place»"', value)
        return self.text(value)


def file_ids_left_out(data: bytes) -> bytes:
    """A PDF without the two numbers that name it (ISO 32000-2:2020, 14.4), of which the first may be new each time."""
    return _FILE_ID.sub(rb"\g<1><%b><%b>" % (b"0" * 32, b"0" * 32), data) if data.startswith(b"%PDF") else data


def seconds_said(text: str) -> str:
    """For what people read on a terminal."""
    return re.sub(r"\b\d+\.\d\d to \d+\.\d\d seconds", "«seconds»", text)
