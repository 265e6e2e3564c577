"""What words narrow a demand to, or say that it is none: products, conditions, examples, what others do."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

from service.sheets.prose.words.products import FOR_ALL, products_in

ScopeKind = Literal["product", "condition", "example", "aside", "unsure"]
"""`unsure`: it can be read so, and not for sure."""


@dataclass(frozen=True)
class Scope:
    kind: ScopeKind
    words: str
    """Folded."""
    family: str = ""
    """Of a product."""


@dataclass(frozen=True)
class Around:
    """What stands around a statement: the scopes that it inherits and the products of the whole text."""

    inherited: Scope | None
    own: frozenset[str]
    """Families that the title names: the text is about them."""
    pdf_said: bool = True
    """Whether the text speaks of PDF at all: where it does not, a JPEG is the file."""


EXAMPLE = re.compile(
    r"\b(?:for ex(?:ample)?|e\.g\b\.?|eg\b\.?|for instance|z\. ?b\.|zum beispiel|beispiel\w*|bspw\.|par exemple|p\. ?ex\.?"
    r"|ex\. ?:|exemples?|examples?)(?:\b|(?<=[.:]))"
)
_CONDITION = re.compile(
    r"\bfor (?:all )?(?:the |these )?following (?:products?|items?)\b|\bfolgende[nr]? (?:produkt|artikel)\w*"
    r"|\bles (?:produits|articles) suivants\b|\b(?:if|when(?:ever)?|unless|in (?:the )?(?:case|event)"
    r"|(?<!circumstances )(?<!never )(?<!nor )(?<!no case )should you|only where|provided that|depending|wenn|falls|sofern"
    r"|sobald|soweit|im falle?|es sei denn|ausser|abhangig|je nach|si|s'ils?|lorsqu\w*|quand|en cas|dans le cas|sauf"
    r"|a moins (?:que|d['e] ?(?![0-9]))|au cas ou|selon|except"
    r"|(?<!without )(?<!no )exception\w*|(?<!ohne )(?<!keine )ausnahme\w*|otherwise specified|by arrangement"
    r"|nach absprache|in (?:that|this|these|such) ?cases?"
    r"|in diesem fall\w*|dans ce cas|on request|auf anfrage|sur demande)\b"
    r"|\b(?:tiffs?|eps|jpe?gs?|pngs?)\b[^.;]{0,60}\b(?:so|as) long as\b|\b(?:viewing|observation) distance\b"
    r"|\bbetrachtungsabstand\w*|\bdistance de (?:vue|lecture)\b|[0-9] ?feet\b|\barm's length\b|^\W*(?:dort|hierbei)\b"
)
ALWAYS_MET = re.compile(
    r"\b(?:if|when|where|wherever) (?:possible|applicable|necessary|required|needed|in doubt|placed|printed|viewed|used)\b"
    r"|\b(?:if|when|whenever)(?: you(?:'re| are| will be| will| want to| wish to| plan to)?| we)?(?: then"
    r"| also)? (?:creat|export|sav|suppl|submit|send|prepar|mak|design|scan|enlarg|import|insert|resiz|sett?|output"
    r"|provid|generat|upload|writ|produc|order|build|work|lay|plac|convert)(?:e|es|t|ing|s|ting|ying|ies|y|p?ly|out"
    r"|ning|e?d|ted|plied)?\b"
    r"(?! (?:a |any |the )?(?:spot|pantone|rich|border|frame|quark|photoshop|illustrator|indesign|native|fold))"
    r"|\bwenn moglich\b|\bsi (?:possible|necessaire)\b|\bfalls (?:notig|moglich|vorhanden)\b|\bwenn sie (?:\w+ ){0,4}(?:datei\w*"
    r"|daten|pdf\w*|dokument\w*)\b"
    r"|\b(?:when|once|as|if) (?:the |an? |your |any )?(?:images?|pictures?|photos?|graphics?|artwork|they|it|it's|scans?|files?)"
    r" (?:is|are|has been|have been)? ?(?:scaled|sized|placed|set|reproduced|output|printed|used|viewed|imported"
    r"|inserted|seen|enlarged|resized|reduced|cropped)\b"
    r"|\bif (?:used|shown|printed in)\b|\bif (?:the )?(?:documents?|files?|jobs?) (?:are"
    r"|is) (?:to be )?printed in (?:cmyk|full colou?r)\b"
    r"|\b(?:when|if|where|wenn|falls|si|lorsqu\w*) (?:it is |they are |set |printed |used |placed )*(?:in )?(?:knock\w*"
    r"|revers\w*|white|negativ\w*|invers\w*|positiv\w*"
    r"|wei(?:ss|ß)\w*|blanc\w*|en reserve|on (?:a )?(?:dark|colou?r))"
    r"|\b(?:when|if|where) (?:the |an? |any )?(?:lines?|rules?|strokes?|texts?|type|letter\w*|it|they) (?:is|are) (?:\w+ )?"
    r"(?:knock\w*|punch\w*|revers\w*|cut) ?-?out\b"
    r"|\bunless (?:there (?:is|are)|you (?:have|use|need|ordered)|(?:it|your \w+) (?:has|uses|contains))(?: \w+){0,4} "
    r"(?:spot|pms|pantone)\b"
    r"|\bif (?:an? |any |the )?(?:\w+ (?:or |and )?){1,3}(?:is|are) (?:to be )?(?:used|present|included|placed)\b"
    r"|\b(?:with the |mit )?(?:exception|ausnahme) (?:of|von|for|de)\b"
    r"|\b(?:when|as) the (?:pdf\S*|file|document) \w*\s?(?:file )?(?:is|was|has)\b|\bsi votre fichier est \W*bitmap"
    r"|\b(?:unless|except where|if not) (?:\w+ )?(?:otherwise )?(?:stated|specified|noted|indicated|agreed|instructed"
    r"|requested|required|advised|told|quoted|arranged)\b"
    r"|\b(?:sofern|soweit|wenn|falls) (?:\w+ )?nicht anders\b"
    r"|\bsauf (?:indication|mention|avis|precision)s? contraires?\b|\b(?:wenn|falls|sofern) sie (?:\w+ ){0,4}(?:bilder|grafiken"
    r"|fotos|rastergrafiken)\b|\bif you(?:'re| are)? (?:us|includ|hav|plac)(?:e|ing) (?:any )?(?:\w+ )?(?:images|photos"
    r"|pictures)\b|\bsi vous (?:utilisez"
    r"|inserez) des (?:images|photos)\b"
    r"|\b(?:wenn|falls) (?:schwarze?|dunkle?|wei(?:ss|ß)e?|helle?|farbige?)\w* (?:linien|schrift|texte?)[\w/]* auf\b"
    r"|\ble cas echeant\b|\ben cas de (?:\w+ )?(?:decalage|doute|variation)\w*|\b(?:wenn|falls|if|si)\b[^,;]{0,40}\b(?:bitmaps?"
    r"|1-bit|strich\w*|line art)\b|\ba moins d[e'] ?[0-9][^;,.]{0,12}\b(?:du|des|de la) (?:trait|bord|format|coupe|rogne)"
    r"|\blorsque vous (?:creez|enregistrez|exportez|preparez|envoyez)\b|\blors de\b|\bje nach (?:\w+ )?software\b"
    r"|\bif (?:additional|extra|special|spot) colou?rs are (?:needed|required|used)\b"
    r"|\b(?:if|when|where|in case) (?:you|your \w+|the \w+|an? \w+|any \w+) (?:use|have|include|contain|ha)s? (?:any "
    r"|some |the )?"
    r"(?:\w+ )?(?:images?|photo\w*|pictures?|text|type|logos?|graphics|bleeds?|fonts?|(?:crop|printer'?s) ?marks|spot colou?rs)\b"
    r"|\b(?:if|unless) (?:you (?:can't|cannot|do not|don't)|fonts?|text|type|they)[^,;]{0,20}\boutlin\w*"
    r"|\b(?:when|once|after) (?:you are |you're |you have )?(?:finished|done|ready)\b|\bif (?:accurate )?colou?r is important\b"
    r"|\bif you (?:do |are |don't |aren't )?(?:not )?us(?:e|ing) (?:our|the|an?|one of our) (?:\w+ )?templates?\b"
    r"|\bdepending on (?:the|your|which) (?:program|software|application|version)\w*"
    r"|\bif you (?:do not |don't )?(?:want|would like|need|require|wish) (?:your |the |any "
    r"|all )?(?:\w+ ){0,2}?(?:pictures|images"
    r"|photos|text|artwork|design|logos?|colou?rs?)\b[^,;]{0,30}\b(?:sharp|crisp|clear|cut|edges?|well)\b"
    r"|\bif (?:the |your |any )?(?:text|elements?|objects?|content|information|it|they) (?:is|are) (?:important|critical"
    r"|near|close"
    r"|not to be (?:cut|trimmed))\b"
    r"|\bif you (?:already )?(?:have|send|supply|want to (?:send|supply)) (?:an? |your )?(?:own |print[- ]ready "
    r"|finished |complete[d]? )*"
    r"(?:pdf|artwork|file|design|document)s?\b|\beven (?:if|when|where)\b(?=[^,;0-9]*(?:$|[,;]))|\bif (?:your|the"
    r"|any) \w+ (?:contains?|has"
    r"|uses|includes?|is in|are in) (?:any )?rgb\b"
    r"|\bwhen it comes to\b|\bin the (?:event|case) (?:that )?(?:you|the client|clients?)(?: \w+){0,3} (?:suppl|provid"
    r"|send|submit)\w*"
    r"|\b(?:if|when) (?:it'?s|it is|they are|you(?:'re| are)? (?:send|suppl|submit|provid)\w*|(?:your|the) (?:file"
    r"|art\w*|ad|document)"
    r" is)(?: as| in)?(?: an?| the| your)? pdf\b"
    r"|\b(?:please )?contact us if\b|\bif (?:you have|in) (?:any )?(?:questions?|doubt)\b"
    r"|\b(?:if|when) (?:there (?:is|are)|you (?:have|use)|using|setting|placing) (?:any )?(?:white|revers\w*|small|fine"
    r"|thin|images?|pictures?"
    r"|photos?|bleeds?|text|type|lines?|bitmaps?)\b|\bs'il y a (?:du|des|de la) (?:textes?|images?|photos?"
    r"|fonds? perdus?|traits?)\b"
    r"|\b(?:wenn|falls) (?:es )?(?:\w+ ){0,3}(?:wei(?:ss|ß)\w*|negativ\w*|schrift\w*|text\w*|linien|bilder\w*"
    r"|fotos?) (?:\w+ )?(?:gibt"
    r"|vorhanden|enthalten|vorkomm\w*|verwend\w*|platzier\w*)\b"
)
_TO_THE_EDGE = re.compile(
    r"\bedges?\b|\bpage borders?\b|\bbleed\w*\b|\brun(?:s|ning)? off\b|\btouch\w*|\bextend\w*|\brand\w*\b|\bkante\w*"
    r"|\bangeschnitten\w*|\babfallend\w*"
    r"|\b(?:colou?red|solid|full|dark|printed) (?:colou?r )?(?:background|backdrop)s?\b|\bbackground (?:colou?rs?"
    r"|images?|pictures?|tints?)\b|\bfarbige\w* (?:hintergr\w*"
    r"|flachen?)\b|\bhintergrund(?:farbe|bild)\w*|\bvollflachig\w*|\bfonds? (?:est |sont )?(?:de couleur|colores?|en couleur)\b"
    r"|\baplats?\b"
    r"|\bwhite (?:borders?|backgrounds?|edges?|margins?)\b|\banschnitt\w*|\bbeschnitt\w*|\bbords?\b"
    r"|\bfonds?[ -]perdus?\b|\bdebord\w*|\bformatrand\w*|\bseitenrand\w*"
)
_SOMEONE_ELSE = re.compile(
    r"\b\w*(?:belichter|maschinen?|drucker|plotter|scanner|imprimante|traceur|flasheuse) (?:arbeitet|druckt|belichtet|lauft"
    r"|imprime"
    r"|fonctionne|travaille)\b|"
    r"\bby default\b|\bdefault (?:setting|ink|value)\w*|\bvoreinstell\w*|\bstandardmassig\b|\bpar defaut\b|\bmost (?:printers"
    r"|presses|cameras)\b"
    r"|\bfor (?:the )?web\b|\bon (?:the )?web\b|\bon screens?\b|\bfor screens?\b|\bwebsites?\b|\bmonitors?\b|\bim internet\b"
    r"|\bfur das (?:web|internet)\b"
    r"|\bbildschirm\w*|\bau lieu de\b|\bpour le web\b|\becrans?\b|\binternet\b|\bphotoshop uses\b"
    r"|(?<!supported and )(?<!accepted and )\bwill be (?:automatically )?converted\b"
    r"|\bthe human eye\b|\bcan (?:accommodate|take)\b(?! \w+ (?:source )?files)|\bsome printers\b|\bnormal(?:ly"
    r"|erweise) verwend\w*"
    r"|\bour (?:\w+ )?(?:equipment|press(?:es)?|printers?|machines?|systems?) (?:can|is able|are able|prints?"
    r"|will print|runs?)\b"
    r"|\bunsere? (?:\w+ )?(?:drucker|maschinen?|anlagen?) (?:kann|konnen|druck\w+)\b|\bnos (?:\w+ )?(?:machines|presses"
    r"|imprimantes)"
    r" (?:peuvent|impriment)\b"
    r"|\b(?:reduced|bad|poor|low|schlechte?|mangelhafte?|mauvaise?|faible) (?:print )?(?:quality|qualitat|qualite)\b"
    r"|\bnot recommended\b"
    r"|\bis a (?:lower|low) resolution\b|\b(?:reduced|reduces|increased|enlarged|drops?) (?:down )?(?:to|by) @?(?=[0-9])"
)
_SCALED = re.compile(
    r"\b(?:1 ?/ ?(?:2|4|8|10|20)|half|quarter|one[- ](?:half|quarter|tenth))[- ]?(?:th )?(?:scale|size)\b"
    r"|(?<![0-9])(?:10|20|25|50) ?%"
    r" ?(?:scale|size|of (?:the )?(?:final|actual|full|finished|original|real))?(?= ?(?:scale|size|of|at\b|@|/|,|:|\)|\(|-))"
    r"|\b1 ?: ?(?:2|4|5|10|20)\b|\b(?:ma(?:ss|ß)stab|echelle|scale) (?:von |de |of )?1 ?[:/] ?(?:2|4|5|10|20)\b"
    r"|\b(?:any |an)?other scale\b|\ba (?:smaller|reduced) scale\b|\bverkleinertem? ma(?:ss|ß)stab\b|\bechelle reduite\b"
)
"""What is asked of a file drawn smaller than the product."""
_OF_ANOTHER_FILE = re.compile(
    r"(?:ausser|sauf|except(?:ion)?(?: for)?|bis auf) (?:bei |fur |for |pour |les |der |die )?\.?(?:jpe?gs?|tiffs?|pngs?|eps)\b"
)
_INVERTED = re.compile(
    r"(?:haben|sollten?|mochten|wollen|werden|enthalt|enthalten|liegt|liegen|verwenden|benotigen|planen|wunschen) (?:sie|ihre?"
    r"|das|die|der|ein\w*|wir) (?![^,]{0,60}\bbitte\b)[^,.]{3,140},(?![0-9]| ?(?:keine?\w*|nicht|nur|und|oder|sowie"
    r"|auch|ohne|mit|damit|um|die|der|das|dass)\b)"
)
"""'Haben Sie in Graustufen bestellt, …': a German condition without its word."""
_WE_DO = re.compile(
    r"\b(?:we|our (?:machines?|press(?:es)?|cutters?)|wir|nous) (?:cut|print|trim|produce|offer|(?:will "
    r"|can )?(?:automatically )?add|drucken|schneiden|bieten"
    r"|imprimons|coupons|proposons)\b(?! is\b| are\b|[^,;]*\b(?:limit|maximum|at most)\b)"
)
_KIND = r"(?:jpe?gs?|pngs?|gifs?|psds?|bmp|tiffs?|eps|word|powerpoint|publisher|excel)"
_ANOTHER_KIND = re.compile(rf"\b{_KIND}\b(?! compress| kompri| or zip)")
_OF_A_KIND = re.compile(
    rf"^\W*\.?{_KIND}\b|\b(?:for|in|as|bei|als|fur|pour|en|if|your|when|with|using) (?:\w+ ){{0,3}}\.?{_KIND}\b(?! compress)"
    rf"|\b{_KIND}[ -]?(?:files?|formats?|images?|datei\w*|bilder|:)"
)
"""What is asked of another kind of file than PDF."""
_NOT_ANY_MORE = re.compile(
    r"\b(?:previously|formerly|used to be|bisher\w*|fruher\w*|auparavant|ancienne\w*|until (?:now|recently)|outdated)\b"
)
PURPOSE = re.compile(
    r"\b(?:so that|so as to|in order to|due to|owing to|to (?:avoid|prevent|ensure|allow|guarantee|minimi[sz]e|give|get"
    r"|compensate)|because"
    r"|since|as this|as (?:\w+ ){1,2}(?:may|can|might|could)\b|(?<!unless )otherwise"
    r"|damit|um (?:[\w.,/-]+ ){0,12}zu (?:vermeiden|verhindern|gewahrleisten|erhalten)|da (?:sonst|diese|dies|es)|weil|denn|sonst"
    r"|afin (?:de|d'|que|qu')|pour (?:que|\w+(?:er|ir|re))|car|parce que|sans quoi)\b"
)


_ON_REQUEST = re.compile(r"on request|auf anfrage|sur demande|nach absprache|by arrangement")
_IN_THE_CASE = re.compile(r"in (?:the )?case|im falle?\b|dans le cas|en cas")
_AS_FAR_AS = 250
"""Characters before and after a demand that may narrow it."""


@lru_cache(maxsize=4096)  # lists and tables say the same again and again
def said(words: str, at: int, given: Around, *, numbered: bool, leading: bool = False) -> Scope | None:
    if len(words) > 2 * _AS_FAR_AS:
        cut = max(0, at - _AS_FAR_AS)
        words, at = words[cut : at + _AS_FAR_AS], at - cut
    if match := _NOT_ANY_MORE.search(words) or _SOMEONE_ELSE.search(words):
        return Scope("aside", match.group())
    if numbered and (doing := _WE_DO.search(re.split(r"[,;]", words[:at])[-1])):
        return Scope("aside", doing.group())
    if numbered and given.pdf_said and (kind := _another_kind(words)):
        return Scope("condition", kind)
    inverted = _INVERTED.match(words.lstrip())
    if inverted and not _TO_THE_EDGE.search(inverted.group()):
        return Scope("condition", inverted.group()[:80])
    met = [found.span() for found in ALWAYS_MET.finditer(words)]
    for condition in _CONDITION.finditer(words):
        if any(a <= condition.start() < b for a, b in met) or _OF_ANOTHER_FILE.match(words, condition.start()):
            continue
        if _ON_REQUEST.match(condition.group()) and "," in words[min(at, condition.end()) : max(at, condition.start())]:
            continue  # 'CMYK, spot colours on request'
        clause = re.split(r"[,;]", words[condition.start() : condition.start() + 160])[0]
        named = {product.family for product in products_in(clause)} if _IN_THE_CASE.match(condition.group()) else set()
        if named and named <= given.own:
            continue  # 'in the case of a book' where all of it is about books
        listed = re.search(r"following|folgende|suivants", condition.group())
        told = re.split(r"[0-9]", clause)[0] if re.match(r"if|wenn|falls|si\b", clause) else clause
        if _TO_THE_EDGE.search(told) and not listed and not any(products_in(clause)):
            continue
        return Scope("condition", clause.strip()[:80])
    for product in products_in(_EXCEPT.sub(" ", words)):
        if product.family not in given.own and not (leading and product.weak and not _FOR_THEM.search(words)):
            return Scope("product", product.name, product.family)
    return _narrowing_phrase(words, at, given, met) if numbered else None


def _another_kind(words: str) -> str | None:
    """'JPEGs: 300 dpi'; what is asked of 'TIFF, JPEG or PNG' alike is asked of pictures."""
    kinds = {kind.group()[:3] for kind in _ANOTHER_KIND.finditer(words)}
    if len(kinds) != 1 or re.search(r"\bpdf", words):
        return None
    kind = _OF_A_KIND.search(words)
    return kind.group() if kind else None


def of_another_scale(words: str) -> Scope | None:
    """`words`: those between the commas around a number."""
    scaled = _SCALED.search(words)
    return Scope("condition", scaled.group(), "scale") if scaled and not _FULL_SIZE.search(words) else None


_A_SCALE_LEADS = re.compile(r"\W*(?:at|to|a|im|bei|en|in|auf)\b[^,;.()]{0,40}(?=,)")


def led_by_a_scale(text: str, start: int) -> str:
    """'At 1/10 of the size, 1500 dpi': what opens the sentence, where only a comma parts it from the number's part."""
    lead = _A_SCALE_LEADS.match(text, 0, start)
    return f"{lead.group()} " if lead and text.find(",", lead.end() + 1, start) < 0 else ""


