"""`print-spec plates`: the ink plates of one page as pictures in a folder."""

from __future__ import annotations

import argparse
import re
from collections.abc import Iterator
from pathlib import Path
from typing import TypeVar

from rich import box
from rich.table import Table
from rich.text import Text

from service.cli.arguments import add_choice, add_file, add_out, add_whole_number, from_1, wishes_of
from service.cli.files import disturbed, workbench_for
from service.cli.refused import Refused
from service.cli.telling import Words, console
from service.jobs.children.tasks import DrawingTask
from service.jobs.workbench import Workbench
from service.language.spoken import say, say_about, say_many
from service.language.wording import ink_named, number, reason, with_unit
from service.pdf.facts.ink_names import PROCESS_INKS
from service.pdf.facts.page import Page
from service.pdf.facts.unknown import Unmeasured
from service.proofs.plates.brief import LIST, PLATE, PlatesBrief, PlatesTold, grey_png, plates_brief, told_from_json
from service.proofs.plates.wishes import PageBox, PlatesWishes
from service.proofs.wishes import PAGE_PPI

T = TypeVar("T")


def declare(command: argparse.ArgumentParser) -> None:
    command.description = (
        "Writes one grey PNG for each ink of a page, and a map of total ink. Exit code: 0 written, 2 cannot be made."
    )
    add_file(command)
    command.add_argument("--page", type=from_1, default=1, help="which page, from 1 (default: 1)")
    add_out(command, "where the pictures go", metavar="FOLDER")
    add_whole_number(command, "--ppi", PAGE_PPI, "pixels an inch")
    add_choice(command, "--area", PageBox, "how much of the page", usual=PlatesWishes.area)
    command.set_defaults(run=run)


def run(given: argparse.Namespace) -> int:
    """0 where the plates were written. Raises `Refused` where they cannot be had."""
    try:
        with workbench_for(given.file) as (workbench, path):
            brief = _known(plates_brief(_page(workbench, path, given.page), wishes_of(PlatesWishes, given)))
            told = told_from_json(_known(workbench.drawn(DrawingTask(pdf=path, brief=brief, draw=LIST))), brief.inks)
            given.out.mkdir(parents=True, exist_ok=True)
            names = _file_names(brief)
            for ink, name in names.items():
                drawn = _known(workbench.drawn(DrawingTask(pdf=path, brief=brief.of(ink), draw=PLATE)))
                (given.out / name).write_bytes(grey_png(drawn))
    except ValueError as error:  # what came back from the sandbox is nothing that ours draws
        raise disturbed(given.file) from error
    _show(told, names, given.out)
    return 0


def _page(workbench: Workbench, path: Path, number: int) -> Page:
    pages = _known(workbench.everything(path).pages)
    if not 1 <= number <= len(pages):
        raise Refused(
            say_many(
                "{file} has {count} page, and no page {page}.", "{file} has {count} pages, and no page {page}.", len(pages),
                file=path.name, page=number,
            )
        )
    return pages[number - 1]


def _known(value: T | Unmeasured) -> T:
    if isinstance(value, Unmeasured):
        raise Refused(reason(value))
    return value


def _file_names(brief: PlatesBrief) -> dict[str | None, str]:
    """The name of each ink's file, and under None that of the map of total ink; no two are alike, even without case."""
    taken: set[str] = set()

    def free(stem: str) -> str:
        plain = re.sub(r"[^\w.()-]+", "-", stem)[:80]
        name = next(one for one in _tries(plain) if one.casefold() not in taken)
        taken.add(name.casefold())
        return f"page-{brief.page}-{name}.png"

    return {None: free("total-ink"), **{ink: free(ink) for ink in brief.inks}}


def _tries(stem: str) -> Iterator[str]:
    yield stem
    number = 2
    while True:
        yield f"{stem}-{number}"
        number += 1


def _show(told: PlatesTold, names: dict[str | None, str], folder: Path) -> None:
    table = Table(show_edge=False, pad_edge=False, box=box.SIMPLE_HEAD)
    for heading in (say("Ink"), say_about("ink", "Kind"), say("Covers the trimmed page"), say("Plate")):
        table.add_column(heading, overflow="fold")
    for ink, percent in told.coverage_percent.items():
        kind = say_about("ink", "process") if ink in PROCESS_INKS else say_about("ink", "spot")
        table.add_row(Text(ink_named(ink)), kind, with_unit(number(percent), "%"), Text(str(folder / names[ink])))
    most = say("at most {percent} % at one pixel", percent=number(told.highest_percent, 0))
    table.add_row(say("all together"), "", most, Text(str(folder / names[None])))
    screen = console()
    screen.print(table)
    screen.print(Words(say("White is no ink; black is full tint, in the map of all together 400 %.")))
    if told.conversion:
        screen.print(Words(say("RGB and Lab colours were converted {how}.", how=told.conversion)))
