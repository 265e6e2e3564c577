"""Fonts and crop marks: things that are there or not."""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import islice

from service.sheets.prose.claims.claim import Claim
from service.sheets.prose.claims.topics import MARKS
from service.sheets.prose.words.frames import ASKS, asks, stance_of
from service.sheets.prose.words.qualifiers import hedged
from service.sheets.prose.words.statements import Statement

_FONTS = re.compile(
    r"\bfonts?\b|\btypefaces?\b|\bschrift(?:en|arten|art|satze|fonte?n?)?\b|\bpolices?\b|\btypes?\b|\btext\w*|\bcaracteres\b"
    r"|\btypographies\b|\bfontes?\b|\bzeichensatze\b|\bfonds mussen\b"
)
_EMBED = re.compile(
    r"\bembed\w*|\beingebettet\w*|\b(?:ein(?:zu)?|mit ein)(?:ge)?b(?:e|i)tt\w*|\bbetten\b[^.;]{0,80}\bein\b|\beinzubinden\b"
    r"|\beingebunden\w*|\beinbinden\b|\bincorpor\w*|\bintegri?e\w*|\bembarqu\w*"
    r"|\battach(?:ed)? (?:\w+ ){0,2}fonts?\b|\bfonts? (?:\w+ ){0,6}(?:attached|downloaded)\b(?= (?:to|in)\b)"
    r"|\bem- bed\w*|\bincluses?\b|\binclude(?:d)?(?: in the (?:pdf"
    r"|file))?\b|\bincludes? all fonts\b|\bsubset\w*|\beinge-?legt\b"
    r"|\bfonts must be included\b|\bmitgeliefert im pdf\b|\binkludier\w*|\bim pdf enthalten\b|\bin (?:der"
    r"|die) (?:pdf-?)?datei (?:enthalten|eingef\w+)\b"
    r"|\bpresentes dans le (?:pdf|fichier)\b|\bin the (?:pdf|file)\b(?= (?:itself )?(?:must|should))"
)
_OUTLINED = re.compile(
    r"\boutlin\w*|\bconver\w+ (?:\w+ ){0,3}(?:to|into) (?:outlines?|curves|paths|vectors?|shapes)|\b(?:to|as|into) (?:outlines?"
    r"|curves|paths)\b|\bcurves\b|\bcurved\b"
    r"|\w*pfade?n?\b|\bkurven\b|\bvektorisier\w*|\bvectoris\w*|\bcourbes?\b|\btraces\b|\bnachgezeichnet\b|\brasteri[sz]\w*"
    r"|\brastern\b|\bgerastert\b|\bflattened\b"
)
_MARKS_AT_ALL = re.compile(
    r"\b(?:printer'?s?'? |any |page |printing |all |other )*(?:marks|(?<=printing )mark)(?: of any kind| and bleeds)?\b"
    r"|\bdruckermarken\b"
    r"|\b(?:keine? )?(?:druck|hilfs)(?:marken|zeichen)\b|\breperes?(?: d'impression)?\b|\bmarken\b|\bmarques\b"
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


_YES = re.compile(r"(?:a: )?(?:yes|ja|oui)\b(?![^.]{0,40}\b(?:but|or|aber|oder|mais|ou)\b)")
_SHOULD = re.compile(
    r"(?:q: )?(?:should|must|do (?:i|you|we|my|your)|are|mussen|sollen|soll|muss|brauch\w*|dois-je|faut-il|doit-on)\b[^?]*\?"
)
"""'Must fonts be embedded?' over 'Yes.'"""


def read_fonts(statement: Statement) -> Iterator[Claim]:
    """Embedded, or embedded or outlined: a font that is not embedded breaks both. Outlines alone are another demand."""
    text = statement.text
    words = f"{statement.label} {statement.heading}"
    asked = _SHOULD.match(statement.heading) and _EMBED.search(statement.heading) and _FONTS.search(statement.heading)
    if asked and _YES.match(text):
        yield Claim("fonts.embedded", "required", statement.start, statement.start + len(text.rstrip(" .!")))
        return
    embed = _EMBED.search(text)
    fonts = _FONTS.search(text) or _FONTS.search(words)
    if fonts is None or embed is None:
        return
    if re.search(
        r"\b(?:images?|profiles?|pictures?|bilder|profil\w*|icc|links?|logos?|graphics|wrapper)\b", text
    ) and not re.search(r"\bfonts?\b|\bschrift|\bpolices?\b|\btype|\btypo", text):
        return
    for match in _EMBED.finditer(text):
        if _OF_PICTURES.search(text[: match.start()]) and not _OF_BOTH.search(text[: match.start()]):
            continue
        if match.group().startswith("includ") and not re.search(r"\bfonts\b[^.;]{0,30}$", text[: match.start()]):
            continue
        stance = stance_of(statement, *match.span())
        if stance in ("unneeded", "allowed", None) or not asks(statement, *match.span()):
            continue
        if stance == "denied" and not _denied_otherwise(text, match):
            continue
        own = _FONTS.search(text)
        start = min(own.start(), match.start()) if own else match.start()
        end = max(own.end(), match.end()) if own else match.end()
        if end - start > 200:
            start, end = match.span()
        yield Claim("fonts.embedded", "required", statement.start + start, statement.start + end)
        return


_OF_PICTURES = re.compile(
    r"\b(?:and|und|et|or|,) (?:all |any |alle |toutes? les |tous les |les )?(?:\w+ )?(?:images?|pictures?|graphics?"
    r"|links?|photos?|files|bilder|grafiken"
    r"|logos?)(?: (?:must|should|are|is|be|to|mussen|sollen|doivent|etre|need|files|linked))* $"
)
"""'All fonts must be outlined and images embedded.'"""
_OF_BOTH = re.compile(
    r"\b(?:fonts?|schrift(?:en|arten)?|polices?|typefaces?) (?:and|und|et|&|sowie) (?:all |any |alle |toutes? les |tous les "
    r"|les )?"
    r"(?:\w+ )?(?:images?|pictures?|photos?|graphics|bilder|grafiken|logos?)"
    r"(?: (?:must|should|are|is|be|to|mussen|sollen|sind|doivent|etre|all|vollstandig|komplett))* $"
)
"""'All fonts and images must be embedded.'"""


def _denied_otherwise(text: str, match: re.Match[str]) -> bool:
    """'Fonts that are not embedded are refused', 'embedded, not outlined'."""
    before = text[max(0, match.start() - 30) : match.start()]
    if re.search(r"\b(?:do not|don't|need not|not|ne|nicht|pas|kein\w*)\s(?:be )?(?:\w+ )?$", before):
        return (
            re.search(
                r"\b(?:refus\w*|reject\w*|cannot|can't|error|problem\w*|zuruck\w*|replaced|substitut\w*)\b", text[match.end() :]
            )
            is not None
        )
    return True


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
        if statement.heading.endswith("?") and MARKS.search(statement.heading):
            if no := _NO_THANKS.match(text):
                yield Claim("marks.crop_marks", "forbidden", statement.start, statement.start + no.end())
            elif _YES.match(text) and _SHOULD.match(statement.heading):
                yield Claim("marks.crop_marks", "required", statement.start, statement.start + len(text.rstrip(" .!")))
        return
    for match in matches:
        if needs := _needs_of_marks(statement, match, named=bool(named)):
            yield Claim("marks.crop_marks", needs, statement.start + match.start(), statement.start + match.end())
            return


_MOST_MARKS = 6
_REMOVE_THEM = re.compile(
    r"(?:if|when|where) (?:your|the) \w+ (?:has|have|contains?|includes?) (?:any )?[\w' ]{0,12}marks, (?:please )?"
    r"(?:remove|delete|turn|switch|leave) (?:them|these)\b"
)
"""'If your file has crop marks, please remove them.'"""
_WHERE_NOT = re.compile(
    r"\b(?:inside|within|in the|in (?:live|bleed|image)|innerhalb|ins|dans|in den|im|overlap|touch|on the artwork|live"
    r"|area|too close"
    r"|interfere|a l'interieur|into|appear in)\b[^.;]{0,50}$|\bwithin\b"
    r"|\binnerhalb\b|\binside the\b|\binto the\b"
    r"|\bin (?:the )?(?:live|bleed|image)"
    r"|\bempiet\w*|\bchevauch\w*|\bdeborde(?:r|nt)\b|\bhineinr\w*|\bberuhren\b"
    r"|\babfallbereich\b|\bbleed area\b|\bdans (?:le|la)\b[^.;]{0,12}\b(?:zone|fond)|\b(?:im|in den) (?:be|an)schnitt"
)
_HALF_DENIED = re.compile(
    r"\bnicht (?:unbedingt|zwingend|notwendig\w*)\b|\bnot (?:necessarily|strictly)\b|\bcelles?\b|\bonly\b|\bnur\b"
    r"|\bif possible\b|\bwenn moglich\b|\bseulement\b|\bunless\b"
)


_WHERE_THEY_STAND = re.compile(
    r"\bnot (?:be |stand |sit )?(?:placed |set )?(?:any )?(?:closer|nearer|less|within)\b|[0-9\"] ?(?:mm|cm|in\w*|pt)?\.? off\b"
)
"""'Marks must not be closer than 3 mm' refuses none."""
_BEYOND_THEM = re.compile(r"\b(?:outside|inside|within|beyond|past|over|between|near)(?: of)? (?:the |your |any )?$")
_OF_SOME_PAGES = re.compile(r"\bother than\b|\bon (?:the )?(?:inner|inside|interior|cover|text) pages?\b")
_FORGET = re.compile(
    r"\b(?:don't|do not|never) forget\b|\bn'?oublie[zr]? (?:pas|jamais)\b|\bvergessen sie (?:\w+ )?nicht\b|\bnicht vergessen\b"
)


def _needs_of_marks(statement: Statement, match: re.Match[str], *, named: bool) -> str | None:
    """'required', 'forbidden' or 'allowed', where the words at the match say so of all of the file."""
    text = statement.text
    if not named and _OTHER_MARKS.search(text) and not _SUCH_AS.search(text[match.end() :]) and "(" not in text[match.end() :]:
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
        r"|the"
        r"|si|les|die|den|der|entre|par|follow\w*|to)\b[^,;]{0,12}$",
        before,
    ) and not re.search(
        r"\b(?:with|include|including|add|show|indicate|supply|place|need|mit|avec|ajout\w*|inclu\w*|have"
        r"|contain)\b(?: \w+){0,3}[^,;]{0,12}$",
        before,
    ):
        return _passive(after)
    if re.match(
        r"\s*[:|]?\s*(?:yes|ja|oui|on|an)\b|\s*[:|]\s*(?:yes|ja|oui|required|on|with|include\w*|enabled?|visible|shown|erforderlich|mit"
        r"|obligatoire\w*|avec|set|at least|min)",
        after,
    ):
        return True
    if re.match(
        r"\s*(?:must|should|need to|have to|are|is)\s+(?:be |stand |lie |sit )?(?:offset|at least|placed|outside"
        r"|positioned|[0-9])",
        after,
    ):
        return False  # where they stand is another demand
    if _passive(after) or re.search(
        r"\b(?:with|include|including|add|adding|required|need|please|want|must|mit|avec|ajout\w*|set|turn on|show\w*|supply"
        r"|supplied"
        r"|indicate\w*"
        r"|forget|oubliez|vergessen|marks on|on,|inkl\w*|incl\w*|inclu\w*|comport\w*|contenir|enthalten|aufweisen"
        r"|mettre|mettez|indiquer|select|enable|tick|switch on|activate|place|prevoir|bitte"
        r"|require|incorporate|contain\w*|have|versehen)\b",
        before,
    ):
        return asks(statement, *match.span()) or len(text.split()) <= 10
    if not (before + after).strip(" .;,") and ASKS.search(statement.lead):
        return True  # 'Please supply:' over the item 'crop marks'
    if re.search(r"(?:^|[,;+&/]|\band|\bund|\bet)\s?$", before) and re.match(r"\s?(?:$|[,;.+&/]|\band\b|\bund\b|\bet\b)", after):
        return _A_LIST_OF_DEMANDS.search(text) is not None and _STATES_A_FACT.search(text) is None
    return re.search(r"^[^a-z]*$", before + after) is not None or (
        re.search(r"\b(?:and|und|et|plus|&|\+)\s$", before) is not None and len(text.split()) <= 10
    )


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
            r"\s*(?:\([^()]*\)\s*)?(?:(?:and|und|et|sowie|&) (?:les )?[\w-]+(?: de [\w-]+)?\s+)?(?:must|should|need to|have to"
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
