"""`print-spec sheets template`: an empty document to start from, as a sheet asks for it."""

from __future__ import annotations

import argparse

from service.cli.arguments import add_order, add_out, from_1
from service.cli.refused import Refused
from service.cli.sheets.named import stored_or_from_file, with_order
from service.language.spoken import say
from service.language.wording import reason
from service.pdf.facts.unknown import Unmeasured
from service.product.flat_pages import FlatPage
from service.proofs.report.sheet import sheet_titled
from service.proofs.template.pages import template_pages
from service.proofs.template.svg import template_svg


def declare(command: argparse.ArgumentParser) -> None:
    command.add_argument("sheet", metavar="ID_OR_FILE", help="a stored sheet's id, or a sheet of your own (YAML or JSON)")
    add_out(command, "the .pdf to write, or an .svg of its first page")
    command.add_argument("--pages", type=from_1, metavar="COUNT", help="how many (default: as few as the sheet takes)")
    add_order(command)
    command.set_defaults(run=run)


def run(given: argparse.Namespace) -> int:
    """0 written. Raises `Refused`."""
    kind = given.out.suffix.lower()
    if kind not in (".pdf", ".svg"):
        raise Refused(say("{out} says no format: name it .svg or .pdf.", out=str(given.out)))
    sheet = with_order(stored_or_from_file(given.sheet), given.order)
    pages = template_pages(sheet, given.pages)
    if isinstance(pages, Unmeasured):
        raise Refused(reason(pages))
    title = sheet_titled(sheet)
    made = _as_pdf(pages, title) if kind == ".pdf" else template_svg(pages[0], title)
    given.out.write_bytes(made)
    return 0


def _as_pdf(pages: tuple[FlatPage, ...], title: str) -> bytes:
    from service.proofs.template.pdf import template_pdf  # its libraries take longer to load than the rest to run

    return template_pdf(pages, title)
