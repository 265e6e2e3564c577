"""Checks that wait to be run, in the database: who joins, who is next, whose process died. Each method is one transaction.

* Senders take turns: a check's `turn` is one after its sender's last that waits, and none before those that wait now.
* There are two lines, of checks that have not run yet and of long ones (`service.jobs.places`).
* One statement takes a check, locks it and skips what others have locked; SQLite, where one writes at a time, needs no lock.
* Whoever runs a check says now and then that it lives. Times are the database's own where it is on another machine, whose clock
  all share; tests give theirs.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from functools import cache
from typing import Any

from sqlalchemy import Engine, Select, bindparam, case, delete, func, or_, select, text, update
from sqlalchemy.exc import IntegrityError
from sqlalchemy.orm import Session
from sqlalchemy.sql.dml import ReturningUpdate

from service.store.accounts.upload_tokens import use
from service.store.calls import clock, fall_due
from service.store.checks import OUTDATED, SETTLED, KeyTaken
from service.store.models import CallRow, CheckRow, WorkerRow
from service.store.notices import STOP, WAITS, tell

MOST_TIMES = 3
"""That a check is begun whose process dies while it runs."""
_WAITING = CheckRow.state == "queued"
# Statements of each check, built once: putting one together costs three times what SQLite takes for it (measured).
_BY_SENDER = CheckRow.sender == bindparam("by_sender")
_LONG = CheckRow.is_long.is_(True)
_OF_KIND = CheckRow.is_long == bindparam("kind")
_ROOM = select(func.count(), func.count(case((_BY_SENDER, 1)))).select_from(CheckRow).where(_WAITING)
_TURNS = select(func.min(CheckRow.turn), func.max(case((_BY_SENDER, CheckRow.turn)))).where(_WAITING, _OF_KIND)
_ANY_LONG_OF_SENDER = select(CheckRow.id).where(_WAITING, _LONG, _BY_SENDER).limit(1)
_FORGOTTEN_AFTER = timedelta(hours=1)
_NO_PROGRESS = {"stage": None, "page": None, "pages": None}


class LineFull(Exception):
    """As many wait as may."""


@dataclass(frozen=True)
class Taken:
    row: CheckRow
    has_long_waiting: bool
    """Its sender has, besides."""


@dataclass(frozen=True)
class Lengths:
    """Of one of the two lines."""

    senders: int
    of_sender: int


@dataclass(frozen=True)
class Pace:
    places: int
    """Checks that may run at the same time."""
    first_pass_seconds: float
    """What a first pass usually takes."""
    long_seconds: float


class Line:
    def __init__(self, engine: Engine) -> None:
        self._engine = engine

    def _session(self) -> Session:
        return Session(self._engine, expire_on_commit=False)

    def _time(self, now: datetime | None) -> Any:
        return clock(self._engine, now)

    def join(self, row: CheckRow, sender: str, most_of_one: int, most: int, token_id: str | None = None) -> None:
        """A new check, stored and waiting, with one use of an upload token.

        Raises `KeyTaken`, `LineFull`, `TokenSpent`; nothing is stored then.
        """
        with self._session() as session:
            _one_at_a_time(session, sender)
            if row.idempotency_key and session.scalar(select(CheckRow.id).where(CheckRow.idempotency_key == row.idempotency_key)):
                raise KeyTaken
            _see_room(session, sender, most_of_one, most)
            if token_id is not None:
                use(session, token_id)
            row.state, row.sender, row.is_long, row.turn = "queued", sender, False, _turn(session, sender, is_long=False)
            session.add(row)
            tell(session, WAITS)
            try:
                session.commit()
            except IntegrityError as error:
                raise KeyTaken from error
            session.expunge(row)

    def join_again(self, check_id: str, question: str, most: int) -> CheckRow | None:
        """A finished check that is outdated waits as if its file had just come; None where somebody else has seen to it.

        Raises `LineFull`.
        """
        with self._session() as session:
            _one_at_a_time(session, "")
            _see_room(session, "", most, most)
            result = dict.fromkeys(("finished_at", "measured", "judgement", "verdict", "callback_url"))
            waits = {"state": "queued", "sender": "", "is_long": False, "turn": _turn(session, "", is_long=False)}
            found = update(CheckRow).where(CheckRow.id == check_id, CheckRow.state == "finished", OUTDATED)
            row = session.scalar(found.values(question=question, **result, **waits).returning(CheckRow))
            tell(session, WAITS)
            session.commit()
            return row

    def take(self, owner: str, kinds: Sequence[bool], now: datetime | None = None) -> Taken | None:
        """The next check, running and held by this owner. `kinds`: False is first passes, True long ones; the first is best."""
        is_there_one, take_it = _taking(tuple(kinds))
        with self._engine.connect() as connection:
            if connection.scalar(is_there_one) is None:  # asking disturbs no writer
                return None
        time = self._time(now)
        known = {"time": time} if isinstance(time, datetime) else {}
        with self._session() as session:
            running = take_it if known else take_it.values(heartbeat_at=time)
            row = session.scalar(running, {"taken_by": owner, **known}, execution_options={"synchronize_session": False})
            if row is None:
                return None
            has_long_waiting = session.connection().scalar(_ANY_LONG_OF_SENDER, {"by_sender": row.sender}) is not None
            session.commit()
            return Taken(row, has_long_waiting)

    def put_back(self, check_id: str, owner: str, *, is_long: bool) -> None:
        """It was stopped: it waits again, as if it had not begun."""
        with self._session() as session:
            sender = session.scalar(select(CheckRow.sender).where(CheckRow.id == check_id)) or ""
            _one_at_a_time(session, sender)
            mine = update(CheckRow).where(CheckRow.id == check_id, CheckRow.state == "running", CheckRow.owner == owner)
            turn = _turn(session, sender, is_long=is_long)
            session.execute(mine.values(state="queued", owner="", is_long=is_long, turn=turn, **_NO_PROGRESS))
            tell(session, WAITS)
            session.commit()

    def any_waits(self, *, is_long: bool) -> bool:
        with self._session() as session:
            return session.scalar(select(CheckRow.id).where(_WAITING, CheckRow.is_long.is_(is_long)).limit(1)) is not None

    def waiting(self) -> int:
        with self._session() as session:
            return session.scalar(select(func.count()).select_from(CheckRow).where(_WAITING)) or 0

    def counted(self) -> dict[str, int]:
        """How many checks there are in each state."""
        with self._session() as session:
            return dict(session.execute(select(CheckRow.state, func.count()).group_by(CheckRow.state)).all())

    def oldest_waits_seconds(self) -> float:
        """How long the check that came first has waited; nought where none does."""
        with self._session() as session:
            came = session.scalar(select(func.min(CheckRow.created_at)).where(_WAITING))
        return max(0.0, (datetime.now(UTC) - came).total_seconds()) if came else 0.0

    def callbacks_waiting(self) -> int:
        with self._session() as session:
            return session.scalar(select(func.count()).select_from(CallRow)) or 0

    def lengths(self, sender: str, *, is_long: bool) -> Lengths:
        counted = select(func.count(CheckRow.sender.distinct()), func.count(case((CheckRow.sender == sender, 1))))
        with self._session() as session:
            return Lengths(*session.execute(counted.where(_WAITING, CheckRow.is_long.is_(is_long))).one())

    def beat(self, owner: str, running: Sequence[str], pace: Pace, now: datetime | None = None) -> None:
        """The owner is alive, and runs these checks."""
        time = self._time(now)
        with self._session() as session:
            mine = (CheckRow.id.in_(running), CheckRow.owner == owner, CheckRow.state == "running")
            session.execute(update(CheckRow).where(*mine).values(heartbeat_at=time))
            values = {"places": pace.places, "first_pass_seconds": pace.first_pass_seconds, "long_seconds": pace.long_seconds}
            known = update(WorkerRow).where(WorkerRow.id == owner).values(beat_at=time, **values).returning(WorkerRow.id)
            if session.execute(known).one_or_none() is None:
                session.execute(WorkerRow.__table__.insert().values(id=owner, beat_at=time, **values))  # type: ignore[attr-defined]
                session.execute(delete(WorkerRow).where(WorkerRow.beat_at < time - _FORGOTTEN_AFTER))
            session.commit()

    def pace(self, silent_after: timedelta, now: datetime | None = None) -> Pace | None:
        """Of all workers that live, taken together; None where there are none."""
        means = select(func.sum(WorkerRow.places), func.avg(WorkerRow.first_pass_seconds), func.avg(WorkerRow.long_seconds))
        with self._session() as session:
            places, first, long = session.execute(means.where(WorkerRow.beat_at > self._time(now) - silent_after)).one()
        return Pace(int(places), float(first), float(long)) if places else None

    def leave(self, owner: str) -> None:
        """The owner runs no checks any longer."""
        with self._session() as session:
            session.execute(delete(WorkerRow).where(WorkerRow.id == owner))
            session.commit()

    def take_up(self, silent_after: timedelta, problem: str, now: datetime | None = None) -> int:
        """How many checks wait again because the process that ran them died. What ran `MOST_TIMES` when its process died may be
        what ends them: it is failed.

        A time that lies ahead is that of a clock that was set back.
        """
        time = self._time(now)
        silent = or_(CheckRow.heartbeat_at < time - silent_after, CheckRow.heartbeat_at > time + silent_after)
        left = (CheckRow.state == "running", silent)
        with self._session() as session:
            often = update(CheckRow).where(*left, CheckRow.taken_up >= MOST_TIMES - 1)
            failed = {"state": "failed", "finished_at": time, "problem": problem, "idempotency_key": None}
            fall_due(session, session.scalars(often.values(**failed, **SETTLED).returning(CheckRow)).all(), time)
            first_turn = session.scalar(select(func.min(CheckRow.turn)).where(_WAITING)) or 0
            times = func.coalesce(CheckRow.taken_up, 0) + 1
            waits = {"state": "queued", "owner": "", "turn": first_turn, "taken_up": times, **_NO_PROGRESS}
            ids = list(session.scalars(update(CheckRow).where(*left).values(**waits).returning(CheckRow.id)))
            if ids:
                tell(session, WAITS)
            session.commit()
            return len(ids)

    def tell_to_stop(self, check_id: str) -> None:
        """To whoever runs it, on whichever machine."""
        with self._session() as session:
            tell(session, STOP, check_id)
            session.commit()


@cache
def _taking(kinds: tuple[bool, ...]) -> tuple[Select[str], ReturningUpdate[CheckRow]]:
    """Whether one of these kinds waits; take the next of them."""
    may = (_WAITING, CheckRow.is_long.in_(kinds))
    order = CheckRow.is_long.desc() if kinds[0] else CheckRow.is_long
    ordered = select(CheckRow.id).where(*may).order_by(order, CheckRow.turn, CheckRow.created_at, CheckRow.id)
    next_one = ordered.limit(1).with_for_update(skip_locked=True).scalar_subquery()
    values = {"state": "running", "owner": bindparam("taken_by"), "heartbeat_at": bindparam("time")}
    taken = update(CheckRow).where(CheckRow.id == next_one, _WAITING).values(values).returning(CheckRow)
    return select(CheckRow.id).where(*may).limit(1), taken


def _one_at_a_time(session: Session, sender: str) -> None:
    """Who counts a sender's places and takes one is not disturbed."""
    if session.get_bind().dialect.name == "sqlite":
        session.connection().exec_driver_sql("BEGIN IMMEDIATE")
    else:
        session.execute(text("SELECT pg_advisory_xact_lock(hashtext(:sender))"), {"sender": sender})


def _see_room(session: Session, sender: str, most_of_one: int, most: int) -> None:
    in_all, of_sender = session.connection().execute(_ROOM, {"by_sender": sender}).one()
    if in_all >= most or of_sender >= most_of_one:
        raise LineFull


def _turn(session: Session, sender: str, *, is_long: bool) -> int:
    first, last_own = session.connection().execute(_TURNS, {"by_sender": sender, "kind": is_long}).one()
    return max(first or 0, 0 if last_own is None else last_own + 1)
