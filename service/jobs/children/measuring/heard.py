"""What a child says of the stretch of a file that it measures."""

from __future__ import annotations

from collections.abc import Container, Sequence
from typing import TYPE_CHECKING

from service.jobs.children.lines import DOCUMENT, JUDGEMENTS, MEASUREMENTS, PAGE, Heard
from service.jobs.children.tasks import MOST_PAGES_JUDGED_AT_ONCE

if TYPE_CHECKING:
    from service.pdf.codec import WrittenPage
    from service.pdf.facts.measurements import Measurements
    from service.pdf.facts.parts import DocumentPart
    from service.rules.judgement import Judgements

MOST_BYTES_A_PART = 64 * 2**20
"""That a child may say of one page, or of the file as a whole. 300 pages of 45 lines of text make 6 MB (measured)."""


class HeardOfStretch(Heard):
    def __init__(self, pages: Sequence[int] = (), *, from_the_start: bool = False) -> None:
        """`from_the_start`: the file as a whole comes first, then all of its pages, and the judging of a short file."""
        super().__init__(MOST_BYTES_A_PART)
        self.left = pages
        """Pages still to come; may be cut short where others measure them."""
        self.document: DocumentPart | None = None
        self.whole: Measurements | None = None
        """Of a file that does not open."""
        self.judgements: Judgements | None = None
        self.judgements_told = ""
        """As they came, once they were read."""
        self.arrived: list[WrittenPage] = []
        """Whoever listens takes them from here."""
        self.judges = from_the_start
        """It measures all, and tells how it is judged."""
        self._from_the_start = from_the_start
        self._is_cut = False

    @property
    def knows_the_whole(self) -> bool:
        """Nothing more is to come of the file as a whole."""
        return not self._from_the_start or (self.document is not None and self.document.complete)

    @property
    def complete(self) -> bool:
        return bool(self.error or self.judgements) or not (self.left or self.judges or not self.knows_the_whole)

    def cut(self, count: int) -> Sequence[int]:
        """So many of its last pages are measured elsewhere: which."""
        end = len(self.left) - count
        self.left, others = self.left[:end], self.left[end:]
        self.judges, self._is_cut = False, True
        return others

    def understand(self, letter: bytes, text: str) -> None:
        # The records and their forms are loaded while the child works already, so that a command begins to measure at once.
        from service.jobs.judgement_codec import judgements_from_json
        from service.pdf.codec import document_part_from_text, measurements_from_json, page_from_text

        if letter == PAGE and self.left:
            written = page_from_text(text)
            if written.part.page.number != self.left[0]:
                raise ValueError(f"page {written.part.page.number} instead of {self.left[0]}")
            self.left = self.left[1:]
            self.arrived.append(written)
        elif letter == DOCUMENT and not self.knows_the_whole and self.whole is None:
            before, self.document = self.document, document_part_from_text(text)
            if before is None:
                self.left = range(1, self.document.page_count + 1)
                self.judges = self.document.page_count <= MOST_PAGES_JUDGED_AT_ONCE
            elif before.page_count != self.document.page_count:
                raise ValueError("another number of pages than before")
        elif letter == MEASUREMENTS and self.judges and self.document is None:
            self.whole = measurements_from_json(text)
        elif letter == JUDGEMENTS and self.judges and not self.left and (self.whole or self.document):
            self.judgements, self.judgements_told = judgements_from_json(text), text
        elif not (self._is_cut and not self.left and letter in (PAGE, JUDGEMENTS)):  # it does not know that others measure that
            raise ValueError(f"no line of ours, or not now: {letter!r} {text[:80]!r}")
        self._received = 0


def stretches_left(page_count: int, measured: Container[int]) -> list[Sequence[int]]:
    """The pages that are not measured yet, side by side."""
    found: list[range] = []
    for number in range(1, page_count + 1):
        if number in measured:
            continue
        if found and found[-1].stop == number:
            found[-1] = range(found[-1].start, number + 1)
        else:
            found.append(range(number, number + 1))
    return list(found)
