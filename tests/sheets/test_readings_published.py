"""The list of real published texts: only addresses, keys and outcomes, and every key a sheet. Their words stay outside."""

from __future__ import annotations

from pathlib import Path

from service.sheets.format.validation import read_sheet
from tests.sheets.readings_score import PUBLISHED, published_cases, read_yaml, score_of

TEXTS = read_yaml(PUBLISHED)["texts"]


def test_every_key_is_a_valid_sheet_and_nothing_else_is_kept() -> None:
    assert len(TEXTS) >= 180
    for entry in TEXTS:
        assert entry.keys() <= {"address", "language", "half", "keyed_by", "expect", "may", "drafts", "first_look", "now"}
        assert entry["language"] in ("en", "de", "fr")
        if entry["expect"]:
            read_sheet(entry["expect"])
    assert len({entry["address"] for entry in TEXTS}) == len(TEXTS)


def test_the_words_of_a_folder_are_scored_against_the_keys(tmp_path: Path) -> None:
    entry = next(one for one in TEXTS if one["expect"] == {"bleed": {"minimum": "3 mm"}} and not one.get("may"))
    (tmp_path / "one.txt").write_text(f"=== a1 en {entry['address']}\nBleed: 3 mm\nPictures of 300 dpi\n---\n", encoding="utf-8")
    total = score_of(published_cases(tmp_path))
    assert total.texts == 1
    assert +total.right == {"bleed.minimum": 1}
    assert total.false_drafts == 1


def test_a_miss_that_nothing_speaks_of_is_silent(tmp_path: Path) -> None:
    entry = next(one for one in TEXTS if one["expect"] == {"bleed": {"minimum": "3 mm"}})
    for words, silent in (("Welcome to our shop.", 1), ("The bleed must be neither 2 mm nor 5 mm for posters.", 0)):
        (tmp_path / "one.txt").write_text(f"=== a1 en {entry['address']}\n{words}\n---\n", encoding="utf-8")
        total = score_of(published_cases(tmp_path))
        assert total.silent.total() == silent, total.differences
