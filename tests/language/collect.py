"""Brings the catalogues up to date: `python -m tests.language.collect` (`--check` only says whether they are).

New messages come in untranslated, those that nobody says any longer go; no guesses, no dates, no line numbers, so that a change
of one message changes a few lines.
"""

from __future__ import annotations

import sys
from io import BytesIO
from pathlib import Path

from babel.messages.catalog import Catalog
from babel.messages.pofile import read_po, write_po

from service.language.spoken import CATALOGUES
from tests.language.messages import Text, all_messages

_PLURALS = {"de": "nplurals=2; plural=(n != 1);", "fr": "nplurals=2; plural=(n > 1);", "es": "nplurals=2; plural=(n != 1);"}
TRANSLATED = tuple(_PLURALS)


def main() -> int:
    texts = all_messages()
    stale = []
    for language in TRANSLATED:
        path = CATALOGUES / f"{language}.po"
        fresh = updated(path, language, texts)
        if not path.exists() or fresh != path.read_bytes():
            stale.append(path.name)
            if "--check" not in sys.argv:
                path.write_bytes(fresh)
        untranslated = sum(not _done(one) for one in _catalogue(fresh, language) if one.id)
        print(f"{path.name}: {len(texts)} messages, {untranslated} untranslated")
    if stale and "--check" in sys.argv:
        print(f"not up to date: {', '.join(stale)}; run `python -m tests.language.collect`", file=sys.stderr)
        return 1
    return 0


def _done(message: object) -> bool:
    string = getattr(message, "string", None)
    return all(string) if isinstance(string, tuple) else bool(string)


def updated(path: Path, language: str, texts: tuple[Text, ...]) -> bytes:
    """The catalogue as it should be: the messages of now, with the translations that there are."""
    before = _catalogue(path.read_bytes() if path.exists() else b"", language)
    fresh = Catalog(locale=language, fuzzy=False)
    fresh.mime_headers = [("Plural-Forms", _PLURALS[language])]
    for text in texts:
        known = before.get(text.one, context=text.subject)
        same = known is not None and known.id == _id(text)
        fresh.add(
            _id(text),
            known.string if known is not None and same else None,
            locations=[(text.where, 1)],
            context=text.subject,
            user_comments=known.user_comments if known is not None else (),
        )
    for message in fresh:
        message.flags.clear()
    written = BytesIO()
    write_po(written, fresh, width=0, omit_header=True, include_lineno=False)
    return _header(language).encode() + written.getvalue()


def _id(text: Text) -> str | tuple[str, str]:
    return (text.one, text.many) if text.many is not None else text.one


def _catalogue(data: bytes, language: str) -> Catalog:
    return read_po(BytesIO(data), locale=language)


def _header(language: str) -> str:
    lines = ("Content-Type: text/plain; charset=UTF-8", f"Language: {language}", f"Plural-Forms: {_PLURALS[language]}")
    return 'msgid ""\nmsgstr ""\n' + "".join(f'"{line}\\n"\n' for line in lines) + "\n"


if __name__ == "__main__":
    sys.exit(main())
