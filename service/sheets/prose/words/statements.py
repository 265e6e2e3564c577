"""A published text as statements: one sentence, list item or table cell each, with the headings that it stands under.

* Folding keeps the length: a place in the folded text is the same place in the text. Letters become lowercase and lose their
  accents, dashes, quotation marks and the multiplication sign become one kind each.
* Lines that were wrapped are joined; list items, 'Label: value' lines and table rows stay apart.
* A cell of a table with a header row carries its column's header and its row's first cell as its label.
* A line over a list that ends in a colon ('Please leave out:') leads each item of the list.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import pairwise

from service.sheets.prose.words.lines import AMOUNT_SEEN, Line, cells_of, goes_on, is_heading, is_row, lines_of
from service.sheets.prose.words.products import products_in

_SAME = {
    **dict.fromkeys("‐‑‒–—―−", "-"),
    **dict.fromkeys("“”„″‟«»", '"'),
    **dict.fromkeys("‘’‚′`´", "'"),
    **{"×": "x", "✕": "x", "✖": "x", "⁄": "/", "ı": "i"},
}
_MOST_CHARACTERS = 1500
"""A longer statement is cut: no sentence is, and every later step may then compare its parts pairwise."""
_ABBREVIATIONS = frozenset(
    (
        *("min", "max", "incl", "inkl", "excl", "exkl", "approx", "ca", "mind", "zzgl", "bzw", "no", "nr", "vs", "e.g"),
        *("i.e", "eg", "ie", "resp", "env", "ex", "p", "z.b", "d.h", "u.a", "evtl", "ggf", "z", "b", "d", "h", "w"),
        *("f", "einschl", "maxi", "mini", "px", "pag", "sog", "usw", "etc", "s", "u", "vgl"),
    )
)
_SHORT_PART = 40
_LONGEST_ROW = 240
"""Characters of a row without headers that is one statement; a longer one is prose with a wide gap in it."""
_LABEL = re.compile(r"[^:.;|]{2,60}:(?=\s|$)")
_DEFINED = re.compile(
    r"(?:an? |the )?(?:\w+ ){0,2}?(?:bleeds?|margins?|zones?|areas?|marks) (?:is|are|means|refers)\b(?! \W{0,2}[0-9])"
    r"|(?:(?:der|die|das|ein|eine|le|la|les|un|une) )?(?:\w*(?:be|an)schnitt(?:zugabe)?|sicherheits(?:abstand|rand|zone|bereich)"
    r"|schutzrand|fonds? perdus?|debord|marge(?: de securite| tournante)?|zone (?:de securite|tranquille))(?: \([^()]{2,60}\))?"
    r" (?:ist|sind|bezeichnet|bedeutet|hei(?:ss|ß)t|est|sont|designe|represente)\b(?! \W{0,2}[0-9])"
    r"|[^0-9.,:;]{0,60}\b(?:add|include|allow|need|require)\w* (?:\w+ ){0,2}bleeds?\.?$"
)
"""'The safety margin is the space inside the cut. It should be 4 mm.' is of that margin throughout."""
_LEADERS = re.compile(r"\*\*|\.{3,}|(?<= )\.(?: \.)+(?= )|…{2,}|_{3,}")
_PARTED = re.compile(
    r"(?<=[^\W\d_]{2})(?<!full)(?<!high)(?<!low)(?<!pre)(?<!non)(?<!single)(?<!double)(?<!four)(?<!two)(?<!die)(?<!kiss)(?<!cut)"
    r"(?<!sans)(?<!print)(?<!right)(?<!left)(?<!au)(?<!\bA)-(?P<gap>[ \t]*\n[ \t]*)(?P<rest>(?!(?:und|oder|bzw|sowie|et|ou|and"
    r"|or)\b)[a-zà-öø-ÿß]{2,})"
)
"""A word that a line's end parts: its rest goes up to its beginning, so that every other place stays."""
_NO_EXCEPTION = re.compile(r"[(,]? ?\b(?:without exceptions?|no exceptions?)\b[),]?")
"""It adds nothing to a demand, and its 'no' denies none."""
_SENTENCE_END = re.compile(r"[.!?;](?=[\s)\"]|$)|[.!?](?=[A-Z][a-z]|- )|[ \t][•·▪‣●■][ \t]")
_AN_ORDINAL = re.compile(
    r"\b(?:als|der|die|das|den|dem|des|am|im|vom|zum|zur|eine?[nmrs]?|jede[rnsm]?|pro|ab der|mit|weitere|zusatzliche"
    r"|separate) [0-9]{1,2}$"
)
_LAST_WORD = re.compile(r"[\w.]{1,12}$")
_OPEN_QUESTION = re.compile(
    r"(?:do (?:you|i|we)|(?:is|ist|est|sind|are) [^?]{0,60}\b(?:enough|ok|okay|sufficient|genug|ausreichend|suffisant)|does|can"
    r"|may|should|must|shall|what|how|which|why|when|where|who|will|darf|kann|muss|brauch\w*|soll\w*|was|wie|welche\w*|warum"
    r"|nehmen sie|puis|peut|peux|faut|dois|doit|quel\w*|est-ce qu\w*|comment|pourquoi|acceptez)\b"
)
_A_SENTENCE = 5  # words of a line over a list that only leads it: 'There are some exceptions, canvas and banners:'
_PLAIN_HEADING = 9
"""The level of a heading that only its place makes one: it ends at the next."""


