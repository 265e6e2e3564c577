"""Pages that say the same are measured once; whatever is different in one makes it another page."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pikepdf
import pytest

from service.pdf import measure as measuring
from service.pdf.facts.unknown import Unmeasured
from service.pdf.measure import measure
from tests.build import document, page


@pytest.fixture
def looks(monkeypatch: pytest.MonkeyPatch) -> list[int]:
    """The numbers of the pages that were measured themselves."""
    found: list[int] = []
    really = measuring.measured_page

    def noted(*given: object) -> object:
        found.append(int(given[2]))  # type: ignore[call-overload]
        return really(*given)  # type: ignore[arg-type]

    monkeypatch.setattr(measuring, "measured_page", noted)
    return found


def saved(change: Callable[[pikepdf.Pdf], None], folder: Path) -> Path:
    """Three pages alike, the second one changed."""
    path = document(*(page(85, 55).fill(cyan=1) for _ in range(3))).save(folder / "three.pdf")
    with pikepdf.open(path, allow_overwriting_input=True) as pdf:
        change(pdf)
        pdf.save(path)
    return path


def test_pages_alike_are_measured_once_and_keep_their_numbers(looks: list[int], tmp_path: Path) -> None:
    pages = measure(saved(lambda _: None, tmp_path)).pages
    assert looks == [1]
    assert not isinstance(pages, Unmeasured)
    assert [one.number for one in pages] == [1, 2, 3]
    assert pages[0].content == pages[2].content
    assert pages[0].plates == pages[2].plates


def _turned(pdf: pikepdf.Pdf) -> None:
    pdf.pages[1].Rotate = 90


def _with_other_content(pdf: pikepdf.Pdf) -> None:
    pdf.pages[1].Contents = pdf.make_stream(b"0 0 0 1 k 9 9 9 9 re f")


def _with_a_note(pdf: pikepdf.Pdf) -> None:
    note = pikepdf.Dictionary(Type=pikepdf.Name.Annot, Subtype=pikepdf.Name.Text, Rect=[0, 0, 9, 9])
    pdf.pages[1].Annots = pikepdf.Array([note])


def _with_a_layer_of_its_own(pdf: pikepdf.Pdf) -> None:
    group = pdf.make_indirect(pikepdf.Dictionary(Type=pikepdf.Name.OCG, Name="foil"))
    pdf.pages[1].Resources = pikepdf.Dictionary(Properties=pikepdf.Dictionary(L=group))


@pytest.mark.parametrize("change", [_turned, _with_other_content, _with_a_note, _with_a_layer_of_its_own])
def test_a_page_that_differs_is_measured_itself(change: Callable[[pikepdf.Pdf], None], looks: list[int], tmp_path: Path) -> None:
    measure(saved(change, tmp_path))
    assert looks == [1, 2]
