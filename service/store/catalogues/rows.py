"""The tables of catalogues."""

from __future__ import annotations

from datetime import datetime

from sqlalchemy import ForeignKeyConstraint, String
from sqlalchemy.orm import Mapped, mapped_column

from service.store.models import Base


class CatalogueRow(Base):
    """A catalogue: which revision is the newest, and whether it is deleted. A deleted id keeps its revisions."""

    __tablename__ = "catalogues"

    owner: Mapped[str] = mapped_column(String(40), primary_key=True)
    """The account; another may have a catalogue of the same id."""
    id: Mapped[str] = mapped_column(String(64), primary_key=True)
    revision: Mapped[int]
    created_at: Mapped[datetime]
    deleted_at: Mapped[datetime | None]


class CatalogueRevisionRow(Base):
    """One revision, never changed once written."""

    __tablename__ = "catalogue_revisions"
    __table_args__ = (ForeignKeyConstraint(["owner", "catalogue_id"], ["catalogues.owner", "catalogues.id"]),)

    owner: Mapped[str] = mapped_column(String(40), primary_key=True)
    catalogue_id: Mapped[str] = mapped_column(String(64), primary_key=True)
    revision: Mapped[int] = mapped_column(primary_key=True, autoincrement=False)
    created_at: Mapped[datetime]
    title: Mapped[str]
    sheets: Mapped[int]
    """How many it has."""
    sent: Mapped[str]
    """What was sent, as JSON."""
    digest: Mapped[str] = mapped_column(String(64))
    """Of what was sent and of every sheet that it came to."""


class CatalogueSheetRow(Base):
    """One sheet of one revision, as it judges."""

    __tablename__ = "catalogue_sheets"
    __table_args__ = (
        ForeignKeyConstraint(
            ["owner", "catalogue_id", "revision"],
            ["catalogue_revisions.owner", "catalogue_revisions.catalogue_id", "catalogue_revisions.revision"],
        ),
    )

    owner: Mapped[str] = mapped_column(String(40), primary_key=True)
    catalogue_id: Mapped[str] = mapped_column(String(64), primary_key=True)
    revision: Mapped[int] = mapped_column(primary_key=True, autoincrement=False)
    sheet_id: Mapped[str] = mapped_column(String(64), primary_key=True)
    taken_from: Mapped[str | None]
    """Id and revision of the sheet that was laid below; null: the catalogue's own."""
    found_by: Mapped[str]
    """What it is looked for by, as JSON, so that a search reads no whole sheets."""
    complete: Mapped[str]
    """As JSON in the sheet's own format."""
    digest: Mapped[str] = mapped_column(String(64))
