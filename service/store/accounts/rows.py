"""The tables of accounts: keys, what each account has used, upload tokens, and who did what."""

from __future__ import annotations

from datetime import datetime

from sqlalchemy import BigInteger, ForeignKey, Integer, String
from sqlalchemy.orm import Mapped, mapped_column

from service.store.models import Base

LONGEST_OWNER = 40


class AccountRow(Base):
    """Whom checks, sheets, catalogues and tokens belong to. Null limits: as the settings say."""

    __tablename__ = "accounts"

    name: Mapped[str] = mapped_column(String(LONGEST_OWNER), primary_key=True)
    created_at: Mapped[datetime]
    requests_per_minute: Mapped[int | None]
    bytes_per_day: Mapped[int | None]
    disk_bytes: Mapped[int | None]
    sheets: Mapped[int | None]
    callback_hosts: Mapped[str | None]
    """The only ones that its callbacks go to, with spaces between; null: all that the settings allow."""


class KeyRow(Base):
    """An API key, of which its digest is kept."""

    __tablename__ = "api_keys"

    digest: Mapped[str] = mapped_column(String(64), primary_key=True)
    prefix: Mapped[str] = mapped_column(String(8), unique=True)
    """To know it by."""
    owner: Mapped[str] = mapped_column(String(LONGEST_OWNER), ForeignKey("accounts.name"))
    scopes: Mapped[str]
    """With spaces between."""
    note: Mapped[str]
    """What it is for, for whoever keeps the list."""
    made_at: Mapped[datetime]
    used_at: Mapped[datetime | None]
    """To the day."""
    turned_off_at: Mapped[datetime | None]


class UsageRow(Base):
    """How much an account has used of a quota, in the window that began last."""

    __tablename__ = "usage"

    owner: Mapped[str] = mapped_column(String(LONGEST_OWNER), primary_key=True)
    counted: Mapped[str] = mapped_column(String(20), primary_key=True)
    began: Mapped[int]
    """Seconds since 1970."""
    used: Mapped[int]


class UploadTokenRow(Base):
    """What may still be done with an upload token. What it allows stands in the token itself."""

    __tablename__ = "upload_tokens"

    id: Mapped[str] = mapped_column(String(24), primary_key=True)
    owner: Mapped[str] = mapped_column(String(LONGEST_OWNER), index=True)
    key_prefix: Mapped[str | None] = mapped_column(String(8), index=True)
    """Of the key that asked for it, and whose end is its end; null: open mode."""
    uses: Mapped[int | None]
    """Uploads that it allows; null: any number."""
    used: Mapped[int]
    expires_at: Mapped[datetime] = mapped_column(index=True)


class AuditRow(Base):
    """Who did what."""

    __tablename__ = "audit"

    id: Mapped[int] = mapped_column(BigInteger().with_variant(Integer, "sqlite"), primary_key=True)  # which counts these alone
    at: Mapped[datetime] = mapped_column(index=True)
    owner: Mapped[str] = mapped_column(String(LONGEST_OWNER), index=True)
    """Whose it was."""
    by: Mapped[str] = mapped_column("done_by")
    """'key 1f2e3d4c', 'command line', 'open mode'."""
    did: Mapped[str] = mapped_column(String(40))
    """'key.made', 'sheet.deleted', …"""
    about: Mapped[str]
    """The id of what it was done to, and what of it is worth knowing."""
