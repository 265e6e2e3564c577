"""Transparency: live, flattened, or not wanted at all."""

from __future__ import annotations

import re
from collections.abc import Iterator

from service.sheets.prose.claims.claim import Claim
from service.sheets.prose.words.frames import asks, stance_of
from service.sheets.prose.words.statements import Statement

_TRANSPARENCY = re.compile(r"\b(?:live )?transparen\w*")
_FLATTENED = re.compile(
    r"\bflatten\w*|\breduzier\w*|\bverflach\w*|\baplati\w*|\bgeglattet\b|\bflach ?(?:gerechnet|gelegt)\b|\breduite?s?\b"
    r"|\bverrechnet\b|\bdiscarded\b"
)
_IN_ONE_KIND_OF_FILE = re.compile(
    r"\b(?:in|for|with|bei|fur|pour|en) (?:pdf ?[/-]? ?)?x ?-? ?[13456]"
    r"|\bx ?-? ?[13456]\w*(?::[0-9]{4})? (?:n'|ne |does |can)?(?:accepte|gere|supporte|autorise|permet|kennt|erlaubt|unterstutzt"
    r"|allow|support|not|cannot)"
)


_KEPT = re.compile(
    r"\b(?:live )?transparen(?:cy|cies|ces?)\b (?:(?:must|should|to|are|is) )?(?:be )?(?:preserved|kept|maintained|left"
    r"|unflattened)\b"
    r"|\b(?:preserve|keep|maintain|leave) (?:all |any |the )?(?:live )?transparen(?:cy|cies)\b(?! (?:to|settings?|effects?)\b)"
)


def read_transparency(statement: Statement) -> Iterator[Claim]:
    text = statement.text
    kept = _KEPT.search(text)
    if kept and stance_of(statement, *kept.span()) == "claimed" and asks(statement, *kept.span()):
        yield Claim("transparency.live", "required", statement.start + kept.start(), statement.start + kept.end())
        return
    match, flat = _TRANSPARENCY.search(text), _FLATTENED.search(text)
    words = f"{statement.label} {statement.heading}"
    if _IN_ONE_KIND_OF_FILE.search(text):
        return  # 'not in X-1a' speaks of one kind of file
    about = match or _TRANSPARENCY.search(words)
    if about is None or (match is not None and re.match(r"transparent", match.group().removeprefix("live ")) and not flat):
        return
    if re.search(
        r"\b(?:under|over|behind|unter|uber|sous|background|hintergrund|images?|png)\b[^.;]{0,20}\btransparen"
        r"|\bspot colou?rs?\b",
        text,
    ) or (match is None and re.search(r"\blayers?\b|\bebenen?\b|\bcalques?\b", text)):
        return
    first = match or flat
    if first is None:
        return
    place = (
        statement.start + first.start(),
        statement.start + (flat.end() if flat and flat.end() > first.end() else first.end()),
    )
    if flat:
        stance = stance_of(statement, *flat.span())
        if (
            stance == "claimed"
            and asks(statement, *flat.span())
            and not re.search(r"\b(?:we|wir|nous)\b[^.;]{0,20}$", text[: flat.start()])
        ):
            yield Claim("transparency.live", "forbidden", *place)
        elif stance == "denied" and re.search(r"\blive\b|\bdo not flatten\b|\bnot (?:be )?flatten\w*", text):
            yield Claim("transparency.live", "allowed", *place)
        elif match and re.search(r"\bvermeiden\b|\bavoid\w*\b|\beviter\b", text):
            yield Claim("transparency.live", "forbidden", *place)
        return
    stance = stance_of(statement, *first.span())
    if stance == "denied" and asks(statement, *first.span()):
        yield Claim("transparency.live", "forbidden", *place)
    elif stance == "allowed":
        yield Claim("transparency.live", "allowed", *place)
