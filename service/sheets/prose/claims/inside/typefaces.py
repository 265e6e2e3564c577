"""Text turned to outlines, and the kinds of fonts that are taken."""

from __future__ import annotations

import re
from collections.abc import Iterator

from service.sheets.prose.claims.claim import Claim
from service.sheets.prose.words.frames import asks, stance_of
from service.sheets.prose.words.statements import Statement

_TEXT = re.compile(
    r"\bfonts?\b|\btypefaces?\b|\btexts?\b|\btype\b|\blettering\b|\bschrift(?:en|arten)?\b|\btexte?n?\b|\bpolices?\b"
    r"|\btypographies?\b|\bcaracteres\b|\btextes?\b"
)
_OUTLINES = re.compile(
    r"\boutlin(?:es?|ed)\b|\b(?:to|into|as) (?:curves|paths|vectors|shapes)\b|\bcurved\b|\b(?:in|zu|als) (?:pfaden?|kurven"
    r"|zeichenwege?n?|vektoren)\b|\bvektorisier\w*|\bin pfade\b"
    r"|\bvectoris\w*|\b(?:en|aux) (?:courbes?|traces?|vecteurs)\b"
)
_EMBEDS = re.compile(
    r"\bembed\w*|eingebett\w*|\beinbett\w*|\beinzubett\w*|\bbett\w*|\beingebunden\w*|\beinbinden\b|\bincorpor\w*|\bintegr\w*"
    r"|\bembarqu\w*|\binclu\w*|\bsubset\w*"
)
_OF_SOMETHING = re.compile(
    r"\blogos?\b|\bstrokes?\b|\bimages?\b|\bbilder\b|\bif\b|\bwenn\b|\bfalls\b|\bsi\b|\bunless\b|\bhandwrit\w*|\bspecial\b"
    r"|\bunusual\b|\bsmall\b|\bkleine\w*|\bpetits?\b|\bspine\b"
    r"|\boutline(?:d)? (?:text|type|font)\b(?= (?:of|at|with|must be (?:at|of)))|\beffects?\b|\bcan be\b|\bmay be\b"
    r"|\bkonnen\b|\bpeuvent\b|\bor\b|\boder\b|\bou\b|\balternativ\w*|\brasteri[sz]\w*"
)
_SOFT = re.compile(
    r"\b(?:recommend\w*|prefer\w*|advis\w*|suggest\w*|ideal\w*|if possible|where possible|empf[eio]\w*hl\w*|vorzugsweise"
    r"|am besten|wenn moglich|moglichst|recommand\w*|conseill\w*|preconis\w*|de preference|si possible|safest|better|besser"
    r"|mieux)\b"
)


def read_outlines(statement: Statement) -> Iterator[Claim]:
    """Outlines alone; 'embedded or outlined' is a demand on fonts that outlines only meet as well."""
    text = statement.text
    if statement.is_heading or _EMBEDS.search(text) or _OF_SOMETHING.search(text) or _SOFT.search(text):
        return
    match = _OUTLINES.search(text)
    about = _TEXT.search(text) or _TEXT.search(statement.label) or _TEXT.search(statement.heading)
    if match is None or about is None or _EMBEDS.search(f"{statement.label} {statement.lead}"):
        return
    if stance_of(statement, *match.span()) != "claimed" and not _CONVERTED.search(text):
        return
    if _NEVER.search(text) or not asks(statement, *match.span()):
        return
    own = _TEXT.search(text)
    start, end = (min(own.start(), match.start()), max(own.end(), match.end())) if own else match.span()
    yield Claim("fonts.outlines", "required", statement.start + start, statement.start + end)


_CONVERTED = re.compile(r"\b(?:convert\w*|umwand\w*|umgewandelt\w*|umzuwandeln|wandeln|konvertier\w*|transform\w*)\b")
_NEVER = re.compile(
    r"\b(?:not|never|don't|do not|no|nicht|kein\w*|niemals|ne|pas|jamais)\b|\bno need\b|\bwe (?:will |can )?(?:convert|outline)"
)

_KINDS = (
    ("type-1", re.compile(r"\btype ?-?1\b|\bpostscript[- ](?:fonts?|schrift\w*)\b|\bpolices? postscript\b")),
    ("truetype", re.compile(r"\btrue ?-?type\b")),
    ("type-3", re.compile(r"\btype ?-?3\b")),
)


def read_font_formats(statement: Statement) -> Iterator[Claim]:
    """'No Type 3 fonts'; 'only TrueType and OpenType': of OpenType the kind of outlines is not said, so that it takes both."""
    text = statement.text
    named = [(kind, match) for kind, pattern in _KINDS if (match := pattern.search(text))]
    if not named or statement.is_heading or _SOFT.search(text):
        return
    start, end = min(one.start() for _, one in named), max(one.end() for _, one in named)
    place = (statement.start + start, statement.start + end)
    stances = {stance_of(statement, *one.span()) for _, one in named}
    if not asks(statement, start, end):
        return
    all_kinds = [kind for kind, _ in _KINDS]
    if stances == {"denied"}:
        kept = [kind for kind in all_kinds if kind not in dict(named)]
        yield Claim("fonts.formats", kept, *place)
    elif stances == {"claimed"} and re.search(r"\b(?:only|nur|ausschlie(?:ss|ß)lich|uniquement|seules?|exclusivement)\b", text):
        taken = {kind for kind, _ in named} | ({"type-1", "truetype"} if re.search(r"\bopen ?-?type\b", text) else set())
        yield Claim("fonts.formats", [kind for kind in all_kinds if kind in taken], *place)
