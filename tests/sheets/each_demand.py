"""Each demand of each stored sheet, broken: `python -m tests.sheets.each_demand [SHEET …] [--demand KEY]`.

For each a file is drawn that is right but for this one thing, and the rule on it must say so, no other one with a must. Prints
what is amiss, and a count by demand. The suite runs each demand once, on one sheet (`tests/outside/test_library_files.py`).
"""

from __future__ import annotations

import argparse
import sys
import tempfile
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

from service.jobs.question import question_for
from service.pdf.measure import measure
from service.rules.judge import judge
from service.rules.judgement import Judgement
from service.sheets.catalogue import stored_sheets
from service.sheets.model import SpecSheet
from service.sheets.order import for_order
from tests.sheets.breaks import Break, breaks_of

ORDER = {"inner_pages": 160, "caliper_mm": 0.1}


def ordered(sheet_id: str) -> SpecSheet:
    return for_order(stored_sheets()[sheet_id], ORDER)


def judged(made: bytes, sheet: SpecSheet, folder: Path) -> Judgement:
    path = folder / "made.pdf"
    path.write_bytes(made)
    return judge(measure(path, question_for(sheet)), sheet)


def broken(judgement: Judgement, level: str) -> set[str]:
    return {one.rule for one in judgement.findings if one.level == level}


def amiss(one: Break, judgement: Judgement) -> str | None:
    """What is not as it should be: the rule is silent, or other musts are broken too."""
    levels = {found.level for found in judgement.findings if found.rule == one.rule}
    others = broken(judgement, "must") - {one.rule, *one.also}
    if not levels:
        told = sorted({found.rule for found in judgement.findings})
        return f"unnoticed ({one.rule}); told instead: {', '.join(told) or 'nothing'}"
    if others:
        return f"told by {one.rule}, but {', '.join(sorted(others))} too"
    if judgement.verdict != ("nonconforming" if broken(judgement, "must") else "conforming_with_observations"):
        return f"is {judgement.verdict}"
    return None


def tried(sheet_ids: list[str], demand: str | None, folder: Path) -> Iterator[tuple[str, Break, Judgement]]:
    large: set[str] = set()
    for sheet_id in sheet_ids:
        sheet = ordered(sheet_id)
        for one in breaks_of(sheet):
            if one.demand in large or not one.demand.startswith(demand or ""):
                continue
            if one.rule == "file.size":
                large.add(one.demand)  # files of hundreds of megabytes: each limit once
            yield sheet_id, one, judged(one.file(sheet), sheet, folder)


def main() -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.sheets.each_demand", description=__doc__)
    parser.add_argument("sheets", nargs="*", metavar="SHEET")
    parser.add_argument("--demand", help="only those that start like this")
    given = parser.parse_args()
    met, counts = 0, Counter[str]()
    with tempfile.TemporaryDirectory() as folder:
        for sheet_id, one, judgement in tried(given.sheets or list(stored_sheets()), given.demand, Path(folder)):
            counts[one.demand.partition(": ")[0]] += 1
            if wrong := amiss(one, judgement):
                met += 1
                print(f"{sheet_id} {one.demand}: {wrong}", flush=True)
    for demand, count in counts.most_common():
        print(f"{count:5} {demand}")
    print(f"{sum(counts.values())} demands of {len(given.sheets or stored_sheets())} sheets broken, {met} amiss")
    return 1 if met else 0


if __name__ == "__main__":
    sys.exit(main())
