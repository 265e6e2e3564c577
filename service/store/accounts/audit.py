"""The audit trail: written in the transaction of what it tells of, read by whoever administers, forgotten after a year."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Literal

from sqlalchemy import Engine, delete, select
from sqlalchemy.orm import Session

from service.store.accounts.rows import AuditRow

Did = Literal[
    "key.made", "key.turned-off", "limits.set", "callbacks.set", "sheet.written", "sheet.deleted", "check.deleted",
    "token.made", "token.revoked", "catalogue.written", "catalogue.deleted",
]
KEPT = timedelta(days=400)
"""A year and a month, so that a whole year can be looked at. Ours, no source."""


@dataclass(frozen=True)
class By:
    """Whose hand it was, as the trail says it."""

    owner: str
    by: str


def note(session: Session, by: By, did: Did, about: str, now: datetime) -> None:
    """Within the caller's transaction."""
    session.add(AuditRow(at=now, owner=by.owner, by=by.by, did=did, about=about))


class Audit:
    def __init__(self, engine: Engine) -> None:
        self._engine = engine

    def entries(self, owner: str | None, most: int, before: int | None = None) -> list[AuditRow]:
        """The newest first; `before`: the number of an entry. `owner` None: of everybody, for whoever runs the service."""
        wanted = select(AuditRow).order_by(AuditRow.id.desc()).limit(most)
        if owner is not None:
            wanted = wanted.where(AuditRow.owner == owner)
        if before is not None:
            wanted = wanted.where(AuditRow.id < before)
        with Session(self._engine) as session:
            return list(session.scalars(wanted))

    def forget_old(self, now: datetime) -> None:
        with self._engine.begin() as connection:
            connection.execute(delete(AuditRow).where(AuditRow.at < now - KEPT))
