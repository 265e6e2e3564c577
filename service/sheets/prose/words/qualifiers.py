"""The small words that turn a number into a demand: at least, at most, ideally, not, only where."""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import lru_cache
from itertools import pairwise
from typing import Literal

Bound = Literal["minimum", "maximum", "preferred", "below", "above"]
"""`below`: 'text under 6 pt'; `above`: 'files over 20 MB'."""
Stance = Literal["claimed", "denied", "allowed", "unneeded"]

_BOUNDS: tuple[tuple[Bound, re.Pattern[str]], ...] = (
    (
        "minimum",
        re.compile(
            r"≥|>=|(?:\bmin(?:imum|imal\w*|imale?s?|i|d|destens)?\b\.?|\bat (?:the )?(?:very )?least\b|\b(?:no|not|nothing"
            r"|never|nor) (?:be )?"
            r"(?:less|lighter|lower|smaller|thinner|finer|closer|under|below|nearer) than\b|\bnot (?:be )?(?:below|under)\b"
            r"|\bor (?:more|higher|above|greater"
            r"|better|over|larger|thicker|later)\b|\band (?:above|up|over)\b|\bwenigstens\b|\bau moins\b"
            r"|\bnicht (?:zu )?unterschreiten\b|\bnicht unterschritten\b|\bnicht (?:unter|weniger als|kleiner als"
            r"|dunner als|naher als)\b|\bkeinesfalls unter\b|\bou plus\b|\boder (?:mehr|hoher|gro(?:ss|ß)er)\b"
            r"|\bpas (?:moins de|(?:etre )?inferieure?s? (?:a|aux?)|(?:etre )?en deca d[eu])\b"
            r"|\bnot go below\b|\bsmallest\b|\btolerated\b|\bdown to\b|\bis (?:also |still )?acceptable\b"
            r"|\bstill (?:pass|do|work)\b|\bthinnest\b"
            r"|\bfinest (?=line|rule|stroke)|\bkleinste\w*|\bdunnste\w*|\bmore than\b|\bab (?=[0-9])"
            r"|\ba partir de\b|\blowest\b|\b(?:stay|keep|remain|go) (?:above|over)\b|\bfrom (?=[0-9])"
            r"|\bno (?:thinner|smaller|finer|lower|less)\b|\bplus petite?\b|\b(?:must|should|need to) exceed\b|\bdoi(?:t"
            r"|vent) (?:depasser|etre superieure?s? a|atteindre)\b|\bmindest\w*)"
        ),
    ),
    (
        "maximum",
        re.compile(
            r"≤|<=|(?:\bmax(?:imum|imal\w*|imale?s?|i)?\b\.?(?! (?:\w+ )?(?:quality|qualitat|qualite))"
            r"|\bat (?:the )?(?:very )?most\b|\b(?:no|not|never) (?:be )?(?:more|higher|larger|greater|bigger|over"
            r"|above) than\b|\bup to\b(?! the (?:edge|trim|cut|border))|\b(?:not|never|nicht|cannot) (?:to )?(?:exceed"
            r"|uberschreiten)\w*|\bno (?:larger|bigger|higher|more)\b|\bhochst\w*"
            r"|\bbis zu\b|\bnicht (?:mehr|gro(?:ss|ß)er|hoher) als\b|\bnicht uber\b|\bau plus\b|\bjusqu'?[aà]\b"
            r"|\b(?:not|never) (?:go|rise|get|be) (?:above|over|beyond)\b|\bpas (?:depasser|exceder)\b|\bne (?:doit|doivent)"
            r" pas (?:depasser|exceder)\b|\bor (?:less|fewer|under|smaller|lower|below)\b|\bou moins\b"
            r"|\boder weniger\b|\blimit\w*|\b\w*grenze\b|\bbegrenzt\b"
            r"|\bceiling\b|\bobergrenze\b|\bne pas depasser\b|\bplafond\w*|\bkeep (?:it )?(?:under|below)\b"
            r"|\bmust (?:be|stay|remain) (?:under|below)\b"
            r"|\b(?:less|fewer|smaller) than\b(?=[^.]{0,20}\b[kmg]b\b)|\bunder (?=[0-9 .,]{1,8}[mg]b)"
            r"|\bdarf\b[^.]{0,40}nicht uberschreiten"
            r"|\bnicht ubersteigen\b|\b(?:not|never|nicht|ne|n'|pas|without|sans|cannot)\b[^.;,]{0,40}(?:exceed|uberschreiten"
            r"|depasse(?:r|nt)?)\b)"
        ),
    ),
    (
        "preferred",
        re.compile(
            r"\brecommend\w*|\bideal\w*|(?<!rendu )(?<!resultat )(?<!resultats )(?<!qualite )\boptim\w*\b(?! (?:\w*druck\w*"
            r"|ergebnis\w*"
            r"|qualitat|results?|quality|print|rendu|resultats?|qualite))|\bprefer(?!ences?\b)\w*|\bbest\b(?! (?:print "
            r"|possible |image )?(?:quality|results?|reproduction))|\bempf[eio]\w*hl\w*|\bbevorzug\w*"
            r"|\brecommand\w*|\bconseill\w*|\bsuggest\w*"
            r"|\bwunschenswert\b|\bde preference\b|\bprefere\w*|\badvis\w*|\bam besten\b|\bsouhait\w*|\bvorzugsweise\b"
            r"|\bmoglichst\b|\bbesser\b(?! als)|(?<!or )\bbetter(?= [0-9]|\s*$|[.;,)])|\bmieux\b|\bpreconis\w*"
            r"|\bdesired resolution\b|\bfor best results\b"
        ),
    ),
    (
        "below",
        re.compile(
            r"<(?!=)|(?:\bbelow\b|\bunder\b|\bor (?:closer|nearer)\b|\bitems placed\b|\b(?:less|lower|smaller|thinner|finer|fewer"
            r"|closer) than\b|\bunter(?:halb)?\b|\b(?:weniger|kleiner|dunner|geringer|feiner)"
            r" als\b|\bmoins de\b|\binferieure?s? (?:a|aux?)\b|\ben dessous d[eu]\b|\ben deca d[eu]\b|\bsous (?=[0-9]))"
        ),
    ),
    (
        "above",
        re.compile(
            r">(?!=)|(?:\bover\b|\babove\b|\b(?:larger|bigger|greater|more|higher) than\b|\bmore than\b|\bexceeding\b|\buber\b"
            r"|\b(?:gro(?:ss|ß)er|mehr) als\b|\bplus de\b|\bsuperieure?s? a\b|\bau-dela de\b)"
        ),
    ),
)
_OF_THE_NUMBER_ONLY = frozenset(("below", "above"))

