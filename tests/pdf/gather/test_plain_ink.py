"""Pages of plain ink need no plates: what is asked of their ink, their colours tell."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from pikepdf import Dictionary

from service.pdf.facts.geometry import Sides
from service.pdf.facts.page import Page
from service.pdf.facts.plates import PlateFacts
from service.pdf.facts.unknown import NotAsked, Unmeasured
from service.pdf.measure import measure
from service.pdf.question import Question
from tests.build import PageBuilder, document, page
from tests.pdf.gather.content_of import content_of

BOX, BESIDE, AT_THE_EDGE, OVER_TYPE = (60, 5, 80, 15), (60, 20, 80, 30), (60, -3, 80, 15), (10, 10, 50, 50)


def notice() -> PageBuilder:
    return page(85, 55).text("Open from seven", size=10, at=(20, 30))


def overprinting(made: PageBuilder) -> PageBuilder:
    return made.resource("ExtGState", "Over", Dictionary(op=True, OP=True)).raw(b"/Over gs")


@pytest.mark.parametrize(("made", "most"), [
    (notice, 100),
    (lambda: notice().fill(BOX, cyan=0.5, magenta=0.2, yellow=0.1, black=0.4), 120),
    (lambda: notice().line((20, 40), (60, 40), 1, black=1), 100),
    (lambda: page(85, 55).fill(gray=1).text("Open", size=10, at=(20, 30)), 100),  # a white sheet below, as browsers write it
    (lambda: notice().fill(BOX, gray=1), 100),
    (lambda: notice().fill(BOX, rgb=(1, 0, 0)), 200),
    (lambda: overprinting(notice()).fill(BOX, cyan=1).fill(BESIDE, magenta=1).text("!", size=9, at=(30, 40)), 300),
])  # fmt: skip
def test_colors_allow_for_so_much(made: Callable[[], PageBuilder], most: float, tmp_path: Path) -> None:
    assert content_of(made(), tmp_path).plain_ink_percent == most


@pytest.mark.parametrize("made", [
    lambda: page(85, 55).fill(BOX, cyan=1),  # no type that surely shows
    lambda: page(85, 55).text("Open", size=2, at=(20, 30)),
    lambda: page(85, 55).text("Open", size=10, at=(20, 30), black=0.05),
    lambda: page(85, 55).text("Open", size=10, at=(20, 30), mode=3),
    lambda: notice().fill(OVER_TYPE, gray=1),
    lambda: notice().fill(OVER_TYPE, black=0.02),
    lambda: notice().fill(AT_THE_EDGE, cyan=1),
    lambda: notice().line((-8, 0), (-3, 0), 0.25, black=1),
    lambda: notice().fill(BOX, spot=("Foil", 1)),
    lambda: notice().fill(BOX, spot=("All", 1)),
    lambda: notice().fill(BOX, lab=(50, 10, 10)),
    lambda: notice().picture(BOX),
    lambda: notice().resource("ExtGState", "Half", Dictionary(ca=0.5)).raw(b"/Half gs").fill(BOX, cyan=1),
    lambda: overprinting(notice()).fill(BOX, rgb=(1, 0, 0)),
    lambda: page(85, 55).fill(OVER_TYPE, cyan=1).text("Open", size=6, at=(20, 30)),  # black leaves a hole in blue
])  # fmt: skip
def test_only_plates_tell(made: Callable[[], PageBuilder], tmp_path: Path) -> None:
    assert content_of(made(), tmp_path).plain_ink_percent is None


def pages_of(question: Question, path: Path) -> tuple[Page, ...]:
    pages = measure(path, question).pages
    assert not isinstance(pages, Unmeasured)
    return pages


def test_plates_are_made_of_what_is_asked(tmp_path: Path) -> None:
    path = document(notice(), notice().fill(AT_THE_EDGE, cyan=1)).save(tmp_path / "notice.pdf")
    plain, inked = pages_of(Question(ink_limits_percent=(100,), where_ink_lies=False), path)
    assert isinstance(plain.plates, NotAsked)
    assert isinstance(plain.ink_max_percent, NotAsked)
    assert plain.bleed_reach_mm == Sides(None, None, None, None)
    assert isinstance(inked.plates, PlateFacts)
    assert isinstance(inked.plates.ink_map, NotAsked)
    for question in (Question(ink_limits_percent=(90,), where_ink_lies=False), Question(ink_limits_percent=(100,))):
        plain, _ = pages_of(question, path)
        assert isinstance(plain.plates, PlateFacts)
        assert plain.bleed_reach_mm == Sides(None, None, None, None)
        assert isinstance(plain.plates.ink_map, NotAsked) != question.where_ink_lies
