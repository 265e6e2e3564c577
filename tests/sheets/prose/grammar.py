"""What the grammar makes of words, nothing kept for a person to confirm: `read_prose` asks about what is often read wrongly."""

from __future__ import annotations

from service.sheets.prose import reading
from service.sheets.prose.doubting import NONE
from service.sheets.prose.drafts import Reading


def read_prose(text: str, media_type: str = "text/plain") -> Reading:
    return reading.read_prose(text, media_type, NONE)
