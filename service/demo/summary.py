"""The results of the demo order as one Markdown page."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from service.cli.telling import plain, where
from service.language.levels import FOUND
from service.language.spoken import say

Part = tuple[str, str, Mapping[str, Any]]
"""How the file came about, the name of its result file, the check."""


def summary(parts: Sequence[Part]) -> str:
    title, columns = say("The print order of Halyard Lane Bakery"), (say("File"), say("Sent as"), say("Verdict"), say("Result"))
    lines = [f"# {title}", "", f"| {' | '.join(columns)} |", "| --- | --- | --- | --- |"]
    for _, result, check in parts:
        name = check["file"]["name"]
        lines.append(f"| [{name}]({name}) | `{check['spec']['id']}` | {plain(check['verdict'])} | [{result}]({result}) |")
    for story, _, check in parts:
        lines += [
            "",
            f"## {say('{file} as {sheet}', file=check['file']['name'], sheet=_code(check['spec']['id']))}",
            "",
            say(story),
            "",
            f"**{check['summary']['headline']}**",
        ]
        for one in check["findings"]:
            lines += ["", f"* **`{one['rule']}`** ({say(FOUND[one['level']])}, {', '.join(where(one).splitlines())})<br>"]
            todo = say("{what}:", what=say("What to do"))
            lines += [f"  {_escaped(one['message'])}<br>", f"  *{todo}* {_escaped(one['remedy'])}"]
    lines += ["", say("Conforming is not a promise of a good print: the printer's own proof and terms decide."), ""]
    return "\n".join(lines)


def _code(text: str) -> str:
    return f"`{text}`"


def _escaped(text: str) -> str:
    """Text of a file (names of fonts and inks) must not become Markdown."""
    return "".join(f"\\{one}" if one in "\\`*_[]<>|#" else one for one in " ".join(text.split()))
