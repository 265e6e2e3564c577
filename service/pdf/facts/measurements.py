"""What was found in a PDF: plain frozen records in millimetres, ppi, points of type and percent.

They know no sheet and no PDF library, are stored with the check, and outlive the file, so that it can be judged again
against another sheet. What could not be measured is `Unmeasured(why)`: never zero, never a pass.

Boxes are in ruler coordinates: mm from the top-left corner of the trimmed page as displayed (after Rotate), y downwards.
"""

from __future__ import annotations

from dataclasses import dataclass

from service.pdf.facts.document import Document
from service.pdf.facts.page import Page
from service.pdf.facts.unknown import Failure, Unmeasured


@dataclass(frozen=True)
class Measurements:
    document: Document
    pages: tuple[Page, ...] | Unmeasured

    @classmethod
    def unreadable(cls, size_bytes: int, failure: Failure) -> Measurements:
        """All that can be said of a file that could not be opened, or not within the limits."""
        unknown = failure.reason
        document = Document(
            size_bytes=size_bytes,
            failure=failure,
            page_count=unknown,
            version=unknown,
            encryption=unknown,
            damage=(),
            cut_off=False,
            title=None,
            creator=None,
            producer=None,
            identification=unknown,
            output_intents=unknown,
            profiles=unknown,
            layers=unknown,
            features=unknown,
            active_content=unknown,
            linearization=unknown,
        )
        return cls(document, unknown)
