"""The rules that read one sentence by itself, each with the stems that a sentence must have to be worth reading."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

from service.sheets.prose.claims.artwork import read_crop_marks
from service.sheets.prose.claims.claim import Claim
from service.sheets.prose.claims.file import read_encryption, read_versions
from service.sheets.prose.claims.inking.black import read_black_text, read_overprint, read_rich_black
from service.sheets.prose.claims.inking.conditions import read_conditions, read_profiles
from service.sheets.prose.claims.inking.papers import read_papers
from service.sheets.prose.claims.inking.tints import read_tints
from service.sheets.prose.claims.inside.held import read_boxes, read_unwanted
from service.sheets.prose.claims.inside.transparency import read_transparency
from service.sheets.prose.claims.inside.typefaces import read_font_formats, read_fonts, read_outlines
from service.sheets.prose.claims.no_bleed import read_no_bleed
from service.sheets.prose.claims.shape.arrangement import read_arrangement
from service.sheets.prose.claims.shape.edges import read_edges
from service.sheets.prose.claims.shape.finishes import read_finishes
from service.sheets.prose.claims.shape.frames import read_corners, read_frames, read_scales
from service.sheets.prose.words.amounts import Amount
from service.sheets.prose.words.statements import Statement

_Read = Callable[[Statement], Iterable[Claim]]
_ReadNumbers = Callable[[Statement, Sequence[Amount]], tuple[list[Claim], set[int]]]


class _Stems:
    """Looked for one by one: no pattern of alternatives is as quick as that."""

    def __init__(self, *stems: str) -> None:
        self._stems = stems

    def in_(self, text: str) -> bool:
        return any(map(text.__contains__, self._stems))



_RULES: tuple[tuple[_Read, _Stems], ...] = (
    (read_arrangement, _Stems("page", "spread", "seite", "planche", "single", "singl", "vis-a-vis", "bogen", "montage")),
    (read_versions, _Stems("pdf", "version", "acrobat")),
    (
        read_encryption,
        _Stems(
            *("passw", "pass-w", "secur", "crypt", "kennw", "schlussel", "mot de", "mots de", "chiffr", "protec", "protege"),
            *("lock", "sicherheitsein", "zugriff", "drm", "schutz", "restrict", "verrou"),
        ),
    ),
    (
        read_fonts,
        _Stems(
            *("embed", "bett", "bind", "bund", "incorpor", "integr", "embarqu", "inclu", "subset", "legt", "geliefert"),
            *("inklud", "enthalten", "present", "attach", "download", "em- bed"),
        ),
    ),
    (read_no_bleed, _Stems("bleed", "schnitt", "perdu", "abfallend")),
    (read_transparency, _Stems("transparen", "flatten", "reduzier", "verflach", "aplati")),
    (read_crop_marks, _Stems("mark", "crop", "zeichen", "repere", "trait", "hirondelle", "croix", "marque")),
    (read_black_text, _Stems("black", "schwarz", "noir", "k100", "k 100", "k-100", "k: 100", "100k", "100 k", "% k", "%k")),
    (read_overprint, _Stems("overprint", "uberdruck", "surimpr")),
    (
        read_conditions,
        _Stems(
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
    (read_profiles, _Stems("profil", "icc")),
    (
        read_unwanted,
        _Stems(
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
                "composite",
                "transfer",
                "druckkenn",
            ),
            *("rotat", "dreh", "turned", "pivot", "tourne", "rotier", "jp", "lossy", "web", "linear"),
        ),
    ),
    (read_boxes, _Stems("box")),
    (
        read_outlines,
        _Stems("outlin", "curve", "kurve", "pfad", "path", "vector", "vectoris", "vektor", "courbe", "trace", "zeichenweg"),
    ),
    (read_font_formats, _Stems("type", "postscript")),
    (read_scales, _Stems("1:", "1 :", "1/", "%")),
)
_BY_HEADING = (read_transparency, read_no_bleed, read_fonts, read_crop_marks)
_NUMBER_RULES: tuple[tuple[_ReadNumbers, _Stems], ...] = (
    (read_rich_black, _Stems("black", "schwarz", "noir", "cyan", "c")),
    (read_tints, _Stems("%", "cent", "prozent")),
    (read_frames, _Stems("border", "frame", "keyline", "rahmen", "umrand", "cadre", "bordure")),
    (read_corners, _Stems("radius", "round", "rund", "rayon", "arrond", "radii")),
    (
        read_edges,
        _Stems(
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
        if stems.in_(statement.text) or (rule in _BY_HEADING and stems.in_(statement.heading)):
            read += rule(statement)
    return read


def read_numbers(statement: Statement, amounts: Sequence[Amount], words: str) -> tuple[list[Claim], set[int]]:
    """Claims of single edges, papers, frames …, and where the numbers stand that these have used up. `words`: as written."""
    read, used = read_papers(statement, amounts, words)
    for rule, stems in _NUMBER_RULES:
        left = [one for one in amounts if one.start not in used]
        if stems.in_(statement.text) or stems.in_(statement.label):
            more, taken = rule(statement, left)
            read, used = [*read, *more], used | taken
    return read, used


def read_names(statement: Statement, words: str) -> list[Claim]:
    """Finishes by the names that the text, as written, gives their inks."""
    return list(read_finishes(statement, words))
