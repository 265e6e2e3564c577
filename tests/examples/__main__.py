"""Records the calls that the reference shows: `python -m tests.examples`."""

from __future__ import annotations

import json
import sys
import tempfile
from pathlib import Path

from service.api.description.exchanges import FOLDER, PROBLEMS_FILE
from service.demo.order import make_files
from tests.examples import calls, problem_calls
from tests.examples.recorder import Recorder
from tests.recorded.served import served


def record(folder: Path) -> None:
    with tempfile.TemporaryDirectory(prefix="examples-") as work:
        files = Path(work, "files")
        files.mkdir()
        make_files(files, lambda _: None)
        with served(Path(work, "data")) as service:
            here = Recorder(service.address, files)
            calls.play(here)
            problem_calls.play(here, Path(work))
    folder.mkdir(exist_ok=True)
    for old in folder.glob("*.json"):
        old.unlink()
    for name, exchanges in here.exchanges.items():
        _write(folder / f"{name}.json", exchanges)
    _write(folder / f"{PROBLEMS_FILE}.json", here.problems)


def _write(file: Path, value: object) -> None:
    file.write_text(json.dumps(value, ensure_ascii=False, indent=1) + "\n", encoding="utf-8")


if __name__ == "__main__":
    record(Path(sys.argv[1]) if len(sys.argv) > 1 else FOLDER)