REFUSED = re.compile(
    r"\b(?:reject\w*|refus\w*|(?:is|are|will|can)? ?not (?:be )?(?:accept\w*|allowed|permitted|use|used|print\w*)"
    r"|never|must not|cannot|can't|won't|do not|don't|avoid\w*|no|abgelehnt"
    r"|nicht|kein\w*|vermeid\w*|evit\w*|ne|pas|aucun\w*|sen[dt] back|return\w*|nehmen wir|zuruckgewiesen)\b"
)
_NOT = (
    r"(?:no|et non|mais non|weder|neither|nor|not|never|without|don't|doesn't|isn't|aren't|mustn't|cannot|can't|unable|avoid"
    r"|remove|retire[rz]|enleve[rz]|enlever|delete|strip|disable|un-?tick|un-?check|de-?select|deactivate|free (?:of|from)"
    r"|turn off|switch off|omit|kein\w*|nicht|ohne"
    r"|niemals|pas|sans|ni|aucun\w*|ne|nor|instead of|rather than|statt|anstatt|evitez?|eviter|un(?:=)|zero|leave (?:out|off)"
    r"|entfern\w*|supprim\w*|convert\w*|vermeid\w*|verzicht\w*|refuse|reject|anstelle von|exclu(?!si)\w*|0)"
)
_DENIED_BEFORE = re.compile(
    rf"\b{_NOT}\b(?! only\b| just\b| nur\b| seulement\b| (?:smaller|less|lower|thinner|finer|closer|nearer|more|larger"
    rf"|higher) than\b)"
)
_DENIED_AFTER = re.compile(
    r"\b(?:not (?:be )?(?:accept\w*|allow\w*|permit\w*|use\w*|suppl\w*|includ\w*|possible|printed|suitable|present"
    r"|add\w*|contain\w*|set|place\w*|welcome|supported"
    r"|sent|appear|show\w*|provided|submit\w*|wanted|have|desired|available|cmyk|in the)"
    r"|isn't|aren't|forbidden|prohibited|reject\w*|refus\w*|remov\w*|unacceptable|banned|nicht\b|verboten|unzulassig"
    r"|unerwunscht|interdit\w*|proscri\w*"
    r"|exclu(?:e?s|e)?\b|refuse\w*|deactivat\w*|disabled|switched off|turned off|returned|sent back|cannot|can't|must never"
    r"|never|zuruckgewiesen|abgelehnt|entfern\w*|ne (?:sont|doi\w+|seront|sera"
    r"|pas|peu\w+)|supprim\w*|off\b|abgewiesen|untersagt|to be avoided|vermeiden|weglassen|non (?:accept\w*|admis\w*"
    r"|autoris\w*)|(?:must|to|should|will|need to) be (?:remov|convert|flatten)\w*"
    r"|no\b(?! need)|none\b|nein\b|non$|keine?\b|aucun\w*|sans\b|without\b|ohne\b|unless)"
)
UNNEEDED = re.compile(
    r"\b(?:no need|not (?:be )?(?:need\w*|necessary|required|compulsory|mandatory)|unnecessary|nicht (?:notig"
    r"|erforderlich|notwendig|zwingend)|pas (?:necessaires?|obligatoires?|besoin|indispensables?)"
    r"|(?:inutiles?|facultati\w+)|needn't|need not|do(?:es)? not need|don't need|not essential)\b"
)
_A_BOUND_EDGE = r"(?:spine|binding|gutter|bund|rucken|dos|reliure)"
UNNEEDED_AT_AN_EDGE = re.compile(
    rf"\b(?:(?:at|on|in|along) the|im|am|au|a la|cote) {_A_BOUND_EDGE}\b[^.;,0-9]{{0,30}}{UNNEEDED.pattern}"
    rf"|{UNNEEDED.pattern}[^.;,0-9]{{0,20}}\b(?:(?:at|on|in|along) the|im|am|au|a la|du cote|cote)(?: du"
    rf"| de la)? {_A_BOUND_EDGE}\b"
)
"""'3 mm bleed, not needed at the spine' asks for bleed; what goes on behind it is not of that edge."""
_ALLOWED = re.compile(
    r"\b(?:optional\w*|allowed|permitted|may (?:be|contain|remain|stay|have|include|use)|accept(?:ed|able|s)?"
    r"|can (?:be|stay|remain|contain)|welcome|fine|ok|okay|no problem|erlaubt|zulassig|moglich"
    r"|gestattet|darf|durfen|autorise\w*|admis\w*|possibles?|accepte\w*|if you (?:like|wish)|konnen|akzeptiert|peuvent"
    r"|peut|supported)\b"
)
_CLAUSE_EDGE = re.compile(r"[;:|()!?]|\.\s|\s[-/]\s|,|\b(?:and|but|und|aber|et|mais|sondern|while)\b")
_HARD_EDGE = re.compile(r"[;:|()!?]|\.\s|\s[-+]\s|\b(?:but|aber|mais|sondern|while)\b")


