"""A printer's catalogue as a file: looked over, and its sheets by their names, 'copperbeck.yaml/halyard-card'."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from service.cli.refused import Refused
from service.cli.unreadable import why
from service.language.spoken import say
from service.sheets.catalogue import find
from service.sheets.format.parsing import LARGEST_YAML_BYTES, parse_sheet_text
from service.sheets.format.refusals import SheetRefused
from service.sheets.format.writing import sheet_to_document
from service.sheets.printers.document import WrittenCatalogue, read_catalogue


def catalogue_from_file(file: Path) -> WrittenCatalogue:
    """Raises `Refused` with each mistake and its place."""
    from service.rules.catalogue import RULES  # which take a moment to load

    try:
        document = parse_sheet_text(file.read_bytes(), 8 * LARGEST_YAML_BYTES)
        return read_catalogue(document, _stored, catalogue_id=None, revision=1, known_rules=RULES)
    except OSError as error:
        raise Refused(say("{file} cannot be read: {reason}.", file=str(file), reason=why(error))) from error
    except SheetRefused as refused:
        raise Refused(*(f"{file} {pointer or '/'}: {detail}" for pointer, detail in refused.errors)) from refused


def complete_in_file(file: Path, sheet_id: str) -> Mapping[str, Any]:
    """Of the catalogue in the file, the complete document of one sheet. Raises `Refused`."""
    sheets = {one.sheet_id: one.complete for one in catalogue_from_file(file).sheets}
    if sheet_id not in sheets:
        raise Refused(say("The catalogue '{catalogue}' has no sheet '{id}'.", catalogue=str(file), id=sheet_id))
    return sheets[sheet_id]


def _stored(sheet_id: str, revision: int | None) -> tuple[Mapping[str, Any], str]:
    """Raises `SheetRefused`."""
    sheet = find(sheet_id)
    if sheet is None or revision not in (None, sheet.revision):
        says = say("is no stored sheet, or not of that revision; the service alone knows sheets of your own by their ids.")
        raise SheetRefused([("", says)])
    return sheet_to_document(sheet), sheet_id
