"""How to break each demand of a sheet: the right file of an independent producer, with one thing done wrong.

A demand is a key of the sheet. `breaks_of` says for a sheet which of its keys can be broken, how, and which rule has to notice.
"""

from __future__ import annotations

import io
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial

import pikepdf
from reportlab.lib.colors import CMYKColor, CMYKColorSep, Color
from reportlab.lib.units import mm
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfgen.canvas import Canvas

from service.sheets.model import EdgesAsked, Fold, KeepClearArea, SpecSheet
from service.sheets.variants import in_single_pages, variants
from tests.sheets.right_files import (
    Draws,
    Plan,
    drawn,
    first_place,
    fold_at,
    free_place,
    has_ground,
    pieces_on,
    plan_on,
    right_plan,
    words_size,
)

Make = Callable[[SpecSheet, Plan], bytes]

UNBREAKABLE = {
    "folds": "a page of the right size folds as the sheet says; a wrong size is told by trim.size",
    "folding.type": "likewise",
    "fonts.embedded: allowed": "allows",
}
"""Demands that no file can break alone."""
BLACK, WHITE, SOLID = CMYKColor(0, 0, 0, 1), CMYKColor(0, 0, 0, 0), CMYKColor(1, 0.3, 0, 0)


@dataclass(frozen=True)
class Break:
    demand: str
    rule: str
    make: Make
    also: tuple[str, ...] = ()
    """What the same mistake breaks besides."""

    def file(self, sheet: SpecSheet) -> bytes:
        """The sheet as it is written first: its own size, at the first of its scales. Pages after the second are white."""
        sheet = variants(sheet)[0]
        return self.make(sheet, replace(right_plan(sheet), drawn_pages=2))


def breaks_of(sheet: SpecSheet) -> Iterator[Break]:
    """Of a sheet with what its order knows."""
    first, *others = (way for way in variants(sheet) if not in_single_pages(way))
    yield from _of_the_trim(first, others)
    for blocks in (_of_the_file, _of_pages, _of_edges, _of_colors, _of_pictures, _of_type, _of_make_up):
        yield from blocks(first)


def _with(**changes: object) -> Make:
    return lambda sheet, plan: drawn(sheet, replace(plan, **changes))  # type: ignore[arg-type]


def _drawing(draw: Callable[[Canvas, Plan, SpecSheet], None], **changes: object) -> Make:
    """The right file with something more on its first page."""

    def make(sheet: SpecSheet, plan: Plan) -> bytes:
        plan = replace(plan, **changes)  # type: ignore[arg-type]
        more: Draws = lambda canvas: draw(canvas, plan_on(plan, sheet, 1), sheet)  # noqa: E731
        return drawn(sheet, plan, more)

    return make


def _changed(change: Callable[[pikepdf.Pdf], None]) -> Make:
    """The right file with its objects changed."""

    def make(sheet: SpecSheet, plan: Plan) -> bytes:
        out = io.BytesIO()
        with pikepdf.open(io.BytesIO(drawn(sheet, plan))) as pdf:
            change(pdf)
            pdf.save(out)
        return out.getvalue()

    return make


# --- The file, its pages ----------------------------------------------------------------------------------------------


def _of_the_file(sheet: SpecSheet) -> Iterator[Break]:
    asked = sheet.file
    if asked is None:
        return
    if asked.encryption == "forbidden":
        yield Break("file.encryption", "file.locked", _with(encrypted=True))
    if asked.maximum_size_bytes is not None:
        limit = asked.maximum_size_bytes
        yield Break(f"file.maximum_size ({limit // 1_000_000} MB)", "file.size", partial(_too_large, limit))
    if asked.minimum_version is not None:
        yield Break("file.pdf_versions.minimum", "file.version", _older_than(asked.minimum_version))
    if asked.linearized == "required":
        yield Break("file.linearized", "file.linearized", _changed(lambda _: None))


