"""What a child says of its stretch: page by page in order, and no more than it was asked for."""

from __future__ import annotations

from pathlib import Path

import pytest

from service.jobs.children.lines import DOCUMENT, PAGE
from service.jobs.children.measuring.heard import HeardOfStretch
from service.pdf.codec import part_to_text
from service.pdf.facts.parts import DocumentPart
from service.pdf.measure import parts_of
from tests.build import document, page


@pytest.fixture(scope="module")
def said(tmp_path_factory: pytest.TempPathFactory) -> list[bytes]:
    """Of a file of three pages: the whole, the whole again, and the pages."""
    path: Path = document(*(page(85, 55).fill(cyan=at / 4) for at in range(3))).save(tmp_path_factory.mktemp("pdf") / "three.pdf")
    parts = list(parts_of(path))
    assert all(not hasattr(part, "pages") for part in parts)
    return [
        (DOCUMENT if isinstance(part, DocumentPart) else PAGE) + part_to_text(part).encode() + b"\n"  # type: ignore[arg-type]
        for part in parts
    ]


def test_all_pages_follow_the_whole(said: list[bytes]) -> None:
    heard = HeardOfStretch(from_the_start=True)
    heard.hear(said[0])
    assert list(heard.left) == [1, 2, 3]
    assert not heard.knows_the_whole
    heard.hear(b"".join(said[1:]))
    assert heard.knows_the_whole
    assert [one.part.page.number for one in heard.arrived] == [1, 2, 3]
    assert not heard.complete  # a short file is judged by the child that measured it


def test_a_stretch_ends_with_its_last_page(said: list[bytes]) -> None:
    heard = HeardOfStretch([2, 3])
    heard.hear(said[3])
    assert not heard.complete
    heard.hear(said[4])
    assert heard.complete


def test_what_was_given_to_others_is_passed_over(said: list[bytes]) -> None:
    heard = HeardOfStretch(from_the_start=True)
    heard.hear(said[0])
    assert list(heard.cut(2)) == [2, 3]
    heard.hear(b"".join(said[1:]))
    assert [one.part.page.number for one in heard.arrived] == [1]
    assert heard.complete


@pytest.mark.parametrize("order", [(4, 3), (3, 3), (0, 3), (2, 3)], ids=["backwards", "twice", "a whole", "before the first"])
def test_what_was_not_asked_for_is_refused(order: tuple[int, int], said: list[bytes]) -> None:
    heard = HeardOfStretch([2, 3])
    with pytest.raises(ValueError, match=r"no line of ours|instead of"):
        heard.hear(b"".join(said[at] for at in order))


def test_each_part_may_be_as_large_as_a_part_may_be_and_the_whole_larger(
    said: list[bytes], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("service.jobs.children.measuring.heard.MOST_BYTES_A_PART", max(map(len, said)) + 100)
    heard = HeardOfStretch(from_the_start=True)
    for one in said:
        heard.hear(one)
    assert len(heard.arrived) == 3
