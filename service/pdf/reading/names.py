"""PDF names as text (ISO 32000-2:2020, 7.3.5)."""

from __future__ import annotations

import re

import pikepdf


def name_text(value: object) -> str:
    """A name without its slash; '' where the value is no name. Names need not be UTF-8: others are read as Latin-1."""
    if not isinstance(value, pikepdf.Name):
        return ""
    try:
        return str(value)[1:]
    except UnicodeDecodeError:
        raw = re.sub(rb"#([0-9A-Fa-f]{2})", lambda found: bytes((int(found[1], 16),)), value.unparse())
        return raw[1:].decode("latin-1")
