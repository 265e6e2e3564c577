"""`print-spec dummy`: a file as a dummy to print, fold and staple on a desk."""

from __future__ import annotations

import argparse

from service.cli.arguments import add_choice, add_file, add_out, add_spec, wishes_of
from service.cli.proofs.pdfs import write_pdf
from service.language.spoken import say
from service.proofs.dummy.brief import DUMMY, dummy_brief
from service.proofs.dummy.imposition import BlanksPlace
from service.proofs.dummy.wishes import THICKEST_LEAF_MM, DummyWishes, Flip, PaperName


def declare(command: argparse.ArgumentParser) -> None:
    command.description = "Writes a PDF with front and back of each sheet in turn. Exit code: 0 written, 2 cannot be made."
    add_file(command)
    add_out(command, "the PDF to write")
    add_spec(command, "the product's sheet: its folds, its spine, its size of page")
    add_choice(command, "--paper", PaperName, "default: A4, or Letter by the sheet's regions")
    add_choice(command, "--flip", Flip, "edge about which the printer turns the paper", usual=DummyWishes.flip)
    add_choice(
        command,
        "--blanks",
        BlanksPlace,
        "where blank pages go that make the count a multiple of four",
        usual=DummyWishes.blanks,
    )
    command.add_argument(
        "--caliper-mm",
        type=_caliper,
        default=DummyWishes.caliper_mm,
        metavar="MM",
        help="thickness of a leaf: inner pages move towards the fold by it",
    )
    command.set_defaults(run=run)


def run(given: argparse.Namespace) -> int:
    return write_pdf(given, DUMMY, dummy_brief, wishes_of(DummyWishes, given))


def _caliper(text: str) -> float:
    try:
        caliper = float(text)
    except ValueError:
        caliper = -1.0
    if not 0 <= caliper <= THICKEST_LEAF_MM:
        raise argparse.ArgumentTypeError(
            say("write the thickness of a leaf in millimetres, 0 to {most}, such as 0.11", most=f"{THICKEST_LEAF_MM:g}")
        )
    return caliper
