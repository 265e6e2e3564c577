"""The sheets of a catalogue listed and matched: 10,000 of them are looked through without being read."""

from __future__ import annotations

import json
from collections import OrderedDict
from collections.abc import Callable, Mapping, Sequence
from typing import Any

from service.api.catalogues.found import find_catalogue
from service.api.http.blueprint import parts
from service.api.specs.kept_sheets import in_short, kept_of_catalogue, sheet_of
from service.pdf.facts.page import Page
from service.sheets.model import SpecSheet
from service.sheets.printers.looking import is_found, nearest
from service.sheets.searching import Sizes, found
from service.store.catalogues.rows import CatalogueRevisionRow

MOST_KEPT = 4
"""Catalogues whose sheets a process keeps in mind; 10,000 sheets are some 10 MB."""


def listed_in(
    catalogue_id: str, filters: Mapping[str, Any], trim: Sizes | None, shown: slice
) -> tuple[int, list[dict[str, Any]]]:
    """How many fit the filters `product`, `region`, `purpose`, `q` and the size, and those of this page in short.

    Raises `Problem`.
    """
    catalogue = find_catalogue(catalogue_id)
    plain = {key: value for key, value in filters.items() if key in ("product", "region", "purpose")}
    ids = _found(catalogue, plain, trim)
    if "q" in filters:
        wholes = [json.loads(row.complete) for row in parts().catalogues.sheets(catalogue, ids)]
        ids = [str(one["id"]).partition("/")[2] for one in found(wholes, q=filters["q"])]
    rows = parts().catalogues.sheets(catalogue, ids[shown])
    return len(ids), [in_short(kept_of_catalogue(row)) for row in rows]


def candidates(
    catalogue_id: str, filters: Mapping[str, Any], pages: Sequence[Page]
) -> tuple[list[SpecSheet], dict[str | None, dict[str, Any]]]:
    """The sheets that these pages may be of, and those in short, by id. Raises `Problem`."""
    catalogue = find_catalogue(catalogue_id)
    if not pages:
        return [], {}
    sheets = [(one, facts) for one, facts in _facts(catalogue) if is_found(facts, filters)]
    kept = [kept_of_catalogue(row) for row in parts().catalogues.sheets(catalogue, nearest(pages[0], sheets))]
    return [sheet_of(one.own.complete) for one in kept], {one.own.complete["id"]: in_short(one) for one in kept}


def _found(catalogue: CatalogueRevisionRow, filters: Mapping[str, str], trim: Sizes | None) -> list[str]:
    return [sheet_id for sheet_id, facts in _facts(catalogue) if is_found(facts, filters, trim)]


def _facts(catalogue: CatalogueRevisionRow) -> list[tuple[str, dict[str, Any]]]:
    return _facts_of(catalogue.digest, lambda: parts().catalogues.found_by(catalogue))


_kept_facts: OrderedDict[str, list[tuple[str, dict[str, Any]]]] = OrderedDict()


def _facts_of(digest: str, found_by: Callable[[], list[tuple[str, str]]]) -> list[tuple[str, dict[str, Any]]]:
    """A revision never changes: those that were looked through last are kept, by the digest of all that is in them."""
    facts = _kept_facts.get(digest)
    if facts is None:
        facts = [(sheet_id, json.loads(text)) for sheet_id, text in found_by()]
        _kept_facts[digest] = facts
        while len(_kept_facts) > MOST_KEPT:
            _kept_facts.popitem(last=False)
    return facts
