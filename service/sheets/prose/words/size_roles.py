"""What kind of page a size is of, by the words around it."""

from __future__ import annotations

import re
from typing import Literal

from service.sheets.prose.words.statements import Statement

Role = Literal["trim", "size", "with bleed", "document", "safe", "folded", "flat", "other"]
"""`size` says no more; `document` may be either with bleed or without."""
_BLEED = r"(?:bleeds?\b|(?:be|an)schnitt(?!en)\w*|fonds?[ -]perdus?|bords?[ -]perdus?|debords?\b)"
_ROLES: tuple[tuple[Role, re.Pattern[str]], ...] = (
    (
        "trim",
        re.compile(
            rf"\b(?:without|excl\w*\.?|not including|before|ohne|exkl\w*\.?|hors|sans)(?: [0-9.,/]+ ?(?:mm|cm|in"
            rf"|\")?)?(?: the)? {_BLEED}"
            rf"|§.{{0,20}}\b(?:plus|zzgl\.?|zuzuglich|and|und|et)(?: [^§,;()]{{0,24}})? {_BLEED}"
            rf"|\b(?:net|unbleed)\b|\bhors[- ]{_BLEED}"
        ),
    ),
    (
        "with bleed",
        re.compile(
            rf"\b(?:incl(?:\.|usive|uding|udes)?|inkl(?:\.|usive)?|einschl\w*\.?|y compris|comprenant|compris|inclus"
            rf"|allowing for|to include|after adding)(?: [^,;()]{{0,24}})? {_BLEED}"
            rf"|\b(?:plus|zzgl\.?|zuzuglich|adding)(?: [^§;()]{{0,24}})? {_BLEED}[^§;]{{0,30}}§"
            rf"|{_BLEED}(?: size| format)?\s*[:=|-]?\s*§"
            rf"|(?<!trim and ){_BLEED} (?:included|size|format|area|dimensions?|inklusive|enthalten|box|compris|inclus"
            rf"|eingerechnet)"
            rf"|\bwith (?:the )?{_BLEED}|\bmit {_BLEED}|\bavec {_BLEED}"
            r"|\bdatenformat\w*|\bdateiformat\w*|\bbrutto\w*|\buntrimmed\b|\bgross size|\bformat brut"
            r"|\bunbeschnitten\w*|(?<!and )\bbleed(?:ed)? (?:page |ad |art )?size\b|\boversize\b|\bformat non rogne"
        ),
    ),
    (
        "safe",
        re.compile(
            r"\b(?:safe\w*|live (?:copy |image |type )?(?:area|matter|copy|zone|size)|live(?=\s*[:=|-]?\s*§)|copy area|quiet"
            r"|sicher\w*|securite|tranquille|text area|satzspiegel|type area|image area"
            r"|printable)\b|\bin the safe"
        ),
    ),
    (
        "other",
        re.compile(
            r"\b(?:file ?names?|sheets?|bogen\w*|windows?|fenster\w*|logos?|holes?|max(?:imum|imal\w*|imale?)?|min(?:imum|imal\w*"
            r"|imale?)?|up to|bis zu|jusqu'?a|spreads?|double[- ]page|doppelseiten?|planches?"
            r"|submitted at|(?:will|may|can) be trimmed|paper|papier|business card format|credit card|ads?(?! size)|advert\w*"
            r"|anzeige\w*|abdruckgro\w+|photos?|bar ?codes?|qr\w*|address\w*|adress\w*|stamps?|writing|anschrift\w*|sra[0-9]"
            r"|proofs?|spine"
            r"|rucken|imposed|not|never|nicht|kein\w*|instead|larger|over|smaller|panels?|screens?"
            r"|stock|paper size|press|box|margins?|from a[0-9]|printers?|laser|scal\w*|reduced|enlarg\w*|half size"
            r"|at 50|slot|pocket|labels? area|flaps?|envelopes? window|adressfeld|feld)\b"
        ),
    ),
    ("folded", re.compile(r"\b(?:folded|closed|geschlossen\w*|gefalzt\w*|fermee?s?|pliee?s?|folding to|folds to|zugeklappt)\b")),
    ("flat", re.compile(r"\b(?:open|flat|unfolded|offen\w*|ungefalzt\w*|ouverte?s?|depliee?s?|plano|a plat|aufgeklappt)\b")),
    (
        "trim",
        re.compile(
            r"\b(?:trim|trimmed|trims|trim-?size|trim(?:med)? to|finished|finish|final|cut to|cut size|end-?format\w*"
            r"|end-?gro\w*|nettoformat\w*|netto\w*|format final|fini|finie|rogne\w*|massicot\w*|beschnitten\w*"
            r"|zugeschnitten\w*"
            r"|coupe|after cutting|after trimming|fertigformat\w*|fini\b)\b"
        ),
    ),
    (
        "document",
        re.compile(
            r"\b(?:documents?|art-?boards?|canvas|files?|media|artwork|data|supplied|set up|set-?up|overall|full"
            r"|dokument\w*|datei\w*|anlegen|document|fichiers?|mediabox)\b"
        ),
    ),
)
_ABOUT_SIZE = re.compile(
    r"\bsizes?\b|\bformats?\b|\w*format\b|\bdimensions?\b|\bmeasur\w*|\bgro(?:ss|ß)e\b|\bma(?:ss|ß)e\b|\babmessung\w*"
    r"|\btaille\b"
    r"|\bmesur\w*|\btrim\w*|\bfinish\w*|\bartwork\b|\bdocuments?\b"
    r"|\bdokument\w*|\bfiles?\b|\bdatei\w*|\bfichiers?\b|\bset up\b|\banlegen\b|\bsupply\b|\bpages?\b|\bseiten?\b"
)
_ON_PAPER = re.compile(r"\W{0,3}(?:\w+ )?(?:paper|stock|sheets?|papier\w*|bogen\w*|screens?|printers?)\b")
_PRINTED_ON = re.compile(r"\b(?:prints? (?:\w+[ -]){0,2}on|printed onto|onto|imprim\w* sur|per sheet|sheets of)\b")
_FEW = 14
SIZE_LABEL = re.compile(r"[^:]{0,30}\b(?:format|sizes?|dimensions?|gro(?:ss|ß)e|taille)\b[^:]{0,12}:")


