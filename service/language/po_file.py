"""Read a catalogue as translators write it: a file `.po` of gettext (GNU gettext manual, 'The Format of PO Files').

Babel reads all that such a file may hold, its comments and places too, and needs five times as long (measured): each fork server
waited for three of them. `tests/language/test_po_file.py` holds both alike.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field

_ESCAPED = re.compile(r"\\(.)", re.DOTALL)
_STANDS_FOR = {"n": "\n", "t": "\t", "r": "\r"}


@dataclass
class _Entry:
    parts: dict[str, list[str]] = field(default_factory=dict)
    """By keyword, such as `msgid` and `msgstr[1]`; a text may go over several lines."""
    is_guess: bool = False
    """'fuzzy', which nobody has looked at."""


Key = tuple[str | None, str]
"""What a word is said about, where it has such, and the message in English."""


def texts_in(written: str) -> dict[Key, tuple[str, ...]]:
    """The translated messages: one form, or as many as the language counts. (None, '') has the header.

    Raises ValueError for a line that is none of such a file.
    """
    found: dict[Key, tuple[str, ...]] = {}
    for entry in _entries(written):
        said = {keyword: "".join(lines) for keyword, lines in entry.parts.items()}
        forms = tuple(text for keyword, text in said.items() if keyword.startswith("msgstr"))
        if "msgid" in said and all(forms) and not (entry.is_guess and said["msgid"]):
            found[said.get("msgctxt"), said["msgid"]] = forms
    return found


def _entries(written: str) -> Iterator[_Entry]:
    entry, lines = _Entry(), None
    for line in written.split("\n"):  # a text may hold what else ends a line
        if line.startswith('"') and lines is not None:
            lines.append(_text(line))
        elif line.startswith("msg"):
            keyword, _, text = line.partition(" ")
            if keyword == "msgctxt" or (keyword == "msgid" and "msgid" in entry.parts):
                yield entry
                entry = _Entry()
            lines = entry.parts[keyword] = [_text(text)]
        elif not line.strip() or line.startswith("#"):
            if entry.parts and any(one.startswith("msgstr") for one in entry.parts):
                yield entry
                entry, lines = _Entry(), None
            entry.is_guess |= line.startswith("#,") and "fuzzy" in line
        else:
            raise ValueError(f"no line of a catalogue: {line[:80]!r}")
    yield entry


def _text(quoted: str) -> str:
    text = quoted.strip()
    if len(text) < 2 or text[0] != '"' or text[-1] != '"':
        raise ValueError(f"no text of a catalogue: {quoted[:80]!r}")
    text = text[1:-1]
    return _ESCAPED.sub(lambda found: _STANDS_FOR.get(found[1], found[1]), text) if "\\" in text else text
