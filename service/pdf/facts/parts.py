"""Measurements in parts, as they come: the file as a whole, then each page, in any order; and put together again.

The whole does not depend on who measured which page. A page that was lost on the way says why, and takes no other along.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from service.language.sentences import Sentence, sentence
from service.pdf.facts.document import Document, Profile
from service.pdf.facts.measurements import Measurements
from service.pdf.facts.page import Page
from service.pdf.facts.unknown import Unmeasured

MOST_DAMAGE = 20
"""Sentences of damage that a result keeps: enough to see what happened, short enough to read."""


@dataclass(frozen=True)
class DocumentPart:
    """The file as a whole."""

    document: Document
    """Without what the pages add: their damage, and the profiles that only they use."""
    page_count: int
    """How many pages come, whatever the file says of its count."""
    complete: bool
    """False: what takes a look at every object (features, links, profiles) follows in another part."""


@dataclass(frozen=True)
class PagePart:
    """One page."""

    page: Page
    slips: tuple[Sentence, ...]
    """What was left out or assumed, each to follow the words 'Page 3:'."""
    profiles: tuple[Profile, ...] | Unmeasured
    """Those that its visible objects use."""


Part = DocumentPart | PagePart | Measurements
"""`Measurements`: all that can be said of the file, at once."""


def put_together(document: Document, parts: Sequence[PagePart]) -> Measurements:
    """`parts` in the order of the pages."""
    whole = replace(document, damage=capped((*document.damage, *_slips_of(parts))), profiles=_profiles(document, parts))
    return Measurements(whole, tuple(one.page for one in parts))


def _profiles(document: Document, parts: Sequence[PagePart]) -> tuple[Profile, ...] | Unmeasured:
    """Each once, those of the output intents first."""
    found: dict[str, Profile] = {}
    for some in (document.profiles, *(one.profiles for one in parts)):
        if isinstance(some, Unmeasured):
            return some
        for profile in some:
            found.setdefault(profile.key, profile)
    return tuple(found.values())


def lost_page(part: PagePart, why: Unmeasured) -> PagePart:
    """A page of which the boxes alone are known."""
    page = replace(
        part.page, content=why, bleed_reach_mm=why, ink_max_percent=why, annotations=why, crop_marks_mm=why, plates=why
    )
    return replace(part, page=page)


def without_facts(document: Document, why: Unmeasured) -> Document:
    """The file as a whole, where nobody could look at its objects."""
    return replace(
        document, identification=why, output_intents=why, profiles=why, layers=why, features=why, active_content=why,
        linearization=why,
    )


def _slips_of(parts: Iterable[PagePart]) -> Iterator[Sentence]:
    """Each slip once, with the pages that have it."""
    pages_with: dict[Sentence, list[int]] = {}
    for one in parts:
        for slip in one.slips:
            pages_with.setdefault(slip, []).append(one.page.number)
    for slip, numbers in pages_with.items():
        first = ", ".join(str(number) for number in numbers[:3])
        if len(numbers) == 1:
            yield sentence("Page {page}: {slip}", page=first, slip=slip)
        elif len(numbers) <= 3:
            yield sentence("Pages {pages}: {slip}", pages=first, slip=slip)
        else:
            yield sentence("Pages {pages} and {count} more: {slip}", pages=first, count=len(numbers) - 3, slip=slip)


def capped(sentences: Iterable[Sentence]) -> tuple[Sentence, ...]:
    """Each sentence once, at most `MOST_DAMAGE`; the last then says how many more there are."""
    once = tuple(dict.fromkeys(sentences))
    if len(once) <= MOST_DAMAGE:
        return once
    return (*once[: MOST_DAMAGE - 1], sentence("And {count} more of the kind.", count=len(once) - MOST_DAMAGE + 1))
