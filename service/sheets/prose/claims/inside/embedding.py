"""Fonts that are to be in the file."""

from __future__ import annotations

import re
from collections.abc import Iterator

from service.sheets.prose.claims.claim import Claim
from service.sheets.prose.words.frames import asks, stance_of
from service.sheets.prose.words.statements import Statement

_FONTS = re.compile(
    r"\bfonts?\b|\btypefaces?\b|\bschrift(?:en|arten|art|satze|fonte?n?)?\b|\bpolices?\b|\btypes?\b|\btext\w*|\bcaracteres\b"
    r"|\btypographies\b|\bfontes?\b|\bzeichensatze\b|\bfonds mussen\b"
)
_EMBED = re.compile(
    r"\bembed\w*|\beingebettet\w*|\b(?:ein(?:zu)?|mit ein)(?:ge)?b(?:e|i)tt\w*|\bbetten\b[^.;]{0,80}\bein\b|\beinzubinden\b"
    r"|\beingebunden\w*|\beinbinden\b|\bincorpor\w*|\bintegri?e\w*|\bembarqu\w*"
    r"|\battach(?:ed)? (?:\w+ ){0,2}fonts?\b|\bfonts? (?:\w+ ){0,6}(?:attached|downloaded)\b(?= (?:to|in)\b)"
    r"|\bem- bed\w*|\bincluses?\b|\binclude(?:d)?(?: in the (?:pdf|file))?\b|\bincludes? all fonts\b|\bsubset\w*|\beinge-?legt\b"
    r"|\bfonts must be included\b|\bmitgeliefert im pdf\b|\binkludier\w*|\bim pdf enthalten\b|\bin (?:der"
    r"|die) (?:pdf-?)?datei (?:enthalten|eingef\w+)\b"
    r"|\bpresentes dans le (?:pdf|fichier)\b|\bin the (?:pdf|file)\b(?= (?:itself )?(?:must|should))"
)
_YES = re.compile(r"(?:a: )?(?:yes|ja|oui)\b(?![^.]{0,40}\b(?:but|or|aber|oder|mais|ou)\b)")
_SHOULD = re.compile(
    r"(?:q: )?(?:should|must|do (?:i|you|we|my|your)|are|mussen|sollen|soll|muss|brauch\w*|dois-je|faut-il|doit-on)\b[^?]*\?"
)
"""'Must fonts be embedded?' over 'Yes.'"""


def read_fonts(statement: Statement) -> Iterator[Claim]:
    """Embedded, or embedded or outlined: a font that is not embedded breaks both. Outlines alone are another demand."""
    text = statement.text
    words = f"{statement.label} {statement.heading}"
    asked = _SHOULD.match(statement.heading) and _EMBED.search(statement.heading) and _FONTS.search(statement.heading)
    if asked and _YES.match(text):
        yield Claim("fonts.embedded", "required", statement.start, statement.start + len(text.rstrip(" .!")))
        return
    embed = _EMBED.search(text)
    fonts = _FONTS.search(text) or _FONTS.search(words)
    if fonts is None or embed is None:
        return
    if re.search(
        r"\b(?:images?|profiles?|pictures?|bilder|profil\w*|icc|links?|logos?|graphics|wrapper)\b", text
    ) and not re.search(r"\bfonts?\b|\bschrift|\bpolices?\b|\btype|\btypo", text):
        return
    for match in _EMBED.finditer(text):
        if _OF_PICTURES.search(text[: match.start()]) and not _OF_BOTH.search(text[: match.start()]):
            continue
        if match.group().startswith("includ") and not re.search(r"\bfonts\b[^.;]{0,30}$", text[: match.start()]):
            continue
        stance = stance_of(statement, *match.span())
        if _IS_NOT_ENOUGH.match(text, match.end()):
            continue
        if stance in ("unneeded", "allowed", None) or not asks(statement, *match.span()):
            continue
        if stance == "denied" and not _denied_otherwise(text, match):
            continue
        own = _FONTS.search(text)
        start = min(own.start(), match.start()) if own else match.start()
        end = max(own.end(), match.end()) if own else match.end()
        if end - start > 200:
            start, end = match.span()
        yield Claim("fonts.embedded", "required", statement.start + start, statement.start + end)
        return


_IS_NOT_ENOUGH = re.compile(
    r"[^.;,]{0,20}\b(?:(?:genugt|genugen|reicht|reichen)\b[^.;,]{0,30}\bnicht|(?:ist|sind) nicht (?:genug|ausreichend)|(?:is"
    r"|are) not (?:enough|sufficient)|ne suffi\w+|n'est pas suffisan\w+)\b"
)
_OF_PICTURES = re.compile(
    r"\b(?:and|und|et|or|,) (?:all |any |alle |toutes? les |tous les |les )?(?:\w+ )?(?:images?|pictures?|graphics?"
    r"|links?|photos?|files|bilder|grafiken"
    r"|logos?)(?: (?:must|should|are|is|be|to|mussen|sollen|doivent|etre|need|files|linked))* $"
)
"""'All fonts must be outlined and images embedded.'"""
_OF_BOTH = re.compile(
    r"\b(?:fonts?|schrift(?:en|arten)?|polices?|typefaces?) (?:and|und|et|&|sowie) (?:all |any |alle |toutes? les |tous les "
    r"|les )?(?:\w+ )?(?:images?|pictures?|photos?|graphics|bilder|grafiken|logos?)"
    r"(?: (?:must|should|are|is|be|to|mussen|sollen|sind|doivent|etre|all|vollstandig|komplett))* $"
)
"""'All fonts and images must be embedded.'"""


def _denied_otherwise(text: str, match: re.Match[str]) -> bool:
    """'Fonts that are not embedded are refused', 'embedded, not outlined'."""
    before = text[max(0, match.start() - 30) : match.start()]
    if re.search(r"\b(?:do not|don't|need not|not|ne|nicht|pas|kein\w*)\s(?:be )?(?:\w+ )?$", before):
        return (
            re.search(
                r"\b(?:refus\w*|reject\w*|cannot|can't|error|problem\w*|zuruck\w*|replaced|substitut\w*)\b", text[match.end() :]
            )
            is not None
        )
    return True