@dataclass(frozen=True)
class Statement:
    text: str
    """Folded, as long as the words it stands for."""
    start: int
    """Place of its first character in the whole text."""
    label: str = ""
    """Folded: the headers of its row and column."""
    above: tuple[str, ...] = ()
    """Folded: the headings that it stands under, the outermost first."""
    lead: str = ""
    """Folded: the line over its list that ends in a colon."""
    opening: str = ""
    """Folded: the label at the head of its paragraph ('Safety line: …'), for the sentences after it."""
    row: str = ""
    """Folded: the first cell of its row, where its column has a header."""
    block: int = 0
    """Number of its paragraph, list item, heading or table."""
    is_heading: bool = False

    @property
    def heading(self) -> str:
        """The nearest heading above it."""
        return self.above[-1] if self.above else ""

    @property
    def is_a_question(self) -> bool:
        """'Do you need crop marks?' demands nothing; 'Are all fonts embedded?' of a checklist does."""
        return self.text.endswith("?") and _OPEN_QUESTION.match(self.text) is not None

    @property
    def end(self) -> int:
        return self.start + len(self.text)


def folded(text: str) -> str:
    return "".join(map(_folded_character, text))


@lru_cache(maxsize=4096)  # there are more than a million characters
def _folded_character(character: str) -> str:
    if character.isspace() or character == "\ufeff":
        return " "
    plain = _SAME.get(character) or unicodedata.normalize("NFD", character)[0].lower()
    return plain if len(plain) == 1 else character


def statements_of(text: str) -> list[Statement]:
    """In the order of the text."""
    text = _LEADERS.sub(lambda dots: " " * len(dots.group()), text)
    text = _PARTED.sub(lambda word: f"{word['rest']}{word['gap']}".ljust(len(word.group())), text)
    return [one for one in _Parting(text).statements() if one.text.strip()]


