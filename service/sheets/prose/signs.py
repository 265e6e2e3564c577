"""Signs that a value's sentence is not understood as a whole: it may ask nothing, or ask it of something else.

Printers' sentences are endless, and rules that were made for known ones read a value into others. What gives them away is seldom
the value and mostly the rest of the sentence: it makes an exception, speaks of another kind of file, tells what happens, leaves a
choice, is about a part, or has a word that no plain demand has. Each such sign is one of `_SIGNS`, with the keys that it counts
for: those where the sentences of some two hundred published texts that had it gave a false value more than one time in twenty.
"""

from __future__ import annotations

import re
from collections.abc import Callable

from service.sheets.prose.more_signs import MORE_SIGNS
from service.sheets.prose.seen import Seen
from service.sheets.prose.words.narrowing import ALWAYS_MET, PURPOSE
from service.sheets.prose.words.plain import strange_words
from service.sheets.prose.words.products import PRODUCT, WHOLE, products_in
from service.sheets.prose.words.scopes import NARROWS
from service.sheets.prose.words.statements import Statement, folded

_PRODUCTS = re.compile(rf"(?:\b(?:for|bei|beim|fur|pour) )?(?:{PRODUCT.pattern})")
"""What the text is about: another product would have narrowed the value already."""
_EXCEPTED = re.compile(
    r"\b(?:other than|except(?! for (?:jpe?g|tiff?|png|eps)s?\b)\w*|apart from|unless(?! otherwise)|(?:so|as) long as"
    r"|provided (?:that|you|they|the)"
    r"|only (?:if|when|for|where)|excluding|sauf(?! (?:indication|mention|avis))|hormis|excepte\w*|a (?:la )?condition"
    r"|tant que|ausser(?! (?:bei )?\.?(?:jpe?g|tiff?|png|eps))"
    r"|ausgenommen|nur (?:wenn|bei|fur)|solange|es sei denn|ausnahme\w*|seulement (?:si|pour))\b"
)
_KIND_OF_FILE = re.compile(
    r"\b(?:eps|tiff?s?|psds?|jpe?gs?|pngs?|gifs?|word|powerpoint|publisher|excel|quark\w*|native|open(?: source)? files?"
    r"|source files?|layout files?|application files?|offene\w* (?:daten|datei\w*)|fichiers? (?:natifs?|sources?|ouverts?))\b"
)
_ALL_FILES = re.compile(r"\bpdf|\b(?:all|any|alle\w*|tous|toutes) (?:the |les |other )?(?:files?|artworks?|datei\w*|daten"
    r"|fichiers?)\b")
