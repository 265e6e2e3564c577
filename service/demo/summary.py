"""The results of the demo order as one Markdown page."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from service.cli.telling import plain, where

Part = tuple[str, str, Mapping[str, Any]]
"""How the file came about, the name of its result file, the check."""


def summary(parts: Sequence[Part]) -> str:
    lines = ["# The print order of Halyard Lane Bakery", "", "| File | Sent as | Verdict | Result |", "| --- | --- | --- | --- |"]
    for _, result, check in parts:
        name = check["file"]["name"]
        lines.append(f"| [{name}]({name}) | `{check['spec']['id']}` | {plain(check['verdict'])} | [{result}]({result}) |")
    for story, _, check in parts:
        lines += [
            "",
            f"## {check['file']['name']} as `{check['spec']['id']}`",
            "",
            story,
            "",
            f"**{check['summary']['headline']}**",
        ]
        for one in check["findings"]:
            lines += ["", f"* **`{one['rule']}`** ({one['level']}; {', '.join(where(one).splitlines())})<br>"]
            lines += [f"  {_escaped(one['message'])}<br>", f"  *What to do:* {_escaped(one['remedy'])}"]
    lines += ["", "Conforming is not a promise of a good print: the printer's own proof and terms decide.", ""]
    return "\n".join(lines)


def _escaped(text: str) -> str:
    """Text of a file (names of fonts and inks) must not become Markdown."""
    return "".join(f"\\{one}" if one in "\\`*_[]<>|#" else one for one in " ".join(text.split()))
