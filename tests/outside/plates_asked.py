"""The findings on a folder's PDFs with the plates of all pages beside those with the plates that are asked for:

    python -m tests.outside.plates_asked FOLDER

Prints each rule that comes out otherwise, and each page without plates of which its plates say what its colours did not.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

from service.jobs.question import question_for
from service.pdf.facts.measurements import Measurements
from service.pdf.facts.page import Page
from service.pdf.facts.plates import most_within_percent
from service.pdf.facts.unknown import NotAsked, Unmeasured
from service.pdf.measure import measure
from service.rules.judge import judge
from service.sheets.catalogue import find
from service.sheets.model import SpecSheet

LIMITS = (100.0, 300.0)


def main(folder: Path) -> int:
    pages = plain = told = 0
    for path in sorted(folder.rglob("*.pdf")):
        full: Measurements | None = None
        for limit in LIMITS:
            sheet = _sheet(limit)
            question = question_for(sheet)
            full = full or measure(path, replace(question, where_ink_lies=True, ink_limits_percent=LIMITS))
            some = measure(path, question)
            for line in _otherwise(full, some, sheet):
                told += 1
                print(f"{path.name}, limit {limit:g} %: {line}")
        if isinstance(some.pages, tuple):
            pages += len(some.pages)
            plain += sum(isinstance(page.plates, NotAsked) for page in some.pages)
    print(f"{pages} pages, {plain} without plates, {told} differences")
    return 1 if told else 0


def _sheet(limit: float) -> SpecSheet:
    flyer = find("flyer-a4")
    assert flyer is not None
    assert flyer.color is not None
    return replace(flyer, color=replace(flyer.color, ink_limit_percent=limit, ink_preferred_percent=None))


def _otherwise(full: Measurements, some: Measurements, sheet: SpecSheet) -> Iterator[str]:
    before, after = judge(full, sheet), judge(some, sheet)
    for one, other in zip(before.rules, after.rules, strict=True):
        if one != other:
            yield f"{one.rule} {one.outcome}, without plates {other.outcome}"
    if before.findings != after.findings:
        yield "other findings"
    if isinstance(full.pages, tuple) and isinstance(some.pages, tuple):
        for page, unseparated in zip(full.pages, some.pages, strict=True):
            if isinstance(unseparated.plates, NotAsked) and (what := _not_told(page, unseparated)):
                yield f"page {page.number}: {what}"


def _not_told(page: Page, unseparated: Page) -> str:
    plates, content = page.plates, unseparated.content
    if isinstance(plates, Unmeasured) or isinstance(content, Unmeasured) or content.plain_ink_percent is None:
        return "its plates cannot be made"
    if len(plates.ink_area_mm2) - 1 > most_within_percent(content.plain_ink_percent, len(plates.inks)):
        return "more ink than its colours allow for"
    if plates.blank or page.bleed_reach_mm != unseparated.bleed_reach_mm:
        return "no ink on it, or some at its edge"
    return ""


if __name__ == "__main__":
    sys.exit(main(Path(sys.argv[1])))
