"""`print-spec dummy`: a file as a dummy to print, fold and staple on a desk."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from service.cli.files import refused
from service.cli.proofs.pdfs import write_pdf
from service.cli.sheets.sheets import sheet_named
from service.jobs.question import question_for
from service.pdf.facts.page import Page
from service.pdf.facts.unknown import Unmeasured
from service.proofs.dummy.plan import DUMMY, Dummy, DummyWishes, plan_dummy
from service.sheets.model import SpecSheet


def write_dummy(file: Path, out: Path, *, spec: str | None, wishes: DummyWishes) -> int:
    """0 where `out` was written, 2 where it cannot be made; the reason goes to stderr."""
    sheet = sheet_named(spec) if spec else SpecSheet()
    if isinstance(sheet, list):
        return refused(*sheet)

    def plan(pages: Sequence[Page]) -> tuple[Dummy, Sequence[str]] | Unmeasured:
        dummy = plan_dummy(pages, sheet, wishes)
        return dummy if isinstance(dummy, Unmeasured) else (dummy, dummy.changes)

    return write_pdf(file, out, draw=DUMMY, plan=plan, question=question_for(sheet))
