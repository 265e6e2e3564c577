"""The tables as they were when steps began to be counted; in a database from before, what of them is missing."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None

_TIME = sa.DateTime(timezone=True)
_TABLES = sa.MetaData()

sa.Table(
    "checks", _TABLES,
    sa.Column("id", sa.String(40), primary_key=True),
    sa.Column("state", sa.String(10), nullable=False, index=True),
    sa.Column("created_at", _TIME, nullable=False),
    sa.Column("finished_at", _TIME),
    sa.Column("expires_at", _TIME, nullable=False, index=True),
    sa.Column("owner", sa.String(40), nullable=False),
    sa.Column("heartbeat_at", _TIME, nullable=False),
    sa.Column("taken_up", sa.BigInteger),
    sa.Column("stage", sa.Text),
    sa.Column("page", sa.BigInteger),
    sa.Column("pages", sa.BigInteger),
    sa.Column("file_name", sa.Text),
    sa.Column("size_bytes", sa.BigInteger, nullable=False),
    sa.Column("sha256", sa.String(64), nullable=False),
    sa.Column("spec_id", sa.Text),
    sa.Column("spec_revision", sa.BigInteger),
    sa.Column("spec_title", sa.Text),
    sa.Column("spec_digest", sa.Text, nullable=False),
    sa.Column("sheet", sa.Text, nullable=False),
    sa.Column("order_facts", sa.Text),
    sa.Column("question", sa.Text, nullable=False),
    sa.Column("measured", sa.String(64)),
    sa.Column("judgement", sa.Text),
    sa.Column("stored_as", sa.BigInteger),
    sa.Column("verdict", sa.String(40)),
    sa.Column("problem", sa.String(40)),
    sa.Column("idempotency_key", sa.String(255), unique=True),
    sa.Column("fingerprint", sa.String(64), nullable=False),
    sa.Column("origin", sa.String(300)),
)  # fmt: skip
sa.Table(
    "measured", _TABLES,
    sa.Column("digest", sa.String(64), primary_key=True),
    sa.Column("packed", sa.LargeBinary, nullable=False),
    sa.Column("size_bytes", sa.BigInteger, nullable=False),
    sa.Column("answer_bytes", sa.BigInteger),
)  # fmt: skip
sa.Table(
    "own_sheets", _TABLES,
    sa.Column("id", sa.String(64), primary_key=True),
    sa.Column("owner", sa.String(64)),
    sa.Column("revision", sa.BigInteger, nullable=False),
    sa.Column("created_at", _TIME, nullable=False),
    sa.Column("deleted_at", _TIME),
)  # fmt: skip
sa.Table(
    "own_sheet_revisions", _TABLES,
    sa.Column("sheet_id", sa.String(64), sa.ForeignKey("own_sheets.id"), primary_key=True),
    sa.Column("revision", sa.BigInteger, primary_key=True, autoincrement=False),
    sa.Column("created_at", _TIME, nullable=False),
    sa.Column("sent", sa.Text, nullable=False),
    sa.Column("complete", sa.Text, nullable=False),
    sa.Column("digest", sa.String(64), nullable=False),
)  # fmt: skip


def upgrade() -> None:
    _TABLES.create_all(op.get_bind())
    found = sa.inspect(op.get_bind())
    for table in _TABLES.sorted_tables:
        present = {column["name"] for column in found.get_columns(table.name)}
        indexes = {index["name"] for index in found.get_indexes(table.name)}
        for column in table.columns:
            if column.name not in present and column.nullable:
                op.add_column(table.name, sa.Column(column.name, column.type))
        for index in table.indexes:
            if index.name not in indexes:
                index.create(op.get_bind())
