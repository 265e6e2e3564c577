"""Crop marks: there or not."""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import islice

from service.sheets.prose.claims.claim import Claim
from service.sheets.prose.claims.topics import MARKS
from service.sheets.prose.words.frames import ASKED_WHETHER, ASKS, YES, asks, stance_of
from service.sheets.prose.words.qualifiers import hedged
from service.sheets.prose.words.statements import Statement

_MARKS_AT_ALL = re.compile(
    r"\b(?:printer'?s?'? |any |page |printing |all |other )*(?:marks|(?<=printing )mark)(?: of any kind| and bleeds)?\b"
    r"|\bdruckermarken\b"
    r"|\b(?:keine? )?(?:druck|hilfs)(?:marken|zeichen)\b|\breperes?(?: d'impression)?\b(?! d['e](?! ?(?:coupe|rogne|montage)))"
    r"|\bmarken\b|\bmarques\b"
)
_OTHER_MARKS = re.compile(
    r"\b(?:regist\w+|fold(?:ing)?|punch|bleed|page|question|pass|falz|safety|watermark|water|colou?r|score|crease|trade"
    r"|centre|center|exclamation)s? ?-?marks?\b|\bpasser\w*|\bmarques? (?:de fabrique|deposee)"
)
_SUCH_AS = re.compile(r"\b(?:such as|like|e\.g\.|z\. ?b\.|wie z|including|incl\w*|tels? que?|comme)\b")
_NO_THANKS = re.compile(
    r"(?:no|nein|non)\b[,.]? (?:please |bitte )?(?:leave them (?:off|out)|do not|don't|remove|turn|lassen sie|nicht|ne )[^.;]*"
)
_AN_IMPOSSIBLE_CASE = re.compile(
    r"\b(?:proofs?|hard copy|hardcopy|laser|print-?outs?|ausdruck\w*|composite|postscript|if possible|where possible"
    r"|nach moglichkeit|wenn moglich|si possible)\b|\b(?:without either|there is no way)\b"
)


def read_crop_marks(statement: Statement) -> Iterator[Claim]:
    """Other marks (fold, register) said alone claim nothing of crop marks; 'printer's marks' are crop marks where none may be."""
    text = statement.text
    if statement.is_heading or _AN_IMPOSSIBLE_CASE.search(text):
        return
    named = list(islice(MARKS.finditer(text), _MOST_MARKS))
    if named and (gone := _REMOVE_THEM.match(text)):
        yield Claim("marks.crop_marks", "forbidden", statement.start, statement.start + gone.end())
        return
    others = (one for one in _MARKS_AT_ALL.finditer(text) if not _OTHER_MARKS.search(text, max(0, one.start() - 14), one.end()))
    matches = named or list(islice(others, 1))
    if not matches:
        labelled = MARKS.fullmatch(statement.heading) and _ANSWERED.fullmatch(text)
        if labelled:
            said = "forbidden" if labelled["no"] else "required"
            yield Claim("marks.crop_marks", said, statement.start, statement.start + len(text.rstrip(" .!")))
        elif statement.heading.endswith("?") and MARKS.search(statement.heading):
            if no := _NO_THANKS.match(text):
                yield Claim("marks.crop_marks", "forbidden", statement.start, statement.start + no.end())
            elif YES.match(text) and ASKED_WHETHER.match(statement.heading):
                yield Claim("marks.crop_marks", "required", statement.start, statement.start + len(text.rstrip(" .!")))
        return
    for match in matches:
        if needs := _needs_of_marks(statement, match, named=bool(named)):
            yield Claim("marks.crop_marks", needs, statement.start + match.start(), statement.start + match.end())
            return


_MOST_MARKS = 6
_ANSWERED = re.compile(r"(?:(?P<no>no|none|off|keine|nein|aucun|non)|yes|on|required|ja|oui)\W*")
"""'Crop marks' over 'None'."""
_REMOVE_THEM = re.compile(
    r"(?:if|when|where) (?:your|the) \w+ (?:has|have|contains?|includes?) (?:any )?[\w' ]{0,12}marks, (?:please )?"
    r"(?:remove|delete|turn|switch|leave) (?:them|these)\b"
)
"""'If your file has crop marks, please remove them.'"""
_WHERE_NOT = re.compile(
    r"\b(?:inside|within|in the|in (?:live|bleed|image)|innerhalb|ins|dans|in den|im|overlap|touch|on the artwork|live"
    r"|area|too close|interfere|a l'interieur|into|appear in)\b[^.;]{0,50}$|\bwithin\b|\binnerhalb\b|\binside the\b|\binto the\b"
    r"|\bin (?:the )?(?:live|bleed|image)|\bempiet\w*|\bchevauch\w*|\bdeborde(?:r|nt)\b|\bhineinr\w*|\bberuhren\b"
    r"|\babfallbereich\b|\bbleed area\b|\bdans (?:le|la)\b[^.;]{0,12}\b(?:zone|fond)|\b(?:im|in den) (?:be|an)schnitt"
)
_HALF_DENIED = re.compile(
    r"\bnicht (?:unbedingt|zwingend|notwendig\w*)\b|\bnot (?:necessarily|strictly)\b|\bcelles?\b|\bonly\b|\bnur\b"
    r"|\bif possible\b|\bwenn moglich\b|\bseulement\b|\bunless\b"
)


