"""The accounts of the service, in the database that the settings name."""

from __future__ import annotations

import getpass
import os
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from typing import TYPE_CHECKING

from service.accounts.callers import is_owner_name
from service.cli.refused import Refused
from service.language.spoken import say

if TYPE_CHECKING:
    from service.settings import Settings
    from service.store.accounts.accounts import Accounts
    from service.store.accounts.audit import Audit


@dataclass(frozen=True)
class Opened:
    settings: Settings
    accounts: Accounts
    audit: Audit


@contextmanager
def opened() -> Iterator[Opened]:
    """Raises `Refused`."""
    from service.settings import SettingsRefused, read_settings
    from service.store.accounts.accounts import Accounts
    from service.store.accounts.audit import Audit
    from service.store.database import DatabaseError, open_database
    from service.store.schema import SchemaUnknown

    try:
        settings = read_settings()
        settings.data.mkdir(parents=True, exist_ok=True)
        engine = open_database(settings.database_url, settings.data)
    except SettingsRefused as refused:
        raise Refused(*refused.mistakes) from refused
    except (DatabaseError, SchemaUnknown, OSError) as error:
        raise Refused(say("The service's database cannot be opened: {reason}", reason=str(error))) from error
    try:
        yield Opened(settings, Accounts(engine), Audit(engine))
    finally:
        engine.dispose()


def account_named(text: str) -> str:
    """Raises `Refused`."""
    if not is_owner_name(text):
        told = say("'{name}' is no name of an account: write small letters, digits and hyphens, 40 at most.", name=text[:60])
        raise Refused(told)
    return text


def hand() -> str:
    """For the audit trail: whose hand it was on this machine."""
    try:
        return f"command line ({getpass.getuser()})"
    except (KeyError, OSError):  # a user without a name, as in a container
        return f"command line (user {os.getuid()})"
