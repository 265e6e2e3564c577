"""What a reading leaves open: demands that were seen and not read, and things that a sheet should say and the text does not."""

from __future__ import annotations

import re
from bisect import bisect_left
from collections.abc import Iterator, Mapping, Sequence
from itertools import accumulate

from service.language.spoken import say, to_say
from service.sheets.prose.claims.claim import Claim, Doubt
from service.sheets.prose.words.amounts import Amount
from service.sheets.prose.words.sizes import Size
from service.sheets.prose.words.statements import Statement

_DEMAND = re.compile(
    r"(?:\bmust\b|\bshould\b|\bplease\b|\brequired?\b|\bdo not\b|\bdon't\b|\bnever\b|\bno\b|\bonly\b|\bset\b|\buse\b"
    r"|\bconvert\w*|\bsupply\b|\bsend\b|\bavoid\b|\bnot\b|\bneeds?\b|\bmake sure\b|\bensure\b|\bkeep\b"
    r"|\bmuss\b|\bmussen\b|\bbitte\b|\bsollte\w*|\bnicht\b|\bkein\w*|\bdarf\b|\bdurfen\b|\bverwende\w*|\bdoit\b"
    r"|\bdoivent\b|\bveuillez\b|\bmerci de\b|\bne\b|\bpas\b|\bsans\b|\bwithout\b|\bohne\b|\brecommend\w*|\bas\b)|:|\|"
)
_TECHNICAL = re.compile(
    r"\boverprint\w*|\bicc\b|\bprofiles?\b|\bfogra\w*|\biso coated\b|\boutput intent\b|\bprofil\w*|\bspine\b"
    r"|\bfolds?\b|\bfold(?:ing)? marks?\b|\bvarnish\w*|\bfoil\b|\bdie-?(?:line|cut)\w*|\blayers?\b|\bcomments?\b"
    r"|\bannotations?\b|\bform fields?\b|\brich black\b"
    r"|\bbar ?codes?\b|\bqr\b|\btrapping\b|\bregistration\b|\bcolou?r bars?\b|\bcut contour\b|\bembossing\b"
    r"|\bperforat\w*|\bgutter\b|\bresolution\b|\bbleed\b|\bmargins?\b|\bspot\b|\brgb\b|\bcmyk\b|\bfonts?\b"
    r"|\btransparen\w*|\bdpi\b|\bppi\b|\bhairlines?\b|\bjpeg\b|\bcompress\w*"
    r"|\buberdruck\w*|\bfarbprofil\w*|\bausgabe\w*|\bfalz\w*|\bstanz\w*|\black\w*|\bebenen?\b|\bkommentar\w*"
    r"|\bformularfeld\w*|\btiefschwarz\b|\bauflosung\b|\bsonderfarbe\w*|\brucken\w*|\bpasser\w*|\bsurimpression\b"
    r"|\bvernis\b|\bdorure\b|\bplis?\b|\bcalques?\b|\bcommentaires?\b|\bnoir\b|\bdecoupe\b|\bdos\b"
    r"|\bspreads?\b|\bcrop marks?\b|\bpasswords?\b|\bpdf/[ax]\w*|\b4[- ]colou?r\b|\bink\b|\bx-height\b"
    r"|\bscreen ruling\b|\blpi\b|\bcreep\b|\bfinish\w*|\bwhite ink\b|\boverlap\w*|\bglue\b|\bwindow\b|\baddress\b"
    r"|\bversions?\b|\bverschlussel\w*|\bencrypt\w*|\bkennwort\w*|\bpasswort\w*|\bmots? de passe\b"
    r"|\b(?:fonds?|bords?) perdus?\b|\bmarges?\b|\bcmjn\b|\brvb\b|\bencrage\b|\bpolices?\b|\breperes?\b|\btraits? de coupe\b"
    r"|\btons? directs?\b|\bfilets?\b|\b(?:be|an)schnitt\w*|\bfarb(?:auftrag|raum|modus)\w*|\bschriften\b|\bschnittmarken?\b"
    r"|\btabs?\b|\bpage numbers?\b|\bblank pages\b|\bimposed\b|\bimposition\b|\bscal\w*|\bgrayscale\b|\bpt\b"
)
_NO_DEMAND = re.compile(
    r"±|\+ ?/ ?-|\?$|(?:\btolerance\b|\btoleranz\b|\bwe (?:will|can|check|print|offer|are|convert|flatten)\b|\bdelivery\b"
    r"|\bpaper\b|\bg/m|\bgsm\b|\bcontact\b|\bcall us\b|\bquestions?\b|\bprices?\b|\bcopies\b|\bturnaround\b"
    r"|\blieferzeit\b|\bpapier\b|\bmerci !)"
)
_MOST = 100
_NO_SENTENCE = 12
"""Characters; what is shorter demands something only where it has a number."""


