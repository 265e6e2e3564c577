"""WeasyPrint: RGB, CSS bleed and crop marks."""

from __future__ import annotations

from pathlib import Path

import weasyprint

from tests.outside.desk.making import pages_in_html as pages

BLED = "bleed:3mm;marks:crop"


def make(folder: Path) -> dict[str, str]:
    sources = {
        "card": (pages.card(BLED), "business-card-85x55"),
        "card-no-bleed": (pages.card(), "business-card-85x55"),
        "flyer-a5": (pages.flyer(BLED, reach=3), "flyer-a5"),
        "letterhead": (pages.letterhead(), "letterhead-a4"),
        "booklet-a5": (pages.booklet(BLED), "booklet-a5-stapled"),
        "flyer-a4-effects": (pages.sale(), "flyer-a4"),
    }
    for name, (html, _) in sources.items():
        weasyprint.HTML(string=html).write_pdf(folder / f"weasyprint-{name}.pdf")
    return {f"weasyprint-{name}.pdf": sheet for name, (_, sheet) in sources.items()}
