"""The secret that upload tokens are signed with, where the settings name none: made once, kept in the data folder."""

from __future__ import annotations

import fcntl
import os
import re
import secrets
from pathlib import Path

_BYTES = 32
_FILE = "token-secret"


def kept_secret(data: Path) -> str:
    """The same for every process that uses the data folder. Its own user alone may read it.

    Whoever comes first makes it; the others wait at the lock, so that nobody reads half of it.
    """
    with os.fdopen(os.open(data / _FILE, os.O_RDWR | os.O_CREAT, 0o600), "r+", encoding="ascii", errors="replace") as file:
        fcntl.flock(file, fcntl.LOCK_EX)
        found = file.read().strip()
        if re.fullmatch(f"[0-9a-f]{{{2 * _BYTES}}}", found):
            return found
        made = secrets.token_hex(_BYTES)
        file.seek(0)
        file.truncate()
        file.write(made)
        file.flush()
        os.fsync(file.fileno())
        return made
