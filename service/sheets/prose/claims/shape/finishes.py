"""Finishes by the names of the spot inks that stand for them: cut lines, creases, white, varnish."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from service.sheets.prose.claims.claim import Claim
from service.sheets.prose.words.qualifiers import stance_on
from service.sheets.prose.words.statements import Statement

_KINDS: tuple[tuple[str, re.Pattern[str]], ...] = (
    ("perforation", re.compile(r"\bperforat\w*|\bperforier\w*|\bperfo\b")),
    (
        "crease",
        re.compile(r"\bcreas\w*|\bscor(?:e|es|ing)\b|\brill\w*|\bnut(?:en|ung|linie\w*|kontur)?\b|\brain(?:age|ures?|ee)\b"),
    ),
    ("embossing", re.compile(r"\bemboss\w*|\bdeboss\w*|\bblindprag\w*|\bpragung\w*|\bgaufr\w*|\bembossage\b")),
    ("foil", re.compile(r"\bfoil\w*|\bhot stamp\w*|\b(?:hei(?:ss|ß))?folien?(?:prag\w*)?\b|\bdorure\b|\bmarquage a chaud\b")),
    (
        "varnish",
        re.compile(
            r"\bvarnish\w*|\bspot uv\b|\buv[- ]?(?:lack|varnish)\w*|\bpartielle\w* lack\w*|\bspotlack\w*|\black(?:ierung"
            r"|form)?\w*|\bvernis\b"
        ),
    ),
    (
        "white",
        re.compile(
            r"\bwhite (?:ink|underprint|base|layer|plate|printing)\b|\bunderprint\w*|\bwei(?:ss|ß)(?:druck|unterdruck\w*"
            r"|farbe|form)\b|\bdeckwei(?:ss|ß)\b|\bblanc (?:de soutien|couvrant)\b|\bencre blanche\b"
        ),
    ),
    ("hole", re.compile(r"\bdrill\w*|\bhole punch\w*|\bpunch holes?\b|\blochung\b|\bbohrung\b|\bperforage\b|\btrous? de\b")),
    (
        "cut",
        re.compile(
            r"\bdie[- ]?(?:lines?|cuts?|cutting|drawing)?\b(?! (?:die|schrift|datei|farbe))|\bkiss[- ]?cut\w*"
            r"|\bcut[- ]?(?:contour|lines?|paths?|ters?)\b|\bcontour cut\w*|\bcutting (?:lines?|forme?|contour)\b|\bstanz\w*"
            r"|\bkonturschnitt\w*|\bschneidkontur\w*|\bcontour de decoupe\b|\bforme de decoupe\b|\btrac\w* de decoupe\b"
            r"|\bligne de decoupe\b|\bla decoupe\b"
        ),
    ),
)
_GERMAN_ARTICLE = re.compile(r"\bdie\b")
_SPOT = re.compile(
    r"\bspot\b|\bsonderfarb\w*|\bschmuckfarb\w*|\bvollton\w*|\btons? directs?\b|\bcouleur (?:speciale|d'accompagnement)\b"
    r"|\b(?:extra|eigen\w*|separate\w*|zusatzlich\w*) (?:farb)?kanal\b|\bswatch\w*|\bfarbfeld\w*|\b[5-9]\. (?:\w+ )?(?:farbe"
    r"|separation)\b|\b(?:5|cinqui)e(?:me)? couleur\b|\bfifth colou?r\b|\bnuancier\b"
)
_OPENS, _CLOSES = "\"“”„»«'‘’‚", "\"“”«»'’‘"
_QUOTED = re.compile(rf"(?<![\w])[{_OPENS}] ?(?P<name>[A-Za-z][^{_OPENS}\n]{{1,38}}?) ?[{_CLOSES}](?!\w)")
_NAMED = re.compile(
    r"\b(?i:called|named?|namens|mit (?:dem )?namen|benannt|bezeichnet als|nomm[ée]e?s?|appel[ée]e?s?|intitul[ée]e?s?)(?: as"
    r"| als)?:? (?P<name>[A-Z][\w-]{2,30}(?: [A-Z][\w-]{1,20})?)"
)
_OVERPRINT = re.compile(r"\boverprint\w*|\buberdruck\w*|\bsurimpression\b|\bsurimprim\w*")
_VECTOR = re.compile(r"\bvectors?\b|\bvektor\w*|\bvectoriel\w*|\bpaths?\b|\bpfade?\b|\btraces? vectoriels?\b")
_ALWAYS = re.compile(
    r"\b(?:on|in) (?:every|each) (?:file|pdf)\b|\bstays in the file\b|\bin jeder (?:datei|pdf)\b"
    r"|\bdans chaque (?:fichier|pdf)\b"
)
_LEAST_LETTERS = 2


def read_finishes(statement: Statement, words: str) -> Iterator[Claim]:
    """`words`: the sentence as it was written. A name is taken where one sentence says it, its finish, and that it is a spot."""
    text = statement.text
    if statement.is_heading or _SPOT.search(text) is None:
        return
    kinds = [kind for kind, pattern in _KINDS if _kind_in(kind, pattern, text)]
    names = list({one["name"].strip(): one for pattern in (_QUOTED, _NAMED) for one in pattern.finditer(words)}.items())
    if not names or not kinds or len(names) > 4:
        return
    if len(names) > 1 and not re.search(r"\b(?:or|oder|ou)\b", text[names[0][1].start() : names[-1][1].end()]):
        yield from _each_its_own(statement, names)
        return
    if len(kinds) != 1 or stance_on(text, *names[0][1].span("name")) == "denied":
        return
    yield from _entry(statement, names, kinds[0], text)


_GOES_BACK = re.compile(r"(?:this|these|it|diese[rs]?|sie|cette|ce|elle|celle-ci)\b")


def overprinted(statement: Statement, entries: Sequence[str]) -> Iterator[Claim]:
    """As 'This ink must overprint.' after the sentence that names it; `entries`: what that sentence claims of finishes."""
    text = statement.text
    over = _OVERPRINT.search(text)
    names = {entry.split(".")[1] for entry in entries}
    if over and len(names) == 1 and _GOES_BACK.match(text) and stance_on(text, *over.span()) == "claimed":
        place = (statement.start + over.start(), statement.start + over.end())
        yield Claim(f"finishes.{names.pop()}.must_overprint", True, *place)


def _each_its_own(statement: Statement, names: list[tuple[str, re.Match[str]]]) -> Iterator[Claim]:
    """'The cut as spot colour "Cut", the crease as "Fold"': each name goes with the words since the last one."""
    last = 0
    for name, match in names:
        stretch = statement.text[last : match.end()]
        last = match.end()
        kinds = [kind for kind, pattern in _KINDS if _kind_in(kind, pattern, stretch)]
        if len(kinds) == 1:
            yield from _entry(statement, [(name, match)], kinds[0], statement.text)


def _kind_in(kind: str, pattern: re.Pattern[str], text: str) -> bool:
    """The German article is no die."""
    return any(
        kind != "cut" or not _GERMAN_ARTICLE.fullmatch(one.group().strip()) or re.search(r"\b(?:the|a|each) die\b", text)
        for one in pattern.finditer(text)
    )


def _entry(statement: Statement, names: list[tuple[str, re.Match[str]]], kind: str, text: str) -> Iterator[Claim]:
    (ink, first), *others = names
    entry = re.sub(r"[^a-z0-9]+", "-", ink.lower()).strip("-")
    if len(entry) < _LEAST_LETTERS:
        return
    place = (statement.start + first.start("name"), statement.start + first.end("name"))
    yield Claim(f"finishes.{entry}.ink", ink, *place)
    yield Claim(f"finishes.{entry}.kind", kind, *place)
    if others:
        last = others[-1][1].end("name")
        yield Claim(f"finishes.{entry}.also", [name for name, _ in others], place[0], statement.start + last)
    over = _OVERPRINT.search(text)
    if over and stance_on(text, *over.span()) == "claimed":
        yield Claim(f"finishes.{entry}.must_overprint", True, statement.start + over.start(), statement.start + over.end())
    vector = _VECTOR.search(text)
    if vector and stance_on(text, *vector.span()) == "claimed":
        yield Claim(f"finishes.{entry}.artwork", "vector", statement.start + vector.start(), statement.start + vector.end())
    if always := _ALWAYS.search(text):
        yield Claim(f"finishes.{entry}.required", True, statement.start + always.start(), statement.start + always.end())
