"""How a sentence begins where it stands inside another one: small, unless its first word is a name (in German, a noun)."""

from __future__ import annotations

from collections.abc import Mapping

from service.language.spoken import Language, spoken

_SMALL_WORDS: Mapping[Language, frozenset[str]] = {
    "en": frozenset(("A", "An", "The", "This", "It", "Its", "Some", "No", "Page", "Pages")),
    "de": frozenset(("Der", "Die", "Das", "Den", "Dem", "Ein", "Eine", "Einige", "Es", "Sein", "Seine", "Kein", "Keine",
                     "Dieser", "Diese", "Dieses")),
    "es": frozenset(("El", "La", "Los", "Las", "Un", "Una", "Unos", "Unas", "Algunas", "Algunos", "Este", "Esta", "Su", "Sus",
                     "No", "Es", "Está", "Falta", "Faltan", "Indica", "Página", "Páginas", "Parte")),
}
"""First words that are no names and, in German, no nouns: after a colon they are written small."""

_SMALL_AFTER_COLONS: frozenset[Language] = frozenset(("fr", "es"))
"""Where even a whole sentence is, if it explains what stands before the colon (Imprimerie nationale, Lexique; RAE, Ortografía;
both from memory). English and German may begin it large."""


def begun_small(said: str) -> str:
    """'The file asks ….' → 'the file asks …'. Names such as 'JavaScript' stay as they are."""
    first = said.replace("’", " ").replace("'", " ").partition(" ")[0]
    return said[:1].lower() + said[1:] if _is_no_name(first) else said


def begun_after_colon(said: str) -> str:
    return begun_small(said) if spoken() in _SMALL_AFTER_COLONS else said


def _is_no_name(first: str) -> bool:
    """French needs no list: a sentence hardly begins with a name there, and names of formats have large letters inside."""
    if spoken() == "fr":
        return first.isalpha() and first[1:] == first[1:].lower()
    return first in _SMALL_WORDS[spoken()]
