"""Results of checks for a person at a terminal, from the same JSON that the service answers with."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from rich import box
from rich.console import Console, ConsoleOptions
from rich.containers import Lines
from rich.measure import Measurement
from rich.table import Table
from rich.text import Text

from service.language.levels import FOUND, HEADED
from service.language.spoken import say, say_many, to_say
from service.language.typography import NARROW_NO_BREAK, NO_BREAK
from service.language.wording import first_few, number, pages_named

Answer = Mapping[str, Any]

WIDTH_WITHOUT_TERMINAL = 110


def console(stderr: bool = False) -> Console:
    """As wide as the terminal; into a file or pipe always the same width."""
    made = Console(stderr=stderr, highlight=False)
    return made if made.is_terminal else Console(stderr=stderr, highlight=False, width=WIDTH_WITHOUT_TERMINAL)


def plain_table(*headings: str) -> Table:
    table = Table(show_edge=False, pad_edge=False, box=box.SIMPLE_HEAD)
    for heading in headings:
        table.add_column(heading, overflow="fold")
    return table


class Words(Text):
    """Breaks lines where the language lets it: rich takes every space for one that breaks."""

    _HELD = str.maketrans({NO_BREAK: "\ue000", NARROW_NO_BREAK: "\ue001"})
    _GIVEN_BACK = str.maketrans({"\ue000": NO_BREAK, "\ue001": NARROW_NO_BREAK})

    def wrap(self, console: Console, width: int, **how: Any) -> Lines:
        lines = self._holding().wrap(console, width, **how)
        for line in lines:
            line.plain = line.plain.translate(self._GIVEN_BACK)
        return lines

    def __rich_measure__(self, console: Console, options: ConsoleOptions) -> Measurement:
        return self._holding().__rich_measure__(console, options)

    def _holding(self) -> Text:
        held = self.copy()
        held.plain = held.plain.translate(self._HELD)
        return held


_VERDICTS = {
    "conforming": to_say("conforming"),
    "conforming_with_observations": to_say("conforming with remarks"),
    "nonconforming": to_say("nonconforming"),
    "inconclusive": to_say("inconclusive"),
}


def show(answers: Sequence[Answer]) -> None:
    """On stdout: all verdicts, then what does not conform, file by file."""
    screen = console()
    screen.print(verdicts(answers))
    for answer in answers:
        if answer["findings"]:
            screen.print()
            screen.print(findings(answer))
        for line in unmeasured(answer):
            screen.print(Words(line))
    screen.print()
    screen.print(Words(say("Conforming is not a promise of a good print: the printer's own proof and terms decide.")))


def plain(verdict: str) -> str:
    return say(_VERDICTS[verdict])


def verdicts(answers: Sequence[Answer]) -> Table:
    """One line a check."""
    table = Table(show_edge=False, pad_edge=False, box=box.SIMPLE_HEAD)
    for heading in (say("File"), say("Sent as"), say("Verdict")):
        table.add_column(heading, overflow="fold")
    for heading in map(say, HEADED.values()):
        table.add_column(heading, justify="right")
    for answer in answers:
        verdict, summary = answer["verdict"], answer["summary"]
        table.add_row(
            Words(answer["file"]["name"]),
            Words(_sheet(answer)),
            Words(plain(verdict), style="" if verdict.startswith("conforming") else "bold"),
            str(summary["nonconformities"] or ""),
            str(summary["observations"] or ""),
        )
    return table


def findings(answer: Answer) -> Table:
    """What does not conform: where, what was found and asked, what to do."""
    table = Table(
        title=Words(say("{file} as {sheet}", file=answer["file"]["name"], sheet=_sheet(answer))),
        title_justify="left",
        show_lines=True,
        box=box.HORIZONTALS,
        pad_edge=False,
    )
    table.add_column(say("Rule"), overflow="fold", width=18)
    table.add_column(say("Where"), overflow="fold", width=18)
    table.add_column(say("Found and asked"), ratio=1)
    table.add_column(say("What to do"), ratio=1)
    for one in answer["findings"]:
        rule = Text.assemble((one["rule"], "bold" if one["level"] == "must" else ""), "\n", say(FOUND[one["level"]]))
        table.add_row(rule, *map(Words, (where(one), one["message"], one["remedy"])))
    return table


def unmeasured(answer: Answer) -> list[str]:
    """A line for each reason why rules could not see all they had to: a file that could not be measured has one for all."""
    rules: dict[str, list[str]] = {}
    for one in answer["rules"]:
        if one["outcome"] == "not_measured":
            rules.setdefault(one["reason"], []).append(one["rule"])
    return [say("{rule}: not measured. {reason}", rule=first_few(named), reason=why) for why, named in rules.items()]


def where(finding: Mapping[str, Any]) -> str:
    """Pages, and the first place in mm from the trim's top-left corner."""
    if not finding["pages"]:
        return say("whole file")
    pages = pages_named(finding["pages"])
    if not finding["places"]:
        return pages
    x0, y0, x1, y1 = (number(value) for value in finding["places"][0]["box_mm"])
    more = len(finding["places"]) - 1
    place = say("x {x0} to {x1}\ny {y0} to {y1} mm", x0=x0, x1=x1, y0=y0, y1=y1)
    return "\n".join((pages, place, *([say_many("and {count} more place", "and {count} more places", more)] if more else ())))


def _sheet(answer: Answer) -> str:
    return answer["spec"]["id"] or say("own sheet")
