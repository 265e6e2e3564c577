"""`print-spec sheets match`: which products a PDF looks like."""

from __future__ import annotations

import argparse
import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from rich import box
from rich.table import Table

from service.answers.matches import match_answer, size_answers
from service.cli.arguments import add_file, add_region
from service.cli.files import workbench_for
from service.cli.refused import Refused
from service.cli.sheets.catalogue_file import catalogue_from_file
from service.cli.telling import Words, console
from service.language import wording
from service.language.first_words import begun_after_colon
from service.language.spoken import say, say_many, translated
from service.language.wording import reason
from service.pdf.facts.unknown import Unmeasured
from service.sheets.catalogue import select, stored_sheets
from service.sheets.matching import rank
from service.sheets.model import SpecSheet
from service.sheets.searching import found

FITS_NONE = 1
_MOST_SHOWN = 10
_MOST_NEAREST = 3


def declare(command: argparse.ArgumentParser) -> None:
    add_file(command)
    add_region(command)
    command.add_argument("--catalogue", type=Path, metavar="FILE", help="only the sheets of this catalogue (YAML or JSON)")
    command.add_argument("--json", action="store_true", help="as JSON")
    command.set_defaults(run=run)


def run(given: argparse.Namespace) -> int:
    """0 where the file fits a stored sheet, 1 where it fits none. Raises `Refused` where it cannot be read."""
    with workbench_for(given.file) as (workbench, path):
        measurements = workbench.sizes(path)
    pages = measurements.pages
    if isinstance(pages, Unmeasured):
        raise Refused(say("{file} cannot be measured: {reason}", file=str(given.file), reason=begun_after_colon(reason(pages))))
    ranked = rank(measurements, _sheets(given))
    fitting = [one for one in ranked if one.fits]
    short = {one.sheet.id: {"id": one.sheet.id, "title": translated(one.sheet.title)} for one in ranked}
    answer = {
        "page_count": len(pages),
        "sizes": size_answers(pages),
        "matches": [match_answer(one, short) for one in fitting[:_MOST_SHOWN]],
        "nearest": [] if fitting else [match_answer(one, short) for one in ranked[:_MOST_NEAREST]],
    }
    print(json.dumps(answer, ensure_ascii=False)) if given.json else _show(answer)
    return 0 if fitting else FITS_NONE


def _sheets(given: argparse.Namespace) -> Iterator[SpecSheet]:
    """Raises `Refused`."""
    if given.catalogue is None:
        yield from (stored_sheets()[one["id"]] for one in select(region=given.region))
        return
    from service.sheets.format.validation import read_sheet

    sheets = catalogue_from_file(given.catalogue).sheets
    yield from (read_sheet(one) for one in found((one.complete for one in sheets), region=given.region))


def _show(answer: dict[str, Any]) -> None:
    screen = console()
    for size in answer["sizes"]:
        count = size["page_count"]
        told = wording.size(size["width_mm"], size["height_mm"])
        screen.print(Words(say_many("{count} page of {size}", "{count} pages of {size}", count, size=told)))
    table = Table(show_edge=False, pad_edge=False, box=box.SIMPLE_HEAD)
    for heading in (say("Id"), say("Title"), say("Speaks for it"), say("Speaks against it")):
        table.add_column(heading, overflow="fold")
    if not answer["matches"]:
        screen.print(say("No stored sheet fits. The nearest:"))
    for one in answer["matches"] or answer["nearest"]:
        reasons = [" ".join(reason["says"] for reason in one[side]) for side in ("fits", "against")]
        table.add_row(*(Words(text or "") for text in (one["spec"]["id"], one["spec"]["title"], *reasons)))
    screen.print(table)
