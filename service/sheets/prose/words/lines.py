"""The lines of a published text: bullets and indents off, headings known, wrapped lines told from others, cells cut."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import groupby

_WIDE = 52
"""A line this long that does not end a sentence was wrapped."""
_FULL = 0.8
"""A line that was wrapped reaches so far towards the widest of its run."""
_WIDEST = 160
_NARROW = 110
"""A run of lines no wider than this may be wrapped, whatever the rest of the text is."""
_A_PARAGRAPH = 180
"""Characters of a line that no program wrapped."""
_SHORT = 40
"""A heading that only stands above its text is no longer than this."""
_LONGEST_HEADING = 70
_LONGEST_LEAD = 160
"""'Please make sure that none of the following is in your file:' over a list."""
_A_MEASURE = re.compile(
    r"[^\W\d][^.;:!?,0-9]{1,30}:? ?[0-9][0-9,.]* ?(?:mm|cm|pt|dpi|ppi|%)(?: ?[0-9][0-9,.-]* ?(?:mm|cm|pt|dpi|ppi|%))?"
)
_AN_EDGE = re.compile(
    r"(?i)(?:oben|unten|innen|au(?:ss|ß)en|links|rechts|kopf|fu(?:ss|ß)|bund|haut|bas|gauche|droite|int[ée]rieure?|ext[ée]rieure?"
    r"|t[êe]te|pied"
    r"|top|bottom|left|right|inside|outside|head|foot)\s?:?\s?[0-9]"
)
_ENDS_A_LINE = re.compile(r"(?:[0-9] ?(?:mm|cm|pt|dpi|ppi|%|MB|GB|Punkt)|\))$")
"""An amount or a bracket ends a line that is not full; a capital begins the next."""
_UNFINISHED = re.compile(
    r"\b(?:than|of|at|a|an|the|least|to|and|or|with|is|are|be|by|from|for|in|on|must|should|not|than|within|mindestens"
    r"|von|mit|und|oder|der|die|das|den|dem|als|de|du|des|la|le|les|et|ou|avec|un|une|moins|to be|your|no|not|least|kein\w*"
    r"|pas|mindestens|minimum of|maximum of|this|these|zu|zur|zum|im|in|au|aux|par|sur|dans|pour|sans|ohne|without)$"
)
_BULLET = re.compile(
    r"[ \t]*(?:[\ufffd\uf0b7\uf0a7] ?)?(?:[-*•·–—▪◦‣✓✔►>+●○■□▶➤➢❖◆◇→»§☑✅☐\ufffd\uf0b7\uf0a7\uf0d8\uf0fc]|o(?=[ \t]+[A-Z])"
    r"|[0-9]{1,2}[.):](?![0-9])"
    r"|[0-9]{1,2}(?:\.[0-9]{1,2}){1,2}[.)]?(?=[ \t]+[A-Z][a-z])"
    r"|[a-zA-Z]\)|\([0-9a-zA-Z]{1,2}\))[ \t]+|[ \t]*#{1,6}[ \t]+"
)
_MARKED = re.compile(r"(#{1,6})[ \t]+$")
_LABEL_LINE = re.compile(r"[^:.|\t]{2,45}:(?:\s|$)")
_STARTS = re.compile(
    r"(?:The|This|These|If|When|Please|We|Our|You|Your|All|Any|Do|Make|Keep|Use|No|For|Wenn|Bitte|Die|Der|Das|Ihre?|Wir|Legen"
    r"|Achten|Verwenden|Keine?|Alle|Bei|Für"
    r"|Le|La|Les|Vos|Votre|Nous|Si|Pour|Merci|Veuillez|Tous|Toutes|Ne|Utilisez)\b"
)
"""What stands with a capital at the head of a sentence and nowhere else."""
_LISTED = re.compile(
    r"(?:kein\w*|no|all[e]?|only|nur|pas de|aucun\w*|toutes?|tous|min|max|minimum|maximum|mindestens|cmyk|pdf|ohne|without|sans"
    r"|fonts?|text)\b"
)
"""What a demand of its own begins with where a list has no capitals."""
_DEMANDS = re.compile(
    r"\b(?:must|should|please|muss|mussen|soll\w*|bitte|doi(?:t|vent)|veuillez|einzubetten|anzulegen|only|nur)\b"
)
_REFUSES = re.compile(
    r"(?:kein\w*|no|pas de|pas d'|aucune?) (?!\w+$)(?=.*(?:mark|zeichen|schnitt|farb|ebene|transparen|rgb|cmyk|bleed|spot|layer"
    r"|repere|trait"
    r"|calque|fond|ton|rvb))"
)
"""'No crop marks, please' over an empty line is no heading."""
_BAR = re.compile(r"\|")
_WIDE_GAP = re.compile(r"\t+| {3,}")
_RULED = re.compile(r"[\s|:+=-]+")
AMOUNT_SEEN = re.compile(r"[0-9]\s?(?:mm|cm|in|inch|\"|pt|dpi|ppi|%|mb|gb|mo|x)\b|[0-9]\s?[%\"]")
_TOPIC = (
    r"(?:bleed(?:s|ing)?|trim|safety|safe|quiet|margins?|zones?|areas?|sizes?|dimensions?|formats?|colou?rs?|colou?r|spaces?"
    r"|modes?"
    r"|images?|pictures?"
    r"|photos?|resolution|fonts?|type|typefaces?|lines?|rules?|weights?|thickness|widths?|marks?|crop|printers?'?|files?"
    r"|standards?|versions?"
    r"|transparenc\w+|ink|coverage|limit|total|density|pages?|page count|spreads?|art|artwork|borders?|text"
    r"|(?:an|be)schnitt\w*|sicherheits\w*|abstand|rander|rand|farben?|farb\w*|sonderfarben?|schmuck\w*-?|bild\w*|auflosung"
    r"|schrift\w*|linien\w*|strich\w*"
    r"|marken|druckmarken|schnittmarken|datei\w*|daten\w*|endformat|format|seiten\w*|transparenzen?|tonwert\w*"
    r"|gesamtfarbauftrag"
    r"|schwarz"
    r"|fonds?|perdus?|marges?|securite|couleurs?|images?|resolution|polices?|traits?|filets?|reperes?|coupe|fichiers?|encrage"
    r"|taux|noir"
    r"|pdf|cmyk|rgb|dpi|schneidemarken|textes?|noirs?)"
)
_TOPIC_LINE = re.compile(
    rf"(?:[0-9.]+ )?(?:(?:minimum|minimal\w*|maximum|maximal\w*|min\.|max\.|the|final|finished|document|colou?r|general"
    rf"|your)\s)*{_TOPIC}"
    rf"(?:[ /&,-]+(?:and|und|et|of|de|des|du|d'|der|fur|for|in|a|en|the|la|le|les|{_TOPIC}))*(?: (?:du|de la|de votre|of the"
    rf"|of your) \w+)?(?: \([^()0-9]{{2,40}}\))?\s?:?"
)


_AN_ANSWER = re.compile(r"(?:all |must be )?(?:embedded|outlined)|none|no|yes|n/a|(?:not )?required|optional")
_A_VALUE = re.compile(r"colou?rs?(?: mode| space| model| format)? ?:? (?:cmyk|4c)\W*")
"""'Colour CMYK' of a list without colons."""


@dataclass(frozen=True)
class Line:
    start: int
    end: int
    """Without bullet, indent and line break."""
    bullet: bool
    after_gap: bool
    """Whether an empty line stands before it."""
    level: int
    """1 to 6 of a heading that the mark-up says, 0 otherwise."""
    widest: int = 0
    """Characters of the longest line between the same two empty lines."""
    wrapped: bool = True
    """Whether the text may have been wrapped at all: where a line holds a whole paragraph, line breaks part."""


def lines_of(text: str) -> list[Line]:
    found: list[Line] = []
    single = _without_double_spacing(text, list(_single_lines(text)))
    wrapped = sum(line.end - line.start > _A_PARAGRAPH for line in single) < 2
    for _, run in groupby(single, key=_Runs()):
        lines = list(run)
        widest = max(line.end - line.start for line in lines)
        found += [replace(line, widest=widest, wrapped=wrapped) for line in lines]
    return found


def _without_double_spacing(text: str, lines: list[Line]) -> list[Line]:
    """What a program took from a page with an empty line after each: there a small letter goes on with the line before."""
    small = [index for index, line in enumerate(lines) if index and line.after_gap and text[line.start].islower()]
    spaced = sum(line.after_gap for line in lines) >= _NEARLY_ALL * len(lines)
    if not spaced or len(small) < _OFTEN * len(lines) or len(lines) < _FEW_LINES:
        return lines
    for index in small:
        if not lines[index].bullet and text[lines[index - 1].end - 1] not in ".:;!?":
            lines[index] = replace(lines[index], after_gap=False)
    return lines


_NEARLY_ALL, _OFTEN, _FEW_LINES = 0.85, 0.3, 12


_A_LABEL_AT_ITS_END = re.compile(r"(?<=[\w.)])[ \t]+[-•·][ \t]+(?=[A-ZÀ-Ý][^ .,;:!?]{2,20}(?: [^ .,;:!?]{1,20}){0,2} ?:$)")
"""'… of your file - Margins:' over the lines that it leads."""


class _Runs:
    """The number of the run that a line stands in: a new one after each empty line."""

    def __init__(self) -> None:
        self._number = 0

    def __call__(self, line: Line) -> int:
        self._number += line.after_gap
        return self._number


def _single_lines(text: str) -> Iterator[Line]:
    start, gap = 0, True
    for raw in text.splitlines(keepends=True):
        body = raw.rstrip()
        body = body[:-2].rstrip() if body.endswith((" #", " ¶")) else body
        if not body:
            gap = True
        elif not _RULED.fullmatch(body):
            bullet = _BULLET.match(body)
            first = bullet.end() if bullet else len(body) - len(body.lstrip())
            if first < len(body):
                marked = _MARKED.search(bullet.group()) if bullet else None
                last = _A_LABEL_AT_ITS_END.search(body, first)
                end = last.start() if last else len(body)
                yield Line(start + first, start + end, bullet is not None, gap, len(marked[1]) if marked else 0)
                if last:
                    yield Line(start + last.end(), start + len(body), True, False, 0)
                gap = False
        start += len(raw)


def is_row(text: str, line: Line) -> bool:
    body = text[line.start : line.end].strip(" |\t")
    return _BAR.search(body) is not None or _WIDE_GAP.search(body) is not None


def goes_on(text: str, last: Line, line: Line) -> bool:
    """Whether the line goes on with the sentence of the last one."""
    if line.bullet or line.after_gap:
        return False
    before, now = text[last.start : last.end], text[line.start : line.end]
    if before.count("(") > before.count(")") and now.count(")") > now.count("("):
        return True
    full = len(before) + len(now.split(" ", 1)[0]) + 1 > _FULL * min(line.widest, _WIDEST)
    if before.endswith((".", "!", "?", ";")):
        return full and len(before) >= _WIDE and not _LABEL_LINE.match(now) and (len(now) > _SHORT or now.endswith("."))
    unfinished = _UNFINISHED.search(before.lower()) is not None
    if before[0].islower() and now[0].islower() and not last.bullet and not full and len(before) >= _WIDE and not unfinished:
        return False  # a list without capitals
    if now[0].islower() and _UNFINISHED.search(before.lower()) and not before.endswith(":"):
        return True
    if _LABEL_LINE.match(now) and not before.endswith((",", "(", "&")) and not full:
        return False
    if _LISTED.match(now) and not full and not before.endswith((",", "(", "&", "-")):
        return False
    if (_A_MEASURE.fullmatch(before) and _A_MEASURE.fullmatch(now)) or _AN_EDGE.match(now):
        return False  # 'top 10 mm', 'bottom 15 mm'
    if now[0].islower() or now[0] in "(&" or before.endswith((",", "-", "–", "(", "&")):
        return not before.endswith(":")
    if _UNFINISHED.search(before.lower()):
        return True
    if _STARTS.match(now):
        return False
    if not full and _ENDS_A_LINE.search(before):
        return False
    wrapped = last.wrapped or (full and last.widest <= _NARROW and not now[0].isupper())
    return wrapped and len(before) >= _WIDE and not _LABEL_LINE.match(now) and not _LABEL_LINE.match(before)


def is_heading(text: str, low: str, line: Line, following: Line | None, *, after_heading: bool) -> bool:
    """`after_heading`: whether the line before it is one."""
    if line.level:
        return True
    body = low[line.start : line.end]
    if following is None or body.endswith((".", ";", ",", "!")) or AMOUNT_SEEN.search(body) or _AN_ANSWER.fullmatch(body):
        return False
    if _DEMANDS.search(body) and not body.endswith((":", "?")):
        return False
    if _REFUSES.match(body) and not body.endswith((":", "?")):
        return False
    if re.search(r"[.!?] [a-z]", body):
        return False
    if _CAPITALS_AND_A_DASH.fullmatch(text[line.start : line.end]) and not text[following.start : following.end].isupper():
        return True
    if line.bullet and following.bullet and not following.after_gap and body.endswith("?"):
        return False  # 'Are all fonts embedded?' of a checklist
    if body.endswith((":", "?")):
        return len(body) <= _LONGEST_HEADING or (len(body) <= _LONGEST_LEAD and body.endswith(":") and following.bullet)
    if not (line.bullet or after_heading or _LABEL_LINE.match(body)) and _stands_between_sentences(text, line, following):
        return True
    if len(body) > _LONGEST_HEADING:
        return False
    topic = _TOPIC_LINE.fullmatch(body) is not None and not _A_VALUE.fullmatch(body)
    if topic and (not line.bullet or (following.after_gap and not following.bullet)):
        alone = body.strip(": ") in ("cmyk", "pdf", "rgb", "dpi", "noir", "schwarz")
        return (text[line.start].isupper() or text[line.start].isdigit()) and not (
            alone and following.end - following.start < _SHORT
        )
    if following.after_gap and not line.bullet and _is_title(text[line.start : line.end]):
        return True
    if line.bullet or _LABEL_LINE.match(body) or after_heading:
        return False
    if text[line.start : line.end].isupper() or following.bullet or following.after_gap:
        return True
    return line.after_gap and len(body) <= _SHORT and not _UNFINISHED.search(body) and not text[following.start].islower()


def _stands_between_sentences(text: str, line: Line, following: Line) -> bool:
    """'… on all sides.', 'Banners and Canvas', 'We ask that no bleed is added.' without empty lines."""
    body, after = text[line.start : line.end], text[following.start : following.end]
    before = text[: line.start].rstrip()
    ended = not before or before[-1] in ".!" or _BULLET.match(before, before.rfind("\n") + 1) is not None
    if len(body) > _LONGEST_TITLE or not body[0].isupper() or not ended:
        return False
    long = [word for word in re.findall(r"[^\W\d_]+", body) if len(word) > 3]
    capitals = sum(word[0].isupper() for word in long)
    return bool(long) and capitals == len(long) and after[0].isupper() and after.endswith((".", "!")) and len(after) > len(body)


_LONGEST_TITLE = 80
_CAPITALS_AND_A_DASH = re.compile(r"[A-ZÄÖÜÉÈ /&]{3,40}[–—-]")


def _is_title(words: str) -> bool:
    """'CMYK vs RGB: Why It Matters': nearly each word with a capital, as English titles have it."""
    long = [word for word in words.split() if len(word) > 3 and word[0].isalpha()]
    return len(words.split()) >= 4 and len(long) >= 2 and all(word[0].isupper() for word in long) and not words.isupper()


def cells_of(text: str, line: Line) -> list[tuple[int, int]]:
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
