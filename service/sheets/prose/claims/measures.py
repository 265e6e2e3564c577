"""What a length or size says of the thing that it is of: least or most, must or should, in which key."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from service.sheets.format.lengths import plain_decimal
from service.sheets.prose.claims.beside import NOT_OF_THE_TRIM, RECOMMENDS
from service.sheets.prose.claims.claim import Claim
from service.sheets.prose.claims.topics import (
    BLACK_OF_ONE_INK,
    CONTENT,
    FACE,
    MARKS,
    REVERSED,
    RICH_BLACK,
    VARIANT,
    Topic,
)
from service.sheets.prose.words.amounts import Amount, millimetres_of, points_of
from service.sheets.prose.words.frames import asks
from service.sheets.prose.words.narrowing import Scope
from service.sheets.prose.words.qualifiers import UNNEEDED, UNNEEDED_AT_AN_EDGE, Bound, bound_of, hedged
from service.sheets.prose.words.statements import Statement

_SENSIBLE_MM: dict[str, tuple[float, float]] = {"bleed": (0, 200), "margin": (0.5, 250), "offset": (0, 20)}
_MOST_IN_INCHES_MM = 120
"""A greater one in inches is the width of a column."""
_SENSIBLE_PT: dict[str, tuple[float, float]] = {"type": (2, 40), "lines": (0.05, 6)}
"""Outside these a number was surely read wrong. From memory."""


def claims_of_a_length(statement: Statement, amount: Amount, topic: Topic, stretch: tuple[int, int]) -> Iterator[Claim]:
    """`topic`: the thing that the amount is of; `stretch`: the part of the statement that belongs to it."""
    text = statement.text
    if topic.name == "offset" and not _OF_MARKS.search(" ".join((*statement.above, statement.label, statement.opening, text))):
        return  # 'text set 4 mm inwards'
    before, after = text[stretch[0] : amount.start], text[amount.end : stretch[1]]
    bound = bound_of(before, after, statement.label)
    if topic.name == "bleed" and amount.low < 2 and text.startswith("uberfullung", topic.start):
        return  # of inks into each other
    after = _ABOVE_ALL.sub(" ", after)
    around = f"{statement.label} {before} {after}"
    if _asks_nothing(statement, amount, topic, bound, around):
        return
    if topic.name == "type" and bound == "maximum" and BLACK_OF_ONE_INK.search(text) and _OR_LESS.match(text, amount.end):
        bound = "below"
    weight = 0 if hedged(around) and bound != "minimum" else 2
    if bound == "above" and re.search(r"\b(?:should|must|keep\w*|stay\w*|soll\w*|muss|mussen|doi\w+)\b", before):
        bound = "minimum"
    if bound in ("minimum", None) and RECOMMENDS.search(before):
        bound = "preferred"
    start, end = min(topic.start, amount.start), max(topic.end, amount.end)
    places = (statement.start + start, statement.start + end)
    in_mm = millimetres_of(amount)
    if topic.name == "bleed" and _LARGER_THAN.match(text, amount.end) and not _EACH_SIDE.search(text):
        half, unit = Fraction(amount.low / 2), str(amount.low_written).split()[-1]
        yield (
            Claim("bleed.minimum", _halved(str(amount.low_written)), *places, 1, half)
            if unit in ("mm", "cm", "in")
            else Claim("bleed.minimum", amount.low_written, *places, scope=Scope("unsure", ""))
        )
        return
    low_mm, high_mm = _SENSIBLE_MM.get(topic.name, (0, 0))
    high_mm = min(high_mm, _MOST_IN_INCHES_MM) if str(amount.low_written).endswith("in") else high_mm
    last = stretch[1] if (comma := text.find(",", amount.end, stretch[1])) < 0 else comma
    part = _PARTS.split(text[: amount.start])[-1] + text[amount.start : last]
    marked = MARKS.match(text) or MARKS.search(_WHERE_THE_CUT_IS.sub(" ", f"{statement.heading} {statement.lead} {part}"))
    if (
        topic.name in ("margin", "lines")
        and marked
        and not CONTENT.search(text)
    ):
        return  # the measures of the marks
    if topic.name in ("bleed", "margin", "offset") and low_mm <= float(in_mm) <= high_mm:
        own = text[stretch[0] : stretch[1]]
        elsewhere = _EACH_OTHER.search(own) or NOT_OF_THE_TRIM.search(own)
        if topic.name == "margin" and (elsewhere or (_BETWEEN.search(own) and not _AN_EDGE.search(own))):
            return
        yield from _distance_claims(amount, topic.name, bound, places, weight, sure=_is_a_range(text, amount))
    if topic.name in _SENSIBLE_PT:
        yield from _thin_claims(statement, amount, topic, bound, (before, around), places, weight)
    if topic.name in ("width", "height") and bound is None and amount.high is None:
        yield Claim(f"side.{topic.name}", amount.low_written, *places, 2, in_mm)


def _thin_claims(
    statement: Statement, amount: Amount, topic: Topic, bound: Bound | None, said: tuple[str, str], places: tuple[int, int],
    weight: int,
) -> Iterator[Claim]:
    """Sizes of type and widths of lines. `said`: the words before the amount, and those around it with its label."""
    before, around = said
    low_pt, high_pt = _SENSIBLE_PT[topic.name]
    words = f"{around} {statement.heading}"
    told = f"{words} {statement.text}"
    if bound is None and not (_A_LEAST.search(told) or REVERSED.search(told) or asks(statement, amount.start, amount.end)):
        return
    if bound == "below" and _SET_OTHERWISE.search(statement.text) and not BLACK_OF_ONE_INK.search(statement.text):
        return
    if (
        not low_pt <= float(points_of(amount)) <= high_pt
        or _CASE_BY_CASE.search(statement.text)
        or (FACE.search(before if REVERSED.search(words) else around) and not _EVERY_FACE.search(around))
        or (VARIANT.search(around) and not REVERSED.search(words))
        or _OF_A_FINISH.search(statement.opening)
        or (topic.name == "lines" and _DRAWN_AROUND.search(before))
        or (topic.name == "type" and VARIANT.search(statement.heading))
    ):
        return
    told = f"{before} {statement.label} {statement.heading}" if _POSITIVE.search(before) else words
    path = _size_path(topic.name, told, "" if _REFUSES.search(before) else statement.text, bound)
    paths = [path]
    if topic.name == "lines" and _BOTH_WAYS.search(around):
        paths.append("lines.minimum_width" if path != "lines.minimum_width" else "lines.reversed_minimum_width")
    if amount.high is None and bound != "maximum" and (bound != "above" or path == "text.rich_black_minimum_size"):
        for one in paths:
            yield Claim(one, amount.low_written, *places, weight, points_of(amount), bound == "preferred")


_REFUSES = re.compile(r"\bno (?:\w+ )?(?:texts?|type|fonts?|lettering|copy)\b[^.;]{0,20}$")
_PARTS = re.compile(r"[,;]\s|\s[-/]\s|\band\b")
_A_LEAST = re.compile(r"\b(?:min\w*|at least|smallest|thinnest|finest|least|recommend\w*|kleinste\w*|mindest\w*|moins)\b")
_DRAWN_AROUND = re.compile(r"\b(?:with a|include|add|apply|give it|put|draw) (?:an? )?(?:black |white |thin )?$")
"""'Add a 0.5 pt stroke to keep the edges sharp' sets no least."""
_OF_A_FINISH = re.compile(r"\b(?:foil\w*|emboss\w*|deboss\w*|spot uv|varnish\w*|engrav\w*)\b")
"""The label of a paragraph: what is said below is said of no printed type."""
_SET_OTHERWISE = re.compile(r"\boverprint\w*|\buberdruck\w*|\bsurimpr\w*")
"""'Black text less than 12 pt should overprint' sets no least size."""
_WHERE_THE_CUT_IS = re.compile(r"\b(?:du|au|le|de chaque|a l'interieur des?|en deca des?) traits? de coupe\b")
"""French names the edge by the line of the cut: '4 mm a l'interieur du trait de coupe' speaks of no mark."""