def _too_large(limit: int, sheet: SpecSheet, plan: Plan) -> bytes:
    """Blanks between the trailer and the word that says where the objects' table begins."""
    made = drawn(sheet, plan)
    at = made.rindex(b"startxref")
    return made[:at] + b" " * (limit + 1 - len(made)) + b"\n" + made[at:]


def _older_than(version: str) -> Make:
    older = f"%PDF-1.{int(version[-1]) - 1}".encode()
    return lambda sheet, plan: older + drawn(sheet, plan)[len(older) :]


def _of_pages(sheet: SpecSheet) -> Iterator[Break]:
    asked = sheet.pages
    if asked is None:
        return
    step = asked.multiple_of or 1
    if asked.allowed:
        yield Break("pages.allowed", "pages.count", _with(pages=max(asked.allowed) + 1))
    if asked.maximum:
        yield Break("pages.maximum", "pages.count", _with(pages=asked.maximum + step))
    if asked.minimum and asked.minimum > step:
        yield Break("pages.minimum", "pages.count", _with(pages=asked.minimum - step))
    if step > 1 and not asked.allowed:
        yield Break("pages.multiple_of", "pages.multiple", lambda sheet, plan: drawn(sheet, replace(plan, pages=plan.pages + 1)))
    if asked.arrangement == "single-pages" and sheet.trim and max(asked.maximum or 0, *asked.allowed, 0) > 2:
        yield Break(
            "pages.arrangement",
            "pages.arrangement",
            lambda sheet, plan: drawn(sheet, replace(plan, width=2 * plan.width, pages=_as_spreads(sheet, plan.pages))),
        )


