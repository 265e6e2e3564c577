"""`print-spec check`: the same sandboxed measuring and judging as the service, without server, queue or store.

What only tells of a result is loaded once there is one, so that measuring begins at once.
"""

from __future__ import annotations

import argparse
import hashlib
import json
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from service.cli.arguments import add_order, add_spec
from service.cli.refused import NOT_DONE, Refused, told
from service.cli.sheets.named import stored_or_from_file, with_order
from service.cli.unreadable import why
from service.jobs.children.measuring.check import Progress, Result
from service.jobs.children.measuring.check import run as run_task
from service.jobs.children.sandbox import SandboxBroken, demand
from service.jobs.children.tasks import Limits, Task
from service.jobs.question import question_for
from service.language.spoken import say, to_say
from service.pdf.header import HEADER_WITHIN_BYTES, starts_as_pdf
from service.settings import SettingsRefused, read_settings
from service.sheets.format.writing import digest
from service.sheets.model import SpecSheet

_NO_PDF = to_say("{file} is not a PDF: its first 1,024 bytes hold no '%PDF-'. Export it as PDF and try again.")
EXIT_CODES = {"conforming": 0, "conforming_with_observations": 0, "nonconforming": 1, "inconclusive": NOT_DONE}
"""With several files the highest counts."""


def declare(command: argparse.ArgumentParser) -> None:
    command.description = (
        "Checks PDFs against one sheet. Exit code: 0 conforming, 1 nonconforming, 2 not checked or not decided."
    )
    command.add_argument("files", nargs="+", type=Path, metavar="FILE", help="a PDF")
    add_spec(command, required=True)
    add_order(command)
    command.add_argument("--json", action="store_true", help="the results as JSON, one object a line")
    elsewhere = "a running service that checks instead of this machine; an API key for it is taken from PRINT_SPEC_KEY"
    command.add_argument("--service", metavar="URL", help=elsewhere)
    command.set_defaults(run=run)


def run(given: argparse.Namespace) -> int:
    """The highest exit code of all files; messages about what could not be checked go to stderr."""
    if given.service:
        from service.cli.check_elsewhere import checks_at

        with checks_at(given) as check:
            return _told(given, check)
    named = stored_or_from_file(given.spec)
    sheet = with_order(named, given.order)
    try:
        settings = read_settings()
        demand(settings.sandbox)
    except SettingsRefused as refused:
        raise Refused(*refused.mistakes) from refused
    limits = Limits(settings.check_seconds, settings.check_memory_bytes)
    return _told(given, lambda file: _answer(file, named, sheet, limits))


def _told(given: argparse.Namespace, check: Callable[[Path], dict[str, Any]]) -> int:
    """Check each file and tell of it."""
    answers, worst = [], 0
    for file in given.files:
        try:
            answer = check(file)
        except (Refused, SandboxBroken) as error:
            worst = max(worst, told(error))
            continue
        worst = max(worst, EXIT_CODES[answer["verdict"]])
        answers.append(answer)
        if given.json:
            print(json.dumps(answer, ensure_ascii=False), flush=True)
    if answers and not given.json:
        from service.cli.telling import show

        show(answers)
    return worst


def _answer(file: Path, named: SpecSheet, sheet: SpecSheet, limits: Limits) -> dict[str, Any]:
    """The check as the service answers it, less what only a stored check has. `named`: without what the order knows.

    Raises `Refused`.
    """
    try:
        with file.open("rb") as opened:
            if not starts_as_pdf(opened.read(HEADER_WITHIN_BYTES)):
                raise Refused(say(_NO_PDF, file=str(file)))
            opened.seek(0)
            sha256 = hashlib.file_digest(opened, "sha256").hexdigest()
    except OSError as error:
        raise Refused(say("{file} cannot be read: {reason}.", file=str(file), reason=why(error))) from error
    result = _checked(file, sheet, limits)
    from service.answers.checked import checked_answer

    return {
        "verdict": result.judgement.verdict,
        "file": {"name": file.name, "size_bytes": file.stat().st_size, "sha256": sha256},
        "spec": {"id": named.id, "revision": named.revision, "title": named.title, "digest": digest(named)},
        **checked_answer(result.measurements, result.judgement),
    }


def _checked(file: Path, sheet: SpecSheet, limits: Limits) -> Result:
    with _watched(file.name) as progress:
        return run_task(Task(sheet=sheet, question=question_for(sheet), pdf=file.absolute()), limits, progress)


@contextmanager
def _watched(name: str) -> Iterator[Progress]:
    """A progress bar on stderr, where a person watches."""
    if not sys.stderr.isatty():
        yield lambda *_: None
        return
    from service.cli.progress_bar import progress_bar

    with progress_bar(say("Checking {file}", file=name)) as step:
        yield step
