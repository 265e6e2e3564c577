"""Other people's files, from a folder that is not part of the project."""

from __future__ import annotations

from pathlib import Path

from tests.recorded.check_calls import check_file
from tests.recorded.files import Made
from tests.recorded.recorder import Recorder

_MOST_BYTES = 400_000
_EVERY = 5


def play(here: Recorder, folder: Path) -> None:
    files = [path for path in sorted(folder.glob("*.pdf")) if path.stat().st_size <= _MOST_BYTES]
    for number, path in enumerate(files[::_EVERY]):
        made = Made(path.stem, path.read_bytes(), ("flyer-a4",))
        check_file(here.inside(f"corpus/{path.stem}"), made, thorough=number % 4 == 0)