def _as_spreads(sheet: SpecSheet, pages: int) -> int:
    """How many pages of the file as many are, two by two; those of a part stay as they are."""
    apart = sum((part.first or 0) + (part.last or 0) for part in sheet.trim.parts) if sheet.trim else 0
    return apart + max((pages - apart) // 2, 2 - apart)


def _of_the_trim(sheet: SpecSheet, others: Sequence[SpecSheet]) -> Iterator[Break]:
    """`others`: the same in other sizes and scales, none of which the wrong one may be."""
    trim = sheet.trim
    if trim is None:
        return
    sizes = [(one.trim.width_mm, one.trim.height_mm) for one in (sheet, *others) if one.trim]
    of_its_scale = [size for size in sizes if size[0] > trim.width_mm / 1.9]
    least, tallest = min(of_its_scale), max(max(size) for size in of_its_scale)
    too_tall = 1.03 * tallest + 7 + trim.tolerance_mm  # 3 %: a banner of 2 : 1 made square is two of them
    yield Break("trim", "trim.size", lambda sheet, plan: drawn(sheet, replace(plan, height=too_tall)))
    if sheet.spine is None:
        yield Break(
            "trim.tolerance", "trim.size",
            lambda sheet, plan: drawn(sheet, replace(plan, width=least[0] - trim.tolerance_mm - 0.2, height=least[1])),
        )
        yield Break("trim: fit to page", "trim.scale", _fit_to_page, ("trim.size",))
    if trim.parts:
        yield Break("trim.parts", "trim.size", _with(with_parts=False))
    if trim.orientation != "any" and trim.width_mm != trim.height_mm:
        turned: Make = lambda sheet, plan: drawn(sheet, replace(plan, width=plan.height, height=plan.width))  # noqa: E731
        yield Break("trim.orientation", "pages.orientation", turned, ("fold.panels",))
    if sheet.margin and (trim.corner_radius_mm or 0) > sheet.margin.minimum_mm + 1.5:  # smaller ones lie in the margin
        yield Break("trim.corner_radius", "margin.outline", _drawing(_words_in_the_corner))


def _fit_to_page(sheet: SpecSheet, plan: Plan) -> bytes:
    size = words_size(plan, sheet) * 0.94
    return drawn(sheet, replace(plan, width=plan.width * 0.94, height=plan.height * 0.94, size=size))


# --- Edges ------------------------------------------------------------------------------------------------------------


def _of_edges(sheet: SpecSheet) -> Iterator[Break]:
    bleed, margin, marks = sheet.bleed, sheet.margin, sheet.marks
    if bleed and bleed.minimum_mm and has_ground(sheet):
        yield Break("bleed.minimum", "bleed.declared", _with(bleed=0.0, ground=0.0))
        yield Break("bleed.minimum: filled", "bleed.reach", _with(ground=0.0))
    if bleed and bleed.preferred_mm and has_ground(sheet):
        yield Break("bleed.preferred", "bleed.declared", _with(bleed=bleed.minimum_mm, ground=bleed.minimum_mm))
    if marks and marks.offset_minimum_mm and marks.offset_minimum_mm > 1:
        yield Break("marks.offset_minimum", "marks.offset", _drawing(_marks_at_1_mm))
    if margin is None:
        return
    for key, depth in _depths_by_edge(margin):
        if depth > 0.6:
            near = partial(_words_at_an_edge, key, depth - 0.5)
            yield Break(f"margin.{key}", "margin.text", _drawing(near))
    if margin.preferred_mm:
        yield Break("margin.preferred", "margin.text", _drawing(partial(_words_at_an_edge, "minimum", margin.preferred_mm - 0.4)))
    if margin.minimum_mm > 1:
        yield Break("margin.minimum: artwork", "margin.artwork", _drawing(_bar_at_the_foot))
    for step in margin.by_pages:
        if step.binding_mm and sheet.pages:
            near = partial(_words_at_an_edge, "binding", step.binding_mm - 0.5)
            long = _drawing(near, pages=-(-step.from_pages // 4) * 4)
            yield Break("margin.by_pages", "margin.text", long)


def _depths_by_edge(margin: EdgesAsked) -> list[tuple[str, float]]:
    named = [(key, getattr(margin, f"{key}_mm")) for key in ("binding", "outer", "head", "foot")]
    return [("minimum", margin.minimum_mm), *((key, depth) for key, depth in named if depth is not None)]


def _words_at_an_edge(key: str, depth_mm: float, canvas: Canvas, plan: Plan, sheet: SpecSheet) -> None:
    """On the first page, which is bound at the left; `minimum`: at an edge that has no depth of its own."""
    margin = sheet.margin
    assert margin
    size = words_size(plan, sheet)
    if key == "minimum":
        key = next(one for one in ("head", "foot", "outer", "binding") if getattr(margin, f"{one}_mm") is None)
    words = "HH"
    width = pdfmetrics.stringWidth(words, "Vera", size) / mm
    beside = first_place(plan, sheet, 1)
    _, y, _, _ = free_place(plan, sheet, 1, (width, size / mm + 4), beside)
    bearing = size * 0.1 / mm  # white beside the letter
    x = {"binding": depth_mm - bearing, "outer": plan.width - depth_mm - width + bearing}.get(key, plan.width * 0.6)
    cap = size * 0.73 / mm
    y = {"head": depth_mm + cap, "foot": plan.height - depth_mm}.get(key, y + 3 + cap)
    _words(canvas, plan, (x, y), words, size)


def _bar_at_the_foot(canvas: Canvas, plan: Plan, _: SpecSheet) -> None:
    """Ends a millimetre inside the trim."""
    _area(canvas, plan, (plan.width * 0.3, plan.height - 4, plan.width * 0.7, plan.height - 1), SOLID)


def _marks_at_1_mm(canvas: Canvas, plan: Plan, _: SpecSheet) -> None:
    """At all corners, from a millimetre beyond the trim on, as long as the media lets them."""
    canvas.setStrokeColor(CMYKColor(1, 1, 1, 1))
    canvas.setLineWidth(0.25)
    b = plan.bleed
    for x, out_x in ((b, -1), (b + plan.width, 1)):
        for y, out_y in ((b, -1), (b + plan.height, 1)):
            canvas.line((x + out_x) * mm, y * mm, (x + b * out_x) * mm, y * mm)
            canvas.line(x * mm, (y + out_y) * mm, x * mm, (y + b * out_y) * mm)


def _words_in_the_corner(canvas: Canvas, plan: Plan, sheet: SpecSheet) -> None:
    """Beyond the margin from both edges, and so not from the corner's arc."""
    assert sheet.margin
    near = max(depth for _, depth in _depths_by_edge(sheet.margin)) + 0.3
    size = 2.5 if plan.corner < 10 else 5.0
    _words(canvas, plan, (near, near + size * 0.73 / mm), "H", size)


# --- Colours ----------------------------------------------------------------------------------------------------------


def _of_colors(sheet: SpecSheet) -> Iterator[Break]:
    asked = sheet.color
    if asked is None:
        return
    if asked.allowed and "rgb" not in asked.allowed:
        yield Break("color.allowed", "color.space", _with(rgb=True))
        yield Break("color.allowed: profiles", "color.profile", _changed(_with_a_damaged_profile))
        yield Break("color.allowed: blending", "transparency.space", _changed(_blending_in_rgb), ("color.space",))
    if asked.spots and asked.spots.maximum is not None:
        inks = [CMYKColorSep(0, 0.7, 1, 0, spotName=f"Copper {at}") for at in range(asked.spots.maximum + 1)]
        yield Break("color.spots.maximum", "color.spots", _drawing(partial(_areas, inks)))
    if asked.ink_limit_percent is not None:
        yield Break("color.ink_limit", "ink.total", _drawing(partial(_areas, [_of_total(asked.ink_limit_percent + 12)])))
    if asked.ink_preferred_percent is not None and asked.ink_preferred_percent < (asked.ink_limit_percent or 0) - 8:
        yield Break("color.ink_preferred", "ink.total", _drawing(partial(_areas, [_of_total(asked.ink_preferred_percent + 8)])))
    if asked.tint and asked.tint.minimum_percent:
        yield Break("color.tint.minimum", "ink.faint", _drawing(partial(_areas, [CMYKColor(0.01, 0, 0.02, 0)])))
    if asked.tint and asked.tint.maximum_percent:
        yield Break("color.tint.maximum", "ink.near-solid", _drawing(partial(_areas, [CMYKColor(0.99, 0, 0, 0)])))


def _of_total(percent: float) -> CMYKColor:
    return CMYKColor(*(percent / 400,) * 4)


def _areas(colors: list[Color], canvas: Canvas, plan: Plan, sheet: SpecSheet) -> None:
    """Side by side in a free place, each about 5 mm square: more than the area that may be over a limit of ink."""
    side = min(5.0, plan.height / 9)
    x, y, _, _ = free_place(plan, sheet, 1, (side * len(colors), side), first_place(plan, sheet, 1))
    for at, color in enumerate(colors):
        _area(canvas, plan, (x + at * side, y, x + at * side + side - 0.4, y + side), color)


def _with_a_damaged_profile(pdf: pikepdf.Pdf) -> None:
    profile = pdf.make_stream(b"no profile at all", N=4)
    page = pdf.pages[0]
    page.Resources.ColorSpace = page.Resources.get("/ColorSpace", pikepdf.Dictionary())
    page.Resources.ColorSpace.Odd = pikepdf.Array([pikepdf.Name.ICCBased, profile])
    x, y = (float(one) for one in (page.MediaBox[2] / 2, page.MediaBox[3] / 2))
    page.contents_add(f"q /Odd cs 0.1 0.2 0.3 0 sc {x} {y} 9 9 re f Q".encode())


def _blending_in_rgb(pdf: pikepdf.Pdf) -> None:
    page = pdf.pages[0]
    page.Group = pikepdf.Dictionary(Type=pikepdf.Name.Group, S=pikepdf.Name.Transparency, CS=pikepdf.Name.DeviceRGB)
    page.Resources.ExtGState = page.Resources.get("/ExtGState", pikepdf.Dictionary())
    page.Resources.ExtGState.Half = pikepdf.Dictionary(ca=0.5)
    x, y = (float(one) for one in (page.MediaBox[2] / 2, page.MediaBox[3] / 2))
    page.contents_add(f"q /Half gs 0.5 0 0 0 k {x} {y} 9 9 re f Q".encode())


# --- Pictures ---------------------------------------------------------------------------------------------------------


def _of_pictures(sheet: SpecSheet) -> Iterator[Break]:
    asked = sheet.images
    if asked is None:
        return
    if fine := asked.contone:
        if fine.minimum_ppi:
            yield Break("images.contone_ppi.minimum", "image.resolution", _with(ppi=fine.minimum_ppi * 0.8))
        if fine.preferred_ppi and fine.minimum_ppi and fine.preferred_ppi > fine.minimum_ppi * 1.1:
            between = (fine.preferred_ppi + fine.minimum_ppi) / 2
            yield Break("images.contone_ppi.preferred", "image.resolution", _with(ppi=between))
        if sheet.purpose == "print" or fine.maximum_ppi:
            much = max(4 * (fine.maximum_ppi or 0), 4 * (fine.preferred_ppi or 0), 1800)
            yield Break("images.contone_ppi.maximum", "image.excess", _with(ppi=much))
    if bilevel := asked.bilevel:
        if bilevel.minimum_ppi:
            yield Break(
                "images.bilevel_ppi.minimum",
                "image.resolution-bilevel",
                _drawing(partial(_line_art, bilevel.minimum_ppi * 0.8)),
            )
        if bilevel.preferred_ppi and bilevel.minimum_ppi:
            between = (bilevel.preferred_ppi + bilevel.minimum_ppi) / 2
            yield Break("images.bilevel_ppi.preferred", "image.resolution-bilevel", _drawing(partial(_line_art, between)))
    if sheet.purpose == "print" and sheet.levels.get("image.compression") != "off":
        yield Break("images: compression", "image.compression", _with(quality=8))
    if sheet.purpose == "client-preview":
        yield Break("purpose", "preview.legible", _drawing(_marks_at_1_mm, bleed=6.0))


def _line_art(ppi: float, canvas: Canvas, plan: Plan, sheet: SpecSheet) -> None:
    """Seventy pixels square: smaller ones are exempt."""
    side = 70 / ppi * 25.4
    x, y, _, _ = free_place(plan, sheet, 1, (side, side), first_place(plan, sheet, 1))
    _bits(canvas, (plan.bleed + x, plan.bleed + plan.height - y - side, side))


def _bits(canvas: Canvas, where: tuple[float, float, float]) -> None:
    """A stencil of 70 × 70 pixels of one bit, as an inline image (ISO 32000-2:2020, 8.9.7)."""
    x, y, side = (one * mm for one in where)
    row = bytes([0x00, 0x0F, 0xFF, 0xF0, 0x00, 0x00, 0x00, 0x00, 0x00])
    data = "".join(f"{one:02x}" for one in row * 70)
    canvas._code.append(f"q 0 0 0 1 k {side} 0 0 {side} {x} {y} cm BI /W 70 /H 70 /IM true /F /AHx ID {data}> EI Q")


# --- Type and lines ---------------------------------------------------------------------------------------------------


def _of_type(sheet: SpecSheet) -> Iterator[Break]:
    text, lines = sheet.text, sheet.lines
    if sheet.fonts and sheet.fonts.embedded == "required":
        yield Break("fonts.embedded", "font.embedded", _with(font="Helvetica"))
    if text and text.minimum_size_pt:
        yield Break("text.minimum_size", "text.size", _with(size=text.minimum_size_pt * 0.9))
        if sheet.levels.get("text.inks") != "off":
            yield Break("text: inks", "text.inks", _with(words_color=CMYKColor(0.3, 0.9, 0, 0)))
    if text and text.reversed_minimum_size_pt:
        size = text.reversed_minimum_size_pt * 0.9
        yield Break("text.reversed_minimum_size", "text.size", _drawing(partial(_white_words, size)))
    if text and text.rich_black_minimum_size_pt:
        rich = _with(words_color=CMYKColor(0.5, 0.4, 0.4, 1), size=text.rich_black_minimum_size_pt * 0.9, words="Bakery")
        yield Break("text.rich_black_minimum_size", "text.size", rich)
    if lines and lines.minimum_width_pt:
        yield Break("lines.minimum_width", "line.width", _drawing(partial(_line, lines.minimum_width_pt * 0.7, BLACK)))
    if lines and lines.reversed_minimum_width_pt:
        width = lines.reversed_minimum_width_pt * 0.9
        yield Break("lines.reversed_minimum_width", "line.width", _drawing(partial(_line, width, CMYKColor(0, 0, 0, 0.5))))


def _white_words(size: float, canvas: Canvas, plan: Plan, sheet: SpecSheet) -> None:
    """On a solid area."""
    width, height = pdfmetrics.stringWidth("HH", "Vera", size) / mm + 2, size / mm + 1.5
    x, y, _, _ = free_place(plan, sheet, 1, (width, height), first_place(plan, sheet, 1))
    _area(canvas, plan, (x, y, x + width, y + height), SOLID)
    _words(canvas, plan, (x + 1, y + height - 1), "HH", size, WHITE)


def _line(width: float, color: Color, canvas: Canvas, plan: Plan, sheet: SpecSheet) -> None:
    x, y, _, _ = free_place(plan, sheet, 1, (6, 2), first_place(plan, sheet, 1))
    canvas.setStrokeColor(color)
    canvas.setLineWidth(width)
    level = (plan.bleed + plan.height - y - 1) * mm
    canvas.line((plan.bleed + x) * mm, level, (plan.bleed + x + 6) * mm, level)


# --- Areas, folds, the spine, finishes --------------------------------------------------------------------------------


def _of_make_up(sheet: SpecSheet) -> Iterator[Break]:
    for area in sheet.keep_clear:
        if area.pages is None or 1 in area.pages or 2 in area.pages:
            yield Break(f"keep_clear[].box: {area.name}", "copy.keep-clear", partial(_ink_in_the_area, area))
    if sheet.folds and sheet.trim:
        yield Break("folds[].at", "margin.fold", _drawing(partial(_words_on_the_fold, sheet.folds[0])))
    if sheet.spine:
        yield Break("spine", "spine.width", lambda sheet, plan: drawn(sheet, replace(plan, width=plan.width + 4)))
        yield Break("spine.text_free", "margin.spine", _drawing(_words_at_the_fold_of_the_spine))
        if sheet.spine.page_height_mm:
            higher: Make = lambda sheet, plan: drawn(sheet, replace(plan, height=plan.height + 7))  # noqa: E731
            yield Break("spine.page_height", "spine.height", higher)
    for finish in sheet.finishes:
        if finish.required:
            yield Break("finishes[].required", "finish.plate", _with(cut_line=None))
        if finish.must_overprint:
            yield Break("finishes[].must_overprint", "finish.plate", _drawing(partial(_knocking_out, finish.ink)))
        yield Break("finishes[].ink", "finish.plate", _drawing(partial(_in_a_tint, finish.ink)))
        if finish.kind == "kiss-cut" and sheet.margin:
            yield Break("finishes[].kind: kiss-cut", "margin.outline", _drawing(_words_at_the_edge_of_a_piece))
        if finish.kind == "cut" and sheet.trim and sheet.margin:
            yield Break("finishes[].kind", "margin.outline", _drawing(_words_in_the_corner))


def _words_at_the_edge_of_a_piece(canvas: Canvas, plan: Plan, sheet: SpecSheet) -> None:
    left, top, _, bottom = pieces_on(plan, sheet, 1)[0]
    _words(canvas, plan, (left + 0.4, (top + bottom) / 2), "H", 5.0)


def _ink_in_the_area(area: KeepClearArea, sheet: SpecSheet, plan: Plan) -> bytes:
    """A word in its middle, which text and ink keep out of; on the second page where it is for that one."""
    left, top, right, bottom = area.box_mm
    on_the_second = area.pages is not None and 1 not in area.pages
    out = io.BytesIO()
    x, y = plan.bleed + (left + right) / 2, plan.bleed + plan.height - (top + bottom) / 2
    with pikepdf.open(io.BytesIO(drawn(sheet, replace(plan, pages=max(plan.pages, 2 if on_the_second else 1))))) as pdf:
        page = pdf.pages[1 if on_the_second else 0]
        fonts = dict(page.Resources.Font.items())
        name = next(key for key, font in fonts.items() if "Vera" in str(font.get("/BaseFont")))
        show = f"q 0 0 0 1 k BT {name} 9 Tf {x * mm - 9} {y * mm - 3} Td (\\001\\002\\003) Tj ET Q"
        page.contents_add(show.encode())
        pdf.save(out)
    return out.getvalue()


def _words_on_the_fold(fold: Fold, canvas: Canvas, plan: Plan, _: SpecSheet) -> None:
    at = fold_at(fold, plan, 1)
    upright = fold.axis == "vertical"
    _words(canvas, plan, (at - 3, plan.height * 0.8) if upright else (plan.width * 0.8, at + 1), "HHHH", 8)


def _words_at_the_fold_of_the_spine(canvas: Canvas, plan: Plan, sheet: SpecSheet) -> None:
    assert sheet.spine
    _words(canvas, plan, (sheet.spine.page_width_mm - 2, plan.height / 2), "HHHH", 8)


def _knocking_out(ink: str, canvas: Canvas, plan: Plan, sheet: SpecSheet) -> None:
    x, y, _, _ = free_place(plan, sheet, 1, (4, 4), first_place(plan, sheet, 1))
    canvas.setStrokeOverprint(False)
    canvas.setStrokeColor(CMYKColorSep(0, 1, 0, 0, spotName=ink))
    canvas.setLineWidth(0.5)
    canvas.rect((plan.bleed + x) * mm, (plan.bleed + plan.height - y - 4) * mm, 4 * mm, 4 * mm)


def _in_a_tint(ink: str, canvas: Canvas, plan: Plan, sheet: SpecSheet) -> None:
    x, y, _, _ = free_place(plan, sheet, 1, (4, 4), first_place(plan, sheet, 1))
    canvas.setStrokeOverprint(True)
    canvas.setStrokeColor(CMYKColorSep(0, 1, 0, 0, spotName=ink, density=0.4))
    canvas.setLineWidth(0.5)
    canvas.rect((plan.bleed + x) * mm, (plan.bleed + plan.height - y - 4) * mm, 4 * mm, 4 * mm)


# --- Strokes of the pen -----------------------------------------------------------------------------------------------


def _words(canvas: Canvas, plan: Plan, at: tuple[float, float], words: str, size: float, color: Color = BLACK) -> None:
    """Their baseline starts there, mm from the trim's top-left corner. Black overprints, as it should."""
    canvas.setFillColor(color)
    canvas.setFillOverprint(color is BLACK)
    canvas.setOverprintMask(color is BLACK)
    canvas.setFont("Vera", size)
    canvas.drawString((plan.bleed + at[0]) * mm, (plan.bleed + plan.height - at[1]) * mm, words)
    canvas.setFillOverprint(False)


def _area(canvas: Canvas, plan: Plan, box: tuple[float, float, float, float], color: Color) -> None:
    x0, y0, x1, y1 = box
    canvas.setFillColor(color)
    canvas.rect((plan.bleed + x0) * mm, (plan.bleed + plan.height - y1) * mm, (x1 - x0) * mm, (y1 - y0) * mm, stroke=0, fill=1)
