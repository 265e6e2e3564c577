"""Products, formats, papers and processes as printers name them: what a demand may be narrowed to."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

_FAMILIES: tuple[tuple[str, str], ...] = (
    ("business-card", r"business[- ]cards?|visitenkarten?|cartes? de visites?"),
    ("postcard", r"postcards?|postkarten?|cartes? postales?"),
    ("flyer", r"flyer[ns]?|leaflets?|flugblatt\w*|handzettel|depliants?|tracts?|prospekte?n?"),
    ("folded-leaflet", r"folded leaflets?|tri-?folds?|bi-?folds?|faltblatt\w*|falzflyer"
        r"|(?<!separate )(?<!same )(?<!a )(?<!the )(?<!one )(?<!font )(?<!fonts )(?<!your )(?<!zipped )folder\b(?! ?structure)"),
    (
        "booklet",
        r"(?:saddle[- ]?(?:stitch|wire)\w*(?: bound)?|stapled|stitched)(?: booklets?| brochures?)?|booklets?|brochures?"
        r"|broschure?n?|\w*brosch(?!\w*format)\w+"
        r"|programmes?"
        r"|ruckendraht\w*|brochures? piquees?|piqures?|livrets?|newsletters?|catalogues?|catalogs?|katalog(?!\w*format)\w*",
    ),
    ("magazine", r"magazines?|zeitschrift(?!\w*format)\w*|revues?"),
    (
        "book",
        r"books?(?! now)|(?:foto|taschen|kinder)?b(?:uch|ucher)\w*|livres?|paperbacks?|hard-?(?:cover|back)s?|soft-?covers?"
        r"|perfect[- ](?:bound"
        r"|binding)"
        r"|klebebindung\w*"
        r"|klebegebunden\w*|dos carre colle",
    ),
    (
        "cover",
        r"(?<!front )(?<!back )(?<!including )(?<!the )(?<!including the )(?<!interior and )(?<!interiors and )(?<!inside and )"
        r"covers?(?! included| inclusive| the| any| all|ed|,? (?:and|&|or|/) (?:the |all )?(?:interior|inside|inner|text"
        r"|content|body))|(?:the "
        r"|for |soft "
        r"|hard )covers?(?= (?:is|are|must|should|file|pages?|pdf|needs?|art)|\)|:)|dust jackets?|umschlag\w*"
        r"|(?<!taux de )(?<!pourcentages de )(?<!pourcentage de )(?<!somme de )couvertures?(?! d'encre| des? (?:quatre|4|l'encre"
        r"|encres"
        r"|couleurs|aplats?))",
    ),
    ("poster", r"poster[ns]?|plakat\w*|affiches?"),
    (
        "large-format",
        r"(?:large|wide|big)[- ]?formats?|gro(?:ss|ß)format\w*|grands? formats?|bann(?:er[ns]?|ieres?)|roll-?ups?|baches?"
        r"|display (?:walls?|stands?|systems?)|signage"
        r"|signs\b|werbetechnik\w*|exhibition\w*|messe\w*|leinwand\w*|canvas\b(?! size)|kakemonos?|building wraps?",
    ),
    ("sticker", r"sticker[ns]?|labels?(?! ?:)|aufkleber\w*|etikett\w*|etiquettes?|autocollants?|adhesifs?"),
    ("envelope", r"envelopes?|briefumschlag\w*|briefhull\w*|enveloppes?"),
    ("letterhead", r"letter-?heads?|briefbog\w*|briefpapier\w*|papiers? a lettres?|tetes? de lettres?|stationery"),
    ("calendar", r"calendars?|kalender\w*|calendriers?"),
    ("packaging", r"packaging|cartons?|verpackung\w*|faltschachtel\w*|emballages?|etuis?"),
    ("textile", r"t-?shirts?|textil\w*|garments?|stempel\w*|rubber stamps?|tampons?|mugs?|tassen?|stamp pads?"),
    ("newspaper", r"newspapers?|news-?print\w*|zeitung\w*|journaux|papier journal|broadsheet|tabloids?"),
    (
        "full-page",
        r"(?:fp|hp|qp)(?=:)|full[- ]pages?(?= (?:ad\w*|bleed|or|and|art\w*|\()|,|:|/|$)|ganzseit\w*|1/1[ -]seit\w*"
        r"|pleines? pages?",
    ),
    (
        "part-page",
        r"(?:one[- ])?(?:half|quarter|third|fourth|sixth|fraction(?:al)?|junior|eighth)[- ]?pages?|fractional ads?"
        r"|1/[2348][ -](?:page|seit)\w*"
        r"|halbseit\w*|demi-pages?|quarts? de page"
        r"|strip ads?|non-?bleed ads?",
    ),
    (
        "spread-ad",
        r"spread (?:ads?|advert\w*)|(?:double|two|2)[- ]page (?:spreads?|ads?)|(?:left"
        r"|(?<!left or )(?<!left and )(?<!left/)right)(?:[- ]hand)? pages?(?! (?:or|and) right)|dps\b"
        r"|2/1[ -]seit\w*|panorama\w*|doubles? pages?",
    ),
    (
        "bleed-ad",
        r"(?:full[- ])?bleed(?:ed|ing)? (?:ads?|advert\w*)|anzeigen im anschnitt\w*|anschnittanzeigen?|abfallende\w* anzeigen?"
        r"|annonces? a fonds perdus?",
    ),
    ("digital", r"digital (?:print|press)\w*|digitaldruck\w*|impressions? numeriques?|numerique"),
    (
        "offset",
        r"litho(?:graphic)?(?: print\w*)?|offset[- ](?:print|press|lith)\w*|offsetdruck\w*|(?:bogen|rollen)offset"
        r"|impressions? offset|web offset|sheet-?fed"
        r"|heatset",
    ),
    ("web-press", r"open ?web|web[- ]?fed|web press(?:es)?|coldset|rotationsdruck\w*"),
    (
        "screen-print",
        r"screen[- ]?print\w*|siebdruck\w*|serigraph\w*|flexo\w*|letterpress|engraving|thermograph\w*|embroider\w*"
        r"|laser ?cut\w*"
        r"|risograph\w*",
    ),
    (
        "coated",
        r"(?<!un)coated (?:stocks?|papers?|and|art)|gestrichene?\w*(?: papier\w*)?|papiers? couches?|gloss(?:y)? (?:stocks?"
        r"|papers?)",
    ),
    (
        "uncoated",
        r"uncoated(?: stocks?| papers?)?|ungestrichen\w*|naturpapier\w*|offsetpapier\w*|papiers? (?:offset|non couches?)"
        r"|non couches?|recycl\w* (?:stocks?|papers?)",
    ),
)
_SIZES = re.compile(
    r"\b(?:from|over|above|larger than|bigger than|smaller than|below|up to|ab|uber|gro(?:ss|ß)er als|bis|a partir de"
    r"|au[ -]dela d[ue]|plus grands? que|superieure?s? (?:a|au))"
    r"\s(?:an? |einem |un |le |la |du |format |formate |din )*(?:din )?(?:[abc][0-6]\b|[0-9.,]+ ?(?:mm|cm|m|in"
    r"|\")? ?x ?[0-9.,]+)"
    r"|\b(?:din )?[abc][0-6]\+? (?:und|and|et|or|oder|ou) (?:gro(?:ss|ß)er|larger|bigger|smaller|kleiner|above|up|plus|uber"
    r"|upwards?)"
    r"|\b(?!large format)(?:small|smaller|large|larger|gro(?:ss|ß)ere?\w*|kleinere?\w*|petits?"
    r"|grands?(?! formats?\b)) (?:format\w*"
    r"|print products?|sizes?"
    r"|jobs?|products?|documents?)\b"
    r"|\b(?:bis(?: zu)?|up to|over|uber|ab|jusqu'a|plus de"
    r"|more than) (?:einer gro(?:ss|ß)e von )?(?:[0-9.,]+ ?(?:m2|m²|qm|sqm|sq)\b|[abc][0-6]\b)"
    r"|\b(?:posters?|banners?|sizes?|formats?|areas?) (?:of|from) [0-9.,]+ ?(?:m2|m²|qm|sqm)(?!\w)"
    r"|\bgro(?:ss|ß)formatig\w*|\b(?:certain|some|many|most|manche\w*|einige\w*|certains?|other|andere\w*) (?:products?"
    r"|produkt\w*|papers?|printers?(?!'?s?'? ?marks)|produits?)\b"
)
_FOR_A_SIZE = re.compile(r"\b(?:for|bei|fur|pour)\b[^,;.:]{0,40}\b(?:din )?[abc][0-6]\b")
PRODUCT = re.compile("|".join(rf"(?P<f{number}>\b(?:{words})\b)" for number, (_, words) in enumerate(_FAMILIES)))
WHOLE = frozenset(
    (
        "business-card",
        "postcard",
        "flyer",
        "folded-leaflet",
        "booklet",
        "magazine",
        "book",
        "poster",
        "sticker",
        "envelope",
        "letterhead",
        "calendar",
        "packaging",
    )
)
"""What a whole text may be about without a title that says so."""
PROCESSES = frozenset(("digital", "offset", "screen-print", "web-press"))
_WEAK = frozenset(("magazine", "book", "flyer", "booklet", "cover", "newspaper", "digital", "offset"))
"""Said at the head of a sentence they often only say whose text it is."""


@dataclass(frozen=True)
class Product:
    family: str
    name: str
    """Folded, as the text says it."""
    weak: bool = False


@lru_cache(maxsize=4096)  # headings and labels come again with each sentence under them
def products_in(folded_words: str) -> tuple[Product, ...]:
    return tuple(_products_in(folded_words))


def _products_in(folded_words: str) -> Iterator[Product]:
    for match in _SIZES.finditer(folded_words):
        yield Product("size", match.group())
    for match in _FOR_A_SIZE.finditer(folded_words):
        yield Product("for-size", match.group())
    for match in PRODUCT.finditer(folded_words):
        family = _FAMILIES[int(str(match.lastgroup)[1:])][0]
        yield Product(family, match.group(), family in _WEAK)


_BESIDE_A_PRODUCT = re.compile(r"\b(?:and|or|und|oder|et|ou|the|our|die|der|les?|la)\b|[^a-z ]")


def names_products_alone(heading: str) -> bool:
    """'Banners and canvas', 'Mounted canvas'; not 'Size of the book'."""
    left = PRODUCT.sub(" ", heading)
    return left != heading and len(_BESIDE_A_PRODUCT.sub(" ", left).split()) <= 1


BOOKISH = frozenset(("book", "booklet", "cover"))
THE_BOOK = re.compile(r"\b(?:in|of|for) (?:the|your) book\b")
"""Books in a text that names nothing but books and their covers."""
KIN = {"book": "booklet", "magazine": "booklet"}


def with_kin(families: frozenset[str]) -> frozenset[str]:
    """The text of a booklet calls it a book and a magazine, too."""
    kin = {"booklet": ("book", "magazine"), "magazine": ("booklet",), "large-format": ("poster",)}
    return families | frozenset(other for family in families for other in kin.get(family, ()))


FOR_ALL = re.compile(
    r"(?:prints?\w*|press|druck\w*|impression\w*|imprim\w*|ausdruck\w*|bleeds?|beschnitt\w*|anschnitt\w*|fonds?|debord\w*|best"
    r"|better|good|high|optim\w*|ideal\w*|gute\w*|beste\w*|meilleur\w*|une?|quality|qualitat\w*|qualite"
    r"|clarity|safety|sicherheit\w*|securite|legib\w*|lesbar\w*|produ\w*|trim\w*|cut\w*|schneid\w*|coupe|fichiers?|files?|pdfs?"
    r"|artworks?|documents?|dokument\w*|data|daten|datei\w*|donnees|texts?|texte\w*|type|fonts?|schrift\w*|polices?|lines?"
    r"|linien\w*|traits?|filets?|parts?|left|right|either"
    r"|photo\w*|foto\w*|pictures?|images?|bild\w*|graphi\w*|grafik\w*|logos?|bitmaps?|strich\w*|line[- ]?art|dessins?|decoupe"
    r"|leurs?|realisation"
    r"|zeichnung\w*|illustration\w*|halftones?|aplats?|que|qu'\w+|obtenir|garantir|zuschnitt\w*|\w*export\w*|\w*speichern|versand"
    r"|end-?gro\w+|druckgro\w+|ausgabegro\w+|belichtung|weiterverarbeitung|farbverlauf\w*|verlauf\w*|pdf-\w+"
    r"|definier\w*|umwand\w*|konvertier\w*|layout\w*|mischen|gestalt\w*|(?:an|zu|ab)legen|einstell\w*|abbildung\w*|motive\w*"
    r"|angeschnitten\w*|(?:4c|farb|graustufen|halbton|strich|vierfarb)-"
    r"|colou?rs?|farb\w*|couleurs?|cmyk|gr[ae]y\w*|graustufen\w*|scans?|contents?|elements?|element\w*|examples?|more|further"
    r"|this|dies\w*|these|we|it|they|there|us|you|uns|sie|it|them|everything|anything|uploads?|alles"
    r"|reproduction|output|ausgabe|final|full[- ]colou?r|4c|four|the|standard|regular|normal\w*|ordinaires?|commandes|most"
    r"|continuous|raster\w*|vector\w*|vektor\w*|solid\w*|black|schwarz\w*|noir\w*|white|wei(?:ss|ß)\w*|negati[vf]\w*"
    r"|positi[vf]\w*"
    r"|revers\w*|knock\w*|overprint\w*|small|kleine\w*|petits?"
    r"|100|original\w*|endformat\w*|gleich\w*|erstell\w*|anlage|anlegen|export\w*|speicher\w*|verwend\w*|wichtige\w*"
    r"|important\w*|critical|live|objekte\w*|objects?|background\w*|hintergrund\w*|flachen?|abfallend\w*|randabfallend\w*"
    r"|vollflachig\w*|margins?|non[- ]?bleed|page\w*|seite\w*|sides?|both|beide\w*|deux|advertis\w*|adverts?|ads?|artworks?"
    r"|anzeigen?|annonces?"
    r"|tolerance\w*|toleranz\w*|schnitt\w*|accur\w*|ease|what|which|whom|submission\w*|placement|upload\w*|that|use|avoid\w*"
    r"|eviter|\w+er\b|pre-?press|commercial|professional|offset|sheet\w*|crop|marks?|mehr|weitere\w*|proof\w*|rgb|spot|ink\w*"
    r"|rich|minimum|min|jobs|auftrage\w*|kunden\w*|customers?|[0-9%:/.]+|fehlerfreie\w*|bearbeitung|verarbeitung|reasons?|rendu"
    r"|properly|einwandfrei\w*|perfekt\w*|sharp\w*|scharfe\w*|creep|schneid\w*|zuschneid\w*)"
)
"""What 'for …' names and every file has. Anything else narrows the demand in a way that is not known here."""
