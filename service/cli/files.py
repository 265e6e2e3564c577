"""A file that a command is asked about: measured or drawn from in the sandbox, as the service does, or refused in a sentence."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from service.jobs.asking import Asking
from service.jobs.children.child import Limits
from service.jobs.children.sandbox import SandboxBroken
from service.pdf.document.whole import starts_as_pdf
from service.settings import SettingsRefused, read_settings

NOT_MADE = 2
"""What a command ends with that could not do what it was asked for."""


def refused(*sentences: str) -> int:
    """Says why on stderr."""
    print(*sentences, sep="\n", file=sys.stderr)
    return NOT_MADE


class NotRead(Exception):
    """Why there is nothing to look at, for the person at the terminal."""


@contextmanager
def asking_about(file: Path) -> Iterator[tuple[Asking, Path]]:
    """Who can be asked, and the file's full path. What goes wrong, inside as well, becomes `NotRead`."""
    try:
        with file.open("rb") as opened:
            if not starts_as_pdf(opened.read(1024)):
                raise NotRead(f"{file} is not a PDF: its first 1,024 bytes hold no '%PDF-'. Export it as PDF and try again.")
        settings = read_settings()
        limits = Limits(settings.check_seconds, settings.check_memory_bytes)
        yield Asking(limits, at_once=1, wait_seconds=0), file.absolute()
    except OSError as error:
        raise NotRead(f"{error.filename or file} cannot be read or written: {error.strerror}.") from error
    except (SettingsRefused, SandboxBroken) as error:
        raise NotRead(str(error)) from error
