"""Single pages made of a built file, as pikepdf and PDFium see them."""

from __future__ import annotations

import io
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import numpy.typing as npt
import pikepdf
import pypdfium2 as pdfium

from service.pdf.facts.page import Page
from service.pdf.facts.unknown import Unmeasured
from service.pdf.measure import measure
from service.pdf.question import Question
from service.proofs.single_pages.brief import SinglePagesBrief, cut_apart
from service.proofs.single_pages.drawn import single_pages_pdf

INCH = 25.4


@dataclass(frozen=True)
class Made:
    source: Path
    data: bytes
    brief: SinglePagesBrief

    @property
    def pdf(self) -> pikepdf.Pdf:
        return pikepdf.open(io.BytesIO(self.data))

    def measured(self, question: Question = Question()) -> tuple[Page, ...]:  # noqa: B008 (frozen)
        path = self.source.with_name("single.pdf")
        path.write_bytes(self.data)
        return pages_of(path, question)


def pages_of(path: Path, question: Question = Question()) -> tuple[Page, ...]:  # noqa: B008 (frozen)
    pages = measure(path, question).pages
    assert not isinstance(pages, Unmeasured)
    return pages


def made(path: Path, spreads: Iterable[int], bleed_mm: float | None = None, question: Question = Question()) -> Made:  # noqa: B008
    brief = cut_apart(pages_of(path, question), spreads, bleed_mm)
    data = single_pages_pdf(path, brief)
    assert isinstance(data, bytes), data
    return Made(path, data, brief)


def box(page: pikepdf.Page, name: str) -> list[float] | None:
    value = page.obj.get(f"/{name}")
    return None if value is None else [float(one) for one in value]


def pixels(
    document: Path | bytes, index: int, ppi: int = 160, cut_left_pt: float = 0, cut_right_pt: float = 0
) -> npt.NDArray[np.uint8]:
    """What PDFium shows of the page less so much of its width, in the page's own units; annotations and fields too."""
    opened = pdfium.PdfDocument(document)
    opened.init_forms()
    try:
        return np.array(opened[index].render(scale=ppi / 72, crop=(cut_left_pt, 0, cut_right_pt, 0)).to_numpy())
    finally:
        opened.close()
