"""Every stored sheet's drawing, measured as a person with a ruler would: from the SVG by a parser that knows nothing of ours, and
from the PDF by MuPDF.
"""

from __future__ import annotations

import io
import re
from itertools import pairwise
from xml.etree import ElementTree

import pymupdf
import pytest

from service.language.spoken import LANGUAGES, speaking
from service.pdf.facts.unknown import Unmeasured
from service.proofs.drawing.pdf import drawing_pdf
from service.proofs.drawing.shapes import SheetDrawing, Words
from service.proofs.drawing.sheet_drawing import REDUCTIONS, Units, sheet_drawing
from service.proofs.drawing.svg import drawing_svg
from service.sheets.catalogue import stored_sheets
from service.sheets.model import SpecSheet, TrimAsked
from service.sheets.order import for_order
from tests.sweeps import part_of

SVG = "{http://www.w3.org/2000/svg}"
ORDER = {"inner_pages": 96, "caliper_mm": 0.11}
WITHOUT_SIZE = {name for name, sheet in stored_sheets().items() if sheet.trim is None and sheet.spine is None}


def drawn_kind(name: str) -> tuple[object, ...]:
    """What its drawing may show otherwise than another's."""
    sheet = stored_sheets()[name]
    parts = (sheet.trim.parts, sheet.trim.corner_radius_mm, len(sheet.trim.alternatives)) if sheet.trim else ()
    shown = (sheet.spine, sheet.bleed, sheet.margin, sheet.keep_clear, sheet.finishes)
    return (sheet.product, len(sheet.folds or ()), *map(bool, parts), *map(bool, shown))


DRAWN = part_of(sorted(set(stored_sheets()) - WITHOUT_SIZE), one_in=4, kind=drawn_kind)


def drawn(sheet: SpecSheet, units: Units = "mm") -> SheetDrawing:
    drawing = sheet_drawing(for_order(sheet, ORDER), units)
    assert not isinstance(drawing, Unmeasured)
    return drawing


def parsed(drawing: SheetDrawing) -> ElementTree.Element:
    return ElementTree.fromstring(drawing_svg(drawing))


def reduction(root: ElementTree.Element) -> int:
    (found,) = (int(found[1]) for one in root.iter(f"{SVG}text") if (found := re.match(r"Scale 1 : (\d+)\.", one.text or "")))
    return found


def numbers(element: ElementTree.Element, *names: str) -> tuple[float, ...]:
    return tuple(float(element.attrib[name]) for name in names)


def measured(root: ElementTree.Element) -> list[tuple[float, str]]:
    """Each measure: the distance between its two arrowheads, and what stands at its middle."""
    heads = [
        [tuple(map(float, corner.split(","))) for corner in one.attrib["points"].split()] for one in root.iter(f"{SVG}polygon")
    ]
    words = [(one, *numbers(one, "x", "y")) for one in root.iter(f"{SVG}text") if one.attrib["text-anchor"] == "middle"]
    found = []
    for (first, *_), (second, *_) in zip(heads[::2], heads[1::2], strict=True):
        level = first[1] == second[1]
        middle = ((first[0] + second[0]) / 2, (first[1] + second[1]) / 2)
        told = [
            one.text or ""
            for one, x, y in words
            if ("transform" in one.attrib) != level
            and (
                abs(x - middle[0]) < 0.01 and 0 < middle[1] - y < 5
                if level
                else abs(y - middle[1]) < 0.01 and 0 < middle[0] - x < 5
            )
        ]
        assert len(told) == 1, told
        found.append((max(abs(first[0] - second[0]), abs(first[1] - second[1])), told[0]))
    return found


@pytest.mark.parametrize("name", DRAWN)
def test_every_measure_is_as_long_as_its_number_says(name: str) -> None:
    root = parsed(drawn(stored_sheets()[name]))
    scale = reduction(root)
    assert scale in REDUCTIONS
    found = measured(root)
    assert len(found) >= 2
    for length, text in found:
        assert length * scale == pytest.approx(float(text.removesuffix(" mm")), abs=0.06 * scale if scale > 5 else 0.06)


