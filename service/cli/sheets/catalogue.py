"""`print-spec sheets catalogue`: a printer's catalogue in a file, looked over and listed."""

from __future__ import annotations

import argparse
from pathlib import Path

from rich import box
from rich.table import Table

from service.cli.refused import Refused, told
from service.cli.sheets.catalogue_file import catalogue_from_file
from service.cli.sheets.list import add_trim, trim_meant
from service.cli.telling import Words, console
from service.language.spoken import say, translated
from service.sheets.searching import found

INVALID = 1


def declare(command: argparse.ArgumentParser) -> None:
    command.add_argument("file", type=Path, help="a catalogue (YAML or JSON), as POST /v1/catalogues takes it")
    command.add_argument("--product", help="only this product, for example business-card")
    add_trim(command)
    command.set_defaults(run=run)


def run(given: argparse.Namespace) -> int:
    """0 where the catalogue is valid, 1 where it is not."""
    trim = trim_meant(given.trim)
    try:
        catalogue = catalogue_from_file(given.file)
    except Refused as refused:
        told(refused)
        return INVALID
    table = Table(show_edge=False, pad_edge=False, box=box.SIMPLE_HEAD)
    for heading in (say("Id"), say("Title"), say("Product")):
        table.add_column(heading, overflow="fold", no_wrap=heading == say("Id"))
    for sheet in found((one.complete for one in catalogue.sheets), product=given.product, trim=trim):
        table.add_row(*map(Words, (sheet["id"], translated(sheet["title"]), sheet["product"])))
    console().print(table)
    return 0
