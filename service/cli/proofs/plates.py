"""`print-spec plates`: the ink plates of one page as pictures in a folder."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import TypeVar

from rich import box
from rich.table import Table
from rich.text import Text

from service.cli.files import NotRead, asking_about, refused
from service.cli.telling import console
from service.jobs.asking import Asking
from service.jobs.children.drawing_child import DrawingTask
from service.pdf.facts.ink_names import PROCESS_INKS
from service.pdf.facts.measurements import Page, Unmeasured
from service.proofs.plates.brief import LIST, PLATE, PlatesArea, PlatesAsked, PlatesTold, asked_of, grey_png, told_from_json

T = TypeVar("T")


def write_plates(file: Path, page: int, folder: Path, *, ppi: int, area: PlatesArea) -> int:
    """0 where the plates were written, 2 where they cannot be had; the reason goes to stderr."""
    try:
        with asking_about(file) as (asking, path):
            asked = _known(asked_of(_page(asking, path, page), area, ppi))
            told = told_from_json(_known(asking.drawn(DrawingTask(pdf=path, asked=asked, draw=LIST))), asked.inks)
            folder.mkdir(parents=True, exist_ok=True)
            names = _file_names(asked)
            for ink, name in names.items():
                drawn = _known(asking.drawn(DrawingTask(pdf=path, asked=asked.of(ink), draw=PLATE)))
                (folder / name).write_bytes(grey_png(drawn))
    except NotRead as error:
        return refused(str(error))
    except ValueError:  # what came back from the sandbox is nothing that ours draws
        return refused(f"{file} disturbs the drawing process; its answer cannot be trusted.")
    _show(told, names, folder)
    return 0


def _page(asking: Asking, path: Path, number: int) -> Page:
    pages = _known(asking.everything(path).pages)
    if not 1 <= number <= len(pages):
        raise NotRead(f"{path.name} has {len(pages)} page{'s' * (len(pages) != 1)}, and no page {number}.")
    return pages[number - 1]


def _known(value: T | Unmeasured) -> T:
    if isinstance(value, Unmeasured):
        raise NotRead(value.why)
    return value


def _file_names(asked: PlatesAsked) -> dict[str | None, str]:
    """The name of each ink's file, and under None that of the map of total ink; no two are alike, even without case."""
    taken: set[str] = set()

    def free(stem: str) -> str:
        plain = re.sub(r"[^\w.()-]+", "-", stem)[:80]
        name = next(one for one in _tries(plain) if one.casefold() not in taken)
        taken.add(name.casefold())
        return f"page-{asked.page}-{name}.png"

    return {None: free("total-ink"), **{ink: free(ink) for ink in asked.inks}}


def _tries(stem: str) -> Iterator[str]:
    yield stem
    number = 2
    while True:
        yield f"{stem}-{number}"
        number += 1


def _show(told: PlatesTold, names: dict[str | None, str], folder: Path) -> None:
    table = Table(show_edge=False, pad_edge=False, box=box.SIMPLE_HEAD)
    for heading in ("Ink", "Kind", "Covers the trimmed page", "Plate"):
        table.add_column(heading, overflow="fold")
    for ink, percent in told.coverage_percent.items():
        kind = "process" if ink in PROCESS_INKS else "spot"
        table.add_row(Text(ink), kind, f"{percent:.1f} %", Text(str(folder / names[ink])))
    table.add_row("all together", "", f"at most {told.highest_percent:.0f} % at one pixel", Text(str(folder / names[None])))
    screen = console()
    screen.print(table)
    screen.print("White is no ink; black is full tint, in the map of all together 400 %.")
    if told.conversion:
        screen.print(Text(f"RGB and Lab colours were converted {told.conversion}."))