class _Parting:
    """Line by line: what was read of the open paragraph or table, and the headings over it."""

    def __init__(self, text: str) -> None:
        self._text, self._low = text, _NO_EXCEPTION.sub(lambda one: " " * len(one.group()), folded(text))
        self._headings: list[tuple[int, str]] = []
        self._lead = ""
        self._table: list[Line] = []
        self._paragraph: list[Line] = []
        self._block = 0
        self._in_list = False
        self._last: Line | None = None
        """The heading that was the last line."""

    def _after_heading(self, line: Line) -> bool:
        """'File formats:' over 'PDF/X-4', which is its value and no heading."""
        if self._last is None:
            return False
        return not line.after_gap or self._low[self._last.start : self._last.end].endswith(":")

    def statements(self) -> Iterator[Statement]:
        text, low = self._text, self._low
        lines = lines_of(text)
        for index, line in enumerate(lines):
            following = lines[index + 1] if index + 1 < len(lines) else None
            if not line.level and is_row(text, line):
                if line.after_gap or self._paragraph:
                    yield from self._closed()
                self._table.append(line)
                self._last = None
                continue
            if self._table or not (self._paragraph and goes_on(text, self._paragraph[-1], line)):
                yield from self._closed()
            if not self._paragraph and is_heading(text, low, line, following, after_heading=self._after_heading(line)):
                yield self._opened(line)
                self._last = line
            else:
                self._last = None
                if not self._paragraph:
                    self._end_the_list(line)
                if following and following.bullet and low[line.end - 1] == ":" and not line.bullet:
                    self._lead = low[line.start : line.end].rsplit(". ", 1)[-1]
                    self._in_list = False
                self._paragraph.append(line)
        yield from self._closed()

    def _end_the_list(self, line: Line) -> None:
        """What leads a list leads it no further than its last item."""
        if line.bullet:
            self._in_list = True
        elif self._in_list:
            self._in_list = False
            said_at_length = bool(self._headings) and len(self._headings[-1][1].split()) >= _A_SENTENCE
            plain = bool(self._headings) and self._headings[-1][0] == _PLAIN_HEADING
            if self._lead and plain and (said_at_length or not line.after_gap):
                self._headings.pop()
            self._lead = ""
        elif line.after_gap and self._text.rfind("\n", 0, line.start) > 0:
            self._lead = self._lead if self._last is not None else ""

    def _opened(self, line: Line) -> Statement:
        words = self._low[line.start : line.end]
        level = line.level or _PLAIN_HEADING
        while self._headings and self._headings[-1][0] >= level:
            self._headings.pop()
        above = self._above()
        self._headings.append((level, words.strip(" :#*")))
        self._lead = words if words.endswith(":") else ""
        self._in_list = False
        self._block += 1
        return Statement(words, line.start, above=above, block=self._block, is_heading=True)

    def _closed(self) -> list[Statement]:
        self._block += 1
        found: list[Statement] = []
        if self._table:
            found = list(_of_table(self._text, self._low, self._table))
        elif self._paragraph:
            said = _sentences(self._text, self._low, self._paragraph[0].start, self._paragraph[-1].end)
            found = [item for one in said for item in _items(one)]
        self._table, self._paragraph = [], []
        above = self._above()
        opening = ""
        placed: list[Statement] = []
        for one in found:
            label = _LABEL.match(one.text) or _DEFINED.match(one.text)
            lead = one.lead or self._lead
            placed.append(replace(one, above=above, lead=lead, block=self._block, opening="" if label else opening))
            opening = label.group() if label else opening
        return placed

    def _above(self) -> tuple[str, ...]:
        return tuple(words for _, words in self._headings)


def _sentences(text: str, low: str, start: int, end: int) -> Iterator[Statement]:
    """The parts of text[start:end] at sentence ends; '3.5', 'min. 3 mm' and 'e.g. this' end none."""
    first = start
    for stop in _SENTENCE_END.finditer(text, start, end):
        if text[stop.start()] == ".":
            word = _LAST_WORD.search(low, max(first, stop.start() - 12), stop.start())
            rest = text[stop.end() : stop.end() + 3].strip()
            if (word and word.group().strip(".") in _ABBREVIATIONS) or (rest and (rest[0].islower() or rest[0] in "=<>≥≤")):
                continue
            if word and word.group().isdigit() and _AN_ORDINAL.search(low, max(first, stop.start() - 24), stop.start()):
                continue  # 'als 5. Farbe'
            if word and (rest[:1] == "(" and word.group() == "in"):
                continue  # '1/4 in. (6 mm)'
        if text[stop.start()] == ";" and (
            end - stop.end() < _SHORT_PART or not text[stop.end() : stop.end() + 2].strip()[:1].isupper()
        ):
            continue  # 'positive: 6 pt; Negative: 8 pt'
        yield from _cut(low, first, stop.end())
        first = stop.end()
    yield from _cut(low, first, end)


