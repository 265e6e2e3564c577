"""Upload tokens in the database: how often each was used. One that was taken back is no longer there."""

from __future__ import annotations

from datetime import datetime

from sqlalchemy import Engine, delete, or_, update
from sqlalchemy.orm import Session

from service.store.accounts.audit import By, note
from service.store.accounts.rows import UploadTokenRow


class TokenSpent(Exception):
    """The upload token was used up, or taken back."""


class UploadTokens:
    def __init__(self, engine: Engine) -> None:
        self._engine = engine

    def add(self, row: UploadTokenRow, by: By, now: datetime) -> None:
        with Session(self._engine) as session:
            note(session, by, "token.made", row.id, now)
            session.add(row)
            session.commit()

    def get(self, token_id: str, now: datetime) -> UploadTokenRow | None:
        with Session(self._engine) as session:
            row = session.get(UploadTokenRow, token_id)
            return row if row and row.expires_at > now else None

    def revoke(self, token_id: str, by: By, now: datetime) -> bool:
        """False where the owner has none of this id, or no longer."""
        mine = (UploadTokenRow.id == token_id, UploadTokenRow.owner == by.owner, UploadTokenRow.expires_at > now)
        with Session(self._engine) as session:
            gone = session.scalar(delete(UploadTokenRow).where(*mine).returning(UploadTokenRow.id))
            if gone is not None:
                note(session, by, "token.revoked", token_id, now)
            session.commit()
            return gone is not None

    def forget_old(self, now: datetime) -> None:
        with self._engine.begin() as connection:
            connection.execute(delete(UploadTokenRow).where(UploadTokenRow.expires_at <= now))


def use(session: Session, token_id: str) -> None:
    """One upload more, within the caller's transaction. Raises `TokenSpent`."""
    left = or_(UploadTokenRow.uses.is_(None), UploadTokenRow.used < UploadTokenRow.uses)
    mine = update(UploadTokenRow).where(UploadTokenRow.id == token_id, left)
    if session.scalar(mine.values(used=UploadTokenRow.used + 1).returning(UploadTokenRow.id)) is None:
        raise TokenSpent


def is_spent(row: UploadTokenRow) -> bool:
    return row.uses is not None and row.used >= row.uses
