"""The rules that read one sentence by itself, each with the stems that a sentence must have to be worth reading."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Sequence

from service.sheets.prose.claims.artwork import read_crop_marks, read_fonts
from service.sheets.prose.claims.claim import Claim
from service.sheets.prose.claims.file import read_encryption, read_versions
from service.sheets.prose.claims.inking.black import read_black_text, read_overprint, read_rich_black
from service.sheets.prose.claims.inking.conditions import read_conditions, read_profiles
from service.sheets.prose.claims.inking.papers import read_papers
from service.sheets.prose.claims.inking.tints import read_tints
from service.sheets.prose.claims.inside.held import read_boxes, read_unwanted
from service.sheets.prose.claims.inside.transparency import read_transparency
from service.sheets.prose.claims.inside.typefaces import read_font_formats, read_outlines
from service.sheets.prose.claims.measures import read_no_bleed
from service.sheets.prose.claims.pages import read_arrangement
from service.sheets.prose.claims.shape.edges import read_edges
from service.sheets.prose.claims.shape.finishes import read_finishes
from service.sheets.prose.claims.shape.frames import read_corners, read_frames, read_scales
from service.sheets.prose.words.amounts import Amount
from service.sheets.prose.words.statements import Statement

_Read = Callable[[Statement], Iterable[Claim]]
_ReadNumbers = Callable[[Statement, Sequence[Amount]], tuple[list[Claim], set[int]]]


def _stems(*stems: str) -> re.Pattern[str]:
    return re.compile("|".join(map(re.escape, stems)))


_RULES: tuple[tuple[_Read, re.Pattern[str]], ...] = (
    (read_arrangement, _stems("page", "spread", "seite", "planche", "single", "singl", "vis-a-vis", "bogen", "montage")),
    (read_versions, _stems("pdf", "version")),
    (
        read_encryption,
        _stems(
            *("passw", "pass-w", "secur", "crypt", "kennw", "schlussel", "mot de", "mots de", "chiffr", "protec", "protege"),
            *("lock", "sicherheitsein", "zugriff", "drm", "schutz", "restrict", "verrou"),
        ),
    ),
    (
        read_fonts,
        _stems(
            *("embed", "bett", "bind", "bund", "incorpor", "integr", "embarqu", "inclu", "subset", "legt", "geliefert"),
            *("inklud", "enthalten", "present"),
        ),
    ),
    (read_no_bleed, _stems("bleed", "schnitt", "perdu")),
    (read_transparency, _stems("transparen", "flatten", "reduzier", "verflach", "aplati")),
    (read_crop_marks, _stems("mark", "crop", "zeichen", "repere", "trait", "hirondelle", "croix", "marque", "no", "nein")),
    (read_black_text, _stems("black", "schwarz", "noir")),
    (read_overprint, _stems("overprint", "uberdruck", "surimpr")),
    (
        read_conditions,
        _stems(
            "fogra",
            "iso coated",
            "isocoated",
            "iso uncoated",
            "iso_",
            "pso",
            "gracol",
            "swop",
            "newspaper",
            "japan color",
            "cgats",
        ),
    ),
    (read_profiles, _stems("profil", "icc")),
    (
        read_unwanted,
        _stems(
            *(
                "layer",
                "ebene",
                "calque",
                "optional content",
                "annot",
                "comment",
                "kommentar",
                "anmerk",
                "separ",
                "transfer",
                "druckkenn",
            ),
            *("rotat", "dreh", "turned", "pivot", "tourne", "rotier", "jp", "lossy", "web", "linear"),
        ),
    ),
    (read_boxes, _stems("box")),
    (
        read_outlines,
        _stems("outlin", "curve", "kurve", "pfad", "path", "vector", "vectoris", "vektor", "courbe", "trace", "zeichenweg"),
    ),
    (read_font_formats, _stems("type", "postscript")),
    (read_scales, _stems("1:", "1 :", "1/", "%")),
)
_BY_HEADING = (read_transparency,)
_NUMBER_RULES: tuple[tuple[_ReadNumbers, re.Pattern[str]], ...] = (
    (read_rich_black, _stems("black", "schwarz", "noir", "cyan", "c")),
    (read_tints, _stems("%", "cent", "prozent")),
    (read_frames, _stems("border", "frame", "keyline", "rahmen", "umrand", "cadre", "bordure")),
    (read_corners, _stems("radius", "round", "rund", "rayon", "arrond", "radii")),
    (
        read_edges,
        _stems(
            *(
                "binding",
                "spine",
                "gutter",
                "inside",
                "outside",
                "inner",
                "outer",
                "edge",
                "head",
                "top",
                "foot",
                "tail",
                "bottom",
            ),
            *("bund", "innen", "aussen", "außen", "heft", "schnitt", "oben", "unten", "kopf", "fuss", "fuß", "reliure", "dos"),
            *("fond", "interieur", "exterieur", "tete", "haut", "pied", "bas", "page", "seite", "steg", "gouttiere", "tranche"),
        ),
    ),
)


def read_sentence(statement: Statement) -> list[Claim]:
    """What needs no number."""
    read: list[Claim] = []
    for rule, stems in _RULES:
        if stems.search(statement.text) or (rule in _BY_HEADING and stems.search(statement.heading)):
            read += rule(statement)
    return read


def read_numbers(statement: Statement, amounts: Sequence[Amount], words: str) -> tuple[list[Claim], set[int]]:
    """Claims of single edges, papers, frames …, and where the numbers stand that these have used up. `words`: as written."""
    read, used = read_papers(statement, amounts, words)
    for rule, stems in _NUMBER_RULES:
        left = [one for one in amounts if one.start not in used]
        if stems.search(statement.text) or stems.search(statement.label):
            more, taken = rule(statement, left)
            read, used = [*read, *more], used | taken
    return read, used


def read_names(statement: Statement, words: str) -> list[Claim]:
    """Finishes by the names that the text, as written, gives their inks."""
    return list(read_finishes(statement, words))
