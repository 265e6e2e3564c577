"""Catalogues in the database, every revision of them: each method is one transaction.

`owner` is the account whose catalogues are looked at; nothing of another's is ever found.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import ColumnElement, Engine, func, insert, select, update
from sqlalchemy.exc import IntegrityError
from sqlalchemy.orm import Session

from service.store.accounts.audit import By, note
from service.store.catalogues.rows import CatalogueRevisionRow, CatalogueRow, CatalogueSheetRow

MOST_REVISIONS = 1000
"""Of one catalogue. Ours, no source."""
MOST_SHEETS_OF_OWNER = 100_000
"""In all revisions together. Ours, no source: some 200 MB."""
_AT_ONCE = 500

_NEWEST = (
    (CatalogueRow.owner == CatalogueRevisionRow.owner)
    & (CatalogueRow.id == CatalogueRevisionRow.catalogue_id)
    & (CatalogueRow.revision == CatalogueRevisionRow.revision)
)


class CatalogueTaken(Exception):
    """There is a catalogue of that id."""


class CataloguesFull(Exception):
    """There are as many catalogues, revisions or sheets as are kept."""


class CatalogueChanged(Exception):
    """Somebody else has changed or deleted the catalogue meanwhile."""


@dataclass(frozen=True)
class SheetWritten:
    """A sheet of a revision to be kept; what is JSON as text."""

    sheet_id: str
    taken_from: str | None
    found_by: str
    complete: str
    digest: str


@dataclass(frozen=True)
class RevisionWritten:
    title: str
    sent: str
    digest: str
    sheets: Sequence[SheetWritten]


Write = Callable[[int], RevisionWritten]
"""Makes the revision of that number; what it raises is raised, and nothing is kept."""


class Catalogues:
    def __init__(self, engine: Engine) -> None:
        self._engine = engine

    def _session(self) -> Session:
        return Session(self._engine, expire_on_commit=False)

    def create(self, by: By, catalogue_id: str, now: datetime, write: Write, most: int) -> CatalogueRevisionRow:
        """A new catalogue, or one of a deleted id, whose revisions then go on. `most`: that the owner may keep at a time.

        Raises `CatalogueTaken`, `CataloguesFull`.
        """
        head = self.head(by.owner, catalogue_id)
        if head is not None and head.deleted_at is None:
            raise CatalogueTaken
        if self._count(by.owner) >= most:
            raise CataloguesFull
        if head is not None:
            try:
                return self._next(by, head, now, write)
            except CatalogueChanged as changed:
                raise CatalogueTaken from changed
        written = write(1)
        self._hold_room(by.owner, written)
        with self._session() as session:
            session.add(CatalogueRow(owner=by.owner, id=catalogue_id, revision=1, created_at=now, deleted_at=None))
            try:
                session.flush()  # before its revision: the database is told in this order
                row = _add(session, by, catalogue_id, 1, now, written)
            except IntegrityError as error:
                raise CatalogueTaken from error
        return row

    def replace(self, by: By, catalogue_id: str, newest: int, now: datetime, write: Write) -> CatalogueRevisionRow:
        """The next revision. Raises `CatalogueChanged` where `newest` no longer is the newest one; `CataloguesFull`."""
        head = self.head(by.owner, catalogue_id)
        if head is None or head.deleted_at is not None or head.revision != newest:
            raise CatalogueChanged
        return self._next(by, head, now, write)

    def _next(self, by: By, head: CatalogueRow, now: datetime, write: Write) -> CatalogueRevisionRow:
        if head.revision >= MOST_REVISIONS:
            raise CataloguesFull
        number = head.revision + 1
        written = write(number)
        self._hold_room(head.owner, written)
        unchanged = CatalogueRow.deleted_at.is_(None) if head.deleted_at is None else CatalogueRow.deleted_at.is_not(None)
        with self._session() as session:
            taken = session.execute(
                update(CatalogueRow)
                .where(*_of(head.owner, head.id), CatalogueRow.revision == head.revision, unchanged)
                .values(revision=number, deleted_at=None)
                .returning(CatalogueRow.id)
            ).one_or_none()
            if taken is None:
                raise CatalogueChanged
            return _add(session, by, head.id, number, now, written)

    def _hold_room(self, owner: str, written: RevisionWritten) -> None:
        with self._session() as session:
            kept = session.scalar(select(func.sum(CatalogueRevisionRow.sheets)).where(CatalogueRevisionRow.owner == owner))
        if int(kept or 0) + len(written.sheets) > MOST_SHEETS_OF_OWNER:
            raise CataloguesFull

    def delete(self, by: By, catalogue_id: str, newest: int, now: datetime) -> None:
        """Its revisions stay readable. Raises `CatalogueChanged` where `newest` no longer is the newest one."""
        with self._session() as session:
            gone = session.execute(
                update(CatalogueRow)
                .where(*_of(by.owner, catalogue_id), CatalogueRow.revision == newest, CatalogueRow.deleted_at.is_(None))
                .values(deleted_at=now)
                .returning(CatalogueRow.id)
            ).one_or_none()
            if gone is not None:
                note(session, by, "catalogue.deleted", catalogue_id, now)
            session.commit()
        if gone is None:
            raise CatalogueChanged

    def _count(self, owner: str) -> int:
        kept = select(func.count()).select_from(CatalogueRow)
        with self._session() as session:
            return session.scalar(kept.where(CatalogueRow.owner == owner, CatalogueRow.deleted_at.is_(None))) or 0

    # --- Reading ------------------------------------------------------------------------------------------------------

    def head(self, owner: str, catalogue_id: str) -> CatalogueRow | None:
        """Which revision is the newest, and whether the catalogue is deleted; None where there never was one."""
        with self._session() as session:
            return session.get(CatalogueRow, (owner, catalogue_id))

    def revision(self, owner: str, catalogue_id: str, number: int) -> CatalogueRevisionRow | None:
        with self._session() as session:
            return session.get(CatalogueRevisionRow, (owner, catalogue_id, number))

    def all_newest(self, owner: str) -> list[CatalogueRevisionRow]:
        """Of every catalogue that is not deleted, by id."""
        newest = select(CatalogueRevisionRow).join(CatalogueRow, _NEWEST)
        with self._session() as session:
            mine = newest.where(CatalogueRow.owner == owner, CatalogueRow.deleted_at.is_(None))
            return list(session.scalars(mine.order_by(CatalogueRow.id)))

    def revisions(self, owner: str, catalogue_id: str) -> list[CatalogueRevisionRow]:
        """All, the newest first; also of a deleted catalogue."""
        found = select(CatalogueRevisionRow).where(
            CatalogueRevisionRow.owner == owner, CatalogueRevisionRow.catalogue_id == catalogue_id
        )
        with self._session() as session:
            return list(session.scalars(found.order_by(CatalogueRevisionRow.revision.desc())))

    def sheet(self, of: CatalogueRevisionRow, sheet_id: str) -> CatalogueSheetRow | None:
        with self._session() as session:
            return session.get(CatalogueSheetRow, (of.owner, of.catalogue_id, of.revision, sheet_id))

    def found_by(self, of: CatalogueRevisionRow) -> list[tuple[str, str]]:
        """(Id of the sheet, what it is looked for by), by id: of all its sheets, without the sheets."""
        with self._session() as session:
            rows = session.execute(
                select(CatalogueSheetRow.sheet_id, CatalogueSheetRow.found_by)
                .where(*_sheets_of(of))
                .order_by(CatalogueSheetRow.sheet_id)
            )
            return [(sheet_id, found_by) for sheet_id, found_by in rows]

    def sheets(self, of: CatalogueRevisionRow, sheet_ids: Sequence[str]) -> list[CatalogueSheetRow]:
        """Those of these ids, in their order."""
        found: dict[str, CatalogueSheetRow] = {}
        with self._session() as session:
            for start in range(0, len(sheet_ids), _AT_ONCE):
                some = CatalogueSheetRow.sheet_id.in_(sheet_ids[start : start + _AT_ONCE])
                found |= {row.sheet_id: row for row in session.scalars(select(CatalogueSheetRow).where(*_sheets_of(of), some))}
        return [found[one] for one in sheet_ids if one in found]


def _of(owner: str, catalogue_id: str) -> tuple[ColumnElement[bool], ...]:
    return CatalogueRow.owner == owner, CatalogueRow.id == catalogue_id


def _sheets_of(of: CatalogueRevisionRow) -> tuple[ColumnElement[bool], ...]:
    return (
        CatalogueSheetRow.owner == of.owner,
        CatalogueSheetRow.catalogue_id == of.catalogue_id,
        CatalogueSheetRow.revision == of.revision,
    )


def _add(
    session: Session, by: By, catalogue_id: str, number: int, now: datetime, written: RevisionWritten
) -> CatalogueRevisionRow:
    """And all is done."""
    row = CatalogueRevisionRow(
        owner=by.owner, catalogue_id=catalogue_id, revision=number, created_at=now,
        title=written.title, sheets=len(written.sheets), sent=written.sent, digest=written.digest,
    )
    session.add(row)
    session.flush()
    where = {"owner": by.owner, "catalogue_id": catalogue_id, "revision": number}
    session.execute(insert(CatalogueSheetRow), [{**where, **vars(one)} for one in written.sheets])
    note(session, by, "catalogue.written", f"{catalogue_id}@{number}", now)
    session.commit()
    return row
