"""The commands of `print-spec`. The module of the one that is chosen declares its arguments; the others are not even imported."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from importlib import import_module

from service.cli.command_line import CommandLine

COMMANDS: dict[str, tuple[str | None, str]] = {
    "serve": ("running.serve", "run the HTTP service"),
    "work": ("running.work", "run checks that other machines accept"),
    "backup": ("running.backup", "what the service keeps, as one file"),
    "restore": ("running.restore", "put a back-up into a new data folder"),
    "demo": ("demo", "see it work on a bakery's print order"),
    "check": ("check", "check PDFs on this machine"),
    "report": ("proofs.report", "the result of a check to read, print and pass on, as HTML or PDF"),
    "picture": ("proofs.picture", "every page as it will print, with what was found, as pictures"),
    "plates": ("proofs.plates", "the separations of a page as pictures"),
    "single-pages": ("proofs.single_pages", "cut spreads into single pages, and write the boxes that are missing"),
    "preview": ("proofs.preview", "a light PDF for the client's mail and screen"),
    "dummy": ("proofs.dummy", "a booklet, leaflet or cover to print, fold and staple on a desk"),
    "sheets": (None, "list, show, test, match and read spec sheets"),
    "sheets list": ("sheets.list", "the stored sheets"),
    "sheets show": ("sheets.show", "one stored sheet, as YAML or as prose"),
    "sheets drawing": ("sheets.drawing", "a sheet's product drawn to scale with its measures, as SVG or PDF"),
    "sheets template": ("sheets.template", "an empty document to start from, as PDF or SVG"),
    "sheets catalogue": ("sheets.catalogue", "is this file a valid catalogue, and of which sheets? exit code 0 yes, 1 no"),
    "sheets schema": ("sheets.schema", "the form of a sheet as JSON Schema, for editors"),
    "sheets match": ("sheets.match", "which products does this PDF look like? exit code 0 some, 1 none, 2 cannot be read"),
    "sheets read": ("sheets.read", "a printer's published text as a draft of a sheet, to be looked over by a person"),
    "sheets read-template": ("sheets.read_template", "a printer's empty document as a draft of a sheet, to be looked over"),
    "sheets check-file": ("sheets.check_file", "is this file a valid sheet? exit code 0 yes, 1 no"),
    "rules": ("rules", "list what is judged"),
    "keys": (None, "make, list and turn off API keys of the service on this machine"),
    "keys make": ("keys.make", "a new key; it is shown once"),
    "keys list": ("keys.list", "all keys, by their first letters"),
    "keys turn-off": ("keys.turn_off", "turn a key off"),
    "keys limits": ("keys.limits", "what an account may use"),
    "keys callbacks": ("keys.callbacks", "where callbacks of an account go"),
    "audit": ("running.audit", "who did what"),
}
"""Its module, which declares its arguments and what runs it (None: there are others below it); what `--help` says of it."""


_IN_ENGLISH = {"serve", "work", "backup", "restore", "sheets schema"}
"""Commands that say nothing to a reader, or what stands in a file."""


def parser_for(arguments: Sequence[str]) -> argparse.ArgumentParser:
    parser = CommandLine(
        prog="print-spec",
        description="Measures a print PDF, judges it against a printer's spec sheet, and says what to put right and where.",
        epilog="Settings come from the environment (PRINT_SPEC_…); a running service lists them under /docs/settings.",
    )
    groups = {"": parser.add_subparsers(title="commands", metavar="COMMAND", required=True)}
    for name, (module, told_of_it) in COMMANDS.items():
        group, _, last = name.rpartition(" ")
        command = groups[group].add_parser(last, help=told_of_it)
        if module is None:
            groups[name] = command.add_subparsers(title="commands", metavar="COMMAND", required=True)
        elif [*arguments[: name.count(" ") + 1]] == name.split():
            import_module(f"service.cli.{module}").declare(command)
            if name not in _IN_ENGLISH:
                from service.cli.arguments import add_language  # not for `--help`, which loads nothing

                add_language(command)
    return parser