_ABOVE_ALL = re.compile(
    r",? \b(?:besonders|insbesondere|vor allem|especially|particularly|in particular|above all|surtout|notamment"
    r"|en particulier)\b[^.;0-9]*\.?"
)
"""'No type under 6 pt, above all reversed', '… under 5 pt, especially in serif faces' is of all type."""
_EACH_OTHER = re.compile(r"\b(?:zueinander|untereinander|voneinander|(?:to|from) each other|entre (?:eux|elles))\b")
_BETWEEN = re.compile(r"\b(?:between|zwischen|entre)\b")
_AN_EDGE = re.compile(r"edge|trim|cut|safe|side|border|rand|kante|schnitt|format|bord|coupe|rogn|decoupe|limite")
"""'5 mm between two texts' is no distance from the edge."""


_OF_MARKS = re.compile(r"mark|zeichen|repere|traits? de|hirondelle|crops?\b|croix|kreuz")


def _asks_nothing(statement: Statement, amount: Amount, topic: Topic, bound: Bound | None, around: str) -> bool:
    """A bleed that is not needed; type as others set it, or on a screen."""
    if topic.name == "bleed":
        other = re.search(r"\b(?:if|wenn|si|unless)\b|\bmarks?\b|zeichen|marken|reperes", statement.text)
        return UNNEEDED.search(UNNEEDED_AT_AN_EDGE.sub(" ", statement.text)) is not None and other is None
    if topic.name != "type":
        return False
    shown = points_of(amount) > _SURELY_TYPE_PT and _SHOWN.search(" ".join((*statement.above, statement.text)))
    return bool(shown) or (
        _OF_THE_LAYOUT.search(around) is not None and (bound is None or _BODY_TYPE.search(around) is not None)
    )


