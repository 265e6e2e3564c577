"""Every key of the format: read from published texts, or not, and then why. A key that is new has to choose."""

from __future__ import annotations

from typing import Any

import pytest

from service.sheets.prose.ours.places import kinds
from service.sheets.prose.reading import read_prose

SAYS: dict[str, str] = {}
NOT_READ: dict[str, str] = {}


def paths_of(document: Any, above: str = "") -> set[str]:
    """Without the numbers of lists."""
    if isinstance(document, dict):
        return {one for key, inner in document.items() for one in paths_of(inner, f"{above}.{key}" if above else key)}
    if isinstance(document, list) and document and isinstance(document[0], dict):
        return {one for inner in document for one in paths_of(inner, above)}
    return {above}
