"""What runs inside the sandbox where something is drawn from a file, such as an ink plate: limits first, then drawing.

What it says are the lines of `service.jobs.children.lines`.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import cast

from service.jobs.children.child import confine, errors_told
from service.jobs.children.entry import function_named
from service.jobs.children.lines import NOT_DRAWN, READY, send, send_bytes
from service.jobs.children.tasks import DrawingTask, Limits
from service.language.sentence_codec import sentence_to_data
from service.language.spoken import speaking
from service.pdf.facts.unknown import Unmeasured

Draw = Callable[[Path | None, object], bytes | Unmeasured]


def main(task: DrawingTask, limits: Limits, out: int) -> None:
    draw = cast(Draw, function_named(task.draw))
    confine(limits, out, [task.pdf] if task.pdf else [])
    send(out, READY)
    with errors_told(out), speaking(task.language):
        drawn = draw(task.pdf, task.brief)
        if isinstance(drawn, Unmeasured):
            send(out, NOT_DRAWN, json.dumps(sentence_to_data(drawn)))
        else:
            send_bytes(out, drawn)
