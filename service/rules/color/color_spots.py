"""The rule on spot inks: how many, which, and how they are spelled."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from service.language.spoken import say, say_many
from service.language.wording import first_few, pages_phrase, quoted
from service.pdf.facts.ink_names import PROCESS_INKS, names_a_finish, same_ink
from service.pdf.facts.painted.colors import ColorUse
from service.pdf.facts.painted.content import Content
from service.rules.base import LEFT_OUT, Finding, Outcome, Place, Value, rule
from service.rules.seen import PagesWithContent, contents_of
from service.sheets.model import Block, SpecSheet, SpotsAsked

NO_INKS = frozenset({"All", "None"})
"""ISO 32000-2:2020, 8.6.6.4: every plate, and no plate."""


@dataclass(frozen=True, kw_only=True)
class SpotInksAsked(Block):
    spots: SpotsAsked
    finishing_inks: tuple[str, ...]
    """Foil, varnish, cut lines: the sheet asks for them apart, they do not count."""


def _spots_asked(sheet: SpecSheet) -> SpotInksAsked | None:
    color = sheet.color
    if color is None or color.spots is None:
        return None
    finishing = tuple(name for one in sheet.finishes for name in one.plate_names)
    return SpotInksAsked(spots=color.spots, finishing_inks=finishing, level=color.level, note=color.note)


@rule(
    "color.spots",
    needs=contents_of,
    asks=_spots_asked,
    asked_by="color.spots",
    level="must",
    source="ISO 32000-2:2020, 8.6.6.4 and 8.6.6.5 (Separation, DeviceN); which spots print is the printer's to say",
    measured={"inks": "spot inks concerned, as the file spells them", "count": "how many different spot inks", **LEFT_OUT},
    required={
        "maximum": "most spot inks",
        "allowed": "names that the printer takes",
        "one_name_an_ink": "true: each ink is spelled in one way",
    },
)
def color_spots(pages: PagesWithContent, asked: SpotInksAsked) -> Iterator[Outcome]:
    """No more spot inks than ordered, each on the printer's list and spelled in one way.

    Why: every spot name makes a printing plate of its own; one too many is a surprise on the bill or is converted to CMYK
    unasked.
    Remedy: merge duplicate swatches, convert spots that are not printed as such to process colours, delete nothing that is in
    use.
    Knows: the names of spot inks that visible objects use; names that differ only in case, blanks, dashes or the suffix for
    the paper are one ink.
    Cannot know: which real ink a name stands for; that a name speaks of a cut or another finish changes the remedy alone.
    Finishing inks that the sheet lists do not count.
    """
    found: dict[str, list[Place]] = {}
    used_on: dict[str, set[int]] = {}
    for page, content in pages:
        for name, use in _spot_uses(content, {same_ink(one) for one in asked.finishing_inks}):
            found.setdefault(name, []).extend(Place(page.number, box) for box in use.boxes_mm)
            used_on.setdefault(name, set()).add(page.number)
    spellings: dict[str, list[str]] = {}
    for name in sorted(found):
        spellings.setdefault(same_ink(name), []).append(name)
    for fault in _spot_faults(spellings, asked.spots):
        numbers = tuple(sorted(set().union(*(used_on[name] for name in fault.names))))
        yield Finding(
            message=say("{pages}: {told}", pages=pages_phrase(numbers), told=fault.told),
            remedy=fault.remedy,
            measured={"inks": fault.names, "count": len({same_ink(name) for name in fault.names})},
            required=fault.required,
            pages=numbers,
            places=tuple(place for name in fault.names for place in found[name]),
        )


def _spot_uses(content: Content, finishing: set[str]) -> Iterator[tuple[str, ColorUse]]:
    for use in content.colors:
        for name in use.inks:
            if name not in NO_INKS.union(PROCESS_INKS) and same_ink(name) not in finishing:
                yield name, use


@dataclass(frozen=True)
class _Fault:
    names: list[str]
    told: str
    remedy: str
    required: Mapping[str, Value]


def _spot_faults(spellings: Mapping[str, list[str]], spots: SpotsAsked) -> Iterator[_Fault]:
    """`spellings`: one ink → the names that stand for it in the file."""
    if spots.maximum is not None and len(spellings) > spots.maximum:
        yield _too_many(spellings, spots.maximum)
        if spots.maximum == 0:
            return  # nothing that the other two say would help
    if spots.allowed is not None:
        takes_inks = {same_ink(name) for name in spots.allowed}
        strangers = [name for ink, spelled in spellings.items() if ink not in takes_inks for name in spelled]
        if strangers:
            yield _Fault(
                strangers,
                _not_on_the_list(strangers, spots.allowed),
                _remedy(
                    strangers, say("Use a listed ink's swatch, spelled as the printer spells it, or convert the colour to CMYK.")
                ),
                {"allowed": list(spots.allowed)},
            )
    for spelled in spellings.values():
        if len(spelled) > 1:
            yield _Fault(
                spelled,
                say(
                    "{names} are one ink spelled in {count} ways; each spelling makes a plate of its own.",
                    names=_names(spelled), count=len(spelled),
                ),
                say("Merge the swatches into one, with the name that the printer uses, and export again."),
                {"one_name_an_ink": True},
            )


def _too_many(spellings: Mapping[str, list[str]], maximum: int) -> _Fault:
    names = [name for spelled in spellings.values() for name in spelled]
    named = _names_and_spellings(len(spellings), names)
    if maximum:
        told = say_many(
            "{count} spot ink ({names}); the printer takes {takes}.",
            "{count} spot inks ({names}); the printer takes {takes}.",
            len(spellings), names=named, takes=say_many("at most {count} spot ink", "at most {count} spot inks", maximum),
        )
    else:  # a sentence of its own: some languages deny the verb too
        told = say_many(
            "{count} spot ink ({names}); the printer takes no spot inks.",
            "{count} spot inks ({names}); the printer takes no spot inks.",
            len(spellings), names=named,
        )
    remedy = say("Convert the spots that are not printed as such to process colours (CMYK) in the swatches, and export again.")
    return _Fault(names, told, _remedy(names, remedy), {"maximum": maximum})


def _remedy(names: Sequence[str], of_colors: str) -> str:
    """A cut line that is converted prints, and is lost; so nobody is told to."""
    finishes = [name for name in names if names_a_finish(name)]
    if not finishes:
        return of_colors
    kept = say_many(
        "{names} is named like a cut line or another finish: do not convert it. Ask the printer whether this file may hold it "
        "and under which name, or send it in a file of its own.",
        "{names} are named like cut lines or other finishes: do not convert them. Ask the printer whether this file may hold "
        "them and under which names, or send them in a file of their own.",
        len(finishes),
        names=_names(finishes),
    )
    return kept if len(finishes) == len(names) else f"{kept} {of_colors}"


def _names_and_spellings(inks: int, names: list[str]) -> str:
    """More names than inks: some ink is spelled in several ways."""
    if len(names) == inks:
        return _names(names)
    if inks == 1:
        return say("{names}: one ink spelled in {count} ways", names=_names(names), count=len(names))
    return say("{names}: some spelled in several ways", names=_names(names))


def _not_on_the_list(strangers: list[str], allowed: Sequence[str]) -> str:
    if not allowed:
        return say_many(
            "{names} is not on the printer's list of spot inks (it is empty).",
            "{names} are not on the printer's list of spot inks (it is empty).",
            len(strangers), names=_names(strangers),
        )
    return say_many(
        "{names} is not on the printer's list of spot inks ({allowed}).",
        "{names} are not on the printer's list of spot inks ({allowed}).",
        len(strangers), names=_names(strangers), allowed=_names(allowed),
    )


def _names(names: Sequence[str]) -> str:
    return first_few([quoted(name) for name in names])
