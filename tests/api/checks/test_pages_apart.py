"""The pages of a long file, each read when it is looked at."""

from __future__ import annotations

from pathlib import Path

import pytest

from service.api.checks import pages_apart as module
from service.api.checks.pages_apart import PagesApart
from service.pdf.codec import measurements_to_json, page_from_json, pages_apart
from service.pdf.facts.page import Page
from service.pdf.facts.unknown import Unmeasured
from service.pdf.measure import measure
from tests.build import document, page


@pytest.fixture(scope="module")
def pages(tmp_path_factory: pytest.TempPathFactory) -> tuple[tuple[Page, ...], PagesApart]:
    path = Path(tmp_path_factory.mktemp("pdf"), "three.pdf")
    found = measure(document(page(85, 55), page(148, 210), page(210, 297)).save(path))
    texts = pages_apart(measurements_to_json(found))
    assert not isinstance(texts, Unmeasured)
    assert not isinstance(found.pages, Unmeasured)
    return found.pages, PagesApart(texts)


def test_they_are_the_pages(pages: tuple[tuple[Page, ...], PagesApart]) -> None:
    together, apart = pages
    assert (len(apart), tuple(apart), apart[-1], apart[1:2]) == (3, together, together[-1], together[1:2])
    with pytest.raises(IndexError):
        apart[3]


def test_one_is_read_alone(pages: tuple[tuple[Page, ...], PagesApart], monkeypatch: pytest.MonkeyPatch) -> None:
    read: list[str] = []

    def reads(text: str) -> Page:
        read.append(text)
        return page_from_json(text)

    monkeypatch.setattr(module, "page_from_json", reads)
    assert pages[1][1].number == 2
    assert len(read) == 1