_NEXT_NUMBER = re.compile(r"[0-9]")


PAST_REMARK = re.compile(r"\([^()]*\)(?=\s?[,;])")
"""What brackets say is of what stands before them."""


def bound_of(before: str, after: str, label: str = "") -> Bound | None:
    """The qualifier nearest to a number that stands between the two texts; that of its label where neither has one."""
    if (other := _NEXT_NUMBER.search(after)) and other.start() < len(after):
        after = after[: other.start()]  # '100 ppi for 10 feet or less'
    before = PAST_REMARK.sub(lambda one: " " * len(one.group()), before)
    candidates: list[tuple[int, Bound]] = []
    taken: list[tuple[int, int]] = []
    for name, pattern in _BOUNDS:
        for match in pattern.finditer(before):
            gap = len(before) - match.end()
            if name in _OF_THE_NUMBER_ONLY and (
                gap > 12 or any(match.start() < end and start < match.end() for start, end in taken)
            ):
                continue  # the 'thinner than' of 'not thinner than'
            taken.append(match.span())
            candidates.append((gap, name))
        if name not in _OF_THE_NUMBER_ONLY and (following := pattern.search(after)):
            candidates.append((following.start() + 2, name))
    if not candidates and label:
        return bound_of(label, "")
    names = {name for _, name in candidates}
    if "preferred" in names and not names & {"below", "above"}:
        gaps = [gap for gap, name in candidates if name == "preferred"]
        others = [gap for gap, name in candidates if name != "preferred"]
        if not others or min(gaps) <= min(others) + 40:
            return "preferred"
    return min(candidates)[1] if candidates else None


