"""Fonts: embedded, turned to outlines, and the kinds that are taken."""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import islice

from service.sheets.prose.claims.claim import Claim
from service.sheets.prose.words.frames import ASKED_WHETHER, YES, asks, stance_of
from service.sheets.prose.words.statements import Statement

_FONT_WORDS = re.compile(
    r"\bfonts?\b|\btypefaces?\b|\bschrift(?:en|arten|art|satze|fonte?n?)?\b|\bpolices?\b|\btypes?\b|\btext\w*|\bcaracteres\b"
    r"|\btypographies\b|\bfontes?\b|\bzeichensatze\b|\bfonds mussen\b"
)
_EMBEDDED = re.compile(
    r"\bembed\w*|\beingebettet\w*|\b(?:ein(?:zu)?|mit ein)(?:ge)?b(?:e|i)tt\w*|\bbetten\b[^.;]{0,80}\bein\b|\beinzubinden\b"
    r"|\beingebunden\w*|\beinbinden\b|\bincorpor\w*|\bintegri?e\w*|\bembarqu\w*"
    r"|\battach(?:ed)? (?:\w+ ){0,2}fonts?\b|\bfonts? (?:\w+ ){0,6}(?:attached|downloaded)\b(?= (?:to|in)\b)"
    r"|\bem- bed\w*|\bincluses?\b|\binclude(?:d)?(?: in the (?:pdf"
    r"|file))?\b|\bincludes? all fonts\b|\bsubset\w*|\beinge-?legt\b"
    r"|\bfonts must be included\b|\bmitgeliefert im pdf\b|\binkludier\w*|\bim pdf enthalten\b|\bin (?:der"
    r"|die) (?:pdf-?)?datei (?:enthalten|eingef\w+)\b"
    r"|\bpresentes dans le (?:pdf|fichier)\b|\bin the (?:pdf|file)\b(?= (?:itself )?(?:must|should))"
)


def read_fonts(statement: Statement) -> Iterator[Claim]:
    """Embedded, or embedded or outlined: a font that is not embedded breaks both. Outlines alone are another demand."""
    text = statement.text
    words = f"{statement.label} {statement.heading}"
    over = statement.heading
    asked = ASKED_WHETHER.match(over) and _EMBEDDED.search(over) and _FONT_WORDS.search(over)
    if asked and YES.match(text):
        yield Claim("fonts.embedded", "required", statement.start, statement.start + len(text.rstrip(" .!")))
        return
    embed = _EMBEDDED.search(text)
    fonts = _FONT_WORDS.search(text) or _FONT_WORDS.search(words)
    if fonts is None or embed is None:
        return
    if re.search(
        r"\b(?:images?|profiles?|pictures?|bilder|profil\w*|icc|links?|logos?|graphics|wrapper)\b", text
    ) and not re.search(r"\bfonts?\b|\bschrift|\bpolices?\b|\btype|\btypo", text):
        return
    for match in _EMBEDDED.finditer(text):
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
        own = _FONT_WORDS.search(text)
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
    r"|les )?"
    r"(?:\w+ )?(?:images?|pictures?|photos?|graphics|bilder|grafiken|logos?)"
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


_TEXT = re.compile(
    r"\bfonts?\b|\btypefaces?\b|\btexts?\b|\btype\b|\blettering\b|\bschrift(?:en|arten)?\b|\btexte?n?\b|\bpolices?\b"
    r"|\btypograph(?:y|ies?)\b|\bcaracteres\b|\btextes?\b"
)
_OUTLINES = re.compile(
    r"\boutlin(?:es?|ed)\b(?! of)|\bcreate outlines (?:of|from|for)(?= (?:all |any |your |the )*(?:fonts?|text|type))"
    r"|\b(?:to|into|as) (?:curves|paths|vectors|shapes)\b|\bcurved\b|\b(?:in|zu"
    r"|als) (?:pfaden?|kurven"
    r"|zeichenwege?n?|vektoren)\b|\bvektorisier\w*|\bin pfade\b"
    r"|\bvectoris(?:er|es?|ees?|ez)\b|\b(?:en|aux) (?:courbes?|traces?|vecteurs|contours)\b"
)
_OF_SOMETHING = re.compile(
    r"\bunless\b|\bhandwrit\w*|\bspecial\b|\b(?:fonts?|text|type|schrift\w*|polices?|textes?) (?:in|of|von|im|du"
    r"|de) (?:\w+ )?logos?\b|\blogos?\b[^.;]{0,80}\b(?:type|text)\b|\bpour etre vectoris\w*"
    r"|\bunusual\b|\bsmall\b|\bkleine\w*|\bpetits?\b|\bspine\b"
    r"|\boutline(?:d)? (?:text|type|font)\b(?= (?:of|at|with|must be (?:at|of)))|\beffects?\b|\bcan be\b|\bmay be\b"
    r"|\bkonnen\b|\bpeuvent\b|\bpossible\b|\bpossibilite\b|\bmoglich\b|\balternativ\w*|\brasteri[sz]\w*"
    r"|\b(?:when|while|after|by|beim?|lors de|en|nach dem) (?:you )?(?:convert|outlin|umwand|vectoris|vektoris)\w*"
)
_SOFT = re.compile(
    r"\b(?:recommend\w*|prefer\w*|advis\w*|suggest\w*|ideal\w*|if possible|where possible|empf[eio]\w*hl\w*|vorzugsweise"
    r"|am besten|wenn moglich|moglichst|recommand\w*|conseill\w*|preconis\w*|de preference|si possible|safest|better|besser"
    r"|mieux)\b"
)


