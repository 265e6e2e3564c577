"""The stored sheets that come with the service: one YAML file a product in `specs/`, read once.

A file says only what is its own and extends a family of `specs/families/` for the rest; a sheet is always given complete.
Families are bases and no sheets: they are not listed, found or judged by. An own sheet may extend them too.

In a checkout (and an editable install) the files lie in `specs/`; an installed distribution has them in
`service/sheets/stored/`.
"""

from __future__ import annotations

import difflib
from collections.abc import Mapping
from functools import cache
from pathlib import Path
from types import MappingProxyType
from typing import Any

from service.sheets.extending import resolve
from service.sheets.format.parsing import parse_sheet_text
from service.sheets.format.validation import SheetRefused, read_sheet
from service.sheets.model import SpecSheet

_INSTALLED = Path(__file__).parent / "stored"
_CHECKOUT = Path(__file__).parents[2] / "specs"


def _folder() -> Path:
    return _INSTALLED if _INSTALLED.is_dir() else _CHECKOUT


def sheet_files() -> list[Path]:
    return sorted(_folder().glob("*.yaml"), key=lambda file: file.stem)


def family_files() -> list[Path]:
    return sorted((_folder() / "families").glob("*.yaml"), key=lambda file: file.stem)


@cache
def base_documents() -> Mapping[str, Mapping[str, Any]]:
    """What a sheet may extend, as written: every family, then every stored sheet, by id.

    Raises `ValueError` as `stored_sheets` does.
    """
    documents: dict[str, Mapping[str, Any]] = {}
    for file in (*family_files(), *sheet_files()):
        try:
            document = parse_sheet_text(file.read_bytes())
        except SheetRefused as refused:
            raise ValueError(f"the stored sheet {file.name} is not valid: {refused}") from refused
        named = document.get("id") if isinstance(document, Mapping) else None
        if not isinstance(document, Mapping) or named != file.stem:
            raise ValueError(f"the stored sheet {file.name} says that its id is {named}")
        if file.stem in documents:
            raise ValueError(f"the stored sheet {file.name} has the name of a family")
        documents[file.stem] = MappingProxyType(dict(document))
    return MappingProxyType(documents)


@cache
def stored_sheets() -> Mapping[str, SpecSheet]:
    """Every stored sheet by its id, in the order of the ids.

    Raises `ValueError` for a file that is no sheet, or is not named as its id: a mistake of the installation.
    """
    sheets: dict[str, SpecSheet] = {}
    for file in sheet_files():
        try:
            complete = resolve(base_documents()[file.stem], base_documents().get, base_documents())
            sheets[file.stem] = read_sheet(complete, stored=True)
        except SheetRefused as refused:
            raise ValueError(f"the stored sheet {file.name} is not valid: {refused}") from refused
    return MappingProxyType(sheets)


def find(sheet_id: str) -> SpecSheet | None:
    return stored_sheets().get(sheet_id)


def select(
    product: str | None = None, region: str | None = None, purpose: str | None = None, q: str | None = None
) -> list[SpecSheet]:
    """The stored sheets that fit all that is given, by id. `region` also finds sheets that name none; `q` is words to find."""
    return [
        sheet
        for sheet in stored_sheets().values()
        if (product is None or sheet.product == product.lower())
        and (region is None or not sheet.regions or region.upper() in sheet.regions)
        and (purpose is None or sheet.purpose == purpose)
        and (q is None or all(word in _searched(sheet) for word in q.lower().split()))
    ]


def suggest(sheet_id: str, most: int = 3) -> list[str]:
    """The ids nearest to one that does not exist; empty where none is near."""
    return difflib.get_close_matches(sheet_id.lower()[:100], stored_sheets(), n=most, cutoff=0.5)


def _searched(sheet: SpecSheet) -> str:
    return " ".join(text for text in (sheet.id, sheet.title, sheet.product, sheet.summary) if text).lower()
