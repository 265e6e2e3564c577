"""A report as PDF against poppler: its text, its typefaces and its structure, as a reader that is not ours finds them."""

from __future__ import annotations

from pathlib import Path

from tests.build import document, page
from tests.outside_tools import tool
from tests.proofs.made_report import as_pdf, picture, report

SHEET = "trim: {width: 85 mm, height: 55 mm}\nbleed: {minimum: 3 mm, note: Größe und dépassement bitte.}\n"


def test_poppler_reads_the_same_words_and_finds_every_typeface_in_the_file(tmp_path: Path) -> None:
    made = report(document(page(85, 55, bleed=0).fill(cyan=1)).bytes(), SHEET, tmp_path, pictures={1: picture()})
    path = tmp_path / "report.pdf"
    path.write_bytes(as_pdf(made))
    read = " ".join(tool("pdftotext")("-layout", path, "-").split())
    finding = made.findings[0].findings[0]
    for words in (made.headline, finding.message, "Größe und dépassement bitte.", "at least 3 mm"):
        assert words in read
    fonts = tool("pdffonts")(path).splitlines()[2:]
    assert fonts
    assert all(" yes yes yes " in line for line in fonts)  # in the file, as a subset, with the letters that it stands for
    facts = tool("pdfinfo")(path)
    assert "Title:           card.pdf: report of a check" in facts
    assert "A4" in facts
    structure = tool("pdfinfo")("-struct", path)
    assert "H1" in structure
    assert "Figure" in structure
    assert "Table" in structure
