"""What a file must not hold: layers, comments, separations, halftones of its own, turned pages; and the boxes that it is to have.

A key that forbids two things is taken where the text forbids both: who wants no transfer curves has said nothing of halftones.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from service.sheets.prose.claims.claim import Claim, Value
from service.sheets.prose.words.frames import asks, stance_of
from service.sheets.prose.words.statements import Statement


@dataclass(frozen=True)
class _Unwanted:
    path: str
    value: Value
    thing: re.Pattern[str]
    gone: re.Pattern[str] | None = None
    """Words that say that it is not there any more: 'layers flattened'."""
    other: re.Pattern[str] | None = None
    """Words by which the sentence is about something else."""
    both: tuple[re.Pattern[str], ...] = ()
    """All of which the sentence has to name."""


_UNWANTED = (
    _Unwanted(
        "file.layers",
        "forbidden",
        re.compile(r"\blayers\b|\bebenen\b|\bcalques?\b|(?:(?<=sans )|(?<=aucune )|(?<=pas de ))couches?\b|\boptional content\b"),
        re.compile(r"\b(?:flatten\w*|merg\w*|zusammen\w*|reduzier\w*|vereint|aplati\w*|aplatissez|fusionn\w*)\b"),
        re.compile(
            r"\b(?:hidden|invisible|unused|empty|separate|own|white|lock\w*|non-?print\w*|guide\w*|template|die-?(?:lines?"
            r"|cut\w*)"
            r"|spot"
            r"|varnish|finish\w*|working|photoshop|psd|tiff?"
            r"|versteckt\w*|ausgeblendet\w*|unsichtbar\w*|leere\w*|eigene\w*|separate\w*|stanz\w*|gesperrt\w*|hilfs\w*"
            r"|lack\w*|masques?|caches?|vides?|invisibles?|separes?|verrouilles?|gabarit|vernis|decoupe)\b"
            r"|\b(?:on|auf) (?:a|one|einer)\b"
        ),
    ),
    _Unwanted(
        "levels.page.annotation",
        "must",
        re.compile(r"\bannotations?\b|\banmerkungen\b|\b(?:comments?|kommentare?n?|commentaires?)\b"),
        None,
        re.compile(
            r"\bcustomer comments\b|\bcomments? (?:field|box)\b|\bkommentarfeld\b|\bin the comments?\b"
            r"|\bim kommentar\b"
        ),
        (
            re.compile(
                r"\bannotations?\b|\banmerkungen\b|\bform[- ]?fields?\b|\bforms?\b(?=[,. ])|\bformular\w*"
                r"|\bchamps? de formulaire\b|\bformulaires?\b"
            ),
        ),
    ),
    _Unwanted(
        "file.separations",
        "forbidden",
        re.compile(
            r"\bpre-?separat\w*|\bseparated (?:files?|pdfs?|pages?|plates?)\b|\bseparations\b|\b(?:vor-?/?(?:farb)?"
            r"|farb)?separiert\w*"
            r"|\bseparationen\b|\bpre-?separe\w*|\b(?<!deux )(?<!trois )(?<!plusieurs )fichiers? separes?\b"
        ),
        None,
        re.compile(r"\btwo separate\b|\bas separate\b|\bseparate files? for\b|\bspot\b|\bpreview\b|\bvorschau\b|\bcover\b"),
    ),
    _Unwanted(
        "file.screening",
        "forbidden",
        re.compile(
            r"\btransfer (?:curves?|functions?)\b|\b(?:transfer|druckkenn)(?:kurven?|funktion\w*|linien?)\b|\b(?:courbes?"
            r"|fonctions?) de transfert\b"
        ),
        None,
        None,
        (re.compile(r"\bhalftones?\b|\bscreen(?:s|ing|ings)?\b|\braster\w*|\btrames?\b|\btramage\b"),),
    ),
    _Unwanted(
        "pages.rotation",
        "forbidden",
        re.compile(r"\brotat\w*|\bturned\b|\bgedreht\w*|\bdreh(?:en|ung(?:en)?)\b|\brotier\w*|\bpivote\w*|\btourne\w*"),
        None,
        re.compile(r"\bimages?\b|\bbild\w*|\bphotos?\b|\bproblem\w*|\bobjects?\b|\bobjekte?\b|\bprobleme\b"),
        (
            re.compile(
                r"\bpages?\b|\w*seiten?\b|^\W*(?:no rotations?|keine (?:drehung(?:en)?|rotation(?:en)?)|aucune rotation)\W*$"
            ),
        ),
    ),
    _Unwanted(
        "images.jpeg",
        "forbidden",
        re.compile(
            r"\bjpe?g[- ]?(?:compress\w*|kompr\w*)|\b(?:compress|kompr)\w* (?:\w+ ){0,2}jpe?g\b(?! ?-?2000)"
            r"|\blossy compress\w*"
        ),
        None,
        re.compile(
            r"\bheavy\b|\bhigh\b|\bstrong\b|\bstark\w*|\bforte\b|\bquality\b|\bqualitat\b|\bqualite\b|\bmaximum\b|\blow\b"
        ),
    ),
    _Unwanted(
        "file.linearized",
        "forbidden",
        re.compile(
            r"\b(?:fast|quick) web view\b|\bweb view\b|\bschnelle\w* web-?ansicht\b"
            r"|\baffichage (?:rapide )?(?:des pages )?web\b|\blineari[sz]\w*"
        ),
    ),
)


def read_unwanted(statement: Statement) -> Iterator[Claim]:
    if statement.is_heading:
        return
    text = statement.text
    for one in _UNWANTED:
        match = one.thing.search(text)
        if match is None or (one.other and one.other.search(text)) or not all(pattern.search(text) for pattern in one.both):
            continue
        stance = stance_of(statement, *match.span())
        gone = one.gone.search(text) if one.gone else None
        merged = (
            gone is not None
            and stance in ("claimed", "denied")
            and stance_of(statement, *gone.span()) in ("claimed", "denied")
            and not _NOT_MERGED.search(text)
        )
        if ((stance == "denied" and gone is None) or merged) and asks(statement, *match.span()) and not _SOFT.search(text):
            yield Claim(one.path, one.value, statement.start + match.start(), statement.start + match.end())


    whole = None if _PROOF.search(text) else _COMPOSITE.search(text)
    if whole and stance_of(statement, *whole.span()) == "claimed" and asks(statement, *whole.span()):
        yield Claim("file.separations", "forbidden", statement.start + whole.start(), statement.start + whole.end())


_COMPOSITE = re.compile(
    r"\bnon-?separated\b|\bcomposite[- ](?:\w+ ){0,2}(?:pdfs?|files?)\b|\bas (?:a )?(?:\w+ )?composites?\b"
    r"|\bpdfs?\b(?: files?)? (?:must|should|have to|need to|to) be composite\b|\bpdfs?\b[^.;,]{0,12}\bcomposite$"
    r"|\bals composites?\b|\bcomposite-?(?:pdfs?|daten|datei\w*)\b"
)
"""All inks in one page."""
_PROOF = re.compile(r"\bproofs?\b|\bblack\b|\bif\b|\bseparations?\b")
_NOT_MERGED = re.compile(r"\b(?:not|never|nicht|ne|pas|non)\b[^.;]{0,20}\b(?:flatten|merge|reduz|zusammen|aplat|fusion)\w*")
_SOFT = re.compile(
    r"\b(?:if possible|where possible|prefer\w*|ideally|recommend\w*|wenn moglich|moglichst|nach moglichkeit|vorzugsweise"
    r"|empf[eio]\w*hl\w*|si possible|de preference|conseill\w*|recommand\w*)\b"
)
"""What is only better without it is no must, and these keys have no level of their own."""

_BOXES = re.compile(
    r"\b(?P<name>trim|bleed|media|crop|art)m?"
    r"(?:[- ]?box(?:es|en)?\b|(?=(?:, ?| and | und | et | & |/)(?:trim|bleed|media|crop|art)[- ]?box))"
)


def read_boxes(statement: Statement) -> Iterator[Claim]:
    """'Every page needs a TrimBox and a BleedBox'; what is said of their size alone names no box that has to be there."""
    text = statement.text
    if statement.is_heading:
        return
    named = [
        one
        for one in _BOXES.finditer(text)
        if one["name"]
        and not _A_PLACE.search(text[: one.start()])
        and stance_of(statement, *one.span()) == "claimed"
        and asks(statement, *one.span())
    ]
    if not named or not _THERE.search(text) or _SOFT.search(text):
        return
    boxes = list(dict.fromkeys(one["name"] for one in named))
    yield Claim("pages.boxes", boxes, statement.start + named[0].start(), statement.start + named[-1].end())


_A_PLACE = re.compile(r"\b(?:from|around|to|than|outside|inside|beyond|within) (?:the )?$")
_THERE = re.compile(
    r"\b(?:defin\w*|mark(?:ed)?|set|correct\w*|present|contain\w*|includ\w*|have|has|with|need\w*|requir\w*|must|declar\w*"
    r"|definier\w*"
    r"|gesetzt|angelegt|enthalten|vorhanden|mit|korrekt|muss|mussen|benotig\w*"
    r"|definie?s?|presente?s?|contenir|comporter|avec|doi\w+)\b"
)
