"""The hosts that callbacks of one account go to."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0007"
down_revision = "0006"


def upgrade() -> None:
    op.add_column("accounts", sa.Column("callback_hosts", sa.Text))
