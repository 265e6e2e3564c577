"""Callbacks in the database: due from the transaction that settles their check on, until they are delivered or given up."""

from __future__ import annotations

import secrets
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from typing import Any
from urllib.parse import urlsplit

from sqlalchemy import Engine, delete, func, select, update
from sqlalchemy.orm import Session

from service.store.accounts.accounts import hosts_of
from service.store.models import CallRow, CheckRow
from service.store.notices import CALL, tell


@dataclass(frozen=True)
class Call:
    id: str
    """The same at each attempt."""
    url: str
    host: str
    attempts: int
    """This one included."""
    age: timedelta
    check: CheckRow
    hosts: tuple[str, ...]
    """The only ones that callbacks of its account go to; none: all."""


def clock(engine: Engine, now: datetime | None) -> Any:
    """The time that all processes share: the database's own where it is on another machine. Tests give theirs."""
    return now or (datetime.now(UTC) if engine.dialect.name == "sqlite" else func.clock_timestamp())


def fall_due(session: Session, checks: Sequence[CheckRow], now: Any) -> None:
    """Those of checks that are settled in this transaction."""
    wanted = [row for row in checks if row.callback_url]
    for row in wanted:
        host = urlsplit(row.callback_url or "").hostname or ""
        call = CallRow(id=f"msg_{secrets.token_urlsafe(18)}", check_id=row.id, url=row.callback_url, host=host)
        call.began_at, call.due_at, call.attempts = now, now, 0
        session.add(call)
    if wanted:
        tell(session, CALL)


class Calls:
    def __init__(self, engine: Engine) -> None:
        self._engine = engine

    def take(self, held_for: timedelta, not_to: Sequence[str] = (), now: datetime | None = None) -> Call | None:
        """The one that has been due the longest, and is not to one of these hosts: nobody else delivers it for so long."""
        time = clock(self._engine, now)
        due = (CallRow.due_at <= time, CallRow.host.not_in(not_to))
        with Session(self._engine, expire_on_commit=False) as session:
            if session.scalar(select(CallRow.id).where(*due).limit(1)) is None:
                return None
            oldest = select(CallRow.id).where(*due).order_by(CallRow.due_at).limit(1).with_for_update(skip_locked=True)
            held = update(CallRow).where(CallRow.id == oldest.scalar_subquery(), *due)
            values = {"due_at": time + held_for, "attempts": CallRow.attempts + 1}
            row = session.scalar(held.values(**values).returning(CallRow), execution_options={"synchronize_session": False})
            if row is None:
                return None
            check = session.get(CheckRow, row.check_id)
            if check is None:  # forgotten: there is nothing to tell of
                session.execute(delete(CallRow).where(CallRow.id == row.id))
            hosts = hosts_of(session, check.account) if check else ()
            session.commit()
            if check is None:
                return self.take(held_for, not_to, now)
            return Call(row.id, row.url, row.host, row.attempts, row.due_at - held_for - row.began_at, check, hosts)

    def again(self, call_id: str, wait: timedelta, now: datetime | None = None) -> None:
        with Session(self._engine) as session:
            session.execute(update(CallRow).where(CallRow.id == call_id).values(due_at=clock(self._engine, now) + wait))
            session.commit()

    def settle(self, call_id: str) -> None:
        """It is delivered, or given up."""
        with Session(self._engine) as session:
            session.execute(delete(CallRow).where(CallRow.id == call_id))
            session.commit()

    def waiting(self) -> int:
        with Session(self._engine) as session:
            return session.scalar(select(func.count()).select_from(CallRow)) or 0
