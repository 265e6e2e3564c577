"""API keys: 'psk_1f2e3d4c_…', a prefix to know one by and 256 random bits. The key itself is never kept."""

from __future__ import annotations

import hashlib
import re
import secrets
from dataclasses import dataclass, field

_START = "psk_"
"""Lets a program that looks for forgotten secrets know one."""
_SECRET_BYTES = 32
_KEY = re.compile(r"psk_([0-9a-f]{8})_[A-Za-z0-9_-]{43}")
LONGEST_SENT = 200


@dataclass(frozen=True)
class NewKey:
    key: str = field(repr=False)
    """Shown once."""
    prefix: str
    digest: str
    """What is kept of it, and looked up by."""


def new_key() -> NewKey:
    prefix = secrets.token_hex(4)
    key = f"{_START}{prefix}_{secrets.token_urlsafe(_SECRET_BYTES)}"
    return NewKey(key, prefix, digest_of(key))


def digest_of(key: str) -> str:
    """A fast hash is right here: slow ones make guessing passwords dear, and nobody guesses 256 random bits. Because the
    database looks for the hash and never for the key, how long it takes tells nothing of how much of a key was right.
    """
    return hashlib.sha256(key[:LONGEST_SENT].encode("utf-8", "replace")).hexdigest()


def prefix_in(text: str) -> str | None:
    """What the whole key, its prefix, or the prefix as lists show it ('psk_1f2e3d4c') names."""
    found = _KEY.fullmatch(text)
    named = found[1] if found else text.removeprefix(_START)
    return named if re.fullmatch(r"[0-9a-f]{8}", named) else None


def shown(prefix: str) -> str:
    return f"{_START}{prefix}"