_AS_THE_EDGE = re.compile(
    r"[0-9] ?(?:mm|cm|pt)\b[^.;,0-9]{0,40}\b(?:du|des|aux?|vom|von den|von der|zu den|zum|zur|from the|from|inside the) $"
)
"""'No text within 3 mm of the crop marks' refuses none."""
_WHERE_THEY_STAND = re.compile(
    r"\bnot (?:be |stand |sit )?(?:placed |set )?(?:any )?(?:closer|nearer|less|within)\b|[0-9\"] ?(?:mm|cm|in\w*|pt)?\.? off\b"
)
"""'Marks must not be closer than 3 mm' refuses none."""
_BEYOND_THEM = re.compile(
    r"\b(?:closer|nearer|within|inside|away)\b[^.;]{0,24}\b(?:than|to|of|from) (?:the |your |any )?$"
    r"|\b(?:outside|inside|within|beyond|past|over|between|near)(?: of)? (?:the |your |any )?$"
)
_OF_SOME_PAGES = re.compile(r"\bother than\b|\bon (?:the )?(?:inner|inside|interior|cover|text) pages?\b")
_FORGET = re.compile(
    r"\b(?:don't|do not|never) forget\b|\bn'?oublie[zr]? (?:pas|jamais)\b|\bvergessen sie (?:\w+ )?nicht\b|\bnicht vergessen\b"
)


def _needs_of_marks(statement: Statement, match: re.Match[str], *, named: bool) -> str | None:
    """'required', 'forbidden' or 'allowed', where the words at the match say so of all of the file."""
    text = statement.text
    if not named and _OTHER_MARKS.search(text) and not _SUCH_AS.search(text[match.end() :]) and "(" not in text[match.end() :]:
        return None
    if _AS_THE_EDGE.search(text[: match.start()]):
        return None
    stance = stance_of(statement, *match.span())
    if _FORGET.search(text[: match.start()]):
        stance = "claimed"
    if stance == "claimed" and _listed_as_denied(text, match):
        stance = "denied"
    if not named and stance != "denied":
        return None
    if stance == "denied":
        before, after = text[: match.start()], text[match.end() :]
        # where they may not stand is another demand
        where = _WHERE_NOT.search(after[:60].rstrip(" .!")) or _BEYOND_THEM.search(before)
        bleed_alone = re.search(
            r"\bbleed(?:s|ing)?\b[^.;]{0,40}(?<!and )(?<!but )(?<!, )\b(?:not|no|without)\b[^.;]{0,12}$", before
        )
        some = _OF_SOME_PAGES.search(after) or _WHERE_THEY_STAND.search(after) or _HALF_DENIED.search(text)
        if where or bleed_alone or some or not asks(statement, *match.span()):
            return None
    if stance == "claimed" and (hedged(text) or not _claims_marks(text, match, statement)):
        return None
    return {"denied": "forbidden", "allowed": "allowed", "claimed": "required"}.get(stance or "")


def _listed_as_denied(text: str, match: re.Match[str]) -> bool:
    """'Please avoid printing marks, such as fold, trim or punch marks': the list is of what is not wanted."""
    before = text[: match.start()]
    denied = re.search(r"\b(?:not|no|avoid\w*|never|without|kein\w*|vermeid\w*|ohne|nicht|sans|pas|aucun\w*|evit\w*)\b", before)
    if denied is None or _NOT_MEANT.match(before, denied.start()):
        return False
    if re.search(r"[.;]|\b(?:but|aber|mais|sondern)\b", before[denied.end() :]):
        return False
    return (
        _SUCH_AS.search(before[denied.end() :]) is not None
        or re.search(r"\bmark|zeichen|repere|marken", before[denied.end() :]) is not None
    )


_NOT_MEANT = re.compile(r"not (?:intended|meant|supposed|part)\b")


_WHERE = re.compile(r"\b(?:off-?set|distance|position)\b[^.;,]{0,12}$|\b(?:place|position|set) (?:the |your |all |any )*$")
"""'Place crop marks 3 mm outside the trim' says where they stand."""


