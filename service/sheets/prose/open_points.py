"""What a reading leaves open: demands that were seen and not read, and things that a sheet should say and the text does not."""

from __future__ import annotations

import re
from bisect import bisect_left
from collections.abc import Collection, Iterator, Mapping, Sequence
from itertools import accumulate

from service.language.spoken import say, to_say
from service.sheets.prose.claims.claim import Claim, Doubt
from service.sheets.prose.words.amounts import Amount
from service.sheets.prose.words.sizes import Size
from service.sheets.prose.words.statements import Statement

_DEMAND = re.compile(
    r"(?:\bmust\b|\bshould\b|\bplease\b|\brequired?\b|\bdo not\b|\bdon't\b|\bnever\b|\bno\b|\bonly\b|\bset\b|\buse\b"
    r"|\bleave\b|\ballow\b|\badd\b|\bstay\b|\bplace\w*\b|\bat least\b|\bleast\b|\bmost\b|\bconvert\w*|\bsupply\b|\bsend\b"
    r"|\bavoid\b|\bnot\b|\bneeds?\b|\bmake sure\b|\bensure\b|\bkeep\b"
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
_OBJECTS: tuple[tuple[str, re.Pattern[str]], ...] = tuple(
    (block, re.compile(words))
    for block, words in (
        ("trim", r"\b(?:trim size|finished size|final size|page size|endformat|format fini)\b|[0-9] ?(?:mm|cm|in|po"
            r"|\")? ?x ?[0-9]"),
        ("bleed", r"bleed|anschnitt|beschnitt|fonds? perdu|debord"),
        ("margin", r"\bmargins?\b|\bsaf(?:e|ety)\b|\bfrom the (?:\w+ )?edge|sicherheits|randabstand|\bmarges?\b"
            r"|zone tranquille"),
        ("marks", r"\b(?:crop|trim|cut|cutting|registration|printers?'?)[ -]?marks?|\bcrops\b|schnittmark|schneidmark"
            r"|passermark|passkreuz"
         r"|traits? de coupe|reperes? de|hirondelle"),
        ("color", r"\bcmyk|\bcmjn|\brgb\b|\brvb\b|spot colou?r|pantone|sonderfarb|schmuckfarb|tons? directs?|farbraum"
            r"|gr[ae]yscale|graustufen"
         r"|quadri|ink coverage|farbauftrag|encrage|rich black"),
        ("images", r"resolution|auflosung|\bdpi\b|\bppi\b|\bppp\b"),
        ("black", r"black text|textes? noirs?|schwarze\w* (?:text|schrift)\w*|texts? (?:is|are) in black|text in (?:100|pure)"),
        ("reversed", r"revers|\bnegativ|en reserve|\bwhite (?:text|type)"),
        ("text", r"\bpoint size|type size|font size|schriftgro|schriftgrad|\bcorps\b|\bpoints?\b|[0-9] ?pt\b"),
        ("lines", r"hairlines?|line (?:weight|width|thickness)|stroke (?:weight|width)|haarlinie|linienstark|strichstark"
            r"|epaisseur des traits|filets?\b"),
        ("fonts", r"fonts?\b|schrift(?:en|art)|\bpolices?\b|typefaces?"),
        ("outlines", r"outlin\w+|\bcurves?\b|vectoris|\bpfade?n?\b|\bkurven\b|\bcourbes?\b|\bpaths\b"),
        ("layers", r"\blayers?\b|ebenen?\b|\bcalques?\b|\bcouches\b"),
        ("transparency", r"transparen|flatten|verflach|aplati|reduzier"),
        ("versions", r"pdf\W{0,3}(?:version )?1[.,][3-7]|pdf[/ ]?x|acrobat [4-9]|pdf-version|\bversion 1[.,][3-7]"),
        ("separations", r"composite|separat(?:ed|ion)|separiert|vorsepar|\bsepar(?:e|ation)"),
        ("screening", r"halftone|screening|rasterung|\blpi\b|trame|transfer ?(?:curves?|kurven|functions?)|\bopi\b"),
        ("overprint", r"overprint|uberdruck|surimpression|knock ?out|aussparen"),
        ("pages", r"single pages?|spreads?\b|einzelseite|doppelseite|multiple of|divisible|teilbar|vielfache|pages? simples?"
            r"|multiples? de"
         r"|[0-9] (?:to|bis|a) [0-9]+ (?:pages|seiten)|rotat(?:ed|ion)|gedreht"),
        ("annotations", r"annotation|comments?\b|kommentar|form fields?|formularfeld|commentaires?"),
    )
)
"""What a sheet has a demand for, by the words that name it."""
_KEYS_OF = {
    "black": "text.black_alone",
    "reversed": "text.reversed",
    "text": "text.minimum",
    "outlines": "fonts.outlines",
    "fonts": "fonts.embedded",
    "layers": "file.layers",
    "versions": "file.",
    "separations": "file.separations",
    "screening": "file.screening",
    "overprint": "levels.ink",
    "annotations": "levels.page",
}
"""Whose values stand elsewhere than in the block of that name."""
_ASKS_OF_FILES = re.compile(
    r"(?<!to )(?<!for )\b(?:must|should|shall|have to|has to|needs? to|required?|please|ensure|make sure|do not|don't|never"
    r"|only|no|without|avoid"
    r"|remove|convert\w*|outlin\w*|embed\w*|flatten\w*|set|supply|supplied|include\w*|delete|are to be|is to be|minimum"
    r"|at least|maximum|allowed"
    r"|accepted|muss\w*|soll\w*|bitte|nicht|kein\w*|ohne|nur|mindestens|mind|max|maximal|doi\w+|devez|veuillez|ne|pas|sans"
    r"|minimum|a condition|vectoris\w+"
    r"|convert\w+|incorpor\w+|integre\w*|incluez|eingebettet|einbetten|anlegen|anzulegen|verwend\w*|konvertier\w*|umwandel\w*"
    r"|vermeiden|entfern\w*)"
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
    said = {claim.path for claim in claims}
    for one in statements:
        if len(found) >= _MOST:
            break
        touched = _touched(used, reach, one)
        if _names_what_nothing_says(one, said, touched=touched):
            found.append(one)
            continue
        if touched and not _has_a_number_left(used, one, numbers.get(one.start, ())):
            continue
        has_number = any(not isinstance(number, Size) for number in numbers.get(one.start, ()))
        demanded = (has_number or len(one.text) > _NO_SENTENCE) and _DEMAND.search(one.text) is not None
        if not (has_number or demanded) or _NO_DEMAND.search(one.text):
            continue
        label = f"{one.label} {one.heading}"
        if (has_number and demanded) or _TECHNICAL.search(one.text) or (has_number and _TECHNICAL.search(label)):
            found.append(one)
    return found


def _names_what_nothing_says(one: Statement, said: Collection[str], *, touched: bool) -> bool:
    """Whether it demands something of an object of a sheet; where a claim came of it, of one that nothing was read of."""
    if one.is_heading or one.is_a_question or _ASKS_OF_FILES.search(one.text) is None or _A_SERVICE.search(one.text):
        return False
    named = [block for block, words in _OBJECTS if words.search(one.text)]
    return bool(named) and (
        not touched or any(not any(path.startswith(_KEYS_OF.get(block, f"{block}.")) for path in said) for block in named)
    )


_A_SERVICE = re.compile(
    r"\b(?:prices?|turnaround|delivery|lieferzeit|preise?|prix|invoice|refund|our team|contact us|call us|phone|telefon"
    r"|copies of)\b|\bwe (?:will|can|offer|convert|check)\b"
)


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
