"""The rule on embedded colour profiles: they can be used, and do not contradict the printing condition."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Literal, NamedTuple

from service.language.spoken import say, say_many
from service.language.wording import after_a_colon, page_list, quoted
from service.pdf.facts.document import Document, Profile
from service.pdf.facts.unknown import Unmeasured
from service.rules.base import LEFT_OUT, Finding, Outcome, Place, Value, rule
from service.rules.seen import PagesWithContent, both, contents_of, fact_of
from service.sheets.model import Block, SpecSheet

CLASSES_OF_OBJECTS = ("scnr", "mntr", "prtr", "spac")
"""ISO 32000-2:2020, 8.6.5.5: the device classes that an ICCBased space may have."""


def _profiles_asked(sheet: SpecSheet) -> Block | None:
    if sheet.color and sheet.color.allowed is not None:
        return sheet.color
    return sheet.file if sheet.file and sheet.file.output_conditions else None


class _Profiles(NamedTuple):
    by_key: Mapping[str, Profile]
    intended: list[Profile]
    """Those of the printing conditions that the file names."""


def _profiles(document: Document) -> _Profiles | Unmeasured:
    if isinstance(document.profiles, Unmeasured):
        return document.profiles
    profiles = {one.key: one for one in document.profiles}
    intents = () if isinstance(document.output_intents, Unmeasured) else document.output_intents
    intended = [profiles[one.profile] for one in intents if one.subtype == "GTS_PDFX" and one.profile in profiles]
    return _Profiles(profiles, intended)


Problem = Literal["damaged", "wrong_class", "wrong_channels", "other_condition"]


@rule(
    "color.profile",
    needs=both(contents_of, fact_of(_profiles)),
    asks=_profiles_asked,
    asked_by="color.allowed; file.output_conditions",
    level="must",
    source="ISO 32000-2:2020, 8.6.5.5 (ICCBased) and 14.11.5 (output intents); ISO 15076-1:2010, 7.2",
    measured={"problem": "damaged, wrong_class, wrong_channels or other_condition", "profile": "description of the profile",
              "space": "its colour space", "device_class": "its device class", "channels": "how many channels it has",
              "declared_channels": "how many the file says", "objects": "how many objects use it", **LEFT_OUT},
    required={"usable": "true: the profile can describe the colours of objects", "channels": "as many as the file declares",
              "profile": "the output intent's, for CMYK colours"},
)
def color_profile(seen: tuple[PagesWithContent, _Profiles], _: Block) -> Iterator[Outcome]:
    """Embedded colour profiles can be used and do not contradict the printing condition.

    Why: a CMYK picture with another profile is converted once more on its way to the plate, and pure black text turns into four
    inks; a profile that cannot be used is ignored, by each program in its own way.
    Remedy: convert to the printer's profile at export, and leave profiles out of CMYK colours.
    Knows: the header of every profile that visible objects use, and that of the output intent. Another CMYK profile than the
    output intent's is an observation: it can be meant.
    Cannot know: whether a program at the printer's heeds or drops embedded profiles. Ask, and look at the proof.
    """
    pages, (profiles, intended) = seen
    places: dict[str, list[Place]] = {}
    counts: dict[str, int] = {}
    for page, content in pages:
        for use in content.colors:
            profile = profiles.get(use.profile or "")
            if profile is not None:
                places.setdefault(profile.key, []).extend(Place(page.number, box) for box in use.boxes_mm)
                counts[profile.key] = counts.get(profile.key, 0) + use.count
    for key, where in places.items():
        problem = _problem(profiles[key], intended)
        if problem:
            yield _profile_finding(profiles[key], problem, where, counts[key], intended)


def _problem(profile: Profile, intended: list[Profile]) -> Problem | None:
    if profile.damage:
        return "damaged"
    if profile.device_class not in CLASSES_OF_OBJECTS:
        return "wrong_class"
    if profile.channels != profile.declared_channels:
        return "wrong_channels"
    if profile.space == "CMYK" and intended and all(profile.digest != one.digest for one in intended):
        return "other_condition"
    return None


def _told(profile: Profile, problem: Problem, numbers: Sequence[int], intended: list[Profile]) -> str:
    count, pages = len(numbers), page_list(numbers)
    name = quoted(profile.description or profile.space or say("without a name"))
    if problem == "damaged":
        return say_many(
            "Page {pages} uses colours with the profile {name}, which cannot be used: {damage}.",
            "Pages {pages} use colours with the profile {name}, which cannot be used: {damage}.",
            count, pages=pages, name=name, damage=after_a_colon(say(profile.damage or "")),
        )
    if problem == "wrong_class":
        return say_many(
            "Page {pages} uses colours with the profile {name}, which is of a kind that cannot describe the colours of objects.",
            "Pages {pages} use colours with the profile {name}, which is of a kind that cannot describe the colours of objects.",
            count, pages=pages, name=name,
        )
    if problem == "wrong_channels":
        return say_many(
            "Page {pages} uses colours with the profile {name}, which has {channels} channels where the file says {declared}.",
            "Pages {pages} use colours with the profile {name}, which has {channels} channels where the file says {declared}.",
            count, pages=pages, name=name, channels=profile.channels, declared=profile.declared_channels,
        )
    return say_many(
        "Page {pages} uses colours with the profile {name}, which is not the printing condition that the file names ({named}).",
        "Pages {pages} use colours with the profile {name}, which is not the printing condition that the file names ({named}).",
        count, pages=pages, name=name, named=quoted(intended[0].description or say("without a name")),
    )


def _remedy(problem: Problem, count: int) -> str:
    if problem == "other_condition":
        return say("Export again with profiles left out of CMYK colours, or convert them to the printing condition.")
    return say_many(
        "Convert this object to the printer's profile, or give it a sound profile, and export again.",
        "Convert these objects to the printer's profile, or give them a sound profile, and export again.",
        count,
    )


def _profile_finding(profile: Profile, problem: Problem, where: list[Place], count: int, intended: list[Profile]) -> Finding:
    numbers = tuple(sorted({place.page for place in where}))
    required: dict[Problem, Mapping[str, Value]] = {
        "damaged": {"usable": True},
        "wrong_class": {"usable": True},
        "wrong_channels": {"channels": profile.declared_channels},
        "other_condition": {"profile": intended[0].description if intended else None},
    }
    return Finding(
        message=_told(profile, problem, numbers, intended),
        remedy=_remedy(problem, count),
        measured={"problem": problem, "profile": profile.description, "space": profile.space,
                  "device_class": profile.device_class, "channels": profile.channels,
                  "declared_channels": profile.declared_channels, "objects": count},
        required=required[problem],
        pages=numbers,
        places=tuple(where),
        level="should" if problem == "other_condition" else None,
    )
