"""Precision and recall of readings against the keys of a folder of texts: `python -m tests.sheets.readings_score [seen|unseen]`.

A draft and its key are flattened to leaves (path → value, lengths in mm, lists as sets). A leaf is right when the key has the
same path with the same value; lengths are the same within 0.05 mm, everything else exactly. Precision is right / given, recall
is right / expected, over all texts together. `--wrong` lists every leaf that differs.
"""

from __future__ import annotations

import sys
from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import yaml

from service.sheets.format.lengths import parse_bytes, parse_length_mm, parse_percent, parse_type_pt
from service.sheets.prose.reading import read_prose

HERE = Path(__file__).parent
FOLDERS = {"seen": HERE / "readings_seen", "unseen": HERE / "readings_unseen"}
SLACK_MM = 0.05

Leaf = str | float | frozenset[Any]

_LENGTHS = (
    "trim.width",
    "trim.height",
    "trim.tolerance",
    "bleed.minimum",
    "bleed.maximum",
    "margin.minimum",
    "marks.offset_minimum",
)


@dataclass
class Score:
    right: Counter[str] = field(default_factory=Counter)
    given: Counter[str] = field(default_factory=Counter)
    expected: Counter[str] = field(default_factory=Counter)
    differences: list[str] = field(default_factory=list)
    texts: int = 0

    @property
    def precision(self) -> float:
        return self.right.total() / max(1, self.given.total())

    @property
    def recall(self) -> float:
        return self.right.total() / max(1, self.expected.total())


def leaves(document: Mapping[str, Any], path: str = "") -> Iterator[tuple[str, Leaf]]:
    for key, value in document.items():
        here = f"{path}.{key}" if path else key
        if isinstance(value, Mapping):
            yield from leaves(value, here)
        else:
            yield here, _normal(here, value)


def _normal(path: str, value: Any) -> Leaf:
    if isinstance(value, list):
        return frozenset(str(one) if not isinstance(one, dict) else tuple(sorted(one.items())) for one in value)
    if path in _LENGTHS:
        return parse_length_mm(value)
    if path.startswith(("text.", "lines.")) and not path.endswith(("level", "note")):
        return parse_type_pt(value) * 25.4 / 72
    if path == "file.maximum_size":
        return float(parse_bytes(value))
    if path == "color.ink_limit":
        return parse_percent(value)
    return float(value) if isinstance(value, int | float) and not isinstance(value, bool) else str(value)


def same(path: str, one: Leaf, other: Leaf) -> bool:
    if isinstance(one, float) and isinstance(other, float):
        slack = SLACK_MM if path in _LENGTHS or path.startswith(("text.", "lines.")) else 0
        return abs(one - other) <= slack + 1e-9
    return one == other


def texts_in(folder: Path) -> list[Path]:
    return sorted(folder.glob("*.yaml"))


def score(folder: Path) -> Score:
    total = Score()
    for path in texts_in(folder):
        case = yaml.safe_load(path.read_text(encoding="utf-8"))
        draft = read_prose(case["text"], case.get("media_type", "text/plain")).draft
        _count(total, path.stem, dict(leaves(draft)), dict(leaves(case["expect"] or {})))
        total.texts += 1
    return total


def _count(total: Score, name: str, given: Mapping[str, Leaf], expected: Mapping[str, Leaf]) -> None:
    for path in sorted({*given, *expected}):
        if path in given:
            total.given[path] += 1
        if path in expected:
            total.expected[path] += 1
        if path in given and path in expected and same(path, given[path], expected[path]):
            total.right[path] += 1
        else:
            said, key = given.get(path, "nothing"), expected.get(path, "nothing")
            total.differences.append(f"{name}: {path}: read {_shown(said)}, key {_shown(key)}")


def _shown(leaf: Leaf) -> str:
    return ", ".join(sorted(map(str, leaf))) if isinstance(leaf, frozenset) else str(leaf)


def main(arguments: list[str]) -> int:
    names = [one for one in arguments if not one.startswith("-")] or ["seen"]
    for name in names:
        total = score(FOLDERS[name])
        print(f"{'key':<34}{'expected':>9}{'given':>7}{'right':>7}{'precision':>11}{'recall':>8}")
        for path in sorted({*total.given, *total.expected}):
            given, expected, right = total.given[path], total.expected[path], total.right[path]
            shares = (
                f"{right / given:>11.2f}" if given else f"{'-':>11}",
                f"{right / expected:>8.2f}" if expected else f"{'-':>8}",
            )
            print(f"{path:<34}{expected:>9}{given:>7}{right:>7}{shares[0]}{shares[1]}")
        print(
            f"{name}: {total.texts} texts, {total.expected.total()} expected, {total.given.total()} given,"
            f" {total.right.total()} right; precision {total.precision:.3f}, recall {total.recall:.3f}"
        )
        if "--wrong" in arguments:
            print("\n".join(total.differences))
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
