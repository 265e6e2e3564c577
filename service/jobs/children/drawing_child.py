"""What runs inside the sandbox where something is drawn from a file, such as an ink plate: limits first, then bytes over a pipe.

The lines are those of `child`: `R` ready, `E` an error of Python; beside them `N` (with the reason) where it cannot
be drawn, and `B` with a length, after which follow so many bytes of whatever was drawn.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass
from multiprocessing.connection import Connection
from pathlib import Path
from typing import cast

from service.jobs.children.child import Limits, confine, errors_told, function_named, send, send_bytes
from service.language.sentence_codec import sentence_to_data
from service.pdf.facts.document_facts import Unmeasured

Draw = Callable[[Path, object], bytes | Unmeasured]


@dataclass(frozen=True, kw_only=True)
class DrawingTask:
    pdf: Path
    brief: object
    """A frozen record that the drawing function knows."""
    draw: str
    """Module and function that draws."""


def main(task: DrawingTask, limits: Limits, pipe: Connection) -> None:
    out = pipe.fileno()
    confine(limits, out)
    draw = cast(Draw, function_named(task.draw))
    send(out, b"R", "{}")
    with errors_told(out):
        drawn = draw(task.pdf, task.brief)
        if isinstance(drawn, Unmeasured):
            send(out, b"N", json.dumps(sentence_to_data(drawn)))
        else:
            send(out, b"B", str(len(drawn)))
            send_bytes(out, drawn)
