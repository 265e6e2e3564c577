"""What the fork server does beside, while nobody asks: all that a first file would have to wait for is done once.

Only the fork server imports this. What a process does for the first time costs it more: forms of records are worked out, patterns
compiled, outlines of letters drawn. A child's first page is its only one as a rule, so that all of its work is a first time.
"""

from __future__ import annotations

from contextlib import suppress
from string import ascii_letters, digits, punctuation

from service.jobs.children.preloaded import warm_up
from service.jobs.judgement_codec import judgements_to_json
from service.jobs.judging import judge_in_every_language
from service.pdf.glyphs.standard import standard_outline
from service.sheets.model import (
    BleedAsked,
    ColorAsked,
    FileAsked,
    FontsAsked,
    ImagesAsked,
    LinesAsked,
    MarginAsked,
    PagesAsked,
    Resolution,
    SpecSheet,
    SpotsAsked,
    TextAsked,
    TrimAsked,
)

_MOST_USED = ("Helvetica", "Helvetica-Bold", "Times-Roman")
"""Of the fonts that need not be embedded. Common practice, no source."""
_TIMES = 12
"""A form that is worked out makes the converter forget others, and which are asked for first differs. And what Python has run
some eight times it runs quicker from then on (PEP 659); a child would begin to count anew."""
_DEMANDING = SpecSheet(
    file=FileAsked(maximum_size_bytes=1, encryption="forbidden"),
    pages=PagesAsked(allowed=(2,)),
    trim=TrimAsked(width_mm=85, height_mm=55),
    bleed=BleedAsked(minimum_mm=3),
    margin=MarginAsked(minimum_mm=5, preferred_mm=6),
    color=ColorAsked(allowed=("cmyk",), spots=SpotsAsked(maximum=0), ink_limit_percent=100, icc_profiles="forbidden"),
    images=ImagesAsked(contone=Resolution(minimum_ppi=300, preferred_ppi=400), bilevel=Resolution(minimum_ppi=600)),
    text=TextAsked(minimum_size_pt=12, reversed_minimum_size_pt=12),
    lines=LinesAsked(minimum_width_pt=1, reversed_minimum_width_pt=1),
    fonts=FontsAsked(embedded="required"),
)
"""So that most rules have something to say."""


def practise() -> None:
    for _ in range(_TIMES):
        judgements_to_json(judge_in_every_language(warm_up(), _DEMANDING))
    for font in _MOST_USED:
        for character in ascii_letters + digits + punctuation:
            standard_outline(font, character)


with suppress(OSError):  # no room for a temporary file: the first children are slower, nothing else
    practise()
