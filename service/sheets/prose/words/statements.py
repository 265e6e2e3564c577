"""A published text as statements: one sentence, list item or table cell each, with the heading that it stands under.

* Folding keeps the length: a place in the folded text is the same place in the text. Letters become lowercase and lose their
  accents, dashes, quotation marks and the multiplication sign become one kind each.
* Lines that were wrapped are joined; list items, 'Label: value' lines and table rows stay apart.
* A cell of a table with a header row carries its column's header and its row's first cell as its label.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import lru_cache

_SAME = {
    **dict.fromkeys("‐‑‒–—―−", "-"),
    **dict.fromkeys("“”„″‟«»", '"'),
    **dict.fromkeys("‘’‚′`´", "'"),
    **{"×": "x", "✕": "x", "✖": "x", "⁄": "/", "ı": "i"},
}
_MOST_CHARACTERS = 1500
"""A longer statement is cut: no sentence is, and every later step may then compare its parts pairwise."""
_WIDE = 52
"""A line this long that does not end a sentence was wrapped."""
_SHORT = 40
"""A heading that only stands above its text is no longer than this."""
_UNFINISHED = re.compile(
    r"\b(?:than|of|at|a|an|the|least|to|and|or|with|is|are|be|by|from|for|in|on|must|should|not|than|within|mindestens"
    r"|von|mit"
    r"|und|oder|der|die|das|den|dem|als|de|du|des|la|le|les|et|ou|avec|un|une|moins|to be|your)$"
)
_ABBREVIATIONS = frozenset(
    (
        *("min", "max", "incl", "inkl", "excl", "exkl", "approx", "ca", "mind", "zzgl", "bzw", "no", "nr", "vs", "e.g"),
        *("i.e", "eg", "ie", "resp", "env", "ex", "p", "z.b", "d.h", "u.a", "evtl", "ggf", "z", "b", "d", "h", "w"),
        *("f", "einschl", "maxi", "mini", "px", "pag"),
    )
)

_BULLET = re.compile(
    r"[ \t]*(?:[-*•·–—▪◦‣✓✔►>+]|[0-9]{1,2}[.)](?![0-9])|[0-9]{1,2}(?:\.[0-9]{1,2}){1,2}[.)]?(?=[ \t]+[A-Z][a-z])"
    r"|[a-zA-Z]\)|\([0-9a-zA-Z]{1,2}\))[ \t]+|[ \t]*#{1,6}[ \t]+"
)
_LABEL_LINE = re.compile(r"[^:.|\t]{2,45}:(?:\s|$)")
_LEADERS = re.compile(r"\.{3,}|…+|_{3,}")
_BAR = re.compile(r"\|")
_WIDE_GAP = re.compile(r"\t+| {3,}")
_RULED = re.compile(r"[\s|:+=-]+")
_SENTENCE_END = re.compile(r"[.!?;](?=[\s)]|$)|[ \t][•·▪‣][ \t]")
_LAST_WORD = re.compile(r"[\w.]{1,12}$")
_AMOUNT_SEEN = re.compile(r"[0-9]\s?(?:mm|cm|in|inch|\"|pt|dpi|ppi|%|mb|gb|mo|x)\b|[0-9]\s?[%\"]")
_OPEN_QUESTION = re.compile(
    r"(?:do (?:you|i|we)|does|can|may|should|must|shall|what|how|which|why|when|where|who|will|darf|kann|muss"
    r"|brauch\w*|soll\w*|was|wie|welche\w*|warum"
    r"|nehmen sie|puis|peut|peux|faut|dois|doit|quel\w*|comment|pourquoi|acceptez)\b"
)


@dataclass(frozen=True)
class Statement:
    text: str
    """Folded, as long as the words it stands for."""
    start: int
    """Place of its first character in the whole text."""
    label: str = ""
    """Folded: the headers of its row and column."""
    heading: str = ""
    """Folded: the nearest heading above it."""

    @property
    def is_a_question(self) -> bool:
        """'Do you need crop marks?' demands nothing; 'Are all fonts embedded?' of a checklist does."""
        return self.text.endswith("?") and _OPEN_QUESTION.match(self.text) is not None

    @property
    def end(self) -> int:
        return self.start + len(self.text)


@dataclass(frozen=True)
class _Line:
    start: int
    end: int
    """Without bullet, indent and line break."""
    bullet: bool
    after_gap: bool
    """Whether an empty line stands before it."""


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
    low = folded(text)
    found: list[Statement] = []
    heading = ""
    table: list[_Line] = []
    paragraph: list[_Line] = []

    def close() -> None:
        if table:
            found.extend(replace(one, heading=heading) for one in _of_table(text, low, table))
        elif paragraph:
            found.extend(replace(one, heading=heading) for one in _sentences(text, low, paragraph[0].start, paragraph[-1].end))
        table.clear()
        paragraph.clear()

    lines = list(_lines(text))
    for index, line in enumerate(lines):
        following = lines[index + 1] if index + 1 < len(lines) else None
        if _is_row(text, line):
            if line.after_gap or paragraph:
                close()
            table.append(line)
            continue
        if table or not (paragraph and _goes_on(text, paragraph[-1], line)):
            close()
        if not paragraph and _is_heading(text, low, line, following):
            heading = low[line.start : line.end].strip(" :#*")
            found.append(Statement(low[line.start : line.end], line.start))
        else:
            paragraph.append(line)
    close()
    return [one for one in found if one.text.strip()]


def _lines(text: str) -> Iterator[_Line]:
    start, gap = 0, True
    for raw in text.splitlines(keepends=True):
        body = raw.rstrip()
        if not body:
            gap = True
        elif not _RULED.fullmatch(body):
            bullet = _BULLET.match(body)
            first = bullet.end() if bullet else len(body) - len(body.lstrip())
            if first < len(body):
                yield _Line(start + first, start + len(body), bullet is not None, gap)
                gap = False
        start += len(raw)


def _is_row(text: str, line: _Line) -> bool:
    body = text[line.start : line.end].strip(" |\t")
    return _BAR.search(body) is not None or _WIDE_GAP.search(body) is not None


def _goes_on(text: str, last: _Line, line: _Line) -> bool:
    """Whether the line goes on with the sentence of the last one."""
    if line.bullet or line.after_gap:
        return False
    before, now = text[last.start : last.end], text[line.start : line.end]
    if before.endswith((".", "!", "?", ";")):
        return len(before) >= _WIDE and not _LABEL_LINE.match(now)
    if now[0].islower() or now[0] in "(&" or before.endswith((",", "-", "–", "(", "&")):
        return not before.endswith(":")
    if _UNFINISHED.search(before.lower()):
        return True
    return len(before) >= _WIDE and not _LABEL_LINE.match(now) and not _LABEL_LINE.match(before)


def _is_heading(text: str, low: str, line: _Line, following: _Line | None) -> bool:
    body = low[line.start : line.end]
    if following is None or len(body) > 70 or body.endswith((".", ";", ",", "!")) or _AMOUNT_SEEN.search(body):
        return False
    if text[line.start - 2 : line.start].strip().startswith("#"):
        return True
    if body.endswith((":", "?")):
        return True
    if line.bullet or _LABEL_LINE.match(body):
        return False
    if text[line.start : line.end].isupper() or following.bullet or following.after_gap:
        return True
    return line.after_gap and len(body) <= _SHORT and not _UNFINISHED.search(body) and not text[following.start].islower()


def _sentences(text: str, low: str, start: int, end: int) -> Iterator[Statement]:
    """The parts of text[start:end] at sentence ends; '3.5', 'min. 3 mm' and 'e.g. this' end none."""
    first = start
    for stop in _SENTENCE_END.finditer(low, start, end):
        if text[stop.start()] == ".":
            word = _LAST_WORD.search(low, max(first, stop.start() - 12), stop.start())
            rest = text[stop.end() : stop.end() + 3].strip()
            if (word and word.group().strip(".") in _ABBREVIATIONS) or (rest and rest[0].islower()):
                continue
        if text[stop.start()] == ";" and not text[stop.end() : stop.end() + 2].strip()[:1].isupper():
            continue
        yield from _cut(low, first, stop.end())
        first = stop.end()
    yield from _cut(low, first, end)


def _cut(low: str, start: int, end: int) -> Iterator[Statement]:
    while start < end and low[start] == " ":
        start += 1
    for first in range(start, end, _MOST_CHARACTERS):
        yield Statement(low[first : min(end, first + _MOST_CHARACTERS)], first)


# --- Tables -----------------------------------------------------------------------------------------------------------


def _of_table(text: str, low: str, rows: list[_Line]) -> Iterator[Statement]:
    """Whole rows, or single cells with their headers where the first row is a header of three columns or more."""
    cells = [_cells(text, row) for row in rows]
    widest = len(cells[0])
    header = widest >= 3 and len(rows) > 1 and not any(_AMOUNT_SEEN.search(low, *cell) for cell in cells[0])
    titles = [low[slice(*cell)] for cell in cells[0]]
    for row in cells[1:] if header else cells:
        if not header or len(row) > widest:
            yield from _cut(low, row[0][0], row[-1][1])
            continue
        for column, cell in enumerate(row):
            label = f"{low[slice(*row[0])]} / {titles[column]}" if column else titles[0]
            yield from (replace(one, label=label) for one in _cut(low, *cell))


def _cells(text: str, line: _Line) -> list[tuple[int, int]]:
    """Places of the cells of a row: between bars where it has them, else between tabs or wide gaps."""
    start, end = line.start, line.end
    start += text[start] == "|"
    end -= text[end - 1] == "|" and end - 1 > start
    edges = list(_BAR.finditer(text, start, end)) or list(_WIDE_GAP.finditer(text, start, end))
    firsts = [start, *(edge.end() for edge in edges)]
    lasts = [*(edge.start() for edge in edges), end]
    return [_trimmed(text, first, last) for first, last in zip(firsts, lasts, strict=True)]


def _trimmed(text: str, start: int, end: int) -> tuple[int, int]:
    body = text[start:end]
    if not body.strip():
        return end, end
    return start + len(body) - len(body.lstrip()), end - len(body) + len(body.rstrip())
