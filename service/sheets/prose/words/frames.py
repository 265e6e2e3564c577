"""Whether a sentence asks something or only explains it, and what the line over a list makes of its items."""

from __future__ import annotations

import re

from service.sheets.prose.words.narrowing import PURPOSE
from service.sheets.prose.words.qualifiers import Stance, stance_on
from service.sheets.prose.words.statements import Statement

ASKS = re.compile(
    r"\b(?:must|should|shall|please|requir\w*|needs?|needed|only|always|never|ensure|make sure|be sure|do not|don't"
    r"|cannot|can't"
    r"|avoid|prefer\w*|recommend\w*"
    r"|accept\w*|supply|supplied|sen[dt]|turn\w*|chang\w*|envoy\w*|submit\w*|provide\w*|use|convert\w*|embed\w*|set|save\w*"
    r"|export\w*|include\w*|create\w*|check\w*|keep|specify|build|built"
    r"|mandatory|fine|both|okay|welcome|not (?:available|possible|supported|printed)|has to|have to|consist\w*|expect\w*"
    r"|we (?:ask|want|take|request)|nutzen wir|wir nutzen|nous utilisons"
    r"|to be (?:\w+ed|sent|made|set|kept)|comply|conform\w*|is the (?:only|required)|delivered?|remove\w*|delete|omit|leave"
    r"|turn off"
    r"|muss|mussen|soll\w*|bitte|benotig\w*|erforderlich\w*|nur|immer|durfen|darf|kein\w*|verwend\w*|anzulegen|anlegen|angelegt"
    r"|(?:an|ab)liefer\w*|angeliefert|anzuliefern|geliefert|lieferung (?:als|im|in)|einzureichen|abzugeben|abgeben|abgabe als"
    r"|wahle[nt]?|nutze[nt]?|gib|halte[nt]?|lass|choisissez|selectionnez|vorliegen|exportier\w*|einstellen|setzen|einbetten"
    r"|einzubinden|umzuwandeln|wunschen|bitten wir"
    r"|legen|legs?t|lege|beachten|achten|liefern|zu (?:liefern"
    r"|verwenden|vermeiden|erstellen)|einzubetten|eingebettet|ausschlie(?:ss|ß)lich|vorgeschrieben|zwingend|unbedingt"
    r"|empf[eio]\w*hl\w*|wandeln|erstellen|speichern|umwandeln|vermeiden"
    r"|konvertier\w*|entsprechen|vorzugsweise|bevorzug\w*|brauchen|senden|akzeptier\w*|verzichten|am besten"
    r"|doi\w+|devez|veuillez|merci de|il faut|necessaire\w*|obligatoire\w*|uniquement|toujours|jamais|assurez\w*|utilise[zr]"
    r"|convert\w*|fourni\w*|fournir|prevoir|prevoyez|travaille[rz]|export\w*|transmett\w*|transmis\w*|remett\w*|livre[rz]?|livres"
    r"|il convient|demand\w*|accept\w*|pense[rz]|indispensable\w*|requis\w*|necessit\w*|integre[rz]|supprime[rz]|aplati\w*"
    r"|veille[rz]|pense[rz]|respecte[rz]|place[rz]|laisse[rz]|garde[rz]|imperati\w*|exclusiv\w*|recommand\w*"
    r"|conseill\w*|preconis\w*|exig\w*|ne pas|evit\w*|verifi\w*|enregistr\w*|ajout\w*"
    r"|nicht (?:verarbeitet|verarbeitbar|angenommen|berucksichtigt|gedruckt|zugelassen|erlaubt|gewunscht|erwunscht|moglich)"
    r"|may not|contain|allowed|permitted|forbidden|prohibited|interdit\w*|verboten|unzulassig|untersagt|gestattet"
    r"|reject\w*|refus\w*|abgelehnt|zuruckgewiesen|ablehn\w*|betten|incorpor\w*|vectoris\w*|applique\w*|souhait\w*"
    r"|it(?:'s| is) (?:\w+ )?(?:important|essential|vital|crucial|imperative|necessary)|insist\w*|would like|be certain"
    r"|verify|confirm|see (?:to it )?that|(?:are|is) to be|responsibility to)\b"
)
_EXPLAINS = re.compile(
    r"\b(?:stands? for|refers? to|means?|is (?:a|an|the) (?:term|colou?r (?:model|space|mode)|method|process|printing term"
    r"|acronym|abbreviation|mix\w*|type of|standard used)"
    r"|is (?:used|called|known|defined|usually used|intended) (?:as|for|to|on|in|when)?|are (?:used|called|known) (?:as|for|to"
    r"|on|in)?|describes?|is composed|are (?:combined|mixed)|is based on"
    r"|bezeichne\w*|bedeute\w*|steht fur|hei(?:ss|ß)t|basier\w*|unter \w+ versteht|besteht aus|beschreibt|ist (?:ein|eine|der"
    r"|die|das) (?:begriff|farbmodell|farbraum|verfahren|abkurzung|standard\b(?!-))"
    r"|wird (?:verwendet|genutzt|bezeichnet)|setzt sich|zusammengesetzt|designe(?:nt)?|signifi\w*|correspond a|est (?:un|une|le"
    r"|la) (?:modele|procede|espace|norme|terme|mode)|sont (?:les|des) (?:acronymes?|sigles?|couleurs)"
    r"|consiste\w*|permet\w*|sert a|se compose|utilise pour|est dedie|lorsqu'on|on obtient|whereas|the (?:inks?"
    r"|colou?rs?) (?:that|which))\b"
)
_STATES = re.compile(
    r"\b(?:is|are|was|were|will|would|can|could|might|does|wird|werden|wurde\w*|kann|konnen|est|sont|ont|peut|peuvent|sera"
    r"|seront|permet|vs|versus|why|warum|pourquoi|lassen sich|lasst sich|zeigt|zeigen|entsteht|entstehen|unterstutzt"
    r"|indiquent|montrent)\b"
)
"""A sentence with one of these and no word that asks tells how things are."""
_A_TITLE = 40
"""Characters of a heading that is no sentence."""
_SHORT_ITEM = 12
"""Words of a list item or label that asks without a verb."""
_LEADS_DENIED = re.compile(
    r"\b(?:not|no|never|without|don't|avoid|remove|omit|leave (?:out|off)|free of|free from|delete|nicht|kein\w*|ohne|vermeiden"
    r"|entfernen|verzichten|pas|sans|aucun\w*"
    r"|evite\w*|supprime\w*|not (?:accepted|allowed))\b"
)
_DENIED_LIST = re.compile(
    r"(?:[ ,/&]{1,3}[\w-]{1,30}){0,8}?,? (?:must|should|may|can|are|sollten|sollen|durfen|mussen|sind|werden|doivent|peuvent"
    r"|sont) (?:not|nicht|pas|never|zu vermeiden)\b"
)
"""'… , comments and form fields must not be in the file'."""
_LISTED_BEFORE_A_NO = re.compile(
    r"(?:[ ,/&]{1,3}[\w-]{1,30}){0,8}?(?: usw\.| etc\.| u\. ?a\.)?,? (?:bitte (?:\w+ )?(?:nicht|weglassen|entfernen|loschen"
    r"|ausschalten"
    r"|deaktivieren|vermeiden)|sont a (?:supprimer|proscrire|eviter))\b"
)
"""'Crop marks, register marks etc. bitte nicht anlegen'."""
_LEADS_OPEN = re.compile(
    r"\b(?:optional\w*|may|can|if|check for|common|problems?|mistakes?|errors?|fehler|haufige|erreurs?|frequent\w*|wenn|si|konnen"
    r"|pouvez)\b"
)


