"""Each demand of each stored sheet, broken: `python -m tests.sheets.each_demand [SHEET …] [--demand KEY] [--processes N]`.

For each a file is drawn that is right but for this one thing, and the rule on it must say so, no other one with a must. Prints
what is amiss, and a count by demand. The suite runs each demand once, on one sheet (`tests/outside/test_library_files.py`).
"""

from __future__ import annotations

import argparse
import json
import re
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor, as_completed
from dataclasses import dataclass
from pathlib import Path

from service.jobs.question import question_for
from service.pdf.measure import measure
from service.rules.judge import judge
from service.rules.judgement import Judgement
from service.sheets.catalogue import stored_sheets
from service.sheets.format.writing import sheet_to_document
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


@dataclass(frozen=True)
class Tried:
    """What breaking one sheet's demands showed."""

    sheet_id: str
    demands: tuple[str, ...]
    amiss: tuple[str, ...]
    seconds: float


def tried(sheet_id: str, demand: str, elsewhere: frozenset[str] = frozenset()) -> Tried:
    """Each demand that starts like this, but those that are tried on another sheet."""
    sheet, began = ordered(sheet_id), time.monotonic()
    demands, wrong = list[str](), list[str]()
    with tempfile.TemporaryDirectory() as folder:
        for one in breaks_of(sheet):
            if one.demand in elsewhere or not one.demand.startswith(demand):
                continue
            demands.append(one.demand)
            if told := amiss(one, judged(one.file(sheet), sheet, Path(folder))):
                wrong.append(f"{sheet_id} {one.demand}: {told}")
    return Tried(sheet_id, tuple(demands), tuple(wrong), time.monotonic() - began)


WHATEVER_THE_SIZE = ("file", "color", "images", "text", "lines", "fonts", "marks")
"""Blocks that ask the same of a product of any size."""


def tried_elsewhere(sheet_ids: list[str], alike_once: bool) -> dict[str, frozenset[str]]:
    """Of each sheet the limits of a file's size that an earlier one has too: files of hundreds of megabytes. `alike_once`: and
    every demand of `WHATEVER_THE_SIZE` whose whole block says the same there.
    """
    met: set[str] = set()
    found = {}
    for sheet_id in sheet_ids:
        sheet = ordered(sheet_id)
        document = sheet_to_document(sheet)
        keys = {}
        for one in breaks_of(sheet):
            block = re.split(r"[.: \[]", one.demand)[0]
            if one.rule == "file.size":
                keys[one.demand] = one.demand
            elif alike_once and block in WHATEVER_THE_SIZE:
                keys[one.demand] = json.dumps([one.demand, document.get(block), document.get("levels")])
        found[sheet_id] = frozenset(demand for demand, key in keys.items() if key in met)
        met |= set(keys.values())
    return found


def all_tried(sheet_ids: list[str], demand: str, processes: int, minutes: float, alike_once: bool) -> Iterator[Tried]:
    """As they are done; what has not begun after so many minutes is left out."""
    elsewhere, ends = tried_elsewhere(sheet_ids, alike_once), time.monotonic() + minutes * 60
    with ProcessPoolExecutor(processes) as pool:
        running = {pool.submit(tried, one, demand, elsewhere[one]) for one in sheet_ids}
        for one in as_completed(running):
            if not one.cancelled():
                yield one.result(0)  # it is done
            if time.monotonic() > ends:
                for other in running:
                    other.cancel()


def main() -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.sheets.each_demand", description=__doc__)
    parser.add_argument("sheets", nargs="*", metavar="SHEET")
    parser.add_argument("--demand", default="", help="only those that start like this")
    parser.add_argument("--processes", type=int, default=1)
    parser.add_argument("--minutes", type=float, default=120, help="begin no further sheet after this time")
    parser.add_argument("--alike-once", action="store_true", help="what several sheets ask alike, whatever their size, once")
    given = parser.parse_args()
    sheet_ids = given.sheets or list(stored_sheets())
    met, done, counts = 0, 0, Counter[str]()
    for one in all_tried(sheet_ids, given.demand, given.processes, given.minutes, given.alike_once):
        done, met = done + 1, met + len(one.amiss)
        counts.update(demand.partition(": ")[0] for demand in one.demands)
        print(*one.amiss, sep="\n", end="\n" if one.amiss else "", flush=True)
        told = f"{done}/{len(sheet_ids)} {one.sheet_id}: {len(one.demands)} demands in {one.seconds:.0f} s"
        print(told, file=sys.stderr, flush=True)
    for demand, count in counts.most_common():
        print(f"{count:5} {demand}")
    print(f"{sum(counts.values())} demands of {done} of {len(sheet_ids)} sheets broken, {met} amiss")
    return 1 if met or done < len(sheet_ids) else 0


if __name__ == "__main__":
    sys.exit(main())
