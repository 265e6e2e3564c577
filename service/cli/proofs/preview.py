"""`print-spec preview`: a file as a light PDF for the client's mail and screen."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from service.cli.files import refused
from service.cli.proofs.pdfs import write_pdf
from service.cli.sheets.sheets import sheet_named
from service.jobs.question import question_for
from service.pdf.facts.page import Page
from service.pdf.facts.unknown import Unmeasured
from service.proofs.preview.brief import (
    PREVIEW,
    NotUnderstood,
    PreviewArrangement,
    PreviewAsked,
    arrangement_for,
    bytes_of,
    numbers_of,
    sheets_of,
    told_of,
    watermark_of,
)
from service.sheets.model import SpecSheet


@dataclass(frozen=True)
class PreviewWishes:
    """As they stand on the command line."""

    arrangement: PreviewArrangement | None
    pages: str | None
    ppi: int
    quality: int
    maximum_size: str | None
    watermark: str


def write_preview(file: Path, out: Path, *, spec: str | None, wishes: PreviewWishes) -> int:
    """0 where `out` was written, 2 where it cannot be made; the reason goes to stderr."""
    sheet = sheet_named(spec) if spec else SpecSheet()
    if isinstance(sheet, list):
        return refused(*sheet)

    def plan(pages: Sequence[Page]) -> tuple[PreviewAsked, Sequence[str]] | Unmeasured:
        try:
            limit = bytes_of(wishes.maximum_size) if wishes.maximum_size else None
            watermark = watermark_of(wishes.watermark)
            numbers = numbers_of(wishes.pages, len(pages))
        except NotUnderstood as error:
            return Unmeasured(str(error))
        sheets = sheets_of(pages, numbers, wishes.arrangement or arrangement_for(sheet))
        asked = PreviewAsked(sheets, wishes.ppi, wishes.quality, limit, watermark)
        return asked, [told_of(asked)]

    return write_pdf(file, out, draw=PREVIEW, plan=plan, question=question_for(sheet))
