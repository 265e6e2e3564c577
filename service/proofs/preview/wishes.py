"""What a caller may wish of a client preview."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Literal

from service.language.spoken import say
from service.proofs.wishes import NotUnderstood, WholeNumbers

PreviewArrangement = Literal["spreads", "singles"]
PPI = WholeNumbers(36, 110, 300)
"""Of pictures as they are placed."""
QUALITY = WholeNumbers(20, 60, 95)
"""Of the JPEG pictures, on the scale of the common JPEG library (libjpeg)."""
SMALLEST_BYTES = 10_000
LONGEST_WATERMARK = 60


@dataclass(frozen=True)
class PreviewWishes:
    arrangement: PreviewArrangement | None = None
    """None: by the sheet."""
    pages: str | None = None
    """As `page_numbers` reads it."""
    ppi: int = PPI.usual
    quality: int = QUALITY.usual
    maximum_size: str | None = None
    """As `bytes_of` reads it: pictures are made coarser until the file fits."""
    watermark: str = ""


_UNITS = {"": 1, "b": 1, "kb": 10**3, "mb": 10**6, "kib": 2**10, "mib": 2**20}


def bytes_of(text: str) -> int:
    """'600kB', '5 MB', '1 MiB' or a number of bytes. Raises `NotUnderstood`."""
    found = re.fullmatch(r"\s*(\d{1,12}(?:\.\d{1,6})?)\s*([a-z]*)\s*", text.lower(), re.ASCII)
    if not found or found[2] not in _UNITS:
        raise NotUnderstood(say("Write a size with its unit, such as 600kB or 5MB."))
    size = int(float(found[1]) * _UNITS[found[2]])
    if size < SMALLEST_BYTES:
        raise NotUnderstood(say("No preview is as small as that; ask for {least} kB or more.", least=SMALLEST_BYTES // 1000))
    return size


def watermark_of(text: str) -> str:
    """One line of letters that the typeface has (Western European). Raises `NotUnderstood`."""
    words = " ".join(text.split())
    if len(words) > LONGEST_WATERMARK:
        raise NotUnderstood(say("Write at most {most} letters, such as 'For approval'.", most=LONGEST_WATERMARK))
    try:
        words.encode("cp1252")
    except UnicodeEncodeError as error:
        says = say("The watermark's typeface has Western European letters only; write it with those.")
        raise NotUnderstood(says) from error
    return words
