"""typst: a MediaBox only, so bleed is room around the page; CMYK where it is said."""

from __future__ import annotations

from pathlib import Path

import typst

from tests.outside.desk.making.words import ADDRESS, BODY, LINES, NAME, picture_jpeg

_CARD = f"""#set page(width: 91mm, height: 61mm, margin: 0mm, fill: cmyk(2%, 6%, 20%, 0%))
#set text(fill: cmyk(0%, 0%, 0%, 100%), font: "DejaVu Sans")
#place(dx: 11mm, dy: 14mm, text(15pt)[{NAME}])
#place(dx: 11mm, dy: 40mm, text(7pt)[{ADDRESS[1]}])
#pagebreak()
#place(dx: 11mm, dy: 26mm, text(22pt, font: "Z003", fill: cmyk(20%, 60%, 90%, 25%))[Freshly baked])
"""
_EDGES = f"""#set page(width: 148mm, height: 210mm, margin: 0mm)
#set text(fill: cmyk(0%, 0%, 0%, 100%))
#place(top + left, dx: 4mm, dy: 3.4mm, text(40pt, font: "Z003")[Harvest])
#place(bottom + left, dx: 4mm, dy: -3.4mm, text(40pt, font: "Z003", bottom-edge: "bounds")[fully jolly])
#place(top + right, dx: -3.4mm, dy: 40mm, text(16pt, font: "URW Gothic")[to the edge])
#place(bottom + right, dx: -3.4mm, dy: -3.4mm, text(24pt, font: "C059", bottom-edge: "baseline")[MILL])
#place(bottom + right, dx: -1mm, dy: -30mm, text(8pt, font: "P052")[too near])
#place(center + horizon, text(6pt)[{LINES[0]}#super[2] and H#sub[2]O])
"""
_LETTERHEAD = f"""#set page(width: 210mm, height: 297mm, margin: 20mm)
#set text(font: "Nimbus Sans", 10pt, fill: cmyk(0%, 0%, 0%, 100%))
#text(18pt, font: "URW Gothic")[{NAME}]
#line(length: 100%, stroke: 0.3pt + cmyk(85%, 40%, 30%, 10%))
{BODY}
"""
_BOOKLET = (
    f"""#set page(width: 148mm, height: 210mm, margin: 15mm, numbering: "1")
#set text(font: "C059", 9.5pt)
= {NAME}
"""
    + f"#for n in range(7) [ #pagebreak() == Chapter #(n + 1)\n {BODY} {BODY} ]"
)
_POSTER = """#set page(width: 303mm, height: 426mm, margin: 0mm)
#place(rect(width: 100%, height: 100%, fill: gradient.linear(rgb("#f8ecd0"), rgb("#1f5f80"), angle: 90deg)))
#place(dx: 43mm, dy: 150mm, image("photo.jpg", width: 217mm))
#place(dx: 43mm, dy: 60mm, text(110pt, font: "Z003", fill: rgb("#8a4a1e"))[Bread fair])
#place(dx: 43mm, dy: 300mm, text(30pt, fill: rgb("#ffffffcc"))[Saturday, ten till four])
"""
SOURCES = {
    "card": (_CARD, "business-card-85x55"),
    "flyer-a5-edges": (_EDGES, "flyer-a5"),
    "letterhead": (_LETTERHEAD, "letterhead-a4"),
    "booklet-a5": (_BOOKLET, "booklet-a5-stapled"),
    "poster-a3": (_POSTER, "poster-a3"),
}


def make(folder: Path) -> dict[str, str]:
    photo = folder / "photo.jpg"
    photo.write_bytes(picture_jpeg(1200, 800, in_cmyk=False))
    for name, (source, _) in SOURCES.items():
        written = folder / "source.typ"
        written.write_text("#set document(date: none)\n" + source, "utf-8")
        typst.compile(written, output=folder / f"typst-{name}.pdf", root=folder)
        written.unlink()
    photo.unlink()
    return {f"typst-{name}.pdf": sheet for name, (_, sheet) in SOURCES.items()}
