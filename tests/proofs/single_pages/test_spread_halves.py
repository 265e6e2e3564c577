"""What stood on a spread, or led to it, is found on the half that it means."""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest
from pikepdf import Array, Dictionary, Name, Pdf, Stream, String

from tests.build import document, page
from tests.proofs.made_single import Made, made, pixels

SPREAD_PT = (2 * 288 + 18, 216 + 18)
"""Two pages of 4 × 3 in with 1/8 in of bleed, in points."""


def single(tmp_path: Path, change: Callable[[Pdf], object], rotation: int = 0) -> Made:
    """A spread between two single pages, changed and made into single pages."""
    inch = 25.4
    cover, built = page(4 * inch, 3 * inch, bleed=inch / 8), page(8 * inch, 3 * inch, bleed=inch / 8).fill(cyan=0.5)
    path = (
        document(cover, built.rotated(rotation), page(4 * inch, 3 * inch, bleed=inch / 8)).also(change).save(tmp_path / "s.pdf")
    )
    return made(path, [2])


def noted(pdf: Pdf, rectangle: tuple[float, ...], drawn: bool) -> None:
    keys = Dictionary(Type=Name.Annot, Subtype=Name.Stamp, Rect=Array(rectangle), F=4, P=pdf.pages[1].obj, NM=String("stamp"))
    if drawn:
        appearance = Stream(pdf, b"1 0 0 rg 0 0 40 20 re f")
        appearance.Type, appearance.Subtype, appearance.BBox = Name.XObject, Name.Form, Array([0, 0, 40, 20])
        keys.AP = Dictionary(N=pdf.make_indirect(appearance))
    pdf.pages[1].obj.Annots = Array([pdf.make_indirect(keys)])


@pytest.mark.parametrize(
    ("left_x", "drawn", "where"),
    [
        (50, True, [1]), (400, True, [2]), (277, True, [1, 2]), (250, True, [1]), (260, True, [1, 2]), (260, False, [1]),
        (290, False, [2]),
    ],
)
def test_an_annotation_goes_to_the_half_where_it_stands(left_x: float, drawn: bool, where: list[int], tmp_path: Path) -> None:
    """The right half's paper begins at 288 pt, the left one's ends at 306 pt; the fold is at 297 pt."""
    result = single(tmp_path, lambda pdf: noted(pdf, (left_x, 100, left_x + 30, 120), drawn))
    with result.pdf as pdf:
        found = [index for index, one in enumerate(pdf.pages) if "/Annots" in one.obj]
        assert found == where
        for index in where:
            (annotation,) = pdf.pages[index].obj.Annots
            assert annotation.P.objgen == pdf.pages[index].obj.objgen


def test_a_stamp_across_the_fold_shows_on_both_halves_as_it_did(tmp_path: Path) -> None:
    result = single(tmp_path, lambda pdf: noted(pdf, (277, 100, 317, 120), drawn=True))
    assert np.array_equal(pixels(result.data, 1), pixels(result.source, 1, cut_right_pt=288))
    assert np.array_equal(pixels(result.data, 2), pixels(result.source, 1, cut_left_pt=288))


def outlined(*destinations: tuple[object, ...]) -> Callable[[Pdf], None]:
    """Bookmarks to the spread."""

    def change(pdf: Pdf) -> None:
        root = pdf.Root.Outlines = pdf.make_indirect(Dictionary())
        items = [
            pdf.make_indirect(Dictionary(Title=String("Bread"), Parent=root, Dest=Array([pdf.pages[1].obj, *one])))
            for one in destinations
        ]
        for item, following in pairwise(items):
            item.Next = following
        root.First, root.Last = items[0], items[-1]

    return change


@pytest.mark.parametrize(
    ("rotation", "destination", "index"),
    [
        (0, (Name.XYZ, 40, 200, 0), 1), (0, (Name.XYZ, 400, 200, 0), 2), (0, (Name.XYZ, None, 200, 0), 1), (0, (Name.Fit,), 1),
        (0, (Name.FitV, 300), 2), (0, (Name.FitR, 310, 10, 500, 100), 2), (0, (Name.FitH, 200), 1),
        (180, (Name.XYZ, 40, 200, 0), 2), (90, (Name.XYZ, 10, 400, 0), 2), (90, (Name.FitH, 100), 1), (90, (Name.FitH, 400), 2),
        (270, (Name.XYZ, 10, 400, 0), 1),
    ],
)
def test_a_bookmark_leads_to_the_half_that_it_points_at(
    rotation: int, destination: tuple[object, ...], index: int, tmp_path: Path
) -> None:
    with single(tmp_path, outlined(destination), rotation).pdf as pdf:
        assert pdf.Root.Outlines.First.Dest[0].objgen == pdf.pages[index].obj.objgen


def test_bookmarks_to_other_pages_stay_with_them(tmp_path: Path) -> None:
    def change(pdf: Pdf) -> None:
        outlined((Name.Fit,))(pdf)
        pdf.Root.Outlines.First.Dest = Array([pdf.pages[2].obj, Name.XYZ, 400, 0, 0])

    with single(tmp_path, change).pdf as pdf:
        assert pdf.Root.Outlines.First.Dest[0].objgen == pdf.pages[3].obj.objgen


def test_named_destinations_links_and_the_opening_page_lead_to_the_right_half_too(tmp_path: Path) -> None:
    def change(pdf: Pdf) -> None:
        def goal() -> Array:
            return Array([pdf.pages[1].obj, Name.XYZ, 400, 200, 0])

        pdf.Root.OpenAction = Dictionary(S=Name.GoTo, D=goal())
        pdf.Root.Dests = Dictionary(Old=Dictionary(D=goal()))
        leaf = pdf.make_indirect(Dictionary(Names=Array([String("new"), goal()])))
        pdf.Root.Names = Dictionary(Dests=Dictionary(Kids=Array([leaf])))
        link = Dictionary(Subtype=Name.Link, Rect=Array([10, 10, 20, 20]), A=Dictionary(S=Name.GoTo, D=goal()))
        pdf.pages[0].obj.Annots = Array([link])

    with single(tmp_path, change).pdf as pdf:
        right, root = pdf.pages[2].obj.objgen, pdf.Root
        goals = [root.OpenAction.D, root.Dests.Old.D, root.Names.Dests.Kids[0].Names[1], pdf.pages[0].obj.Annots[0].A.D]
        assert [one[0].objgen for one in goals] == [right] * 4


def test_page_labels_go_on_from_the_same_page(tmp_path: Path) -> None:
    def change(pdf: Pdf) -> None:
        numbers = Array([0, Dictionary(S=Name.r), 1, Dictionary(S=Name.D), 2, Dictionary(P=String("back"))])
        pdf.Root.PageLabels = Dictionary(Nums=numbers)

    with single(tmp_path, change).pdf as pdf:
        assert [one.label for one in pdf.pages] == ["i", "1", "2", "back"]


def test_the_structure_is_told_once(tmp_path: Path) -> None:
    def change(pdf: Pdf) -> None:
        pdf.pages[1].obj.StructParents = 0
        pdf.Root.StructTreeRoot = pdf.make_indirect(Dictionary(Type=Name.StructTreeRoot))

    result = single(tmp_path, change)
    with result.pdf as pdf:
        assert ["/StructParents" in one.obj for one in pdf.pages] == [False, True, False, False]