def stance_on(text: str, start: int, end: int) -> Stance:
    """What the statement says of the thing named at text[start:end]: to be there, not to be there, may be, need not be."""
    text = _TO_AVOID.sub(lambda one: " " * len(one.group()), text)
    before, after = _before(text, start), _WHAT_FOR.sub(" ", _after(text, end))
    if _IS_THERE.match(after):
        before = before.rsplit(",", 1)[-1]  # 'no passwords, crop marks included'
    around = f"{before} {after}"
    if UNNEEDED.search(around):
        return "unneeded"
    if _DENIED_BEFORE.search(before) or _DENIED_AFTER.search(after):
        return "denied"
    if _ALLOWED.search(around):
        return "allowed"
    return "claimed"


_IS_THERE = re.compile(
    r"\s?(?:are |is |must be |to be )?(?:included|embedded|added|required|switched on|turned on|visible|present)\b"
)
_TO_AVOID = re.compile(r"^\W*(?:in order )?to (?:avoid|prevent|eliminate|stop)\b[^,;]{0,60},")
"""'To avoid blurs, set black text in black alone' denies nothing."""
_WHAT_FOR = re.compile(
    r"\bum (?:[\w-]+ ){1,10}zu (?:vermeiden|verhindern)\b|\b(?:pour|afin d[e']) ?(?:eviter|empecher)[^,;]*"
    r"|\bin order to (?:avoid|prevent)[^,;]*"
)
"""'… to avoid blotches' denies nothing."""


def words_around(text: str, start: int, end: int) -> tuple[int, int]:
    """The clause of text[start:end], with the 'no' that may stand at the head of its list."""
    before, after = _before(text, start), _after(text, end)
    return start - len(before.lstrip(" ,")), end + len(after.rstrip(" ,"))


def _before(text: str, start: int) -> str:
    """Back to the edge of the clause. A list after one 'no' is one clause: 'no crop marks, colour bars or spot colours'."""
    reach = text[max(0, start - 90) : start]
    hard = _last_end(_HARD_EDGE, reach)
    whole = reach[hard:]
    soft = whole[_last_end(_CLAUSE_EDGE, whole) :]
    listed = _DENIED_BEFORE.search(whole)
    if listed and len(whole) - listed.end() <= 70 and _only_nouns(whole[listed.end() :]):
        return whole
    return soft


