"""What the fork server loads before it is asked for a child: the measuring modules, warmed by a page that measures nothing.

Only the fork server imports this. The first use of a parser or a codec builds tables; done here, no child has to do it again.
"""

from __future__ import annotations

import tempfile
from contextlib import suppress
from pathlib import Path

from service.jobs.judgement_codec import judgements_to_json
from service.jobs.judging import judge_in_every_language
from service.pdf.codec import measurements_from_json, measurements_to_json
from service.pdf.facts.measurements import Measurements
from service.pdf.measure import measure
from service.pdf.question import Question
from service.sheets.model import SpecSheet, TrimAsked

_BLANK = b"""%PDF-1.4
1 0 obj <</Type /Catalog /Pages 2 0 R>> endobj
2 0 obj <</Type /Pages /Kids [3 0 R] /Count 1>> endobj
3 0 obj <</Type /Page /Parent 2 0 R /MediaBox [0 0 72 72] /Resources <<>> /Contents 4 0 R>> endobj
4 0 obj <</Length 24>> stream
0 0 0 1 k 9 9 9 9 re f q
endstream endobj
trailer <</Root 1 0 R /Size 5>>
%%EOF
"""


def warm_up() -> Measurements:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "blank.pdf"
        path.write_bytes(_BLANK)
        measurements = measure(path, Question(((25.4, 25.4),)), lambda *_: None)
    measurements_from_json(measurements_to_json(measurements))
    # Judging reads the catalogues of all languages.
    judgements_to_json(judge_in_every_language(measurements, SpecSheet(trim=TrimAsked(width_mm=25.4, height_mm=25.4))))
    return measurements


with suppress(OSError):  # no room for a temporary file: the first children are slower, nothing else
    warm_up()
