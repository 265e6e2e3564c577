"""Black: text in black ink alone, black that overprints, and the recipe of a black of several inks.

What holds for small text only is left open: the key is of all black text. Recipes are taken where the sentence, its label or its
heading names such a black; examples and what is to be avoided give none.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction

from service.sheets.prose.claims.claim import Claim
from service.sheets.prose.words.amounts import Amount
from service.sheets.prose.words.frames import asks, stance_of
from service.sheets.prose.words.qualifiers import bound_of, regions
from service.sheets.prose.words.statements import Statement

_BLACK_TEXT = re.compile(
    r"\bblack (?:and gr[ae]y )?(?:body )?(?:texts?|type|copy|lettering|wording|fonts?)\b|\b(?:texts?|type|copy"
    r"|lettering) (?:\w+ ){0,2}in black\b"
    r"|\bschwarz\w* (?:\w+ )?(?:text\w*|schrift\w*|flie(?:ss|ß)text\w*)\b|\b(?:text|texte|schriften?) in schwarz\b"
    r"|\b(?:texts?|type|lettering)\b:? (?:(?!on\b|over\b|under\b|white\b|revers|not\b|never\b)[\w-]+,? {1,2}){0,12}?"
    r"(?=(?:k ?[-:=]? ?100\b|100 ?% ?k\b|(?:solid|pure|100 ?%) black\b|black only\b(?! (?:on|at|for|when|if)\b)))"
    r"|\bschwarztext\w*"
    r"|\bschwarze? (?:und graue )?(?:objekte|elemente)\b(?:,? (?:wie )?(?:z\. ?b\.|zum beispiel|wie))? ?\(?texte?n?\b"
    r"|\bschwarz\w* textelement\w*|\b(?:all|any) (?:the )?texts? (?:is|are|must be|should be)(?= (?:in )?(?:k ?-?100"
    r"|100 ?% ?k))|\bblack for (?:the )?text\b"
    r"|\bnoirs? d(?:es|u|e) textes?\b|\bschwarz(?:en|e)? (?:fur|in|von) texten?\b|\b(?:textes?|typographies?"
    r"|caracteres) (?:\w+ )?(?:en )?noirs?\b"
)
_ALONE = re.compile(
    r"\b(?:100 ?% ?|pure |solid |process )?(?:black|k)(?: ink| plate| channel)? (?:only|alone)\b|\b100 ?% ?(?:k\b|black\b)"
    r"|\bk ?[-:=]? ?100\b|\bsolid black\b"
    r"|\b(?:only|just|solely) (?:in |on |of |to )?(?:the )?(?:100 ?% ?)?(?:black|k)\b|\bone ink\b|\bsingle (?:black )?ink\b"
    r"|\bpure (?:black|k)\b|\bsingle black\b|\b100 ?(?:%|prozent|per ?cent|pour ?cent) (?:schwarz|black|noir|de noir)\b"
    r"|\bk ?-?100 ?%?"
    r"|\b0 ?[/,-] ?0 ?[/,-] ?0 ?[/,-] ?100\b|\bc ?0 ?%?[ ,/]{1,2}m ?0 ?%?[ ,/]{1,2}[yj] ?0 ?%?[ ,/]{1,2}[kn] ?100\b"
    r"|\bcyan\W{1,3}0\W{1,4}magenta\W{1,3}0\W{1,4}(?:yellow|gelb|jaune)\W{1,3}0\W{1,4}(?:key|black|schwarz|noir)\W{1,3}100\b"
    r"|\b(?:nur|ausschliesslich|ausschließlich|allein|rein)\b[^.;,]{0,24}\b(?:schwarz\w*|k)\b|\brein\w* (?:schwarz\w*|k)\b"
    r"|\b100 ?% ?schwarz\b"
    r"|\beinfarbig schwarz\b|\b(?:im|in) schwarzkanal\b"
    r"|\bnoir (?:pur|seul|uniquement|100 ?%?)|\b100 ?% ?(?:de )?(?:noir|n)\b|\b(?:uniquement|seulement|exclusivement) (?:en "
    r"|avec |du |le )?(?:noir|n)\b"
    r"|\b(?:seul\w*|une seule) encre\b"
)
_NOT_OF_SEVERAL = re.compile(
    r"\b(?:not|never|no|avoid)\b[^.;]{0,40}\b(?:4/c|rich|four[- ]colou?r|4[- ]colou?r|composite|process|registration"
    r"|mixed) ?-?black\b"
    r"|\b(?:not|never)\b[^.;]{0,30}\b(?:four|several|all four|multiple|4) (?:\w+ )?(?:colou?rs|inks|plates)\b"
    r"|\b(?:nicht|kein\w*|niemals)\b[^.;]{0,40}\b(?:tiefschwarz\w*|vierfarb\w*|4-?farb\w*|vier farben|4c|mehreren farben"
    r"|mischschwarz)\b"
    r"|\b(?:pas|jamais|ne)\b[^.;]{0,40}\b(?:noir (?:soutenu|enrichi|riche|compose)|quadri\w*|quatre couleurs"
    r"|plusieurs encres)\b"
)
_OF_SOME_TEXT = re.compile(
    r"\b(?:small|fine|tiny|thin|smaller|large|under|below|less than|up to|over|body)\b|\bkleine\w*|\bfeine\w*|\bdunne\w*"
    r"|\bunter\b|\bbis\b|\bab\b"
    r"|\bgrosse\w*|\bgroße\w*|\bpetits?\b|\bfins?\b|\bmoins de\b|\binferieurs?\b|\bbarcodes?\b|[0-9] ?(?:pt|points?|punkt)\b"
)
_OVERPRINT = re.compile(r"\boverprint\w*|\buberdruck\w*|\b(?:en )?surimpression\b|\bsurimprim\w*")
_ALL_BLACK = re.compile(
    r"\bblack (?:\w+ ){0,2}?(?:elements|objects|areas)\b|\b(?:100 ?% ?|all |pure |solid )black\b(?! (?:text|type|lines|rules))"
    r"|\bblack (?:must|should|is|has|needs|to|overprints?)\b|\bschwarz\w* (?:elemente|objekte)\b"
    r"|\b(?:100 ?% ?|reines )?schwarz (?:muss|soll\w*|ist|bitte|immer|auf)\b|\belements noirs\b|\ble noir\b"
    r"|\bnoir (?:100 ?%|pur)"
)
_BLACK_THING = re.compile(
    r"\bblack\b[^.;]{0,30}\b(?:text|type|lines?|rules|copy|lettering)\b|\b(?:text|type|lines?) (?:\w+ ){0,3}in (?:100 ?% ?"
    r"|pure )?black\b"
    r"|\bschwarz\w*\b[^.;]{0,30}(?:text|schrift|linien)|\b(?:texte?|schriften?|linien) (?:\w+ ){0,3}in (?:reinem "
    r"|100 ?% ?)?schwarz\b"
    r"|\b(?:textes?|filets?|traits?)\b[^.;]{0,30}\bnoirs?\b"
)
_TEXT_AND_LINES = (
    re.compile(r"\btext|\btype\b|\bcopy\b|\blettering\b|schrift|\bcaracteres\b"),
    re.compile(r"\blines?\b|\brules\b|linien|\bfilets?\b|\btraits?\b|\bstrokes?\b"),
)
_NOT_BLACK = re.compile(
    r"\bwhite\b|\bwei(?:ss|ß)\w*|\bblancs?\b|\bspot\b|\bsonderfarb\w*|\btons? directs?|\brich black\b|\btiefschwarz\b"
    r"|\bpreview\b|\bvorschau\b"
)
_PREFERS = re.compile(
    r"\b(?:recommend\w*|prefer\w*|advis\w*|suggest\w*|ideal\w*|empf[eio]\w*hl\w*|vorzugsweise|recommand\w*|conseill\w*"
    r"|preconis\w*|de preference)\b"
)
_ONLY_CHECKED = re.compile(r"\bverifi\w*|\bcheck\w*|\bpruf\w*|\boverpruf\w*|\bcontrol\w*")
_WE_DO = re.compile(r"\b(?:we|our \w+|wir|nous)\b[^.;,]{0,40}$|\bautomati\w*")


_WE_ASK = re.compile(r"\bwe (?:\w+ )?(?:ask|need|want|require|expect|insist|would like|can only)\b")
_MIXED = re.compile(r"\bcyan\b|\bmagenta\b|\bc ?=? ?[1-9][0-9]|[1-9][0-9] ?%? ?[/,-] ?[1-9][0-9]")
"""'For black text we recommend a rich black of 60 % cyan …'."""
_A_TOPIC = 30
_REMARK = re.compile(r"\([^()]*\)|\s-\s(?=rich|large|deep).*$|\blarge areas\b.*$")


def read_black_text(statement: Statement) -> Iterator[Claim]:
    text = statement.text
    about = _BLACK_TEXT.search(text)
    if about is None and _BLACK_TEXT.search(statement.heading) and len(statement.heading) < _A_TOPIC:
        about = re.match(r"\S+", text)
    if about is None or statement.is_heading or _OF_SOME_TEXT.search(_REMARK.sub(" ", _part_of(text, about))):
        return
    statement = replace(statement, text=re.sub(r"\bconvert\w*", lambda one: "-" * len(one.group()), text))
    if (_RICH.search(text) or _mixes(text)) and _NOT_OF_SEVERAL.search(text) is None and _MIXED.search(text):
        return
    alone = _ALONE.search(text, about.start()) or _ALONE.search(text)
    several = _NOT_OF_SEVERAL.search(text)
    positive = alone is not None and stance_of(statement, *alone.span()) == "claimed" and asks(statement, *alone.span())
    negative = several is not None and asks(statement, *several.span())
    by_us = _WE_DO.search(text[: about.start()]) and not (_PREFERS.search(text) or _WE_ASK.search(text))
    if by_us or not (positive or negative):
        return
    found = [match for match, holds in ((alone, positive), (several, negative)) if match is not None and holds]
    start = min(about.start(), *(match.start() for match in found))
    end = max(about.end(), *(match.end() for match in found))
    place = (statement.start + start, statement.start + end)
    yield Claim("text.black_alone", True, *place, recommended=_PREFERS.search(text) is not None)


def _part_of(text: str, about: re.Match[str]) -> str:
    """Of a list of demands the one that the words stand in: between semicolons, bars, spaced dashes and slashes."""
    first = max((edge.end() for edge in _PARTED.finditer(text, 0, about.start())), default=0)
    last = _PARTED.search(text, about.end())
    return text[first : last.start() if last else None]


_PARTED = re.compile(r"[;|]\s|\s[/+-]\s")


def _mixes(text: str) -> bool:
    """'C 60 %, M 60 %, Y 50 %, K 100 %'."""
    match = _LETTERS_FIRST.search(text) or _NUMBERS_FIRST.search(text)
    return match is not None and any(int(match[ink]) for ink in "cmy")


def read_overprint(statement: Statement) -> Iterator[Claim]:
    """The rule is on text and lines alike, so that a sentence on one of them alone is left open."""
    text = statement.text
    match = _OVERPRINT.search(text)
    if match is None or statement.is_heading or _NOT_BLACK.search(text) or _ONLY_CHECKED.search(text):
        return
    if _WE_DO.search(text[: match.start()]) and not _PREFERS.search(text):
        return
    both = all(pattern.search(text) for pattern in _TEXT_AND_LINES)
    about = _ALL_BLACK.search(text) or (_BLACK_THING.search(text) if both else None)
    if about is None or stance_of(statement, *match.span()) != "claimed" or not asks(statement, *match.span()):
        return
    place = (statement.start + min(about.start(), match.start()), statement.start + max(about.end(), match.end()))
    yield Claim("levels.ink.overprint-black", "should" if _PREFERS.search(text) else "must", *place)


# --- Rich black -------------------------------------------------------------------------------------------------------

_RICH = re.compile(
    r"\b(?:rich|deep|full|four-colou?r|4-colou?r|composite) ?-?black\b|\btiefschwarz\w*|\bsatte\w* schwarz\w*"
    r"|\btiefe\w* schwarz\w*"
    r"|\bnoirs? (?:soutenu|enrichi|riche|profond|quadri)s?\b"
)
_N = r"(?P<{0}>[0-9]{{1,3}}) ?%?"
_GAP = r"(?:[ ,;/+()|-]|and|und|et)*"
_IS = r"[ :=-]{0,3}"
_LETTERS_FIRST = re.compile(
    rf"\bc{_IS}{_N.format('c')}{_GAP}m{_IS}{_N.format('m')}{_GAP}[yj]{_IS}{_N.format('y')}{_GAP}"
    rf"(?:[kn]{_IS}{_N.format('k')}|(?P<last>[0-9]{{1,3}}) ?%? ?[kn])\b"
)
_NUMBERS_FIRST = re.compile(
    rf"\b{_N.format('c')} ?c{_GAP}{_N.format('m')} ?m{_GAP}{_N.format('y')} ?[yj]{_GAP}{_N.format('k')} ?[kn]\b"
)
_BARE = re.compile(
    r"(?<![0-9/])(?P<c>[0-9]{1,3}) ?%? ?[/,-] ?(?P<m>[0-9]{1,3}) ?%? ?[/,-] ?(?P<y>[0-9]{1,3}) ?%? ?[/,-] ?(?P<k>100"
    r"|9[0-9]) ?%?(?![0-9/])"
)
_NAMES = (("cyan", "cyan"), ("magenta", "magenta"), ("yellow", "(?:yellow|gelb|jaune)"), ("black", "(?:black|schwarz|noir|k)"))
_NAMED = tuple(
    tuple((ink, re.compile(form.format(word))) for ink, word in _NAMES)
    for form in (r"\b(?P<n>[0-9]{{1,3}}) ?% ?(?:de |of )?{0}\b", r"\b{0} ?[:=]? ?(?P<n>[0-9]{{1,3}}) ?%")
)
"""'40 % cyan' throughout, or 'cyan 40 %' throughout."""
_INKS = (("c", "cyan"), ("m", "magenta"), ("y", "yellow"), ("k", "black"))
_REFUSED_AFTER = re.compile(r"\b(?:is|are) (?:not|never|un)\W?(?:acceptable|accepted|allowed|suitable)\b")
_UNWANTED = re.compile(r"\b(?:not|never|avoid|don't|nicht|kein\w*|vermeid\w*|pas|jamais|evit\w*)\b|\bnot be\b")


_BUILT_BLACK = re.compile(
    r"^\W*(?:(?:create|set|build|make|use|print)\b ?)(?:all |the |your )?black\b(?! (?:and white|&|or)\b)"
    r"|^\W*(?:all |the |your )?black\b[^.:]{0,60}\b(?:created|built|made|set|composed|printed|must|should|to be)\b"
)
"""'Black is built from four colours: C 60 % …' at the head of a sentence: of all black."""


def read_rich_black(statement: Statement, amounts: Sequence[Amount]) -> tuple[list[Claim], set[int]]:
    """The claims, and where the percentages stand that they were read from."""
    text = statement.text
    built = _BUILT_BLACK.search(text) is not None and _mixes(text)
    if not built and not any(_RICH.search(words) for words in (text, statement.label, statement.heading)):
        return [], set()
    found = list(_recipe(statement))
    percents = [one for one in amounts if one.kind == "percent"]
    for amount, (first, end) in zip(percents, regions(text, [(one.start, one.end) for one in percents]), strict=True):
        total = re.search(
            r"\b(?:total|sum\w*|tac|summe|gesamt\w*|farbauftrag|exceed|ubersteig\w*|uberschreit\w*|encrage|depass\w*)\b", text
        )
        within = any(one.start <= statement.start + amount.start < one.end for one in found)
        bound = bound_of(text[first : amount.start], text[amount.end : end], statement.label)
        if (
            total
            and _RICH.search(text)
            and not within
            and amount.high is None
            and 101 <= amount.low <= 400
            and bound == "maximum"
        ):
            place = (statement.start + amount.start, statement.start + amount.end)
            found.append(Claim("color.rich_black.ink_limit", amount.low_written, *place, size=amount.low))
    used = {one.start for one in percents if any(claim.start <= statement.start + one.start < claim.end for claim in found)}
    return found, used


def _recipe(statement: Statement) -> Iterator[Claim]:
    text = statement.text
    match = _LETTERS_FIRST.search(text) or _NUMBERS_FIRST.search(text) or _BARE.search(text)
    if match is not None:
        strengths = {ink: int(match[letter] or match["last"]) for letter, ink in _INKS}
        start, end = match.span()
    else:
        ways = ([(ink, one) for ink, pattern in way if (one := pattern.search(text))] for way in _NAMED)
        said = next((way for way in ways if len(way) > 1 and "black" in dict(way)), [])
        if not said:
            return
        strengths = {ink: int(one["n"]) for ink, one in said}
        start, end = min(one.start() for _, one in said), max(one.end() for _, one in said)
    statement = replace(statement, text=re.sub(r"\bconvert\w*", lambda one: "-" * len(one.group()), text))
    refused = _UNWANTED.search(text[:start]) or _REFUSED_AFTER.search(text, end)
    wanted = refused is None and stance_of(statement, start, end) == "claimed"
    if (
        not wanted
        or any(value > 100 for value in strengths.values())
        or not strengths["black"] >= 90
        or sum(strengths.values()) <= 100
    ):
        return
    for ink, value in strengths.items():
        yield Claim(f"color.rich_black.{ink}", f"{value} %", statement.start + start, statement.start + end, size=Fraction(value))
