"""Fonts against poppler's pdffonts: type, embedded, subset, for each font object that it lists."""

from __future__ import annotations

import io
import re
from collections.abc import Callable
from pathlib import Path

import pikepdf
import pytest

from service.pdf.content.fonts.font_facts import describe_font
from tests.build import document, page
from tests.outside import producers
from tests.outside_tools import tool

LINE = re.compile(r"^(?P<name>.*?) +(?P<type>(?:CID )?(?:Type|True)\S*(?: \dC?)?(?: \(OT\))?) +\S+ +(?P<emb>yes|no) +(?P<sub>yes|no) +\S+ +(?P<id>\d+) +(?P<gen>\d+)$")  # noqa: E501
TYPES = {
    "Type 1": "Type1",
    "Type 1C": "Type1",
    "Type 3": "Type3",
    "TrueType": "TrueType",
    "CID Type 0": "CIDFontType0",
    "CID Type 0C": "CIDFontType0",
    "CID TrueType": "CIDFontType2",
}


def built() -> bytes:
    """An embedded TrueType font, two of the standard 14, and a Type 3 font."""
    procedures = pikepdf.Dictionary(FontType=3)
    made = page(85, 55).text("Open", size=8, at=(10, 10)).text("daily", size=8, at=(10, 20), font="Courier")
    made.text("from six", size=8, at=(10, 30), font="Helvetica")
    drawn = pikepdf.Dictionary(
        Type=pikepdf.Name.Font,
        Subtype=pikepdf.Name.Type3,
        FontBBox=[0, 0, 10, 10],
        FontMatrix=[0.1, 0, 0, 0.1, 0, 0],
        CharProcs=procedures,
        Encoding=pikepdf.Dictionary(Differences=[]),
        FirstChar=0,
        LastChar=0,
        Widths=[10],
    )
    made.resource("Font", "Drawn", lambda pdf: pdf.make_indirect(drawn))
    return document(made).bytes()


FILES: dict[str, tuple[Callable[[], bytes], int]] = {
    "reportlab": (producers.by_reportlab, 2),
    "weasyprint": (lambda: producers.by_weasyprint(3), 1),
    "typst": (producers.by_typst, 1),
    "cairo": (producers.by_cairo, 1),
    "built": (built, 4),
}


@pytest.mark.parametrize("producer", FILES)
def test_fonts_agree_with_pdffonts(producer: str, tmp_path: Path) -> None:
    make, least = FILES[producer]
    path = tmp_path / "file.pdf"
    with pikepdf.open(io.BytesIO(make())) as pdf:
        for one in pdf.pages:
            fonts = one.obj.get("/Resources", {}).get("/Font", {})
            for key in list(fonts.keys()):  # pdffonts names only objects of their own
                fonts[key] = pdf.make_indirect(fonts[key])
        pdf.save(path)
    lines = tool("pdffonts")(path).splitlines()[2:]
    assert len(lines) >= least
    with pikepdf.open(path) as pdf:
        for line in lines:
            theirs = LINE.match(line)
            assert theirs, line
            ours = describe_font(pdf.get_object((int(theirs["id"]), int(theirs["gen"]))))
            assert ours.type == TYPES[theirs["type"].removesuffix(" (OT)")]
            assert ("no", "yes")[ours.embedded] == theirs["emb"]
            assert ("no", "yes")[ours.subset] == theirs["sub"]
            assert ours.type == "Type3" or ours.name in theirs["name"]
