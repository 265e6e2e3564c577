"""`print-spec sheets show`."""

from __future__ import annotations

import argparse

from service.cli.refused import told
from service.cli.sheets.named import no_such_sheet
from service.language.spoken import spoken
from service.sheets.catalogue import find
from service.sheets.format.writing import sheet_to_document, sheet_to_yaml
from service.sheets.prose.ours.lines import lines_of

NONE = 1


def declare(command: argparse.ArgumentParser) -> None:
    command.add_argument("id")
    command.add_argument("--prose", action="store_true", help="a line of prose for each demand, to paste into a page")
    command.set_defaults(run=run)


def run(given: argparse.Namespace) -> int:
    """0 where there is such a sheet, 1 where there is none."""
    sheet = find(given.id)
    if sheet is None:
        told(no_such_sheet(given.id))
        return NONE
    if given.prose:
        print("\n".join(lines_of(sheet_to_document(sheet), spoken())))
    else:
        print(sheet_to_yaml(sheet), end="")
    return 0
