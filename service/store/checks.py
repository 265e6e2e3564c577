"""Checks in the database: each method is one transaction; times come from the caller's clock."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import UTC, datetime, timedelta

from sqlalchemy import ColumnElement, Engine, case, delete, func, or_, select, text, update
from sqlalchemy.exc import IntegrityError
from sqlalchemy.orm import Session

from service.store.audit import By, note
from service.store.database import wipe_journal
from service.store.measured import drop_unused, keep
from service.store.models import CheckRow
from service.store.upload_tokens import use

OPEN = ("queued", "running")
FORMS = {2: "a67bb6a4051eb952", 3: "c2a0cd3f3a61d07d", 4: "d81747bf8c500bdf", 5: "4496c1229e32a83c"}
"""Number of a form of measurements and judgements → fingerprint of the records that are stored in it. A new one when a record of
theirs changes (a test says which), and when a fact comes to mean something else. 2: in languages. 3: limits of ours apart from
damage. 4: ink of text and of pictures. 5: what black stands on, frames of links, letters that are pictures."""

LONG_AGO = datetime(2000, 1, 1, tzinfo=UTC)
MOST_TIMES = 3
"""That a check is begun whose process dies while it runs."""
STORED_AS = max(FORMS)
"""The form that this version writes and reads."""


_OUTDATED = or_(CheckRow.stored_as.is_(None), CheckRow.stored_as != STORED_AS, CheckRow.measured.is_(None))


def is_outdated(row: CheckRow) -> bool:
    """It holds measurements of an earlier version that this one does not read: a fact that it lacks must not pass."""
    if row.state == "finished" and row.measured is None:  # from before measurements were kept apart
        return True
    return row.stored_as != STORED_AS and (row.state == "finished" or row.measured is not None)


class KeyTaken(Exception):
    """Another check holds the idempotency key."""


class TokenSpent(Exception):
    """The upload token was used up, or taken back."""


class Checks:
    def __init__(self, engine: Engine) -> None:
        self._engine = engine

    def _session(self) -> Session:
        return Session(self._engine, expire_on_commit=False)

    def add(self, row: CheckRow, token_id: str | None = None) -> None:
        """With one use of an upload token. Raises `KeyTaken` where its idempotency key is another check's; `TokenSpent`."""
        with self._session() as session:
            session.add(row)
            try:
                session.flush()  # first: a repeat of an upload does not use its token once more
            except IntegrityError as error:
                raise KeyTaken from error
            if token_id is not None and not use(session, token_id):
                raise TokenSpent
            session.commit()
            session.expunge(row)

    def get(self, check_id: str, now: datetime) -> CheckRow | None:
        """None where there is none, or no longer. What it holds can be read unless it `is_outdated`."""
        with self._session() as session:
            row = session.get(CheckRow, check_id)
            return row if row and row.expires_at > now else None

    def visible(self, check_id: str, now: datetime, account: str | None, *, by_link: bool) -> CheckRow | None:
        """As `get`, where it is the account's, or where whoever has its id may read it and that is enough."""
        mine = or_(CheckRow.account == account, CheckRow.by_link) if by_link else CheckRow.account == account
        with self._session() as session:
            return session.scalar(select(CheckRow).where(CheckRow.id == check_id, CheckRow.expires_at > now, mine))

    def kept_bytes(self, account: str, now: datetime) -> int:
        """Of the files of its checks; one that two checks share counts twice."""
        with self._session() as session:
            mine = (CheckRow.account == account, CheckRow.expires_at > now)
            return int(session.scalar(select(func.coalesce(func.sum(CheckRow.size_bytes), 0)).where(*mine)) or 0)

    def by_key(self, key: str, now: datetime) -> CheckRow | None:
        with self._session() as session:
            return session.scalar(select(CheckRow).where(CheckRow.idempotency_key == key, CheckRow.expires_at > now))

    def start(self, check_id: str, now: datetime) -> CheckRow | None:
        """Take a queued check into work; None where it was forgotten or settled meanwhile."""
        return self._change(check_id, ("queued",), state="running", heartbeat_at=now)

    def progress(self, check_id: str, stage: str, page: int, pages: int) -> bool:
        """False where the check is no longer running, so that nobody needs its result."""
        return self._change(check_id, ("running",), stage=stage, page=page, pages=pages) is not None

    def finish(self, check_id: str, now: datetime, *, measurements: str, judgement: str, verdict: str) -> bool:
        mine = update(CheckRow).where(CheckRow.id == check_id, CheckRow.state == "running")
        with self._session() as session:
            row = session.scalar(
                mine.values(
                    state="finished", finished_at=now, judgement=judgement, stored_as=STORED_AS, verdict=verdict, stage=None,
                    page=None, pages=None,
                ).returning(CheckRow)
            )
            if row is None:  # forgotten meanwhile
                return False
            row.measured = keep(session, measurements)
            session.commit()
            return True

    def open_again(self, check_id: str, now: datetime, owner: str, question: str) -> CheckRow | None:
        """Queue a finished check that is outdated as if its file had just come; None where somebody else has done so."""
        return self._change(
            check_id, ("finished",), _OUTDATED, state="queued",
            owner=owner, heartbeat_at=now, question=question, finished_at=None, measured=None, judgement=None, verdict=None,
        )

    def close_again(self, check_id: str) -> None:
        """There was no room for it in the queue: it is as outdated as before."""
        self._change(check_id, ("queued",), state="finished")

    def fail(self, check_id: str, now: datetime, problem: str) -> bool:
        """The service could not look. The idempotency key is given back: the same request may be sent again."""
        return self._change(check_id, OPEN, state="failed", finished_at=now, problem=problem, idempotency_key=None) is not None

    def _change(self, check_id: str, states: Sequence[str], *only: ColumnElement[bool], **values: object) -> CheckRow | None:
        with self._session() as session:
            mine = update(CheckRow).where(CheckRow.id == check_id, CheckRow.state.in_(states), *only)
            row = session.scalar(mine.values(**values).returning(CheckRow))
            session.commit()
            return row

    def forget(self, check_id: str, by: By | None = None, now: datetime | None = None) -> bool:
        """`by`: whose wish it was, for the audit trail; None: nobody's, as when its time is over."""
        with self._session() as session:
            forgotten = session.scalar(delete(CheckRow).where(CheckRow.id == check_id).returning(CheckRow.id)) is not None
            drop_unused(session.connection())
            if forgotten and by and now:
                note(session, by, "check.deleted", check_id, now)
            session.commit()
        self.wipe()
        return forgotten

    def wipe(self) -> None:
        """Nothing of deleted rows stays in the files of the database; where somebody reads just now, the next call sees to it."""
        wipe_journal(self._engine)

    def beat(self, owner: str, now: datetime) -> None:
        """The owner is alive, and with it its open checks."""
        self._count(update(CheckRow).where(CheckRow.owner == owner, CheckRow.state.in_(OPEN)).values(heartbeat_at=now))

    def put_back(self, check_id: str) -> None:
        """It was stopped: it waits again, as if it had not begun."""
        self._change(check_id, ("running",), state="queued", stage=None, page=None, pages=None)

    def release(self, check_id: str) -> None:
        """Whoever comes first takes it up."""
        self._change(check_id, OPEN, state="queued", stage=None, page=None, pages=None, heartbeat_at=LONG_AGO)

    def take_up(self, owner: str, now: datetime, silent_after: timedelta, problem: str) -> list[str]:
        """The open checks whose process died, queued anew and held by this owner. What ran `MOST_TIMES` when its process died
        may be what ends them: it is failed.

        A time that lies ahead is that of a clock that was set back.
        """
        silent = or_(CheckRow.heartbeat_at < now - silent_after, CheckRow.heartbeat_at > now + silent_after)
        left = (CheckRow.state.in_(OPEN), CheckRow.owner != owner, silent)
        often = (CheckRow.state == "running", CheckRow.taken_up >= MOST_TIMES - 1)
        ran = func.coalesce(CheckRow.taken_up, 0) + case((CheckRow.state == "running", 1), else_=0)
        with self._session() as session:
            session.execute(
                update(CheckRow)
                .where(*left, *often)
                .values(state="failed", finished_at=now, problem=problem, idempotency_key=None)
            )
            taken = update(CheckRow).where(*left)
            again = taken.values(
                state="queued", owner=owner, heartbeat_at=now, taken_up=ran, stage=None, page=None, pages=None
            ).returning(CheckRow.id)
            ids = list(session.scalars(again))
            session.commit()
            return ids

    def _count(self, statement: object) -> int:
        with self._engine.begin() as connection:
            return connection.execute(statement).rowcount  # type: ignore[call-overload,no-any-return]

    def expired(self, now: datetime) -> list[str]:
        with self._session() as session:
            return list(session.scalars(select(CheckRow.id).where(CheckRow.expires_at <= now)))

    def existing(self, ids: Sequence[str]) -> set[str]:
        with self._session() as session:
            return set(session.scalars(select(CheckRow.id).where(CheckRow.id.in_(ids))))

    def answers(self) -> bool:
        """Whether the database can be asked; raises what the database raises."""
        with self._engine.connect() as connection:
            return bool(connection.scalar(text("select 1")) == 1)

    def close(self) -> None:
        self._engine.dispose()
