"""Accounts, keys, quotas, upload tokens that are counted, the audit trail; what was there belongs to the one on the laptop."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0005"
down_revision = "0004"

_TIME = sa.DateTime(timezone=True)
_OWNER = sa.String(40)
_LOCAL = "local"


def upgrade() -> None:
    _own_sheets_by_owner()
    op.add_column("checks", sa.Column("account", _OWNER, nullable=False, server_default=_LOCAL))
    op.add_column("checks", sa.Column("by_link", sa.Boolean, nullable=False, server_default=sa.false()))
    op.create_index("ix_checks_account", "checks", ["account"])
    op.execute("UPDATE checks SET by_link = (origin IS NOT NULL)")
    if op.get_bind().dialect.name != "sqlite":  # which cannot, and does not mind
        op.alter_column("checks", "account", server_default=None)
        op.alter_column("checks", "by_link", server_default=None)
    _new_tables()


def _own_sheets_by_owner() -> None:
    """Another owner may have a sheet of the same id."""
    op.rename_table("own_sheet_revisions", "old_revisions")
    op.rename_table("own_sheets", "old_sheets")
    op.create_table(
        "own_sheets",
        sa.Column("owner", _OWNER, primary_key=True),
        sa.Column("id", sa.String(64), primary_key=True),
        sa.Column("revision", sa.BigInteger, nullable=False),
        sa.Column("created_at", _TIME, nullable=False),
        sa.Column("deleted_at", _TIME),
    )
    op.create_table(
        "own_sheet_revisions",
        sa.Column("owner", _OWNER, primary_key=True),
        sa.Column("sheet_id", sa.String(64), primary_key=True),
        sa.Column("revision", sa.BigInteger, primary_key=True, autoincrement=False),
        sa.Column("created_at", _TIME, nullable=False),
        sa.Column("sent", sa.Text, nullable=False),
        sa.Column("complete", sa.Text, nullable=False),
        sa.Column("digest", sa.String(64), nullable=False),
        sa.ForeignKeyConstraint(["owner", "sheet_id"], ["own_sheets.owner", "own_sheets.id"]),
    )
    heads, rows = "id, revision, created_at, deleted_at", "sheet_id, revision, created_at, sent, complete, digest"
    op.execute(f"INSERT INTO own_sheets (owner, {heads}) SELECT '{_LOCAL}', {heads} FROM old_sheets")
    op.execute(f"INSERT INTO own_sheet_revisions (owner, {rows}) SELECT '{_LOCAL}', {rows} FROM old_revisions")
    op.drop_table("old_revisions")
    op.drop_table("old_sheets")


def _new_tables() -> None:
    op.create_table(
        "accounts",
        sa.Column("name", _OWNER, primary_key=True),
        sa.Column("created_at", _TIME, nullable=False),
        *(sa.Column(name, sa.BigInteger) for name in ("requests_per_minute", "bytes_per_day", "disk_bytes", "sheets")),
    )
    op.create_table(
        "api_keys",
        sa.Column("digest", sa.String(64), primary_key=True),
        sa.Column("prefix", sa.String(8), nullable=False, unique=True),
        sa.Column("owner", _OWNER, sa.ForeignKey("accounts.name"), nullable=False),
        sa.Column("scopes", sa.Text, nullable=False),
        sa.Column("note", sa.Text, nullable=False),
        sa.Column("made_at", _TIME, nullable=False),
        sa.Column("used_at", _TIME),
        sa.Column("turned_off_at", _TIME),
    )
    op.create_table(
        "usage",
        sa.Column("owner", _OWNER, primary_key=True),
        sa.Column("counted", sa.String(20), primary_key=True),
        sa.Column("began", sa.BigInteger, nullable=False),
        sa.Column("used", sa.BigInteger, nullable=False),
    )
    op.create_table(
        "upload_tokens",
        sa.Column("id", sa.String(24), primary_key=True),
        sa.Column("owner", _OWNER, nullable=False, index=True),
        sa.Column("key_prefix", sa.String(8), index=True),
        sa.Column("uses", sa.BigInteger),
        sa.Column("used", sa.BigInteger, nullable=False),
        sa.Column("expires_at", _TIME, nullable=False, index=True),
    )
    op.create_table(
        "audit",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer, "sqlite"), primary_key=True),
        sa.Column("at", _TIME, nullable=False, index=True),
        sa.Column("owner", _OWNER, nullable=False, index=True),
        sa.Column("done_by", sa.Text, nullable=False),
        sa.Column("did", sa.String(40), nullable=False),
        sa.Column("about", sa.Text, nullable=False),
    )
