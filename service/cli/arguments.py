"""Arguments that several commands declare, and from what was written to the record of the caller's wishes."""

from __future__ import annotations

import argparse
from collections.abc import Callable
from dataclasses import fields
from pathlib import Path
from typing import Any, TypeVar, get_args

from service.language.spoken import LANGUAGES, say
from service.proofs.wishes import WholeNumbers

Wishes = TypeVar("Wishes")


def add_file(command: argparse.ArgumentParser) -> None:
    command.add_argument("file", type=Path, metavar="FILE", help="a PDF")


def add_out(command: argparse.ArgumentParser, what: str, metavar: str = "OUT") -> None:
    command.add_argument("-o", "--out", type=Path, required=True, metavar=metavar, help=what)


def add_spec(command: argparse.ArgumentParser, what: str | None = None, *, required: bool = False) -> None:
    what = what or "a stored sheet's id, or a sheet of your own (YAML or JSON)"
    command.add_argument("--spec", required=required, metavar="ID_OR_FILE", help=what)


def add_order(command: argparse.ArgumentParser) -> None:
    example = '{"inner_pages": 96, "caliper_mm": 0.11}'
    command.add_argument("--order", metavar="JSON", help=f"what only this order knows, such as {example}")


def add_region(command: argparse.ArgumentParser) -> None:
    command.add_argument("--region", help="only sheets for this region, for example GB")


def add_language(command: argparse.ArgumentParser) -> None:
    command.add_argument(
        "--lang", choices=LANGUAGES, default=LANGUAGES[0], help=f"language of the words (default: {LANGUAGES[0]})"
    )


def add_whole_number(command: argparse.ArgumentParser, name: str, numbers: WholeNumbers, what: str) -> None:
    told = f"{what}, {numbers.least} to {numbers.most} (default: {numbers.usual})"
    command.add_argument(name, type=within(numbers.least, numbers.most), default=numbers.usual, help=told)


def add_choice(command: argparse.ArgumentParser, name: str, words: Any, what: str, *, usual: str | None = None) -> None:
    """`words`: a `Literal`. `usual`: where nobody says; None: the sheet decides."""
    told = what if usual is None else f"{what} (default: {usual})"
    command.add_argument(name, choices=get_args(words), default=usual, help=told)


def add_port(command: argparse.ArgumentParser, usual: int, what: str) -> None:
    command.add_argument("--port", type=_port, default=usual, help=f"{what} (default: {usual})")


def wishes_of(kind: type[Wishes], given: argparse.Namespace) -> Wishes:
    """The record whose fields the command has arguments for."""
    return kind(**{one.name: getattr(given, one.name) for one in fields(kind)})  # type: ignore[arg-type]  # a dataclass


# --- How they are read --------------------------------------------------------------------------------------------------


def within(least: int, most: int) -> Callable[[str], int]:
    def read(text: str) -> int:
        if not text.isdecimal() or not least <= int(text) <= most:
            raise argparse.ArgumentTypeError(say("write a whole number from {least} to {most}", least=least, most=most))
        return int(text)

    return read


def from_1(text: str) -> int:
    if not text.isdecimal() or not 1 <= int(text) < 10**9:
        raise argparse.ArgumentTypeError(say("write a whole number of 1 or more"))
    return int(text)


_LAST_PORT = 65535


def _port(text: str) -> int:
    if not text.isdecimal() or not 0 < int(text) <= _LAST_PORT:
        raise argparse.ArgumentTypeError(say("a port is a number from 1 to {last}", last=str(_LAST_PORT)))
    return int(text)
