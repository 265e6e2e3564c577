"""Who sent a request, and what he may do."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Literal, get_args

from service.accounts.limits import Limits

Scope = Literal["check", "read", "edit-sheets", "administer"]
"""`check`: send files and text to be looked at, forget checks, let pages upload. `read`: ask for checks and what is made from
them. `edit-sheets`: write and delete sheets. `administer`: read the audit trail."""
SCOPES: tuple[Scope, ...] = get_args(Scope)

LOCAL = "local"
"""Owns whatever is made in open mode: the one on the laptop. A key of this account reaches it once keys are asked for."""
LONGEST_OWNER = 40
_OWNER = re.compile(r"[a-z0-9](?:[a-z0-9-]{0,38}[a-z0-9])?")


@dataclass(frozen=True)
class Caller:
    owner: str | None
    """The account; None: nobody in particular, who sees what is everybody's."""
    scopes: frozenset[Scope]
    by: str
    """For the audit trail: 'key 1f2e3d4c'."""
    limits: Limits | None = None
    """None: only those that hold for everybody."""
    key_prefix: str | None = None
    """Of the key that was sent."""
    is_visitor: bool = False
    """Came with an upload token, as many others may."""

    def may(self, scope: Scope) -> bool:
        return scope in self.scopes


OPEN = Caller(LOCAL, frozenset(SCOPES), "open mode")
ANYBODY = Caller(None, frozenset(), "nobody")


def is_owner_name(text: str) -> bool:
    """It stands in commands, in the audit trail and in the database: small letters, digits and hyphens."""
    return bool(_OWNER.fullmatch(text))
