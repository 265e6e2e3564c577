"""Which addresses below /v1/specs are those of sheets."""

from __future__ import annotations

from werkzeug.routing import BaseConverter

RESERVED_IDS = ("schema", "matches", "readings", "template-readings")
"""Other resources stand at these addresses."""
PAGES = ("new",)
"""Likewise below `/specs`, among the pages for people."""


class SpecId(BaseConverter):
    """An address that is another resource's takes that one's methods alone, and says so."""

    regex = rf"(?!(?:{'|'.join(RESERVED_IDS)})\Z)[^/]+"
    part_isolating = True
