"""Which noun a number belongs to: the one that only little words part from it."""

from __future__ import annotations

import re
from collections.abc import Sequence

from service.sheets.prose.claims.topics import Topic
from service.sheets.prose.words.amounts import Amount
from service.sheets.prose.words.narrowing import PURPOSE

RECOMMENDS = re.compile(
    r"\b(?:recommend\w*|advis\w*|suggest\w*|prefer\w*|empf[eio]\w*hl\w*|raten|recommand\w*|conseill\w*|preconis\w*|ideal\w*)\b"
)
ONLY_QUALIFIERS = re.compile(
    r"[\s,;:()/|+.-]*(?:(?:min|mind|max|minimum|maximum|minimal|maximal|mindestens|hochstens|at least|at most|up to|ideally"
    r"|better"
    r"|preferably|recommend(?:ed)?|suggest|advise"
    r"|optimum|optimal|besser|idealerweise|empfohlen|au moins|au plus|de preference|ideal\w*|but|and|or|und|oder|et|ou"
    r"|no more than|not more than"
    r"|bis zu|aber|maxi|mini|ab|a partir de|bzw\.?|is|are|the|a|we|revers\w*|negativ\w*|invers\w*|knock(?:ed)?[- ]?outs?"
    r"|no (?:smaller|thinner|finer"
    r"|less) than|not (?:smaller|thinner|less|finer) than|nicht (?:dunner|kleiner|feiner) als"
    r"|(?:en )?blanc sur fond(?: de couleur| noir)?|en (?:negatif|positif)|pas en dessous de|pas moins de|white out of \w+"
    r"|white(?: out(?: of black)?"
    r"| on \w+)?|in white|wei(?:ss|ß)\w*|blancs?|en reserve|preferred?|required?|we need|with|bitte|please|more|than"
    r"|less|sein|fur|bei|positiv\w*|eine?|von|une?|de)\b[\s,;:()/|+.-]*|\([^()0-9]{3,40}\)[\s,;:]*)*"
)
BESIDE = re.compile(
    r"[\s.:(|=,>-]*(?:(?:of|is|are|at|least|the|a|an|be|should|must|needs?|to|with|by|minimum|min\.?|maximum|max\.?|more|than"
    r"|extra|external|rundum|umlaufend\w*"
    r"|von|mindestens|mind\.?|betragt|ist|sind|beschnitt|wenigstens|de|d'au|au|moins|est|un|une|size|width|weight|thickness|all"
    r"|each|on|around|amount"
    r"|safe|safety|pro|seite|je|per|side|every|known|called|as|trim|inner|standard|full|additional|set|no|not|less|thinner"
    r"|smaller|in|staerke|starke|include|add|please"
    r"|have|has|allow|for|your|our|required?|recommended|minimale?r?|haben|muss|mussen|soll\w*|doit|doivent|etre|avoir|prevoir"
    r"|soit|oder|or|zu|linear)\b[\s.:(|=,>-]*){0,6}"
)
NOT_OF_THE_TRIM = re.compile(
    r"\b(?:from|of|vom|von|zum|du) (?:the )?(?:bleed|file|data|daten|datei|media)[- ]?(?:format|edge|edges|size|rand|line"
    r"|formats)\b|\bfrom the bleed\b"
    r"|\bdatenformat\w*|\bdateiformat\w*|\bbleed (?:edge|line|size)s?\b|\bfile (?:format|edge)s?\b"
    r"|(?<!trim )\bedge of the (?:file|document|bleed)\b"
)


FROM_IT = re.compile(
    r"\b(?:away from|inside|within|beyond|outside|past|clear of|each side of|either side of|both sides of|from|vom"
    r"|von der|du|de chaque cote d\w+"
    r"|innerhalb|ausserhalb|beidseitig)(?: of)?(?: the| der| des| dem| any| all| full| le| la|:)* ?$"
)
"""Words that make the noun behind them a place, and not what the number is of: '12 mm away from the bleed'."""


_FOR_A_REASON = re.compile(
    r"\W*(?:aufgrund|wegen|because of|due to|owing to|en raison|a cause|compte tenu)\b[^,;.]{0,60}?(?=,|\b(?:muss|mussen|soll\w*"
    r"|bitte"
    r"|benotig\w*|halten|legen|sind|ist|must|should|please|we)\b)"
)
"""'Because of tolerances in cutting, keep text 4 mm from the edge.'"""
_REMARK_WITH_A_NUMBER = re.compile(r"\s?\([^()]*[0-9][^()]*\)")


