"""The file itself: PDF/X, PDF version, size, passwords."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from itertools import islice

from service.sheets.format.file_block import PDF_VERSIONS, PDF_X
from service.sheets.prose.claims.claim import Claim, ScopeOf
from service.sheets.prose.words.amounts import Amount
from service.sheets.prose.words.frames import asks, stance_of
from service.sheets.prose.words.qualifiers import REFUSED, bound_of, regions, stance_on
from service.sheets.prose.words.statements import Statement

_MOST_STANDARDS = 20
"""Names in one statement; there are not more parts of ISO 15930."""
_BY_LOWER = {name.lower(): name for name in PDF_X}
_PART = r"(?P<part>[13456](?:a|pg|p|n|g)?)(?: ?: ?(?=20[0-9]{2})|:|(?: ?[(,-] ?| )(?=20[0-9]{2}))?"
_PART += r"(?P<year>(?<=[:( ,-])20[0-9]{2}\)?)?"
_FIRST_X = re.compile(rf"(?<![/])pdf ?[/-]? ?x ?[-:/]? ?{_PART}\b")
_NEXT_X = re.compile(rf"\b(?:(?:pdf ?[/-]? ?)?x|/) ?-? ?{_PART}\b")
_PREFERRED = re.compile(
    r"\bprefer\w*|\bideal\w*|\brecommend\w*|\bbest\b|\bbevorzug\w*|\bempf[eio]\w*hl\w*|\bde preference\b|\bconseill\w*"
    r"|\brecommand\w*|\bvorzugsweise\b|\bwhere possible\b|\bif possible\b|\bwenn moglich\b|\bam besten\b"
    r"|\bsi possible\b|\bprefere\w*|\bmoglichst\b|\berwunscht\b|\bsouhait\w*|\bsuggest\w*"
)
_OTHERS_TOO = re.compile(r"\b(?:accept\w*|also|too|akzept\w*|auch|aussi|egalement|or|oder|ou)\b")
_VERSION = re.compile(
    r"\b(?:pdf|pdf[- ]version|versions?|pdf-?spezifikation|(?:pdf )?compatib\w*(?: mode| level)?)\s?(?:version\s?|pdf\s?"
    r"|max\.? )?"
    r"[:|]?\s?(?:(?:must|should|shall) be |is "
    r"|muss |sollte |ist |doit etre |est )?(?:from |between |von |de |ab "
    r"|at least |minimum |min\. |mindestens )?(?P<low>[12]\.[0-7])(?:\s?(?:-|to|bis|a|and|und"
    r"|through|or|oder|ou|et|/)\s?(?:pdf )?(?P<high>[12]\.[0-7]))?(?!\.?[0-9])"
)
_EXACTLY = re.compile(r"\bmust be\b|\bmuss\b|\bdoit etre\b")
_SIZE_WORDS = re.compile(
    r"\bfile\w*|\bpdf\b|\bdatei\w*|\bfichier\w*|\bsize\b|\bupload\w*|\bgro(?:ss|ß)e\b|\bpoids\b|\btaille\b|\bdaten\b|\bmb\b"
)
_SIZE_TITLE = re.compile(r"\bsize\b|gro(?:ss|ß)e|taille|poids")
_SIZE_LABEL = re.compile(
    r"\b(?:size|limit|gro(?:ss|ß)e|taille|poids|dateigro\w*)\b[^.]{0,12}[:|]\s?(?:under|below|less than|up to|max\.?"
    r"|unter|bis|moins de)?\s?$"
)
_URGED = re.compile(r"\bmust\b|\bkeep\b|\bshould\b|\bmuss\b|\bdoit\b|\bplease\b|\bstay\b")
_BY_MAIL = re.compile(
    r"\be-?mails?\b|\bmail\b|\battach\w*|\bcourriel\b|\banhang\b|\bpiece jointe\b|\bcourriers?\b|\bwetransfer\b|\bftp\b"
    r"|\bper mail\b"
)
_PASSWORD = re.compile(
    r"\bpass-?words?\b|\bpassword[- ]?protect\w*|\bsecurity(?: settings?)?\b|\bencrypt\w*|\bpasswort\w*|\bkennwort\w*"
    r"|\bverschlussel\w*|\bmots? de passe\b|\bchiffr\w+|\bcrypte\w*|\bprotection\b|\bprotected\b|\block(?:ed|s)\b"
    r"|\bsicherheitseinstellung\w*|\bzugriffsbeschrank\w*"
    r"|\b(?:be|not|is|are) secured\b|\bdrm\b|\bgeschutzt\w*|\bprotege\w*|\brestrictions?\b|\bschreibschutz\w*|\bverrouill\w*"
)
_FREE_OF_LOCKS = re.compile(
    r"\bunencrypted\b|\bunlocked\b|\bunprotected\b|\bunverschlusselt\w*|\bungeschutzt\w*|\bnon (?:protege|crypte"
    r"|chiffre|verrouille)\w*|\bpassword-free\b|\bunsecured\b"
)


def read_standards(statements: Sequence[Statement], scope_of: ScopeOf) -> Iterator[Claim]:
    """Those claimed; where some are only preferred and others taken, all that are taken."""
    taken: list[tuple[str, bool, int, int]] = []
    for one in statements:
        for name, start, end in islice(_standards_in(one.text), _MOST_STANDARDS):
            stance = stance_of(one, start, end)
            if stance == "denied" and re.match(r"\s?(?:ohne|without|sans|with no)\b", one.text[end:]):
                stance = "claimed"
            if stance in ("denied", "unneeded") and not _is_the_exception(one.text, start):
                continue
            if not asks(one, start, end) or _only_compared(one.text, start, end):
                continue
            if scope := scope_of(one, start, end):
                yield Claim("file.standards", [name], one.start + start, one.start + end, scope=scope)
            else:
                taken.append((name, _only_preferred(one), one.start + start, one.start + end))
    if not taken:
        return
    firm = [one for one in taken if not one[1]]
    names = list(dict.fromkeys(name for name, *_ in taken))
    names = [name for name in names if ":" in name or not any(other.startswith(f"{name}:") for other in names)]
    first = (firm or taken)[0]
    yield Claim("file.standards", names, first[2], max(one[3] for one in taken if one[2] - first[2] < 60), 2)
    if not firm:
        yield Claim("file.standards_level", "should", first[2], first[3], 2)


def _only_compared(text: str, start: int, end: int) -> bool:
    """'X-1a, which like X-3 allows …', 'X-4 is based on PDF 1.6'."""
    before, after = text[max(0, start - 30) : start], text[end : end + 60]
    if re.search(
        r"\b(?:like|unlike|as in|than|wie|anders als|im (?:gegensatz|unterschied) zu|als bei|comme|contrairement a|based on"
        r"|basier\w*|successor (?:of|to)"
        r"|variant\w*)\b[^,.;]{0,12}$",
        before,
    ):
        return True
    if _OF_FILES_OF_THE_KIND.search(text[:start]):
        return True
    return (
        re.match(
            r"[^,.;]{0,12}\b(?:compliant software|compatible software|guidelines?|options\b|is based|is an? "
            r"|are (?!accept|requir|prefer|welcome|need|the )|basiert"
            r"|allows?|supports?|keeps?|preserves?|retains?|unterstutzt|erlaubt|kennt|est (?:un|une|base)|permet|(?:n'"
            r"|ne )?(?:accepte|gere|supporte"
            r"|autorise))\b",
            after,
        )
        is not None
    )


_OF_FILES_OF_THE_KIND = re.compile(
    r"\b(?:transparen\w*|flatten\w*|layers?|rgb|reduzier\w*|ebenen?|aplati\w*|calques?)\b[^.;,]{0,50}"
    r"\b(?:in|for|with|by|using|bei|fur|mit|dans|pour|en)\s(?:an? |all |einem |un )?$"
)
"""'Flatten transparency in X-1a files' asks for no X-1a."""


def _only_preferred(one: Statement) -> bool:
    """'X-4 is best, X-1a is also taken' prefers nothing that would be worth an observation."""
    others_too = _OTHERS_TOO.search(one.text) is not None and len(list(islice(_standards_in(one.text), 2))) > 1
    return _PREFERRED.search(one.label) is not None or (_PREFERRED.search(one.text) is not None and not others_too)


def _is_the_exception(text: str, start: int) -> bool:
    """'Nothing but PDF/X-4', 'no other format than PDF/X-4'."""
    return (
        re.search(
            r"\b(?:nothing but|no other|other than|except|nichts ausser|not accept\w* (?:any"
            r"|other))\b",
            text[max(0, start - 60) : start],
        )
        is not None
    )


def _standards_in(text: str) -> Iterator[tuple[str, int, int]]:
    match = _FIRST_X.search(text)
    while match is not None:
        if name := _standard(match):
            yield name, match.start(), match.end()
        following = _NEXT_X.search(text, match.end()) or _FIRST_X.search(text, match.end())
        if following is not None and following.start() - match.end() > 40:
            following = _FIRST_X.search(text, match.end())
        match = following


def _standard(match: re.Match[str]) -> str | None:
    part = "1a" if match["part"] == "1" else match["part"]
    exact = f"pdf/x-{part}:{(match['year'] or '').rstrip(')')}"
    return _BY_LOWER.get(exact) or _BY_LOWER.get(f"pdf/x-{part}")


_OR_OLDER = re.compile(
    r"\bpdfs?\b[^.;0-9]{0,40}\bin (?P<low>1\.[3-7]) or (?:lower|earlier|older)\b"
    r"|\bpdf(?:[- ]version)?s? (?:must|should|shall|may|can) ?not (?:be )?(?:higher|newer|later|above|exceed)(?: than)? "
    r"(?:version |pdf )?(?P<top>1\.[3-7])(?![0-9])"
    r"|\b(?:adobe )?acrobat (?P<four>4)(?:\.0)?[ -](?:\w+ )?compatib\w*\b(?! (?:readers?|software|viewers?|programs?))"
)
"""'PDF files in 1.6 or a lower version', 'Acrobat 4 compatible', which is PDF 1.3."""


def read_versions(statement: Statement) -> Iterator[Claim]:
    text = statement.text
    if (older := _OR_OLDER.search(text)) and asks(statement, *older.span()):
        place = (statement.start + older.start(), statement.start + older.end())
        newest, weight = ("1.3", 1) if older["four"] else (older["low"] or older["top"], 2)
        yield Claim("file.pdf_versions.maximum", newest, *place, weight)
    for match in _VERSION.finditer(text):
        low, high = match["low"], match["high"]
        if low not in PDF_VERSIONS:
            continue
        place = (statement.start + match.start(), statement.start + match.end())
        if high in PDF_VERSIONS:
            yield Claim("file.pdf_versions.minimum", low, *place)
            yield Claim("file.pdf_versions.maximum", str(high), *place)
            continue
        near = text[max(0, match.start() - 24) : match.end()][: -len(low)]
        after = re.split(r"[;|]|\bpdf\b", text[match.end() : match.end() + 30])[0]
        newer = re.search(
            r"^\s?\(?(?:minimum|min\b|mindestens|au minimum)|^\s?\(?(?:or|and|oder|ou|et|und)\s(?:above|higher|later"
            r"|newer|up|hoher|neuer|superieur\w*|plus"
            r"|more recent|ulterieur\w*|recent\w*|aufwarts)|^\s?\+",
            after,
        )
        earlier = re.search(
            r"^\s?\(?(?:or|and|oder|ou)\s(?:below|lower|older|earlier|alter|niedriger|anterieur\w*|inferieur\w*)", after
        )
        bound = bound_of(near.replace("version", ""), "")
        if newer or (bound == "minimum" and not earlier):
            yield Claim("file.pdf_versions.minimum", low, *place)
        elif (
            earlier
            or bound == "maximum"
            or _NOT_ABOVE.search(text[: match.start()])
            or (_UNSUPPORTED.match(text, match.end()) and _ABOVE_IT.search(near))
        ):
            yield Claim("file.pdf_versions.maximum", low, *place)
        elif _EXACTLY.search(match.group()) or re.match(r"\s?only\b", after) or _NOTHING_ELSE.search(text[: match.start()]):
            yield Claim("file.pdf_versions.minimum", low, *place)
            yield Claim("file.pdf_versions.maximum", low, *place)
        elif low in _OLD_VERSIONS and asks(statement, *match.span()) and not _ONE_OF_SEVERAL.search(_ACROBAT.sub(" ", text)):
            yield Claim("file.pdf_versions.maximum", low, *place, 1)  # what asks for an old one asks for no newer one


_OLD_VERSIONS = ("1.2", "1.3")
_ACROBAT = re.compile(r"\(? ?(?:kompatib\w* (?:zu|mit) )?(?:adobe )?acrobat ?[4-8][^()0-9;.]{0,24}\)?")
_ONE_OF_SEVERAL = re.compile(
    r"\b(?:or|oder|ou|recommend\w*|prefer\w*|ideal\w*|kompatib\w*|based|basier\w*)\b|1\.[3-7][^0-9]{1,12}1\.[3-7]"
)
_ABOVE_IT = re.compile(r"\b(?:higher|newer|later|above|greater|hoher|neuer|superieur\w*|plus recente?s?) (?:than|als|a|que)\b")
_NOT_ABOVE = re.compile(
    r"\b(?:not|nicht|pas|no) (?:above|higher than|newer than|later than|hoher als|neuer als|uber|superieur\w* a"
    r"|plus recent\w* que)\s$"
)
_UNSUPPORTED = re.compile(r"[^.;]{0,30}\b(?:not|nicht|kein\w*|pas|non)\b")
_NOTHING_ELSE = re.compile(
    r"\b(?:only|nur|ausschlie(?:ss|ß)lich|seulement|uniquement|exclusivement|solely|exclusively|seuls?)\b[^.;]{0,40}$"
)


def read_file_size(statement: Statement, amounts: Sequence[Amount], before: str) -> Iterator[Claim]:
    """`before`: the sentence before it, which may have said that it is about letters."""
    text = statement.text
    mine = [one for one in amounts if one.kind == "bytes"]
    for amount, (first, end) in zip(mine, regions(text, [(one.start, one.end) for one in mine]), strict=True):
        own = text[first:end] if len(mine) > 1 else text
        if amount.high is not None or _BY_MAIL.search(own) or _BY_MAIL.search(before) or amount.low < 10_000:
            continue
        bound = bound_of(text[first : amount.start], text[amount.end : end], statement.label)
        place = (statement.start + amount.start, statement.start + amount.end)
        title = statement.label or (statement.heading if len(text) < 20 else "")
        labelled = _SIZE_LABEL.search(text[first : amount.start]) or _SIZE_TITLE.search(title)
        if (
            bound == "maximum"
            or (bound is None and labelled)
            or (bound == "above" and REFUSED.search(text))
            or (bound == "below" and (labelled or _URGED.search(text)))
        ):
            yield Claim("file.maximum_size", amount.low_written, *place, 2, amount.low)


def read_encryption(statement: Statement) -> Iterator[Claim]:
    text = statement.text
    if statement.is_heading:
        return
    free = _FREE_OF_LOCKS.search(text)
    if free and stance_on(text, *free.span()) != "denied":
        yield Claim("file.encryption", "forbidden", statement.start + free.start(), statement.start + free.end())
        return
    if re.search(r"\blayers?\b|\bebenen\b|\bcalques\b", text):
        return
    for match in _PASSWORD.finditer(text):
        cannot = re.search(r"\b(?:cannot|can't|can not|unable|konnen wir nicht|konnen nicht|ne peu\w+|ne pouvons)\b", text)
        if stance_of(statement, *match.span()) == "denied" or cannot:
            yield Claim("file.encryption", "forbidden", statement.start + match.start(), statement.start + match.end())
            return
