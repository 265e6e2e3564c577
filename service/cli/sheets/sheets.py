"""`print-spec sheets list|show|schema|check-file`, and finding the sheet that `check --spec` names."""

from __future__ import annotations

import json
import sys
from pathlib import Path

from rich import box
from rich.table import Table
from rich.text import Text

from service.cli.telling import console
from service.rules.catalogue import RULES
from service.sheets.catalogue import find, laid_over_its_base, select, suggest
from service.sheets.format.json_schema import sheet_schema
from service.sheets.format.parsing import parse_sheet_text
from service.sheets.format.refusals import SheetRefused
from service.sheets.format.validation import read_sheet
from service.sheets.format.writing import sheet_to_yaml
from service.sheets.model import SpecSheet
from service.sheets.order import OrderRefused, for_order


def list_sheets(product: str | None, region: str | None) -> int:
    table = Table(show_edge=False, pad_edge=False, box=box.SIMPLE_HEAD)
    for heading in ("Id", "Title", "Product", "Regions"):
        table.add_column(heading, overflow="fold", no_wrap=heading == "Id")
    for sheet in select(product=product, region=region):
        told = (sheet["id"], sheet["title"], sheet["product"], ", ".join(sheet.get("regions", ())))
        table.add_row(*map(Text, told))
    console().print(table)
    return 0


def show_sheet(sheet_id: str) -> int:
    sheet = find(sheet_id)
    if sheet is None:
        print(_no_such_sheet(sheet_id), file=sys.stderr)
        return 1
    print(sheet_to_yaml(sheet), end="")
    return 0


def print_schema(*, stored: bool) -> int:
    print(json.dumps(sheet_schema(stored=stored, known_rules=RULES), indent=2, ensure_ascii=False))
    return 0


def check_sheet_file(file: Path) -> int:
    """Says each mistake with its place; 0 where there is none."""
    sheet = sheet_from_file(file)
    if isinstance(sheet, list):
        print(*sheet, sep="\n", file=sys.stderr)
        return 1
    print(f"{file} is a valid sheet.")
    return 0


def sheet_named(name: str) -> SpecSheet | list[str]:
    """A stored sheet by its id, else a sheet file; or why there is neither."""
    stored = find(name)
    if stored is not None:
        return stored
    if Path(name).is_file():
        return sheet_from_file(Path(name))
    return [_no_such_sheet(name)]


def sheet_for_order(name: str, order: str | None) -> tuple[SpecSheet, SpecSheet] | list[str]:
    """The sheet as it stands, and with what the order knows filled in (`order` is JSON); or what is wrong with either."""
    sheet = sheet_named(name)
    if isinstance(sheet, list) or order is None:
        return sheet if isinstance(sheet, list) else (sheet, sheet)
    try:
        return sheet, for_order(sheet, json.loads(order))
    except ValueError as error:
        mistakes = error.errors if isinstance(error, OrderRefused) else [("", _NO_ORDER)]
        return [f"--order {pointer or '/'}: {detail}" for pointer, detail in mistakes]


_NO_ORDER = 'This is no JSON: write an object such as \'{"inner_pages": 96, "caliper_mm": 0.11}\'.'


def sheet_from_file(file: Path) -> SpecSheet | list[str]:
    try:
        return read_sheet(laid_over_its_base(parse_sheet_text(file.read_bytes())), stored=False, known_rules=RULES)
    except OSError as error:
        return [f"{file} cannot be read: {error.strerror}."]
    except SheetRefused as refused:
        return [f"{file} {pointer or '/'}: {detail}" for pointer, detail in refused.errors]


def _no_such_sheet(name: str) -> str:
    near = suggest(name)
    hint = f"The nearest: {', '.join(near)}." if near else "`print-spec sheets list` shows them all."
    return f"There is no stored sheet and no file called {name!r}. {hint}"
