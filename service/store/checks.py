"""Checks in the database: each method is one transaction; times come from the caller's clock."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import Engine, bindparam, delete, func, or_, select, text, update
from sqlalchemy.exc import IntegrityError
from sqlalchemy.orm import Session

from service.store.accounts.audit import By, note
from service.store.calls import clock, fall_due
from service.store.database import wipe_journal
from service.store.measured import digest_of, drop_unused, keep
from service.store.models import CallRow, CheckRow
from service.store.notices import DONE, STOP, tell

OPEN = ("queued", "running")
FORMS = {
    2: "a67bb6a4051eb952", 3: "c2a0cd3f3a61d07d", 4: "d81747bf8c500bdf", 5: "4496c1229e32a83c", 6: "d326868d89e8eed3",
    7: "a5666b7926b3bafb", 8: "2a494fff7e8cc599", 9: "c67934c6e57236a4", 10: "1462016c805125a8", 11: "abbb334b35037a74",
    12: "bc8680f12b805d18",
}
"""Number of a form of measurements and judgements → fingerprint of the records that are stored in it. A new one when a record of
theirs changes (a test says which), and when a fact comes to mean something else. 2: in languages. 3: limits of ours apart from
damage. 4: ink of text and of pictures. 5: what black stands on, frames of links, letters that are pictures.
6: plain colours, outlines of cutting lines. 7: frames. 8: pages of plain ink, without plates. 9: pieces that are cut
out of one page. 10: colours that are white alone, none of blanks, and layers that print. 11: of other languages than English
the words alone. 12: how smooth the tones of pictures are."""

SETTLED: dict[str, None] = {"stage": None, "page": None, "pages": None, "sender": None}
"""What nobody needs to know any longer."""
STORED_AS = max(FORMS)
"""The form that this version writes."""
READ = (STORED_AS,)
"""The forms that it reads: these have the same facts."""


# Statements of each check, built once: putting one together costs three times what SQLite takes for it (measured).
_THIS = CheckRow.id == bindparam("check_id")
_KEPT = CheckRow.expires_at > bindparam("now")
_OWN = CheckRow.account == bindparam("account")
_RUN_HERE = (_THIS, CheckRow.state == "running", CheckRow.owner == bindparam("run_by"))
_IS_OPEN = select(CheckRow.id).where(_THIS, CheckRow.state.in_(OPEN))
_VISIBLE = {
    True: select(CheckRow).where(_THIS, _KEPT, or_(_OWN, CheckRow.by_link)),
    False: select(CheckRow).where(_THIS, _KEPT, _OWN),
}
"""By whether it is enough that whoever has its id may read it."""
_IS_FINISHED = CheckRow.state.concat("") == "finished"
"""Joined with nothing, so that SQLite looks among those alike: it went through all that are finished, for each card sent."""
_ALIKE = (CheckRow.same == bindparam("alike"), _IS_FINISHED, CheckRow.stored_as == STORED_AS, _KEPT)
_ANY_ALIKE = select(CheckRow.id).where(*_ALIKE).limit(1)
_LATEST_ALIKE = select(CheckRow).where(*_ALIKE).order_by(CheckRow.finished_at.desc()).limit(1)
_FURTHER = update(CheckRow).where(*_RUN_HERE).values({name: bindparam(f"new_{name}") for name in ("stage", "page", "pages")})
_FINISHED = ("finished_at", "judgement", "verdict", "measured", "same")
_FINISH = (
    update(CheckRow)
    .where(*_RUN_HERE)
    .values({name: bindparam(f"new_{name}") for name in _FINISHED} | {"state": "finished", "stored_as": STORED_AS} | SETTLED)
    .returning(CheckRow.callback_url)
)

OUTDATED = or_(CheckRow.stored_as.is_(None), CheckRow.stored_as.not_in(READ), CheckRow.measured.is_(None))


def is_outdated(row: CheckRow) -> bool:
    """It holds measurements of an earlier version that this one does not read: a fact that it lacks must not pass."""
    if row.state == "finished" and row.measured is None:  # from before measurements were kept apart
        return True
    return row.stored_as not in READ and (row.state == "finished" or row.measured is not None)


@dataclass(frozen=True)
class Stage:
    """How far a check is."""

    state: str
    stage: str | None
    page: int | None
    pages: int | None
    verdict: str | None

    @property
    def is_last(self) -> bool:
        return self.state not in OPEN


class KeyTaken(Exception):
    """Another check holds the idempotency key."""


class Checks:
    def __init__(self, engine: Engine) -> None:
        self._engine = engine

    def _session(self) -> Session:
        return Session(self._engine, expire_on_commit=False)

    def add(self, row: CheckRow) -> None:
        """Raises `KeyTaken` where its idempotency key is another check's."""
        with self._session() as session:
            session.add(row)
            try:
                session.commit()
            except IntegrityError as error:
                raise KeyTaken from error
            session.expunge(row)

    def add_as_before(self, row: CheckRow, same: str, now: datetime) -> bool:
        """Store a new check with the result of an earlier one that shares this; False where there is none, and nothing is stored.

        Raises `KeyTaken`.
        """
        alike = {"alike": same, "now": now}
        with self._engine.connect() as connection:
            if connection.scalar(_ANY_ALIKE, alike) is None:
                return False
        with self._session() as session:
            if self._engine.dialect.name == "sqlite":  # so that it is not forgotten before its result is named anew
                session.connection().exec_driver_sql("BEGIN IMMEDIATE")
            earlier = session.scalar(_LATEST_ALIKE, alike)
            if earlier is None:
                return False
            row.measured, row.judgement, row.verdict = earlier.measured, earlier.judgement, earlier.verdict
            row.state, row.finished_at, row.stored_as, row.same = "finished", now, STORED_AS, same
            session.add(row)
            fall_due(session, [row], clock(self._engine, None))
            try:
                session.commit()
            except IntegrityError as error:
                raise KeyTaken from error
            session.expunge(row)
            return True

    def get(self, check_id: str, now: datetime) -> CheckRow | None:
        """None where there is none, or no longer. What it holds can be read unless it `is_outdated`."""
        with self._session() as session:
            row = session.get(CheckRow, check_id)
            return row if row and row.expires_at > now else None

    def visible(self, check_id: str, now: datetime, account: str | None, *, by_link: bool) -> CheckRow | None:
        """As `get`, where it is the account's, or where whoever has its id may read it and that is enough."""
        with self._session() as session:
            return session.scalar(_VISIBLE[by_link], {"check_id": check_id, "now": now, "account": account})

    def kept_bytes(self, account: str, now: datetime) -> int:
        """Of the files of its checks; one that two checks share counts twice."""
        with self._session() as session:
            mine = (CheckRow.account == account, CheckRow.expires_at > now)
            return int(session.scalar(select(func.coalesce(func.sum(CheckRow.size_bytes), 0)).where(*mine)) or 0)

    def stages(self, check_ids: Collection[str], now: datetime) -> dict[str, Stage]:
        """Of those that there are, in one question."""
        columns = (CheckRow.id, CheckRow.state, CheckRow.stage, CheckRow.page, CheckRow.pages, CheckRow.verdict)
        with self._engine.connect() as connection:
            found = connection.execute(select(*columns).where(CheckRow.id.in_(check_ids), CheckRow.expires_at > now))
            return {row.id: Stage(row.state, row.stage, row.page, row.pages, row.verdict) for row in found}

    def is_open(self, check_id: str) -> bool:
        """Whether it waits or runs."""
        with self._engine.connect() as connection:
            return connection.scalar(_IS_OPEN, {"check_id": check_id}) is not None

    def by_key(self, key: str, now: datetime) -> CheckRow | None:
        with self._session() as session:
            return session.scalar(select(CheckRow).where(CheckRow.idempotency_key == key, CheckRow.expires_at > now))

    def progress(self, check_id: str, owner: str, stage: str, page: int, pages: int) -> bool:
        """False where this owner no longer runs the check, so that nobody needs its result."""
        told = {"new_stage": stage, "new_page": page, "new_pages": pages}
        with self._engine.begin() as connection:
            return connection.execute(_FURTHER, {"check_id": check_id, "run_by": owner, **told}).rowcount > 0

    def finish(
        self,
        check_id: str,
        owner: str,
        now: datetime,
        *,
        measurements: str,
        judgement: str,
        verdict: str,
        same: str | None = None,
    ) -> str | None:
        """The digest of its measurements; None where this owner no longer runs it: it was forgotten, or another has taken it up.

        `same`: shared by checks that come out alike.
        """
        data = measurements.encode()
        digest = digest_of(data)
        values = (now, judgement, verdict, digest, same)
        found = {f"new_{name}": value for name, value in zip(_FINISHED, values, strict=True)}
        with self._session() as session:
            connection = session.connection()
            mine = connection.execute(_FINISH, {"check_id": check_id, "run_by": owner, **found}).one_or_none()
            if mine is None:
                return None
            keep(connection, digest, data)
            if mine.callback_url:
                fall_due(session, [session.get_one(CheckRow, check_id)], clock(self._engine, None))
            tell(session, DONE, check_id)
            session.commit()
            return digest

    def fail(self, check_id: str, owner: str, now: datetime, problem: str) -> bool:
        """The service could not look. The idempotency key is given back: the same request may be sent again."""
        mine = update(CheckRow).where(CheckRow.id == check_id, CheckRow.state == "running", CheckRow.owner == owner)
        with self._session() as session:
            failed = mine.values(state="failed", finished_at=now, problem=problem, idempotency_key=None, **SETTLED)
            row = session.scalar(failed.returning(CheckRow))
            if row is None:
                return False
            fall_due(session, [row], clock(self._engine, None))
            tell(session, DONE, check_id)
            session.commit()
            return True

    def forget(self, check_id: str, by: By | None = None, now: datetime | None = None) -> bool:
        """`by`: whose wish it was, for the audit trail; None: nobody's, as when its time is over."""
        with self._session() as session:
            forgotten = session.scalar(delete(CheckRow).where(CheckRow.id == check_id).returning(CheckRow.id)) is not None
            session.execute(delete(CallRow).where(CallRow.check_id == check_id))
            drop_unused(session.connection())
            if forgotten and by and now:
                note(session, by, "check.deleted", check_id, now)
            tell(session, STOP, check_id)
            session.commit()
        self.wipe()
        return forgotten

    def wipe(self) -> None:
        """Nothing of deleted rows stays in the files of the database; where somebody reads just now, the next call sees to it."""
        wipe_journal(self._engine)

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
