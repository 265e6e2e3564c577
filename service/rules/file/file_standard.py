"""Rules on PDF/X: the file claims a standard that the printer takes, and keeps what it claims."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from service.language.first_words import begun_after_colon
from service.language.spoken import say, say_many, speaking, spoken
from service.language.wording import clauses, listed, listed_or
from service.pdf.facts.document import Identification
from service.pdf.facts.measurements import Measurements
from service.rules.base import LEFT_OUT, Finding, Outcome, always, rule
from service.rules.file.print_standard.claims import accepts, claims_of, edition_of, misplaced_claim
from service.rules.file.print_standard.demand import PARTS, Breach, Demand, Edition
from service.rules.file.print_standard.demands import DEMANDS
from service.rules.seen import NotMeasured, both, everything_of, fact_of
from service.sheets.model import Block, SpecSheet

MOST_REMEDIES = 3
"""A file with more faults than that is better exported anew than mended."""

MOST_TOLD = 5
"""How many breaches a message tells one by one."""


@dataclass(frozen=True, kw_only=True)
class StandardsAsked(Block):
    standards: tuple[str, ...]


def _asked(sheet: SpecSheet) -> StandardsAsked | None:
    """`standards_level` unless the whole block is lowered."""
    file = sheet.file
    if file is None or not file.standards:
        return None
    return StandardsAsked(standards=file.standards, level=file.level or file.standards_level, note=file.note)


@rule(
    "file.standard",
    needs=both(fact_of(lambda document: document.identification), everything_of),
    asks=_asked,
    asked_by="file.standards",
    level="must",
    source="ISO 15930-1:2001, -3:2002, -4:2003, -6:2003, -7:2010 (PDF/X); each demand names what it rests on",
    measured={"claims": "standards that the file says it meets", "standard": "the claim that was checked, or null",
              "broken": "demands that it breaks: demand, found, pages", **LEFT_OUT},
    required={"standards": "standards that the printer takes; one is enough", "part": "the part of ISO 15930 that was checked"},
)
def file_standard(seen: tuple[Identification, Measurements], asked: StandardsAsked) -> Iterator[Outcome]:
    """The file claims a print standard that the printer takes, and keeps what it claims.

    Why: PDF/X assures the printer that nothing is missing or left to chance; a false label is worse than none,
    because nobody looks again.
    Remedy: choose the PDF/X preset in the export settings, with the printer's profile, and send the file as it comes out.
    Knows: what the file claims, and every demand of that part of ISO 15930 that a program can check.
    Cannot know: whether colours are right for the job, or whether the rare demands that need the whole standard at hand are
    kept (overprint of ICC colours, trap networks). The printer's own proof and terms decide.
    """
    facts, measurements = seen
    claims = claims_of(facts)
    accepted = [claim for claim in claims if any(accepts(name, claim) for name in asked.standards)]
    if not accepted:
        yield _no_claim(claims, facts, asked)
        return
    results = [_checked(claim, measurements) for claim in accepted]
    best = min(results, key=lambda one: (len(one.broken), len(one.unknown)))
    if best.broken:
        yield _false_claim(best, _in_english(best, measurements), claims, {"standards": list(asked.standards)})
    yield from best.unknown


@rule(
    "file.claim",
    needs=both(fact_of(lambda document: document.identification), everything_of),
    asks=lambda sheet: None if _asked(sheet) else always(sheet),
    asked_by="always, where file.standards does not ask",
    level="should",
    source="ISO 15930-1:2001, -3:2002, -4:2003, -6:2003, -7:2010 (PDF/X); each demand names what it rests on",
    measured={"claims": "standards that the file says it meets", "standard": "the claim that was checked",
              "broken": "demands that it breaks: demand, found, pages", **LEFT_OUT},
    required={"part": "the part of ISO 15930 that was checked"},
)
def file_claim(seen: tuple[Identification, Measurements], _: SpecSheet) -> Iterator[Outcome]:
    """A file that says it meets a print standard meets it, also where the printer asks for none.

    Why: whoever reads the label stops looking; software at the printer's may take the file's colours and boxes for what the
    label promises.
    Remedy: export again with that standard's preset, or without the label.
    Knows: what the file claims, and every demand of that part of ISO 15930 that a program can check.
    Cannot know: claims of parts that this version does not know, and whether the printer heeds the label.
    """
    facts, measurements = seen
    claims = claims_of(facts)
    for claim in claims:
        if edition_of(claim) is None:
            continue
        checked = _checked(claim, measurements)
        if checked.broken:
            yield _false_claim(checked, _in_english(checked, measurements), claims, {})
        yield from checked.unknown


_Broken = tuple[tuple[Demand, Breach], ...]


@dataclass(frozen=True)
class _Checked:
    claim: str
    broken: _Broken
    unknown: tuple[NotMeasured, ...]


def _checked(claim: str, measurements: Measurements) -> _Checked:
    edition = edition_of(claim)
    if edition is None:
        return _Checked(claim, (), (NotMeasured(say("This version does not know what {standard} demands.", standard=claim)),))
    broken: list[tuple[Demand, Breach]] = []
    unknown: dict[NotMeasured, None] = {}
    for one in DEMANDS.values():
        for seen in one.look(measurements, edition) if edition in one.editions else ():
            if isinstance(seen, Breach):
                broken.append((one, seen))
            else:
                unknown[seen] = None
    return _Checked(claim, tuple(broken), tuple(unknown))


def _no_claim(claims: tuple[str, ...], facts: Identification, asked: StandardsAsked) -> Finding:
    wanted = listed_or(asked.standards)
    misplaced = misplaced_claim(facts)
    if claims:
        says = say("The file says that it is {claims}; the printer takes {wanted}.", claims=listed(claims), wanted=wanted)
    elif misplaced:
        says = say(
            "The file says {claim} in the wrong place (Info instead of XMP); the printer takes {wanted}.",
            claim=misplaced,
            wanted=wanted,
        )
    else:
        says = say("The file does not say that it meets a print standard (PDF/X); the printer takes {wanted}.", wanted=wanted)
    return Finding(
        message=says,
        remedy=say(
            "In the export settings choose {wanted} as standard, with the printer's colour profile, and export again.",
            wanted=wanted,
        ),
        measured={"claims": list(claims), "standard": None, "broken": []},
        required={"standards": list(asked.standards)},
    )


def _in_english(checked: _Checked, measurements: Measurements) -> _Broken:
    """The breaches for `measured`, which reads the same in every language: they are looked for once more."""
    if spoken() == "en":
        return checked.broken
    with speaking("en"):
        return _checked(checked.claim, measurements).broken


def _false_claim(checked: _Checked, in_english: _Broken, claims: tuple[str, ...], asked: dict[str, list[str]]) -> Finding:
    edition: Edition | None = edition_of(checked.claim)
    places = tuple(place for _, breach in checked.broken for place in breach.places)
    pages = {number for _, breach in checked.broken for number in breach.pages} | {place.page for place in places}
    return Finding(
        message=say_many(
            "The file says that it is {standard}, and it is not ({count} requirement is not met): {found}.",
            "The file says that it is {standard}, and it is not ({count} requirements are not met): {found}.",
            len({demand.id for demand, _ in checked.broken}),
            standard=checked.claim,
            found=_first_found([breach.found for _, breach in checked.broken]),
        ),
        remedy=_mended(checked),
        measured={
            "claims": list(claims),
            "standard": checked.claim,
            "broken": [
                {"demand": demand.id, "found": breach.found, "pages": list(breach.pages)} for demand, breach in in_english
            ],
        },
        required={**asked, "part": PARTS[edition] if edition else None},
        pages=tuple(sorted(pages)),
        places=places,
    )


def _first_found(found: list[str]) -> str:
    left = len(found) - MOST_TOLD
    return clauses([*found[:MOST_TOLD], say_many("and {count} more", "and {count} more", left)] if left > 0 else found)


def _mended(checked: _Checked) -> str:
    remedies = [say(one) for one in dict.fromkeys(demand.remedy for demand, _ in checked.broken)]
    if len(remedies) <= MOST_REMEDIES:
        return " ".join(remedies)
    return say(
        "Export again from the layout program with its {standard} setting; too much is wrong to mend the file. First: {remedy}",
        standard=checked.claim,
        remedy=begun_after_colon(remedies[0]),
    )
