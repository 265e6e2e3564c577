"""Printers' catalogues of sheets."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0006"
down_revision = "0005"

_TIME = sa.DateTime(timezone=True)


def upgrade() -> None:
    op.create_table(
        "catalogues",
        sa.Column("owner", sa.String(40), primary_key=True),
        sa.Column("id", sa.String(64), primary_key=True),
        sa.Column("revision", sa.BigInteger, nullable=False),
        sa.Column("created_at", _TIME, nullable=False),
        sa.Column("deleted_at", _TIME),
    )
    op.create_table(
        "catalogue_revisions",
        sa.Column("owner", sa.String(40), primary_key=True),
        sa.Column("catalogue_id", sa.String(64), primary_key=True),
        sa.Column("revision", sa.BigInteger, primary_key=True, autoincrement=False),
        sa.Column("created_at", _TIME, nullable=False),
        sa.Column("title", sa.Text, nullable=False),
        sa.Column("sheets", sa.BigInteger, nullable=False),
        sa.Column("sent", sa.Text, nullable=False),
        sa.Column("digest", sa.String(64), nullable=False),
        sa.ForeignKeyConstraint(["owner", "catalogue_id"], ["catalogues.owner", "catalogues.id"]),
    )
    op.create_table(
        "catalogue_sheets",
        sa.Column("owner", sa.String(40), primary_key=True),
        sa.Column("catalogue_id", sa.String(64), primary_key=True),
        sa.Column("revision", sa.BigInteger, primary_key=True, autoincrement=False),
        sa.Column("sheet_id", sa.String(64), primary_key=True),
        sa.Column("taken_from", sa.Text),
        sa.Column("found_by", sa.Text, nullable=False),
        sa.Column("complete", sa.Text, nullable=False),
        sa.Column("digest", sa.String(64), nullable=False),
        sa.ForeignKeyConstraint(
            ["owner", "catalogue_id", "revision"],
            ["catalogue_revisions.owner", "catalogue_revisions.catalogue_id", "catalogue_revisions.revision"],
        ),
    )
