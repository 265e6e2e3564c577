"""What products and folds are usually called, in the languages of the service: words by which people look for them.

They come beside a sheet's own names. Common practice, no source: the words of order pages.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

_OF_PRODUCTS: Mapping[str, str] = {
    "banner": "vinyl PVC mesh banner, Banner, Plane, Blache, bâche, banderole, lona, pancarta",
    "beer-mat": "coaster, Bierdeckel, Bierfilz, Untersetzer, sous-bock, dessous de verre, posavasos",
    "book-cover": (
        "softcover, paperback, perfect-bound book cover, Buchumschlag, Taschenbuch, couverture de livre, "
        "cubierta de libro"
    ),
    "book-text": (
        "softcover, paperback, perfect-bound book block, Buchblock, Taschenbuch, livre dos carré collé, "
        "libro en rústica"
    ),
    "book-case": (
        "hardcover, hardback, case wrap, casebound, Festeinband, Überzug, couverture rigide, couverture cartonnée, "
        "tapa dura"
    ),
    "booklet": (
        "brochure, magazine, catalogue, programme, Broschüre, Heft, Magazin, Katalog, brochure, livret, revue, "
        "folleto, revista"
    ),
    "bookmark": "Lesezeichen, marque-page, signet, marcapáginas",
    "business-card": "visiting card, name card, calling card, Visitenkarte, carte de visite, tarjeta de visita",
    "calendar": "Kalender, Wandkalender, Tischkalender, calendrier, calendario",
    "carbonless-form": (
        "NCR pad, carbonless, duplicate, triplicate, Durchschreibesatz, SD-Satz, Formularsatz, autocopiant, liasse, "
        "autocopiativo"
    ),
    "compliment-slip": "comp slip, with compliments, Kurzbrief, Kurzmitteilung, carte de compliments, saludo",
    "desk-pad": "desk pad, blotter, Schreibtischunterlage, Schreibunterlage, sous-main, vade",
    "door-hanger": "door hanger, Türanhänger, Türhänger, accroche-porte, colgador de puerta",
    "envelope": "envelope, Briefumschlag, Kuvert, Briefhülle, Umschlag, enveloppe, sobre",
    "flyer": "flyer, leaflet, handbill, Flugblatt, Handzettel, Flyer, tract, prospectus, volante, octavilla",
    "folded-leaflet": "folded leaflet, folder, brochure, pamphlet, Faltblatt, Falzflyer, Folder, dépliant, folleto, desplegable",
    "greeting-card": (
        "greeting card, folded card, invitation, wedding invitation, Klappkarte, Grußkarte, Einladung, Faltkarte, "
        "carte de vœux, carte double, carton d'invitation, tarjeta de felicitación, invitación"
    ),
    "invitation": "invitation, announcement, save the date, Einladung, carton d'invitation, faire-part, invitación",
    "label": "label, Etikett, étiquette, etiqueta",
    "leaflet": "leaflet, flyer, Flyer, Handzettel, prospectus, volante",
    "letterhead": (
        "letterhead, letter head, stationery, Briefbogen, Briefpapier, papier à en-tête, tête de lettre, "
        "papel con membrete"
    ),
    "membership-card": (
        "plastic card, PVC card, CR80, credit card, bank card, gift card, loyalty card, Plastikkarte, Scheckkarte, Kreditkarte, "
        "carte plastique, carte de fidélité, tarjeta de plástico"
    ),
    "menu": "menu, Speisekarte, carte de restaurant, carta",
    "newspaper": "newspaper, Zeitung, journal, periódico",
    "notepad": "notepad, memo pad, Notizblock, Schreibblock, bloc-notes, bloc de notas",
    "postcard": "postcard, mailer, Postkarte, Ansichtskarte, carte postale, postal, tarjeta postal",
    "poster": "poster, Plakat, affiche, cartel, póster",
    "presentation-folder": (
        "presentation folder, pocket folder, Präsentationsmappe, Angebotsmappe, chemise à rabats, pochette, carpeta"
    ),
    "roll-up": (
        "roll-up, pull-up banner, roller banner, retractable banner stand, Rollup, Roll-up, kakémono, enrouleur, "
        "enrollable"
    ),
    "sticker": "sticker, decal, Aufkleber, Sticker, autocollant, pegatina, adhesivo",
    "table-tent": "table tent, tent card, Tischaufsteller, Tischkarte, chevalet de table, display de mesa",
    "ticket": "ticket, voucher, coupon, Eintrittskarte, Gutschein, billet, bon, entrada, vale",
    "yard-sign": "yard sign, lawn sign, coroplast, Werbeschild, panneau, letrero",
}
_OF_FOLDS: Mapping[tuple[str, int], str] = {
    ("half", 1): (
        "half fold, bi-fold, bifold, single fold, 4 pages, 4-page, 4pp, Einbruchfalz, Mittelfalz, 4-seitig, "
        "pli simple, 2 volets, díptico"
    ),
    ("roll", 2): (
        "roll fold, tri-fold, trifold, letter fold, C-fold, 6 pages, 6-page, 6pp, 3 panels, Wickelfalz, 6-seitig, "
        "pli roulé, 3 volets, triptyque, tríptico"
    ),
    ("zigzag", 2): (
        "zigzag, z-fold, zfold, accordion, concertina, tri-fold, trifold, 6 pages, 6-page, 6pp, 3 panels, "
        "Zickzackfalz, Leporello, 6-seitig, accordéon, 3 volets, pli en Z, tríptico, acordeón"
    ),
    ("roll", 3): (
        "roll fold, double parallel, 8 pages, 8-page, 8pp, 4 panels, Wickelfalz, 8-seitig, pli roulé, 4 volets, "
        "cuadríptico"
    ),
    ("zigzag", 3): (
        "zigzag, accordion, concertina, 8 pages, 8-page, 8pp, 4 panels, Zickzackfalz, Leporello, 8-seitig, accordéon, "
        "4 volets, acordeón"
    ),
    ("gate", 2): "gate fold, gatefold, 6 pages, Altarfalz, Fensterfalz, 6-seitig, pli portefeuille, pli fenêtre, pliego ventana",
    ("gate", 3): (
        "gate fold, closed gate, gatefold, 8 pages, Altarfalz, Fensterfalz, 8-seitig, pli portefeuille, pli fenêtre, "
        "pliego ventana"
    ),
}
"""By the way of folding and the folds along one axis."""
_OF_IDS: Mapping[str, str] = {
    "stapled": (
        "saddle-stitched, saddle stitched, stapled, geheftet, Rückendrahtheftung, Rückstichheftung, agrafé, agrafée, "
        "piqûre à cheval, piqué, grapado, grapada"
    ),
    "wire": (
        "wire-bound, wire-o, spiral, coil, Wire-O, Drahtkammbindung, Spiralbindung, reliure Wire-O, anneaux métalliques, "
        "spirale, wire-o, espiral"
    ),
    "round": "round, circle, circular, rund, rond, ronde, redondo, redonda",
    "square": "square, quadratisch, Quadrat, carré, carrée, cuadrado, cuadrada",
    "window": "window, Fenster, fenêtre, ventana",
    "landscape": "landscape, Querformat, quer, paysage, à l'italienne, apaisado",
}
"""By a word of the sheet's id."""
SMALL_WORDS = (
    *("a", "an", "the", "of", "for", "in", "with", "by", "on", "and", "size", "format", "no", "nr", "number", "mm", "din", "iso"),
    *("ein", "eine", "der", "die", "das", "für", "mit", "im", "und", "aus", "von", "auf", "größe", "nummer"),
    *("un", "une", "le", "la", "les", "des", "de", "du", "d", "l", "à", "en", "avec", "pour", "et", "taille", "numéro", "n°"),
    *("una", "el", "los", "las", "con", "para", "y", "tamaño", "número"),
)
"""Which say nothing of what is looked for."""


def usual_names(sheet: Mapping[str, Any]) -> Iterator[str]:
    """Of a sheet's complete document."""
    for name in (str(sheet.get("product")), *map(str, sheet.get("aliases") or ())):
        yield from (words for product, words in _OF_PRODUCTS.items() if name == product or name.startswith(f"{product}-"))
    folds = [str(one.get("axis")) for one in sheet.get("folds") or ()]
    way = str((sheet.get("folding") or {}).get("type"))
    yield from (_OF_FOLDS.get((way, folds.count(axis)), "") for axis in dict.fromkeys(folds))
    parts = str(sheet.get("id")).split("-")
    yield from (names for part, names in _OF_IDS.items() if part in parts)
