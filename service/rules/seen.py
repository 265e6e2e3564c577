"""What a rule sees of a file: the plain values that its declaration `needs`, and what could not be measured of them.

A rule compares what it is given. That a part of the file is `Unmeasured` is told by the runner (see `service.rules.base`), which
hands on the rest, and does not run the rule where nothing is left to see.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Generic, TypeVar

from service.language.first_words import begun_after_colon
from service.language.spoken import say
from service.language.wording import pages_phrase, reason
from service.pdf.facts.document import Document
from service.pdf.facts.measurements import Measurements
from service.pdf.facts.page import Page
from service.pdf.facts.painted.content import Content
from service.pdf.facts.plates import PlateFacts
from service.pdf.facts.unknown import NotAsked, Unmeasured

Needed = TypeVar("Needed")
Other = TypeVar("Other")
Told = TypeVar("Told")

Pages = tuple[Page, ...]
PagesWithContent = tuple[tuple[Page, Content], ...]
PagesWithPlates = tuple[tuple[Page, PlateFacts], ...]
PlainPages = tuple[tuple[Page, float], ...]


@dataclass(frozen=True)
class NotMeasured:
    """Something that the rule had to see and could not."""

    why: str


@dataclass(frozen=True)
class Seen(Generic[Needed]):
    known: Needed
    missing: tuple[NotMeasured, ...] = ()
    """What could not be seen beside it."""


@dataclass(frozen=True)
class Unseen:
    """Nothing of it could be seen."""

    missing: tuple[NotMeasured, ...]


Needs = Callable[[Measurements], Seen[Needed] | Unseen]
"""What a declaration needs: `contents_of`, `fact_of(…)`, or a function of the rule's own."""


def looking(
    needs: Needs[Needed], function: Callable[[Needed, Other], Iterator[Told]], measurements: Measurements, asked: Other
) -> Iterator[Told | NotMeasured]:
    """What is missing of what the function needs, then what it says of the rest."""
    seen = needs(measurements)
    yield from seen.missing
    if isinstance(seen, Seen):
        yield from function(seen.known, asked)


# --- Of the file as a whole -------------------------------------------------------------------------------------------


def everything_of(measurements: Measurements) -> Seen[Measurements] | Unseen:
    """For a rule on measuring itself."""
    return Seen(measurements)


def document_of(measurements: Measurements) -> Seen[Document] | Unseen:
    """All facts of the file as a whole, of which some may be unmeasured."""
    return Seen(measurements.document)


def fact_of(fact: Callable[[Document], Needed | Unmeasured]) -> Needs[Needed]:
    """One fact of the file as a whole."""

    def look(measurements: Measurements) -> Seen[Needed] | Unseen:
        found = fact(measurements.document)
        return Unseen((NotMeasured(reason(found)),)) if isinstance(found, Unmeasured) else Seen(found)

    return look


# --- Of its pages -----------------------------------------------------------------------------------------------------


def pages_of(measurements: Measurements) -> Seen[Pages] | Unseen:
    """Every page as such, whatever is known of its content and plates."""
    pages = measurements.pages
    return Unseen((NotMeasured(reason(pages)),)) if isinstance(pages, Unmeasured) else Seen(pages)


def contents_of(measurements: Measurements) -> Seen[PagesWithContent] | Unseen:
    """Every page with what it paints; those whose content could not be followed for one reason are told together."""
    return _each_page(measurements, lambda page: page.content)


def plates_of(measurements: Measurements) -> Seen[PagesWithPlates] | Unseen:
    """Every page with what its ink plates say; those without plates for the same reason are told together.

    A page of plain ink, whose plates nobody asked for, is left out: ink shows on it, all of its inks do, and none at an edge.
    """
    return _each_page(measurements, lambda page: page.plates)


def plain_pages_of(measurements: Measurements) -> Seen[PlainPages] | Unseen:
    """The pages of plain ink that are left out there, with the most ink that one place can hold."""
    if isinstance(measurements.pages, Unmeasured):
        return Unseen((NotMeasured(reason(measurements.pages)),))
    plain = (page for page in measurements.pages if isinstance(page.plates, NotAsked))
    found = ((page, page.content.plain_ink_percent) for page in plain if not isinstance(page.content, Unmeasured))
    return Seen(tuple((page, most) for page, most in found if most is not None))


def part_of_pages(part: Callable[[Page], Needed | Unmeasured]) -> Needs[tuple[tuple[Page, Needed], ...]]:
    """Every page with another part of it; those that lack it for one reason are told together."""
    return lambda measurements: _each_page(measurements, part)


def _each_page(
    measurements: Measurements, part: Callable[[Page], Needed | Unmeasured]
) -> Seen[tuple[tuple[Page, Needed], ...]] | Unseen:
    if isinstance(measurements.pages, Unmeasured):
        return Unseen((NotMeasured(reason(measurements.pages)),))
    known: list[tuple[Page, Needed]] = []
    without: dict[Unmeasured, list[int]] = {}
    for page in measurements.pages:
        found = part(page)
        if isinstance(found, NotAsked):
            continue
        if isinstance(found, Unmeasured):
            without.setdefault(found, []).append(page.number)
        else:
            known.append((page, found))
    missing = tuple(not_measured_on(numbers, why) for why, numbers in without.items())
    return Seen(tuple(known), missing) if known or not missing else Unseen(missing)


def not_measured_on(numbers: Sequence[int], why: Unmeasured) -> NotMeasured:
    """'Pages 2–5: the reason'."""
    return NotMeasured(say("{pages}: {reason}", pages=pages_phrase(numbers), reason=begun_after_colon(reason(why))))


# --- Of several things ------------------------------------------------------------------------------------------------


def both(one: Needs[Needed], other: Needs[Other]) -> Needs[tuple[Needed, Other]]:
    """Two needs together: where nothing is to be seen of one of them, the other is of no use."""

    def look(measurements: Measurements) -> Seen[tuple[Needed, Other]] | Unseen:
        first, second = one(measurements), other(measurements)
        missing = (*first.missing, *second.missing)
        if isinstance(first, Unseen) or isinstance(second, Unseen):
            return Unseen(missing)
        return Seen((first.known, second.known), missing)

    return look


def knowing_gaps(needs: Needs[Needed]) -> Needs[Seen[Needed]]:
    """For a rule that concludes from what it does not find: it is told whether something was missing."""

    def look(measurements: Measurements) -> Seen[Seen[Needed]] | Unseen:
        seen = needs(measurements)
        return seen if isinstance(seen, Unseen) else Seen(seen, seen.missing)

    return look
