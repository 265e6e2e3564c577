"""Single lengths and sizes: bleed, quiet zone, distance of crop marks, type, lines.

Each number goes to the nearest word for one of them within its own stretch of the statement; else to the thing that the number
before it was about ('bleed min. 3 mm, max. 5 mm'); else to the label or heading. A number near 'gutter', 'fold', 'spine' and the
like belongs to none of them.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from service.sheets.prose.claims.claim import Claim
from service.sheets.prose.words.amounts import Amount, millimetres_of, points_of, same_said_twice
from service.sheets.prose.words.qualifiers import CONDITIONAL, Bound, bound_of, regions
from service.sheets.prose.words.statements import Statement

MARKS = re.compile(
    r"\b(?:crop(?:ping)?|trim(?:ming)?|cut(?:ting)?|corner|printer'?s'?) ?-?marks?\b|\bcropmarks?\b|\bcrops\b"
    r"|\b(?:crop|trim|cut)(?:,| and| &| or| ?/) ?(?:bleed|registration|fold|crop|trim) ?-?marks\b|\b(?:schnitt|schneid"
    r"|schneide|beschnitt|eck|druck|passer)-?"
    r"(?:marken?|zeichen)\b|\b(?:traits?|reperes?|marques?) de (?:coupe|rogne|montage)\b|\bhirondelles?\b"
    r"|\bschneidezeichen\b|\bmarken\b"
)
BLEED = re.compile(
    r"\bbleed(?:s|ing)?\b|\bfull[- ]bleed\b|\bextra (?:image|background|artwork|picture)\b|\b(?:run|runs|running|go"
    r"|goes) (?:over|off|past|out)\b|\bextend(?:s|ed"
    r"|ing)?\b|\b(?:be|an)?schnitt\w*|\b\w{3,12}(?:be|an)schnitt\w*|\b(?:fonds?"
    r"|bords?)[ -]perdus?\b|\bdebords?\b|\bdebordement\b"
    r"|\b(?:beyond|past|over|outside|across)(?: of)? (?:the |your |each |every |all )?(?:final |finished )?(?:trim|cut"
    r"|edges?|page|cutting|side|border)\w*(?: edges?| lines?| size)?"
    r"|\b(?:larger|bigger|wider) than (?:the )?(?:trim|final|finished)\w*(?: \w+)?|\buber (?:den|das|die"
    r"|alle)(?: \w+)? ?(?:rand|rander|endformat|schnittkanten?|kante\w*)\b(?: hinaus)?"
    r"|\bau-dela (?:du|des|de la) (?:format|bords?|trait|coupe)\w*|\b(?:depasser|deborder)\b"
)
_UNBLEED = re.compile(
    r"\b(?:un)?beschnittene?\w*|\b(?:zu|be)?schnittlini\w*|\bschnittkanten?\b|\bschnittrand\b|\babschnitt\w*|\bausschnitt\w*"
)
_EDGE = (
    r"(?:(?:final |finished |trimmed |outer |cut |page |paper |document )*(?:trim|cut|edges?|border|cutting|page"
    r"|borders|sides?)(?: ?-?(?:edges?|lines?|size|format|side|marks?))?"
    r"|(?:final|finished|trimmed) (?:format|size|area)|crop marks?)"
)
MARGIN = re.compile(
    r"\bsafe(?:ty)?[- ]?(?:zones?|areas?|margins?|distances?|lines?|space|borders?|boundary)?\b|\bquiet[- ](?:zones?"
    r"|areas?|margins?|borders?|edges?|space)\b|\bclearance\b|\bin by\b|\binset\b|\binwards?\b|\bclear\b|\bgap\b"
    r"|\bclear (?:border|space|strip|edge)\b"
    r"|\blive[- ]area\b|\bclear[- ](?:zone|margin|area)\b"
    rf"|\b(?:inner |inside |internal )?margins?\b|\b(?:inside|within|in from|away from|from|to|of|off"
    rf"|and)(?: of)? (?:the |all |any |every |each |your |all of the |its |their )*{_EDGE}\b"
    r"|\bsicherheits\w*|\bschutz(?:zone|rand|bereich|abstand)\w*|\babstand\w*|\b(?:innen|text)abstand\b"
    r"|\brandabstand\w*|\b(?:vom|zum|von der|zur|von den|zu den)(?: \w+)? ?(?:rand|rander\w*|endformat\w*"
    r"|schnittkante\w*|formatrand|schnitt"
    r"|papierrand|seitenrand|kante|beschnittkante|formatkante)\b|\bmarges?(?: (?:de securite|interieures?|tranquilles?"
    r"|minimales?))?|\bzone (?:de securite|tranquille|de protection|de silence)"
    r"|\b(?:du|des|de chaque|de tous les|aux?) (?:bords?|trait de coupe|format fini|rognage|coupe)\b"
    r"|\bdistance de securite\b|\baway from it\b|\bretrait\b"
)
_OFFSET = re.compile(r"\boffsets?\b|\bversatz\b|\bversetzt\b|\bdecal\w+|\boffset (?:of|by)\b|\bmarkenabstand\b|\bmark offset\b")
_CONTENT = re.compile(
    r"\b(?:texts?|type|logos?|content|copy|elements?|important|critical|essential|information|graphics?|schrift\w*"
    r"|texte\w*|inhalte?|wichtige?\w*|motiv\w*|contenu"
    r"|keep|nothing|page numbers|headings?|signets?)\b"
)
LINES = re.compile(
    r"\bhair-?lines?\b|\blines?(?: ?-?(?:weights?|widths?|thickness(?:es)?|strengths?|art strokes))?\b"
    r"|\bstrokes?(?: ?-?(?:weights?|widths?))?\b|\brules?\b|\bruled\b|\bfine lines\b"
    r"|\b\w{0,16}lini(?:en?|enst\w*|enbreit\w*)\b|\bstrichstarken?\b|\bkonturen?\b|\bfilets?\b|\btraits?\b"
    r"|\bepaisseurs?(?: (?:de|des) (?:traits?|filets?|lignes?))?|\blignes?\b|\bkeylines?\b"
)
TYPE = re.compile(
    r"\btype(?:face)?s?(?: ?-?sizes?)?\b|\b(?:font|text|point|character|letter)[- ]?(?:sizes?|height)\b|\btexts?\b"
    r"|\bfonts?\b|\blettering\b|\bsmall print\b|\bwording\b|\bcopy\b|\bcharacters?\b|\bschrift\w*"
    r"|\bpunktgro\w*|\btexte?s?\b|\bcorps\b|\bcaracteres?\b|\bpolices?\b|\btypograph\w*|\bbuchstaben\b"
    r"|\b\w{0,12}schrift\w*|\btaille (?:minimale? )?(?:de|du|des) (?:texte|police|caractere)\w*|\bsans[- ]?serif\b"
    r"|\bletters\b"
)
_REVERSED = re.compile(
    r"\brevers\w*|\brev\b|\bwhite or\b|\bwhite out\b|\bwhite\)|\blight (?:text|type)|\bwhite (?:text|type|copy|lettering"
    r"|lines?|on|fonts?|rules?|characters)|\bknock(?:ed)?[- ]?outs?\b|\bnegativ\w*|\binvers\w*"
    r"|\bweiss?e?\w* (?:schrift|text|linien|auf)\w*"
    r"|\bweiße?\w* (?:schrift|text|linien|auf)\w*|\b(?:textes?|filets?|traits?|caracteres?) (?:\w+ )?(?:blancs?"
    r"|inverses?)|\ben reserve\b|\bdefonce\w*|\bon (?:a )?dark|\blight on dark|\ben negatif\b|\bin white\b|\bnoir au blanc\b"
)
_BLACK_OF_ONE_INK = re.compile(
    r"\b(?:only|pure|solid|single|one|100 ?% ?|nur|rein\w*|uniquement)[^.;]{0,25}\b(?:black|k\b|ink|colou?r|schwarz"
    r"|noir|encre)|\bblack[- ](?:only|ink only)\b|\b(?:no|not|never|avoid|kein\w*|nicht|pas de)\b[^.;]{0,30}"
    r"\b(?:rich|composite|four-colou?r|4-colou?r|multi-ink) ?black|\bk only\b|\bnoir seul\b|\brich black\b"
    r"|\bnoir (?:soutenu|enrichi)\b|\btiefschwarz\b|\b100 ?% ?(?:k\b|black)|\bsingle ink\b|\bone ink\b"
)
_RICH_BLACK = re.compile(r"\b(?:rich|composite|four-colou?r|4-colou?r) black\b|\bnoir (?:soutenu|enrichi)\b|\btiefschwarz\b")
_ELSEWHERE = re.compile(
    r"\bgutters?(?: margins?)?\b|\b(?:spine|binding|back|inner gutter) margins?\b|\bspines?\b|\bfolds?\b"
    r"|\bfold lines?\b|\bcreases?\b|\bstaples?\b|\bbinding\b|\bperforat\w*|\bholes?\b|\bdrill\w*|\btolerances?\b"
    r"|\bcorners?(?: radius)?\b|\bradius\b|\bthick(?:ness)?(?= (?:paper|board|of))|\bdie-?(?:cut|lines?)\b"
    r"|\bbund\w*|\bruckens?\w*|\bfalz\w*|\bheft\w*|\bklammer\w*|\bbohr\w*|\btoleranz\w*|\bstanz\w*|\brundung\w*"
    r"|\bgrammage\b|\breliure\b|\bplis?\b|\bpliage\b|\bdos\b|\bagraf\w*|\btrous?\b|\btolerances?\b|\bbarcodes?\b"
    r"|\bqr\b|\bcodes?-barres?\b|\bbleed edge\b|\bbleed line\b|\bslug\b|\bcreep\b|\bglue\w*"
    r"|\btrapping\b|\btraps?\b|\bschieb\w*|\bplace?ment\b|\bbinding edge\b|\bkleb\w*|\bwidth of marks\b"
    r"|\blength of marks\b|\bscreen ruling\b|\bweite\b|\bx-height\b|\bfoil\b|\bprage\w*|\bvarnish\b|\black\w*"
    r"|\bwindow\b|\bleading\b|\blong\b|\bgrip(?:per)?\b"
)
_OWN_ZONE = re.compile(r"\bbar ?codes?\b|\bqr\b|\bcodes?-barres?\b|\bstrichcode\w*|\bgutters?\b|\bbundsteg\w*")
WIDTH = re.compile(r"\bwidth\b|\bwide\b|\bbreite?\b|\blargeur\b|\blarge\b")
HEIGHT = re.compile(r"\bheight\b|\bhigh\b|\btall\b|\bhohe\b|\bhoch\b|\bhauteur\b|\bhaut\b")

_NONE_OF_IT = re.compile(r"\b(?:no|without|kein\w*|ohne|sans|pas de)\s$")

_TOPICS: tuple[tuple[str, re.Pattern[str]], ...] = (
    ("elsewhere", _ELSEWHERE),
    ("elsewhere", _UNBLEED),
    ("marks", MARKS),
    ("offset", _OFFSET),
    ("bleed", BLEED),
    ("margin", MARGIN),
    ("lines", LINES),
    ("type", TYPE),
    ("width", WIDTH),
    ("height", HEIGHT),
)
_FOR_LENGTHS = frozenset(("elsewhere", "marks", "offset", "bleed", "margin", "lines", "width", "height"))
_FOR_POINTS = frozenset(("elsewhere", "marks", "offset", "lines", "type", "bleed", "margin"))
_SENSIBLE_MM: dict[str, tuple[float, float]] = {"bleed": (0, 30), "margin": (0.5, 60), "offset": (0, 20)}
_SENSIBLE_PT: dict[str, tuple[float, float]] = {"type": (2, 40), "lines": (0.05, 6)}
"""Outside these a number was surely read wrong. From memory."""


@dataclass(frozen=True)
class Topic:
    name: str
    start: int
    end: int


def topics_in(text: str) -> list[Topic]:
    """In the order of the text, without overlaps: the longer words win, then the order of the table."""
    found = [Topic(name, *match.span()) for name, pattern in _TOPICS for match in pattern.finditer(text)]
    found = [topic for topic in found if not (topic.name == "bleed" and _NONE_OF_IT.search(text, 0, topic.start))]
    found.sort(key=lambda topic: (topic.start, -topic.end))
    kept: list[Topic] = []
    for topic in found:
        if kept and topic.start < kept[-1].end:
            if topic.end - topic.start > kept[-1].end - kept[-1].start:
                kept[-1] = topic
        else:
            kept.append(topic)
    return kept


def read_lengths(statement: Statement, amounts: Sequence[Amount], other_spans: Sequence[tuple[int, int]]) -> Iterator[Claim]:
    """`other_spans`: sizes of pages and the like, which part the statement as numbers do."""
    text = statement.text
    spans = sorted([*((one.start, one.end) for one in amounts), *other_spans])
    stretches = dict(zip(spans, regions(text, spans), strict=True))
    topics = topics_in(text)
    last: Topic | None = None
    before: Amount | None = None
    for amount in amounts:
        if before is not None and same_said_twice(text, before, amount):
            continue
        before = amount
        if amount.kind not in ("length", "points"):
            continue
        first, end = stretches[(amount.start, amount.end)]
        topic = _topic_of(amount, topics, first, end, last, statement)
        if topic is not None:
            last = topic
            yield from _claims(statement, amount, topic, (first, end))


def _topic_of(
    amount: Amount, topics: Sequence[Topic], first: int, end: int, last: Topic | None, statement: Statement
) -> Topic | None:
    fitting = _FOR_LENGTHS if amount.kind == "length" else _FOR_POINTS
    near = [topic for topic in topics if topic.name in fitting and topic.start >= first and topic.end <= end]
    if amount.kind == "points" and any(topic.name in ("type", "lines") for topic in near):
        near = [topic for topic in near if topic.name not in ("bleed", "margin")]
    if near:
        if amount.kind == "length" and _OWN_ZONE.search(statement.text[first:end]):
            return None
        chosen = min(near, key=lambda topic: _gap(amount, topic, statement.text))
        if _two_at_once(amount, near, statement.text) and chosen.name in ("bleed", "margin"):
            return None
        return _for_marks(chosen, near, statement.text[first:end])
    if last is not None and last.name in fitting:
        another = last.name == "bleed" and _CONTENT.search(statement.text[first:end])
        return None if another else last
    for words in (statement.label, statement.heading):
        said = {topic.name for topic in topics_in(words) if topic.name in fitting}
        if "type" in said and "lines" in said and amount.kind == "length":
            said.discard("type")
        if len(said) == 1:
            return Topic(said.pop(), amount.start, amount.end)
        if said:
            return None
    return None


def _gap(amount: Amount, topic: Topic, text: str) -> int:
    """Characters between; words across a comma, and an edge that is only spoken of, stand further off."""
    first, last = (amount.end, topic.start) if topic.start >= amount.end else (topic.end, amount.start)
    between = text[first:last]
    return len(between) + (20 if re.search(r"[,;]", between) else 0) + (12 if _aside(topic, text) else 0)


def _aside(topic: Topic, text: str) -> bool:
    """'…to the edge' may only say where a picture goes."""
    return topic.name == "margin" and re.match(r"(?:to|of|off|and)\b", text[topic.start :]) is not None


def _two_at_once(amount: Amount, near: Sequence[Topic], text: str) -> bool:
    """'Bleed and quiet zone: 3 mm' may mean both or the last."""
    ahead = [topic for topic in near if topic.end <= amount.start and topic.name in ("bleed", "margin")]
    ahead = [topic for topic in ahead if not _aside(topic, text)]
    if len(ahead) < 2 or ahead[-1].name == ahead[-2].name:
        return False
    between = text[ahead[-2].end : ahead[-1].start]
    return re.fullmatch(r"\s*(?:and|und|et|/|&|\+|,|or|oder|ou)\s*(?:the |le |la |der |die )?", between) is not None


def _for_marks(chosen: Topic, near: Sequence[Topic], stretch: str) -> Topic:
    """'Crop marks 3 mm from the trim' is no quiet zone, and the size of a mark is no distance."""
    if not any(topic.name == "marks" for topic in near) or chosen.name not in ("margin", "marks", "offset", "bleed"):
        return chosen
    if chosen.name == "margin" and not _CONTENT.search(stretch) and not stretch[chosen.start :].startswith("safe"):
        return Topic("offset", chosen.start, chosen.end)
    outside = re.search(r"\b(?:outside|offset|away|from|versatz|abstand|decal\w*|distance|beyond|clear of)\b", stretch)
    if chosen.name == "marks" and outside:
        return Topic("offset", chosen.start, chosen.end)
    if chosen.name == "bleed" and re.search(r"\bmarks?\b[^.;]{0,30}\b(?:outside|beyond)\b", stretch):
        return Topic("offset", chosen.start, chosen.end)
    return chosen


def _claims(statement: Statement, amount: Amount, topic: Topic, stretch: tuple[int, int]) -> Iterator[Claim]:
    text = statement.text
    before, after = text[stretch[0] : amount.start], text[amount.end : stretch[1]]
    bound = bound_of(before, after, statement.label)
    around = f"{statement.label} {before} {after}"
    weight = 1 if CONDITIONAL.search(around) else 2
    start, end = min(topic.start, amount.start), max(topic.end, amount.end)
    places = (statement.start + start, statement.start + end)
    in_mm = millimetres_of(amount)
    low_mm, high_mm = _SENSIBLE_MM.get(topic.name, (0, 0))
    if topic.name in ("bleed", "margin", "offset") and low_mm <= float(in_mm) <= high_mm:
        yield from _distance_claims(amount, topic.name, bound, places, weight)
    low_pt, high_pt = _SENSIBLE_PT.get(topic.name, (0, 0))
    if topic.name in _SENSIBLE_PT and low_pt <= float(points_of(amount)) <= high_pt:
        path = _size_path(topic.name, around, text, bound)
        floor = bound != "maximum" and (bound != "above" or path == "text.rich_black_minimum_size")
        if floor and amount.high is None:
            yield Claim(path, amount.low_written, *places, weight, points_of(amount), bound == "preferred")
    if topic.name in ("width", "height") and bound is None and amount.high is None:
        yield Claim(f"side.{topic.name}", amount.low_written, *places, weight, in_mm)


def _distance_claims(amount: Amount, name: str, bound: Bound | None, places: tuple[int, int], weight: int) -> Iterator[Claim]:
    path = {"bleed": "bleed.minimum", "margin": "margin.minimum", "offset": "marks.offset_minimum"}[name]
    kept: tuple[int, int, int] = (*places, weight)
    if bound == "maximum" and amount.high is None:
        if name == "bleed":
            yield _claim("bleed.maximum", amount.low_written, kept, millimetres_of(amount))
        return
    if bound == "below" and amount.high is None and name != "margin":
        return
    yield _claim(path, amount.low_written, kept, millimetres_of(amount), recommended=bound == "preferred")
    if amount.high is not None and amount.high_written is not None and name == "bleed":
        yield _claim("bleed.maximum", amount.high_written, kept, amount.high)


def _claim(path: str, value: str | int, kept: tuple[int, int, int], size: Fraction, *, recommended: bool = False) -> Claim:
    start, end, weight = kept
    return Claim(path, value, start, end, 1 if weight == 1 else 2, size, recommended)


def _size_path(name: str, around: str, text: str, bound: Bound | None) -> str:
    """'Text under 6 pt may fill in' claims 6 pt as the least; 'above 14 pt' is a floor for rich black only."""
    reverse = _REVERSED.search(around)
    if name == "lines":
        return "lines.reversed_minimum_width" if reverse else "lines.minimum_width"
    black = {"below": _BLACK_OF_ONE_INK, "above": _RICH_BLACK, "minimum": _RICH_BLACK}.get(bound or "")
    if black is not None and black.search(text) and not reverse:
        return "text.rich_black_minimum_size"
    return "text.reversed_minimum_size" if reverse else "text.minimum_size"
