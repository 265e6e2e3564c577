"""What the fork server loads before it is asked for a child: the measuring modules, warmed by a page with what pages have.

Only the fork server imports this. The first use of a parser or a codec builds tables; done here, no child has to do it again.
"""

from __future__ import annotations

import tempfile
from contextlib import suppress
from pathlib import Path

from service.jobs.judgement_codec import judgements_to_json
from service.jobs.judging import judge_in_every_language
from service.pdf.codec import (
    document_part_from_text,
    measurements_from_json,
    measurements_to_json,
    page_from_text,
    part_to_text,
)
from service.pdf.facts.measurements import Measurements
from service.pdf.facts.parts import DocumentPart, PagePart, put_together
from service.pdf.measure import parts_of
from service.pdf.question import Question
from service.pdf.usual_page import usual_page
from service.sheets.model import BleedAsked, SpecSheet, TrimAsked


def warm_up() -> Measurements:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "warm.pdf"
        path.write_bytes(usual_page())
        parts = list(parts_of(path, Question(((31.75, 25.4),), ink_limits_percent=(300.0,))))
    pages = []
    for part in parts:
        if isinstance(part, PagePart):
            pages.append(page_from_text(part_to_text(part)).part)
        elif isinstance(part, DocumentPart):
            whole = document_part_from_text(part_to_text(part))
    measurements = put_together(whole.document, pages)
    measurements_from_json(measurements_to_json(measurements))
    # Judging reads the catalogues of all languages.
    sheet = SpecSheet(trim=TrimAsked(width_mm=31.75, height_mm=25.4), bleed=BleedAsked(minimum_mm=3))
    judgements_to_json(judge_in_every_language(measurements, sheet))
    return measurements


with suppress(OSError):  # no room for a temporary file: the first children are slower, nothing else
    warm_up()
