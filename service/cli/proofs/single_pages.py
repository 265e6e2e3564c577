"""`print-spec single-pages`: a file's spreads cut into single pages, and the boxes that are missing written."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from service.cli.files import refused
from service.cli.proofs.pdfs import write_pdf
from service.cli.sheets.sheets import sheet_named
from service.jobs.question import question_for
from service.pdf.facts.page import Page
from service.pdf.facts.unknown import Unmeasured
from service.product.spreads import double_pages
from service.proofs.preview.brief import NotUnderstood
from service.proofs.single_pages.brief import DRAW, SinglePagesAsked, asked_of, changes_of, spreads_named
from service.sheets.model import SpecSheet


def write_single_pages(file: Path, out: Path, *, spec: str | None, spreads: str | None) -> int:
    """0 where `out` was written, 2 where it cannot be made; the reason goes to stderr."""
    sheet = sheet_named(spec) if spec else SpecSheet()
    if isinstance(sheet, list):
        return refused(*sheet)

    def plan(pages: Sequence[Page]) -> tuple[SinglePagesAsked, Sequence[str]] | Unmeasured:
        try:
            chosen = double_pages(pages, sheet.trim) if spreads is None else spreads_named(spreads, len(pages))
        except NotUnderstood as error:
            return Unmeasured(str(error))
        asked = asked_of(pages, chosen, sheet.bleed.minimum_mm if sheet.bleed else None)
        return asked, changes_of(asked)

    return write_pdf(file, out, draw=DRAW, plan=plan, question=question_for(sheet))
