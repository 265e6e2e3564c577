"""Measure the content of a built page."""

from __future__ import annotations

from pathlib import Path

from service.pdf.facts.painted.content import Content
from service.pdf.facts.unknown import Unmeasured
from service.pdf.measure import measure
from tests.build import DocumentBuilder, PageBuilder, document


def content_of(built: PageBuilder | DocumentBuilder, folder: Path) -> Content:
    """What page 1 paints."""
    found = content_or_reason(built, folder)
    assert isinstance(found, Content), found
    return found


def content_or_reason(built: PageBuilder | DocumentBuilder, folder: Path) -> Content | Unmeasured:
    saved = built if isinstance(built, DocumentBuilder) else document(built)
    measured = measure(saved.save(folder / "file.pdf"))
    assert not isinstance(measured.pages, Unmeasured), measured.pages
    return measured.pages[0].content
