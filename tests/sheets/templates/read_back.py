"""Every stored sheet's own empty document, read back: `python -m tests.sheets.templates.read_back`."""

from __future__ import annotations

import sys
import tempfile
from collections.abc import Iterable, Iterator
from pathlib import Path

from service.pdf.facts.guides import GuidedPages
from service.pdf.facts.unknown import Unmeasured
from service.pdf.guided import look_at_guides
from service.product.flat_pages import FlatPage
from service.proofs.template.pages import template_pages
from service.proofs.template.pdf import template_pdf
from service.sheets import catalogue
from service.sheets.model import SpecSheet
from service.sheets.order import for_order
from service.sheets.templates.reading import read_template
from service.sheets.templates.told import TemplateReading, neat

ORDER = {"inner_pages": 96, "caliper_mm": 0.11}


def readings(folder: Path, sheet_ids: Iterable[str]) -> Iterator[tuple[str, FlatPage, TemplateReading]]:
    """Of each sheet that gives an empty document; a cover as wide as an order makes it."""
    for sheet_id in sheet_ids:
        sheet = catalogue.find(sheet_id)
        assert sheet is not None, sheet_id
        pages = template_pages(_ordered(sheet))
        if isinstance(pages, Unmeasured):
            continue
        path = folder / f"{sheet_id}.pdf"
        path.write_bytes(template_pdf(pages, sheet_id))
        seen = look_at_guides(path)
        path.unlink()
        assert isinstance(seen, GuidedPages), sheet_id
        yield sheet_id, pages[0], read_template(seen)


def _ordered(sheet: SpecSheet) -> SpecSheet:
    return for_order(sheet, ORDER) if sheet.spine else sheet


def differences(page: FlatPage, reading: TemplateReading) -> list[str]:
    """What was read otherwise than the page was drawn."""
    asked: dict[str, object] = {"/trim/width": neat(page.trim_mm.width), "/trim/height": neat(page.trim_mm.height)}
    asked |= {"/bleed/minimum": neat(page.bleed_mm)} if page.bleed_mm else {}
    asked |= {"/margin/minimum": neat(page.margin_mm)} if page.margin_mm else {}
    lines = sorted((fold.line_mm for fold in page.folds), key=lambda line: (line.width > line.height, line.x0, line.y0))
    folds = [
        {"at": neat(line.y0), "axis": "horizontal"} if line.width > line.height else {"at": neat(line.x0), "axis": "vertical"}
        for line in lines
    ]
    asked |= {"/folds": folds} if folds else {}
    read = {one.pointer: one.value for one in reading.values}
    unlike = [key for key in sorted({*asked, *read}) if asked.get(key) != read.get(key)]
    return [f"{key}: drawn {asked.get(key)}, read {read.get(key)}" for key in unlike]


def main() -> int:
    wrong, count = 0, 0
    with tempfile.TemporaryDirectory() as folder:
        for sheet_id, page, reading in readings(Path(folder), catalogue.sheet_ids()):
            count += 1
            for one in differences(page, reading):
                wrong += 1
                print(f"{sheet_id}: {one}")
            for question in reading.questions:
                print(f"  {sheet_id}: {question.about}: {question.question} ({question.source})") if "-v" in sys.argv else None
    print(f"{count} of {len(catalogue.sheet_ids())} sheets give an empty document; {wrong} values were read otherwise")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
