"""`print-spec sheets list`."""

from __future__ import annotations

import argparse

from rich import box
from rich.table import Table

from service.cli.arguments import add_region
from service.cli.refused import Refused
from service.cli.telling import Words, console
from service.language.spoken import say, translated
from service.sheets.catalogue import select
from service.sheets.searching import Sizes, sizes_meant


def declare(command: argparse.ArgumentParser) -> None:
    command.add_argument("--product", help="only this product, for example business-card")
    add_region(command)
    add_trim(command)
    command.set_defaults(run=run)


def add_trim(command: argparse.ArgumentParser) -> None:
    command.add_argument("--trim", metavar="SIZE", help="only of this trimmed size, for example 85x55, '3.5 x 2 in' or A5")


def trim_meant(text: str | None) -> Sizes | None:
    """Raises `Refused`."""
    meant = sizes_meant(text) if text else None
    if text and meant is None:
        says = say("This is no size: write width and height, such as {example}, in any order and unit.", example="85x55")
        raise Refused(f"--trim {text}: {says}")
    return meant


def run(given: argparse.Namespace) -> int:
    table = Table(show_edge=False, pad_edge=False, box=box.SIMPLE_HEAD)
    for heading in (say("Id"), say("Title"), say("Product"), say("Regions")):
        table.add_column(heading, overflow="fold", no_wrap=heading == say("Id"))
    for sheet in select(given.product, given.region, trim=trim_meant(given.trim)):
        told = (sheet["id"], translated(sheet["title"]), sheet["product"], ", ".join(sheet.get("regions", ())))
        table.add_row(*map(Words, told))
    console().print(table)
    return 0
