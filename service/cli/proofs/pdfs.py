"""PDFs that a command makes of a file (preview, dummy, single pages): made in the sandbox, written, or refused in a sentence."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path

from service.cli import telling
from service.cli.files import NotRead, asking_about, refused
from service.jobs.children.drawing_child import DrawingTask
from service.pdf.facts.measurements import Question
from service.pdf.facts.page import Page
from service.pdf.facts.unknown import Unmeasured

_NOTHING_ASKED = Question()

Plan = Callable[[Sequence[Page]], tuple[object, Sequence[str]] | Unmeasured]
"""From the measured pages: what is to be drawn, and sentences that say what was changed."""


def write_pdf(file: Path, out: Path, *, draw: str, plan: Plan, question: Question = _NOTHING_ASKED) -> int:
    """0 where `out` was written, 2 where it cannot be made; the reason goes to stderr."""
    console = telling.console(stderr=True)
    try:
        with asking_about(file) as (asking, path), console.status(f"Measuring {file.name}") as status:
            pages = asking.everything(path, question).pages
            planned = pages if isinstance(pages, Unmeasured) else plan(pages)
            if isinstance(planned, Unmeasured):
                raise NotRead(planned.why)
            asked, told = planned
            status.update(f"Making {out.name}")
            made = asking.drawn(DrawingTask(pdf=path, asked=asked, draw=draw))
            if isinstance(made, Unmeasured):
                raise NotRead(made.why)
            if not made.startswith(b"%PDF-"):
                raise NotRead(f"{file} disturbs the drawing process; its answer cannot be trusted.")
            out.write_bytes(made)
    except NotRead as error:
        return refused(str(error))
    print(f"{out} written.", *told, sep="\n")
    return 0
