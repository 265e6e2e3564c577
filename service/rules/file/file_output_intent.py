"""The rule on the printing condition: the file has an output intent, and it is one that the printer takes."""

from __future__ import annotations

from collections.abc import Iterator

from service.language.spoken import say
from service.language.wording import after_a_colon, first_few, listed, quoted, reason
from service.pdf.facts.document import Document, OutputIntent, Profile
from service.pdf.facts.unknown import Unmeasured
from service.product.printing_conditions import same_condition
from service.rules.base import Finding, Outcome, rule
from service.rules.seen import NotMeasured, both, document_of, fact_of
from service.sheets.model import FileAsked

CUSTOM = "custom"
"""ISO 32000-2:2020, 14.11.5: what stands for the name of a condition that has none; its profile's name tells which it is."""


@rule(
    "file.output-intent",
    needs=both(fact_of(lambda document: document.output_intents), document_of),
    asks=lambda sheet: sheet.file if sheet.file and sheet.file.output_conditions else None,
    asked_by="file.output_conditions",
    level="must",
    source="ISO 32000-2:2020, 14.11.5 (output intents); ISO 15076-1:2010, 7.2 (profile header); the list is the printer's",
    measured={"problem": "missing, several, not_accepted, damaged_profile, wrong_class or wrong_channels",
              "conditions": "OutputConditionIdentifier of each output intent for print", "profile": "description of its profile"},
    required={"conditions": "printing conditions that the printer takes"},
)
def file_output_intent(seen: tuple[tuple[OutputIntent, ...], Document], file: FileAsked) -> Iterator[Outcome]:
    """The file names a printing condition that the printer takes.

    Why: the same CMYK values give other colours on another paper or press; the output intent says which one they are meant for.
    Remedy: convert colours with the printer's profile and export with it as output intent.
    Knows: the output intents for print (GTS_PDFX), their names, and the header of their profiles. The usual names of a profile
    (ISO Coated v2, GRACoL 2006) stand for the condition that it was made for.
    Cannot know: whether the colours were really separated for that condition. Ask for a contract proof where colour matters.
    """
    found, document = seen
    intents = [one for one in found if one.subtype == "GTS_PDFX"]
    if not intents:
        yield _intent_finding("missing", say("The file names no printing condition (output intent)."), intents, None, file)
        return
    if len(intents) > 1:
        says = say("The file names several printing conditions: {names}.", names=listed(_name(one) for one in intents))
        yield _intent_finding("several", says, intents, None, file)
        return
    (intent,) = intents
    profile = None
    if intent.profile is not None:
        if isinstance(document.profiles, Unmeasured):
            yield NotMeasured(reason(document.profiles))
        else:
            profile = next((one for one in document.profiles if one.key == intent.profile), None)
    names = [intent.identifier or ""]
    if names[0].casefold() == CUSTOM and profile and profile.description:
        names.append(profile.description)
    if not {same_condition(one) for one in names} & {same_condition(one) for one in file.output_conditions}:
        says = say("The file is made for the printing condition {name}.", name=_name(intent))
        yield _intent_finding("not_accepted", says, intents, profile, file)
    fault = _profile_fault(profile, _name(intent)) if profile else None
    if fault:
        yield _intent_finding(*fault, intents, profile, file)


def _name(intent: OutputIntent) -> str:
    return quoted(intent.identifier) if intent.identifier else say("without a name")


def _profile_fault(profile: Profile, name: str) -> tuple[str, str] | None:
    """What is wrong with the profile of the printing condition of this name: the problem, and a sentence."""
    if profile.damage:
        return "damaged_profile", say(
            "The file's printing condition is {name}, and its colour profile cannot be used: {damage}.",
            name=name, damage=after_a_colon(say(profile.damage)),
        )
    if profile.device_class != "prtr":
        return "wrong_class", say(
            "The file's printing condition is {name}, and its colour profile is not that of a printing condition.", name=name
        )
    if profile.channels != profile.declared_channels:
        return "wrong_channels", say(
            "The file's printing condition is {name}, and its colour profile has {channels} channels where the file says "
            "{declared}.",
            name=name, channels=profile.channels, declared=profile.declared_channels,
        )
    return None


def _intent_finding(problem: str, says: str, intents: list[OutputIntent], profile: Profile | None, file: FileAsked) -> Finding:
    takes = first_few(list(file.output_conditions))
    return Finding(
        message=say("{told} The printer takes {conditions}.", told=says, conditions=takes),
        remedy=say(
            "Export again with one of these printing conditions (output intent) chosen and its profile embedded: {conditions}.",
            conditions=takes,
        ),
        measured={"problem": problem, "conditions": [one.identifier for one in intents],
                  "profile": profile.description if profile else None},
        required={"conditions": list(file.output_conditions)},
    )