_LEADS_WANTED = re.compile(
    r"\b(?:no|not|without|avoid)\b[^:]{0,40}\b(?:charge|fee|cost|delay|problem|surcharge)\w*\b[^:]{0,24}"
    r"\b(?:if|when|as long as|provided(?: that)?)\W*$"
)
"""'There is no extra charge when:' over what a file is to be."""


_LEADS_CHECKED = re.compile(r"\b(?:requirements|check ?-?list|criteria|make sure|ensure|check|sure)\b[^.]{0,30}:$")
"""'A file is ready when it meets these requirements:' over how it is."""


YES = re.compile(r"(?:a: )?(?:yes|ja|oui)\b(?![^.]{0,40}\b(?:but|or|aber|oder|mais|ou)\b)")
ASKED_WHETHER = re.compile(
    r"(?:q: )?(?:should|must|do (?:i|you|we|my|your)|are|mussen|sollen|soll|muss|brauch\w*|dois-je|faut-il|doit-on)\b[^?]*\?"
)
"""'Must fonts be embedded?' over 'Yes.'"""


def explains(one: Statement, start: int, end: int) -> bool:
    """'Bleed is the term for what extends 3 mm beyond the edge.'"""
    first, last = _clause(one.text, start, end)
    clause = one.text[first:last]
    if _is_a_reason(one.text[first:start]):
        return True
    return _EXPLAINS.search(clause[: max(0, end - first)]) is not None and not _FIRM.search(clause)