def not_read(
    statements: Sequence[Statement], claims: Sequence[Claim], numbers: Mapping[int, Sequence[Amount | Size]]
) -> list[Statement]:
    """Statements that look like a demand on the file and that no claim came from. `numbers` are by the place of the statement."""
    used = sorted((claim.start, claim.end) for claim in claims)
    reach = list(accumulate((end for _, end in used), max))
    found: list[Statement] = []
    for one in statements:
        if len(found) >= _MOST:
            break
        if _touched(used, reach, one) and not _has_a_number_left(used, one, numbers.get(one.start, ())):
            continue
        has_number = any(not isinstance(number, Size) for number in numbers.get(one.start, ()))
        demanded = (has_number or len(one.text) > _NO_SENTENCE) and _DEMAND.search(one.text) is not None
        if not (has_number or demanded) or _NO_DEMAND.search(one.text):
            continue
        label = f"{one.label} {one.heading}"
        if (has_number and demanded) or _TECHNICAL.search(one.text) or (has_number and _TECHNICAL.search(label)):
            found.append(one)
    return found


def _has_a_number_left(used: Sequence[tuple[int, int]], one: Statement, numbers: Sequence[Amount | Size]) -> bool:
    """Whether a sentence that a claim came from holds a length, size of type or resolution that none has taken."""
    near = used[bisect_left(used, (one.start - _REACH, 0)) : bisect_left(used, (one.end, 0))]
    mine = [place for place in near[-_MOST:] if place[1] > one.start]
    last = -_TWIN
    for number in numbers:
        if isinstance(number, Size) or number.kind not in ("length", "points", "ppi"):
            continue
        start, end = one.start + number.start, one.start + number.end
        if any(first < end and start < behind for first, behind in mine):
            last = end
        elif start - last > _TWIN and not _SAID_OF_OTHERS.search(one.text):
            return True
    return False


_REACH = 200
"""Characters that a claim may begin before its sentence."""
_TWIN = 14
"""Characters between a number and the same in another unit: '3 mm (1/8 in)'."""
_SAID_OF_OTHERS = re.compile(
    r"\b(?:e\.g|for example|z\. ?b|beispiel\w*|exemple|72 ?dpi|toleran\w*|shift\w*|because"
    r"|weil|car)\b"
)


def untouched(statements: Sequence[Statement], claims: Sequence[Claim], unread: Sequence[Statement]) -> Iterator[Statement]:
    """Statements that neither a claim came from nor look like a demand."""
    used = sorted((claim.start, claim.end) for claim in claims)
    reach = list(accumulate((end for _, end in used), max))
    open_ones = {one.start for one in unread}
    return (one for one in statements if one.start not in open_ones and not _touched(used, reach, one))


def _touched(used: Sequence[tuple[int, int]], reach: Sequence[int], one: Statement) -> bool:
    """`reach`: how far the first of `used`, the first two, and so on go."""
    before_its_end = bisect_left(used, (one.end, 0))
    return before_its_end > 0 and reach[before_its_end - 1] > one.start


_EVERY_SHEET_SAYS: tuple[tuple[str, str], ...] = (
    ("trim", to_say("No trimmed size is stated: what are the width and height?")),
    ("bleed", to_say("No bleed is stated: how far must backgrounds run past the trim?")),
    ("margin", to_say("No safety margin is stated: how far must text stay from the trim?")),
    ("color.allowed", to_say("No colours are stated: does the printer take CMYK only?")),
    ("images.contone_ppi", to_say("No resolution of pictures is stated: how many ppi are the least?")),
    ("fonts", to_say("Nothing is said of fonts: must they be embedded?")),
)


def silent(paths: Sequence[str], doubts: Sequence[Doubt]) -> Iterator[Doubt]:
    """One question for each thing that the text should have said."""
    said = [*paths, *(doubt.about for doubt in doubts)]
    for about, question in _EVERY_SHEET_SAYS:
        if not any(path == about or path.startswith(f"{about}.") or about.startswith(f"{path}.") for path in said):
            yield Doubt(about, say(question))
    if any(path.startswith("images.contone_ppi") for path in said) and not any(
        path.startswith("images.bilevel_ppi") for path in said
    ):
        question = say("The resolution is said without a word on line art: does 1-bit art need more?")
        yield Doubt("images.bilevel_ppi", question)
