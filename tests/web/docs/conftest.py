from __future__ import annotations

from tests.api.conftest import (
    _readers_are_waited_for,
    _statements_are_compiled_once,
    caller,
    card,
    card_without_bleed,
    kept_on,
    start,
)

__all__ = [
    "_readers_are_waited_for",
    "_statements_are_compiled_once",
    "caller",
    "card",
    "card_without_bleed",
    "kept_on",
    "start",
]
