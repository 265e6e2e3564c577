"""`print-spec sheets drawing`: a sheet's product to scale, with its measures."""

from __future__ import annotations

import argparse

from service.cli.arguments import add_choice, add_order, add_out
from service.cli.refused import Refused
from service.cli.sheets.named import stored_or_from_file, with_order
from service.language.spoken import say
from service.language.wording import reason
from service.pdf.facts.unknown import Unmeasured
from service.proofs.drawing.shapes import SheetDrawing
from service.proofs.drawing.sheet_drawing import Units, sheet_drawing
from service.proofs.drawing.svg import drawing_svg


def declare(command: argparse.ArgumentParser) -> None:
    command.add_argument("sheet", metavar="ID_OR_FILE", help="a stored sheet's id, or a sheet of your own (YAML or JSON)")
    add_out(command, "the .svg or .pdf to write")
    add_choice(command, "--units", Units, "what the measures are written in", usual="mm")
    add_order(command)
    command.set_defaults(run=run)


def run(given: argparse.Namespace) -> int:
    """0 written. Raises `Refused`."""
    kind = given.out.suffix.lower()
    if kind not in (".svg", ".pdf"):
        raise Refused(say("{out} says no format: name it .svg or .pdf.", out=str(given.out)))
    drawing = sheet_drawing(with_order(stored_or_from_file(given.sheet), given.order), given.units)
    if isinstance(drawing, Unmeasured):
        raise Refused(reason(drawing))
    made = drawing_svg(drawing) if kind == ".svg" else _as_pdf(drawing)
    given.out.write_bytes(made)
    return 0


def _as_pdf(drawing: SheetDrawing) -> bytes:
    from service.proofs.drawing.pdf import drawing_pdf  # its library takes longer to load than the rest to run

    return drawing_pdf(drawing)
