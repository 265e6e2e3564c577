"""specs/README.md names every key of the format, and the sheets that are there."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from marshmallow import fields

from service.rules.catalogue import RULES
from service.sheets.catalogue import stored_sheets
from service.sheets.format.block import BlockSchema
from service.sheets.format.blocks import SpecSheetSchema
from service.sheets.format.validation import read_sheet_text

README = (Path(__file__).parents[2] / "specs" / "README.md").read_text(encoding="utf-8")
BESIDE_THEIR_BLOCK = (
    "color.spots.",
    "color.tint.",
    "color.rich_black.",
    "file.pdf_versions.",
    "images.contone_ppi.",
    "images.bilevel_ppi.",
    "references[].",
)
"""Keys explained in the row of the block that holds them."""


def all_keys(schema: BlockSchema, prefix: str = "") -> Iterator[str]:
    for name, field in schema.load_fields.items():
        key = f"{prefix}{field.data_key or name}"
        yield key
        inner = field.inner if isinstance(field, fields.List) else field
        if isinstance(inner, fields.Nested):
            assert isinstance(inner.schema, BlockSchema)
            yield from all_keys(inner.schema, f"{key}[]." if inner is not field else f"{key}.")


@pytest.mark.parametrize("key", list(all_keys(SpecSheetSchema())))
def test_every_key_is_explained(key: str) -> None:
    block, _, last = key.rpartition(".")
    if last in ("level", "note") and block:
        assert f"| `{last}` |" in README
    elif key.startswith(BESIDE_THEIR_BLOCK):
        row = next(line for line in README.splitlines() if line.startswith(f"| `{block.removesuffix('[]')}`"))
        assert last in row or "the same" in row
    else:
        assert f"`{key}`" in README


def test_every_rule_that_a_key_feeds_exists() -> None:
    rows = [
        line
        for line in README.split("## What is asked")[1].split("## The stored sheets")[0].splitlines()
        if line.startswith("| ")
    ]
    named = {rule for row in rows for rule in re.findall(r"`([a-z]+\.[a-z-]+)`", row.rsplit("|", 2)[1])}
    assert len(named) > 20
    assert named - set(RULES) == set()


def test_every_stored_sheet_is_listed() -> None:
    assert [sheet_id for sheet_id in stored_sheets() if f"| `{sheet_id}` |" not in README] == []


def test_the_example_is_a_sheet() -> None:
    example = README.split("```yaml\n")[1].split("```")[0]
    assert read_sheet_text(example, stored=True).id == "postcard-a6"
