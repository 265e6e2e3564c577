"""`print-spec sheets read-template`: what a printer's empty document asks, as a draft of a sheet."""

from __future__ import annotations

import argparse
import json
from typing import Any

from service.answers.template_child import READ, TemplateBrief
from service.cli.arguments import add_file
from service.cli.files import disturbed, workbench_for
from service.cli.refused import Refused
from service.jobs.children.tasks import DrawingTask
from service.language.first_words import begun_after_colon
from service.language.spoken import say, spoken
from service.language.wording import on_one_line, reason
from service.pdf.facts.unknown import Unmeasured

NOTHING_READ = 1
_LONGEST_LINE = 300


def declare(command: argparse.ArgumentParser) -> None:
    add_file(command)
    command.add_argument("--json", action="store_true", help="with where each value comes from, as JSON")
    command.set_defaults(run=run)


def run(given: argparse.Namespace) -> int:
    """The draft as YAML, what is open as comments. 0 where something was read, 1 where nothing was.

    Raises `Refused` where it cannot be.
    """
    with workbench_for(given.file) as (workbench, path):
        answered = workbench.drawn(DrawingTask(pdf=path, brief=TemplateBrief(spoken()), draw=READ))
    if isinstance(answered, Unmeasured):
        why = begun_after_colon(reason(answered))
        raise Refused(say("{file} cannot be measured: {reason}", file=str(given.file), reason=why))
    match json.loads(answered):
        case {"read": dict(reading)}:
            print(json.dumps(reading, ensure_ascii=False)) if given.json else print(_draft(reading), end="")
            return 0 if reading["draft"] else NOTHING_READ
        case {"refused": str(why)}:
            raise Refused(say("{file} cannot be measured: {reason}", file=str(given.file), reason=begun_after_colon(why)))
        case _:
            raise disturbed(given.file)


def _draft(reading: dict[str, Any]) -> str:
    """A sheet file: the draft, and around it as comments what a person has to look at."""
    lines = [f"# {one['pointer'][1:].replace('/', '.')}: {_short(one['source'])}" for one in reading["values"]]
    lines += ["", reading["draft_yaml"].rstrip(), ""] if reading["draft"] else ["# " + say("Nothing was read."), ""]
    lines += [
        "# " + say("Open ({about}): {question}", about=one["about"], question=_short(f"{one['question']} ({one['source']})"))
        for one in reading["questions"]
    ]
    return "\n".join(lines).rstrip() + "\n"


def _short(text: str) -> str:
    return on_one_line(text, _LONGEST_LINE)