_VERB = re.compile(
    r"\b(?:must|should|please|is|are|be|has|have|will|with|embed\w*|includ\w*|suppl\w*|send|use|only|all|add|make|keep"
    r"|mit|avec|muss|mussen|sind|ist|sollen|bitte|doi\w+|sont|est|sera|seront|werden|wird|kann|konnen|peut|peuvent|als|as"
    r"|[0-9]+)\b|[0-9]"
)


def _only_nouns(words: str) -> bool:
    return _VERB.search(re.sub(r"^\s*(?:use|include|add|supply|send|place|apply|have|employ|any|be|with)\b", "", words)) is None


_REMARK_BEHIND = re.compile(
    r"(?P<remark>\s?\((?:z\. ?b\.|e\.g\.|eg|such as|wie|u\. ?a\.|including|inkl\.|par exemple|p\. ?ex\.|ex\.|comme"
    r"|auch)[^()]{1,70}\))\s(?:must|should|may|are|is|mussen|durfen|sollen|sollten|sind|ist|doivent|sont|ne|n')"
)


def _after(text: str, end: int) -> str:
    reach = text[end : end + 80]
    if remark := _REMARK_BEHIND.match(reach):  # 'Verschlüsselungen (z. B. Kennwörter) sind nicht erlaubt'
        reach = " " * remark.end("remark") + text[end + remark.end("remark") : end + remark.end("remark") + 80]
    label = re.match(r"\s*(?:[:|]|-\s)", reach)
    first = label.end() if label else 0
    edge = _HARD_EDGE.search(reach, first)
    comma = re.search(r",(?! (?:or|and|oder|und|ou|et)\b)", reach)
    stops = [match.start() for match in (edge, comma) if match]
    return reach[: min(stops)] if stops else reach


def _last_end(pattern: re.Pattern[str], text: str) -> int:
    found = 0
    for match in pattern.finditer(text):
        found = match.end()
    return found


def regions(text: str, spans: Sequence[tuple[int, int]]) -> list[tuple[int, int]]:
    """The stretch of the statement that belongs to each number: cut where the words between two numbers are cut.

    Without a cut the words between them belong to both.
    """
    firsts, lasts = [0], []
    for (_, end), (start, _) in pairwise(spans):
        edge = _edge_between(text[end:start])
        lasts.append(end + edge if edge is not None else start)
        firsts.append(end + edge if edge is not None else end)
    return list(zip(firsts, [*lasts, len(text)], strict=True)) if spans else []


_EDGES = (
    re.compile(r"[;|,]|\s[-/]\s|->|=|→"),
    re.compile(r"\b(?:and|but|plus|und|aber|et|mais|or(?! (?:more|higher|above|greater|better|bigger|larger|over|thicker|less"
        r"|smaller|lower)\b)|oder|ou|zzgl|zuzuglich|sowie|while|whereas|with(?= (?:an? |the )?(?:absolute )?(?:min|max)))\b|\+"),
    re.compile(r"[(/:]|\.\s"),
)


@lru_cache(maxsize=2048)  # asked again for each number of a sentence
def _edge_between(gap: str) -> int | None:
    inside = re.match(r"[^(]*\([^()]*\)", gap)  # a remark in brackets belongs to the number before it
    first = inside.end() if inside else 0
    if _NEXT_LABEL.fullmatch(gap):
        return 0
    for start in dict.fromkeys((first, 0)):
        for pattern in _EDGES:
            if match := pattern.search(gap, start):
                return match.start()
    return None


_NEXT_LABEL = re.compile(r" [^:;|,.()0-9]{2,30}: ?")
"""'left: 12 mm right: 15 mm'."""


_HEDGED = re.compile(
    r"\b(?:usually|typically|commonly|normally|generally|often|mostly|average|ublicherweise|normalerweise|in der regel|meistens?"
    r"|haufig|generalement|habituellement|en general|souvent|normalement|for most|for many|in most cases|most applications"
    r"|meist\w*|fur die meisten|pour la plupart|dans la plupart)\b"
)


def hedged(words: str) -> bool:
    """'usually 3 mm' asks only where nothing firmer is said."""
    return _HEDGED.search(words) is not None
