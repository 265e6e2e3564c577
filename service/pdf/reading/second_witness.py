"""A second reader, PDFium, counts the pages: two witnesses are better than one that repairs.

Only the count is asked for: no page is loaded, so a hostile page size or stream does not reach PDFium here.
"""

from __future__ import annotations

from pathlib import Path

import pypdfium2

from service.pdf.facts.unknown import Unmeasured


def pages_by_pdfium(path: Path) -> int | Unmeasured:
    """How many pages PDFium finds; Unmeasured where it does not open the file."""
    try:
        document = pypdfium2.PdfDocument(path)
    except (pypdfium2.PdfiumError, OSError, ValueError):
        return Unmeasured("A second program for reading PDFs cannot open this file; the printer's may fail as well.")
    try:
        return len(document)
    finally:
        document.close()
