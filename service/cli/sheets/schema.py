"""`print-spec sheets schema`."""

from __future__ import annotations

import argparse
import json

from service.rules.catalogue import RULES
from service.sheets.format.json_schema import sheet_schema


def declare(command: argparse.ArgumentParser) -> None:
    command.add_argument("--stored", action="store_true", help="of a sheet that is to be kept, which needs its identity")
    command.set_defaults(run=run)


def run(given: argparse.Namespace) -> int:
    print(json.dumps(sheet_schema(stored=given.stored, known_rules=RULES), indent=2, ensure_ascii=False))
    return 0