@pytest.mark.parametrize("name", DRAWN)
def test_the_outline_is_the_trimmed_size_and_the_bleed_lies_around_it(name: str) -> None:
    sheet = for_order(stored_sheets()[name], ORDER)
    root = parsed(drawn(sheet))
    scale = reduction(root)
    outlines = [numbers(one, "x", "y", "width", "height") for one in root.iter(f"{SVG}rect") if one.get("data-line") == "outline"]
    bleeds = [numbers(one, "x", "y", "width", "height") for one in root.iter(f"{SVG}rect") if one.get("data-line") == "bleed"]
    assert outlines
    for x, y, width, height in outlines:
        if sheet.trim:
            across, down = sheet.trim.width_mm, sheet.trim.height_mm
            sizes = [size for one, other in ((across, down), (down, across)) for size in ((one, other), (2 * one, other))]
            assert (width * scale, height * scale) in [pytest.approx(size, abs=0.02 * scale) for size in sizes]
        if sheet.bleed and sheet.bleed.minimum_mm:
            depth = sheet.bleed.advised_mm / scale
            around = (x - depth, y - depth, width + 2 * depth, height + 2 * depth)
            assert any(one == pytest.approx(around, abs=0.002) for one in bleeds)


@pytest.mark.parametrize("name", DRAWN)
def test_nothing_stands_off_the_paper_in_any_language(name: str) -> None:
    for language in LANGUAGES:
        with speaking(language):
            drawing = drawn(stored_sheets()[name])
        with pymupdf.open(stream=io.BytesIO(drawing_pdf(drawing))) as pdf:
            (page,) = pdf
            paper = page.rect
            for x0, y0, x1, y1, text, *_ in page.get_text("blocks"):
                assert paper.contains(pymupdf.Rect(x0, y0, x1, y1)), text


def test_svg_and_pdf_say_the_same() -> None:
    drawing = drawn(stored_sheets()["leaflet-dl-zigzag-6"])
    said = {one.text for one in parsed(drawing).iter(f"{SVG}text")}
    with pymupdf.open(stream=io.BytesIO(drawing_pdf(drawing))) as pdf:
        text = pdf[0].get_text()
        assert all(str(one) in text for one in said)
        assert pdf[0].rect.width * 25.4 / 72 == pytest.approx(drawing.width_mm, abs=0.1)
        assert pdf.metadata["title"] == drawing.title
        assert {font[1] for font in pdf.get_page_fonts(0)} == {"ttf"}, "each font is in the file"


def test_a_space_that_the_typeface_lacks_is_no_box() -> None:
    narrow, usual = (
        drawing_pdf(SheetDrawing(50, 20, "", "", (Words(f"coupé{space}; fin", (25, 10)),))) for space in "\u202f\u00a0"
    )
    assert narrow == usual


def test_panels_stand_in_a_row_above_the_whole() -> None:
    texts = [text for _, text in measured(parsed(drawn(stored_sheets()["leaflet-dl-zigzag-6"])))]
    assert texts[:4] == ["99 mm", "99 mm", "99 mm", "297 mm"]


def test_a_narrow_spine_has_its_number_above_the_row() -> None:
    root = parsed(drawn(stored_sheets()["book-a5-cover"]))
    heights = {one.text: float(one.attrib["y"]) for one in root.iter(f"{SVG}text")}
    assert heights["5.9 mm"] < heights["148 mm"]
    assert "The spine is 5.88 mm wide by the order; the printer confirms it." in heights


def test_measures_come_in_inches_too() -> None:
    sheet = SpecSheet(trim=TrimAsked(width_mm=88.9, height_mm=50.8))
    assert [text for _, text in measured(parsed(drawn(sheet, "in")))] == ["3.5 in", "2 in"]


def test_a_drawing_says_in_words_what_it_shows() -> None:
    drawing = drawn(stored_sheets()["business-card-85x55"])
    root = parsed(drawing)
    assert root.attrib["role"] == "img"
    assert root.attrib["aria-labelledby"].split() == [root[0].attrib["id"], root[1].attrib["id"]]
    assert "85 × 55 mm" in (root[1].text or "")


def test_it_is_dark_where_the_screen_is_dark_and_fetches_nothing() -> None:
    written = drawing_svg(drawn(stored_sheets()["business-card-85x55"])).decode()
    assert "prefers-color-scheme: dark" in written
    assert re.findall(r"href|url\(|<script|<image", written) == []


def test_an_area_is_measured_from_the_corner_of_the_trim() -> None:
    root = parsed(drawn(stored_sheets()["letterhead-a4-din-5008-a"]))
    assert [one for one, other in pairwise(text for _, text in measured(root)) if (one, other) == ("20 mm", "85 mm")]


def test_a_name_from_somebody_elses_sheet_is_words_and_no_markup() -> None:
    sheet = SpecSheet(trim=TrimAsked(width_mm=85, height_mm=55), title="<script>alert(1)</script>", id="card", revision=1)
    assert b"<script" not in drawing_svg(drawn(sheet))
