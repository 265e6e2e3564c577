"""Accounts and their keys in the database: each method is one transaction."""

from __future__ import annotations

import logging
from collections.abc import Sequence
from dataclasses import asdict, dataclass
from datetime import datetime

from sqlalchemy import ColumnElement, Engine, delete, select, update
from sqlalchemy.exc import IntegrityError
from sqlalchemy.orm import Session

from service.accounts.limits import Wished
from service.store.accounts.audit import By, note
from service.store.accounts.rows import AccountRow, KeyRow, UploadTokenRow
from service.store.database import DatabaseAway, waiting_briefly

log = logging.getLogger(__name__)


@dataclass(frozen=True)
class Found:
    """A key that is valid."""

    owner: str
    prefix: str
    scopes: tuple[str, ...]
    wished: Wished


class Accounts:
    def __init__(self, engine: Engine) -> None:
        self._engine = engine

    def by_digest(self, digest: str, now: datetime) -> Found | None:
        """None where no key has this digest, or it was turned off."""
        return self._found(KeyRow.digest == digest, now)

    def by_prefix(self, prefix: str, now: datetime) -> Found | None:
        """The same for whoever has shown the key before, and was given something signed that says so."""
        return self._found(KeyRow.prefix == prefix, now)

    def _found(self, which: ColumnElement[bool], now: datetime) -> Found | None:
        wanted = select(KeyRow, AccountRow).join(AccountRow).where(which, KeyRow.turned_off_at.is_(None))
        with Session(self._engine) as session:
            row = session.execute(wanted).one_or_none()
            if row is None:
                return None
            key, account = row
            found = Found(key.owner, key.prefix, tuple(key.scopes.split()), _wished(account))
            is_noted = key.used_at is not None and key.used_at.date() >= now.date()
        if not is_noted:
            self._note_use(key.digest, now)
        return found

    def _note_use(self, digest: str, now: datetime) -> None:
        """Where others write for long, the key's next use is noted."""
        try:
            with self._engine.begin() as connection, waiting_briefly(connection):
                connection.execute(update(KeyRow).where(KeyRow.digest == digest).values(used_at=now))
        except DatabaseAway:
            log.warning("the use of a key was not noted: the database is busy")

    def wished(self, owner: str) -> Wished:
        with Session(self._engine) as session:
            account = session.get(AccountRow, owner)
            return _wished(account) if account else Wished()

    def make_key(
        self, owner: str, digest: str, prefix: str, scopes: Sequence[str], text: str, by: str, now: datetime
    ) -> None:
        """Of an account that is made where there is none. `text`: what the key is for."""
        self._make_account(owner, now)
        with Session(self._engine) as session:
            session.add(
                KeyRow(digest=digest, prefix=prefix, owner=owner, scopes=" ".join(scopes), note=text, made_at=now,
                       used_at=None, turned_off_at=None)
            )
            note(session, By(owner, by), "key.made", f"{prefix} {','.join(scopes)}", now)
            session.commit()

    def turn_off(self, prefix: str, by: str, now: datetime) -> str | None:
        """The key, and the upload tokens that it asked for; gives whose it was. None where there is none that is on."""
        with Session(self._engine) as session:
            owner: str | None = session.scalar(
                update(KeyRow)
                .where(KeyRow.prefix == prefix, KeyRow.turned_off_at.is_(None))
                .values(turned_off_at=now)
                .returning(KeyRow.owner)
            )
            if owner is None:
                return None
            session.execute(delete(UploadTokenRow).where(UploadTokenRow.key_prefix == prefix))
            note(session, By(owner, by), "key.turned-off", prefix, now)
            session.commit()
            return owner

    def all_keys(self) -> list[KeyRow]:
        """All, by account, the oldest first."""
        with Session(self._engine) as session:
            return list(session.scalars(select(KeyRow).order_by(KeyRow.owner, KeyRow.made_at)))

    def set_limits(self, owner: str, wished: Wished, by: str, now: datetime) -> None:
        """Of an account that is made where there is none."""
        self._make_account(owner, now)
        with Session(self._engine) as session:
            session.execute(update(AccountRow).where(AccountRow.name == owner).values(**asdict(wished)))
            said = (f"{name}={'usual' if value is None else value}" for name, value in asdict(wished).items())
            note(session, By(owner, by), "limits.set", " ".join(said), now)
            session.commit()

    def callback_hosts(self, owner: str) -> tuple[str, ...]:
        """The only ones that callbacks of the account go to; none: all."""
        with Session(self._engine) as session:
            return hosts_of(session, owner)

    def set_callback_hosts(self, owner: str, hosts: Sequence[str], by: str, now: datetime) -> None:
        """Of an account that is made where there is none. No hosts: all."""
        self._make_account(owner, now)
        said = " ".join(hosts)
        with Session(self._engine) as session:
            session.execute(update(AccountRow).where(AccountRow.name == owner).values(callback_hosts=said or None))
            note(session, By(owner, by), "callbacks.set", said or "all", now)
            session.commit()

    def _make_account(self, owner: str, now: datetime) -> None:
        with Session(self._engine) as session:
            if session.get(AccountRow, owner) is None:
                session.add(AccountRow(name=owner, created_at=now))
                try:
                    session.commit()
                except IntegrityError:
                    return  # somebody else was quicker


def hosts_of(session: Session, owner: str) -> tuple[str, ...]:
    """As `Accounts.callback_hosts`, within a transaction."""
    said = session.scalar(select(AccountRow.callback_hosts).where(AccountRow.name == owner))
    return tuple((said or "").split())


def _wished(row: AccountRow) -> Wished:
    return Wished(row.requests_per_minute, row.bytes_per_day, row.disk_bytes, row.sheets)
