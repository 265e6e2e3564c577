"""What a person said of each finding, kept as CSV (`id`, `verdict`, `why`, `measured`), and the precision that follows.

true: a person at the press would say it too, and wants to know. noise: so, but not worth a line. wrong-number: the matter is
right, a number, level or remedy is not. false: it is not so.
"""

from __future__ import annotations

import csv
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from tests.outside.desk.rows import Row

VERDICTS = ("true", "noise", "wrong-number", "false")


@dataclass(frozen=True)
class Said:
    verdict: str
    why: str
    measured: str
    """What the finding measured when it was judged; '' where that was not kept."""


def read_judged(path: Path) -> dict[str, Said]:
    """Raises ValueError for a word that is no verdict."""
    said = {}
    with path.open(encoding="utf-8", newline="") as rows:
        for row in csv.DictReader(rows):
            verdict = (row.get("verdict") or "").strip()
            if verdict and verdict not in VERDICTS:
                raise ValueError(f"{path}: {verdict!r} of {row['id']} is none of {', '.join(VERDICTS)}")
            if verdict:
                said[row["id"]] = Said(verdict, row.get("why") or "", row.get("measured") or "")
    return said


def write_rows(path: Path, rows: Iterable[Row], said: Mapping[str, Said]) -> None:
    """All findings with what is said of them: the file to write verdicts into, and to give back by `--judged`."""
    with path.open("w", encoding="utf-8", newline="") as out:
        writer = csv.writer(out)
        writer.writerow(["id", "verdict", "why", "level", "message", "measured", "required", "sheet", "places"])
        for row in rows:
            one = said.get(row.id, Said("", "", ""))
            told = (row.level, row.message, row.measured, row.required, row.sheet, row.places)
            writer.writerow([row.id, one.verdict, one.why, *told])


@dataclass(frozen=True)
class Precision:
    of: str
    """A rule, 'all' or 'must'."""
    counts: Mapping[str, int]
    unjudged: int

    @property
    def judged(self) -> int:
        return sum(self.counts.values())

    @property
    def share(self) -> float | None:
        """Those that are so (true, or true and noise) of those judged; None where none is."""
        return (self.counts["true"] + self.counts["noise"]) / self.judged if self.judged else None


def precisions(rows: Iterable[Row], said: Mapping[str, Said]) -> Iterator[Precision]:
    """Over all, over musts, then by rule."""
    rows = list(rows)
    yield _precision("all", rows, said)
    yield _precision("must", [row for row in rows if row.level == "must"], said)
    for rule in sorted({row.rule for row in rows}):
        yield _precision(rule, [row for row in rows if row.rule == rule], said)


def _precision(of: str, rows: list[Row], said: Mapping[str, Said]) -> Precision:
    verdicts = [said[row.id].verdict for row in rows if row.id in said]
    return Precision(of, {one: verdicts.count(one) for one in VERDICTS}, len(rows) - len(verdicts))
