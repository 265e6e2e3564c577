"""The tables. Times are UTC. What is one whole to the service (a sheet, measurements) is one JSON text to the database."""

from __future__ import annotations

from datetime import UTC, datetime

from sqlalchemy import (
    BigInteger,
    DateTime,
    Dialect,
    Float,
    ForeignKeyConstraint,
    Index,
    LargeBinary,
    String,
    Text,
    TypeDecorator,
    false,
)
from sqlalchemy.orm import DeclarativeBase, Mapped, mapped_column


class UtcTime(TypeDecorator[datetime]):
    """An aware time in UTC, also where the database forgets the zone (SQLite)."""

    impl = DateTime(timezone=True)
    cache_ok = True

    def process_bind_param(self, value: datetime | None, dialect: Dialect) -> datetime | None:  # noqa: ARG002
        return value.astimezone(UTC) if value else None

    def process_result_value(self, value: datetime | None, dialect: Dialect) -> datetime | None:  # noqa: ARG002
        return value.replace(tzinfo=UTC) if value and value.tzinfo is None else value


class Base(DeclarativeBase):
    type_annotation_map = {datetime: UtcTime, int: BigInteger, float: Float, str: Text}  # noqa: RUF012


class CheckRow(Base):
    """One check: what was sent, how far it is, what came out."""

    __tablename__ = "checks"
    __table_args__ = (Index("ix_checks_waiting", "state", "is_long", "turn"),)

    id: Mapped[str] = mapped_column(String(40), primary_key=True)
    state: Mapped[str] = mapped_column(String(10), index=True)
    """`queued`, `running`, `finished` or `failed`."""
    created_at: Mapped[datetime]
    finished_at: Mapped[datetime | None]
    expires_at: Mapped[datetime] = mapped_column(index=True)

    owner: Mapped[str] = mapped_column(String(40))
    """The process that runs the check, or ran it; empty while it waits."""
    heartbeat_at: Mapped[datetime]
    """When that process last said that it is alive; a check whose process died waits again."""
    sender: Mapped[str | None] = mapped_column(default=None)
    """With whose checks it takes turns, until it is done with."""
    is_long: Mapped[bool] = mapped_column(default=False, server_default=false())
    """Its first pass was too short for it."""
    turn: Mapped[int] = mapped_column(default=0, server_default="0")
    """The lowest that waits is next."""
    taken_up: Mapped[int | None] = mapped_column(default=None)
    """How often that was while it ran; null: never."""
    stage: Mapped[str | None]
    page: Mapped[int | None]
    pages: Mapped[int | None]

    file_name: Mapped[str | None]
    """As the sender called it, for reading only: never a path."""
    size_bytes: Mapped[int]
    sha256: Mapped[str] = mapped_column(String(64))

    spec_id: Mapped[str | None]
    spec_revision: Mapped[int | None]
    spec_title: Mapped[str | None]
    spec_digest: Mapped[str]
    sheet: Mapped[str]
    """The whole sheet as JSON, in its own format."""
    order: Mapped[str | None] = mapped_column("order_facts")
    """What only this order knows, as JSON."""

    question: Mapped[str]
    """What measuring was told to try, as JSON: whether the measurements answer another sheet depends on it."""
    measured: Mapped[str | None] = mapped_column(String(64), default=None)
    """Digest of the measurements (`MeasuredRow`); while queued, of those of an earlier check that are judged again."""
    judgement: Mapped[str | None]
    stored_as: Mapped[int | None] = mapped_column(default=None)
    """Which form of measurements and judgement this is (`checks.STORED_AS`); null: one from before forms were numbered."""
    verdict: Mapped[str | None] = mapped_column(String(40))
    same: Mapped[str | None] = mapped_column(String(64), index=True, default=None)
    """Finished checks that share it came out alike (`jobs.again.same_again`); null where something could not be measured."""
    problem: Mapped[str | None] = mapped_column(String(40))
    """Code of the problem of a failed check."""

    idempotency_key: Mapped[str | None] = mapped_column(String(255), unique=True)
    fingerprint: Mapped[str] = mapped_column(String(64))
    """Of everything that was sent, to tell a repeat from another request under the same key."""
    origin: Mapped[str | None] = mapped_column(String(300))
    """Of the page that uploaded the file with a token, and may therefore ask for the check."""
    callback_url: Mapped[str | None] = mapped_column(default=None)
    """Who is told once it is done with."""

    account: Mapped[str] = mapped_column(String(40), index=True)
    """Whose it is."""
    by_link: Mapped[bool] = mapped_column(default=False)
    """Whoever has its id may read it, without a key."""


class CallRow(Base):
    """A callback that is to be delivered."""

    __tablename__ = "callbacks"

    id: Mapped[str] = mapped_column(String(40), primary_key=True)
    check_id: Mapped[str] = mapped_column(String(40), index=True)
    url: Mapped[str]
    host: Mapped[str]
    began_at: Mapped[datetime]
    """When the check was settled."""
    due_at: Mapped[datetime] = mapped_column(index=True)
    attempts: Mapped[int]
    """That were begun."""


class MeasuredRow(Base):
    """Measurements, once for all checks that judge them; gone with the last of these."""

    __tablename__ = "measured"

    digest: Mapped[str] = mapped_column(String(64), primary_key=True)
    packed: Mapped[bytes] = mapped_column(LargeBinary, deferred=True)
    """JSON, compressed (zlib)."""
    size_bytes: Mapped[int]
    """Of the JSON."""
    answer_bytes: Mapped[int | None]
    """Of what answers say of it; null until the first one was made."""


class WorkerRow(Base):
    """A process that runs checks, as long as it lives."""

    __tablename__ = "workers"

    id: Mapped[str] = mapped_column(String(40), primary_key=True)
    beat_at: Mapped[datetime]
    places: Mapped[int]
    """Checks that it runs at the same time."""
    first_pass_seconds: Mapped[float]
    """What a first pass usually takes there."""
    long_seconds: Mapped[float]


class SheetRow(Base):
    """One's own sheet: which revision is the newest, and whether it is deleted. A deleted id keeps its revisions."""

    __tablename__ = "own_sheets"

    owner: Mapped[str] = mapped_column(String(40), primary_key=True)
    """The account; another may have a sheet of the same id."""
    id: Mapped[str] = mapped_column(String(64), primary_key=True)
    revision: Mapped[int]
    created_at: Mapped[datetime]
    deleted_at: Mapped[datetime | None]


class SheetRevisionRow(Base):
    """One revision, never changed once written: a check that names it can be explained later."""

    __tablename__ = "own_sheet_revisions"
    __table_args__ = (ForeignKeyConstraint(["owner", "sheet_id"], ["own_sheets.owner", "own_sheets.id"]),)

    owner: Mapped[str] = mapped_column(String(40), primary_key=True)
    sheet_id: Mapped[str] = mapped_column(String(64), primary_key=True)
    revision: Mapped[int] = mapped_column(primary_key=True, autoincrement=False)
    created_at: Mapped[datetime]
    sent: Mapped[str]
    """What was sent, as JSON."""
    complete: Mapped[str]
    """The sheet that it stands for, as JSON in the sheet's own format."""
    digest: Mapped[str] = mapped_column(String(64))
    """Of the complete sheet."""
