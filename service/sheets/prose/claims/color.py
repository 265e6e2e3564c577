"""Families of colour, spot inks and total ink.

'CMYK' alone takes grey as well, for it prints on the black plate. 'No spot inks' is none; a number of them is their maximum.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence

from service.language.spoken import say
from service.sheets.prose.claims.claim import Claim, Doubt
from service.sheets.prose.words.amounts import Amount
from service.sheets.prose.words.numbers import NUMBER_WORD, whole_number
from service.sheets.prose.words.qualifiers import bound_of, regions, stance_on
from service.sheets.prose.words.statements import Statement

_CMYK = re.compile(
    r"\bc\.?m\.?[yj]\.?[kn]\b|\b(?:four|4)[- ]?-?(?:process[- ])?colou?rs?(?: process)?\b(?! black)"
    r"|\bprocess colou?rs?\b|\bprocess inks\b|\bfull[- ]colou?r process\b|\bquadri(?:chromie)?\b|\bvierfarb\w*"
    r"|\b4-?farb\w*|\beuroskala\b|\b4/[0-4]\b(?!\")|\bfour (?:process )?inks\b"
)
_RGB = re.compile(r"\bs?rgb\b|\brvb\b|\brgb-\w+")
_LAB = re.compile(r"\blab\b(?= colou?rs?|-farb| mode)|\bcielab\b")
_GRAY = re.compile(
    r"\bgr[ae]y-?\s?scale\b|\bgraustufen\w*|\bniveaux? de gris\b|\bblack only\b|\bone colou?r black\b"
    r"|\bsingle[- ]colou?r black\b|\bnur schwarz\b|\bnoir (?:seul|uniquement)\b|\b1/[01]\b(?!\")|\bblack and white\b"
    r"|\bschwarz-?\s?weiß\w*|\bnoir et blanc\b|\bgr[ae]y\b"
)
_ALONE = re.compile(r"\b(?:only|nur|uniquement|seulement|exclusively)\b")
_SPOT = re.compile(
    r"\bspot[- ](?:colou?rs?|inks?)\b|\bspots\b|\bspecial (?:colou?rs?|inks?)\b|\bsonderfarb\w*|\bschmuckfarb\w*"
    r"|\bvollton\w*|\btons? directs?\b|\bcouleurs? d'?accompagnement\b|\bcouleurs? speciales?\b|\bencres? speciales?\b"
    r"|\bfifth colou?rs?\b"
)
_INK = re.compile(
    r"\btac\b|\btic\b|\binks?\b|\binking\b|\bink[- ](?:coverage|limit|density|total|weight)\b|\bcoverage\b|\bdensity\b"
    r"|\btotal area\b|\bfarbauftrag\w*|\bgesamtfarb\w*|\bflachendeckung\w*|\bfarbdeckung\w*|\bdeckung\w*"
    r"|\btonwertsumme\w*|\bencrage\b|\btaux d'encr\w*|\bcouverture\b|\bsomme des encres\b|\bsuperposition\b"
    r"|\bcouche d'encre\b|\bcharge d'encre\b|\bfarbmenge\b|\bencre\b"
)
_RICH_BLACK = re.compile(
    r"\brich black\b|\bdeep black\b|\btiefschwarz\b|\bnoir (?:soutenu|profond|enrichi)\b|\bbackground tint\b|\btint\b"
    r"|\bscale\b|\bmassstab\b|\bechelle\b"
)
_CONVERTED = re.compile(
    r"\bconvert\w*|\bumwand\w*|\bumgewandelt\w*|\bkonvert\w*|\btransform\w*|\bturned into\b|\bchang\w* to\b"
    r"|\bwerden in\b|\bsimulat\w*|\bbuilt (?:from|in)\b|\bauflosen\b|\baufgelost\w*|\bmade of\b|\bsplit\b"
)
_CONVERTED_BY_US = re.compile(
    r"\bwe (?:will |can |may )?(?:convert|turn|change)|\bautomatic\w*|\bwill be (?:converted|changed)"
    r"|\bare converted\b|\bis converted\b|\bgets? converted\b|\bautomatisch\b"
    r"|\bwerden (?:von uns )?(?:automatisch )?(?:in cmyk )?(?:umgewandelt|konvertiert)|\bwir (?:wandeln|konvertieren)"
    r"|\bseront convert\w*|\bnous convert\w*|\bconvertis automatiquement"
)
_TOO = re.compile(
    r"\balso\b|\bor\b|\band\b|\btoo\b|\beither\b|\baccept\w*|\ballowed\b|\bfine\b|\bok\b|\bwelcome\b|\bpossible\b"
    r"|\bmay\b|\bauch\b|\boder\b|\bund\b|\bmoglich\b|\bou\b|\bet\b|\baussi\b|\begalement\b|\berlaubt\b|\bzulassig\b"
    r"|\bautoris\w*|/"
)
_ONLY_IMAGES_HALF = re.compile(
    r"\bnot\b|\bnever\b|\bno\b|\bkein\w*|\bnicht\b|\bpas\b|\bne\b|\bwithout\b|\bohne\b|\bsans\b|\binstead\b|\bstatt\b"
    r"|\brather than\b|\breject\w*|\brefus\w*"
)
_PREFERRED = re.compile(
    r"\bprefer\w*|\bideal\w*|\brecommend\w*|\bbevorzug\w*|\bempf[eio]\w*hl\w*|\bde preference\b|\bconseill\w*"
    r"|\brecommand\w*|\bvorzugsweise\b"
)
_DEPENDS = re.compile(
    r"\bunless\b|\bother\b|\bandere\w*\b|\bautres?\b|\bexcept\b|\bon request\b|\bby arrangement\b|\bby agreement\b"
    r"|\bagreed\b|\border\w*|\bask us\b|\bausser\b|\bnach absprache\b|\bauf anfrage\b|\bbestell\w*|\bsauf\b"
    r"|\bsur demande\b|\bcommand\w*|\bif you\b|\bextra cost\b|\bgebucht\b|\bvereinbar\w*"
)
_COUNT = re.compile(rf"\b(?P<count>{NUMBER_WORD})\s(?:additional |extra |more |zusatzliche |weitere |\w+ )?$")


def read_colors(statements: Sequence[Statement]) -> tuple[list[Claim], list[Doubt]]:
    """Claims for color.allowed and color.rgb_level from the whole text, for each family is said in its own place."""
    cmyk = _first(statements, _claimed_cmyk)
    gray = _first(statements, _claimed_gray)
    rgb, no_rgb = _first(statements, _takes_rgb), _first(statements, _refuses_rgb)
    lab = _first(statements, lambda one: _stands(one, _LAB, ("claimed", "allowed")))
    if rgb and no_rgb:
        question = say("RGB is taken in one place and refused in another: which holds?")
        return [], [Doubt("color.allowed", question, *_place(no_rgb))]
    said = cmyk or no_rgb
    if said:
        families = ["cmyk", "gray", *(["rgb"] if rgb else []), *(["lab"] if lab else [])]
        claims = [Claim("color.allowed", families, *_place(said))]
        statement = said[0]
        if not rgb and not no_rgb and cmyk and _prefers(statement, cmyk[1]):
            claims.append(Claim("color.rgb_level", "should", *_place(said)))
        return claims, []
    if gray and not rgb:
        return [Claim("color.allowed", ["gray"], *_place(gray))], []
    only_rgb = _first(statements, lambda one: _stands(one, _RGB, ("claimed",)))
    if only_rgb and not gray and not _CONVERTED.search(only_rgb[0].text):
        return [Claim("color.allowed", ["rgb"], *_place(only_rgb))], []
    return [], []


Found = tuple[Statement, re.Match[str]]


def _first(statements: Sequence[Statement], says: Callable[[Statement], re.Match[str] | None]) -> Found | None:
    for one in statements:
        if match := says(one):
            return one, match
    return None


def _place(found: Found) -> tuple[int, int]:
    statement, match = found
    return statement.start + match.start(), statement.start + match.end()


def _stands(statement: Statement, pattern: re.Pattern[str], stances: tuple[str, ...]) -> re.Match[str] | None:
    return next(
        (match for match in pattern.finditer(statement.text) if stance_on(statement.text, *match.span()) in stances), None
    )


def _claimed_cmyk(statement: Statement) -> re.Match[str] | None:
    match = _CMYK.search(statement.text)
    if _RGB.search(statement.text) and _CONVERTED_BY_US.search(statement.text):
        return None
    if (
        match is None
        or re.search(r"\bnot\b[^.;,]{0,20}$", _text_before(statement, match))
        or re.search(r"\bnot (?:in )?cmyk\b|\bkein cmyk\b|\bunless\b", statement.text)
    ):
        return None
    return match


def _text_before(statement: Statement, match: re.Match[str]) -> str:
    return statement.text[max(0, match.start() - 40) : match.start()]


def _claimed_gray(statement: Statement) -> re.Match[str] | None:
    """Only of the whole job: black text in black alone says nothing of the rest."""
    match = _stands(statement, _GRAY, ("claimed",))
    if match is None:
        return None
    first, last = statement.text.rfind(";", 0, match.start()) + 1, statement.text.find(";", match.end())
    clause = statement.text[first : last if last >= 0 else None]
    if re.search(r"\b(?:text|type|schrift|texte)\b", clause):
        return None
    if re.search(r"\b(?:line|images?|bilder|dpi|ppi)\b", clause) and not _ALONE.search(clause):
        return None
    return match


def _prefers(statement: Statement, match: re.Match[str]) -> bool:
    near = statement.text[max(0, match.start() - 40) : match.end() + 30]
    return _PREFERRED.search(near) is not None and _ONLY_IMAGES_HALF.search(statement.text) is None


def _takes_rgb(statement: Statement) -> re.Match[str] | None:
    text = statement.text
    for match in _RGB.finditer(text):
        if stance_on(text, *match.span()) in ("denied", "unneeded") or _CONVERTED.search(text):
            continue
        if _ONLY_IMAGES_HALF.search(text):
            continue
        if _TOO.search(text) and (
            _CMYK.search(text)
            or stance_on(text, *match.span()) == "allowed"
            or re.search(r"\balso\b|\btoo\b|\bauch\b|\baussi\b|\begalement\b", text)
        ):
            return match
    return None


def _refuses_rgb(statement: Statement) -> re.Match[str] | None:
    text = statement.text
    match = _stands(statement, _RGB, ("denied",))
    if match is None and (converted := _RGB.search(text)) and _CONVERTED.search(text):
        match = converted
    if match is None or _CONVERTED_BY_US.search(text):
        return None
    return match


def read_spots(statements: Sequence[Statement]) -> Iterator[Claim]:
    for statement in statements:
        text = statement.text
        for match in _SPOT.finditer(text):
            place = (statement.start + match.start(), statement.start + match.end())
            if _DEPENDS.search(text):
                continue
            count = _COUNT.search(text, 0, match.start())
            if count and (number := whole_number(count["count"])) is not None and 0 <= number <= 8:
                if (
                    number == 0
                    or stance_on(text, count.start(), match.end()) != "denied"
                    or re.search(r"more than|mehr als|plus de", text)
                ):
                    yield Claim("color.spots.maximum", number, statement.start + count.start(), place[1], 2)
                continue
            if stance_on(text, *match.span()) == "denied" or (_CONVERTED.search(text) and not _CONVERTED_BY_US.search(text)):
                yield Claim("color.spots.maximum", 0, *place, 2)
            break


def read_ink_limits(statement: Statement, amounts: Sequence[Amount]) -> Iterator[Claim]:
    text = statement.text
    mine = [one for one in amounts if one.kind == "percent"]
    for amount, (first, end) in zip(mine, regions(text, [(one.start, one.end) for one in mine]), strict=True):
        stretch = text[first:end]
        bound = bound_of(text[first : amount.start], text[amount.end : end], statement.label)
        about_ink = any(_INK.search(words) for words in (text, statement.label, statement.heading))
        highest = amount.high or amount.low
        if (
            amount.high is not None
            or not about_ink
            or not 150 <= highest <= 400
            or _RICH_BLACK.search(stretch)
            or bound == "minimum"
        ):
            continue
        weight = 1 if bound == "preferred" else 2
        yield Claim(
            "color.ink_limit",
            amount.low_written,
            statement.start + amount.start,
            statement.start + amount.end,
            weight,
            amount.low,
        )
