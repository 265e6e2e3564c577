"""The look at the boxes alone sees the same boxes as the whole measuring."""

from __future__ import annotations

from pathlib import Path

import pytest

from service.pdf.facts.unknown import Unmeasured
from service.pdf.measure import measure
from service.pdf.question import Question
from service.pdf.sizes import measure_sizes
from tests.build import PageBuilder, document, page

FILES: dict[str, PageBuilder] = {
    "trim and bleed": page(85, 55, bleed=3).fill(cyan=1),
    "turned": page(85, 55, bleed=3).rotated(90),
    "no bleed": page(210, 297, bleed=0).text("Open", size=10, at=(20, 20)),
}


def silent(stage: str, done: int, total: int) -> None:
    del stage, done, total


@pytest.mark.parametrize("name", FILES)
def test_sizes_are_those_of_the_whole_measuring(tmp_path: Path, name: str) -> None:
    FILES[name].save(tmp_path / "a.pdf")
    some, whole = measure_sizes(tmp_path / "a.pdf", Question(), silent), measure(tmp_path / "a.pdf")
    assert (some.document.page_count, some.document.size_bytes) == (whole.document.page_count, whole.document.size_bytes)
    assert not isinstance(some.pages, Unmeasured)
    assert not isinstance(whole.pages, Unmeasured)
    for one, other in zip(some.pages, whole.pages, strict=True):
        assert (one.boxes_mm, one.trim_source, one.bleed_mm) == (other.boxes_mm, other.trim_source, other.bleed_mm)
        assert isinstance(one.content, Unmeasured)


def test_every_page_is_told_of(tmp_path: Path) -> None:
    document(page(85, 55), page(85, 55)).save(tmp_path / "a.pdf")
    told: list[tuple[str, int, int]] = []
    measure_sizes(tmp_path / "a.pdf", Question(), lambda *step: told.append(step))
    assert told == [("pages", 1, 2), ("pages", 2, 2)]


def test_a_file_that_does_not_open_says_why(tmp_path: Path) -> None:
    (tmp_path / "a.pdf").write_bytes(b"%PDF-1.4\n")
    measured = measure_sizes(tmp_path / "a.pdf", Question(), silent)
    assert measured.document.failure is not None
    assert isinstance(measured.pages, Unmeasured)
