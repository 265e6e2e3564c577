"""The boxes of a page (ISO 32000-2:2020, 14.11.2), by the names that we use for them."""

from __future__ import annotations

from typing import Literal

BoxName = Literal["media", "crop", "bleed", "trim", "art"]

BOX_NAMES: dict[BoxName, str] = {"media": "MediaBox", "crop": "CropBox", "bleed": "BleedBox", "trim": "TrimBox", "art": "ArtBox"}
"""As the page's dictionary has them."""
