"""`print-spec single-pages`: a file's spreads cut into single pages, and the boxes that are missing written."""

from __future__ import annotations

import argparse

from service.cli.arguments import add_file, add_out, add_spec, wishes_of
from service.cli.proofs.pdfs import write_pdf
from service.proofs.single_pages.brief import SINGLE_PAGES, single_pages_brief
from service.proofs.single_pages.wishes import SinglePagesWishes


def declare(command: argparse.ArgumentParser) -> None:
    command.description = (
        "Writes the PDF as single pages: spreads cut in two, TrimBox and BleedBox where they are missing; what is painted stays "
        "as it is. Exit code: 0 written, 2 cannot be made."
    )
    add_file(command)
    add_out(command, "the PDF to write")
    add_spec(command, "the product's sheet: the size of its single page and its bleed")
    command.add_argument(
        "--spreads", metavar="PAGES", help="which pages are spreads: all, none, or such as 2-6 (default: by size)"
    )
    command.set_defaults(run=run)


def run(given: argparse.Namespace) -> int:
    return write_pdf(given, SINGLE_PAGES, single_pages_brief, wishes_of(SinglePagesWishes, given))
