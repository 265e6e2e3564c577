"""What differs between two recordings, for a reader."""

from __future__ import annotations

import difflib
import json
from collections.abc import Iterator
from pathlib import Path

_MOST_LINES = 12


def differences(before: Path, after: Path) -> Iterator[str]:
    """One text for each answer that differs."""
    old, new = _files(before), _files(after)
    for name in sorted(old.keys() | new.keys()):
        if name not in new:
            yield f"{name}: is no longer there"
        elif name not in old:
            yield f"{name}: is new"
        elif (was := old[name].read_bytes()) != (now := new[name].read_bytes()):
            yield f"{name}: differs\n{_how(was, now) if name.endswith('.txt') else _sizes(was, now)}"


def _files(folder: Path) -> dict[str, Path]:
    return {path.relative_to(folder).as_posix(): path for path in folder.rglob("*") if path.is_file()}


def _sizes(was: bytes, now: bytes) -> str:
    place = next((at for at, (one, other) in enumerate(zip(was, now, strict=False)) if one != other), min(len(was), len(now)))
    return f"    {len(was)} bytes before, {len(now)} after; the first that differs is byte {place}"


def _how(was: bytes, now: bytes) -> str:
    lines = _readable(was), _readable(now)
    if lines[0] == lines[1]:
        return _sizes(was, now)
    changed = [line for line in difflib.unified_diff(*lines, lineterm="", n=1) if not line.startswith(("---", "+++"))]
    shown = [f"    {line[:300]}" for line in changed[:_MOST_LINES]]
    return "\n".join([*shown, f"    … and {len(changed) - _MOST_LINES} lines more"] if len(changed) > _MOST_LINES else shown)


def _readable(answer: bytes) -> list[str]:
    """JSON one value a line."""
    lines = []
    for line in answer.decode("utf-8", "replace").splitlines():
        try:
            lines += json.dumps(json.loads(line), indent=1, ensure_ascii=False).splitlines()
        except ValueError:
            lines.append(line)
    return lines
