"""`python -m tests.outside.desk FOLDER [-o OUT] [--spec ID] [--judged FILE]`; progress goes to stderr."""

from __future__ import annotations

import argparse
import json
import sys
import tempfile
import time
from collections.abc import Sequence
from dataclasses import asdict
from html import escape
from pathlib import Path

from service.jobs.children.sandbox import SandboxBroken, warm
from service.jobs.children.tasks import Limits
from tests.outside.desk.crops import Crop, crops_of, places_shown
from tests.outside.desk.judgements import precisions, read_judged, write_rows
from tests.outside.desk.page import desk_page
from tests.outside.desk.rows import CheckedFile, Row, checked_file
from tests.outside.desk.sheet_choice import named_in_folder, sheet_for
from tests.outside.desk.witnesses import PageWitness

LIMITS = Limits(seconds=60, memory_bytes=2 * 2**30)
"""As the service has them by default."""


def main(arguments: Sequence[str] | None = None) -> int:
    asked = _parser().parse_args(arguments)
    said = read_judged(asked.judged) if asked.judged else {}
    asked.out.mkdir(parents=True, exist_ok=True)
    files = sorted(asked.folder.rglob("*.pdf"))
    hints = named_in_folder(asked.folder)
    shown: list[tuple[Row, list[Crop]]] = []
    notes: list[str] = []
    for at, path in enumerate(files, 1):
        began = time.monotonic()
        try:
            checked = checked_file(path, sheet_for(path, asked.spec or hints.get(path.name)), LIMITS)
        except (SandboxBroken, OSError) as error:
            notes.append(f"{path.name}: {error}")
            continue
        notes.append(_note(checked))
        crops = _crops(checked, tuple(asked.crops_of.split(",")))
        shown += zip(checked.rows, crops, strict=True)
        print(f"{at}/{len(files)} {notes[-1][:150]} ({time.monotonic() - began:.1f} s)", file=sys.stderr, flush=True)
    rows = [row for row, _ in shown]
    write_rows(asked.out / "findings.csv", rows, said)
    (asked.out / "findings.json").write_text(json.dumps([asdict(row) for row in rows], ensure_ascii=False, indent=1), "utf-8")
    told = f"<details><summary>{len(files)} files</summary><ul>{''.join(f'<li>{escape(one)}' for one in notes)}</ul></details>"
    page = desk_page(f"Findings on {asked.folder.name}", shown, said, precisions(rows, said), told)
    (asked.out / "desk.html").write_text(page, "utf-8")
    for one in precisions(rows, said) if said else ():
        print(f"{one.of:32} {dict(one.counts)} not judged {one.unjudged} precision {one.share}")
    print(f"{len(rows)} findings on {len(files)} files: {asked.out / 'desk.html'}", file=sys.stderr)
    return 0


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="python -m tests.outside.desk", description="Lay out findings for a person to judge.")
    parser.add_argument("folder", type=Path, help="folder of PDFs; its sheets.csv may name sheets")
    parser.add_argument("-o", "--out", type=Path, default=Path("desk"), help="folder for desk.html, findings.csv, findings.json")
    parser.add_argument("--spec", help="a stored sheet to judge every file by")
    parser.add_argument("--judged", type=Path, help="CSV of judgements from an earlier run")
    parser.add_argument("--crops-of", default="", help="beginnings of the rules that get crops, with commas; '-': none")
    return parser


def _note(checked: CheckedFile) -> str:
    sheet = checked.sheet.id or checked.sheet.title
    return "; ".join([f"{checked.path.name}: {sheet}, {checked.verdict}, {len(checked.rows)} findings", *checked.unmeasured])


def _crops(checked: CheckedFile, rules: tuple[str, ...]) -> list[list[Crop]]:
    """For each row. A finding without a place shows nothing but its words."""
    made: list[list[Crop]] = []
    with tempfile.TemporaryDirectory() as folder:
        witnesses = {
            number: PageWitness(checked.path, number, page.boxes_mm.media, Path(folder)) for number, page in checked.pages.items()
        }
        for row, finding in zip(checked.rows, checked.findings, strict=True):
            made.append([])
            for place in places_shown(finding) if row.rule.startswith(rules) else ():
                if place.page in checked.pages:
                    made[-1] += crops_of(finding, row.rule, place, checked.pages[place.page], witnesses[place.page])
    return made


if __name__ == "__main__":
    warm()
    sys.exit(main())
