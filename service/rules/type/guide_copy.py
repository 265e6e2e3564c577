"""The words of dummy copy: what stands in a template until the real text comes.

Everything here is common practice, no source, but for the host names that nobody can own (RFC 2606).
Lines are compared casefolded (so ß is ss). Expressions are anchored or bounded, so that hostile text costs time in proportion
to its length. The long ones are compiled at their first use, which most commands never make, and kept: `re` itself forgets all
but the last 512, of which a process that also reads published texts has more.
"""

from __future__ import annotations

import re
from functools import cache, lru_cache

_FILLER_WORDS = """
    lorem ipsum dolor amet consectetur consetetur adipiscing adipisici sadipscing elit elitr eiusmod nonumy eirmod
    tempor incididunt invidunt labore dolore aliqua aliquyam enim veniam nostrud exercitation ullamco laboris aliquip
    consequat duis aute irure reprehenderit voluptate velit cillum fugiat pariatur excepteur occaecat cupidatat proident
    deserunt mollit laborum voluptua accusam dolores rebum clita kasd gubergren takimata sanctus vestibulum pellentesque
    vivamus curabitur phasellus maecenas aenean praesent suspendisse vulputate tincidunt sollicitudin fermentum
    ullamcorper hendrerit facilisis iriure zzril delenit augue feugait nonummy euismod laoreet wisi suscipit lobortis
"""
_FILLER = frozenset(_FILLER_WORDS.split())
"""Words of the usual Latin filler, without those (et, in, sed, magna …) that turn up in real Latin, Spanish or Italian lines."""

FILLER_WORDS_NEEDED = 4
"""How many different filler words a page must show, in lines made mostly of them: one is a name, four are filler."""

FILLER_WORDS_OF_A_LINE = 3
"""On such a page a line with so many of them is filler too, whatever stands between them."""

_WHAT = (
    r"(?:text|copy|body copy|name|title|job title|headline|subtitle|heading|subheading|caption|logo|image|photo|picture|address|"
    r"message|company|company name|business name|tagline|slogan|content|details|phone number|e-?mail|website)"
)
_FIELD = (
    r"(?:(?:your|insert|recipient|customer|client|company|contact|sender)[ _.-]?)?"
    r"(?:(?:first|last|full)[ _.-]?name|forename|surname|name|title|salutation|job[ _.-]?title|position|company|"
    r"address(?:[ _.-]?line)?(?:[ _.-]?\d)?|street|city|town|postcode|zip(?:[ _.-]?code)?|country|e-?mail|phone|telephone|"
    r"mobile|fax|website|url|date|amount|text|headline|logo|image|photo|recipient|"
    r"vorname|nachname|anrede|firma|anschrift|strasse|plz|ort|datum|nom|prénom|société|adresse|ville)"
)
_IHR = (
    r"(?:(?:ihr|ihre|dein|deine|der|die|das|ein|eine) )?"
    r"(?:text|name|logo|titel|überschrift|bild|foto|slogan|firmenname|adresse|blindtext)"
)
_VOTRE = r"(?:(?:votre|le|un) )?(?:texte|nom|logo|titre|image|photo|adresse|slogan|société)"

