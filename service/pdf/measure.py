"""Measure a PDF: the document, then every page, at once or in parts that are sent on as they come.

One page that cannot be read does not take the others along: it keeps its number, and what is not known of it says why.
It knows no sheet. `Question` tells it which sizes to try where a page declares no trim.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import cache, partial
from pathlib import Path

from service.pdf.document.standard_facts import with_standard_facts
from service.pdf.document.whole import measure_document
from service.pdf.facts.document import Document
from service.pdf.facts.geometry import Matrix
from service.pdf.facts.measurements import Measurements
from service.pdf.facts.parts import DocumentPart, PagePart, Part, put_together
from service.pdf.facts.unknown import Failure
from service.pdf.one_page import ForAllPages, boxed_page_alone, measured_page, ruler_of_page
from service.pdf.pages_alike import PagesAlike
from service.pdf.question import WHOLE_FILE, Question, Stretch
from service.pdf.reading.opening import OpenedPdf, new_damage, opened

Progress = Callable[[str, int, int], None]
"""Told after each page: the stage ('pages'), how many are done, how many there are."""

_NOTHING_ASKED = Question()


def silent(stage: str, done: int, total: int) -> None:
    """Progress that nobody wants to hear of."""


def measure(path: Path, question: Question = _NOTHING_ASKED, progress: Progress = silent) -> Measurements:
    """Everything that can be known of the file. Raises OSError where it cannot be read from the disk."""
    whole: DocumentPart | None = None
    pages: list[PagePart] = []
    for part in parts_of(path, question):
        if isinstance(part, Measurements):
            return part
        if isinstance(part, DocumentPart):
            whole = part
            continue
        pages.append(part)
        if whole:
            progress("pages", len(pages), whole.page_count)
    assert whole is not None, "the file as a whole comes first"
    return put_together(whole.document, pages)


def parts_of(path: Path, question: Question = _NOTHING_ASKED, stretch: Stretch = WHOLE_FILE) -> Iterator[Part]:
    """The file as a whole, then the pages of the stretch; `Measurements` alone where it does not open. Raises as `measure`."""
    with opened(path) as pdf:
        if isinstance(pdf, Failure):
            yield Measurements.unreadable(path.stat().st_size, pdf)
            return
        if stretch.with_document:
            document = measure_document(pdf)
            yield DocumentPart(document, pdf.page_count, complete=False)
            yield DocumentPart(_with_facts(document, pdf, question), pdf.page_count, complete=True)
        if not (stretch.with_document and new_damage(pdf)):
            yield from _pages(pdf, question, stretch)
            return
    # Looking at every object has come upon damage, which is told once: opened anew, each page tells its own.
    with opened(path) as pdf:
        if isinstance(pdf, OpenedPdf):
            yield from _pages(pdf, question, stretch)


def _with_facts(document: Document, pdf: OpenedPdf, question: Question) -> Document:
    of_file = ForAllPages(pdf.pdf)
    pages = list(pdf.pdf.pages)

    @cache
    def ruler(number: int) -> Matrix | None:
        return ruler_of_page(pdf, pages[number - 1], number, question, of_file)

    return with_standard_facts(document, pdf, ruler)


def _pages(pdf: OpenedPdf, question: Question, stretch: Stretch) -> Iterator[PagePart]:
    of_file, alike = ForAllPages(pdf.pdf), PagesAlike()
    wanted = None if stretch.numbers is None else set(stretch.numbers)
    for number, page in enumerate(pdf.pdf.pages, start=1):  # by index, each page would cost as many steps as there are pages
        if wanted is not None and number not in wanted:
            continue
        if stretch.boxes_only:
            yield boxed_page_alone(pdf, page, number, question, of_file)
        elif number in pdf.without_size:
            yield measured_page(pdf, page, number, question, of_file)
        else:
            yield alike.once(page.obj, number, partial(measured_page, pdf, page, number, question, of_file))