_OF_THE_LAYOUT = re.compile(
    r"\b(?:grundschrift\w*|flie(?:ss|ß)text\w*|body|titles?|headlines?|headings?|uberschrift\w*|titel\w*|titres?"
    r"|corps de texte|standard|default|legible from"
    r"|slides?|screens?|for example|paragraphes?|absatz\w*|interlignes?|interlignage|espacements?|zeilenabstand\w*|line spacing"
    r"|times new roman|arial|calibri|garamond|helvetica|verdana|cambria)\b"
)
"""'Body text: 7.5 pt Helvetica' says how it is set."""
_BODY_TYPE = re.compile(r"\bgrundschrift\w*")
_SURELY_TYPE_PT = 14
_SHOWN = re.compile(r"\bscreens?\b|\bslides?\b|\bpower ?point\b|\bbildschirm\w*|\bfolien\b|\becrans?\b")
"""Larger type than this is asked of slides. From memory."""
_BOTH_WAYS = re.compile(r"\bpositiv\w*,? (?:and|or|as well as|und|oder|et|ou|&|/) ?(?:\w+ )?(?:revers|negativ|inver)\w*")
_POSITIVE = re.compile(r"\bpositi[vf]\w*|\bblack on\b|\bschwarz auf\b|\bnoir sur\b|\bdark on\b")
_EVERY_FACE = re.compile(r"\b(?:both|any|all|either|alle[nr]?|beide\w*|tous|toutes)\b[^.;]{0,30}serif")
_CASE_BY_CASE = re.compile(
    r"\b(?:there are|in (?:some|certain)) cases\b|\bin (?:manchen|einigen) fallen\b|\bdans certains cas\b"
    r"|\b(?:die|cut(?:ting)?|kiss[- ]cut|crease|fold|stanz|perforation)[- ]?lines?\b|\bstanz(?:kontur|linie|form)\w*"
    r"|\b(?:trace|forme|ligne|filet) de (?:de)?coupe\b"
)
"""What some files may have all the same, and the lines of a die, which are not printed."""


_OR_LESS = re.compile(r"[\s.)]*(?:or|and) (?:below|less|smaller|under|lower)\b")
_LARGER_THAN = re.compile(
    r"\s?(?:\([^()]*\) ?)?(?:larger|bigger|wider|taller|more|gro(?:ss|ß)er|breiter|hoher|langer|plus grande?s?|plus larges?"
    r"|plus hautes?)"
    r"(?:,? (?:and|und|et|sowie) (?:taller|wider|higher|longer|hoher|breiter|langer|plus hautes?|plus larges?))?,? (?:than|als"
    r"|que)\b"
)
_EACH_SIDE = re.compile(
    r"\b(?:each|every|all|per|four|both|any|4) (?:\w+ )?(?:sides?|edges?)\b|\b(?:jeder|allen|pro"
    r"|alle) (?:\w+ )?(?:seiten?|kanten?|rander\w*)\b|\brundum\b|\bumlaufend"
    r"|\b(?:chaque|par|tous les|quatre|4) (?:cotes?|bords?)\b|\ball (?:a)?round\b"
)


def _halved(written: str) -> str:
    number, unit = written.rsplit(" ", 1)
    value = sum(map(Fraction, number.split())) / 2
    return f"{plain_decimal(float(value))} {unit}"


def _is_a_range(text: str, amount: Amount) -> bool:
    """'Between 3 and 5 mm' sets a most; '3-5 mm' leaves a choice, and few printers mean that more is refused."""
    return re.search(r"\b(?:between|zwischen|entre)\s$|\bmax\w*", text[: amount.start]) is not None


def _distance_claims(
    amount: Amount, name: str, bound: Bound | None, places: tuple[int, int], weight: int, *, sure: bool
) -> Iterator[Claim]:
    path = {"bleed": "bleed.minimum", "margin": "margin.minimum", "offset": "marks.offset_minimum"}[name]
    kept: tuple[int, int, int] = (*places, weight)
    if bound == "maximum" and amount.high is None:
        if name == "bleed":
            yield _claim("bleed.maximum", amount.low_written, kept, millimetres_of(amount))
        return
    if bound == "below" and amount.high is None and name != "margin":
        return
    yield _claim(path, amount.low_written, kept, millimetres_of(amount), recommended=bound == "preferred")
    if amount.high is not None and amount.high_written is not None and name == "bleed" and bound != "preferred":
        most = _claim("bleed.maximum", amount.high_written, kept, amount.high)
        yield most if sure else replace(most, scope=Scope("unsure", ""))


def _claim(path: str, value: str | int, kept: tuple[int, int, int], size: Fraction, *, recommended: bool = False) -> Claim:
    start, end, weight = kept
    return Claim(path, value, start, end, weight, size, recommended)


def _size_path(name: str, around: str, text: str, bound: Bound | None) -> str:
    """'Text under 6 pt may fill in' claims 6 pt as the least; 'above 14 pt' is a floor for rich black only."""
    reverse = REVERSED.search(around)
    if name == "lines":
        return "lines.reversed_minimum_width" if reverse else "lines.minimum_width"
    black = {"below": BLACK_OF_ONE_INK, "above": RICH_BLACK, "minimum": RICH_BLACK}.get(bound or "")
    if black is not None and black.search(text) and not reverse:
        return "text.rich_black_minimum_size"
    return "text.reversed_minimum_size" if reverse else "text.minimum_size"
