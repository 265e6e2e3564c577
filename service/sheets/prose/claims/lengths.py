"""Single lengths and sizes: bleed, quiet zone, distance of crop marks, type, lines.

A number is taken where one thing of its own stretch of the statement claims it:

* one noun ('bleed', 'quiet zone', 'hairlines'), or of several the one that stands right beside it ('3 mm bleed', 'margin: 5 mm');
* without a noun, words for a way across the edge ('3 mm beyond the trim') or for content kept off it ('text 5 mm from the edge');
* without either, the number before it ('bleed min. 3 mm, max. 5 mm'), the label or the heading.

A number near 'gutter', 'fold', 'border' and the like belongs to none of them. Where two could claim it, it stays open.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence

from service.sheets.prose.claims.beside import (
    BESIDE,
    FROM_IT,
    NO_FRAME,
    NOT_OF_THE_TRIM,
    OF_A_HOLE,
    ONLY_QUALIFIERS,
    STRICT,
    alone,
    between,
    comma_clause,
    gap,
    in_brackets,
    right_beside,
    that_can_be,
)
from service.sheets.prose.claims.claim import Claim
from service.sheets.prose.claims.measures import claims_of_a_length
from service.sheets.prose.claims.topics import (
    CONTENT,
    LISTED_CODES,
    MARKS,
    OWN_ZONE,
    Topic,
    topics_in,
)
from service.sheets.prose.words.amounts import Amount, same_said_twice
from service.sheets.prose.words.qualifiers import regions
from service.sheets.prose.words.statements import Statement

_FOR_LENGTHS = frozenset(
    ("elsewhere", "marks", "offset", "bleed", "margin", "lines", "type", "width", "height", "across", "inside")
)
_FOR_POINTS = frozenset(("elsewhere", "marks", "offset", "lines", "type", "bleed", "margin"))


def read_lengths(statement: Statement, amounts: Sequence[Amount], other_spans: Sequence[tuple[int, int]]) -> Iterator[Claim]:
    """`other_spans`: sizes of pages and the like, which part the statement as numbers do."""
    if not any(one.kind in ("length", "points") for one in amounts):
        return
    text = statement.text
    spans = sorted([*((one.start, one.end) for one in amounts), *other_spans])
    stretches = dict(zip(spans, regions(text, spans), strict=True))
    topics = topics_in(text)
    last: Topic | None = None
    last_end = 0
    before: Amount | None = None
    for amount in amounts:
        if before is not None and same_said_twice(text, before, amount):
            continue
        before = amount
        if amount.kind not in ("length", "points"):
            continue
        of_type = last is not None and last.name == "type" and amount.kind == "length"
        if of_type and _IN_POINTS.fullmatch(text[last_end : amount.start]):
            continue
        first, end = _past_a_remark(text, amount, spans, stretches)
        end = max(end, _behind_its_twin(text, amount, amounts, stretches))
        topic = _topic_of(amount, topics, first, end, last, statement)
        last, last_end = topic, amount.end
        if topic is not None:
            yield from claims_of_a_length(statement, amount, topic, stretches[(amount.start, amount.end)])


def _behind_its_twin(
    text: str, amount: Amount, amounts: Sequence[Amount], stretches: Mapping[tuple[int, int], tuple[int, int]]
) -> int:
    """'A 1/8 inch or .125 inch bleed': what follows the second number is said of the first."""
    twin = next((one for one in amounts if one.start > amount.end), None)
    if twin is None or twin.low != amount.low or not _SAID_AGAIN.fullmatch(text[amount.end : twin.start]):
        return 0
    return stretches[(twin.start, twin.end)][1]


_SAID_AGAIN = re.compile(r"\s?(?:or|oder|ou|/|=) ?")
_IN_POINTS = re.compile(r"\s?(?:or|oder|ou|bzw\.?|/|\() ?(?:min\. |at least |mindestens |au moins )?")
"""'7 pt or 1.2 mm (the height of an x)': the size of type is said, and then what it looks like."""


def _past_a_remark(
    text: str, amount: Amount, spans: Sequence[tuple[int, int]], stretches: Mapping[tuple[int, int], tuple[int, int]]
) -> tuple[int, int]:
    """'1 cm (better 1.5 cm) from the edge': what follows the brackets is said of the first number too."""
    first, end = stretches[(amount.start, amount.end)]
    remark = re.match(r"\s?\([^()]*\)", text[amount.end :])
    if remark is None:
        return first, end
    inside = [span for span in spans if amount.end < span[0] < amount.end + remark.end()]
    return (first, stretches[inside[-1]][1]) if inside else (first, end)


def _topic_of(
    amount: Amount, topics: Sequence[Topic], first: int, end: int, last: Topic | None, statement: Statement
) -> Topic | None:
    text = alone(statement.text, amount, end)
    if amount.kind == "length" and _ADDED.search(text[: amount.start]) and _TO_EACH_SIDE.match(text, amount.end):
        return Topic("bleed", amount.start, amount.end)
    left = amount.kind == "length" and _LEFT.search(text[: amount.start]) and MARKS.search(text) is None
    if left and _FREE.match(text, amount.end) and not _AROUND_A_THING.search(text, amount.end):
        return Topic("margin", amount.start, amount.end)
    first, end = _within_semicolons(text, amount, topics, first, end)
    stretch = text[first:end]
    fitting = _FOR_LENGTHS if amount.kind == "length" else _FOR_POINTS
    near = [topic for topic in topics if topic.name in fitting and topic.start >= first and topic.end <= end]
    subject = (
        text[:end]
        if re.match(r"\W*(?:all |the |your |alle |tous les )?(?:bar ?-?codes?|upc|ean|isbn|qr|strichcode|codes?-barres?)", text)
        else stretch
    )
    if amount.kind == "length" and OF_A_HOLE.match(text):
        return None
    if amount.kind == "length" and OWN_ZONE.search(LISTED_CODES.sub(" ", subject)):
        return None
    clause = comma_clause(text, amount, first, end)
    near = [
        topic
        for topic in near
        if topic.name != "elsewhere"
        or STRICT.match(text, topic.start)
        or (clause[0] <= topic.start < clause[1] and not in_brackets(topic, amount, text))
    ]
    near = [topic for topic in near if not NO_FRAME.search(text, amount.end, topic.end) or topic.name != "elsewhere"]
    near = [one for one in near if one.name not in ("lines", "type") or not in_brackets(one, amount, text)]
    near = [
        topic
        for topic in near
        if text[topic.start : topic.end].strip()
        and not (
            topic.name in ("bleed", "margin") and topic.start >= amount.end and FROM_IT.search(text[amount.end : topic.start])
        )
    ]
    if any(topic.name == "elsewhere" for topic in near):
        if any(topic.name == "elsewhere" and FROM_IT.search(text[amount.end : topic.start]) for topic in near):
            return None
        return right_beside(
            amount, that_can_be(amount, [topic for topic in near if topic.name != "elsewhere"], text), text, tight=True
        )
    if near and (chosen := _chosen(amount, near, text, first, end)):
        return chosen
    if {topic.name for topic in near} - {"inside", "width", "height"}:
        return None
    if last is not None and last.name in fitting and ONLY_QUALIFIERS.fullmatch(text[first : amount.start]):
        return last
    if last is None and first > 0 and (led := _of_the_lead(topics, first, text)) is not None:
        return led
    return _of_the_heading(amount, statement, fitting, stretch)


_LEFT = re.compile(
    r"\b(?:leav(?:e|ing)|keep|allow) (?:an? |about |at least |a minimum of )?$"
    r"|\b(?:halten|lassen|laisse[rz]|garde[rz]|reserve[rz])\b[^.;,0-9]{0,30}$"
)
_FREE = re.compile(
    r" (?:unprinted|blank|empty|free of (?:type|text|print))\b"
    r"| (?:frei|unbedruckt|libres?|vierges?|vides?|sans (?:texte|impression))\b"
    r"| (?:border|margin|strip|gap) (?:all |right )?(?:free|clear|empty|blank|(?:a)?round|on all)\b"
    r"|(?: of)? (?:clear |blank |empty |free )?space (?:around|inside|within|between|from)\b"
)
"""'Leave 5 mm unprinted', 'a 10 mm border free of text'."""
_AROUND_A_THING = re.compile(
    r"\b(?:around|between|for)(?: each| the| our| your| any)* (?:bar ?-?codes?|logos?|qr|eyelets?|holes?|labels?"
    r"|staples?|stickers?)\b"
)
_ADDED = re.compile(r"(?:\badd(?:ed)? (?:an? )?(?:extra |additional )?(?:bleed of )?|[(,] ?(?:\+|plus) ?)$")
_TO_EACH_SIDE = re.compile(
    r" (?:to|on|from|at|around|all) (?:each|every|all|both|the four|four)(?: \w+){0,2} (?:sides?|edges?)\b"
    r"(?! (?:of|for) (?:the |a |your )?(?:spine|hem|fold|seam|pocket)\w*)"
)
"""'Add 3 mm to each side', '(+ 5 mm on all sides)'."""


def _within_semicolons(text: str, amount: Amount, topics: Sequence[Topic], first: int, end: int) -> tuple[int, int]:
    """'No bleed is needed; keep text 5 cm from the edges': the part that the number stands in, where it names what it is of."""
    last = text.find(";", amount.end, end)
    inner = max(first, text.rfind(";", first, amount.start) + 1), last if last >= 0 else end
    return inner if any(inner[0] <= topic.start and topic.end <= inner[1] for topic in topics) else (first, end)


def _chosen(amount: Amount, near: Sequence[Topic], text: str, first: int, end: int) -> Topic | None:
    nouns = [topic for topic in near if topic.name not in ("across", "inside", "width", "height")]
    nouns = that_can_be(amount, nouns, text)
    stretch = text[first:end]
    names = {topic.name for topic in nouns}
    if names == {"margin", "bleed"} and re.search(r"margins? (?:\(|(?:of|for) (?:the )?)bleeds?", stretch):
        return next(topic for topic in nouns if topic.name == "bleed")
    if "marks" in names or "offset" in names:
        return _of_marks(amount, near, nouns, stretch, text)
    if len(names) == 1:
        chosen = min(nouns, key=lambda topic: gap(amount, topic))
        if chosen.name == "bleed" and _content_inside(near, stretch):
            return None if BESIDE.fullmatch(between(amount, chosen, text)) is None else chosen
        return chosen
    if names:
        return right_beside(amount, nouns, text)
    for name, topic_name in (("across", "bleed"), ("inside", "margin")):
        weak = [topic for topic in near if topic.name == name]
        if weak and (name == "across" or CONTENT.search(text)):
            return Topic(topic_name, weak[0].start, weak[0].end)
    sides = [topic for topic in near if topic.name in ("width", "height")]
    return min(sides, key=lambda topic: gap(amount, topic)) if sides else None


def _content_inside(near: Sequence[Topic], stretch: str) -> bool:
    """'Keep text 5 mm from the edge, not the bleed' speaks of the quiet zone."""
    names = {topic.name for topic in near}
    return "inside" in names and "across" not in names and CONTENT.search(stretch) is not None


def _of_the_lead(topics: Sequence[Topic], first: int, text: str) -> Topic | None:
    """'Bleed: top 3 mm' after a number of another kind: the one noun before all numbers, where a colon follows it."""
    ahead = [topic for topic in topics if topic.end <= first and re.match(r"\s?[:|-]", text[topic.end :])]
    sure = len(ahead) == 1 and len(topics) == 1 and ahead[0].name in ("bleed", "margin")
    return ahead[0] if sure else None


_GOES_BACK = re.compile(
    r"(?:we (?:prefer|recommend|require|need|ask)|minimum|please allow|allow|at least|wir (?:benotigen|empfehlen)"
    r"|nous (?:recommandons|demandons)|it|they|these|this|that|those|dieser?|diese|er|sie|es|celle-ci|celui-ci|elle|il"
    r"|ils|elles|ce)\b"
)


def _of_the_heading(amount: Amount, statement: Statement, fitting: frozenset[str], stretch: str) -> Topic | None:
    """The label or heading, where the stretch names nothing that could be another's."""
    if amount.kind == "points" and re.search(r"\b(?:image|picture|logo)", stretch):
        return None
    opening = statement.opening if _GOES_BACK.match(statement.text) else ""
    for words in (statement.label, opening, statement.heading):
        said = {topic.name for topic in topics_in(words) if topic.name in fitting} - {"across", "inside"}
        if "type" in said and ("lines" in said or amount.kind == "length"):
            said.discard("type" if amount.kind == "length" else "")
        if len(said) == 1:
            name = said.pop()
            if name == "bleed" and CONTENT.search(stretch):
                return None
            away = re.search(r"\boff|distan|abstand|away", f"{words} {stretch}")
            return Topic("offset" if name == "marks" and away else name, amount.start, amount.end)
        if said:
            return None
        if amount.kind == "length" and CONTENT.search(words) and any(topic.name == "inside" for topic in topics_in(words)):
            return Topic("margin", amount.start, amount.end)
    return None


