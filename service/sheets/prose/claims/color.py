"""Families of colour, spot inks and total ink.

'CMYK' alone takes grey as well, for it prints on the black plate. 'No spot inks' is none; a number of them is their maximum.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence

from service.language.spoken import say
from service.sheets.prose.claims.claim import Claim, Doubt, ScopeOf
from service.sheets.prose.claims.inking.modes import (
    ASKED_CMYK,
    EITHER_MODE,
    OF_SOMETHING_ELSE,
    ONLY_COMPARED,
    RGB_AND_SPOTS,
    TAKES,
    TEXT_IN_CMYK,
    UNASKED_CMYK,
    WITH_ALL_ELSE,
)
from service.sheets.prose.claims.inks import CONVERTED, converted_by_us
from service.sheets.prose.words.frames import ASKS, asks, stance_of
from service.sheets.prose.words.narrowing import Scope
from service.sheets.prose.words.qualifiers import stance_on
from service.sheets.prose.words.statements import Statement

_CMYK = re.compile(
    r"(?:\b|(?<=mode)|(?<=space)|(?<=device))c\.?m\.?[yj]\.?[kn]\b|\bcymk\b|\bcmky\b|\bcmyk\w+|\b(?:four"
    r"|4)[- ]?-?(?:process[- ]colou?rs?"
    r"|colou?r process)\b(?! black)"
    r"|\bprocess colou?rs?\b(?! builds?)|\bprocess inks\b|\bfull[- ]colou?r process\b|\bquadri(?:chromie)?\b|\bvierfarb\w*"
    r"|\b4-?farb\w*|\beuros[kc]ala\w*|\b4/[0-4]\b(?!\")|\bfour (?:process )?inks\b"
)
_MAY_SAY_CMYK = re.compile(r"euros|cm|cym|c\.m|process|quadri|farb|4[/ -]|inks|four")
_RGB = re.compile(r"\bs?rgb\b|\brvb\b|\brgb-\w+")
_LAB = re.compile(r"\blab\b(?= colou?rs?|-farb| mode)|\bcielab\b")
_GRAY = re.compile(
    r"\bgr[ae]y-?\s?scales?\b|\bgraustufen\w*|\bniveaux? de gris\b|\bblack only\b|\bone colou?r black\b"
    r"|\bsingle[- ]colou?r black\b|\bnur schwarz\b|\bnoir (?:seul|uniquement)\b|\b1/[01]\b(?!\"|[ -]?(?:seite|page))"
    r"|\bblack and white\b"
    r"|\bschwarz-?\s?weiß\w*|\bnoir et blanc\b"
)
_ALONE = re.compile(r"\b(?:only|everything|nur|uniquement|seulement|exclusively)\b")
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
    r"|\brecommand\w*|\bvorzugsweise\b|\bam besten\b|\bideally\b|\bmoglichst\b|\bpreconis\w*"
)


def read_colors(statements: Sequence[Statement], scope_of: ScopeOf) -> tuple[list[Claim], list[Doubt]]:
    """Claims for color.allowed and color.rgb_level from the whole text, for each family is said in its own place."""
    said_of_all = _Seeking(statements, scope_of)
    cmyk = said_of_all.first(_claimed_cmyk)
    gray = said_of_all.first(_claimed_gray)
    rgb, no_rgb = said_of_all.first(_takes_rgb), said_of_all.first(_refuses_rgb)
    lab = said_of_all.first(lambda one: _stands(one, _LAB, ("claimed", "allowed")))
    if rgb and no_rgb:
        question = say("RGB is taken in one place and refused in another: which holds?")
        return said_of_all.narrowed, [Doubt("color.allowed", question, *_place(no_rgb))]
    said = cmyk or no_rgb
    if cmyk and not no_rgb and _prefers(*cmyk) and any(_RGB_WORKS.search(one.text) for one in statements):
        said_of_all.narrowed.append(Claim("color.allowed", ["cmyk", "gray"], *_place(cmyk), scope=Scope("unsure", "")))
        return said_of_all.narrowed, []
    if said:
        families = ["cmyk", "gray", *(["rgb"] if rgb else []), *(["lab"] if lab else [])]
        claims = [Claim("color.allowed", families, *_place(said))]
        statement = said[0]
        if not rgb and not no_rgb and cmyk and _prefers(statement, cmyk[1]):
            claims.append(Claim("color.rgb_level", "should", *_place(said)))
        return [*claims, *said_of_all.narrowed], []
    if gray and not rgb:
        return [Claim("color.allowed", ["gray"], *_place(gray)), *said_of_all.narrowed], []
    only_rgb = said_of_all.first(lambda one: _stands(one, _RGB, ("claimed",)))
    if only_rgb and not gray and _alone_in_rgb(only_rgb[0].text):
        return [Claim("color.allowed", ["rgb"], *_place(only_rgb)), *said_of_all.narrowed], []
    return said_of_all.narrowed, []


def _alone_in_rgb(text: str) -> bool:
    sure = _ALONE.search(text) or re.search(
        r"\bsrgb\b|[:|] ?rgb\b|\b(?:must|should) be (?:in )?rgb\b|\bin rgb\b(?=[.,;]|$| (?:format|mode|colou?r|only)| ?-?farb)",
        text,
    )
    return sure is not None and not (CONVERTED.search(text) or _CMYK.search(text) or ONLY_COMPARED.search(text))


Found = tuple[Statement, re.Match[str]]


class _Seeking:
    """The first statement that says a thing of everything; what says it of a part only is kept apart."""

    def __init__(self, statements: Sequence[Statement], scope_of: ScopeOf) -> None:
        self._statements, self._scope_of = statements, scope_of
        self.narrowed: list[Claim] = []

    def first(self, says: Callable[[Statement], re.Match[str] | None]) -> Found | None:
        for one in self._statements:
            match = says(one)
            if match is None or not asks(one, *match.span()):
                continue
            scope = self._scope_of(one, *match.span())
            if scope is None:
                return one, match
            if says in (_claimed_cmyk, _refuses_rgb):
                self.narrowed.append(Claim("color.allowed", ["cmyk", "gray"], *_place((one, match)), scope=scope))
        return None


def _place(found: Found) -> tuple[int, int]:
    statement, match = found
    return statement.start + match.start(), statement.start + match.end()


def _stands(statement: Statement, pattern: re.Pattern[str], stances: tuple[str, ...]) -> re.Match[str] | None:
    return next((match for match in pattern.finditer(statement.text) if stance_of(statement, *match.span()) in stances), None)


def _claimed_cmyk(statement: Statement) -> re.Match[str] | None:
    text = statement.text
    match = _CMYK.search(text) if _MAY_SAY_CMYK.search(text) else None
    if match is not None and _RGB.search(text) and converted_by_us(text):
        supplied = (one for one in _CMYK.finditer(text) if _SUPPLY.search(text[: one.start()]))
        match = next(supplied, match)
    if match is None:
        return None
    asked = _ASKED_FIRST.search(text[: match.start()]) or _SUPPLY.search(text[: match.start()])
    if not asked and _RGB.search(text) and converted_by_us(text):
        return None
    else_of = OF_SOMETHING_ELSE.search(_part_around(_without_remarks(text, match), match))
    if else_of or stance_of(statement, *match.span()) in ("unneeded", None):
        return None
    before = text[: match.start()]
    unasked = UNASKED_CMYK.search(before) or (TEXT_IN_CMYK.search(before) and not WITH_ALL_ELSE.search(before))
    taken = TAKES.search(text) is not None and ONLY_COMPARED.search(text) is None
    if (unasked and not taken) or not (taken or ASKED_CMYK.search(text)):
        return None
    if _A_KIND_OF_PICTURE.match(text, match.end()) or _A_PRODUCT_OF_OURS.search(text):
        return None
    if _LEAVE_AS_IT_IS.search(text[: match.start()]) or _A_PURPOSE.search(text[: match.start()]):
        return None
    if _PICTURES_BEHIND.match(text, match.start()) and not ASKS.search(text):
        return None
    denied = re.search(r"\bnot\b[^.;,]{0,20}$", _text_before(statement, match)) or _NOT_IN_IT.search(text)
    return None if denied else match


_RGB_WORKS = re.compile(
    r"\brgb\b[^.;,]{0,20}\b(?:is|are|can be|may be) (?:also |still )?(?:supported|accepted|supplied|used|fine|ok|okay"
    r"|welcome|allowed)\b"
)
"""'RGB is supported if …' beside a CMYK that is only preferred."""
_ASKED_FIRST = re.compile(r"^(?!.*\b(?:rgb|convert\w*)\b).*\b(?:must|should|need to|have to|only)\b[^.;]{0,40}$")
"""'Pictures should be CMYK (RGB will be converted)' asks for it all the same."""
_SUPPLY = re.compile(
    r"\b(?:please|must|should|(?:ask|recommend|suggest) (?:that )?you)\b(?! \w+ (?:convert|chang))(?: \w+){0,3} $"
    r"|\b(?:make sure|ensure|check|must|should|need)\b[^.;]*\bconverted\b[^.;]{0,16}$"
)
"""'RGB will be converted; please supply CMYK.'"""
_NOT_IN_IT = re.compile(r"\bnot (?:in )?cmyk\b|\bkein cmyk\b|\bunless\b(?! otherwise)(?![^.;]{0,24}\b(?:spot|pms|pantone)\b)")
_A_PURPOSE = re.compile(
    r"\S[^.;,]*(?<!important )(?<!essential )(?<!vital )(?<!responsibility )(?<!necessary )"
    r"(?<!need )(?<!have )(?<!remember )(?<!sure )"
    r"\b(?:to|um|pour|afin d\w*) (?:ensure|guarantee|achieve|get|obtain|assure|match|garantir|assurer"
    r"|obtenir)\b[^.;,]{0,60}$"
)
_PICTURES_BEHIND = re.compile(r"cmyk[- ](?:bilder\w*|images?|pictures?)\b")
"""'It gives CMYK pictures gloss.'"""
_A_PRODUCT_OF_OURS = re.compile(r"\bimpressions? (?:en )?(?:quadri\w*|cmjn) (?:recto|r/v)")
"""'Impression quadri recto verso' says what is sold."""
_A_KIND_OF_PICTURE = re.compile(r"\s?:\s?[0-9]{2,4} ?(?:dpi|ppi|ppp)\b")
"""'Grey and CMYK: 300 dpi' says how fine pictures are."""
_LEAVE_AS_IT_IS = re.compile(r"\b(?:avoid|do not|don't|never) (?:convert|chang|switch)[^.;:]{0,60}$")


def _without_remarks(text: str, match: re.Match[str]) -> str:
    """'Spot colours (HKS, Pantone) into CMYK' is of spot colours; brackets around the match stay."""
    return _A_REMARK.sub(lambda one: one.group() if one.start() <= match.start() < one.end() else " " * len(one.group()), text)


_A_REMARK = re.compile(r"\([^()]*\)")


def _part_around(text: str, match: re.Match[str]) -> str:
    """Between semicolons and dashes."""
    before = re.split(r"[;,|]| [-/] ", text[: match.start()])[-1]
    return before + match.group() + re.split(r"[;,|]| [-/] ", text[match.end() :])[0]


def _text_before(statement: Statement, match: re.Match[str]) -> str:
    return statement.text[max(0, match.start() - 40) : match.start()]


def _claimed_gray(statement: Statement) -> re.Match[str] | None:
    """Only of the whole job: black text in black alone says nothing of the rest."""
    match = _stands(statement, _GRAY, ("claimed",))
    if match is None or _OF_A_PART.search(f"{statement.heading} {statement.label} {statement.text}"):
        return None
    first, last = statement.text.rfind(";", 0, match.start()) + 1, statement.text.find(";", match.end())
    clause = statement.text[first : last if last >= 0 else None]
    if re.search(r"\b(?:text|type|schrift|textes?|profil\w*|logos?|jobs?|layouts?)\b", clause) or re.search(
        r"\b(?:if|wenn|si|for|fur|pour|bei)\b", clause
    ):
        return None
    if len(clause.split()) > 10 and not _ALONE.search(clause):
        return None
    if re.search(
        r"\b(?:line|drawings?|images?|bild\w*|dpi|ppi|pictures?|photos?|foto\w*|scans?|grafik\w*)\b|bildern?\b", clause
    ) and not _ALONE.search(clause):
        return None
    return match


_OF_A_PART = re.compile(
    r"\bbar ?-?codes?\b|\bqr\b|\bstrichcodes?\b|\bcodes? ?-?barres?\b|\bnumbering\b|\bnumerierung\b|\bscreens?\b"
)


def _prefers(statement: Statement, match: re.Match[str]) -> bool:
    near = statement.text[max(0, match.start() - 60) : match.end() + 60]
    return _PREFERRED.search(near) is not None and _ONLY_IMAGES_HALF.search(statement.text) is None


_SUFFERS = re.compile(
    r"\b(?:may|can|might|could|will) (?:have|see|cause|look|appear|result|lead|show|print|be)\b[^.;]{0,40}"
    r"\b(?:shift\w*|chang\w*|differ\w*|unexpected|dull\w*|darker|faded?|flat|muted)\b"
)
"""'Files in RGB may have shifts of colour.'"""


def _takes_rgb(statement: Statement) -> re.Match[str] | None:
    text = statement.text
    for match in _RGB.finditer(text):
        if _CAN_BE_SENT.match(text, match.end()) and not _ONLY_IMAGES_HALF.search(text):
            return match
        if stance_of(statement, *match.span()) in ("denied", "unneeded", None) or CONVERTED.search(text):
            continue
        if _ONLY_IMAGES_HALF.search(text) or _SUFFERS.search(text):
            continue
        if ONLY_COMPARED.search(text):
            continue
        if (_TOO.search(text) or _CAN_TAKE.search(text)) and (
            (_CMYK.search(text) and (TAKES.search(text) or _is_a_list_of_colors(text, match)))
            or stance_on(text, *match.span()) == "allowed"
            or _CAN_BE_SENT.match(text, match.end())
            or _CAN_TAKE.search(text[: match.start()])
            or re.search(r"\balso\b|\btoo\b|\bauch\b|\baussi\b|\begalement\b", text)
        ):
            return match
    return None


_CAN_BE_SENT = re.compile(
    r"\w*[^.;,]{0,20}\b(?:can|may|could) (?:still |also |be )*(?:supplied|used|sent|accepted|submitted|printed|provided)\b"
)
_CAN_TAKE = re.compile(r"\b(?:can|do|will|also) (?:also |still )?(?:take|accept|print|use|work with|handle)\b[^.;]{0,20}$")


def _is_a_list_of_colors(text: str, match: re.Match[str]) -> bool:
    """'Colours: CMYK or RGB', not 'colours (RGB or CMYK), profiles' of what is to be talked about."""
    return len(text.split()) <= 8 and text.rfind("(", 0, match.start()) <= text.rfind(")", 0, match.start())


def _refuses_rgb(statement: Statement) -> re.Match[str] | None:
    text = statement.text
    match = _stands(statement, _RGB, ("denied",))
    if match is None and (converted := _RGB.search(text)) and CONVERTED.search(text):
        match = converted
    if match is None or converted_by_us(text):
        return None
    if OF_SOMETHING_ELSE.search(text) and not RGB_AND_SPOTS.search(text):
        return None
    if _LEAVE_AS_IT_IS.search(text[: match.start()]) or EITHER_MODE.match(text, match.start()):
        return None
    return match