def _items(one: Statement) -> Iterator[Statement]:
    """'3 mm bleed, CMYK only, fonts embedded, no crop marks': demands that stand for themselves. What narrows one narrows all."""
    narrowed = _NARROWS.search(one.text) or products_in(one.text)
    for separator, least in () if narrowed else _SEPARATORS:
        ends = [(0, 0), *(found.span() for found in separator.finditer(one.text)), (len(one.text), len(one.text))]
        parts = [(first, last) for (_, first), (last, _) in pairwise(ends)]
        if least <= len(parts) <= _MOST_ITEMS and all(_is_complete(one.text[first:last]) for first, last in parts):
            label = _LABEL.match(one.text)
            lead = label.group() if label and not _OF_FILES.search(label.group()) else ""
            for first, last in parts:
                yield Statement(one.text[first:last], one.start + first, lead=lead if first else "")
            return
    yield one


def _is_complete(words: str) -> bool:
    return len(words) <= _LONGEST_ITEM and _OF_FILES.search(words) is not None and _SAYS_HOW.search(words) is not None


_SEPARATORS = ((re.compile(r";\s+"), 3), (re.compile(r"\s[/+]\s"), 3), (re.compile(r",\s(?:and\s)?"), 4))
"""Between items, and how many items there have to be."""
_NARROWS = re.compile(r"\b(?:for|if|when|where|unless|except|on|fur|bei|wenn|falls|ausser|pour|si|sauf)\b")
_LONGEST_ITEM, _MOST_ITEMS = 60, 16
_OF_FILES = re.compile(
    r"bleed|text|type|font|image|picture|photo|[dp]pi\b|cmyk|rgb|colou?r|pantone|spot|marks|margin|safe|edge|trim|\bink|\btac\b"
    r"|line|page|spread|pdf|password|security|transparen|layer|[0-9] ?mb\b"
)
_SAYS_HOW = re.compile(
    r"[0-9]|\b(?:embedded|outlined|outlines|converted|flattened|included|only|no|not|without|cmyk|single|pdf)\b"
)


def _cut(low: str, start: int, end: int) -> Iterator[Statement]:
    while start < end and low[start] == " ":
        start += 1
    for first in range(start, end, _MOST_CHARACTERS):
        yield Statement(low[first : min(end, first + _MOST_CHARACTERS)], first)


def _of_table(text: str, low: str, rows: list[Line]) -> Iterator[Statement]:
    """Whole rows, or single cells with their headers where the first row is a header of three columns or more."""
    cells = [cells_of(text, row) for row in rows]
    widest = len(cells[0])
    header = widest >= 3 and len(rows) > 1 and not any(AMOUNT_SEEN.search(low, *cell) for cell in cells[0])
    titles = [low[slice(*cell)] for cell in cells[0]]
    for row in cells[1:] if header else cells:
        if not header or len(row) > widest:
            if row[-1][1] - row[0][0] > _LONGEST_ROW:
                yield from _sentences(text, low, row[0][0], row[-1][1])
            else:
                yield from _cut(low, row[0][0], row[-1][1])
            continue
        for column, cell in enumerate(row):
            first = low[slice(*row[0])]
            label = f"{first} / {titles[column]}" if column else titles[0]
            yield from (replace(one, label=label, row=first if column else "") for one in _cut(low, *cell))
