"""Spot inks and total ink. 'No spot inks' is none; a number of them is their maximum."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import islice

from service.sheets.prose.claims.claim import Claim, ScopeOf
from service.sheets.prose.words.amounts import Amount
from service.sheets.prose.words.frames import asks, stance_of
from service.sheets.prose.words.numbers import NUMBER_WORD, whole_number
from service.sheets.prose.words.qualifiers import bound_of, regions, stance_on
from service.sheets.prose.words.statements import Statement

_SPOT = re.compile(
    r"\bspot[- ](?:colou?rs?|inks?)\b|\bspots\b|\bspecial (?:colou?rs?|inks?)\b|\bsonderfarb\w*|\bschmuckfarb\w*"
    r"|\bvollton\w*|\btons? directs?\b|\bcouleurs? d'?accompagnement\b|\bcouleurs? speciales?\b|\bencres? speciales?\b"
    r"|\bfifth colou?rs?\b|\bpms[- ]colou?rs?\b|(?<=no )pms\b(?! ?[0-9])|\bpantones?(?:-?farb\w*|[- ](?:colou?rs?|inks?"
    r"|spots?|swatches))?\b"
    r"|\bcouleurs? pantone\b"
    r"|\bhks(?:-?farb\w*)?\b|\bspot(?= |$)(?= (?:and|or|und|oder|colou?rs)\b)"
)
_INK = re.compile(
    r"\btac\b|\btic\b|\binks?\b|\binking\b|\bink[- ](?:coverage|limit|density|total|weight)\b|\bcoverage\b|\bdensity\b"
    r"|\btotal (?:area|dots?|cmyk)\b|\b\w*farbauftrag\w*|\bgesamtfarb\w*|\b\w*flachendeckung\w*|\b\w*farbdeckung\w*|\bdeckung\w*"
    r"|\btonwertsumme\w*|\bencrage\b|\btaux d'encr\w*|\bcouverture\b|\bsomme des encres\b|\bsuperposition\b"
    r"|\bcouche d'encre\b|\bcharge d'encre\b|\bfarbmenge\b|\bencre\b|\bsumme (?:der|aller) (?:\w+ ){0,2}(?:skalen|druck"
    r"|prozess)?farb\w*"
    r"|\bfarbsumme\w*|\bsumme (?:aus|von) c\b|\bsomme (?:de|des) c\b|\bfarbdichte\b|\btotal (?:cmjn|quadri)\b"
    r"|\bsum of (?:all )?(?:\w+ )?(?:inks|colou?rs)|\b(?:somme|total|cumul) des (?:\w+ )?(?:couleurs|encres)"
)
_RICH_BLACK = re.compile(
    r"\brich black\b|\bdeep black\b|\btiefschwarz\b|\bnoir (?:soutenu|profond|enrichi)\b|\bbackground tint\b|\btint\b"
    r"|\bscale\b|\bmassstab\b|\bechelle\b"
)
CONVERTED = re.compile(
    r"\bconvert\w*|\bwandeln\b[^;]{0,120}\bum\b|\bumwand\w*|\bumzuwandeln\b|\bumgewandelt\w*|\bkonvert\w*|\btransform\w*"
    r"|\bturned into\b"
    r"|\bchang\w* to\b"
    r"|\bwerden in\b|\bsimulat\w*|\bbuilt (?:from|in)\b|\bauflosen\b|\baufgelost\w*|\bmade of\b|\bsplit\b"
)
CONVERTED_BY_US = re.compile(
    r"\b(?:we|our \w+) (?:\w+ ){0,6}(?:to )?(?:convert|turn|change)|\bautomatic\w*|\bwill be (?:converted|changed)"
    r"|\bare converted\b|\bis converted\b|\bgets? converted\b|\bautomatisch\b"
    r"|\bwerden (?:von uns )?(?:automatisch )?(?:in cmyk )?(?:umgewandelt|konvertiert)|\bwir (?:wandeln|konvertieren)"
    r"|\b(?:wandeln|konvertieren) wir\b|\bnous (?:les )?convertissons\b"
    r"|\bseront convert\w*|\bnous convert\w*|\bconvertis automatiquement"
)
_REQUESTED = re.compile(
    r"\b(?:make sure|ensure|check|verify|confirm|vital|important|essential|insist|kindly|ask (?:that|for|you)|see to it"
    r"|responsib\w*"
    r"|certain|we (?:need|want|require|expect|would like))\b[^.;]*$"
)


def converted_by_us(text: str) -> re.Match[str] | None:
    """'RGB will be converted'; not 'make sure that RGB is converted'."""
    found = CONVERTED_BY_US.search(text)
    return None if found is None or _REQUESTED.search(text[: found.end()]) else found


_DEPENDS = re.compile(
    r"\bunless\b|\bother than\b|\bandere als\b|\bexcept\b|\bon request\b|\bby arrangement\b|\bby agreement\b"
    r"|\bagreed\b|\border\w*|\bask us\b|\bausser\b|\bnach absprache\b|\bauf anfrage\b|\bbestell\w*|\bsauf\b"
    r"|\bsur demande\b|\bcommand\w*|\bif you\b|\bextra cost\b|\bgebucht\b|\bvereinbar\w*"
)
_COUNT = re.compile(rf"\b(?P<count>{NUMBER_WORD})\s(?:additional |extra |more |zusatzliche |weitere |\w+ )?$")


def read_spots(statements: Sequence[Statement], scope_of: ScopeOf) -> Iterator[Claim]:
    """A count or a refusal; that spot inks are spoken of, or how they are to be named, claims nothing."""
    for statement in statements:
        text = statement.text
        if statement.is_heading:
            continue
        by_us = converted_by_us(text)
        if gone := _CONVERT_THEM.match(text):
            place = (statement.start, statement.start + gone.end())
            yield Claim("color.spots.maximum", 0, *place, 2, scope=scope_of(statement, *gone.span()))
            continue
        if by_us and not _REFUSED_FIRST.search(text[: by_us.start()]):
            continue
        if _DEPENDS.search(text) or _OF_SPOTS_THEMSELVES.search(text):
            continue
        for match in islice(_SPOT.finditer(text), _MOST_SPOTS):
            if claim := _of_spots(statement, match, scope_of):
                yield claim
                break


_MOST_SPOTS = 6
_CONVERT_THEM = re.compile(
    r"if (?:your|the|any) \w+ (?:has|have|contains?|uses?|includes?) (?:any )?(?:spot|pms|pantone)[\w ]{0,12}, (?:please )?"
    r"(?:convert|change|remove) (?:them|these|it)\b"
)
"""'If your file has spot colours, convert them to CMYK.'"""
_REFUSED_FIRST = re.compile(
    r"\b(?:(?:is|are|will) (?:not|never) (?:be )?(?:supported|accepted|allowed|permitted|printed)|(?:cannot"
    r"|can't) be (?:used|printed))\b"
)
"""'… are not supported and will be converted' refuses them all the same."""


def _of_spots(statement: Statement, match: re.Match[str], scope_of: ScopeOf) -> Claim | None:
    text = statement.text
    place = (statement.start + match.start(), statement.start + match.end())
    count = _COUNT.search(text, 0, match.start())
    if count and (number := whole_number(count["count"])) is not None and 0 <= number <= 8:
        in_words = not re.match(r"[0-9]", count["count"])
        if in_words and number == 1 and not re.search(r"\b(?:only|max\w*|nur|up to|hochstens|seulement|plus)\b", text):
            return None  # 'a spot colour' counts none
        told = stance_on(text, count.start(), match.end()) != "denied" or re.search(r"more than|mehr als|plus de", text)
        if number == 0 or told:
            start = statement.start + count.start()
            return Claim("color.spots.maximum", number, start, place[1], 2, scope=scope_of(statement, *match.span()))
        return None
    if _KEPT.search(text[: match.start()]) or _NOT_EVERY.search(text[: match.start()]):
        return None
    denied = stance_of(statement, *match.span()) == "denied" and not _ANOTHER_OBJECT.search(text[: match.start()])
    if (denied or CONVERTED.search(text)) and asks(statement, *match.span()):
        return Claim("color.spots.maximum", 0, *place, 2, scope=scope_of(statement, *match.span()))
    return None


_KEPT = re.compile(r"\b(?:do not|don't|never|avoid|nicht|ne pas) (?:\w+ ){0,2}?(?:convert|chang|switch|turn)\w*[^.;:]{0,40}$")
"""'Do not convert spot colours to CMYK' takes them."""
_NOT_EVERY = re.compile(r"\b(?:nicht|not|pas) (?:alle|all|every|jede\w*|tous|toutes)\b[^.;,]{0,20}$")
"""'CMYK cannot show all spot colours.'"""
_ANOTHER_OBJECT = re.compile(
    r"\b(?:(?:on|over|under) (?:top of )?|behind |from |between |(?:re-?nam|edit|alter|duplicat|mix|combin|lock)(?:e"
    r"|ing)? |auf |unter |uber |sur |sous )(?:an? |the |any |eine[rn]? |les |une )?$"
)
"""'No shadows on top of a spot colour' refuses shadows."""
_OF_SPOTS_THEMSELVES = re.compile(
    r"\b(?:tints?|benenn\w*|named?|naming|nomm\w*|uberdruck\w*|overprint\w*|same name|no (?:other|further)|keine weiteren"
    r"|pas d'autres?|gleich|identical|simulat\w*|proofs?|plates?|when|where|not intended|unused|nicht verwendet\w*"
    r"|nicht benotigt\w*|if|wenn|si|falls|which|die im 4|that will|qui|anschnitt|range|guarante\w*|garant\w*|match\w*|exact\w*"
    r"|(?:may|might|can|could) (?:change|alter|differ|shift|look)|editor|preview|achiev\w*|erreich\w*|outside|ausserhalb|gamut"
    r"|spot colou?rs? (?:with|in) \w*transparen\w*|for reference"
    r"|reference only|specify|angeben|prefer\w*)\b"
)


def read_ink_limits(statement: Statement, amounts: Sequence[Amount]) -> Iterator[Claim]:
    text = statement.text
    mine = [one for one in amounts if one.kind == "percent"]
    for amount, (first, end) in zip(amounts, regions(text, [(one.start, one.end) for one in amounts]), strict=True):
        if amount.kind != "percent":
            continue
        stretch = text[first:end]
        bound = bound_of(text[first : amount.start], text[amount.end : end], statement.label)
        about_ink = any(_INK.search(words) for words in (text, statement.label, statement.heading))
        if bound == "minimum" and _LEAST_INK.search(f"{statement.label} {text}") and 1 <= amount.low <= 20 and not amount.high:
            place = (statement.start + amount.start, statement.start + amount.end)
            yield Claim("color.ink_minimum", amount.low_written, *place, 2, amount.low)
        highest = amount.high or amount.low
        if (
            amount.high is not None
            or not about_ink
            or not 150 <= highest < 400
            or _RICH_BLACK.search(stretch)
            or bound == "minimum"
        ):
            continue
        weight = 1 if bound == "preferred" else 2
        place = (statement.start + amount.start, statement.start + amount.end)
        yield Claim("color.ink_limit", amount.low_written, *place, weight, amount.low, bound == "preferred")
    if not mine and _INK.search(text) and (bare := _BARE_LIMIT.search(text)):
        place = (statement.start + bare.start("n"), statement.start + bare.end("n"))
        yield Claim("color.ink_limit", f"{bare['n']} %", *place, 2, Fraction(bare["n"]))


_LEAST_INK = re.compile(
    r"\b(?:minimal\w*|mindest\w*|minimum|least) (?:gesamt|total )?(?:farbauftrag|farbdeckung|flachendeckung|ink|encrage)\w*"
    r"|\b(?:mindest|minimal)(?:farbauftrag|farbdeckung|flachendeckung)\w*|\bencrage minim\w+|\btaux d'encrage minim\w+"
)
"""Of a colour, in all its inks."""
_BARE_LIMIT = re.compile(
    r"\b(?:exceed\w*|more than|above|maximum(?: of| is)?|max\.?|uberschreiten|ubersteigen|depasser|maximal|limit(?: of"
    r"| is)?)\s?:?\s?(?:of )?(?P<n>[23][0-9]0)\b(?!\s?(?:%|dpi|ppi|mm|pt|g))"
)
"""'should not exceed 300 in total ink'."""
