"""Accounts' own sheets in the database, every revision of them: each method is one transaction.

`owner` None, who has no account, has no sheets either; it is looked all the same.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import Engine, bindparam, func, select, update
from sqlalchemy.exc import IntegrityError
from sqlalchemy.orm import Session

from service.store.accounts.audit import By, note
from service.store.models import SheetRevisionRow, SheetRow

_NEWEST = (
    (SheetRow.owner == SheetRevisionRow.owner)
    & (SheetRow.id == SheetRevisionRow.sheet_id)
    & (SheetRow.revision == SheetRevisionRow.revision)
)
_KEPT = SheetRow.deleted_at.is_(None)
_ALL_NEWEST = (
    select(SheetRevisionRow).join(SheetRow, _NEWEST).where(_KEPT, SheetRow.owner == bindparam("of")).order_by(SheetRow.id)
)


class SheetTaken(Exception):
    """There is a sheet of that id."""


class SheetsFull(Exception):
    """There are as many sheets, or revisions of one, as are kept."""


class SheetChanged(Exception):
    """Somebody else has changed or deleted the sheet meanwhile."""


@dataclass(frozen=True)
class Written:
    """A revision to be kept, as JSON texts."""

    sent: str
    complete: str
    digest: str


Write = Callable[[int], Written]
"""Makes the revision of that number; what it raises is raised, and nothing is kept."""


MOST_REVISIONS = 1000
"""Of one sheet. Ours, no source."""


class Sheets:
    def __init__(self, engine: Engine) -> None:
        self._engine = engine

    def _session(self) -> Session:
        return Session(self._engine, expire_on_commit=False)

    def create(self, by: By, sheet_id: str, now: datetime, write: Write, most: int) -> SheetRevisionRow:
        """A new sheet, or one of a deleted id, whose revisions then go on. `most`: that the owner may keep at a time.

        Raises `SheetTaken`, `SheetsFull`.
        """
        head = self.head(by.owner, sheet_id)
        if (head is None or head.deleted_at is not None) and self._count(by.owner) >= most:
            raise SheetsFull
        if head is not None:
            if head.deleted_at is None:
                raise SheetTaken
            try:
                return self._next(by, head, now, write)
            except SheetChanged as changed:
                raise SheetTaken from changed
        row = _revision(by.owner, sheet_id, 1, now, write(1))
        with self._session() as session:
            session.add(SheetRow(id=sheet_id, owner=by.owner, revision=1, created_at=now, deleted_at=None))
            note(session, by, "sheet.written", f"{sheet_id}@1", now)
            try:
                session.flush()  # before its revision: the database is told in this order
                session.add(row)
                session.commit()
            except IntegrityError as error:
                raise SheetTaken from error
        return row

    def replace(self, by: By, sheet_id: str, newest: int, now: datetime, write: Write) -> SheetRevisionRow:
        """The next revision. Raises `SheetChanged` where `newest` no longer is the newest one; `SheetsFull`."""
        head = self.head(by.owner, sheet_id)
        if head is None or head.deleted_at is not None or head.revision != newest:
            raise SheetChanged
        return self._next(by, head, now, write)

    def _next(self, by: By, head: SheetRow, now: datetime, write: Write) -> SheetRevisionRow:
        if head.revision >= MOST_REVISIONS:
            raise SheetsFull
        row = _revision(by.owner, head.id, head.revision + 1, now, write(head.revision + 1))
        unchanged = SheetRow.deleted_at.is_(None) if head.deleted_at is None else SheetRow.deleted_at.is_not(None)
        with self._session() as session:
            taken = session.execute(
                update(SheetRow)
                .where(SheetRow.owner == by.owner, SheetRow.id == head.id, SheetRow.revision == head.revision, unchanged)
                .values(revision=row.revision, deleted_at=None)
                .returning(SheetRow.id)
            ).one_or_none()
            if taken is None:
                raise SheetChanged
            session.add(row)
            note(session, by, "sheet.written", f"{head.id}@{row.revision}", now)
            session.commit()
        return row

    def delete(self, by: By, sheet_id: str, newest: int, now: datetime) -> None:
        """Its revisions stay readable. Raises `SheetChanged` where `newest` no longer is the newest one."""
        mine = (SheetRow.owner == by.owner, SheetRow.id == sheet_id, SheetRow.revision == newest, _KEPT)
        with self._session() as session:
            gone = session.execute(
                update(SheetRow).where(*mine).values(deleted_at=now).returning(SheetRow.id)
            ).one_or_none()
            if gone is None:
                raise SheetChanged
            note(session, by, "sheet.deleted", sheet_id, now)
            session.commit()

    def _count(self, owner: str) -> int:
        with self._session() as session:
            return session.scalar(select(func.count()).select_from(SheetRow).where(_KEPT, SheetRow.owner == owner)) or 0

    def head(self, owner: str | None, sheet_id: str) -> SheetRow | None:
        """Which revision is the newest, and whether the sheet is deleted; None where there never was one."""
        with self._session() as session:
            return session.scalar(select(SheetRow).where(SheetRow.owner == owner, SheetRow.id == sheet_id))

    def revision(self, owner: str | None, sheet_id: str, number: int) -> SheetRevisionRow | None:
        mine = (SheetRevisionRow.owner == owner, SheetRevisionRow.sheet_id == sheet_id, SheetRevisionRow.revision == number)
        with self._session() as session:
            return session.scalar(select(SheetRevisionRow).where(*mine))

    def newest(self, owner: str | None, sheet_id: str) -> SheetRevisionRow | None:
        """None where there is no such sheet, or it is deleted."""
        mine = (_KEPT, SheetRow.owner == owner, SheetRow.id == sheet_id)
        with self._session() as session:
            return session.scalar(select(SheetRevisionRow).join(SheetRow, _NEWEST).where(*mine))

    def all_newest(self, owner: str | None) -> list[SheetRevisionRow]:
        """Of every sheet that is not deleted, by id."""
        with self._session() as session:
            return list(session.scalars(_ALL_NEWEST, {"of": owner}))

    def revisions(self, owner: str | None, sheet_id: str) -> list[SheetRevisionRow]:
        """All, the newest first; also of a deleted sheet."""
        found = select(SheetRevisionRow).where(SheetRevisionRow.owner == owner, SheetRevisionRow.sheet_id == sheet_id)
        with self._session() as session:
            return list(session.scalars(found.order_by(SheetRevisionRow.revision.desc())))


def _revision(owner: str, sheet_id: str, number: int, now: datetime, written: Written) -> SheetRevisionRow:
    return SheetRevisionRow(
        owner=owner, sheet_id=sheet_id, revision=number, created_at=now, sent=written.sent, complete=written.complete,
        digest=written.digest,
    )
