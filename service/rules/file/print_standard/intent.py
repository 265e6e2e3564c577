"""Demands on the output intent: the printing condition that the file was made for (ISO 32000-2:2020, 14.11.5)."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from service.language.spoken import say, say_many
from service.language.wording import inside_a_sentence, listed_or
from service.pdf.facts.document import Document, OutputIntent, Profile
from service.pdf.facts.measurements import Measurements
from service.pdf.facts.unknown import Unmeasured
from service.rules.file.print_standard.demand import ALL, X_1A, X_3, X_4, Breach, Edition, Told, demand
from service.rules.seen import both, everything_of, fact_of

REGISTRY = "http://www.color.org"
"""The registry of characterized printing conditions, as RegistryName gives it (14.11.5, Table 401)."""

_REMEDY = (
    "Export again with the PDF/X setting on and the printer's colour profile as output intent (printing condition); ask the "
    "printer which one if the sheet does not say."
)
_SOURCE = "ISO 32000-2:2020, 14.11.5 (output intents); the demand from memory"


def pdfx_intents(document: Document) -> tuple[OutputIntent, ...]:
    """None of them where they could not be read: `one_intent` says so."""
    intents = document.output_intents
    return () if isinstance(intents, Unmeasured) else for_pdfx(intents)


def for_pdfx(intents: Iterable[OutputIntent]) -> tuple[OutputIntent, ...]:
    return tuple(one for one in intents if one.subtype == "GTS_PDFX")


def profile_by_key(document: Document) -> Mapping[str, Profile]:
    profiles = document.profiles
    return {} if isinstance(profiles, Unmeasured) else {one.key: one for one in profiles}


def intent_profile(document: Document) -> Profile | None:
    """Of the only intent for PDF/X."""
    intents = pdfx_intents(document)
    key = intents[0].profile if len(intents) == 1 else None
    return profile_by_key(document).get(key or "")


INTENTS = fact_of(lambda document: document.output_intents)


@demand(
    "output-intent", needs=INTENTS, of=ALL, subject="there is exactly one output intent for PDF/X", remedy=_REMEDY, source=_SOURCE
)
def one_intent(intents: tuple[OutputIntent, ...], _: Edition) -> Iterator[Told]:
    count = len(for_pdfx(intents))
    if count == 0:
        yield Breach(say("it names no printing condition (output intent)"))
    elif count > 1:
        yield Breach(say_many("it names {count} output intent", "it names {count} output intents", count))


@demand("output-condition", needs=INTENTS, of=ALL, subject="the output intent has an identifier", remedy=_REMEDY, source=_SOURCE)
def condition_named(intents: tuple[OutputIntent, ...], _: Edition) -> Iterator[Told]:
    if any(not one.identifier for one in for_pdfx(intents)):
        yield Breach(say("its output intent does not name the printing condition"))


@demand(
    "output-info",
    needs=INTENTS,
    of=ALL,
    subject="a printing condition outside the registry is described",
    remedy=_REMEDY,
    source="ISO 32000-2:2020, 14.11.5, Table 401 (Info)",
)
def condition_described(intents: tuple[OutputIntent, ...], _: Edition) -> Iterator[Told]:
    if any(not one.info and not _registered(one) for one in for_pdfx(intents)):
        yield Breach(say("its output intent names a condition that is in no registry and does not describe it"))


def _registered(intent: OutputIntent) -> bool:
    return (intent.registry or "").rstrip("/") == REGISTRY


@demand(
    "output-profile",
    needs=both(INTENTS, everything_of),
    of=ALL,
    subject="the output intent carries its profile where it must",
    remedy=_REMEDY,
    source=_SOURCE,
)
def profile_there(seen: tuple[tuple[OutputIntent, ...], Measurements], edition: Edition) -> Iterator[Told]:
    """PDF/X-4 always; PDF/X-4p may name one outside; the others may name a registered condition instead.

    PDF/X-3 with colours that are converted through the profile needs it. An intent without a subject of PDF/X is not looked at.
    """
    intents, file = seen
    for intent in for_pdfx(intents):
        if intent.profile is not None or (edition == "PDF/X-4p" and intent.profile_outside):
            continue
        if edition in X_4:
            yield Breach(say("the colour profile of its printing condition is not in the file"))
        elif not _registered(intent):
            yield Breach(say("its printing condition is in no registry, and its colour profile is not in the file"))
        elif edition in X_3 and _converts(file):
            yield Breach(say("it has colours that only a profile can convert, and its output intent has no profile"))


def _converts(file: Measurements) -> bool:
    pages = () if isinstance(file.pages, Unmeasured) else file.pages
    contents = (page.content for page in pages if not isinstance(page.content, Unmeasured))
    return any(use.written.startswith(("ICCBased", "Cal", "Lab")) for content in contents for use in content.colors)


@demand(
    "output-profile-kind",
    needs=both(INTENTS, fact_of(lambda document: document.profiles)),
    of=ALL,
    remedy=_REMEDY,
    source="ISO 15076-1:2010, 7.2 (the header); the demand from memory",
    subject="the profile of the output intent is a sound output profile",
)
def profile_kind(seen: tuple[tuple[OutputIntent, ...], tuple[Profile, ...]], edition: Edition) -> Iterator[Told]:
    intents, profiles = seen
    by_key = {one.key: one for one in profiles}
    for intent in for_pdfx(intents):
        profile = by_key.get(intent.profile or "")
        if profile is not None:
            yield from (Breach(found) for found in _faults(profile, edition))


def _faults(profile: Profile, edition: Edition) -> Iterator[str]:
    spaces = ("CMYK", "GRAY") if edition in X_1A else ("CMYK", "GRAY", "RGB")
    if profile.damage:
        why = inside_a_sentence(say(profile.damage))
        yield say("the profile of its output intent cannot be used: {reason}", reason=why)
    elif profile.device_class != "prtr":
        yield say("the profile of its output intent is not that of a printing condition (no output profile)")
    elif profile.space not in spaces:
        yield say(
            "the profile of its output intent is for {space}; {standard} takes {taken}",
            space=profile.space,
            standard=edition,
            taken=listed_or(spaces),
        )
    elif profile.declared_channels != profile.channels:
        yield say_many(
            "the profile of its output intent has {count} channel, and the file says {declared}",
            "the profile of its output intent has {count} channels, and the file says {declared}",
            profile.channels,
            declared=profile.declared_channels,
        )
