"""The things that a single length may be of, as printers name them."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache

MARKS = re.compile(
    r"\b(?:crop(?:ping)?|trim(?:ming)?|cut(?:ting)?|corner|printer'?s'?) ?-?marks?\b|\bcropmarks?\b|\bcrops\b"
    r"|\b(?:crop|trim|cut)/(?:\w+[/ ]){0,4}?marks\b|\bcutting stamps?\b"
    r"|\b(?:crop|trim|cut)(?:,| and| &| or| ?/) ?(?:bleed|registration|fold|crop|trim|cent(?:er|re)|regist(?:er"
    r"|ry))(?:,? (?:and"
    r"|or|&) \w+)? ?-?marks\b"
    r"|\b(?:trim|crop), (?:\w+,? ){1,2}(?:and|or|&) \w+ marks\b"
    r"|\b(?:falz|passer|register|druck|stanz|perforations?)-?,? ?(?:und|oder|/|&|,) ?(?:schnitt|schneide?"
    r"|beschnitt)\w*-?(?:marken|zeichen)\b"
    r"|\b(?:schnitt|schneide?|beschnitt|eck)-,? ?(?:(?:\w+-,? ?)?(?:und|oder|/|&|,) ?)+(?:falz|passer|register|mitten|druck)-?"
    r"(?:marken|zeichen)\b"
    r"|\b(?:schnitt|schneid|schneide|beschnitt|eck|druck|passer)-?(?:marken?|zeichen)\b|\b(?:traits?|reperes?|marques?"
    r"|croix) de (?:coupe|rogne|montage"
    r"|decoupe|recoupement)\b|\bhirondelles?\b|\bschneidezeichen\b|\bmarken\b"
)
_BLEED = re.compile(
    r"\bbleed(?:s|ing)?(?:\b|(?=[0-9]))(?!,? (?:edge|line|box|marks?|area|size(?! ?[:=-])|out|through)\b)|\bbleed area\b"
    r"|\bfull[- ]bleed\b"
    r"|\bextra (?:image|background|artwork|picture)\b"
    r"|\b(?:be|an)schnitt(?:s?(?:zugabe|rand|bereich|en))?\b|\b\w{3,12}(?:be|an)schnitt(?:e|s|zugabe)?\b|\b(?:be|an)schnitt(?:e"
    r"|s)?\b"
    r"|\bschnittzugaben?\b|\b(?:fonds?|bords?)[ -]perdus?\b|\bdebords?\b|\bdebordement\b|\buberstand\b|\buberfullung am rand\b"
    r"|\brandanschnitt\w*"
    r"|\bsangs?\b|uberfuller\b|\buberfullung\b(?! am rand)|\boverfill\b|\boverhang\b|\bover-?bleed\b|\bcut(?:ting)? (?:margin"
    r"|allowance)s?\b"
    r"|\btrim(?:ming)? allowances?\b"
    r"|\bextra (?:\w+ )?of (?:image|background|artwork|picture|colou?r)s?\b|\bfor trimming\b|\b(?:zugabe"
    r"|(?!sicherheit)\w{0,14}(?<!farb)(?<!farben)zugabe)n?\b(?! von \w*farbe)"
    r"|\brogne\b(?= sur| de| tout| autour)"
    r"|\bbleed allowances?\b|\b(?:external|outer) bleeds?\b"
)
_OTHER_EDGE = (
    r"(?!(?:fold|bleed|gutter|spine|backbone|hole|window|border|frame|perfor|crease|file|document|data|datei|art|inside|outside"
    r"|from|to|of|and|or"
    r"|the|between|image|top|bottom)\w*\b)"
)
"""What makes an edge another than that of the trim."""
_ACROSS = re.compile(
    r"\b(?:beyond|past|pass(?:es)?|over|outside|across|outward(?:s)? (?:from|of)|out (?:from|of))(?: of)? (?:the |your "
    r"|each |every |all )*"
    rf"(?:{_OTHER_EDGE}[a-z-]+ ){{0,3}}?(?:trim|die|cut|edges?|page|cutting|side|border)\w*(?: ?-?edges?| ?-?lines?| size)?"
    r"|\b(?:beyond|past|outside)(?: of)? (?:the |your |each |every |all )*(?:final|finished) (?:size|format|area"
    r"|product|piece)\b"
    r"|\bfurther than (?:the )?(?:trim|edge|page|cut|finished)\w*|\bbeyond (?:it|that|them)\b"
    r"|\b(?:run|runs|running|go|goes|bleeds?) (?:over|off|past|out)\b"
    r"(?: (?:of )?(?:the|your|each|every) \w+(?: ?edges?)?)?"
    r"|\b(?:extend|stretch|enlarg|protrud|overlap|spill|overshoot)(?:e?s|e?d|ing|e)?\b|\bgro(?:ss|ß)er (?:\w+ ){0,2}als (?:das "
    r"|die |ihr )?(?:\w+ )?(?:end|schnitt)\w*|\bplus grande?s? (?:\w+ ){0,2}?que (?:le |votre )?(?:format|document)\b"
    r"|\b(?:larger|bigger"
    r"|wider) than (?:the )?(?:trim|final|finished|page)\w*(?: \w+)?"
    r"|\buber (?:den|das|die|alle)(?: \w+)? (?:rand|rander|endformat|schnittkanten?|kante\w*|seitenrand"
    r"|formatrand)\b(?: hinaus)?"
    r"|\buber das (?:\w+ )?(?:end)?format\b|\buber die (?:stanz|schneid|schnitt)\w*(?: hinaus)?\b|\buberlapp\w*|\bhinausragen\w*"
    r"|\bhinaus\w*\b|\buberstehen\b|\buberragen\w*"
    r"|\bherausgezogen\w*|\berweiter[nt]\w*|\b(?:prolong|etend|agrandi|elargi|rallong)\w*|\bbreiter sein\b"
    r"|\bau[- ]dela (?:du|des|de la) (?:format|bords?|trait|coupe)\w*|\b(?:depasser|deborder)\b"
)
_AND_FOLDS = (
    r"(?:,? ?(?:and|or|&|/) ?(?:from |off |of )?(?:any )?(?:the )?(?:fold|crease|perforation|score)s?(?: ?-?(?:lines?"
    r"|edges?))?(?: \([^()]{0,30}\))?)?"
)
_FOLDS_AND = r"(?:(?:folds?|creases?|perforations?)(?: lines?)? ?(?:and|or|&|/) ?(?:the |any )?)?"
_EDGE = (
    rf"(?:{_FOLDS_AND}(?:(?:{_OTHER_EDGE}[a-z'-]+ ){{0,3}}(?:(?:[a-z]+/)?trim(?: ?-?box)?|cuts?|cutters?|die(?: ?-?cut)?"
    rf"|cut ?-?lines?|die ?-?lines?"
    rf"|edges?|border|cutting|page|profiles?(?= ?-?lines?)"
    r"|borders|sides?|trimming)(?: ?-?(?:edges?|lines?|size|format|side|area|marks?|guides?))?(?: of (?:the )?(?:trim|page|sheet"
    r"|card|label|sticker|product"
    r"|artwork|ad|advert))?|(?:final|finished|trimmed) (?:format|size|area|product|piece)|crop(?:ping)? (?:marks?|guides?"
    r"|lines?))"
    rf"{_AND_FOLDS})"
)
_MARGIN = re.compile(
    r"\bsafe(?:ty)?[- ]?(?:zones?|areas?|margins?|distances?|lines?|space|borders?|boundary)?\b|\bquiet[- ](?:zones?"
    r"|areas?|margins?|borders?|edges?|space)\b|\bclearance\b|\bclear (?:border|space|strip|edge)\b"
    r"|\blive[- ](?:area|matter|content|image area|copy|material)s?\b|\bclear[- ](?:zone|margin|area)\b"
    r"|\b(?:inner |inside |internal |text )?margins?\b|\bsafe[- ](?:print(?:ing|able)?|image|text|type|live) (?:area"
    r"|zone|margin)s?\b|\b(?:type|text|image) "
    r"safe (?:area|zone)s?\b|\binternal bleeds?\b|\b(?:white|blank|unprinted|empty) (?:border|margin|edge|space|frame)s?\b"
    r"|\bwei(?:ss|ß)\w* rand\w*|\bunbedruckt\w* rand\w*|\b(?:bord|cadre|bordure)s? blanc\w*|\bmarges? (?:blanches?"
    r"|non imprimees?)"
    r"|\b(?:seiten|innen|au(?:ss|ß)en|text)rander?n?\b|\b(?:ubrigen?|restlichen?|anderen?) rander\b|\bruhe(?:zone|bereich"
    r"|rand)\w*|\bzones? tampons?\b|\btextfreie\w* rand\w*|\bfreiraum\b|\bblancs? tournants?\b"
    r"|\bmarges? tournantes?\b"
    r"|\bsicherheits(?:abstand|abstande|rand|zone|bereich|zugabe)\w*|\bschutz(?:zone|rand|bereich|abstand)\w*"
    r"|\b(?:mindest|innen"
    r"|text|rand)?abstand\w*"
    r"|\bzones? (?:minimales?|recommandees?|sure|protegee)\b|\bmarges?(?: (?:de securite|interieures?|tranquilles?"
    r"|minimales?))?\b|\bzone (?:de securite|tranquille|de tranquillite"
    r"|de protection|de silence)"
    r"|\bdistance de securite\b|\bretrait\b"
)
_INSIDE = re.compile(
    rf"\b(?:inside|within|in from|away from|way from|from|to|of|off|and(?! (?:crop|trim|cut"
    rf"|bleed)\w* ?marks?))(?: of)? (?:the |all |any |every |each |your "
    rf"|all of the |its "
    rf"|their |an? )*{_EDGE}\b|\bbetween (?:the |any |each )?{_EDGE} and\b"
    r"|\b(?:innerhalb|inseits) (?:des|der|vom) (?:\w+ )?(?:endformat\w*|\w{0,12}rand\w*|schnitt\w*|format\w*|beschnitt(?:rand"
    r"|linie|kante)\w*)|\bund (?:dem )?(?:format|seiten"
    r"|papier|schnitt)?(?:rand|kante)\b|\ba l'interieur (?:du|des|de la) (?:\w+ )?(?:format\w*|coupe|trait\w*"
    r"|bord\w*)(?: de coupe)?|\ble bord(?: de coupe)?\b"
    r"|\bins? (?:das )?(?:end|seiten)?format (?:hinein|gesetzt|gestellt|versetzt)\w*"
    r"|\b(?:zur|von der|vom|zum|der) stanz(?:e|kontur|linie|form|rand)\b"
    r"|\b(?:vom|zum|am|an den|an die|an der|von der|zur|von den|zu den|von allen)(?: \w+)? ?(?:rand|rander\w*|endformat\w*"
    r"|schnittkante\w*"
    r"|schneidekante\w*|formatrand"
    r"|schnitt"
    r"|papierrand|seitenrand|kanten?|beschnittkante|formatkante|au(?:ss|ß)enkanten?)\b|\bde la (?:de)?coupe\b|\bentre la coupe\b"
    r"|\bdu format(?: fini| rogne| final| de (?:de)?coupe)?\b(?! pdf| d[eu'] ?| [a-z]?[0-9])|\b(?:du|des"
    r"|de chaque"
    r"|de tous les"
    r"|aux?) (?:bords?|traits? de coupe|format fini"
    r"|rognage|coupe|cadre du format)\b|\ble long des bords\b|\baway from it\b|\binside(?= ?(?:[.;,)]|$))|\binnerhalb der au(?:ss"
    r"|ß)eren\b|\binwards?\b"
    r"|\bnach innen\b"
    r"|\bvers l'interieur\b|\ben retrait\b|\binset\b|\bin by\b"
    r"|\bclear\b|\bgap\b"
)
_OFFSET = re.compile(r"\boff-?sets?\b|\bversatz\b|\bversetzt\b|\bdecal\w+|\bmarkenabstand\b|\bmark offset\b")
CONTENT = re.compile(
    r"\b(?:texts?|type|logos?|content|copy|elements?|\w*elemente?n?|objects?|objekte?n?|grafiken|graphiques?|important|critical"
    r"|essential"
    r"|informations?|graphics?"
    r"|schrift\w*|live|artwork"
    r"|texte\w*|inhalte?|wichtige?\w*|motiv\w*|contenu|bildelement\w*|keep|leave|lassen|freilassen|laisser|laissez|wording"
    r"|lettering|words?|prices|addresses|names|(?:phone|telephone) numbers?|details|captions?|headlines?|faces|photos?|rien"
    r"|nothing|anything|page numbers|headings?|signets?|art|(?:any|all|no) print|pas d'impression|aucune impression"
    r"|printed (?:images?|matter|elements?"
    r"|areas?|items?))\b"
)
_LINES = re.compile(
    r"\bhair-?lines?\b|\blines?(?: ?-?(?:weights?|widths?|thickness(?:es)?|strengths?|art strokes))?\b(?! ?screen| ?art|s? per)"
    r"|\bstrokes?(?: ?-?(?:weights?|widths?))?\b|\brules?\b(?! of)|\bruled\b|\bfine lines\b"
    r"|\bstriche?n?\b|\b(?:negativ|positiv)strich\w*|\bmindest(?:strich|linien)?(?:starken?|dicke)\b|\b\w{0,16}lini(?:en?|enst\w*"
    r"|enbreit\w*)\b"
    r"|\bstrichstarken?\b|\bkonturen?\b|\bfilets?\b|\btraits?\b"
    r"|\bepaisseurs?(?: (?:de|des) (?:traits?|filets?|lignes?))?|\blignes?\b|\bkeylines?\b"
)
_TYPE = re.compile(
    r"\btype(?:face)?s?(?: ?-?sizes?)?\b|\b(?:font|text|point|character|letter)[- ]?(?:sizes?|height)\b|\btexts?\b"
    r"|\bfonts?\b|\blettering\b|\bsmall print\b|\bwording\b|\bcopy\b(?! of)|\bcharacters?\b|\bschrift\w*"
    r"|\bpunktgro\w*|\btexte?s?\b|\bcorps\b|\bcaracteres?\b|\bpolices?\b|\btypograph\w*|\bbuchstaben\b"
    r"|\b\w{0,12}schrift\w*|\btaille (?:minimale? )?(?:de|du|des) (?:texte|police|caractere)\w*|\bletters\b"
)
REVERSED = re.compile(
    r"\b(?:cmyk|process|multi-?colou?r\w*|4-?colou?r|four[- ]colou?r) (?:colou?red )?(?:fonts?|type|text)\b|\brevers\w*"
    r"|\brev\b|\bwhite or\b|\bwhite out\b|\bwhite\)|\blight (?:text|type)|\bwhite (?:text|type|copy|lettering"
    r"|lines?|on|fonts?|rules?|characters)|\bknock(?:ed)?[- ]?outs?\b|\bnegativ\w*|\binvers\w*"
    r"|\bhelle\w* (?:schrift|text|linien)\w*|\bauf (?:dunkl|farbig)\w+ (?:hinter)?grund\w*|\b(?:sur|sur un) fond (?:fonce|sombre"
    r"|noir|colore|de couleur)\b"
    r"|\bwei(?:ss|ß)e?\w* (?:schrift|text|linien|auf)\w*|\b(?:textes?|filets?|traits?|caracteres?) (?:\w+ )?(?:blancs?"
    r"|inverses?)|\ben reserve\b|\b(?:en )?blanc sur (?:un )?fond\b|\bdefonce\w*|\bon (?:a )?dark|\blight on dark"
    r"|\bnegati(?:f|ve)s?\b|\bin white\b|\bnoir au blanc\b"
)
FACE = re.compile(
    r"(?<!sans )(?<!sans-)(?<!san )(?<!both )\bserifs?\b(?! type)(?! and san)"
    r"|(?<!be )(?<!and )\bsans?[- ]serifs?\b(?=[^.;]{0,20}[0-9])|\bserifen\w*"
    r"|\bfor sans?[- ]serifs?\b|\b(?:extra |ultra |very )?(?:bold|light|thin|fine|delicate)(?: (?:or|and) (?:extra "
    r"|ultra |very )?\w+)? (?:fonts?|type|faces?|typefaces?)"
    r"(?= smaller| under| below| less)"
)
"""Type of one cut; it has no key, white on colour or not."""
VARIANT = re.compile(
    r"\btinted\b|\b(?:4|four|two|2|three|3)[- ]colou?rs?(?: \w+)? (?:lines?|rules?|strokes?|hairlines?)\b|(?:\bunder|\bbelow"
    r"|less than|smaller than)[^.;]{0,20}\bas sans?-?\s?serif\b"
    r"|\b(?:light|thin|bold"
    r"|script|condensed|italic|narrow|mager\w*|fett\w*|fein\w*|kursiv\w*|leichte?\w*|maigres?|gras(?:se)?|legers?)[ -]"
    r"(?:cuts?|face|fonts?|type|styles?|weight|schrift\w*|schnitt\w*|caracteres?|polices?|typefaces?|lettering)\b"
    r"|\b(?:colou?red"
    r"|farbige?\w*|(?:multi-?|multiple[- ])colou?r(?:ed)?|mehrfarbig\w*"
    r"|(?:several|multiple|two or more) (?:\w+ )?(?:inks|colou?rs)|more than one (?:\w+ )?(?:ink|colou?r)s?"
    r"|process builds?|mehreren? farben"
    r"|en couleurs?|plusieurs couleurs|screened|gerastert\w*|tints?|tramee?s?"
    r"|emboss\w*|deboss\w*|foil\w*|gepragt\w*|spot uv|varnish|lack\w*)\b"
)
"""Type or lines of one kind only. 'Several inks' has a key where the words for it are plain; here the rest is left open."""
BLACK_OF_ONE_INK = re.compile(
    r"\b(?:only|pure|solid|single|(?<!than )one|100 ?% ?|nur|rein\w*|uniquement)[^.;]{0,25}\b(?:black|k\b|ink|colou?r|schwarz"
    r"|noir|encre)|\bblack[- ](?:only|ink only)\b|\b(?:no|not|never|avoid|kein\w*|nicht|pas de)\b[^.;]{0,30}"
    r"\b(?:rich|composite|four-colou?r|4-colou?r|multi-ink) ?black|\bk only\b|\bnoir seul\b|\brich black\b"
    r"|\b(?:nur )?einfarbig\w*|\bin (?:nur )?einer farbe\b|\b(?:une seule|une) (?:couleur|encre)\b|\b(?:single|one) colou?r\b"
    r"|\bnoir (?:soutenu|enrichi)\b|\btiefschwarz\b|\b100 ?% ?(?:k\b|black)|\bsingle ink\b|\bone ink\b"
)
RICH_BLACK = re.compile(r"\b(?:rich|composite|four-colou?r|4-colou?r) black\b|\bnoir (?:soutenu|enrichi)\b|\btiefschwarz\b")
_ELSEWHERE = re.compile(
    r"\bgutters?(?: margins?)?\b|\b(?:spine|binding|back|inner gutter) margins?\b|\bspines?\b|\bbackbones?\b"
    r"|\bfrom top to bottom\b|\bfolds?\b|\b(?:borders?|frames?"
    r"|bordures?)\b(?! ?(?:line|zone))|\brahmen\w*|\bcadres? (?!du)"
    r"|\bencadr\w*|\bfold lines?\b|\bcreases?\b|\bstaples?\b|\bbinding\b|\bperforat\w*|\bholes?\b|\bdrill\w*|\btolerances?\b"
    r"|\bcorners?(?: radius)?\b|\b(?:eck(?:en)?)?radius\b|\bthick(?:ness)?(?= (?:paper|board|of))|\bdie-?(?:cut|lines?)\b"
    r"|\bbund\b|\bbundsteg\w*|\bruckens?\w*|\bfalz\w*|\bheft\w*|\bklammer\w*|\bbohr\w*|\bloch(?:s|es|ung|position|rand|abstand"
    r"|mitte)?\b|\btoleranz\w*|\bschneid(?:e)?(?:toleranz"
    r"|differenz)\w*|(?<!zur )(?<!uber die )(?<!von der )(?<!der )(?<!vom )(?<!zum )\bstanz(?!zugabe)\w*|\brundung\w*"
    r"|\bgrammage\b|\breliure\b|\bplis?\b|\bpliage\b|\bdos\b|\bagraf\w*|\btrous?\b|\bbarcodes?\b"
    r"|\bqr\b|\bcodes?-barres?\b|\bbleed edge\b|\bbleed line\b|\bslug\b|\bcreep\w*\b|\bglue\w*"
    r"|\btrapping\b|\btraps?\b|\bschieb\w*|\bplace?ment\b|\bbinding edge\b|\bkleb\w*|\bumkleb\w*|\bverkleb\w*"
    r"|\bwidth of marks\b"
    r"|\blength of marks\b|\bscreen ruling\b|\bweite\b|\bx-height\b|\bfoil\b|\bprage\w*|\bvarnish\b|\black\w*"
    r"|\bwindow\b|\bleading\b|\blong\b|\bgrip(?:per)?\b|\bzu addieren\b|\btotal\b|\binsgesamt\b|\boverall\b|\ben tout\b"
    r"|\bmarie-louise\b|\bvisible\b|\bpaper feed\b|\boverlaps?\b|\bdrift\w*|\bshift\w*|\bmovement\b|\b(?:may|can"
    r"|might) (?:move|wander|vary)\b"
)
OWN_ZONE = re.compile(r"\b(?:upc|ean|isbn|issn)s?\b|\bbar ?codes?\b|\bqr\b|\bcodes?-barres?\b|\bstrichcode\w*|\bgutters?\b"
    r"|\bbundsteg\w*|\bhinges?\b")
_CODES = r"(?:(?:qr|bar)[- ]?(?:code)?s?|strichcodes?|codes?-barres?|qr-codes?)"
LISTED_CODES = re.compile(
    rf"(?<=[,/])\s?(?:and |und |et |or |oder |ou )?{_CODES}(?: codes?)?\b|\b(?:and|und|et|or|oder"
    rf"|ou) {_CODES}(?: codes?)?\b|\b{_CODES}(?: codes?)?(?=,| and| und"
    r"| et| or)"
)
"""'Text, logos and bar codes' is what any margin keeps inside."""
_UNBLEED = re.compile(
    r"\b(?:un)?beschnittene?\w*|\b(?:zu|be)?schnittlini\w*|\bschnittkanten?\b|\bschnittrand\b|\babschnitt\w*|\bausschnitt\w*"
)
_WIDTH = re.compile(r"\bwidth\b|\bwide\b|\bbreite?\b|\blargeur\b|\blarge\b")
_HEIGHT = re.compile(r"\bheight\b|\bhigh\b|\btall\b|\bhohe\b|\bhoch\b|\bhauteur\b|\bhaut\b")
_UNWANTED = re.compile(
    r"\b(?:avoid\w*|prevent\w*|no|without|eliminat\w*|unwanted|unsightly|thin|against|see|leave|left with|show\w*"
    r"|result\w* in|verhind\w*|vermeid\w*|keine?n?"
    r"|ohne|evit\w*|sans|pas de|risk of|get)\b[^.;]{0,30}\b(?:white|blank|unprinted|empty|wei(?:ss|ß)\w*|unbedruckt\w*"
    r"|bords? blancs?|marges? blanches?)[^.;]{0,12}$"
)
"""'… prevents white borders'."""
_NONE_OF_IT = re.compile(
    r"\b(?:no|without|kein\w*|ohne|sans|pas de)\s$|\b(?:not|never|nicht|ne)(?! forget)(?: \w+){0,2} (?:to )?$|\bnon-?\s?$"
    r"|\bnot intended to be $|\bexcept(?:ing| for)? $|\bunless (?:\w+ ){1,4}(?:is |are )?$"
)

_TOPICS: tuple[tuple[str, re.Pattern[str]], ...] = (
    ("elsewhere", _ELSEWHERE),
    ("unbleed", _UNBLEED),
    ("marks", MARKS),
    ("offset", _OFFSET),
    ("bleed", _BLEED),
    ("margin", _MARGIN),
    ("across", _ACROSS),
    ("inside", _INSIDE),
    ("lines", _LINES),
    ("type", _TYPE),
    ("width", _WIDTH),
    ("height", _HEIGHT),
)


@dataclass(frozen=True)
class Topic:
    name: str
    start: int
    end: int


def topics_in(text: str) -> list[Topic]:
    return list(_topics_in(text))


@lru_cache(maxsize=4096)  # asked again of headings and labels
def _topics_in(text: str) -> list[Topic]:
    """In the order of the text, without overlaps: the longer words win, then the order of the table."""
    found = [Topic(name, *match.span()) for name, pattern in _TOPICS for match in pattern.finditer(text)]
    found = [
        topic for topic in found if not (topic.name == "margin" and _UNWANTED.search(text[max(0, topic.start - 40) : topic.end]))
    ]
    found = [
        topic
        for topic in found
        if not (topic.name == "bleed" and _NONE_OF_IT.search(text[max(0, topic.start - 30) : topic.start]))
    ]
    listed = [match.span() for match in LISTED_CODES.finditer(text)]
    found = [
        topic for topic in found if topic.name != "elsewhere" or not any(a < topic.end and topic.start < b for a, b in listed)
    ]
    found.sort(key=lambda topic: (topic.start, -topic.end))
    kept: list[Topic] = []
    for topic in found:
        if kept and topic.start < kept[-1].end:
            if topic.end - topic.start > kept[-1].end - kept[-1].start:
                kept[-1] = topic
        else:
            kept.append(topic)
    return kept
