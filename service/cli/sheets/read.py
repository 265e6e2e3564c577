"""`print-spec sheets read`: what a printer's published text asks, as a draft of a sheet."""

from __future__ import annotations

import argparse
import json
from pathlib import Path
from typing import Any

from service.answers.readings import reading_answer
from service.cli.files import workbench_for
from service.cli.refused import Refused
from service.cli.unreadable import why
from service.language.spoken import say
from service.language.wording import stored_size
from service.pdf.header import HEADER_WITHIN_BYTES, starts_as_pdf
from service.sheets.prose.drafts import LONGEST_PAGE_BYTES, ProseRefused, longest_bytes
from service.sheets.prose.printed_text import text_of
from service.sheets.prose.reading import read_prose

NOTHING_READ = 1


def declare(command: argparse.ArgumentParser) -> None:
    command.add_argument("file", type=Path, metavar="FILE", help="a text, an HTML page or a PDF")
    command.add_argument("--product", metavar="NAME", help="the draft for one product of the text, as it is named there")
    command.add_argument("--json", action="store_true", help="with the place of each value, as JSON")
    command.set_defaults(run=run)


def run(given: argparse.Namespace) -> int:
    """The draft as YAML, what is open as comments. 0 where something was read, 1 where nothing was.

    Raises `Refused` where it cannot be.
    """
    text, media_type = _text(given.file)
    try:
        answer = reading_answer(read_prose(text, media_type))
    except ProseRefused as refused:
        raise Refused(refused.said_of(str(given.file))) from refused
    chosen = _chosen(answer, given.product)
    print(json.dumps(answer, ensure_ascii=False)) if given.json else print(_draft(answer, chosen), end="")
    return 0 if chosen["draft"] else NOTHING_READ


def _chosen(answer: dict[str, Any], product: str | None) -> dict[str, Any]:
    """Raises `Refused` where the text names no such product."""
    drafts: list[dict[str, Any]] = answer["drafts"]
    if product is None:
        return drafts[0]
    named = [one for one in drafts[1:] if str(one["product"]).casefold() == product.casefold()]
    if not named:
        names = ", ".join(str(one["product"]) for one in drafts[1:]) or "-"
        raise Refused(say("The text has no draft for {product}. It has: {names}.", product=repr(product), names=names))
    return named[0]


def _text(file: Path) -> tuple[str, str]:
    """The text and its media type. Raises `Refused`."""
    try:
        with file.open("rb") as opened:
            head = opened.read(LONGEST_PAGE_BYTES + 1)
    except OSError as error:
        raise Refused(say("{file} cannot be read: {reason}.", file=str(file), reason=why(error))) from error
    if starts_as_pdf(head[:HEADER_WITHIN_BYTES]):
        with workbench_for(file) as (workbench, path):
            text = text_of(workbench.everything(path))
        if not text:
            raise Refused(
                say("{file} holds no text that can be read, only pictures of it perhaps. Save the text itself.", file=str(file))
            )
        return text, "text/plain"
    media_type = "text/html" if file.suffix.lower() in (".html", ".htm") else "text/plain"
    if len(head) > longest_bytes(media_type):
        longest = stored_size(longest_bytes(media_type))
        raise Refused(
            say("{file} is longer than {longest}: keep only the part that says how files are to be made.",
                file=str(file), longest=longest)
        )
    try:
        text = head.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise Refused(say("{file} is no text in UTF-8: save it as UTF-8 and try again.", file=str(file))) from error
    return text, media_type


def _draft(answer: dict[str, Any], chosen: dict[str, Any]) -> str:
    """A sheet file: the draft, and around it as comments what a person has to look at."""
    lines = ["# " + say("A draft. Compare each value with the printer's own text; that text decides.")]
    lines += [f"# {one['pointer'][1:].replace('/', '.')}: {_one_line(one['quote'])}" for one in chosen["values"]]
    lines += ["", chosen["draft_yaml"].rstrip(), ""] if chosen["draft"] else ["", "# " + say("Nothing was read."), ""]
    lines += ["# " + say("Not understood: {quote}", quote=_one_line(one["quote"])) for one in answer["not_understood"]]
    lines += [
        "# " + say("Open ({about}): {question}", about=one["about"], question=_one_line(one["question"]))
        for one in answer["questions"]
    ]
    lines += [
        "# " + say("Another draft, for {product}: {option}", product=one["product"], option=f"--product {one['product']!r}")
        for one in answer["drafts"][1:]
    ]
    return "\n".join(lines).rstrip() + "\n"


def _one_line(text: str) -> str:
    return " ".join("".join(one if one.isprintable() else " " for one in text).split())