_TELLS = re.compile(
    r"\b(?:will(?! (?:need|want|have to|only|not be|be (?:refused|rejected|returned)|still))|may(?! (?:only|not"
    r"|be (?:supplied|sent|rgb|cmyk|refused|rejected|returned)))|might|could(?! you)|can(?!not|'t| you)|would|tends?"
    r"|results? in|(?:do|does) not (?:always |usually )?(?:match|look|print)"
    r"|kann|konnen|werden (?:wir|automatisch|von uns)|wurde\w*|fuhrt|peut|peuvent|(?:sera|seront)(?! (?:fourni|vectoris"
    r"|incorpor|converti|livre|enregistr|integr|place|prepar|en (?:cmjn|pages))\w*)|entrain\w*|risqu\w*|correspond\w*)\b"
)
_DEMANDS = re.compile(
    r"\b(?:must|should|shall|please(?! (?:note|be aware|remember|see|contact))|requir\w*|needs? (?:to|a|an)|needed|have to"
    r"|has to|only|ensure|make sure|be sure|do not|don't|cannot|avoid"
    r"|no (?:less|smaller|closer|more)|not (?:be )?(?:less|smaller|closer)|minimum|at least|min|we (?:\w+ )?(?:request|ask"
    r"|recommend|prefer|suggest)"
    r"|muss\w*|soll\w*|bitte(?! beachten)|mindest\w*|nur|durfen|darf|benotig\w*|doi\w+|devez|veuillez|merci de|il faut"
    r"|uniquement|au moins|necessit\w*|(?:is|are) (?:not )?(?:accepted|allowed|permitted|mandatory))\b"
    r"|(?:^\W*|, (?:so )?)(?:(?:always|then|also) )?(?:use|set|convert|supply|submit|send|provide|create|keep|leave|add"
    r"|include|allow|extend|design|export|save|prepare|place|build|embed|outline|flatten|remove)\b"
)
_CHOICE = re.compile(
    r"\b(?:consider(?!ed)\w*|whether|indicate|specify if|note that|letting|let us|leave it to us|default|listed above"
    r"|if you (?:like|wish|prefer)|possibles?|(?<!nicht )moglich(?! sind)(?:e|keit)?\b"
    r"|\bob\b|angeben|standardmassig|indique[zr]\w*|par defaut|au choix|not acceptable if)\b"
)
_WE_DO = re.compile(
    r"\b(?:we(?:'ll| will| can| would| do)?|wir|nous) (?:l'|\w+ )?(?:agrandiss|rajout|complet|erweiter|vergro|add|convert"
    r"|handle|appl|place|change|adjust|fugen|wandeln|konvertieren|ajout|convertis|appliqu)"
    r"|\b(?:us|let us|wir|uns|our (?:staff|team|designers?)) (?:handle|convert|do|add)\b|\b(?:conversion"
    r"|umwandlung) (?:\w+ )?by us\b"
)
_LINE_TO_DRAW = re.compile(
    r"\b(?:include|add|apply|use|with|place|put|draw|have) (?:a |an )?(?:\w+ ){0,2}[0-9.,/¼½¾ ]+ ?-?(?:pts?|points?|mm"
    r"|\")?\.? ?(?:\w+ )?(?:stroke|line|outline|border|rule|keyline)\b"
    r"|\bkey ?-?lines?\b|\baround\b|\bherum\b|\bautour\b|\bborders?\b|\bumrand\w*|\bcontour\w*|\bkontur\w*"
)
_LEAST = re.compile(
    r"\bmin\w*|\bfrom (?=[0-9])|\babove|\band up|\bdessous|\bfeinste|\bpositiv|\bnegativ|\bmindest|\bat least\b|\bleast\b"
    r"|\b(?:less|smaller|thinner|finer|below|under|lower|more|bigger|larger|thicker|higher|greater)\b|\bthickness"
    r"|\bweights?\b|≥|>|<|\bhairlines?"
    r"|\bunterschr\w+|\bsmallest|\bthinnest|\bkleiner|\bkleinste|\bdunner|\bdunnste|\bunter\b|\bab\b|\bwenigstens|\bstarke|\bstrichstarke"
    r"|\bmoins\b|\binferieur\w*|\bsuperieur\w*|\bepaisseur|\bfiner?\b|\bgroße\b|\bsizes?\b|\bcorps\b|\btaille"
)
_PART_OF_IT = (
    r"serial numbers?|numbering|bar ?-?codes?|qr(?:[- ]?codes?)?|hems?|grommets?|eyelets?|osen|pole pockets?|windows?"
    r"|signature panels?|magnetic|mag ?stripes?|chips?|foil\w*|emboss\w*|varnish\w*|spot uv"
    r"|white ink|icons?|screenshots?|tables?|graphs?|charts?|figures?|illustrations?|legends?|captions?|seriennummer\w*"
    r"|strichcodes?|heissfolie\w*|pragung\w*|tabellen?|diagramm\w*"
    r"|beilage\w*|inserts?|inlays?|wobblers?|tabs?|codes?-barres?|oeillets?|dorure\w*|gaufrage\w*|vernis|tableaux?"
    r"|graphiques?|schemas?|encarts?"
)
_OF_A_PART = re.compile(rf"\b(?:on|for|of|in|around|under|auf|fur|bei|der|pour|sur|des?|dans) (?:the |your |all |any |a |den "
    rf"|die |les |le |la )?(?:\w+ )?(?:{_PART_OF_IT})\b")
