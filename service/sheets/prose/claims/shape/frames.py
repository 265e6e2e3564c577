"""Frames around the page, the scale of the file, and rounded corners."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from service.sheets.prose.claims.claim import Claim
from service.sheets.prose.words.amounts import Amount, millimetres_of
from service.sheets.prose.words.frames import asks, stance_of
from service.sheets.prose.words.narrowing import Scope
from service.sheets.prose.words.qualifiers import bound_of, regions
from service.sheets.prose.words.statements import Statement

_FRAME = re.compile(
    r"\b(?:borders?|frames?|keylines?)\b(?! (?:zone|area))|\b(?:umlaufende\w* )?(?:rahmen(?:linien?)?|umrandung\w*)\b"
    r"|\bcadres?\b(?! d[ue] (?:la |le )?(?:format|page|coupe))|\bbordures?\b|\bencadrements?\b|\bfilets? d'encadrement\b"
)
_OTHER_FRAME = re.compile(
    r"\b(?:time|white|paper|unprinted|safe\w*|print|bleed|page|text|picture|image|cell|table|metal|wooden|aluminium) (?:borders?"
    r"|frames?)\b|\bwei(?:ss|ß)e\w* rand|\bbords? blancs?\b|\btextrahmen\b|\bbildrahmen\b|\bim rahmen\b"
)
_LISTED = re.compile(
    r"\b(?:includ\w*|inclus\w*|such as|e\.g|einschlie\w*|inkl\w*|dazu gehor\w*|y compris|comprend)\b[^.;]*$|\b(?:text"
    r"|texts|logos?), $"
)
"""'… which includes text, logos and borders' is of what a margin keeps."""
_IN = re.compile(
    r"\b(?:from|inside|away|within|in from|off|distance|vom|zum|abstand|entfernt|innerhalb|naher|von de[rn]|zur|du|des|bord"
    r"|distance"
    r"|a l'interieur)\b"
)
_THICK = re.compile(
    r"\b(?:thick|wide|width|weight|thickness|stark|dick|breit|starke|breite|epaisseur|epais|large|largeur|(?:linien"
    r"|strich)(?:breite|bereite|starke|dicke))\b"
)


def read_frames(statement: Statement, amounts: Sequence[Amount]) -> tuple[list[Claim], set[int]]:
    """The claims, and where the lengths stand that are the frame's."""
    text = statement.text
    match = _FRAME.search(text)
    if match is None or statement.is_heading or _OTHER_FRAME.search(text) or _LISTED.search(text[: match.start()]):
        return [], set()
    found: list[Claim] = []
    used: set[int] = set()
    lengths = [one for one in amounts if one.kind in ("length", "points")]
    clause = text[max(text.rfind(mark, 0, match.start()) for mark in ",;") + 1 : match.start()]
    apart = _NONE_OF_THEM.search(clause) is not None and not any(character.isdigit() for character in clause)
    apart = apart and not any(one.start >= match.end() for one in lengths)
    for amount, (first, end) in zip(amounts, regions(text, [(one.start, one.end) for one in amounts]), strict=True):
        stretch = text[first:end]
        if amount not in lengths or amount.high is not None or apart or not (len(lengths) == 1 or _FRAME.search(stretch)):
            continue
        if bound_of(text[first : amount.start], text[amount.end : end]) in ("maximum", "below"):
            continue
        key = (
            "frame_width"
            if _THICK.search(stretch) and not _IN.search(stretch)
            else "frame_minimum"
            if _IN.search(stretch)
            else None
        )
        if key is not None and 0.2 <= millimetres_of(amount) <= 60:
            place = (statement.start + amount.start, statement.start + amount.end)
            found.append(Claim(f"margin.{key}", amount.low_written, *place, size=millimetres_of(amount)))
            used.add(amount.start)
    if (apart or not lengths) and stance_of(statement, *match.span()) == "denied" and asks(statement, *match.span()):
        found.append(Claim("margin.frames", "forbidden", statement.start + match.start(), statement.start + match.end()))
    return found, used


