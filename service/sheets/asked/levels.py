"""What every block of a sheet may carry: its level, and the printer's own words."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Level = Literal["must", "should"]
"""RFC 2119: a broken must is a nonconformity, a broken should an observation."""
Permission = Literal["allowed", "forbidden"]


@dataclass(frozen=True, kw_only=True)
class Block:
    level: Level | None = None
    """None: the rule's own level."""
    note: str | None = None