_A_FORMAT = re.compile(r"\b(?:preferred|recommended|best)(?: file)?(?: formats?| types?)?(?: is| are|:)")
"""'Preferred: a PDF with all type in outlines' prefers the PDF."""


def read_outlines(statement: Statement) -> Iterator[Claim]:
    """Outlines alone; 'embedded or outlined' is a demand on fonts that outlines only meet as well."""
    text = statement.text
    if statement.is_heading or _OF_SOMETHING.search(text) or _SOFT.search(_A_FORMAT.sub(" ", text)):
        return
    for match in islice(_OUTLINES.finditer(text), _MOST):
        first, last = _clause_of(text, *match.span())
        clause = _ONE_OF_TWO_NAMES.sub("-", text[first:last])
        own = _TEXT.search(text, first, last)
        over = f"{statement.label} {statement.heading} {text[:first]}"
        about = own or (_TEXT.search(over) if len(text.split()) <= _SHORT else None)
        if about is None or _OR_ELSE.search(clause) or _ELSE_BESIDE.match(text, last) or _ELSE_BEFORE.search(text[:first]):
            continue
        told = (
            stance_of(statement, *match.span()) == "claimed" or _CONVERTED.search(clause) or _NOT_ONLY.search(text, match.end())
        )
        if not told or _NEVER.search(_NOT_ONLY.sub(" ", clause)) or not asks(statement, *match.span()):
            continue
        start, end = (min(own.start(), match.start()), max(own.end(), match.end())) if own else match.span()
        yield Claim("fonts.outlines", "required", statement.start + start, statement.start + end)
        return


_MOST, _SHORT = 6, 8
_ONE_OF_TWO_NAMES = re.compile(
    r"\b(?:outlines?|curves|paths|vectors|kurven|pfade|courbes|traces|outlined|curved)(?: ?/ ?| or | oder | bzw\.? "
    r"| ou | ?\((?:or|oder|bzw\.?|ou) )(?:outlines?|curves|paths|vectors|shapes|kurven|pfade"
    r"|courbes|traces|outlined|curved)\b\)?|\b(?:text|type|fonts?|schriften|texte) (?:or|and/or|oder|ou) (?:fonts?|text"
    r"|logos?|type|schriften|strokes)\b"
    r"|(?: ?,)? (?:bzw\.?|oder|ou|or) (?:\w+ )?(?:geraster\w*|raster\w*|rasteri[sz]\w*|pixellis\w*)\b"
    r"|\bexpand and fill or outline\b|\b(?:300|[0-9]+) ?(?:dpi|ppi) or\b"
)
"""'To curves or paths' names one thing twice."""
_OR_ELSE = re.compile(r"\b(?:or|oder|ou|bzw|either|entweder|soit)\b")
_EMBED = (
    r"(?:embed|eingebet|einbett|incorpor|integr|inclu|suppl|packag|send|attach|provid|sent|mitgeliefert|fourni|joint"
    r"|joindre|envoy)\w*"
)
_ELSE_BESIDE = re.compile(rf"[,;]? ?(?:\w+,? ){{0,2}}(?:or|oder|ou|bzw\.?)\b[^.;]{{0,60}}{_EMBED}")
_ELSE_BEFORE = re.compile(rf"{_EMBED}[^.;]{{0,40}}[,;] ?(?:or|oder|ou|bzw\.?)?\s?$")
_NOT_ONLY = re.compile(r"[,;]?\s?\b(?:not|nicht|pas) (?:just|only|merely|nur|lediglich|seulement)\b[^.;]*")
_EDGE = re.compile(
    r"(?<!bzw)(?<!inkl)(?<!resp)[.;!]\s|\s[-|]\s|,\s(?!(?:not|nicht|pas) (?:just|only|merely|nur|seulement)|images|logos?\b"
    r"|texte?\b)|\b(?:and"
    r"|und|et) (?=(?:embed|include|images"
    r"|all images|save|flatten|link))"
)


def _clause_of(text: str, start: int, end: int) -> tuple[int, int]:
    first = max((edge.end() for edge in _EDGE.finditer(text, 0, start)), default=0)
    edge = _EDGE.search(text, end)
    return first, edge.start() if edge else len(text)


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
    if re.search(r"\byes\b|\bja\b|\boui\b", text):
        return  # a row of a table of programs
    if not asks(statement, start, end):
        return
    all_kinds = [kind for kind, _ in _KINDS]
    if stances == {"denied"}:
        kept = [kind for kind in all_kinds if kind not in dict(named)]
        yield Claim("fonts.formats", kept, *place)
    elif stances == {"claimed"} and re.search(r"\b(?:only|nur|ausschlie(?:ss|ß)lich|uniquement|seules?|exclusivement)\b", text):
        taken = {kind for kind, _ in named} | ({"type-1", "truetype"} if re.search(r"\bopen ?-?type\b", text) else set())
        yield Claim("fonts.formats", [kind for kind in all_kinds if kind in taken], *place)
