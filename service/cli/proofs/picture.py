"""`print-spec picture`: every page of a file as it will print, with its boxes and what was found, as pictures in a folder."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from service.cli.arguments import add_file, add_out, add_spec, add_whole_number
from service.cli.files import disturbed, workbench_for
from service.cli.refused import Refused
from service.cli.sheets.named import stored_or_from_file
from service.jobs.children.tasks import DrawingTask
from service.jobs.question import question_for
from service.jobs.workbench import Workbench
from service.language.first_words import begun_after_colon
from service.language.spoken import say
from service.language.wording import reason
from service.pdf.facts.unknown import Unmeasured
from service.proofs.picture.markers.page_markup import picture_brief
from service.proofs.picture.page_brief import PICTURE, PictureBrief, read_picture
from service.proofs.picture.wishes import SHOWN, PictureWishes, shown_named
from service.proofs.wishes import PAGE_PPI
from service.rules.judge import judge

_SHOWN = f"{','.join(SHOWN)}, one of the two, or none"


def declare(command: argparse.ArgumentParser) -> None:
    command.description = "Writes one PNG for each page, a legend below it. Exit code: 0 written, 2 cannot be made."
    add_file(command)
    add_spec(command, "the sheet that the file is checked against", required=True)
    add_out(command, "where the pictures go", metavar="FOLDER")
    add_whole_number(command, "--ppi", PAGE_PPI, "pixels an inch")
    command.add_argument("--show", default=",".join(PictureWishes.shown), metavar="WHAT", help=f"{_SHOWN} (default: both)")
    command.set_defaults(run=run)


def run(given: argparse.Namespace) -> int:
    """0 where every page's picture was written. Raises `Refused` where one cannot be had."""
    sheet, shown = stored_or_from_file(given.spec), shown_named(given.show)
    if shown is None:
        raise Refused(say("Write after --show what is to be drawn: {words}.", words=_SHOWN))
    wishes = PictureWishes(given.ppi, shown)
    with workbench_for(given.file) as (workbench, path):
        measured = workbench.everything(path, question_for(sheet))
        if isinstance(measured.pages, Unmeasured):
            raise Refused(reason(measured.pages))
        findings = judge(measured, sheet).findings
        given.out.mkdir(parents=True, exist_ok=True)
        for page in measured.pages:
            name = given.out / f"page-{page.number}.png"
            name.write_bytes(_picture(workbench, path, picture_brief(page, sheet, findings, wishes)))
            print(name)
    return 0


def _picture(workbench: Workbench, path: Path, brief: PictureBrief) -> bytes:
    drawn = workbench.drawn(DrawingTask(pdf=path, brief=brief, draw=PICTURE))
    if isinstance(drawn, Unmeasured):
        raise Refused(say("Page {page}: {reason}", page=brief.page.number, reason=begun_after_colon(reason(drawn))))
    try:
        made, png = read_picture(drawn, brief)
    except ValueError as error:
        raise disturbed(path) from error
    if made.of == "rendering":
        told = say("Page {page}: its separations cannot be made; shown without overprint.", page=brief.page.number)
        print(told, file=sys.stderr)
    return png
