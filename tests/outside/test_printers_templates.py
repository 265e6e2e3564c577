"""Empty documents as printers draw them, made by programs that know nothing of us: reportlab (spot inks) and MuPDF (layers)."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pikepdf
import pymupdf
from reportlab.lib.colors import CMYKColor, CMYKColorSep
from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas

from service.pdf.facts.guides import GuidedPages
from service.pdf.guided import look_at_guides
from service.sheets.templates.reading import read_template
from service.sheets.templates.told import TemplateReading

PT = 72 / 25.4
FLYER = {"/trim/width": "148 mm", "/trim/height": "210 mm", "/bleed/minimum": "3 mm", "/margin/minimum": "5 mm"}
FOLDED = {"/folds": [{"at": "105 mm", "axis": "horizontal"}]}


def reading_of(path: Path) -> TemplateReading:
    seen = look_at_guides(path)
    assert isinstance(seen, GuidedPages)
    return read_template(seen)


def values(path: Path) -> dict[str, Any]:
    return {one.pointer: one.value for one in reading_of(path).values}


def in_spot_inks(path: Path, names: tuple[str, str, str, str], slug: float = 15) -> Path:
    """Trim, bleed, safety and fold, each in a spot ink of its own, on a page with a slug and no boxes."""
    canvas = Canvas(str(path), pagesize=((148 + 2 * slug) * mm, (210 + 2 * slug) * mm))
    canvas.translate(slug * mm, slug * mm)
    for name, by, dash in zip(names[:3], (0, 3, -5), ([], [1, 1], [2, 2]), strict=True):
        canvas.setStrokeColor(CMYKColorSep(0, 1, 0, 0, spotName=name))
        canvas.setDash(dash)
        canvas.rect(-by * mm, -by * mm, (148 + 2 * by) * mm, (210 + 2 * by) * mm)
    canvas.setStrokeColor(CMYKColorSep(1, 0, 0, 0, spotName=names[3]))
    for start, end in ((-12, -4), (152, 160)):
        canvas.line(start * mm, 105 * mm, end * mm, 105 * mm)
    canvas.setStrokeColor(CMYKColor(0, 0, 0, 1))
    canvas.rect(20 * mm, 20 * mm, 40 * mm, 30 * mm)
    canvas.save()
    return path


def test_guides_in_spot_inks_named_in_four_languages(tmp_path: Path) -> None:
    for at, names in enumerate((
        ("CutContour", "Bleed", "Safety", "Fold"), ("Stanze", "Beschnitt", "Sicherheitsabstand", "Falz"),
        ("Coupe", "FondPerdu", "MargeDeSecurite", "Pli"), ("Corte", "Sangrado", "MargenDeSeguridad", "Plegado"),
    )):  # fmt: skip
        assert values(in_spot_inks(tmp_path / f"{at}.pdf", names)) == FLYER | FOLDED, names


def test_spot_inks_that_say_nothing_are_no_guides(tmp_path: Path) -> None:
    reading = reading_of(in_spot_inks(tmp_path / "plain.pdf", ("Halyard Copper", "Warm Grey", "Sea Green", "Deep Blue")))
    assert (reading.values, [one.about for one in reading.questions]) == ((), ["trim"])


Layers = dict[str, list[tuple[float, ...]]]


def on_layers(path: Path, layers: Layers, *, on: bool = True, boxed: bool = False, turned: int = 0) -> Path:
    """Rectangles (x0, y0, x1, y1 from the trim's corner, mm) on layers, as MuPDF writes them; lines where two sides are one."""
    edge = 3 if boxed else 10
    with pymupdf.open() as document:
        page = document.new_page(width=(148 + 2 * edge) * PT, height=(210 + 2 * edge) * PT)
        for name, places in layers.items():
            layer = document.add_ocg(name, on=on)
            for x0, y0, x1, y1 in places:
                corners = [(one + edge) * PT for one in (x0, y0, x1, y1)]
                if x0 == x1 or y0 == y1:
                    page.draw_line(corners[:2], corners[2:], color=(0, 1, 0, 0), width=0.3, dashes="[3 2] 0", oc=layer)
                else:
                    page.draw_rect(pymupdf.Rect(*corners), color=(0, 1, 0, 0), width=0.3, oc=layer)
        page.set_rotation(turned)
        document.save(path)
    if boxed:
        with pikepdf.open(path, allow_overwriting_input=True) as pdf:
            media = [float(one) for one in pdf.pages[0].MediaBox]
            pdf.pages[0].TrimBox = [media[0] + 3 * PT, media[1] + 3 * PT, media[2] - 3 * PT, media[3] - 3 * PT]
            pdf.pages[0].BleedBox = media
            pdf.save(path)
    return path


GUIDES = {"Trim": [(0.0, 0.0, 148.0, 210.0)], "Bleed": [(-3.0, -3.0, 151.0, 213.0)], "Safe area": [(5.0, 5.0, 143.0, 205.0)],
          "Crease": [(0.0, 105.0, 148.0, 105.0)]}  # fmt: skip


def test_guides_on_layers_shown_or_hidden(tmp_path: Path) -> None:
    assert values(on_layers(tmp_path / "on.pdf", GUIDES)) == FLYER | FOLDED
    assert values(on_layers(tmp_path / "off.pdf", GUIDES, on=False)) == FLYER | FOLDED


def test_boxes_give_the_size_and_one_layer_of_guides_the_rest(tmp_path: Path) -> None:
    guides = {"Hilfslinien": [(0.0, 105.0, 148.0, 105.0), (20.0, 20.0, 60.0, 50.0)]}
    reading = reading_of(on_layers(tmp_path / "boxed.pdf", guides, boxed=True))
    read = {one.pointer: one.value for one in reading.values}
    assert read == {key: FLYER[key] for key in ("/trim/width", "/trim/height", "/bleed/minimum")} | FOLDED
    assert [one.about for one in reading.questions] == ["keep_clear", "pages"]


def test_a_turned_page_is_read_as_it_is_seen(tmp_path: Path) -> None:
    read = values(on_layers(tmp_path / "turned.pdf", GUIDES, turned=90))
    assert (read["/trim/width"], read["/trim/height"]) == ("210 mm", "148 mm")
    assert read["/folds"] == [{"at": "105 mm", "axis": "vertical"}]


def test_lines_across_the_whole_sheet_bound_a_rectangle(tmp_path: Path) -> None:
    level = [(-10.0, y, 158.0, y) for y in (0.0, 210.0)]
    upright = [(x, -10.0, x, 220.0) for x in (0.0, 148.0)]
    path = on_layers(tmp_path / "lines.pdf", {"Endformat": [*level, *upright]})
    assert values(path) == {"/trim/width": "148 mm", "/trim/height": "210 mm"}


def test_a_processing_step_of_iso_19593_1_names_a_layer(tmp_path: Path) -> None:
    path = on_layers(tmp_path / "steps.pdf", {"Ebene 1": GUIDES["Trim"], "Ebene 2": GUIDES["Crease"]})
    with pikepdf.open(path, allow_overwriting_input=True) as pdf:
        for layer, step in zip(pdf.Root.OCProperties.OCGs, ("/Cutting", "/Folding"), strict=True):
            layer.GTS_Metadata = pikepdf.Dictionary(
                GTS_ProcStepsGroup=pikepdf.Name.Structural, GTS_ProcStepsType=pikepdf.Name(step)
            )
        pdf.save(path)
    assert values(path) == {key: FLYER[key] for key in ("/trim/width", "/trim/height")} | FOLDED
