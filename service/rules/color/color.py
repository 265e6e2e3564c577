"""Rules on colour: the spaces that the printer takes, and spot inks."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from service.language.spoken import say, say_many, to_say
from service.language.wording import first_few, listed, page_list, pages_phrase, quoted
from service.pdf.facts.ink_names import PROCESS_INKS, same_ink
from service.pdf.facts.measurements import ColorUse, Content, Measurements, Page
from service.rules.base import LEFT_OUT, Finding, NotMeasured, Outcome, Place, Value, always, contents_of, rule
from service.rules.sightings import Sightings, within
from service.sheets.model import Block, ColorAsked, SpecSheet, SpotsAsked

FAMILY_WORDS = {
    "cmyk": to_say("CMYK"),
    "gray": to_say("grey"),
    "rgb": to_say("RGB"),
    "lab": to_say("Lab"),
    "multicolor": to_say("a profile of more or other channels"),
}
"""As what a printer takes."""

_COLOURS = {
    "cmyk": to_say("CMYK colour"),
    "gray": to_say("grey colour"),
    "rgb": to_say("RGB colour"),
    "lab": to_say("Lab colour"),
    "multicolor": to_say("a profile of more or other channels colour"),
}
"""As what a page uses."""

_CONVERT = {
    "rgb": to_say(
        "Convert the RGB colours to CMYK with the printer's profile: pictures in the image editor or at export "
        "('convert to destination'), "
        "colours of text and shapes in the swatches; then export again."
    ),
    "multicolor": to_say("Convert to the printing colours at export ('convert to destination')."),
}


@rule(
    "color.space",
    asks=lambda sheet: sheet.color if sheet.color and sheet.color.allowed is not None else None,
    asked_by="color.allowed",
    level="must",
    source="ISO 32000-2:2020, 8.6 (colour spaces); which of them print is the printer's to say",
    measured={"family": "cmyk, gray, rgb, lab or multicolor", "written": "the colour spaces as the file has them",
              "objects": "kind of object → how many", **LEFT_OUT},
    required={"allowed": "families that the printer takes"},
)  # fmt: skip
def color_space(measurements: Measurements, color: ColorAsked) -> Iterator[Outcome]:
    """All colours are in spaces that the printer takes.

    Why: a colour in another space is converted by the printer's software, and bright RGB tones turn dull or shift without
    anyone having seen it.
    Remedy: convert colours and pictures with the printer's profile before or at export, and look at the result.
    Knows: every colour that visible objects use, by kind of object. What stands only in a soft mask never prints itself: an
    observation.
    Cannot know: how a converted colour will look. Spot inks are judged by color.spots, registration colour by a rule of its own.
    """
    allowed = color.allowed or ()
    groups: dict[tuple[str, bool], list[tuple[Page, ColorUse]]] = {}
    for item in contents_of(measurements):
        if isinstance(item, NotMeasured):
            yield item
            continue
        page, content = item
        for use in content.colors:
            if use.family in FAMILY_WORDS and use.family not in allowed:
                groups.setdefault((use.family, use.kind == "soft mask"), []).append((page, use))
    for (family, only_mask), uses in groups.items():
        yield _not_taken(family, only_mask, uses, color)


def _not_taken(family: str, only_mask: bool, uses: list[tuple[Page, ColorUse]], color: ColorAsked) -> Finding:
    allowed = list(color.allowed or ())
    numbers = tuple(sorted({page.number for page, _ in uses}))
    objects: dict[str, int] = {}
    for _, use in uses:
        objects[use.kind] = objects.get(use.kind, 0) + use.count
    level = "should" if only_mask else color.rgb_level if family == "rgb" else None
    takes = listed(say(FAMILY_WORDS[one]) for one in allowed) or say("spot inks only")
    return Finding(
        message=say_many(
            "Page {pages} uses {colour} in {objects}; the printer takes {takes}.",
            "Pages {pages} use {colour} in {objects}; the printer takes {takes}.",
            len(numbers), pages=page_list(numbers), colour=say(_COLOURS[family]), objects=_objects(objects), takes=takes,
        ),
        remedy=say(_CONVERT[family])
        if family in _CONVERT
        else say("Convert these colours to {takes} in the swatches or at export, and export again.", takes=takes),
        measured={"family": family, "written": sorted({use.written for _, use in uses}), "objects": objects},
        required={"allowed": allowed},
        pages=numbers,
        places=tuple(Place(page.number, box) for page, use in uses for box in use.boxes_mm),
        level=level,
    )  # fmt: skip


def _objects(counts: Mapping[str, int]) -> str:
    """{'image': 3, 'text': 40} → '3 pictures and text': how many pieces text comes in says nothing."""
    return listed(_objects_of(kind, count) for kind, count in counts.items())


def _objects_of(kind: str, count: int) -> str:
    return {
        "text": say("text"),
        "fill": say_many("{count} filled shape", "{count} filled shapes", count),
        "stroke": say_many("{count} line", "{count} lines", count),
        "image": say_many("{count} picture", "{count} pictures", count),
        "shading": say_many("{count} gradient", "{count} gradients", count),
        "group": say_many("{count} transparency group", "{count} transparency groups", count),
        "soft mask": say_many("{count} soft mask", "{count} soft masks", count),
    }[kind]


# --- Spot inks --------------------------------------------------------------------------------------------------------

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
    return SpotInksAsked(
        spots=color.spots, finishing_inks=tuple(one.ink for one in sheet.finishes), level=color.level, note=color.note
    )


@rule(
    "color.spots",
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
def color_spots(measurements: Measurements, asked: SpotInksAsked) -> Iterator[Outcome]:
    """No more spot inks than ordered, each on the printer's list and spelled in one way.

    Why: every spot name makes a printing plate of its own; one too many is a surprise on the bill or is converted to CMYK
    unasked.
    Remedy: merge double swatches, convert spots that are not printed as such to process colours, delete nothing that is in use.
    Knows: the names of spot inks that visible objects use; names that differ only in case, blanks, dashes or the suffix for
    the paper are one ink.
    Cannot know: which real ink a name stands for. Finishing inks that the sheet lists do not count.
    """
    found: dict[str, list[Place]] = {}
    pages: dict[str, set[int]] = {}
    for item in contents_of(measurements):
        if isinstance(item, NotMeasured):
            yield item
            continue
        page, content = item
        for name, use in _spot_uses(content, {same_ink(one) for one in asked.finishing_inks}):
            found.setdefault(name, []).extend(Place(page.number, box) for box in use.boxes_mm)
            pages.setdefault(name, set()).add(page.number)
    spellings: dict[str, list[str]] = {}
    for name in sorted(found):
        spellings.setdefault(same_ink(name), []).append(name)
    for fault in _spot_faults(spellings, asked.spots):
        numbers = tuple(sorted(set().union(*(pages[name] for name in fault.names))))
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
                say("Use a listed ink's swatch, spelled as the printer spells it, or convert the colour to CMYK."),
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
            )  # fmt: skip


def _too_many(spellings: Mapping[str, list[str]], maximum: int) -> _Fault:
    names = [name for spelled in spellings.values() for name in spelled]
    takes = say_many("at most {count} spot ink", "at most {count} spot inks", maximum) if maximum else say("no spot inks")
    told = say_many(
        "{count} spot ink beside the four process inks ({names}); the printer takes {takes}.",
        "{count} spot inks beside the four process inks ({names}); the printer takes {takes}.",
        len(spellings), names=_names_and_spellings(len(spellings), names), takes=takes,
    )  # fmt: skip
    remedy = say("Convert the spots that are not printed as such to process colours (CMYK) in the swatches, and export again.")
    return _Fault(names, told, remedy, {"maximum": maximum})


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
        )  # fmt: skip
    return say_many(
        "{names} is not on the printer's list of spot inks ({allowed}).",
        "{names} are not on the printer's list of spot inks ({allowed}).",
        len(strangers), names=_names(strangers), allowed=_names(allowed),
    )  # fmt: skip


def _names(names: Sequence[str]) -> str:
    return first_few([quoted(name) for name in names])


# --- Registration colour ----------------------------------------------------------------------------------------------


@rule(
    "color.registration",
    asks=always,
    asked_by="always",
    level="must",
    source="ISO 32000-2:2020, 8.6.6.4 (the colorant All paints every plate)",
    measured={"objects": "kind of object → how many, at most", **LEFT_OUT},
    required={"registration": "false: none on the trimmed page"},
)
def color_registration(measurements: Measurements, _: SpecSheet) -> Iterator[Outcome]:
    """Registration colour is used for printer's marks only.

    Why: it prints on every plate, 400 % of ink in a four-colour job: it does not dry, sets off on the next sheet, and shows
    every shift of the plates.
    Remedy: use black ink alone (100 % black) for text and lines, and a rich black within the ink limit for areas.
    Knows: objects painted in the colorant All on the trimmed page. Marks outside the trim are cut off and left out.
    Cannot know: a black of 100 % of each process ink that was mixed by hand: ink.total judges how much ink that is.
    """
    found, objects = Sightings(), dict[str, int]()
    for item in contents_of(measurements):
        if isinstance(item, NotMeasured):
            yield item
            continue
        page, content = item
        for use in content.colors:
            if use.family != "registration" or use.beyond_bleed:
                continue
            places = within(page.boxes_mm.trim, use.boxes_mm)
            left_out = use.count - len(use.boxes_mm)
            if places:
                found.add(page, places, len(places) + left_out)
                objects[use.kind] = objects.get(use.kind, 0) + len(places) + left_out
            elif left_out:
                yield NotMeasured(
                    say(
                        "Page {page}: {count} objects in registration colour; the first {marks} are marks outside the trim, "
                        "where the others stand is not known.",
                        page=page.number, count=use.count, marks=len(use.boxes_mm),
                    )
                )  # fmt: skip
    if found.count:
        yield Finding(
            message=say_many(
                "Page {pages} uses registration colour for {objects}: it prints in every ink at once.",
                "Pages {pages} use registration colour for {objects}: it prints in every ink at once.",
                len(found.pages), pages=page_list(found.pages), objects=_objects(objects),
            ),
            remedy=say("Give these objects black ink alone (the swatch 'black', not 'registration'), and export again."),
            measured={"objects": objects},
            required={"registration": False},
            pages=found.pages,
            places=tuple(found.places),
        )  # fmt: skip
