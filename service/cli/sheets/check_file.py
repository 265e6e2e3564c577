"""`print-spec sheets check-file`: says each mistake with its place."""

from __future__ import annotations

import argparse
from pathlib import Path

from service.cli.refused import Refused, told
from service.cli.sheets.named import sheet_from_file
from service.language.spoken import say

INVALID = 1


def declare(command: argparse.ArgumentParser) -> None:
    command.add_argument("file", type=Path)
    command.set_defaults(run=run)


def run(given: argparse.Namespace) -> int:
    """0 where the sheet is valid, 1 where it is not."""
    try:
        sheet_from_file(given.file)
    except Refused as refused:
        told(refused)
        return INVALID
    print(say("{file} is a valid sheet.", file=str(given.file)))
    return 0