_NONE_OF_THEM = re.compile(r"\b(?:kein\w*|no|ohne|pas de|sans)\b[^,;]{0,20}$")
"""'Text 3 mm from the edge, no frames'."""
_SCALE = re.compile(r"(?<![0-9.:])1 ?[:/] ?(?P<n>[1-9][0-9]{0,2})\b(?! ?(?:mm|in\b|inch|\"|pt|cm|page|seite))")
_ABOUT_SCALE = re.compile(
    r"\bscal\w*|\bma(?:ss|ß)stab\w*|\bechelles?\b|\b(?:full|actual|original|real) size\b|\boriginalgro(?:ss|ß)e\b"
    r"|\btaille reelle\b|\bratio\b|\bverhaltnis\b|\bformats\b(?=[^.;]{0,24}1:10)"
)
_A_TENTH = re.compile(
    r"\b(?:at|to|in|auf|a|en|as) (?:(?P<full>100 ?%|full size|actual size)(?: size| scale)? (?:or|and|oder|und|ou) (?:at |auf "
    r"|a )?)?"
    r"(?P<p>10|20|25|50) ?%(?: (?:of (?:the )?(?:(?:final|actual|full|finished|original|output|print) ?){0,2} ?(?:size"
    r"|scale)|scale|der (?:original|end)\w*|de la taille))"
)
_PICTURES = re.compile(r"\bimages?\b|\bpictures?\b|\bbild\w*|\bphotos?\b|\b[0-9]+ ?(?:dpi|ppi)\b|\baspect\b")


def read_scales(statement: Statement) -> Iterator[Claim]:
    """'At 1:1 or 1:10': all that one sentence takes. Full size alone asks for nothing more than every sheet does."""
    text = statement.text
    if statement.is_heading or _PICTURES.search(text):
        return
    said: list[tuple[int, int, int]] = []
    if any(_ABOUT_SCALE.search(words) for words in (text, statement.label, statement.heading)):
        said += [(int(match["n"]), *match.span()) for match in _SCALE.finditer(text)]
    tenths = list(_A_TENTH.finditer(text))
    said += [(100 // int(match["p"]), *match.span()) for match in tenths]
    said += [(1, *match.span("full")) for match in tenths if match["full"]]
    taken = [
        (n, start, end)
        for n, start, end in said
        if stance_of(statement, start, end) not in ("denied", None) and (_POSSIBLE.match(text) or asks(statement, start, end))
    ]
    if taken and _FULL_TOO.search(text):
        taken = [(1, taken[0][1], taken[0][2]), *taken]
    scales = sorted({n for n, _, _ in taken})
    if scales and scales != [1] and len(scales) <= 6:
        scope = Scope("condition", text[:80]) if _ONLY_SOME.search(text) else None
        yield Claim("trim.scales", scales, statement.start + taken[0][1], statement.start + taken[-1][2], scope=scope)


_POSSIBLE = re.compile(r"\W*(?:possible|permitted|available) (?:scales?|formats?|ratios?)\b")
_FULL_TOO = re.compile(r"\b(?:echelle|ma(?:ss|ß)stab|scale) (?:de )?1 (?:ou|or|oder|et|und) (?=1 ?[:/])")
_ONLY_SOME = re.compile(
    r"\b(?:if|when|for|from|over|larger|longer|bigger|exceed\w*|wenn|falls|bei|fur|ab|uber|gro(?:ss|ß)er|langer|si|pour"
    r"|plus de|a partir)\b"
)
"""Large files are drawn smaller: which ones are large the sentence says, and the sheet may be of another."""


_OF_A_ZONE = re.compile(r"\b(?:sicherheits\w*|safe\w*|gestaltbar\w*|securite|zone)\b")
_CORNER = re.compile(r"\bcorners?\b|\beck(?:e|en|radius|enradius)?\b|\bcoins?\b|\bangles? arrondis?\b")
_CORNER_RADIUS = re.compile(
    r"\bcorners?\b[^.;,]{0,20}\bradius\b|\b(?:corner radius|radius of (?:the )?corners?|eckenradius|eckradius|rayon des coins)\b"
)
_RADIUS = re.compile(r"\bradius\b|\bradii\b|\w*radius\b|\brayon\b|\brounded\b|\babgerundet\w*|\barrondis?\b")


def read_corners(statement: Statement, amounts: Sequence[Amount]) -> tuple[list[Claim], set[int]]:
    text = statement.text
    stretches = regions(text, [(one.start, one.end) for one in amounts])
    lengths = [one for one in amounts if one.kind == "length"]
    if len(lengths) > 1:
        lengths = [one for one, (first, end) in zip(amounts, stretches, strict=True) if _CORNER_RADIUS.search(text, first, end)]
    rounded = _RADIUS.search(text) and (_CORNER.search(text) or "eck" in text) and not _OF_A_ZONE.search(text)
    if len(lengths) != 1 or lengths[0].high is not None or not rounded:
        return [], set()
    (amount,) = lengths
    if stance_of(statement, amount.start, amount.end) not in ("claimed",) or not 1 <= millimetres_of(amount) <= 60:
        return [], set()
    place = (statement.start + amount.start, statement.start + amount.end)
    return [Claim("trim.corner_radius", amount.low_written, *place, size=millimetres_of(amount))], {amount.start}