_TELLS = re.compile(
    r"\b(?:is|are|be|measures?|ist|sind|misst|messen|betragt|est|sont|mesure\w*|hat|haben|has|have|of|to|auf|at|as|in"
    r"|im|:|=|-|a"
    r"|von|de|en|der|with|square|muss|must|should|(?:size|format|dimension)s?)\W+"
    r"(?:\w+\W+){0,2}$"
)
_A_VERB = re.compile(
    r"\b(?:will|would|can|could|may|is|are|was|were|leaves?|has|have|does|do|kann|konnen|wird|werden|ist|sind|hat|haben|muss"
    r"|mussen|est|sont|peut|peuvent|sera|doit|must|should)\b"
)


_NAMES_A_FILE = re.compile(r"\W*(?:the |your )?(?:file ?names?|name (?:the |your )?files?)\b")


def is_told(statement: Statement, start: int, end: int) -> bool:
    """A label, a list item, or a sentence that has the word for the size right before it."""
    text = statement.text
    if _OFFERED.search(text) or _DEFINES.match(text, end) or _NAMES_A_FILE.match(text) or _ON_PAPER.match(text, end):
        return False
    if _PRINTED_ON.search(text) or _LEAVES.search(text[:start]):
        return False
    before = text[max(0, start - 60) : start]
    words = f"{statement.label} {statement.heading}"
    if _A_NAME.match(text, start) and len(text.split()) > 8 and not (_ABOUT_SIZE.search(before) or _ABOUT_SIZE.search(words)):
        return False
    if _A_VERB.search(text) is None:
        return len(text.split()) <= _FEW or _ABOUT_SIZE.search(before) is not None or _ABOUT_SIZE.search(words) is not None
    if len(text.split()) > 3 * _FEW:
        return False
    return _TELLS.search(before) is not None and (len(text.split()) <= _FEW or _ABOUT_SIZE.search(before) is not None)


_A_NAME = re.compile(r"(?:din )?[abc][0-9]\b")
_OFFERED = re.compile(
    r"\b(?:erhaltlich|verfugbar|lieferbar|bestellbar|(?:is|are) available|disponibles?|existent?|im angebot|wahlweise"
    r"|wir bieten|kost(?:et|en)|coutent?)\b"
)
"""'Our flyers come in A5.'"""
_DEFINES = re.compile(r"\W{0,3}(?:entspricht|misst|correspond|mesure|measures|corresponds)\b")
"""'A5 measures 148 × 210 mm' says what A5 is."""
_LEAVES = re.compile(
    r"\b(?:leaves?(?: you)?|becomes?|gives?|ergibt|macht|makes?|donne|devient|entspr(?:icht|echen)|correspond(?:s|ent)?(?: to| a"
    r"| au)?|cut (?:it )?(?:down )?to)\b[^.;]{0,40}$"
)


def clause(before: str, after: str) -> str:
    """The words around a size up to the next comma or bracket."""
    return f"{re.split(r'[,;()]', before)[-1]} § {re.split(r'[,;()]', after)[0]}"


def role_of(stretch: str, clause: str | None = None) -> Role | None:
    """`clause`: where words for something else than a page have to stand; what is said of a page may stand further off."""
    for role, pattern in _ROLES:
        if pattern.search(stretch if clause is None or role not in ("other", "safe") else clause):
            return role
    return None


_AT_MOST = re.compile(r"(?:the )?max(?:imum|\.)? ")


def role_of_heading(heading: str) -> Role | None:
    if _AT_MOST.match(heading):
        return "other"
    role = role_of(heading)
    return role if role in ("trim", "with bleed", "safe", "folded", "flat") else None
