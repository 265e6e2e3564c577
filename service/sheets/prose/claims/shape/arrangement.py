"""Whether pages stand alone or as reader spreads."""

from __future__ import annotations

import re
from collections.abc import Iterator

from service.sheets.prose.claims.claim import Claim
from service.sheets.prose.words.frames import asks, stance_of
from service.sheets.prose.words.statements import Statement

_SINGLE = re.compile(
    r"\bsingle[- ]pages\b|\bsingle-page\b|\bas (?:a )?single pages?\b|\bindividual pages?\b|\bone page[- ](?:at[- ]a[- ]time"
    r"|after)|\bpage by page\b|\bsingles\b|\bsingly\b|\bpages?\b[^.;,]{0,30}\b(?:supplied|arranged|set up|sent|saved"
    r"|exported|laid out) (?:individually|separately|one by one)\b|\bseparate pages\b|\bsingle[- ]page (?:set-?up|layout"
    r"|scroll\w*|view|format|file)\b|\b(?:layout|format|set-?up|pages?|imposition|arrangement)\s?[:|]\s?single page\b"
    r"|\beinzelseiten\w*|\beinzelseitig\w*|\b(?:als|je) einzelseite\b|(?<!die )(?<!der )\beinzelne\w* seiten\b"
    r"|\bals einzelseiten\b|\bpages? (?:simples?|seules?|individuelles?|separees?|isolees?)\b"
    r"|\bpage [aà] page\b|\bpage par page\b|\bpages? a l'unite\b|\bpages? une (?:a|par) une\b|\bpages? non imposees?\b"
    r"|\bfournies? (?:une (?:a|par) une|individuellement)\b|\bsingle sides\b|\bpages unitaires\b"
    r"|\bpages\b[^.;]{0,24}\bone after the other\b|\bone page (?:per|on each) (?:pdf )?page\b"
    r"|\bconsecutive (?:single )?pages\b|\bstacked pages\b|\bsingle-pages\b|\bseiten einzeln\b|\b(?:1"
    r"|one)-(?:printed-)?page per page\b"
)
_SPREAD = re.compile(
    r"\b(?:reader'?s?'?|facing[- ]pages?|double[- ]page)? ?spreads?\b|\bfacing pages?\b|\bdouble pages?\b"
    r"|\bdoppelseit\w*|\bdruckbogen\b|\bmontageflache\w*|\bplanches?\b|\bdoubles? pages?\b|\ben vis-a-vis\b"
    r"|\bpages en regard\b|\bpages doubles\b|\bside[- ]by[- ]side\b|\bnebeneinander\b|\bcote a cote\b"
)
_PRINTER_SPREAD = re.compile(r"\bprinter'?s?'? spreads?\b|\bimpos\w+|\bausgeschossen\w*")


_AS_SPREADS = re.compile(
    r"\breader'?s?'? spreads?\b|\b(?:as|in|als|en|als pdf mit|of)\s(?:reader'?s?'? |facing |double[- ]page "
    r"|two-page )*(?:spreads?|doppelseiten?|pages doubles|planches|doubles? pages?"
    r"|facing pages|vis-a-vis)\b|\b(?:arrangement|pages|seiten)\s?[:|]\s?(?:reader )?(?:spreads|doppelseiten)\b"
)
_OF_ADS = re.compile(
    r"\bspread (?:ads?|adverts?\w*)\b|\bads?\b|\banzeigen?\b|\bannonces?\b|\bacross\b|\bgutter\b|\bcentre\b|\bboth\b"
    r"|\bcross\w*\b|\btwo pages\b|\b(?:limit|avoid)\b"
)
_SPREAD_DENIED = re.compile(
    r"\b(?:not|no|never|avoid|kein\w*|nicht|pas|sans|aucun\w*|without|ne|ohne|statt|(?:instead|opposed) (?:of|to)|rather than"
    r"|jamais)\b[^.;]{0,40}$"
)


_BY_US = re.compile(r"\bboth\b|^\W*we (?:will |then )?(?:impose|show|print|display|arrange|make|turn|combine)\b")


def read_arrangement(statement: Statement) -> Iterator[Claim]:
    text = statement.text
    if statement.is_heading or _BY_US.search(text):
        return
    if re.search(r"\bcovers?\b|\bumschlag\b|\bcouverture\b", text) and not re.search(r"\bpages?\b|\bseiten\b", text):
        return
    single, spread = _SINGLE.search(text), _SPREAD.search(text)
    printer_only = _PRINTER_SPREAD.search(text)
    if spread and printer_only and printer_only.start() <= spread.start() < printer_only.end():
        spread = None
    single_stance = stance_of(statement, *single.span()) if single else None
    spread_denied = spread is not None and (
        stance_of(statement, *spread.span()) == "denied"
        or _SPREAD_DENIED.search(text[max(0, spread.start() - 60) : spread.start()]) is not None
    )
    found: tuple[str, re.Match[str]] | None = None
    if single and single_stance == "claimed" and (spread is None or spread_denied or not re.search(r"\b(?:or|oder|ou)\b", text)):
        found = "single-pages", single
    elif spread and spread_denied and not _OF_ADS.search(text.replace("spreads", "")):
        found = "single-pages", spread
    elif (
        spread
        and not spread_denied
        and not single
        and not _OF_ADS.search(text)
        and stance_of(statement, *spread.span()) == "claimed"
    ):
        reader = _AS_SPREADS.search(text)
        found = ("reader-spreads", reader) if reader else None
    if found and asks(statement, *found[1].span()):
        yield Claim("pages.arrangement", found[0], statement.start + found[1].start(), statement.start + found[1].end())
