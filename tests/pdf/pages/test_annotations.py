"""Comments, form fields and links: where they stand, and whether they print (ISO 32000-2:2020, 12.5)."""

from __future__ import annotations

from pathlib import Path

import pikepdf
import pytest
from pikepdf import Array, Dictionary, Name, Pdf, Stream

from service.pdf.facts.geometry import Box
from service.pdf.facts.page import Annotation, Page
from service.pdf.facts.unknown import BeyondLimits, Unmeasured
from service.pdf.measure import measure
from tests.build import PageBuilder, document, page

HIDDEN, PRINT, NO_VIEW = 1 << 1, 1 << 2, 1 << 5
PT = 72 / 25.4


def page_of(built: PageBuilder, folder: Path) -> Page:
    measured = measure(document(built).save(folder / "file.pdf"))
    assert isinstance(measured.pages, tuple)
    return measured.pages[0]


def annotated(folder: Path, *annotations: Dictionary) -> list[Annotation]:
    """Of a card of 85 × 55 mm whose trim starts 3 mm from the sheet's corner."""
    found = page_of(page(85, 55, bleed=3).key("Annots", Array(list(annotations))), folder).annotations
    assert not isinstance(found, Unmeasured)
    return list(found)


def annotation(subtype: str, flags: int = PRINT, rect: tuple[float, ...] = (0, 0, 30, 30), **entries: object) -> Dictionary:
    made = Dictionary(Type=Name.Annot, Subtype=Name("/" + subtype), Rect=Array([one * PT for one in rect]), F=flags)
    for key, value in entries.items():
        made[f"/{key}"] = value
    return made


@pytest.mark.parametrize(
    ("subtype", "label"),
    [
        ("Text", "note"),
        ("Highlight", "text mark-up"),
        ("Link", "link"),
        ("Stamp", "stamp"),
        ("PrinterMark", "printer's mark"),
        ("Oven", "annotation"),
    ],
)
def test_each_kind_has_a_name_that_a_designer_knows(tmp_path: Path, subtype: str, label: str) -> None:
    assert [(one.subtype, one.label) for one in annotated(tmp_path, annotation(subtype))] == [(subtype, label)]


def test_its_place_is_measured_from_the_trim(tmp_path: Path) -> None:
    """The sheet is 61 mm tall; 3 mm of it lie above the trim."""
    (found,) = annotated(tmp_path, annotation("Text", rect=(13, 31, 23, 51)))
    assert found.box_mm == pytest.approx(Box(10, 7, 20, 27), abs=0.01)


@pytest.mark.parametrize(
    ("flags", "prints", "shows"),
    [
        (0, False, True),
        (PRINT, True, True),
        (PRINT | HIDDEN, False, False),
        (PRINT | NO_VIEW, True, False),
        (NO_VIEW, False, False),
    ],
)
def test_flags_say_what_prints_and_what_shows(tmp_path: Path, flags: int, prints: bool, shows: bool) -> None:
    (found,) = annotated(tmp_path, annotation("Text", flags))
    assert (found.prints, found.shows) == (prints, shows)


def test_one_without_flags_does_not_print(tmp_path: Path) -> None:
    note = annotation("Text")
    del note["/F"]
    assert [one.prints for one in annotated(tmp_path, note)] == [False]


def test_a_comment_window_never_prints(tmp_path: Path) -> None:
    assert [one.prints for one in annotated(tmp_path, annotation("Popup", PRINT))] == [False]


def test_one_on_a_layer_that_is_off_neither_prints_nor_shows(tmp_path: Path) -> None:
    def annotations(pdf: Pdf) -> Array:
        layer = pdf.make_indirect(Dictionary(Type=Name.OCG, Name="Comments"))
        pdf.Root.OCProperties = Dictionary(OCGs=Array([layer]), D=Dictionary(OFF=Array([layer])))
        return Array([annotation("Text", OC=layer)])

    found = page_of(page(85, 55).key("Annots", annotations), tmp_path).annotations
    assert isinstance(found, tuple)
    assert [(one.prints, one.shows) for one in found] == [(False, False)]


def test_an_appearance_is_told(tmp_path: Path) -> None:
    def annotations(pdf: Pdf) -> Array:
        looks = pdf.make_indirect(Stream(pdf, b"0 g 0 0 9 9 re f", Subtype=Name.Form, BBox=Array([0, 0, 9, 9])))
        return Array([annotation("Stamp", AP=Dictionary(N=looks)), annotation("Stamp")])

    found = page_of(page(85, 55).key("Annots", annotations), tmp_path).annotations
    assert isinstance(found, tuple)
    assert [one.has_appearance for one in found] == [True, False]


@pytest.mark.parametrize("rect", [Array([1, 2, 3]), Array([Name.A, 0, 1, 1]), pikepdf.String("here")])
def test_one_without_a_place_is_left_out(tmp_path: Path, rect: pikepdf.Object) -> None:
    damaged = annotation("Text")
    damaged["/Rect"] = rect
    assert len(annotated(tmp_path, damaged, annotation("Link"))) == 1


def test_a_page_without_annotations_has_none_and_a_list_that_is_none_too(tmp_path: Path) -> None:
    assert page_of(page(85, 55), tmp_path).annotations == ()
    assert page_of(page(85, 55).key("Annots", Name.None_), tmp_path).annotations == ()


def test_an_endless_list_is_not_listed(tmp_path: Path) -> None:
    many = Array([annotation("Text")] * 10_001)
    assert isinstance(page_of(page(85, 55).key("Annots", many), tmp_path).annotations, Unmeasured)


@pytest.mark.parametrize(("each", "listed"), [(700, True), (1000, False)])
def test_a_list_that_all_pages_share_is_bounded_for_the_file(tmp_path: Path, each: int, listed: bool) -> None:
    """28 pages with one list of 9,990 would have 280,000, in a file of 65 kB."""
    with Pdf.new() as pdf:
        link = pdf.make_indirect(annotation("Link"))
        shared = pdf.make_indirect(Array([link] * each))
        for _ in range(28):
            pdf.add_blank_page(page_size=(200, 200)).obj.Annots = shared
        alone = pdf.add_blank_page(page_size=(200, 200))
        alone.obj.Annots = Array([link])
        pdf.save(tmp_path / "shared.pdf")
    pages = measure(tmp_path / "shared.pdf").pages
    assert isinstance(pages, tuple)
    assert [isinstance(one.annotations, BeyondLimits) for one in pages] == [not listed] * 28 + [False]
    assert not isinstance(pages[28].annotations, Unmeasured)
    assert len(pages[28].annotations) == 1


@pytest.mark.parametrize(
    ("entries", "framed"),
    [
        ({}, True),  # a black line of one point is the default (12.5.2, Border; 12.5.6.5)
        ({"Border": Array([0, 0, 0])}, False),
        ({"Border": Array([0, 0, 1])}, True),
        ({"Border": Array([0, 0, 2, Array([3])])}, True),
        ({"BS": Dictionary(W=0)}, False),
        ({"BS": Dictionary(S=Name.U)}, True),
        ({"Border": Array([0, 0, 1]), "BS": Dictionary(W=0)}, False),  # BS counts before Border
        ({"C": Array([])}, False),  # no colour: transparent
        ({"C": Array([0, 0, 1])}, True),
        ({"Border": Array([0])}, True),
    ],
)
def test_a_link_draws_a_frame_unless_it_says_otherwise(entries: dict[str, object], framed: bool, tmp_path: Path) -> None:
    (link,) = annotated(tmp_path, annotation("Link", **entries))
    assert link.draws_frame is framed
