"""`print-spec demo`: a bakery's print order, sent through a service of its own. What draws and serves is loaded when it runs."""

from __future__ import annotations

import argparse
from pathlib import Path

from service.cli.arguments import add_port

_FOLDER = Path("demo-results")


def declare(command: argparse.ArgumentParser) -> None:
    command.description = (
        "Makes a bakery's print order, sends each file over HTTP to a service of its own, and shows the results."
    )
    command.add_argument(
        "--out", type=Path, default=_FOLDER, metavar="FOLDER", help=f"where files and results go (default: ./{_FOLDER})"
    )
    command.add_argument("--serve", action="store_true", help="instead: a shop's pages, to send the files from in a browser")
    add_port(command, 8010, "with --serve: the shop's port")
    command.set_defaults(run=run)


def run(given: argparse.Namespace) -> int:
    if given.serve:
        from service.demo.shop import serve_shop

        return serve_shop(given.out, given.port)
    from service.demo.run import run_demo

    return run_demo(given.out)
