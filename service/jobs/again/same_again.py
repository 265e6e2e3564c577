"""The same file asked about again: what makes two checks come out alike."""

from __future__ import annotations

import hashlib
from functools import cache
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path

from service.store.checks import STORED_AS
from service.store.models import CheckRow

_MEASURED_WITH = ("pikepdf", "pypdfium2", "numpy", "pillow", "fonttools")


def likeness(row: CheckRow) -> str:
    """Checks of the same account that share it have the same result."""
    asked = (row.account, _made_by(), row.sha256, row.sheet, row.order or "", row.question)
    return hashlib.sha256("\0".join(asked).encode()).hexdigest()


@cache
def _made_by() -> str:
    """The version of the service, down to its files: a rule that was changed just now judges anew."""
    digest = hashlib.sha256(str(STORED_AS).encode())
    service = Path(__file__).parents[2]
    for file in sorted(path for kind in ("*.py", "*.po") for path in service.rglob(kind)):
        found = file.stat()
        digest.update(f"{file.relative_to(service)} {found.st_size} {found.st_mtime_ns}\n".encode())
    for name in _MEASURED_WITH:
        try:
            digest.update(f"{name} {version(name)}\n".encode())
        except PackageNotFoundError:
            continue
    return digest.hexdigest()