def _narrowing_phrase(words: str, at: int, given: Around, met: Sequence[tuple[int, int]]) -> Scope | None:
    """'For X …' before the number at the end of words[:at], or right behind it, where X is nothing that every file has."""
    for match in _FOR.finditer(words):
        if match.start() > at + _RIGHT_BEHIND or any(match.start() < b and a < match.end() for a, b in met):
            continue
        if _VERB_FOR.search(words[max(0, match.start() - 14) : match.start()]) or any(
            FOR_ALL.fullmatch(word)
            for number, word in enumerate(match["what"].split(" "))
            if number == 0 or not word[0].isdigit()
        ):
            continue
        named = products_in(match.group())
        if any(product.family in given.own for product in named) or (not named and _EVERY.search(match.group())):
            continue
        return Scope("condition", match.group())
    return None


_FULL_SIZE = re.compile(
    r"\b(?:100 ?%|full size|final (?:print |output |printed )?size|actual size|print size|1 ?: ?1\b|endgro\w+|taille reelle)"
)
_EXCEPT = re.compile(
    r"\b(?:(?:with the )?exceptions? of|except(?: for)?|ausgenommen|ausser|mit ausnahme (?:von|der)|sauf"
    r"|a l'exception d\w*)\b[^.;,()]{0,60}"
)
"""What a demand does not hold for narrows it to nothing else."""
_FOR_THEM = re.compile(
    r"^\W*(?:to (?:create|make|print|produce)|when (?:creating|printing)|for|bei|fur|pour|im falle"
    r"|in the case of)\b[^.;]{0,60}$"
)
_RIGHT_BEHIND = 16
_EVERY = re.compile(r"\b(?:all|any|each|every|alle[nrm]?|jede[nmr]?|chaque|tous|toutes)\b")
_VERB_FOR = re.compile(
    r"\b(?:continue\w*|go(?:es)?|on|run\w*|extend\w*|adjusts?|allow(?:s|ing)?|accounts?|compensat\w+|asks?|look"
    r"|suitable|intended|meant|used|ready|needed|required"
    r"|responsible|necessary|enough|sufficient|except|as|geeignet|notig|ausreichend)\s$"
)
_FOR = re.compile(
    r"\b(?:for|bei|beim|fur|pour)\s+(?!vos\b|votre\b|your\b|ihre?\b|this\b|dies)(?:(?:the|den|die|das|der|dem|des|les|la|le|du"
    r"|our|all|alle[nrm]?|any|each|every|jede[nmr]?|chaque|tous|toutes|eine?[nmrs]?|an?|une?)\s+|[ld]')*"
    r"(?P<what>[a-zß0-9%'/-]+(?: [a-zß0-9-]+)?)"
)