_OVER_A_PART = re.compile(
    rf"\b(?:{_PART_OF_IT}|(?:full|half|quarter|third) ?-?pages?|fp|hp|1/[1-8] ?-?(?:page|seite)|native|open source"
    rf"|source files?|offene\w* datei\w*)\b"
)
_OVER_PICTURES = re.compile(r"\b(?:images?|pictures?|photos?|graphics?|bilder\w*|grafiken|fotos?|photographies?)\b")
_LETS_TYPE_IN = re.compile(r"\bpdf|\bfonts?|\btext|\btype|\bschrift|\bpolice|\bdatei|\bdaten|\bfichier|\bfiles?\b|\bartwork"
    r"|\bdocument")
_OUTWARD = re.compile(r"\bmargins? (?:of|for) (?:the )?bleeds?|\bbleed margins?|\badd\b[^.;]{0,40}\b(?:each|every|all|to) "
    r"|\bajoute[zr]\b|\bhinzu")
_INWARD = re.compile(r"\b(?:safe\w*|quiet|inside|within|away|from|clear\w*|live|keep|sicher\w*|abstand\w*|innen\w*|entfern\w*"
    r"|securite|interieur\w*|distance|tranquill\w*|marges?|margins?)\b")
_AS_LARGE_AS = re.compile(r"\b(?:as large as|up to|max\w*|hochst\w*|hochstens|largest|biggest|gro(?:ss|ß)te\w*|plus grande?s?"
r"|jusqu\w*|normally|usually|ublicherweise|normalement|at most|bis zu)\b")
_UNIT = re.compile(r"[½¼¾⅛⅜⅝⅞]|[0-9]/[0-9]|mm|cm|\bin\b|\bpo\b|inch|\"|''|″|zoll|pouce|[a-c][0-9]\b|din|dl\b|letter|legal"
r"|tabloid")
_UNIT_IN_BRACKETS = re.compile(r"[(\[](?:in )?(?:mm|cm|inch(?:es)?|in)[)\]]")
_A_PAIR = re.compile(r"[0-9] ?(?:mm|cm|\"|in)? ?x ?[0-9]")
_TOLD_APART = re.compile(
    r"\b(?:trim\w*|finish\w*|final\w*|net|\w*endformat|datenformat|format fini|fini\w*|open|offen\w*|ouvert|closed"
    r"|geschlossen\w*|ferme"
    r"|folded|plie|document size|with bleed|incl\w*|inkl\w*|avec fonds?)\b"
)
"""Of several sizes, one says which is which."""
_NAMES_THE_TRIM = re.compile(
    r"\b(?:trim\w*|finish\w*|final\w*|net|endformat\w*|end ?-?gro\w+|format fini|rogne|fini\w*|closed|open|flat|size\w*"
    r"|dimension\w*|measur\w*|format\w*|gro(?:ss|ß)e|mass\w*|maß\w*|taille|ausgabe\w*|\w*format|wird|portrait|landscape"
    r"|upright|documents?|width|breite|largeur|bleed|\w*beschnitt|fonds?)\b"
)
_NOT_A_COUNT = re.compile(r"\b(?:max\w*|hochst\w*|up to|from|ab|a partir|jusqu\w*|bis|correspond\w*|prime|rabatt|discount"
    r"|tarif\w*|price\w*|preis\w*)\b")
_NO = re.compile(
    r"\b(?:no|not|never|without|don't|avoid|remove|kein\w*|nicht|ohne|pas|sans|non|aucun\w*|ne|ni|neither|nor|verzicht\w*"
    r"|entfern\w*|supprim\w*|flatten\w*|reduzier\w*)\b"
)
_BROKEN_LIST = re.compile(r",|;| - |\b(?:dans|in|on|auf|sur|into)\b")
_WITH_ITS_OBJECT = re.compile(r"^(?: sie)? (?:bitte )?auf\b")
"""'Verzichten Sie auf …'."""
_RANGE = re.compile(r"[0-9] ?(?:mm|cm|dpi|ppi)? ?(?:-|to|bis|a) ?[0-9]")
_EITHER = re.compile(r"\b(?:either|or rich|oder tief|entweder|soit)\b")


def _excepts(one: Seen) -> bool:
    return _EXCEPTED.search(one.part) is not None


