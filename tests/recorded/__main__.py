"""`python -m tests.recorded FOLDER [--against OTHER] [--corpus FOLDER] [--only ROOM …]`."""

from __future__ import annotations

import argparse
import signal
import sys
import tempfile
from pathlib import Path

from tests.recorded.compare import differences
from tests.recorded.play import ROOMS, play


def main() -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.recorded", description="Records every public answer, one file each.")
    parser.add_argument("folder", type=Path, help="where the answers go; a folder that is not there yet or is empty")
    parser.add_argument(
        "--against", type=Path, metavar="OTHER", help="compare with this earlier recording; exit code 1 where it differs"
    )
    parser.add_argument("--compare-only", action="store_true", help="with --against: the folder is recorded already")
    parser.add_argument("--corpus", type=Path, metavar="FOLDER", help="also check some PDFs of this folder")
    parser.add_argument(
        "--only", nargs="+", choices=ROOMS, default=ROOMS, metavar="ROOM", help=f"play only some of: {', '.join(ROOMS)}"
    )
    asked = parser.parse_args()
    signal.signal(signal.SIGTERM, lambda *_: sys.exit(2))  # the services that were started end with us
    if not asked.compare_only:
        if asked.folder.exists() and any(asked.folder.iterdir()):
            parser.error(f"{asked.folder} is not empty")
        with tempfile.TemporaryDirectory(prefix="recorded-") as work:
            missing = play(asked.folder, Path(work), asked.only, asked.corpus)
        if missing:
            print("Not played, and so not recorded:", *missing, sep="\n  ", file=sys.stderr)
            return 2
    if asked.against is None:
        return 0
    told = list(differences(asked.against, asked.folder))
    print(*told, f"{len(told)} answers differ" if told else "No answer differs", sep="\n")
    return 1 if told else 0


if __name__ == "__main__":
    raise SystemExit(main())