_WHOLE_PHRASE = "|".join(
    (
        rf"(?:insert|add|type|put|place) (?:(?:your|the|a|some) )?(?:own )?{_WHAT} here",
        rf"(?:insert|type|replace) (?:(?:your|the|this) )?(?:own )?{_WHAT}",
        rf"(?:(?:your|my|the) )?(?:own )?{_WHAT} (?:goes |comes |to go )?here",
        r"your (?:company name|business name|job title|logo|tagline|slogan|headline)",
        r"(?:text |image |picture )?place ?holder(?: (?:text|copy|image|picture))?",
        r"(?:dummy|filler|sample|specimen|guide) (?:text|copy)",
        r"first ?name (?:last ?name|surname)|forename surname|john doe|jane doe|joe bloggs",
        rf"(?:hier|da) (?:steht|stehen|kommt|könnte|entsteht) {_IHR}(?: stehen| hin)?",
        rf"{_IHR} hier(?: einfügen| eingeben)?|ihr (?:text|logo|firmenname|slogan)",
        r"platzhalter(?:text|bild)?",
        rf"{_VOTRE} ici|(?:insérez|saisissez|tapez|ajoutez) {_VOTRE}(?: ici)?",
        r"texte (?:de substitution|à venir|factice)|faux texte|texto (?:de relleno|ficticio|simulado)",
        r"(?:su|tu) (?:texto|nombre|logo) aquí|(?:il )?(?:tuo|vostro) (?:testo|nome|logo) qui",
        r"(?:uw|jouw) (?:tekst|naam|logo) hier",
    )
)
"""Matches a whole phrase in small letters: 'sign your name here' on a form is copy, 'your name here' alone is not."""
LONGEST_PHRASE = 38
"""Characters that it can match: most lines of a book are longer, and need not be looked at."""

_LETTERS_ALONE = {code: " " for code in range(128) if not chr(code).isalpha()}
_WORD = re.compile(r"[^\W\d_]{2,}")
_BETWEEN_PHRASES = re.compile(r"[|•·,;:!?…/]|\.(?= |$)| [–—-] ")

_ANYWHERE = (
    ("lorem ipsum", r"\blorem ipsum\b"),
    ("other", r"\ba\. ?n\. ?other\b"),
    ("blindtext", r"\bblindtext\w{0,12}"),
    ("muster", r"\bmuster(?:mann|frau|firma|stadt|strasse)\b"),
    ("[", rf"\[{_FIELD}\]"),
    ("{", rf"\{{{_FIELD}\}}"),
    ("«", rf"« ?{_FIELD} ?»"),
    ("<<", r"<<[\w .-]{1,40}>>"),
    ("{{", r"\{\{[^{}\n]{1,40}\}\}"),
    ("@example.", r"\b[\w.+-]{1,64}@example\.(?:com|net|org)\b"),
    ("@", r"\b[\w.+-]{1,64}@(?:your-?)?(?:company|domain|business|firma|email)\.(?:com|net|org|co\.uk|de|fr)\b"),
    ("example.", r"\b(?:www\.)?example\.(?:com|net|org)\b"),
    ("your", r"\b(?:www\.)?your-?(?:company|domain|business|website|site|name)\.(?:com|net|org|co\.uk)\b"),
    ("www.", r"\bwww\.(?:website|domain|company|musterfirma)\.(?:com|net|org|co\.uk|de)\b"),
)
"""Found anywhere in a line in small letters, each behind what it cannot be without: few lines have any of these.

RFC 2606: example.com, .net and .org belong to nobody.
"""

_CODE = re.compile(r"xmlns|[=\"'(]https?://")
"""A host name in a listing is no copy: a namespace, an attribute of markup, an argument."""

TRIAL_WORDS = re.compile(
    r"\b(?:trial|evaluation|demo|demonstration|unregistered|unlicen[cs]ed) (?:version|copy|mode|software)\b|"
    r"\b(?:created|made|produced) (?:with|by|using) (?:a|an|the) (?:trial|evaluation|demo|unregistered)\b|"
    r"\b(?:test|demo|evaluierungs|probe)version\b|\bnicht registrierte version\b|"
    r"\bversion (?:d['’]essai|d['’]évaluation|de démonstration|non enregistrée)\b"
)
"""Words that programs write across pages until they are paid for. Common practice, no source."""

TRIAL_PROGRAM = re.compile(
    r"\b(?:unregistered|unlicen[cs]ed|non enregistrée?|nicht registriert)\b|\b(?:test|demo|probe)version\b|"
    r"\b(?:trial|evaluation|demo)[ -](?:version|copy|edition|mode|licen[cs]e|build)\b|[(\[](?:trial|evaluation|demo)[)\]]"
)
"""How such a program calls itself in the file; 'demo' alone is any program's own word. Common practice, no source."""

