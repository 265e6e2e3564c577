"""Words of the trade: one term, one meaning, its word in each language. `/docs/words` shows them; a test holds catalogues to it.

Where a word is used by one layout program only, the trade's general one is taken. The meanings are ours. Words without a
source are common practice, by the judgement of those who read the catalogues as prepress people would.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from service.language.spoken import to_say

COMMON_PRACTICE = "common practice, no source"


@dataclass(frozen=True)
class Word:
    said: str
    """As the glossary shows it."""
    forms: str
    """Regular expression of what stands for it in a sentence, inflected or as part of a compound."""
    never: str | None = None
    """What says something else, and was once said instead."""


@dataclass(frozen=True)
class Term:
    meaning: str
    words: Mapping[str, Word]
    """By language; the English one finds the texts in which the others are looked for."""
    source: str = COMMON_PRACTICE


def _term(meaning: str, source: str = COMMON_PRACTICE, **words: tuple[str, str] | tuple[str, str, str]) -> Term:
    return Term(meaning, {language: Word(*word) for language, word in words.items()}, source)


GLOSSARY: tuple[Term, ...] = (
    _term(
        to_say("the colour that prints on every plate at 100 %; for printer's marks only"),
        "ISO 32000-2:2020, 8.6.6.4 (the colorant All)",
        en=("registration colour", r"registration colour"),
        de=("Passermarkenfarbe", r"Passermarkenfarbe", r"\bPasserfarbe"),
        fr=("couleur de repérage", r"couleur de repérage"),
        es=("color de registro", r"color de registro"),
    ),
    _term(
        to_say("two facing pages as one"),
        en=("spread", r"\bspreads?\b"),
        de=("Doppelseite", r"Doppelseite"),
        fr=("double page", r"doubles? pages?"),
        es=("doble página", r"dobles? páginas?"),
    ),
    _term(
        to_say("a press sheet folded to pages, one part of a bound product"),
        en=("signature", r"(?<!digital )\bsignatures?\b(?! of)"),
        de=("Falzbogen", r"Falzbogen|Falzbögen"),
        fr=("cahier", r"cahier"),
        es=("cuadernillo", r"cuadernillo"),
    ),
    _term(
        to_say("the sheet of paper that goes through the press, with several pages on it"),
        en=("press sheet", r"press sheet"),
        de=("Druckbogen", r"Druckbogen|schießt .* aus"),
        fr=("feuille machine", r"feuille machine", r"feuille de presse"),
        es=("pliego de impresión", r"pliegos? de impresión"),
    ),
    _term(
        to_say("what the printer publishes about the files that he takes, as values"),
        en=("spec sheet", r"(?<!-)\bspec sheet\b"),
        de=("Datenblatt", r"Datenbl[aä]tt"),
        fr=("fiche", r"\bfiche", r"\bfiches? propres?\b"),
        es=("ficha técnica", r"\bfichas?\b", r"ficha propia limpia"),
    ),
    _term(
        to_say("bound by wire staples through the fold of nested sheets"),
        en=("saddle-stitched", r"saddle-stitch"),
        de=("Rückendrahtheftung", r"Rückendrahtheftung|heftet|heften", r"\bDrahtheftung"),
        fr=("piqûre à cheval", r"piqûre à cheval|piquée?s? à cheval|piquons|piquer", r"\bagrafée"),
        es=("grapado a caballete", r"grapad[oa]s? a caballete|grapar|grapamos|grapan"),
    ),
    _term(
        to_say("single leaves held by glue in the spine"),
        en=("perfect-bound", r"perfect-bound|perfect binding"),
        de=("Klebebindung", r"klebegebunden|Klebebindung"),
        fr=("dos carré collé", r"dos carré collé", r"livre collé"),
        es=("encuadernación en rústica", r"rústica", r"libro pegado"),
    ),
    _term(
        to_say("single leaves held by a double loop of metal through holes along one edge"),
        en=("wire-bound", r"wire-bound|, wire$"),
        de=("Drahtkammbindung", r"Drahtkamm", r"[Ww]ire-?[Oo]\b"),
        fr=("reliure à double anneau métallique", r"double anneau métallique", r"[Ww]ire-?[Oo]\b"),
        es=("encuadernación con doble espiral metálica", r"doble espiral metálica", r"[Ww]ire-?[Oo]\b"),
    ),
    _term(
        to_say("setting pages on a press sheet so that they follow one another when it is folded"),
        en=("imposition", r"\bimpos(?:e|es|ed|ing|ition)\b"),
        de=("Ausschießen", r"[Aa]usschieß|schießt|schießen"),
        fr=("imposition", r"\bimpos(?:er|ition|e)\b"),
        es=("imposición", r"imposición|imponer|imponemos|impone"),
    ),
    _term(
        to_say("what one ink prints of a page, as it lies in the file"),
        "ISO 12637-1 (separation), from memory",
        en=("separation", r"\bseparations?\b"),
        de=("Farbauszug", r"Farbausz[uü]g|Sonderfarbausz|Auszüge|separier"),
        fr=("séparation", r"séparation"),
        es=("separación", r"separaci[oó]n"),
    ),
    _term(
        to_say("what carries the image of one ink in the press"),
        "ISO 12637-1 (printing plate), from memory",
        en=("plate", r"\bplates?\b"),
        de=("Druckplatte", r"[Pp]latte|[Aa]usz[uü]g|auszug|auszüge|passern|Passer|Farben"),
        fr=("plaque", r"plaque|séparation|repérage"),
        es=("plancha", r"plancha|separaci[oó]n|registro|colores"),
    ),
    _term(
        to_say("an ink mixed beforehand that prints from a plate of its own, beside the process inks or instead of them"),
        en=("spot ink", r"\bspot inks?\b"),
        de=("Sonderfarbe", r"Sonderfarb"),
        fr=("ton direct", r"tons? directs?"),
        es=("tinta directa", r"tintas? directas?", r"tintas? planas?"),
    ),
    _term(
        to_say("the percentages of all inks in one place, added up"),
        "ISO 12647-2 (total area coverage), from memory",
        en=("total ink", r"[Tt]otal ink|total ink coverage"),
        de=("Gesamtfarbauftrag", r"Gesamtfarbauftrag"),
        fr=("taux d’encrage total", r"[Tt]aux d’encrage"),
        es=("cobertura total de tinta", r"[Cc]obertura total de tinta"),
    ),
    _term(
        to_say("the strip inside the trim that text keeps out of"),
        en=("safety margin", r"[Ss]afety margin"),
        de=("Sicherheitsabstand", r"Sicherheitsabst[aä]nd"),
        fr=("marge de sécurité", r"[Mm]arge de sécurité"),
        es=("margen de seguridad", r"[Mm]argen de seguridad"),
    ),
    _term(
        to_say("what the printer insists on; a sheet has 'must' for it"),
        en=("a must", r"\ba must\b"),
        de=("ein Muss", r"\bMuss\b"),
        fr=("une exigence", r"\bexigence\b", r"\bobligatoire (?:si|dans)\b"),
        es=("una exigencia", r"\bexigencia\b", r"\bobligatorio (?:si|dentro)\b|no obligatorio:"),
    ),
    _term(
        to_say("what the printer would rather have, and prints without; a sheet has 'should' for it"),
        en=("a wish", r"\ba wish\b"),
        de=("ein Wunsch", r"\bWunsch\b"),
        fr=("un souhait", r"\bsouhait\b"),
        es=("un deseo", r"\bdeseo\b", r"\brecomendado, no\b"),
    ),
    _term(
        to_say("a finding of what the printer insists on: the file cannot be printed as it is"),
        en=("to put right", r"\b[Pp]ut right\b"),
        de=("zu beheben", r"\b[Zz]u beheben|\b[Bb]eheb(?:en|t)\b"),
        fr=("à corriger", r"\b[Cc]orrig"),
        es=("por corregir", r"\b[Cc]orr(?:egir|ij)"),
    ),
    _term(
        to_say("a finding that does not stop the job, and may be seen in print"),
        en=("remark", r"\b[Rr]emarks?\b"),
        de=("Hinweis", r"\bHinweis", r"[Bb]itte ansehen"),
        fr=("remarque", r"\b[Rr]emarque", r"^[Àà] regarder|, à regarder"),
        es=("observación", r"\b[Oo]bservaci[oó]n", r"[Cc]onviene mirarlo|[Pp]or revisar"),
    ),
    _term(
        to_say("text that stands in for the real one"),
        en=("placeholder text", r"[Pp]laceholder text"),
        de=("Platzhaltertext", r"Platzhalter"),
        fr=("faux texte", r"[Ff]aux texte"),
        es=("texto de relleno", r"[Tt]exto de relleno"),
    ),
    _term(
        to_say("a coarse picture that the printer or the export would have replaced by the real one"),
        "ISO 12639 and OPI (low-resolution image), from memory",
        en=("low-resolution placeholder", r"low-resolution placeholder"),
        de=("Grobbild", r"Grobbild", r"Stellvertreter"),
        fr=("image de placement", r"images? de placement", r"substitut"),
        es=("imagen de baja resolución", r"imágenes de baja|imagen de baja|baja resolución"),
    ),
    _term(
        to_say("a spot ink that prints no colour: its plate shows where the product is cut, creased, varnished or stamped"),
        en=("finishing ink", r"[Ff]inishing ink"),
        de=("technische Farbe", r"[Tt]echnischen? Farbe|Sonderfarbe", r"Veredelungsfarbe"),
        fr=("encre de finition", r"[Ee]ncre de finition|[Tt]on direct"),
        es=("tinta de acabado", r"[Tt]inta de acabado"),
    ),
    _term(
        to_say("put on the printer's invoice"),
        en=("billed", r"\bbilled\b"),
        de=("berechnet", r"berechnet"),
        fr=("facturé", r"facturé"),
        es=("facturado", r"factura"),
    ),
    _term(
        to_say("the raster image processor: what turns a file into the dots of the plates"),
        en=("RIP", r"\bRIP\b"),
        de=("RIP", r"\bRIP\b"),
        fr=("RIP", r"\bRIP\b"),
        es=("RIP", r"\bRIP\b"),
    ),
    _term(
        to_say("to turn vectors and type into pixels"),
        en=("rasterise", r"\brasteris"),
        de=("rastern", r"rastern|gerastert"),
        fr=("pixelliser", r"pixellis"),
        es=("rasterizar", r"rasteriz"),
    ),
    _term(
        to_say("to turn transparency into opaque parts that look the same"),
        "ISO 32000-2:2020, 11 (transparency)",
        en=(
            "flatten transparency",
            r"flatten transparency|transparency flattened|flattens transparency|^flattened$|live or flattened|not flattened",
        ),
        de=("Transparenz reduzieren", r"reduzier", r"[Tt]ransparenz\w* zusammenfass"),
        fr=("aplatir les transparences", r"aplat", r"transparences? pixellis"),
        es=("acoplar transparencias", r"acopl"),
    ),
)
