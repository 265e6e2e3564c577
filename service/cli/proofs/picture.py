"""`print-spec picture`: every page of a file as it will print, with its boxes and what was found, as pictures in a folder."""

from __future__ import annotations

import sys
from pathlib import Path

from service.cli.files import NotRead, asking_about, refused
from service.cli.sheets.sheets import sheet_named
from service.jobs.asking import Asking
from service.jobs.children.drawing_child import DrawingTask
from service.jobs.question import question_for
from service.pdf.facts.unknown import Unmeasured
from service.proofs.picture.page_brief import PICTURE, PictureAsked, read_picture
from service.proofs.picture.page_markup import picture_asked, shown_named
from service.rules.judge import judge


def write_pictures(file: Path, folder: Path, *, spec: str, ppi: int, show: str) -> int:
    """0 where every page's picture was written, 2 where one cannot be had; the reason goes to stderr."""
    sheet = sheet_named(spec)
    if isinstance(sheet, list):
        return refused(*sheet)
    shown = shown_named(show)
    if shown is None:
        return refused("Write after --show what is to be drawn: boxes,findings, one of the two, or none.")
    try:
        with asking_about(file) as (asking, path):
            measured = asking.everything(path, question_for(sheet))
            if isinstance(measured.pages, Unmeasured):
                raise NotRead(measured.pages.why)
            findings = judge(measured, sheet).findings
            folder.mkdir(parents=True, exist_ok=True)
            for page in measured.pages:
                name = folder / f"page-{page.number}.png"
                name.write_bytes(_picture(asking, path, picture_asked(page, sheet, findings, ppi, shown)))
                print(name)
    except NotRead as error:
        return refused(str(error))
    except ValueError:  # what came back from the sandbox is nothing that ours draws
        return refused(f"{file} disturbs the drawing process; its answer cannot be trusted.")
    return 0


def _picture(asking: Asking, path: Path, asked: PictureAsked) -> bytes:
    drawn = asking.drawn(DrawingTask(pdf=path, asked=asked, draw=PICTURE))
    if isinstance(drawn, Unmeasured):
        raise NotRead(f"Page {asked.page.number}: {drawn.why}")
    made, png = read_picture(drawn, asked)
    if made.of == "rendering":
        print(f"Page {asked.page.number}: its ink plates cannot be made; shown without overprint.", file=sys.stderr)
    return png
