"""Measurements in the database: kept once, however many checks judge them."""

from __future__ import annotations

import hashlib
import zlib
from dataclasses import dataclass

from sqlalchemy import Connection, Engine, bindparam, delete, select, update
from sqlalchemy.dialects import postgresql, sqlite
from sqlalchemy.orm import Session

from service.store.models import CheckRow, MeasuredRow

_QUICKLY = 1
"""A tenth of the size in a hundredth of a second for each megabyte; a better level takes four times as long (measured)."""

_KNOWN = select(MeasuredRow.digest).where(MeasuredRow.digest == bindparam("known"))


@dataclass(frozen=True)
class Sizes:
    stored_bytes: int
    answer_bytes: int | None
    """None: no answer was made yet."""


class Measured:
    """What checks name by `CheckRow.measured`."""

    def __init__(self, engine: Engine) -> None:
        self._engine = engine

    def text(self, digest: str) -> str | None:
        """None where no check has them any longer."""
        with Session(self._engine) as session:
            packed = session.scalar(select(MeasuredRow.packed).where(MeasuredRow.digest == digest))
        return None if packed is None else zlib.decompress(packed).decode()

    def sizes(self, digest: str) -> Sizes | None:
        with Session(self._engine) as session:
            row = session.get(MeasuredRow, digest)
            return Sizes(row.size_bytes, row.answer_bytes) if row else None

    def note_answer(self, digest: str, answer_bytes: int) -> None:
        with self._engine.begin() as connection:
            connection.execute(update(MeasuredRow).where(MeasuredRow.digest == digest).values(answer_bytes=answer_bytes))


def digest_of(data: bytes) -> str:
    """Under which measurements are kept."""
    return hashlib.sha256(data).hexdigest()


def keep(connection: Connection, digest: str, data: bytes) -> None:
    """Within the caller's transaction; once, whoever else keeps the same."""
    if connection.scalar(_KNOWN, {"known": digest}) is None:
        insert = postgresql.insert if connection.dialect.name == "postgresql" else sqlite.insert
        row = {"digest": digest, "packed": zlib.compress(data, _QUICKLY), "size_bytes": len(data), "answer_bytes": None}
        connection.execute(insert(MeasuredRow).on_conflict_do_nothing(), row)


def drop_unused(connection: Connection) -> None:
    used = select(CheckRow.measured).where(CheckRow.measured == MeasuredRow.digest)
    connection.execute(delete(MeasuredRow).where(~used.exists()))
