"""JSON as it is sent: readable text, and half characters as escapes."""

from __future__ import annotations

import re
from typing import Any

from flask.json.provider import DefaultJSONProvider

_HALF = re.compile("[\ud800-\udfff]")
"""Half a character (a lone surrogate). JSON can name one (RFC 8259, 8.2); UTF-8 cannot hold it."""


class JsonText(DefaultJSONProvider):
    sort_keys = False  # answers read in the order of the contract
    ensure_ascii = False

    def dumps(self, obj: Any, **kwargs: Any) -> str:
        """As the library; what a caller sent as an escape and UTF-8 cannot hold goes back as that escape."""
        return _HALF.sub(lambda half: f"\\u{ord(half[0]):04x}", super().dumps(obj, **kwargs))
