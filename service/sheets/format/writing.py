"""A sheet in its own format again: as a dictionary that JSON takes, as YAML, and as the digest that a check is signed with.

`read_sheet(sheet_to_document(sheet)) == sheet`, to the last digit of every length.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from typing import Any

import yaml

from service.sheets.format.blocks import whole_sheet
from service.sheets.format.parsing import plain_value
from service.sheets.model import SpecSheet


def sheet_to_document(sheet: SpecSheet) -> dict[str, Any]:
    """JSON-ready; lengths are text with their unit, keys that are not asked for are left out."""
    document = whole_sheet().dump(sheet)
    assert isinstance(document, dict)
    return document


def sheet_to_yaml(sheet: SpecSheet) -> str:
    return document_to_yaml(sheet_to_document(sheet))


def document_to_yaml(document: Mapping[str, Any]) -> str:
    """Of a sheet as it was sent too: with `extends`, and null for what is taken out."""
    return yaml.dump(dict(document), Dumper=_Dumper, sort_keys=False, allow_unicode=True, width=120)


def digest(sheet: SpecSheet) -> str:
    """SHA-256 in hexadecimal of the document as JSON with sorted keys and no spaces: the same sheet, the same digest."""
    return digest_of_document(sheet_to_document(sheet))


def digest_of_document(document: Mapping[str, Any]) -> str:
    """Of a sheet as `sheet_to_document` writes it."""
    canonical = json.dumps(document, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    return hashlib.sha256(canonical.encode()).hexdigest()


class _Dumper(yaml.SafeDumper):
    """Quotes text that YAML 1.1 or 1.2 would take for something else."""

    def ignore_aliases(self, *_: object) -> bool:
        """A value that stands twice is written twice."""
        return True


def _text(dumper: _Dumper, value: str) -> yaml.ScalarNode:
    return dumper.represent_scalar("tag:yaml.org,2002:str", value, style=None if isinstance(plain_value(value), str) else "'")


_Dumper.add_representer(str, _text)
