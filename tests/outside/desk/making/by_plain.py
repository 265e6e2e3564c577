"""Kinds that no program at hand writes readily: layers, die lines beside odd trims, indexed CMYK pictures, knockout groups.

Drawn operator by operator with `tests.build`.
"""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise
from math import cos, pi, sin
from pathlib import Path
from typing import Any

from pikepdf import Array, Dictionary, Name, Pdf, Stream, String

from tests.build import PageBuilder, document, page, separation
from tests.outside.desk.making.words import ADDRESS, LINES, NAME

PT = 72 / 25.4


def _layer(pdf: Pdf, name: str, *, on: bool) -> Any:
    group = pdf.make_indirect(Dictionary(Type=Name.OCG, Name=String(name)))
    shown = Dictionary(ON=Array([group] if on else []), OFF=Array([] if on else [group]))
    pdf.Root.OCProperties = Dictionary(OCGs=Array([group]), D=shown)
    return group


def _in_layer(made: PageBuilder, name: str, *content: bytes, on: bool = False) -> PageBuilder:
    made.resource("Properties", "Layer", lambda pdf: _layer(pdf, name, on=on))
    return made.raw(b"/OC /Layer BDC", *content, b"EMC")


def hidden_die_line() -> PageBuilder:
    """A label whose cutting line stands in a layer that is switched off."""
    made = page(90, 120).fill(cyan=0.05, yellow=0.2).text(NAME, 14, (12, 30))
    made.resource("ColorSpace", "Cutting", separation("Cutting"))
    return _in_layer(made, "Cut line", b"q /Cutting CS 1 SCN 0.5 w 8.5 8.5 255 340 re S Q")


def hidden_language() -> PageBuilder:
    made = page(148, 210).fill(yellow=0.1).text(NAME, 24, (12, 40)).text(LINES[0], 9, (12, 60))
    return _in_layer(made, "Second language", b"q 0 0 0 1 k BT /Vera 12 Tf 40 300 Td (Roggen, Dinkel und Gerste) Tj ET Q")


def odd_trim_with_marks() -> PageBuilder:
    """120.6 × 635.6 mm by its TrimBox; die line and crop marks stand at 124 × 640."""
    made = page(120.6, 635.6, bleed=5, slug=12).fill((-5, -5, 125.6, 640.6), cyan=0.3, yellow=0.4).text(NAME, 24, (20, 60))
    left, top, right, bottom = -1.7, -2.2, 122.3, 637.8
    for x, away_x in ((left, -1), (right, 1)):
        for y, away_y in ((top, -1), (bottom, 1)):
            made.line((x + 6 * away_x, y), (x + 11 * away_x, y), 0.25, black=1)
            made.line((x, y + 6 * away_y), (x, y + 11 * away_y), 0.25, black=1)
    corners = ((left, top), (right, top), (right, bottom), (left, bottom), (left, top))
    for start, end in pairwise(corners):
        made.line(start, end, 0.5, spot=("Cutting", 1))
    return made


def a4_and_two() -> PageBuilder:
    """214 × 301: A4 with 2 mm around, no box but the media."""
    made = page(210, 297, bleed=2).fill(cyan=0.2, magenta=0.1).text(NAME, 30, (20, 50)).text(LINES[1], 10, (20, 70))
    return made.without_trim_box().without_bleed_box()


def round_and_one() -> PageBuilder:
    """A round sticker of 60 mm as 62 × 62 mm: 60 mm and 1 mm of bleed, no box but the media."""
    made = page(60, 60, bleed=1).fill(cyan=0.6, magenta=0.2).text("Halyard", 16, (14, 32), gray=1)
    made.resource("ColorSpace", "Cutting", separation("Cutting"))
    points = [(PT * (31 + 30 * cos(at * pi / 32)), PT * (31 + 30 * sin(at * pi / 32))) for at in range(65)]
    path = b" l ".join(b"%.3f %.3f" % one for one in points).replace(b" l ", b" m ", 1)
    made.resource("ExtGState", "Over", Dictionary(OP=True, op=True, OPM=1))
    return made.raw(b"q /Over gs /Cutting CS 1 SCN 0.5 w", path, b"l S Q").without_trim_box().without_bleed_box()


