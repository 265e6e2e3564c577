"""The file that a command is about: measured or drawn from in the sandbox, as the service does, or refused in a sentence."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from service.cli.refused import Refused
from service.cli.unreadable import why
from service.jobs.children.sandbox import SandboxBroken, demand
from service.jobs.children.tasks import Limits
from service.jobs.workbench import Workbench
from service.language.spoken import say, to_say
from service.pdf.header import HEADER_WITHIN_BYTES, starts_as_pdf
from service.settings import SettingsRefused, read_settings

_NO_PDF = to_say("{file} is not a PDF: its first 1,024 bytes hold no '%PDF-'. Export it as PDF and try again.")


@contextmanager
def workbench_for(file: Path) -> Iterator[tuple[Workbench, Path]]:
    """Who measures and draws, and the file's full path. What goes wrong, inside as well, becomes `Refused`."""
    try:
        with file.open("rb") as opened:
            if not starts_as_pdf(opened.read(HEADER_WITHIN_BYTES)):
                raise Refused(say(_NO_PDF, file=str(file)))
        settings = read_settings()
        demand(settings.sandbox)
        limits = Limits(settings.check_seconds, settings.check_memory_bytes)
        yield Workbench(limits, at_once=1, wait_seconds=0), file.absolute()
    except OSError as error:
        name = str(error.filename or file)
        raise Refused(say("{file} cannot be read or written: {reason}.", file=name, reason=why(error))) from error
    except (SettingsRefused, SandboxBroken) as error:
        raise Refused(str(error)) from error


def disturbed(file: Path) -> Refused:
    """What came back from the sandbox is nothing that ours draws."""
    return Refused(say("{file} disturbs the drawing process; its answer cannot be trusted.", file=str(file)))
