"""The stored sheets that come with the service: one YAML file a product in `specs/`, each read once, when it is asked for.

A file says only what is its own and extends a family of `specs/families/` for the rest; a sheet is always given complete.
Families are bases and no sheets: they are not listed, found or judged by. An own sheet may extend them too.

In a checkout (and an editable install) the files lie in `specs/`; an installed distribution has them in
`service/sheets/stored/`. A file that is no sheet, or is not named as its id, is a mistake of the installation: `ValueError`.
"""

from __future__ import annotations

import difflib
from collections.abc import Mapping
from functools import cache
from pathlib import Path
from types import MappingProxyType
from typing import TYPE_CHECKING, Any

from service.sheets.extending import resolve
from service.sheets.format.parsing import parse_sheet_text
from service.sheets.format.refusals import SheetRefused
from service.sheets.searching import found

if TYPE_CHECKING:
    from service.sheets.model import SpecSheet

_INSTALLED = Path(__file__).parent / "stored"
_CHECKOUT = Path(__file__).parents[2] / "specs"


def stored_folder() -> Path:
    return _INSTALLED if _INSTALLED.is_dir() else _CHECKOUT


def sheet_files() -> list[Path]:
    return sorted(stored_folder().glob("*.yaml"), key=lambda file: file.stem)


def family_files() -> list[Path]:
    return sorted((stored_folder() / "families").glob("*.yaml"), key=lambda file: file.stem)


# --- What a sheet may extend: families and stored sheets, as written ----------------------------------------------------


@cache
def _base_files() -> Mapping[str, Path]:
    files: dict[str, Path] = {}
    for file in (*family_files(), *sheet_files()):
        if file.stem in files:
            raise ValueError(f"the stored sheet {file.name} has the name of a family")
        files[file.stem] = file
    return MappingProxyType(files)


def base_ids() -> tuple[str, ...]:
    """Every family, then every stored sheet."""
    return tuple(_base_files())


def base_document(base_id: str) -> Mapping[str, Any] | None:
    base_id = base_id if base_id in _base_files() else _aliases().get(base_id, base_id)
    return _document(base_id) if base_id in _base_files() else None


@cache
def _document(base_id: str) -> Mapping[str, Any]:
    file = _base_files()[base_id]
    try:
        document = parse_sheet_text(file.read_bytes())
    except SheetRefused as refused:
        raise ValueError(f"the stored sheet {file.name} is not valid: {refused}") from refused
    named = document.get("id") if isinstance(document, Mapping) else None
    if not isinstance(document, Mapping) or named != file.stem:
        raise ValueError(f"the stored sheet {file.name} says that its id is {named}")
    return MappingProxyType(dict(document))


def laid_over_its_base(document: object) -> object:
    """The complete document of a sheet that may extend a stored one; not validated. Raises `SheetRefused`."""
    return resolve(document, base_document, base_ids())


# --- Stored sheets, complete --------------------------------------------------------------------------------------------


@cache
def _aliases() -> Mapping[str, str]:
    """Other ids of stored sheets, each with the id of its sheet."""
    found: dict[str, str] = {}
    for sheet_id in sheet_ids():
        for alias in _document(sheet_id).get("aliases") or ():
            if alias in found or alias in _base_files():
                raise ValueError(f"the stored sheet {sheet_id} has the alias {alias}, which another one has")
            found[alias] = sheet_id
    return MappingProxyType(found)


@cache
def sheet_ids() -> tuple[str, ...]:
    return tuple(file.stem for file in sheet_files())


@cache
def complete_document(sheet_id: str) -> Mapping[str, Any]:
    """A stored sheet in its own format, without validating it: quick, where its name and title are wanted."""
    try:
        complete = laid_over_its_base(_document(sheet_id))
    except SheetRefused as refused:
        raise ValueError(f"the stored sheet {sheet_id} is not valid: {refused}") from refused
    assert isinstance(complete, Mapping), "a document that extends another is a block of keys"
    return MappingProxyType(dict(complete))


@cache
def _sheet(sheet_id: str) -> SpecSheet:
    from service.sheets.format.validation import read_sheet  # a list of all needs no schema

    try:
        return read_sheet(complete_document(sheet_id), stored=True)
    except SheetRefused as refused:
        raise ValueError(f"the stored sheet {sheet_id} is not valid: {refused}") from refused


def find(sheet_id: str) -> SpecSheet | None:
    """By its id, or by one of its aliases."""
    sheet_id = sheet_id if sheet_id in sheet_ids() else _aliases().get(sheet_id, sheet_id)
    return _sheet(sheet_id) if sheet_id in sheet_ids() else None


@cache
def stored_sheets() -> Mapping[str, SpecSheet]:
    """Every stored sheet by its id, in the order of the ids."""
    return MappingProxyType({sheet_id: _sheet(sheet_id) for sheet_id in sheet_ids()})


def select(
    product: str | None = None, region: str | None = None, purpose: str | None = None, q: str | None = None
) -> list[Mapping[str, Any]]:
    """The complete documents of the stored sheets that fit all that is given, by id."""
    return found((complete_document(sheet_id) for sheet_id in sheet_ids()), product, region, purpose, q)


def suggest(sheet_id: str, most: int = 3) -> list[str]:
    """The ids nearest to one that does not exist; empty where none is near."""
    return difflib.get_close_matches(sheet_id.lower()[:100], (*sheet_ids(), *_aliases()), n=most, cutoff=0.5)
