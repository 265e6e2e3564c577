"""Everything in its order, and what was left out."""

from __future__ import annotations

import re
import sys
import time
from collections.abc import Callable, Collection
from pathlib import Path

from tests.recorded import (
    check_calls,
    client_calls,
    command_calls,
    corpus_calls,
    page_calls,
    spec_calls,
    token_calls,
    trouble_calls,
)
from tests.recorded.files import Made, made
from tests.recorded.recorder import Recorder
from tests.recorded.served import served

ROOMS = ("specs", "checks", "demo", "pages", "tokens", "client", "commands", "trouble", "corpus")
SPECS_OF_THE_DEMO = {"card": "business-card-85x55", "letterhead": "letterhead-a4", "brochure": "booklet-a5-stapled"}


def play(folder: Path, work: Path, rooms: Collection[str] = ROOMS, corpus: Path | None = None) -> list[str]:
    """Records into the folder; gives the addresses of /openapi.json that were not played though every room was."""
    folder.mkdir(parents=True, exist_ok=True)
    files = made()
    with served(work / "data") as service:
        here = Recorder(folder, service.address)
        parts: dict[str, Callable[[], None]] = {
            "specs": lambda: spec_calls.play(here, files),
            "checks": lambda: check_calls.play(here, files),
            "demo": lambda: _demo(here, work),
            "pages": lambda: page_calls.play(here, files),
            "tokens": lambda: token_calls.play(here, files[0], work),
            "client": lambda: client_calls.play(here, files[0]),
            "commands": lambda: command_calls.play(here, files, work),
            "trouble": lambda: trouble_calls.play(here, files[0], work),
            "corpus": lambda: corpus_calls.play(here, corpus) if corpus else None,
        }
        for room in ROOMS:
            if room in rooms:
                started = time.monotonic()
                parts[room]()
                print(f"{room}: {time.monotonic() - started:.0f} s", file=sys.stderr)
        description = here.session.get(f"{here.address}/openapi.json", timeout=60).json()
        kinds = {one["type"] for one in here.session.get(f"{here.address}/problems", timeout=60).json()["problems"]}
    if set(ROOMS) - {"corpus"} <= set(rooms):
        print("Problems that no call met:", *sorted(kinds - here.problems), file=sys.stderr)
        return not_played(description["paths"], here.played)
    return []


def _demo(here: Recorder, work: Path) -> None:
    for path in command_calls.demo(here, work / "demo"):
        made = Made(path.stem, path.read_bytes(), (SPECS_OF_THE_DEMO[path.stem.split("-")[0]],))
        check_calls.check_file(
            here.inside(f"demo/{path.stem}"), made, thorough=path.stem in ("card-no-bleed", "letterhead-guide-copy")
        )


def not_played(described: dict[str, dict[str, object]], played: Collection[tuple[str, str]]) -> list[str]:
    """Of two addresses that fit, the one with fewer blanks was meant."""
    forms = sorted(described, key=lambda form: form.count("{"))
    patterns = {form: re.compile(re.sub(r"\\{\w+\\}", "[^/]+", re.escape(form))) for form in forms}
    met = {(method, next((form for form in forms if patterns[form].fullmatch(path)), path)) for method, path in played}
    methods = ("get", "put", "post", "delete", "patch")
    wanted = [(way.upper(), form) for form, ways in described.items() for way in ways if way in methods]
    return [f"{method} {form}" for method, form in wanted if (method, form) not in met]
