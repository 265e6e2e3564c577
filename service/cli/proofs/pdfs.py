"""PDFs that a command makes of a file (preview, dummy, single pages): made in the sandbox, written, or refused in a sentence."""

from __future__ import annotations

import argparse
from collections.abc import Callable, Sequence
from typing import Protocol, TypeVar

from service.cli import telling
from service.cli.files import disturbed, workbench_for
from service.cli.refused import Refused
from service.cli.sheets.named import stored_or_from_file
from service.jobs.children.tasks import DrawingTask
from service.jobs.question import question_for
from service.language.spoken import say
from service.language.wording import reason
from service.pdf.facts.page import Page
from service.pdf.facts.unknown import Unmeasured
from service.proofs.wishes import WishesRefused
from service.sheets.model import SpecSheet

Wishes = TypeVar("Wishes")


class Brief(Protocol):
    """What the drawing process gets."""

    @property
    def changes(self) -> Sequence[str]:
        """Sentences that say what is different from the file."""


def write_pdf(
    given: argparse.Namespace,
    draw: str,
    brief_for: Callable[[Sequence[Page], SpecSheet, Wishes], Brief | Unmeasured],
    wishes: Wishes,
) -> int:
    """The PDF that the function `draw` ('module:function') makes of `given.file`. Raises `Refused`."""
    sheet = stored_or_from_file(given.spec)
    console = telling.console(stderr=True)
    with workbench_for(given.file) as (workbench, path), console.status(say("Measuring {file}", file=given.file.name)) as status:
        pages = workbench.everything(path, question_for(sheet)).pages
        try:
            brief = pages if isinstance(pages, Unmeasured) else brief_for(pages, sheet, wishes)
        except WishesRefused as refused:
            raise Refused(*(sentence for _, sentence in refused.mistakes)) from refused
        if isinstance(brief, Unmeasured):
            raise Refused(reason(brief))
        status.update(say("Making {file}", file=given.out.name))
        made = workbench.drawn(DrawingTask(pdf=path, brief=brief, draw=draw))
        if isinstance(made, Unmeasured):
            raise Refused(reason(made))
        if not made.startswith(b"%PDF-"):
            raise disturbed(given.file)
        given.out.write_bytes(made)
    print(say("{file} written.", file=str(given.out)), *brief.changes, sep="\n")
    return 0
