"""The sheet that `--spec` names: a stored one by its id, or a file."""

from __future__ import annotations

import json
from collections.abc import Collection, Mapping
from pathlib import Path

from service.cli.refused import Refused
from service.cli.unreadable import why
from service.language.spoken import say, to_say
from service.sheets.catalogue import find, laid_over_its_base, suggest
from service.sheets.format.parsing import parse_sheet_text
from service.sheets.format.refusals import SheetRefused
from service.sheets.format.validation import read_sheet
from service.sheets.model import SpecSheet
from service.sheets.order import OrderRefused, for_order


def stored_or_from_file(name: str | None) -> SpecSheet:
    """A stored sheet by its id, else a sheet file; one that asks for nothing where none is named. Raises `Refused`."""
    if name is None:
        return SpecSheet()
    stored = find(name)
    if stored is not None:
        return stored
    if Path(name).is_file():
        return sheet_from_file(Path(name))
    raise no_such_sheet(name)


def with_order(sheet: SpecSheet, order: str | None) -> SpecSheet:
    """With what the order knows filled in (`order` is JSON). Raises `Refused`."""
    if order is None:
        return sheet
    try:
        return for_order(sheet, json.loads(order))
    except ValueError as error:
        mistakes = error.errors if isinstance(error, OrderRefused) else [("", say(_NO_ORDER, example=_SUCH_AS))]
        raise Refused(*(f"--order {pointer or '/'}: {detail}" for pointer, detail in mistakes)) from error


_NO_ORDER, _SUCH_AS = to_say("This is no JSON: write an object such as {example}."), '{"inner_pages": 96, "caliper_mm": 0.11}'


def sheet_from_file(file: Path) -> SpecSheet:
    """Raises `Refused` with each mistake and its place."""
    try:
        document = laid_over_its_base(parse_sheet_text(file.read_bytes()))
        return read_sheet(document, stored=False, known_rules=_rules_for(document))
    except OSError as error:
        raise Refused(say("{file} cannot be read: {reason}.", file=str(file), reason=why(error))) from error
    except SheetRefused as refused:
        raise Refused(*(f"{file} {pointer or '/'}: {detail}" for pointer, detail in refused.errors)) from refused


def _rules_for(document: object) -> Collection[str] | None:
    """What `levels` may name; all rules are loaded only for a sheet that names some."""
    if not isinstance(document, Mapping) or "levels" not in document:
        return None
    from service.rules.catalogue import RULES

    return RULES


def no_such_sheet(name: str) -> Refused:
    near = suggest(name)
    shown = say("`print-spec sheets list` shows them all.")
    hint = say("The nearest: {ids}.", ids=", ".join(near)) if near else shown
    return Refused(say("There is no stored sheet and no file called '{name}'.", name=name) + f" {hint}")