def indexed_at_the_limit() -> PageBuilder:
    """An indexed CMYK picture whose darkest entry is exactly 300 %, placed at an odd scale."""
    made = page(148, 210).fill(yellow=0.1)
    table = bytes((191, 191, 128, 255, 20, 40, 60, 0, 128, 191, 191, 255, 0, 0, 0, 0))
    columns = rows = 500
    data = bytes((column * 7 // 31 + row * 5 // 23) % 4 for row in range(rows) for column in range(columns))

    def picture(pdf: Pdf) -> Any:
        space = Array([Name.Indexed, Name.DeviceCMYK, 3, String(table)])
        image = Stream(pdf, data, Type=Name.XObject, Subtype=Name.Image, Width=columns, Height=rows)
        image.BitsPerComponent, image.ColorSpace = 8, space
        return image

    made.resource("XObject", "Loaf", picture)
    return made.raw(b"q 121.37 0 0 133.91 60.3 200.7 cm /Loaf Do Q").text(NAME, 18, (12, 180))


def across_the_page() -> PageBuilder:
    """A trial program's words across the page, half clear."""
    made = page(148, 210).fill(cyan=0.1).text(NAME, 22, (12, 40)).text(LINES[2], 9, (12, 60))
    made.resource("ExtGState", "Faint", Dictionary(ca=0.3)).raw(b"/Faint gs")
    made.text("Unregistered trial version", 26, (20, 170), turn=50, black=0.5)
    return made.text("EVALUATION COPY", 30, (60, 190), turn=50, black=0.5)


def type_a_little_small() -> PageBuilder:
    made = page(148, 210).fill(yellow=0.1)
    for at, size in enumerate((4.6, 4.8, 4.95, 5.0)):
        made.text(f"{size} pt: {LINES[0]}", size, (12, 40 + 8 * at))
    made.fill((10, 90, 138, 130), cyan=1, magenta=0.6)
    for at, size in enumerate((5.6, 5.9, 6.0)):
        made.text(f"{size} pt reversed: {LINES[1]}", size, (14, 98 + 8 * at), cyan=0)
    return made


def rich_and_bronze() -> PageBuilder:
    """Small type in copper over black (bronze), in four inks, a soft shadow, hairlines of one illustration."""
    made = page(148, 210).fill((0, 0, 148, 210), yellow=0.05)
    made.text(LINES[0], 7, (12, 30), cyan=0.4, magenta=0.5, yellow=0.7, black=0.2)
    made.text(LINES[1], 7, (12, 40), cyan=0.6, magenta=0.5, yellow=0.5, black=1)
    for at in range(60):
        made.line((20 + at, 80), (20 + at, 80 + at / 2), 0.1, black=1)
    return made.text(ADDRESS[1], 10, (12, 140))


def knockout_group() -> PageBuilder:
    made = page(148, 210).fill(cyan=0.3)
    made.resource("ExtGState", "Half", Dictionary(ca=0.5, BM=Name.Multiply))

    def group(pdf: Pdf) -> Any:
        form = Stream(pdf, b"/Half gs 0 0.8 0.9 0 k 0 0 120 120 re f 0 0 0.9 0 k 60 60 120 120 re f")
        form.Type, form.Subtype, form.BBox = Name.XObject, Name.Form, Array([0, 0, 200, 200])
        form.Resources = Dictionary(ExtGState=Dictionary(Half=Dictionary(ca=0.5, BM=Name.Multiply)))
        form.Group = Dictionary(S=Name.Transparency, K=True, I=True)
        return pdf.make_indirect(form)

    return made.resource("XObject", "Group", group).raw(b"q 1 0 0 1 100 200 cm /Group Do Q").text(NAME, 18, (12, 30))


def hairline_white_edge() -> PageBuilder:
    """Artwork 0.2 mm short of the trim on one side and no bleed at all; nothing at the others."""
    return page(85, 55).fill((0.2, 10, 40, 45), cyan=0.8).text(NAME, 12, (45, 20)).text(ADDRESS[2], 6, (45, 40))


def touches_nothing() -> PageBuilder:
    """No BleedBox, no room for one, and nothing that needs it."""
    return page(85, 55, bleed=0).without_bleed_box().text(NAME, 14, (20, 25)).text(ADDRESS[1], 7, (20, 35))


def claims_pdfx() -> PageBuilder:
    return page(85, 55).fill(rgb=(0.9, 0.8, 0.5)).text(NAME, 12, (10, 20), font="Helvetica", rgb=(0, 0, 0))


def _scan(columns: int, rows: int) -> Callable[[Pdf], Any]:
    """Grey, a few lines of writing in it."""

    def picture(pdf: Pdf) -> Any:
        line, gap = bytes(60 if column % 97 > 20 else 245 for column in range(columns)), bytes([245]) * columns
        data = b"".join(line if row % (rows // 20) < 3 else gap for row in range(rows))
        image = Stream(pdf, data, Type=Name.XObject, Subtype=Name.Image, Width=columns, Height=rows)
        image.BitsPerComponent, image.ColorSpace = 8, Name.DeviceGray
        return image

    return picture


def fax() -> PageBuilder:
    """A fax of standard resolution, 204 × 98 pixels an inch, at its natural size: nothing is stretched."""
    made = page(210, 297, bleed=0).resource("XObject", "Fax", _scan(1446, 965))
    return made.raw(b"q %.3f 0 0 %.3f 42 42 cm /Fax Do Q" % (1446 / 204 * 72, 965 / 98 * 72))


def pulled() -> PageBuilder:
    """The same, pulled by one side: 204 × 150."""
    made = page(210, 297, bleed=0).resource("XObject", "Fax", _scan(1446, 965))
    return made.raw(b"q %.3f 0 0 %.3f 42 42 cm /Fax Do Q" % (1446 / 204 * 72, 965 / 150 * 72))


def flattened_black() -> PageBuilder:
    """Black type that overprinted a panel before it was flattened, and the same type on another panel."""
    merged = {"cyan": 0.28, "magenta": 0, "yellow": 0.07, "black": 1}
    made = page(148, 210).fill((10, 20, 138, 90), cyan=0.28, yellow=0.07).text(LINES[0], 9, (15, 40), **merged)
    return made.fill((10, 110, 138, 180), cyan=0.6).text(LINES[1], 9, (15, 130), **merged)


def links_with_frames() -> PageBuilder:
    """One link as programs write it without a thought, one without its frame."""

    def links(pdf: Pdf) -> Any:
        framed = Dictionary(Type=Name.Annot, Subtype=Name.Link, Rect=[60, 400, 200, 420], F=4)
        bare = Dictionary(Type=Name.Annot, Subtype=Name.Link, Rect=[60, 300, 200, 320], F=4, Border=[0, 0, 0])
        return Array([pdf.make_indirect(framed), pdf.make_indirect(bare)])

    return page(148, 210).text(NAME, 20, (12, 30)).text(ADDRESS[2], 9, (18, 70)).key("Annots", links)


def label_on_backing() -> PageBuilder:
    """A label as ordered, on a backing that is 2 mm wider all round: its cut line stands inside the trim."""
    made = page(90, 120).fill(cyan=0.2, yellow=0.5).text(NAME, 14, (12, 40))
    made.resource("ColorSpace", "Cutting", separation("Cutting"))
    made.resource("ExtGState", "Over", Dictionary(OP=True, op=True, OPM=1))
    rectangle = b"%.3f %.3f %.3f %.3f re" % tuple(PT * one for one in (5, 5, 86, 116))
    return made.raw(b"q /Over gs /Cutting CS 1 SCN 0.5 w", rectangle, b"S Q")


FILES: dict[str, tuple[Callable[[], PageBuilder], str | None]] = {
    "label-hidden-die-line": (hidden_die_line, "label-bottle-90x120"),
    "flyer-a5-hidden-language": (hidden_language, "flyer-a5"),
    "wrap-odd-trim-with-marks": (odd_trim_with_marks, None),
    "poster-a4-and-2-mm": (a4_and_two, "poster-a4"),
    "sticker-60-and-1-mm": (round_and_one, "sticker-round-60"),
    "flyer-a5-indexed-300": (indexed_at_the_limit, "flyer-a5"),
    "flyer-a5-trial-words": (across_the_page, "flyer-a5"),
    "flyer-a5-small-type": (type_a_little_small, "flyer-a5"),
    "flyer-a5-rich-and-bronze": (rich_and_bronze, "flyer-a5"),
    "flyer-a5-knockout-group": (knockout_group, "flyer-a5"),
    "card-short-artwork": (hairline_white_edge, "business-card-85x55"),
    "card-touches-nothing": (touches_nothing, "business-card-85x55"),
    "letter-fax": (fax, "flyer-a4"),
    "letter-fax-pulled": (pulled, "flyer-a4"),
    "flyer-a5-flattened-black": (flattened_black, "flyer-a5"),
    "flyer-a5-links": (links_with_frames, "flyer-a5"),
    "label-on-backing": (label_on_backing, "label-bottle-90x120"),
    "card-claims-pdfx": (claims_pdfx, "business-card-85x55"),
}


def make(folder: Path) -> dict[str, str | None]:
    for name, (draw, _) in FILES.items():
        made = document(draw())
        if name == "card-claims-pdfx":
            made.info(GTS_PDFXVersion="PDF/X-1a:2003", GTS_PDFXConformance="PDF/X-1a:2003")
        made.save(folder / f"plain-{name}.pdf")
    return {f"plain-{name}.pdf": sheet for name, (_, sheet) in FILES.items()}
