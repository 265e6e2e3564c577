"""Checks that came out alike share something, so that the next one need not be measured."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"


def upgrade() -> None:
    op.add_column("checks", sa.Column("same", sa.String(64)))
    op.create_index("ix_checks_same", "checks", ["same"])