def _of_another_file(one: Seen) -> bool:
    kinds = _KIND_OF_FILE.search(one.text) or _KIND_OF_FILE.search(one.over)
    return kinds is not None and _ALL_FILES.search(one.text) is None


def _tells(one: Seen) -> bool:
    return _TELLS.search(one.part) is not None and _DEMANDS.search(one.part) is None


def _leaves_a_choice(one: Seen) -> bool:
    counted = one.path == "color.spots.maximum" and one.value != "0"  # 'at most two spot inks are possible'
    return not counted and _CHOICE.search(one.part) is not None


def _we_do_it(one: Seen) -> bool:
    return _WE_DO.search(one.part) is not None


def _drawn(one: Seen) -> bool:
    return _LINE_TO_DRAW.search(one.part) is not None


def _no_least(one: Seen) -> bool:
    return _LEAST.search(f"{one.over} {one.text}") is None


def _of_a_part(one: Seen) -> bool:
    return _OF_A_PART.search(one.part) is not None


def _over_a_part(one: Seen) -> bool:
    return _OVER_A_PART.search(one.over) is not None


def _of_pictures(one: Seen) -> bool:
    over = _OVER_PICTURES.search(one.over) is not None and _LETS_TYPE_IN.search(one.over) is None
    return over or _OVER_PICTURES.search(one.text[one.text.rfind(",", 0, one.start) + 1 : one.start]) is not None


def _outward(one: Seen) -> bool:
    return _OUTWARD.search(one.part) is not None or ("bleed" in one.over and _INWARD.search(one.part) is None)


def _no_trim(one: Seen) -> bool:
    """A size up to which, one of several, or one without its unit."""
    said = f"{one.over} {one.text}"
    comma, next_comma = one.text.rfind(",", 0, one.start), f"{one.text},".find(",", one.end)
    return (
        _AS_LARGE_AS.search(f"{one.over} {one.text[comma + 1 : next_comma]}") is not None
        or (_UNIT.search(one.words) is None and _UNIT_IN_BRACKETS.search(said) is None)
        or (len(_A_PAIR.findall(one.text)) > 1 and _TOLD_APART.search(one.text) is None)
    )


def _unnamed(one: Seen) -> bool:
    named = _NAMES_THE_TRIM.search(f"{one.over} {one.text}")
    return named is None and not any(found.family in WHOLE for found in products_in(one.text))


def _no_count(one: Seen) -> bool:
    return _NOT_A_COUNT.search(one.part) is not None


def _no_is_far(one: Seen) -> bool:
    before = list(_NO.finditer(one.text, 0, one.end))
    if one.value not in ("forbidden", "must") or not before:
        return False
    return _BROKEN_LIST.search(_WITH_ITS_OBJECT.sub("", one.text[before[-1].end() : one.end])) is not None


def _a_range(one: Seen) -> bool:
    """'600-1200 dpi' leaves a choice more often than it refuses more."""
    return _RANGE.search(one.words) is not None


def _either(one: Seen) -> bool:
    return _EITHER.search(one.part) is not None


def _without_remarks(one: Seen, first: int, last: int) -> str:
    """Without brackets that neither hold the value nor a number, and are no '(flags only)'."""
    plain = one.text[first:last]
    for found in _IN_BRACKETS.finditer(plain):
        inside = first + found.start() <= one.start < first + found.end()
        if not inside and (_POINTING.match(found.group()) or not NARROWS.match(found[1])):
            plain = f"{plain[: found.start()]}{' ' * len(found.group())}{plain[found.end() :]}"
    return plain if one.path.startswith("color.") else ALWAYS_MET.sub(" ", plain)  # 'if you use photos, CMYK' is of photos


_IN_BRACKETS = re.compile(r"\(([^()0-9]*)(?:\)|$)")
_POINTING = re.compile(
    r"\((?:please |also )?(?:see|as|refer|shown|marked|indicated|below|above|dotted|dashed|red|green|blue|pink|like|such as"
    r"|including|e\.g|i\.e|eg|ie|etc)\b[^()0-9]*\)"
)
"""'(see the diagram)', '(such as names and prices)'."""
_OR_ELSE = re.compile(
    r",? (?:or|as) (?:it|they|this|these|you|the|your)\b[^.;]{0,40}?\b(?:will|may|might|can|could|gets?|risks?)\b"
)
"""'…, or it will be trimmed off' says what happens to those who do not."""


