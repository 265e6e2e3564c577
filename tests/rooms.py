"""The table of rooms in DEVELOPERS.md, drawn from the code: `python -m tests.rooms` writes it, `--check` only looks.

A room is a package of `service/`. What it is for is its docstring; what it stands on are the rooms that its modules import.
"""

from __future__ import annotations

import ast
import sys
from pathlib import Path

ROOT = Path(__file__).parents[1]
GUIDE = ROOT / "DEVELOPERS.md"
BEGIN, END = "<!-- rooms: python -m tests.rooms -->", "<!-- end of rooms -->"


def main(arguments: list[str]) -> int:
    """0 where the guide says what the code has."""
    text = GUIDE.read_text(encoding="utf-8")
    told = with_table(text)
    if told == text:
        return 0
    if "--check" in arguments:
        print("The table of rooms in DEVELOPERS.md is not that of the code: run `python -m tests.rooms`", file=sys.stderr)
        return 1
    GUIDE.write_text(told, encoding="utf-8")
    return 0


def with_table(text: str) -> str:
    """The guide with the rooms as they are now between the two marks."""
    before, _, rest = text.partition(BEGIN)
    _, _, after = rest.partition(END)
    return f"{before}{BEGIN}\n{table()}\n{END}{after}"


def table() -> str:
    service = ROOT / "service"
    rooms = sorted(path.parent for path in service.glob("*/__init__.py"))
    rows = ["| room | what it is for | stands on |", "| --- | --- | --- |"]
    for room in rooms:
        stands_on = sorted(used_by(room) - {room.name})
        rows.append(f"| `{room.name}/` | {purpose(room)} | {', '.join(stands_on) or 'nothing'} |")
        inner = sorted(path.parent for path in room.rglob("*/__init__.py") if path.parent != room)
        rows += [f"| `{one.relative_to(service).as_posix()}/` | {purpose(one)} | |" for one in inner]
    return "\n".join(rows)


def purpose(room: Path) -> str:
    """The first paragraph of its docstring, as one line of a table."""
    said = ast.get_docstring(ast.parse((room / "__init__.py").read_text(encoding="utf-8"))) or ""
    return " ".join(said.split("\n\n")[0].split()).replace("|", "\\|")


def used_by(room: Path) -> set[str]:
    """Names of the rooms that its modules import."""
    names: set[str] = set()
    for path in room.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.ImportFrom) and node.module:
                names |= {f"{node.module}.{alias.name}" for alias in node.names}
            elif isinstance(node, ast.Import):
                names |= {alias.name for alias in node.names}
    rooms = {path.parent.name for path in room.parent.glob("*/__init__.py")}
    return {parts[1] for parts in (name.split(".") for name in names) if parts[0] == "service" and len(parts) > 1} & rooms


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
