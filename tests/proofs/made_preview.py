"""A preview of a built file, opened in the ways that the tests look at it."""

from __future__ import annotations

import io
from pathlib import Path
from typing import Any

import numpy as np
import numpy.typing as npt
import pikepdf
import pypdfium2

from service.pdf.facts.measurements import Measurements
from service.pdf.facts.page import Page
from service.pdf.facts.unknown import Unmeasured
from service.pdf.measure import measure
from service.proofs.preview.brief import preview_brief
from service.proofs.preview.drawn import preview_pdf
from service.proofs.preview.wishes import PreviewArrangement, PreviewWishes
from service.sheets.model import SpecSheet

Pixels = npt.NDArray[np.int16]


class Preview:
    """The bytes of the preview and what is in it."""

    def __init__(self, path: Path, arrangement: PreviewArrangement = "singles", pages: str | None = None, **wishes: Any) -> None:
        self.path, self.source = path, pages_of(path)
        brief = preview_brief(self.source, SpecSheet(), PreviewWishes(arrangement, pages, **wishes))
        made = preview_pdf(path, brief)
        assert isinstance(made, bytes), made
        self.bytes = made

    @property
    def changes(self) -> str:
        with pikepdf.open(io.BytesIO(self.bytes)) as pdf:
            return str(pdf.docinfo["/Changes"])

    def unpacked(self) -> bytes:
        """The whole file with nothing compressed."""
        with pikepdf.open(io.BytesIO(self.bytes)) as pdf:
            written = io.BytesIO()
            mode = pikepdf.ObjectStreamMode.disable
            pdf.save(
                written,
                compress_streams=False,
                object_stream_mode=mode,
                stream_decode_level=pikepdf.StreamDecodeLevel.specialized,
            )
            return written.getvalue()

    def images(self) -> list[pikepdf.Stream]:
        self._open = pikepdf.open(io.BytesIO(self.bytes))
        return [one for one in self._open.objects if isinstance(one, pikepdf.Stream) and one.get("/Subtype") == "/Image"]

    def measured(self) -> Measurements:
        beside = self.path.with_name("preview.pdf")
        beside.write_bytes(self.bytes)
        return measure(beside)

    def shown(self, page: int = 1, ppi: float = 72) -> Pixels:
        with pypdfium2.PdfDocument(self.bytes) as pdf:
            return np.asarray(pdf[page - 1].render(scale=ppi / 72).to_pil().convert("RGB")).astype(np.int16)

    def text(self, page: int = 1) -> str:
        with pypdfium2.PdfDocument(self.bytes) as pdf:
            return str(pdf[page - 1].get_textpage().get_text_bounded())


def pages_of(path: Path) -> tuple[Page, ...]:
    pages = measure(path).pages
    assert not isinstance(pages, Unmeasured)
    return pages


def trimmed(path: Path, page: int = 1, ppi: float = 72) -> Pixels:
    """The source page as PDFium draws it, cut to its declared TrimBox by PDFium itself."""
    with pypdfium2.PdfDocument(path) as pdf:
        one = pdf[page - 1]
        one.set_cropbox(*one.get_trimbox())
        return np.asarray(one.render(scale=ppi / 72).to_pil().convert("RGB")).astype(np.int16)


def differing(one: Pixels, other: Pixels, by: int = 24) -> float:
    """Which part of the pixels differs by more than `by` of 255; sizes may differ by a pixel of rounding."""
    assert abs(one.shape[0] - other.shape[0]) <= 1
    assert abs(one.shape[1] - other.shape[1]) <= 1
    rows, columns = min(one.shape[0], other.shape[0]), min(one.shape[1], other.shape[1])
    return float((np.abs(one[:rows, :columns] - other[:rows, :columns]).max(axis=2) > by).mean())
