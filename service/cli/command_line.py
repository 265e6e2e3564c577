"""The parser of command lines, which refuses in the language that `--lang` names; its help is English."""

from __future__ import annotations

import argparse
import re
import sys
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from typing import NoReturn

_LANGUAGE = "--lang"


class CommandLine(argparse.ArgumentParser):
    def error(self, message: str) -> NoReturn:
        """Shows the usage and what was refused on stderr, and ends the program."""
        from service.language.spoken import say  # not for `--help`, which loads nothing

        sys.stderr.write(self.format_usage().replace("usage:", say("usage:"), 1))
        self.exit(2, say("{program}: error: {message}", program=self.prog, message=_said(message)) + "\n")


@contextmanager
def in_its_language(arguments: Sequence[str]) -> Iterator[None]:
    """The language that a command line names, before it is parsed; nothing is loaded for one that names none."""
    named = [
        one.partition("=")[2] or following
        for one, following in zip(arguments, [*arguments[1:], ""], strict=False)
        if one.partition("=")[0] == _LANGUAGE
    ]
    if not named:
        yield
        return
    from service.language.spoken import language_named, speaking

    with speaking(language_named(named[-1]) or "en"):
        yield


def _said(message: str) -> str:
    """A sentence of argparse's own in the spoken language; one that this version does not know stands as it is."""
    from service.language.spoken import say, to_say

    sentences = (
        to_say("the following arguments are required: {names}"),
        to_say("unrecognized arguments: {names}"),
        to_say("argument {name}: expected one argument"),
        to_say("argument {name}: expected at least one argument"),
        to_say("argument {name}: invalid choice: {value} (choose from {choices})"),
        to_say("argument {name}: invalid {kind} value: {value}"),
        to_say("argument {name}: not allowed with argument {other}"),
        to_say("argument {name}: {reason}"),
    )
    for text in sentences:
        form = re.sub(r"\\\{(\w+)\\\}", r"(?P<\1>.+?)", re.escape(text))
        if found := re.fullmatch(form, message, re.DOTALL):
            return say(text, **found.groupdict())
    return message