SPECIMEN_LETTER = re.compile(
    r"\bdear (?:sir|madam|customer)\b|\bto whom it may concern\b|\byours (?:sincerely|faithfully)\b|"
    r"\bsehr geehrte|\bmit freundlichen grüssen\b|\bmadame, monsieur\b|\bveuillez agréer\b"
)
"""A specimen letter. Real in a printed letter, so only where the writing belongs to somebody else."""

_LINES_KEPT = 20_000
"""A file is judged once for each language, and what a line says is the same in all of them."""

_X_ROW = re.compile(r"(?<!\S)x{3,}(?:[ -]x{3,})*(?!\S)")
SHORTEST_X_ROW = 7
"""'xxxx xxxx' is a row of x; 'xxx' are kisses, 'XXL' is a size and 'XXXIII' a number."""

_NUMBER = re.compile(r"(?<![\w.,])\+?\(?\d[\d ()/-]{4,24}\d(?![\w]|[.,]\d)")
_FIGURES = re.compile(r"\d\d")
_COUNTING_UP = ("0123456789", "01234567890", "1234567890", "12345678901")
FEWEST_DIGITS = 7
FEWEST_NOUGHTS = 6


@cache
def _kept(pattern: str) -> re.Pattern[str]:
    return re.compile(pattern)


@lru_cache(_LINES_KEPT)
def says_guide_copy(text: str) -> bool:
    """Whether a line holds guide copy by what it says; filler Latin is told by `filler_words` of the whole page."""
    small = text.casefold()
    if any(mark in small and _kept(pattern).search(small) for mark, pattern in _ANYWHERE) and not _CODE.search(small):
        return True
    if "xxx" in small and any(len(row[0].replace(" ", "")) >= SHORTEST_X_ROW for row in _X_ROW.finditer(small)):
        return True
    if _FIGURES.search(small) and any(_made_up_number(found[0]) for found in _NUMBER.finditer(small)):
        return True
    whole = _kept(_WHOLE_PHRASE)
    phrases = (phrase.strip(" .\"'‘’“”()[]<>*_") for phrase in _BETWEEN_PHRASES.split(small))
    return any(len(phrase) <= LONGEST_PHRASE and whole.fullmatch(phrase) for phrase in phrases)


@lru_cache(_LINES_KEPT)
def filler_words(text: str) -> frozenset[str]:
    """Filler words of a line that is made mostly of them."""
    small = text.casefold()
    if small.isascii() and _FILLER.isdisjoint(small.translate(_LETTERS_ALONE).split()):  # as of nearly all lines
        return frozenset()
    words = _WORD.findall(small)
    found = _FILLER.intersection(words)
    return found if sum(word in _FILLER for word in words) * 2 >= len(words) else frozenset()


def holds_filler(text: str) -> bool:
    """Whether a line of a page that has filler Latin goes on with it, though its small words are the greater part."""
    return len(frozenset(_WORD.findall(text.casefold())) & _FILLER) >= FILLER_WORDS_OF_A_LINE


def _made_up_number(written: str) -> bool:
    """01234 567890, 000 000: digits that count up from the start, or nothing but noughts in groups."""
    digits = "".join(one for one in written if one.isdigit())
    if not _FIGURES.search(written):
        return False  # a row of single figures is a scale or a ruler
    if set(digits) == {"0"}:
        return len(digits) >= FEWEST_NOUGHTS and digits != written
    national = re.sub(r"^\+\d{1,3}[ -]?(?:\(0\))?[ -]?", "", written)
    for candidate in (digits, "".join(one for one in national if one.isdigit())):
        if len(candidate) >= FEWEST_DIGITS and any(row.startswith(candidate) for row in _COUNTING_UP):
            return True
    return False
