"""The texts that the scripts say, in the spoken language: found in the scripts themselves, looked up in the catalogues.

`say("…")` and `sayMany("one", "many", count)` are read with Babel's extractor for JavaScript, as the catalogues are made.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from functools import cache
from pathlib import Path

from babel.messages.extract import extract

from service.language.spoken import Language, catalogue

SCRIPTS = Path(__file__).parent / "static"

WITH_TEXTS_OF_THEIR_OWN = frozenset({"check-upload.js"})

SPEC: Mapping[str, tuple[int, ...] | None] = {"say": None, "sayMany": (1, 2)}


@cache
def script_texts(language: Language) -> Mapping[str, str | list[str]]:
    """Text → what to say instead; for `sayMany` under its first text the form for one and the form for many.

    English needs none. The languages spoken here tell one from many and no more.
    """
    if language == "en":
        return {}
    said = catalogue(language)
    table: dict[str, str | list[str]] = {}
    for text in texts_of(one for one in sorted(SCRIPTS.glob("*.js")) if one.name not in WITH_TEXTS_OF_THEIR_OWN):
        if isinstance(text, str):
            table.setdefault(text, said.gettext(text))
        else:
            one, many = text
            table[one] = [said.ngettext(one, many, 1), said.ngettext(one, many, 2)]
    return table


def texts_of(files: Iterable[Path]) -> Iterator[str | tuple[str, str]]:
    for file in files:
        with file.open("rb") as source:
            for _, text, _, _ in extract("javascript", source, keywords=SPEC, options={"encoding": "utf-8"}):
                yield text if isinstance(text, str) else (str(text[0]), str(text[1]))
