"""Which sheet a file of the desk is judged by: the one that its folder names, the stored one that fits, else a general one.

`sheets.csv` in the folder (columns `file`, `sheet`) names the product that a file was made for.
"""

from __future__ import annotations

import csv
from functools import cache
from pathlib import Path
from typing import Any, cast

from service.pdf.facts.geometry import Box
from service.pdf.facts.measurements import Measurements
from service.pdf.facts.unknown import Unmeasured
from service.pdf.question import Question
from service.pdf.sizes import measure_sizes
from service.sheets.catalogue import find, laid_over_its_base, stored_sheets
from service.sheets.format.validation import read_sheet
from service.sheets.matching import rank
from service.sheets.model import SpecSheet

HINTS = "sheets.csv"
LARGE_MM = 350.0
"""A page longer than this is taken for a poster, where no stored sheet fits."""


def named_in_folder(folder: Path) -> dict[str, str]:
    """File → sheet."""
    hints = folder / HINTS
    if not hints.is_file():
        return {}
    with hints.open(encoding="utf-8", newline="") as rows:
        return {row["file"]: row["sheet"] for row in csv.DictReader(rows)}


def sheet_for(path: Path, named: str | None) -> SpecSheet:
    """Raises KeyError for a name that is no stored sheet."""
    if named is not None:
        sheet = find(named)
        if sheet is None:
            raise KeyError(f"there is no stored sheet {named!r}")
        return sheet
    measured = measure_sizes(path, Question(), lambda *_: None)
    for match in rank(measured, (one for one in stored_sheets().values() if one.purpose == "print")):
        return match.sheet if match.fits else general_sheet(_family(measured))
    return general_sheet("flat-print")


def _family(measured: Measurements) -> str:
    if isinstance(measured.pages, Unmeasured) or not measured.pages:
        return "flat-print"
    if len(measured.pages) > 2:
        return "offset-process-print"
    box: Box = measured.pages[0].boxes_mm.trim
    return "poster" if max(box.width, box.height) > LARGE_MM else "flat-print"


@cache
def general_sheet(family: str) -> SpecSheet:
    """The family's demands without a size or a count of pages."""
    document = {"extends": family, "title": f"Any size ({family})", "pages": None}
    complete = cast(dict[str, Any], laid_over_its_base(document))
    return read_sheet(complete, stored=False)