_SELDOM_WRONG = re.compile(r"color\.allowed|images\.bilevel|text\.reversed")
"""Of 252 published texts a few strange words stood beside 37 values of these keys, and 3 were false; of all others 12 of 46."""


def _strange(one: Seen) -> bool:
    """Words that no plain demand of this key has: what they do to the value is not known. To some keys a few do nothing."""
    first, last = one.clause if one.path.startswith("marks.") else one.own
    ends = [found.start() for pattern in (PURPOSE, _OR_ELSE) if (found := pattern.search(one.text, one.end, last))]
    plain = _without_remarks(one, first, min(ends, default=last))
    named = {*folded(one.value).split(), *one.path.split(".")}
    strange = strange_words(_PRODUCTS.sub(" ", plain), one.path)
    if strange and one.path.startswith("marks."):
        for beside in ("bleed.preferred", "pages.arrangement"):  # 'single pages with 3 mm bleed and crop marks'
            strange = strange_words(" ".join(strange), beside)
    strange = [word for word in strange if word not in named]
    few = len(plain.split()) // 4 if _SELDOM_WRONG.match(one.path) else 0
    return len(strange) > few


_SIGNS: tuple[tuple[str, str, Callable[[Seen], bool]], ...] = (
    ("exception", r"", _excepts),
    ("choice", r"", _leaves_a_choice),
    ("we do it", r"", _we_do_it),
    ("part", r"", _of_a_part),
    ("under a part", r"", _over_a_part),
    ("far from its no", r"", _no_is_far),
    ("another file", r"fonts|file\.(?!standards|pdf|maximum)|images\.bilevel|transparency", _of_another_file),
    ("tells", r"color\.allowed|margin|images|pages|marks|trim|bleed|fonts", _tells),
    ("drawn", r"lines", _drawn),
    ("no least", r"lines|text\.(?!black|level)", _no_least),
    ("pictures", r"fonts\.outlines|file\.layers", _of_pictures),
    ("outward", r"margin", _outward),
    ("no trim", r"trim\.(?:width|height|orientation)", _no_trim),
    ("unnamed", r"trim\.(?:width|height|orientation)", _unnamed),
    ("no count", r"pages\.allowed", _no_count),
    ("range", r"(?:images|bleed)\..*maximum", _a_range),
    ("either", r"text\.black_alone", _either),
    *MORE_SIGNS,
    (
        "strange word",
        r"color\.(?:allowed|spots|rgb)|margin|marks\.crop|bleed\.(?!minimum|level)|file\.(?:layers|separations|standards$|screening)"
        r"|finishes"
        r"|images\.(?:bilevel|jpeg|.*maximum)|lines\.minimum|pages\.(?:arr|mult|allowed|rot|max)|text\.(?:min|rev|rich)|levels"
        r"|papers|fonts\.formats|trim\.(?:orientation|corner|scales|parts|alternatives)",
        _strange,
    ),
)
"""Each sign, and the beginnings of the paths that it counts for: there more than one value in twenty that had it was false."""


def sign_of_doubt(path: str, value: object, one: Statement, start: int, end: int, *, of_a_product: bool = False) -> str | None:
    """The first sign that the words at one.text[start:end] may not ask `value` of `path`; None where there is none.

    `of_a_product`: what it is part of is known already.
    """
    seen = _seen(path, value, one, start, end)
    signs = (one for one in _SIGNS if not (of_a_product and one[0] in _OF_PARTS))
    return next((name for name, paths, has in signs if re.match(paths, path) and has(seen)), None)


_OF_PARTS = ("part", "under a part", "unnamed", "unusual")


def _seen(path: str, value: object, one: Statement, start: int, end: int) -> Seen:
    over = " | ".join(words for words in (one.heading, one.label, one.lead, one.opening) if words)
    return Seen(path, str(value), one.text, max(0, start), min(end, len(one.text)), over)
