"""`print-spec check --service URL`: the files go to a running service, and what it answers is told as if it were checked here."""

from __future__ import annotations

import argparse
import json
import os
import sys
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any, BinaryIO

from service.cli.refused import Refused
from service.cli.unreadable import why
from service.language.spoken import say, spoken, to_say

if TYPE_CHECKING:
    from service.client import Check, PrintSpec

_SILENT = to_say("{address} does not answer. Is the service running there?")
MOST_SECONDS = 3600.0
KEY = "PRINT_SPEC_KEY"
"""In the environment: what stands on a command line, others on the machine can read."""


@contextmanager
def checks_at(given: argparse.Namespace) -> Iterator[Callable[[Path], dict[str, Any]]]:
    """A function that checks one file there. Raises `Refused`, for wrong arguments at once."""
    if not given.service.startswith(("http://", "https://")):
        raise Refused(say("{address} is no address of a service: it begins with http:// or https://.", address=given.service))
    from service.client import PrintSpec, ProblemError  # with its library, which only this way of checking needs

    wishes = {**_sheet(given.spec), **_order(given.order)}
    key = os.environ.get(KEY, "").strip() or None
    with PrintSpec(given.service, key=key, timeout_seconds=MOST_SECONDS, language=spoken()) as service:

        def check(file: Path) -> dict[str, Any]:
            try:
                opened = file.open("rb")
            except OSError as error:
                raise Refused(say("{file} cannot be read: {reason}.", file=str(file), reason=why(error))) from error
            with opened:
                try:
                    found = _watched(service, file, opened, wishes)
                except (OSError, TimeoutError) as error:  # what the library raises is an OSError too
                    raise Refused(say(_SILENT, address=given.service)) from error
                except ProblemError as problem:
                    raise Refused(f"{file}: {problem.detail or problem}") from problem
            if found.verdict is None:
                raise Refused(say("{file} was not checked: the service failed. Try again later.", file=str(file)))
            return found.answer

        yield check


def _sheet(named: str) -> dict[str, Any]:
    """A file is sent along; any other name is one of the service's."""
    if not Path(named).is_file():
        return {"spec": named}
    try:
        return {"spec_sheet": Path(named).read_text(encoding="utf-8")}
    except (OSError, UnicodeDecodeError) as error:
        raise Refused(say("{file} cannot be read: {reason}.", file=named, reason=str(error))) from error


def _order(text: str | None) -> dict[str, Any]:
    if text is None:
        return {}
    try:
        return {"order": json.loads(text)}
    except ValueError as error:
        raise Refused(say("--order is no JSON: write an object such as {example}.", example='{"inner_pages": 96}')) from error


def _watched(service: PrintSpec, file: Path, opened: BinaryIO, wishes: dict[str, Any]) -> Check:
    """With a bar on stderr for the upload and the pages, where a person watches."""
    if not sys.stderr.isatty():
        return service.check(opened, name=file.name, **wishes)
    from service.cli.progress_bar import progress_bar

    with ExitStack() as stack:
        step = stack.enter_context(progress_bar(say("Checking {file}", file=file.name)))

        def sent(done: int, total: int) -> None:
            step(say("sending"), done, total)

        def stage(name: str, page: int | None, pages: int | None) -> None:
            step(name, page or 0, pages or 0)

        return service.check(opened, name=file.name, sent=sent, stage=stage, **wishes)
