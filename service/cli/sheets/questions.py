"""`print-spec sheets match` and `print-spec sheets read`: what a PDF could be, and what a published text asks."""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import Any

from rich import box
from rich.table import Table
from rich.text import Text

from service.answers.matches import match_answer, size_answers
from service.answers.readings import reading_answer
from service.cli.files import NotRead, asking_about
from service.cli.telling import console
from service.pdf.document.whole import starts_as_pdf
from service.pdf.facts.measurements import Measurements, Unmeasured
from service.sheets.catalogue import select, stored_sheets
from service.sheets.matching import rank
from service.sheets.printed_text import text_of
from service.sheets.prose.reading import LONGEST_TEXT_BYTES, ProseRefused, read_prose

NOT_READ = 2
_MOST_SHOWN = 10
_MOST_NEAREST = 3


def match_file(file: Path, region: str | None, *, as_json: bool) -> int:
    """0 where the file fits a stored sheet, 1 where it fits none, 2 where it cannot be read."""
    try:
        measurements = _measured(file, sizes_only=True)
        pages = measurements.pages
        if isinstance(pages, Unmeasured):
            raise NotRead(f"{file} cannot be measured: {pages.why}")
    except NotRead as error:
        return _refuse(error)
    ranked = rank(measurements, (stored_sheets()[one["id"]] for one in select(region=region)))
    fitting = [one for one in ranked if one.fits]
    short = {one.sheet.id: {"id": one.sheet.id, "title": one.sheet.title} for one in ranked}
    answer = {
        "page_count": len(pages),
        "sizes": size_answers(pages),
        "matches": [match_answer(one, short) for one in fitting[:_MOST_SHOWN]],
        "nearest": [] if fitting else [match_answer(one, short) for one in ranked[:_MOST_NEAREST]],
    }
    print(json.dumps(answer, ensure_ascii=False)) if as_json else _show_matches(answer)
    return 0 if fitting else 1


def read_file(file: Path, *, as_json: bool) -> int:
    """The draft as YAML, what is open as comments. 0 where something was read, 1 where nothing was, 2 where it cannot be."""
    try:
        text, media_type = _text(file)
        answer = reading_answer(read_prose(text, media_type))
    except (NotRead, ProseRefused) as error:
        return _refuse(NotRead(error.said_of(str(file))) if isinstance(error, ProseRefused) else error)
    print(json.dumps(answer, ensure_ascii=False)) if as_json else print(_draft(answer), end="")
    return 0 if answer["draft"] else 1


def _refuse(error: NotRead) -> int:
    print(error, file=sys.stderr)
    return NOT_READ


def _measured(file: Path, *, sizes_only: bool) -> Measurements:
    """In the sandbox, as the service does. Raises `NotRead`."""
    with asking_about(file) as (asking, path):
        return asking.sizes(path) if sizes_only else asking.everything(path)


def _text(file: Path) -> tuple[str, str]:
    """The text and its media type. Raises `NotRead`."""
    try:
        with file.open("rb") as opened:
            head = opened.read(LONGEST_TEXT_BYTES + 1)
    except OSError as error:
        raise NotRead(f"{file} cannot be read: {error.strerror}.") from error
    if starts_as_pdf(head[:1024]):
        text = text_of(_measured(file, sizes_only=False))
        if not text:
            raise NotRead(f"{file} holds no text that can be read, only pictures of it perhaps. Save the text itself.")
        return text, "text/plain"
    if len(head) > LONGEST_TEXT_BYTES:
        raise NotRead(f"{file} is longer than 200 kB: keep only the part that says how files are to be made.")
    try:
        text = head.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise NotRead(f"{file} is no text in UTF-8: save it as UTF-8 and try again.") from error
    return text, "text/html" if file.suffix.lower() in (".html", ".htm") else "text/plain"


# --- For a person at a terminal ---------------------------------------------------------------------------------------


def _show_matches(answer: dict[str, Any]) -> None:
    screen = console()
    for size in answer["sizes"]:
        count = size["page_count"]
        screen.print(f"{count} page{'s' * (count != 1)} of {size['width_mm']:g} × {size['height_mm']:g} mm")
    table = Table(show_edge=False, pad_edge=False, box=box.SIMPLE_HEAD)
    for heading in ("Id", "Title", "Speaks for it", "Speaks against it"):
        table.add_column(heading, overflow="fold")
    if not answer["matches"]:
        screen.print("No stored sheet fits. The nearest:")
    for one in answer["matches"] or answer["nearest"]:
        reasons = [" ".join(reason["says"] for reason in one[side]) for side in ("fits", "against")]
        table.add_row(*(Text(text or "") for text in (one["spec"]["id"], one["spec"]["title"], *reasons)))
    screen.print(table)


def _draft(answer: dict[str, Any]) -> str:
    """A sheet file: the draft, and around it as comments what a person has to look at."""
    lines = ["# A draft. Compare each value with the printer's own text; that text decides."]
    lines += [f"# {one['pointer'][1:].replace('/', '.')}: {_one_line(one['quote'])}" for one in answer["values"]]
    lines += ["", answer["draft_yaml"].rstrip(), ""] if answer["draft"] else ["", "# Nothing was read.", ""]
    lines += [f"# Not understood: {_one_line(one['quote'])}" for one in answer["not_understood"]]
    lines += [f"# Open ({one['about']}): {_one_line(one['question'])}" for one in answer["questions"]]
    return "\n".join(lines).rstrip() + "\n"


def _one_line(text: str) -> str:
    return " ".join("".join(one if one.isprintable() else " " for one in text).split())
