"""`print-spec sheets list`."""

from __future__ import annotations

import argparse

from rich import box
from rich.table import Table

from service.cli.arguments import add_region
from service.cli.telling import Words, console
from service.language.spoken import say, translated
from service.sheets.catalogue import select


def declare(command: argparse.ArgumentParser) -> None:
    command.add_argument("--product", help="only this product, for example business-card")
    add_region(command)
    command.set_defaults(run=run)


def run(given: argparse.Namespace) -> int:
    table = Table(show_edge=False, pad_edge=False, box=box.SIMPLE_HEAD)
    for heading in (say("Id"), say("Title"), say("Product"), say("Regions")):
        table.add_column(heading, overflow="fold", no_wrap=heading == say("Id"))
    for sheet in select(product=given.product, region=given.region):
        told = (sheet["id"], translated(sheet["title"]), sheet["product"], ", ".join(sheet.get("regions", ())))
        table.add_row(*map(Words, told))
    console().print(table)
    return 0
