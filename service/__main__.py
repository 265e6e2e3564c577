"""The command `print-spec`. What a command needs is imported when it runs, so that help is quick."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable, Sequence
from pathlib import Path

CONFORMS, DOES_NOT_CONFORM, NOT_CHECKED = 0, 1, 2
"""Exit codes of `check`; with several files the highest. 2 is also a command line that was not understood."""


def main(arguments: Sequence[str] | None = None) -> int:
    asked = _parser().parse_args(arguments)
    try:
        return int(asked.run(asked))
    except KeyboardInterrupt:
        print("Stopped.", file=sys.stderr)
        return NOT_CHECKED
    except BrokenPipeError:  # the reader of our output went away: `print-spec rules | head`
        sys.stderr.close()
        return NOT_CHECKED


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="print-spec",
        description="Measures a print PDF, judges it against a printer's spec sheet, and says what to put right and where.",
        epilog="Settings come from the environment (PRINT_SPEC_…); the README lists them.",
    )
    commands = parser.add_subparsers(title="commands", metavar="COMMAND", required=True)

    serve = commands.add_parser("serve", help="run the HTTP service", description="Run the HTTP service until it is stopped.")
    serve.add_argument("--host", default="127.0.0.1", help="address to listen on (default: this machine only)")
    serve.add_argument("--port", type=_port, default=8000, help="port to listen on (default: 8000)")
    serve.set_defaults(run=_serve)

    demo = commands.add_parser(
        "demo",
        help="see it work on a bakery's print order",
        description="Makes a bakery's print order, sends each file over HTTP to a service of its own, and shows the results.",
    )
    demo.add_argument(
        "--out",
        type=Path,
        default=Path("demo-results"),
        metavar="FOLDER",
        help="where files and results go (default: ./demo-results)",
    )
    demo.add_argument("--serve", action="store_true", help="instead: a shop's pages, to send the files from in a browser")
    demo.add_argument("--port", type=_port, default=8010, help="with --serve: the shop's port (default: 8010)")
    demo.set_defaults(run=_demo)

    check = commands.add_parser(
        "check",
        help="check PDFs on this machine",
        description="Checks PDFs against one sheet. Exit code: 0 conforming, 1 nonconforming, 2 not checked or not decided.",
    )
    check.add_argument("files", nargs="+", type=Path, metavar="FILE", help="a PDF")
    check.add_argument(
        "--spec", required=True, metavar="ID_OR_FILE", help="a stored sheet's id, or a sheet of your own (YAML or JSON)"
    )
    _add_order(check)
    check.add_argument("--json", action="store_true", help="the results as JSON, one object a line")
    check.add_argument("--lang", choices=("en", "de", "fr"), default="en", help="language of the words (default: en)")
    check.set_defaults(run=_check)

    _add_report(commands.add_parser("report", help="the result of a check to read, print and pass on, as HTML or PDF"))
    _add_picture(commands.add_parser("picture", help="every page as it will print, with what was found, as pictures"))
    _add_plates(commands.add_parser("plates", help="the ink plates of a page as pictures"))
    _add_single_pages(
        commands.add_parser("single-pages", help="cut spreads into single pages, and write the boxes that are missing")
    )
    _add_preview(commands.add_parser("preview", help="a light PDF for the client's mail and screen"))
    _add_dummy(commands.add_parser("dummy", help="a booklet, leaflet or cover to print, fold and staple on a desk"))
    _add_sheets(commands.add_parser("sheets", help="list, show, test, match and read spec sheets"))

    rules = commands.add_parser("rules", help="list what is judged", description="Every rule: what breaks it, why, what to do.")
    rules.add_argument("--json", action="store_true", help="as JSON")
    rules.set_defaults(run=_rules)
    return parser


def _add_order(command: argparse.ArgumentParser) -> None:
    command.add_argument(
        "--order", metavar="JSON", help='what only this order knows, such as {"inner_pages": 96, "caliper_mm": 0.11}'
    )


def _add_report(report: argparse.ArgumentParser) -> None:
    report.description = (
        "Checks a PDF against one sheet and writes the result as one HTML page or as PDF, with pictures of what to put right. "
        "Exit code: 0 written, whatever the verdict; 2 cannot be made."
    )
    report.add_argument("file", type=Path, metavar="FILE", help="a PDF")
    report.add_argument(
        "--spec", required=True, metavar="ID_OR_FILE", help="a stored sheet's id, or a sheet of your own (YAML or JSON)"
    )
    _add_order(report)
    report.add_argument("-o", "--out", type=Path, required=True, metavar="OUT", help="the report to write: .html or .pdf")
    report.add_argument("--lang", choices=("en", "de", "fr"), default="en", help="language of the report (default: en)")
    report.set_defaults(run=_report)


def _add_picture(picture: argparse.ArgumentParser) -> None:
    picture.description = "Writes one PNG for each page, a legend below it. Exit code: 0 written, 2 cannot be made."
    picture.add_argument("file", type=Path, metavar="FILE", help="a PDF")
    picture.add_argument("--spec", required=True, metavar="ID_OR_FILE", help="the sheet that the file is checked against")
    picture.add_argument("-o", "--out", type=Path, required=True, metavar="FOLDER", help="where the pictures go")
    picture.add_argument("--ppi", type=_ppi, default=100, help="pixels an inch, 10 to 300 (default: 100)")
    picture.add_argument(
        "--show", default="boxes,findings", metavar="WHAT", help="boxes,findings, one of the two, or none (default: both)"
    )
    picture.set_defaults(run=_picture)


def _add_plates(plates: argparse.ArgumentParser) -> None:
    plates.description = (
        "Writes one grey PNG for each ink of a page, and a map of total ink. Exit code: 0 written, 2 cannot be made."
    )
    plates.add_argument("file", type=Path, metavar="FILE", help="a PDF")
    plates.add_argument("--page", type=_from_1, default=1, help="which page, from 1 (default: 1)")
    plates.add_argument("-o", "--out", type=Path, required=True, metavar="FOLDER", help="where the pictures go")
    plates.add_argument("--ppi", type=_ppi, default=100, help="pixels an inch, 10 to 300 (default: 100)")
    plates.add_argument(
        "--area", choices=("bleed", "trim", "media"), default="bleed", help="how much of the page (default: bleed)"
    )
    plates.set_defaults(run=_plates)


def _add_single_pages(single: argparse.ArgumentParser) -> None:
    single.description = (
        "Writes the PDF as single pages: spreads cut in two, TrimBox and BleedBox where they are missing; what is painted stays "
        "as it is. Exit code: 0 written, 2 cannot be made."
    )
    single.add_argument("file", type=Path, metavar="FILE", help="a PDF")
    single.add_argument("-o", "--out", type=Path, required=True, metavar="OUT", help="the PDF to write")
    single.add_argument("--spec", metavar="ID_OR_FILE", help="the product's sheet: the size of its single page and its bleed")
    single.add_argument(
        "--spreads", metavar="PAGES", help="which pages are spreads: all, none, or such as 2-6 (default: by size)"
    )
    single.set_defaults(run=_single_pages)


def _add_preview(preview: argparse.ArgumentParser) -> None:
    preview.description = (
        "Writes a light PDF: pages cut to the trim, light pictures in sRGB, text kept. It is not for printing. "
        "Exit code: 0 written, 2 cannot be made."
    )
    preview.add_argument("file", type=Path, metavar="FILE", help="a PDF")
    preview.add_argument("-o", "--out", type=Path, required=True, metavar="OUT", help="the PDF to write")
    preview.add_argument("--spec", metavar="ID_OR_FILE", help="the product's sheet: pages of bound work stand side by side")
    preview.add_argument(
        "--arrangement", choices=("spreads", "singles"), help="facing pages side by side, or alone (default: by the sheet)"
    )
    preview.add_argument("--pages", metavar="PAGES", help="such as 1-4,9-12 (default: all)")
    preview.add_argument("--ppi", type=_within(36, 300), default=110, help="of pictures as placed, 36 to 300 (default: 110)")
    preview.add_argument("--quality", type=_within(20, 95), default=60, help="of JPEG pictures, 20 to 95 (default: 60)")
    preview.add_argument("--maximum-size", metavar="SIZE", help="such as 600kB: pictures are made coarser until it fits")
    preview.add_argument("--watermark", default="", metavar="WORDS", help="across every page, such as 'For approval'")
    preview.set_defaults(run=_preview)


def _add_dummy(dummy: argparse.ArgumentParser) -> None:
    dummy.description = "Writes a PDF with front and back of each sheet in turn. Exit code: 0 written, 2 cannot be made."
    dummy.add_argument("file", type=Path, metavar="FILE", help="a PDF")
    dummy.add_argument("-o", "--out", type=Path, required=True, metavar="OUT", help="the PDF to write")
    dummy.add_argument("--spec", metavar="ID_OR_FILE", help="the product's sheet: its folds, its spine, its size of page")
    dummy.add_argument("--paper", choices=("A4", "A3", "Letter", "Tabloid"), help="default: A4, or Letter by the sheet's regions")
    dummy.add_argument(
        "--flip", choices=("short", "long"), default="short", help="edge about which the printer turns the paper (default: short)"
    )
    dummy.add_argument(
        "--blanks",
        choices=("end", "before-last", "after-first"),
        default="end",
        help="where blank pages go that make the count a multiple of four (default: end)",
    )
    dummy.add_argument(
        "--caliper-mm",
        type=_caliper,
        default=0.0,
        metavar="MM",
        help="thickness of a leaf: inner pages move towards the fold by it",
    )
    dummy.set_defaults(run=_dummy)


def _add_sheets(sheets: argparse.ArgumentParser) -> None:
    actions = sheets.add_subparsers(title="commands", metavar="COMMAND", required=True)
    listed = actions.add_parser("list", help="the stored sheets")
    listed.add_argument("--product", help="only this product, for example business-card")
    listed.add_argument("--region", help="only sheets for this region, for example GB")
    listed.set_defaults(run=_sheets_list)
    show = actions.add_parser("show", help="one stored sheet, as YAML")
    show.add_argument("id")
    show.set_defaults(run=_sheets_show)
    schema = actions.add_parser("schema", help="the form of a sheet as JSON Schema, for editors")
    schema.add_argument("--stored", action="store_true", help="of a sheet that is to be kept, which needs its identity")
    schema.set_defaults(run=_sheets_schema)
    match = actions.add_parser("match", help="which products does this PDF look like? exit code 0 some, 1 none, 2 cannot be read")
    match.add_argument("file", type=Path, metavar="FILE", help="a PDF")
    match.add_argument("--region", help="only sheets for this region, for example GB")
    match.add_argument("--json", action="store_true", help="as JSON")
    match.set_defaults(run=_sheets_match)
    read = actions.add_parser("read", help="a printer's published text as a draft of a sheet, to be looked over by a person")
    read.add_argument("file", type=Path, metavar="FILE", help="a text, an HTML page or a PDF")
    read.add_argument("--json", action="store_true", help="with the place of each value, as JSON")
    read.set_defaults(run=_sheets_read)
    test = actions.add_parser("check-file", help="is this file a valid sheet? exit code 0 yes, 1 no")
    test.add_argument("file", type=Path)
    test.set_defaults(run=_sheets_check_file)


def _port(text: str) -> int:
    if not text.isdecimal() or not 0 < int(text) < 65536:
        raise argparse.ArgumentTypeError("a port is a number from 1 to 65535")
    return int(text)


def _from_1(text: str) -> int:
    if not text.isdecimal() or not 1 <= int(text) < 10**9:
        raise argparse.ArgumentTypeError("write a whole number of 1 or more")
    return int(text)


def _caliper(text: str) -> float:
    try:
        caliper = float(text)
    except ValueError:
        caliper = -1.0
    if not 0 <= caliper <= 1:
        raise argparse.ArgumentTypeError("write the thickness of a leaf in millimetres, 0 to 1, such as 0.11")
    return caliper


def _within(least: int, most: int) -> Callable[[str], int]:
    def read(text: str) -> int:
        if not text.isdecimal() or not least <= int(text) <= most:
            raise argparse.ArgumentTypeError(f"write a whole number from {least} to {most}")
        return int(text)

    return read


def _ppi(text: str) -> int:
    if not text.isdecimal() or not 10 <= int(text) <= 300:
        raise argparse.ArgumentTypeError("write a whole number from 10 to 300")
    return int(text)


def _serve(asked: argparse.Namespace) -> int:
    from service.serving import serve
    from service.settings import SettingsRefused, read_settings

    try:
        settings = read_settings()
    except SettingsRefused as refused:
        print("The service cannot start with these settings:", *refused.mistakes, sep="\n  ", file=sys.stderr)
        return NOT_CHECKED
    serve(asked.host, asked.port, settings)
    return 0


def _demo(asked: argparse.Namespace) -> int:
    if asked.serve:
        from service.demo.shop import serve_shop

        return serve_shop(asked.out, asked.port)
    from service.demo.run import run_demo

    return run_demo(asked.out)


def _check(asked: argparse.Namespace) -> int:
    from service.cli.check import check_files

    return check_files(asked.files, asked.spec, order=asked.order, as_json=asked.json, language=asked.lang)


def _report(asked: argparse.Namespace) -> int:
    from service.cli.proofs.report import write_report

    return write_report(asked.file, asked.out, spec=asked.spec, order=asked.order, language=asked.lang)


def _picture(asked: argparse.Namespace) -> int:
    from service.cli.proofs.picture import write_pictures

    return write_pictures(asked.file, asked.out, spec=asked.spec, ppi=asked.ppi, show=asked.show)


def _plates(asked: argparse.Namespace) -> int:
    from service.cli.proofs.plates import write_plates

    return write_plates(asked.file, asked.page, asked.out, ppi=asked.ppi, area=asked.area)


def _single_pages(asked: argparse.Namespace) -> int:
    from service.cli.proofs.single_pages import write_single_pages

    return write_single_pages(asked.file, asked.out, spec=asked.spec, spreads=asked.spreads)


def _preview(asked: argparse.Namespace) -> int:
    from service.cli.proofs.preview import PreviewWishes, write_preview

    wishes = PreviewWishes(asked.arrangement, asked.pages, asked.ppi, asked.quality, asked.maximum_size, asked.watermark)
    return write_preview(asked.file, asked.out, spec=asked.spec, wishes=wishes)


def _dummy(asked: argparse.Namespace) -> int:
    from service.cli.proofs.dummy import write_dummy
    from service.proofs.dummy.plan import DummyWishes

    wishes = DummyWishes(asked.paper, asked.flip, asked.blanks, asked.caliper_mm)
    return write_dummy(asked.file, asked.out, spec=asked.spec, wishes=wishes)


def _sheets_list(asked: argparse.Namespace) -> int:
    from service.cli.sheets.sheets import list_sheets

    return list_sheets(asked.product, asked.region)


def _sheets_show(asked: argparse.Namespace) -> int:
    from service.cli.sheets.sheets import show_sheet

    return show_sheet(asked.id)


def _sheets_check_file(asked: argparse.Namespace) -> int:
    from service.cli.sheets.sheets import check_sheet_file

    return check_sheet_file(asked.file)


def _sheets_schema(asked: argparse.Namespace) -> int:
    from service.cli.sheets.sheets import print_schema

    return print_schema(stored=asked.stored)


def _sheets_match(asked: argparse.Namespace) -> int:
    from service.cli.sheets.questions import match_file

    return match_file(asked.file, asked.region, as_json=asked.json)


def _sheets_read(asked: argparse.Namespace) -> int:
    from service.cli.sheets.questions import read_file

    return read_file(asked.file, as_json=asked.json)


def _rules(asked: argparse.Namespace) -> int:
    from service.cli.rules import print_rules

    return print_rules(as_json=asked.json)


if __name__ == "__main__":
    sys.exit(main())
