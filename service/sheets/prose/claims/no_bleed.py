"""Bleed that is refused: none at all is asked."""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction

from service.sheets.prose.claims.claim import Claim
from service.sheets.prose.words.frames import asks, stance_of
from service.sheets.prose.words.statements import Statement

_BLEED_AT_ALL = re.compile(
    r"\b(?:bleed(?:s|ing)?|(?:be|an)schnitt(?:zugabe)?|randabfallend(?=er)|(?:fonds?|bords?) perdus?)\b(?! ?-?(?:marks?|zeichen"
    r"|ads?\b|area|zone|advert|edge))"
)
_MADE_WITHOUT = re.compile(
    r"\b(?:supply|supplied|set up|create[d]?|save[d]?|send|export\w*|provide[d]?|design\w*|build|built|prepare[d]?"
    r"|include|add|anlegen|angelegt|legen|liefern"
    r"|erstellen|speichern|fournir|fournissez|livrer|preparer|creer|ajouter|enregistrer|must|should|files?|documents?)\b"
)
_NONE_DIRECTLY = re.compile(
    r"\b(?:without(?: any)?|no|ohne|kein\w*|sans|pas de|do not (?:add|include|use)(?: any)?(?: extra)?|don't (?:add"
    r"|include)(?: any)?)\s$"
)
_NOT_OFFERED = re.compile(
    r"(?:ing)?[^.;,:]{0,30}? (?:is|are)(?: not|n't) (?:an option|available|possible|offered|supported|accepted|allowed"
    r"|permitted)\b(?! (?:for|on|in|at) (?!any\b|all\b|(?:the|our|this) (?:news ?paper|magazine|publication|journal|press)))"
    r"|(?:er|en|e|es)?(?: (?:druck\w*|anzeigen|bilder|flachen|motive))? (?:ist|sind|wird|werden)(?: \w+)?"
    r" nicht (?:moglich|angeboten|unterstutzt|vorgesehen|verfugbar|druckbar)\b(?! (?:bei|fur|auf|im|in|am|wenn|falls|sofern)\b)"
    r"|(?: (?:est|sont))? (?:impossibles?|pas possibles?)\b(?! (?:pour|sur|si|en|dans)\b)"
    r"|(?: (?:n'est|ne sont)) pas (?:possibles?|disponibles?|propose\w*)\b(?! (?:pour|sur|si|en|dans)\b)"
)
_WE_CANNOT = re.compile(
    r"\b(?:we|our press(?:es)?|(?:the|this|our) (?:news ?paper|paper|magazine|journal|publication)) (?:cannot|can ?not"
    r"|can't|do not"
    r"|don't|does not|is unable to|are unable to) (?:print|offer|do|take|accommodate|accept|produce|run|have|support) "
    r"(?:any |full |a )?$"
)
_NO = re.compile(r"(?:no|sorry)\b(?=\W*$|[,.!;:]| (?:we|our|bleeds?|it|this|the)\b)")
_NON_BLEED = re.compile(r"\b(?:all|ads?|adverts?|artwork|pages?|files?) (?:ads? )?(?:must be|should be|are to be"
    r"|are) non-?bleed\b")
_NONE_LABEL = re.compile(
    r"[^:|]{0,12}(?:bleeds?|beschnitt|anschnitt|fonds? perdus?)\s?[:|]\s?(?:none|no|keine?r?|nicht|ohne|aucun|sans|0)\b[^0-9]*$"
)


_ASKS_FOR_BLEED = re.compile(
    r"(?:can|may|could) (?:i|we|my \w+|the \w+|ads?|artwork)\b[^?]{0,20}\bbleeds?\W{0,3}\?|do you (?:offer|print|do|take"
    r"|accept)\b[^?]{0,20}\bbleeds?\W{0,3}\?"
)
"""'Can I add bleed?' over 'No, …'."""


def read_no_bleed(statement: Statement) -> Iterator[Claim]:
    """'Supply your file without bleed': none at all is asked."""
    text = statement.text
    if statement.is_heading:
        return
    if _ASKS_FOR_BLEED.match(statement.heading) and (no := _NO.match(text)):
        place = (statement.start, statement.start + no.end())
        yield Claim("bleed.minimum", "0 mm", *place, 1, Fraction(0))
        yield Claim("bleed.maximum", "0 mm", *place, 1, Fraction(0))
        return
    for match in _BLEED_AT_ALL.finditer(text):
        told = _NOT_OFFERED.match(text, match.end()) or _NON_BLEED.search(text)
        if told is None and re.search(r"\b(?:on|for|if|when|unless)\b", text) is None:
            told = _WE_CANNOT.search(text[: match.start()])
        labelled = told or _NONE_LABEL.match(text) or re.fullmatch(r"bleeds?(?: +none)+\.?", text)
        if not labelled and not (
            _NONE_DIRECTLY.search(text[: match.start()])
            and _MADE_WITHOUT.search(text)
            and stance_of(statement, *match.span()) == "denied"
            and asks(statement, *match.span())
            and re.search(r"[0-9]|\bif\b|\bwenn\b|\bsi\b|\bmarks?\b", text) is None
        ):
            continue
        place = (statement.start + match.start(), statement.start + match.end())
        yield Claim("bleed.minimum", "0 mm", *place, 1, Fraction(0))
        yield Claim("bleed.maximum", "0 mm", *place, 1, Fraction(0))
        return
