"""How much work a text makes, as function calls: it grows with the length of the text and no faster."""

from __future__ import annotations

import sys
from types import FrameType

import pytest

from service.sheets.prose.reading import read_prose

SHORT, LONG = 4_000, 20_000
AT_MOST = 1.35
"""Times the work that five times the length makes. What is paired with each other makes up to five times that."""
SORTS = ("flyers", "posters", "business cards", "brochures", "banners", "labels")
SENTENCES = {
    "chatter": "Our team of {n} people is happy to help, and the coffee is on us.\n\n",
    "demands under one heading": "Bleed: {few} mm. For posters keep a margin of {some} mm. Pictures need {n} dpi.\n",
    "values of many sorts": "For {sort} the bleed is {few} mm; otherwise {some} mm bleed, and the text is in black alone.\n",
    "a section for each product": "# Flyer {n}\n\nTrim size {n} x 2{n} mm. Bleed {few} mm. Cut contour on a spot colour.\n\n",
    "rows of a table": "Card {n} | 85 x 55 mm | {few} mm | 2{n} % on uncoated paper\n",
    "one sentence without an end": "bleed {few} mm at the head, margin {some} mm, no rgb, pdf/x-4, no layers, ",
    "a list of what must not be there": "- crop marks\n- comments and form fields\n- RGB {n}\n",
    "sizes": "Size {n} x 2{n} mm including bleed, or 1:10.\n",
    "brackets that are not closed": "((((bleed (3 mm (((",
}


def text_of(sentence: str, length: int) -> str:
    said = (
        sentence.format(n=10 + n % 90, few=1 + n % 9, some=2 + n % 8, sort=SORTS[n % len(SORTS)])
        for n in range(length // (len(sentence) // 2) + 1)
    )
    return "".join(said)[:length]


def calls_of(text: str) -> int:
    """Of Python's functions and of the library's, which is the same on every machine."""
    made = 0

    def count(_: FrameType, event: str, __: object) -> None:
        nonlocal made
        made += event in ("call", "c_call")

    before = sys.getprofile()
    sys.setprofile(count)
    try:
        read_prose(text)
    finally:
        sys.setprofile(before)
    return made


@pytest.mark.parametrize("sort", SENTENCES)
def test_five_times_the_text_makes_five_times_the_work(sort: str) -> None:
    sentence = SENTENCES[sort]
    read_prose(text_of(sentence, 1000))  # what is made once, at the first reading
    short, long = calls_of(text_of(sentence, SHORT)), calls_of(text_of(sentence, LONG))
    assert long <= AT_MOST * short * LONG / SHORT, f"{short} calls, {long} for five times the text"