def _claims_marks(text: str, match: re.Match[str], statement: Statement) -> bool:
    """A mark that is only spoken of ('5 mm inside the crop marks') is not claimed."""
    before, after = text[max(0, match.start() - 45) : match.start()], text[match.end() : match.end() + 60]
    if _WHERE.search(before) and re.search(r"[0-9]", after):
        return False
    if re.search(
        r"\b(?:from|inside|within|beyond|past|outside|between|touch\w*|if|when|vom|von den|des|aux|au-dela|wenn|should you|any"
        r"|the|si|les|die|den|der|entre|par|follow\w*|to)\b[^,;]{0,12}$",
        before,
    ) and not re.search(
        r"\b(?:with|include|including|add|show|indicate|supply|place|need|mit|avec|ajout\w*|inclu\w*|have|comporter|comportent"
        r"|contenir|contiennent|presenter|contain)\b(?: \w+){0,3}[^,;]{0,12}$",
        before,
    ):
        return _passive(after)
    if re.match(
        r"\s*[:|]?\s*(?:yes|ja|oui|on|an)\b|\s*[:|]\s*(?:yes|ja|oui|required|on|with|include\w*|enabled?|visible|shown"
        r"|erforderlich|mit|obligatoire\w*|avec|set|at least|min)",
        after,
    ):
        return True
    if _MUST_HOLD.search(before) and _HOLD.match(after):
        return True
    if re.match(
        r"\s*(?:must|should|need to|have to|are|is)\s+(?:be |stand |lie |sit )?(?:offset|at least|placed|outside"
        r"|positioned|[0-9])",
        after,
    ):
        return False  # where they stand is another demand
    if _passive(after) or re.search(
        r"\b(?:with|include|including|add|adding|required|need|please|want|must|mit|avec|ajout\w*|set|turn on|show\w*|supply"
        r"|supplied|indicate\w*"
        r"|forget|oubliez|vergessen|marks on|on,|inkl\w*|incl\w*|inclu\w*|comport\w*|contenir|enthalten|aufweisen"
        r"|mettre|mettez|indiquer|select|enable|tick|switch on|activate|place|prevoir|bitte"
        r"|require|incorporate|contain\w*|have|versehen)\b",
        before,
    ):
        return asks(statement, *match.span()) or len(text.split()) <= 10
    if not (before + after).strip(" .;,") and ASKS.search(statement.lead):
        return True  # 'Please supply:' over the item 'crop marks'
    listed = re.search(r"(?:^|[,;+&/]|\s-|\band|\bund|\bet)\s?$", before)
    if listed and re.match(r"\s?(?:$|-\s|[,;.+&/]|\band\b|\bund\b|\bet\b)", after):
        return _A_LIST_OF_DEMANDS.search(text) is not None and _STATES_A_FACT.search(text) is None
    return re.search(r"^[^a-z]*$", before + after) is not None or (
        re.search(r"\b(?:and|und|et|plus|&|\+)\s$", before) is not None and len(text.split()) <= 10
    )


_MUST_HOLD = re.compile(r"\b(?:muss|mussen|soll|sollen|sollte|sollten) (?:\w+ ){0,2}$")
_HOLD = re.compile(r"[^.;]{0,50}\b(?:enthalten|aufweisen|haben|besitzen|beinhalten)\b")
"""'The PDF muss Schnittmarken und 3 mm Beschnitt enthalten.'"""
_A_LIST_OF_DEMANDS = re.compile(
    r"[0-9] ?(?:mm|cm|dpi|ppi|ppp|in\b|\"|%)|\bpdf\b|\bcmyk\b|\bcmjn\b|\bembed|\beingebett|\bincorpor"
)
_STATES_A_FACT = re.compile(
    r"\b(?:is|are|will|can|may|ist|sind|kann|konnen|wird|werden|est|sont|peut|peuvent|from|to the|between|beyond|inside"
    r"|outside)\b"
)


def _passive(after: str) -> bool:
    """'… must be included', 'müssen vorgesehen sein', 'sont obligatoires'."""
    return re.search(
        r"^[^.;,]{0,30}\b(?:are|is|sind|ist|sont) (?:required|mandatory|erforderlich|obligatoires?)\b", after
    ) is not None or (
        re.match(
            r"\s*(?:\([^()]*\)\s*)?(?:(?:and|und|et|sowie|&) (?:les )?[\w-]+(?: de [\w-]+)?\s+)?(?:must|should|need to"
            r"|have to|ought to|are to|is to|to"
            r"|are|is|mussen|muss|sollen|sollten|sind|ist|doivent|doit|sont"
            r"|est)?\s*(?:be |also |always |clearly )*(?:required|mandatory|needed|identified|indicated|displayed"
            r"|turned on|in place|enabled"
            r"|included|supplied|added|shown|visible|necessary|set|incorporated|provided|erforderlich|notwendig|vorgesehen"
            r"|angelegt|vorhanden|enthalten|anlegen|hinzufugen|mitgeliefert|mitgedruckt"
            r"|obligatoires?|necessaires?|etre (?:inclus|presents?|visibles?|ajoutes?|prevus?|poses?|indiques?)"
            r"|presents?|switched on|figurer|apparaitre)\b",
            after,
        )
        is not None
    )
