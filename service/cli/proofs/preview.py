"""`print-spec preview`: a file as a light PDF for the client's mail and screen."""

from __future__ import annotations

import argparse

from service.cli.arguments import add_choice, add_file, add_out, add_spec, add_whole_number, wishes_of
from service.cli.proofs.pdfs import write_pdf
from service.proofs.preview.brief import PREVIEW, preview_brief
from service.proofs.preview.wishes import PPI, QUALITY, PreviewArrangement, PreviewWishes


def declare(command: argparse.ArgumentParser) -> None:
    command.description = (
        "Writes a light PDF: pages cut to the trim, light pictures in sRGB, text kept. It is not for printing. "
        "Exit code: 0 written, 2 cannot be made."
    )
    add_file(command)
    add_out(command, "the PDF to write")
    add_spec(command, "the product's sheet: pages of bound work stand side by side")
    add_choice(command, "--arrangement", PreviewArrangement, "facing pages side by side, or alone (default: by the sheet)")
    command.add_argument("--pages", metavar="PAGES", help="such as 1-4,9-12 (default: all)")
    add_whole_number(command, "--ppi", PPI, "of pictures as placed")
    add_whole_number(command, "--quality", QUALITY, "of JPEG pictures")
    command.add_argument("--maximum-size", metavar="SIZE", help="such as 600kB: pictures are made coarser until it fits")
    command.add_argument(
        "--watermark", default=PreviewWishes.watermark, metavar="WORDS", help="across every page, such as 'For approval'"
    )
    command.set_defaults(run=run)


def run(given: argparse.Namespace) -> int:
    return write_pdf(given, PREVIEW, preview_brief, wishes_of(PreviewWishes, given))
