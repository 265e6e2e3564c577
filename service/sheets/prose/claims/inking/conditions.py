"""Printing conditions by the names of their profiles, and profiles of single colours.

A condition is claimed where the sentence, its label or its heading speaks of output intents or printing conditions. A profile
that colours are to be converted with says nothing of what the file has to name, so that it stays a question. Names
from memory, as in `service.product.printing_conditions`.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace

from service.sheets.prose.claims.claim import Claim
from service.sheets.prose.words.frames import asks, stance_of
from service.sheets.prose.words.narrowing import Scope
from service.sheets.prose.words.statements import Statement

_NAME = re.compile(
    r"\bfogra ?-?(?P<fogra>27|28|29|30|39|40|41|42|43|44|45|46|47|48|49|5[0-9]|60)l?\b"
    r"|\biso ?coated[ _]?v2(?:[ _]?\(?300 ?%?\)?)?(?: \(eci\))?|\biso ?uncoated(?: yellowish)?\b"
    r"|\bpso ?(?:un)?coated[ _](?:v3|iso ?12647)\b"
    r"|\bpso (?:lwc|mfc|snp)\b(?: (?:improved|standard|paper))?|\biso ?newspaper ?26v4\b|\bwan-ifra ?newspaper ?26v5\b"
    r"|\bgracol ?(?:2006|2013)(?: coated 1)?(?: uncoated)?\b|\bswop ?(?:2006|2013)(?: coated [35])?\b"
    r"|\bu\.?s\.? web coated \(?swop\)? v2\b"
    r"|\bjapan color 2001 coated\b|\bcgats ?(?:tr ?00[0-9]|21 ?[_-]? ?crpc[1-7])\b"
)
_WRITTEN = {
    "iso coated v2": "ISO Coated v2",
    "iso uncoated": "ISO Uncoated",
    "pso coated v3": "PSO Coated v3",
    "pso uncoated v3": "PSO Uncoated v3",
    "iso newspaper 26v4": "ISOnewspaper26v4",
    "isonewspaper26v4": "ISOnewspaper26v4",
}
_CONDITION = re.compile(
    r"\boutput[- ]?(?:intents?|conditions?)\b|\bprint(?:ing)? conditions?\b|\boutput profiles?\b|\bausgabe-?(?:bedingung\w*"
    r"|intents?|absicht\w*|profil\w*)\b"
    r"|\bdruck(?:bedingung|standard)\w*|\bconditions? d'impression\b|\bintentions? de (?:sortie|rendu de sortie)\b"
    r"|\bprofils? de (?:sortie|destination)\b"
)
_PROFILE = re.compile(
    r"\b(?:icc|colou?r)?[- ]?profil\w*|\bfarbprofil\w*|\bprofils? (?:icc|colorimetriques?)?|\bwe print\b|\bwir drucken\b"
    r"|\bnous imprimons\b|\bconvert\w*|\bumwand\w*|\bwandeln\b"
)
_CONVERT = re.compile(r"\bconvert\w*")
"""With a profile, which is no refusal of it."""
_MOST = 12


def read_conditions(statement: Statement) -> Iterator[Claim]:
    """All that one sentence names, as one claim."""
    text = statement.text
    plain = replace(statement, text=_CONVERT.sub(lambda one: "-" * len(one.group()), text))
    named = [match for match, _ in zip(_NAME.finditer(text), range(_MOST), strict=False)]
    taken = [
        one for one in named if stance_of(plain, *one.span()) not in ("denied", "unneeded", None) and asks(statement, *one.span())
    ]
    if not taken or statement.is_heading:
        return
    names = list(dict.fromkeys(_written(one) for one in taken))
    place = (statement.start + taken[0].start(), statement.start + taken[-1].end())
    about = any(_CONDITION.search(words) for words in (text, statement.label, statement.heading))
    if about:
        yield Claim("file.output_conditions", names, *place)
    elif _PROFILE.search(f"{text} {statement.label} {statement.heading}"):
        yield Claim("file.output_conditions", names, *place, scope=Scope("aside", text[:80]))


def _written(match: re.Match[str]) -> str:
    """As profiles write their names: 'fogra 51' is FOGRA51, 'iso coated v2 (eci)' ISO Coated v2."""
    if match["fogra"]:
        return f"FOGRA{match['fogra']}"
    words = re.sub(r"[ _]+", " ", re.sub(r"\(eci\)|[_]", " ", match.group())).strip()
    plain = re.sub(r" ?\(?300 ?%?\)?$", "", words)
    if plain in _WRITTEN:
        return _WRITTEN[plain]
    return re.sub(r"\b(?:iso|pso|lwc|mfc|snp|swop|us|u\.s|cgats|tr)\b", lambda one: one.group().upper(), words).replace(
        "gracol", "GRACoL"
    )


_ICC = re.compile(
    r"\b(?:embedded |tagged )?(?:icc|colou?r)[- ]?(?:colou?r )?profiles?\b|\b(?:eingebettete\w* )?(?:icc|farb)-?profile?n?\b"
    r"|\bprofils? (?:icc|colorimetriques?|de couleurs?)\b|\bicc tags?\b"
)
_OFF = re.compile(r"\b(?:de-?select|uncheck|untick|turn off|switch off|deaktivier\w*|decoche[rz]|desactive[rz])\b[^.;,]{0,30}$")
_ONE_PROFILE = re.compile(
    r"\brgb\b|\brvb\b|\bother than\b|\bwrong\b|\bmonitor\b|\bscanner\b|\bandere\w*\b|\bfalsche\w*\b|\bautres?\b"
    r"|\boutput intents?\b|\bpdf/x"
)


def read_profiles(statement: Statement) -> Iterator[Claim]:
    """'No embedded ICC profiles'; a wrong profile that must not be there is one profile."""
    text = statement.text
    match = _ICC.search(text)
    if match is None or statement.is_heading or _ONE_PROFILE.search(text):
        return
    if _OFF.search(text[: match.start()]):
        yield Claim("color.icc_profiles", "forbidden", statement.start + match.start(), statement.start + match.end())
        return
    statement = replace(statement, text=_CONVERT.sub(lambda one: "-" * len(one.group()), text))
    about = re.search(
        r"embed|tagg|eingebett|einbett|incorpor|integr|attach|assign|zuweis|file|pdf|daten|datei|fichier|image|bild", text
    )
    short = len(text.split()) <= 6
    if (about or short) and stance_of(statement, *match.span()) == "denied" and asks(statement, *match.span()):
        yield Claim("color.icc_profiles", "forbidden", statement.start + match.start(), statement.start + match.end())
