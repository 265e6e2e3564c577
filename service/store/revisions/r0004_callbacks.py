"""Callbacks that are due, and where a check wants one."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0004"
down_revision = "0003"


def upgrade() -> None:
    op.add_column("checks", sa.Column("callback_url", sa.Text))
    op.create_table(
        "callbacks",
        sa.Column("id", sa.String(40), primary_key=True),
        sa.Column("check_id", sa.String(40), nullable=False, index=True),
        sa.Column("url", sa.Text, nullable=False),
        sa.Column("host", sa.Text, nullable=False),
        sa.Column("began_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("due_at", sa.DateTime(timezone=True), nullable=False, index=True),
        sa.Column("attempts", sa.BigInteger, nullable=False),
    )
