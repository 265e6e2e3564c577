"""Checks wait in the database itself; who runs checks says so."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"


def upgrade() -> None:
    op.add_column("checks", sa.Column("sender", sa.Text))
    op.add_column("checks", sa.Column("is_long", sa.Boolean, nullable=False, server_default=sa.false()))
    op.add_column("checks", sa.Column("turn", sa.BigInteger, nullable=False, server_default="0"))
    op.create_index("ix_checks_waiting", "checks", ["state", "is_long", "turn"])
    op.create_table(
        "workers",
        sa.Column("id", sa.String(40), primary_key=True),
        sa.Column("beat_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("places", sa.BigInteger, nullable=False),
        sa.Column("first_pass_seconds", sa.Float, nullable=False),
        sa.Column("long_seconds", sa.Float, nullable=False),
    )
