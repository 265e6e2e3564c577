"""What stands at the top of the repository: little, so that a newcomer finds the way, and nothing that fell there by mistake."""

from __future__ import annotations

from fnmatch import fnmatch
from pathlib import Path

TOP = Path(__file__).parent.parent
AGREED = {"README.md", "DEVELOPERS.md", "LICENSE", "Dockerfile", "pyproject.toml", "service", "specs", "tests"}


def test_the_top_level_holds_what_is_agreed() -> None:
    """Beside it only what the file of the ignored names: what is made here and not kept."""
    ignored = [line.strip("/") for line in (TOP / ".gitignore").read_text().splitlines() if line]
    here = {one.name for one in TOP.iterdir() if not one.name.startswith(".")}
    assert {name for name in here if not any(fnmatch(name, made) for made in ignored)} == AGREED