_PAST_THE_MARKS = re.compile(r" (?:beyond|past|over|outside(?: of)?) (?:the |your |all )?(?:crop|trim|cut)\w* ?-?marks?\b")
_RUNS = re.compile(r"\b(?:extend\w*|run|runs|go|goes|bleed\w*|continue\w*)\b")
"""'Backgrounds must extend 3 mm beyond the crop marks': the marks are where the cut is."""
_A_DISTANCE = re.compile(r"(?:mindest)?abstand\b|distances?\b(?! de securite)")
"""'Distance of the crop marks from the trim: 3 mm': a word for any distance is no quiet zone."""


def _of_marks(amount: Amount, near: Sequence[Topic], nouns: Sequence[Topic], stretch: str, text: str) -> Topic | None:
    """'Crop marks 3 mm from the trim' is no quiet zone; the size of a mark is no distance; a bleed beside marks stays a bleed."""
    if _PAST_THE_MARKS.match(text, amount.end) and _RUNS.search(text[: amount.start]):
        return Topic("bleed", amount.start, amount.end)
    others = [topic for topic in nouns if topic.name not in ("marks", "offset")]
    if others and (beside := right_beside(amount, others, text)) is not None:
        if beside.name == "margin" and re.match(r"abstand|distan|gap|clear", text[beside.start :]):
            return Topic("offset", beside.start, beside.end)
        marks = [topic for topic in nouns if topic.name == "offset"]
        if not marks or gap(amount, beside) < min(gap(amount, one) for one in marks):
            return beside
    others = [topic for topic in others if not (_A_DISTANCE.match(text, topic.start) or in_brackets(topic, amount, text))]
    if any(topic.name == "offset" for topic in nouns):
        chosen = next(topic for topic in nouns if topic.name == "offset")
        return None if NOT_OF_THE_TRIM.search(stretch) or re.search(r"\bbleed\b[^.;]{0,20}$|from the bleed", stretch) else chosen
    if any(topic.name == "inside" for topic in near) and CONTENT.search(stretch):
        return next(Topic("margin", one.start, one.end) for one in near if one.name == "inside")
    outside = re.search(
        r"\b(?:outside|away|from|versatz|abstand|decal\w*|distance|beyond|clear of|closer|nearer|around|off|ausserhalb"
        r"|entfernt)\b|\ba (?=[0-9])", stretch
    )
    if outside and not others and not re.search(r"\bbleed\b|\bbeschnitt\b|\banschnitt\b", MARKS.sub("", stretch)):
        chosen = next(topic for topic in nouns if topic.name == "marks")
        return Topic("offset", chosen.start, chosen.end)
    if any(topic.name == "across" for topic in near):
        return next(Topic("bleed", one.start, one.end) for one in near if one.name == "across")
    return None