_A_REASON = re.compile(
    r"\b(?:because|(?<!long )(?<!soon )(?<!far )as (?:it|they|these|this)|since (?:it|they|these|this)|denn"
    r"|weil|da (?:es|diese[rs]?|sie|er)|car|parce qu\w*|puisqu\w*)\b"
)


def _is_a_reason(before: str) -> bool:
    """'X-4 because it takes transparency': what stands behind the word is no demand; nothing stands before a condition."""
    clause = before[max(before.rfind(mark) for mark in ".;,") + 1 :]
    return any(clause[: match.start()].strip() for match in _A_REASON.finditer(clause))


_FIRM = re.compile(
    r"^\W*(?:please )?(?:use|supply|send|export|save|set)\b|"
    r"\b(?:must|should|please|only|need\w*|muss|mussen|soll\w*|bitte|benotig\w*|doi\w+|veuillez|uniquement|required?)\b"
)


def asks(one: Statement, start: int, end: int) -> bool:
    """Whether the words at one.text[start:end] are asked for, and not only spoken of."""
    text = one.text
    if one.is_heading and not (
        re.search(r"(?::| - |\|)\s*\S", text[: start + 1]) or (text.endswith(":") and ASKS.search(text) and len(text) > _A_TITLE)
    ):
        return False
    first, last = _clause(text, start, end)
    purpose = PURPOSE.search(text, end, last)
    clause = text[first : purpose.start() if purpose else last]
    if not _OPENED.search(text[first:start]):
        clause = _REMARK.sub(" ", clause)  # '… (RGB will look different)'
    if _EXPLAINS.search(clause) and not _FIRM.search(clause):
        return False
    if ASKS.search(clause) or (first > 0 and ASKS.search(text)):
        return True
    if text.endswith("?") and not one.is_a_question:
        return True  # 'Is the document in CMYK?' of a checklist
    if _STATES.search(clause):
        return _LEADS_WANTED.search(one.lead or one.heading) is not None or _LEADS_CHECKED.search(one.lead) is not None
    return len(clause.split()) <= _SHORT_ITEM or bool(
        re.match(r"[^:|]{2,50}\s?[:|]|[^:|]{2,40} - ", text) and len(clause.split()) <= 2 * _SHORT_ITEM
    )


_OPENED = re.compile(r"\([^()]*$")
_REMARK = re.compile(r"\([^()]{3,200}\)")


def _clause(text: str, start: int, end: int) -> tuple[int, int]:
    first = max(text.rfind(";", 0, start), text.rfind(". ", 0, start)) + 1
    last = text.find(";", end)
    return first, last if last >= 0 else len(text)


def stance_of(one: Statement, start: int, end: int) -> Stance | None:
    """As `stance_on`; an item of a list takes what the line over the list says. None where that line leaves it open."""
    stance = stance_on(one.text, start, end)
    if stance == "claimed" and (_DENIED_LIST.match(one.text, end) or _LISTED_BEFORE_A_NO.match(one.text, end)):
        return "denied"
    if one.lead and stance == "claimed" and not ASKS.search(one.text) and not _LEADS_WANTED.search(one.lead):
        if _LEADS_DENIED.search(one.lead):
            return "denied"
        if _LEADS_OPEN.search(one.lead):
            return None
    return stance
