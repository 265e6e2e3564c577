"""`python -m tests.outside.desk.making FOLDER`: all files of all programs that are there, and `sheets.csv` beside them."""

from __future__ import annotations

import csv
import re
import sys
from importlib import import_module
from pathlib import Path

from tests.outside.desk.sheet_choice import HINTS

PROGRAMS = (
    *("reportlab", "packaging", "plain", "typst", "cairo", "weasyprint", "chromium", "libreoffice", "pymupdf"),
    "ghostscript",  # takes what the others have made
)


def main(folder: Path) -> int:
    """What lacks its program is named on stderr."""
    folder.mkdir(parents=True, exist_ok=True)
    made: dict[str, str | None] = {}
    for name in PROGRAMS:
        try:
            maker = import_module(f"tests.outside.desk.making.by_{name}")
        except OSError as error:
            print(f"{name}: left out, {error}", file=sys.stderr)
            continue
        if hasattr(maker, "program") and maker.program() is None:
            print(f"{name}: left out, the program is not there", file=sys.stderr)
            continue
        made |= maker.make(folder)
        print(f"{name}: {len(made)} files so far", file=sys.stderr, flush=True)
    for file in made:
        _undated(folder / file)
    with (folder / HINTS).open("w", encoding="utf-8", newline="") as out:
        writer = csv.writer(out)
        writer.writerow(["file", "sheet"])
        writer.writerows(sorted((file, sheet) for file, sheet in made.items() if sheet))
    return 0


def _undated(path: Path) -> None:
    """The same bytes each time: programs write the hour, and identifiers made of it. Nothing moves."""
    data = re.sub(rb"D:\d{14}", b"D:20260101000000", path.read_bytes())
    data = re.sub(rb"(?<=<)[0-9A-F]{32}(?=>)", b"0" * 32, data)
    path.write_bytes(re.sub(rb"(?<=/DocChecksum /)[0-9A-F]{32}", b"0" * 32, data))


if __name__ == "__main__":
    sys.exit(main(Path(sys.argv[1])))