def alone(text: str, amount: Amount, end: int) -> str:
    """The text with what only says why blanked."""
    if reason := _FOR_A_REASON.match(text, 0, amount.start):
        text = f"{' ' * reason.end()}{text[reason.end() :]}"
    remark = _REMARK_WITH_A_NUMBER.match(text, amount.end)
    if remark and remark.end() < end:
        text = f"{text[: remark.start()]}{' ' * (remark.end() - remark.start())}{text[remark.end() :]}"
    purpose = PURPOSE.search(text, amount.end, end)
    if purpose:
        text = f"{text[: purpose.start()]}{' ' * (end - purpose.start())}{text[end:]}"
    return text


STRICT = re.compile(r"border|bordure|frame|rahmen|cadre|encadr|umrand|gutter|spine|backbone|from top to")
"""Words that a number anywhere in their stretch may be of."""


def in_brackets(topic: Topic, amount: Amount, text: str) -> bool:
    """'3 mm (for tolerances in cutting)'."""
    opened, closed = text.rfind("(", 0, topic.start), text.find(")", topic.start)
    if opened < 0 or closed < 0 or text.rfind(")", opened, topic.start) >= 0:
        return False
    return not opened < amount.start < closed


def comma_clause(text: str, amount: Amount, first: int, end: int) -> tuple[int, int]:
    before, after = text.rfind(",", first, amount.start), text.find(",", amount.end, end)
    return max(first, before + 1), after if after >= 0 else end


def that_can_be(amount: Amount, nouns: Sequence[Topic], text: str) -> list[Topic]:
    """'Text 4 mm from the folds' is no size of type."""
    return [topic for topic in nouns if amount.kind != "length" or topic.name != "type" or _height_of_type(topic, text)]


def _height_of_type(topic: Topic, text: str) -> bool:
    return re.search(r"\b(?:size|gro(?:ss|ß)e|taille|corps)", text[max(0, topic.start - 12) : topic.end + 6]) is not None


def right_beside(amount: Amount, nouns: Sequence[Topic], text: str, *, tight: bool = False) -> Topic | None:
    """The noun that only little words part from the number; none where two stand so."""
    beside = [topic for topic in nouns if BESIDE.fullmatch(between(amount, topic, text))]
    names = {topic.name for topic in beside}
    if len(names) == 1:
        return beside[0]
    if tight or not names:
        return None
    closest = sorted(beside, key=lambda topic: gap(amount, topic))
    joined = re.search(
        r"\b(?:and|und|et|or|oder|ou)\b"
        r"|[/&+,]",
        text[min(one.end for one in closest[:2]) : max(one.start for one in closest[:2])],
    )
    return None if joined and all(topic.end <= amount.start for topic in closest[:2]) else closest[0]


def between(amount: Amount, topic: Topic, text: str) -> str:
    """Without the same said in another unit: '1/4 in. (.25) bleed'."""
    return _TWIN.sub(" ", _words_between(amount, topic, text))


_TWIN = re.compile(r"\([0-9., /\"a-z]{1,14}\)")


def _words_between(amount: Amount, topic: Topic, text: str) -> str:
    return text[amount.end : topic.start] if topic.start >= amount.end else text[topic.end : amount.start]


def gap(amount: Amount, topic: Topic) -> int:
    return topic.start - amount.end if topic.start >= amount.end else amount.start - topic.end


NO_FRAME = re.compile(
    r"(?:[,;]| und| sowie| et| and) (?:sowie |und |et |and )?(?:kein\w*|no|ohne|pas de|sans) (?:\w+ )?(?:rahmen|borders?|frames?"
    r"|cadres?|bordures?)$"
)
"""'Text 3 mm from the edge, no frames': the number is none of theirs."""
OF_A_HOLE = re.compile(
    r"\W*(?:die |das |der |jede[rs]? |alle |the |each |all |le |les |la |chaque |tous les )?(?:loch(?:position|ung|rand)?|bohrung"
    r"|locher|stanzung|holes?|perforations?"
    r"|trous?|oeillets?|osen|eyelets?)\b"
)
"""'The hole must be 4 mm from the edge.'"""
