"""The same demands in many words: what a printer may write for bleed, margins, marks, inks, pictures, fonts and pages."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
import yaml

from tests.sheets.prose.grammar import read_prose
from tests.sheets.readings_score import _normal, leaves, same

WORDINGS = [
    wording
    for name in ("wordings.yaml", "wordings_de_fr.yaml")
    for wording in yaml.safe_load(Path(__file__).with_name(name).read_text(encoding="utf-8"))
]


@pytest.mark.parametrize("wording", WORDINGS, ids=lambda wording: wording["text"][:60])
def test_a_demand_is_read_however_it_is_worded(wording: dict[str, Any]) -> None:
    given = dict(leaves(read_prose(wording["text"]).draft))
    for path, value in wording["asks"].items():
        assert path in given, f"nothing is read of {path}: {given}"
        assert same(path, given[path], _normal(path, value)), f"{path}: {given[path]}"


@pytest.mark.parametrize(
    ("text", "path"),
    [
        ("Our equipment can print up to 600 dpi natively.", "images"),
        ("Numbers must be at least 12 mm away from the full bleed.", "bleed"),
        ("Reduced to @75 dpi this picture has a bad quality.", "images"),
        ("PDF/X-4 is recommended because it accepts transparency.", "transparency"),
        ("Do not use shadows on top of a spot colour.", "color"),
        ("If your file is 3×5 then your document should be 3.25×5.25 with bleed.", "trim"),
        ("Crop marks are usually included as well.", "marks"),
        ("Many Pantone colours lie outside CMYK, so we cannot guarantee a match.", "color"),
    ],
)
def test_what_only_looks_like_a_demand_gives_no_value(text: str, path: str) -> None:
    assert path not in read_prose(text).draft
