"""In which language a request is answered: `?lang=de`, else the header Accept-Language, else English.

The language is set for the whole request, so that every `say` on its way speaks it.
"""

from __future__ import annotations

from contextlib import ExitStack

from flask import Flask, Response, g, request

from service.language.spoken import LANGUAGES, Language, language_named, speaking, spoken

_CODES = ", ".join(f"`{one}`" for one in LANGUAGES)
LANG = {
    "in": "query", "name": "lang", "schema": {"type": "string", "enum": list(LANGUAGES)},
    "description": f"Language of the words: {_CODES}; without it the header Accept-Language decides.",
}


def register(app: Flask) -> None:
    app.before_request(_before)
    app.teardown_request(_teardown)


def wished_language() -> Language:
    """A language that is not spoken here is passed over, as RFC 9110 (12.5.4) advises."""
    named = language_named(request.args.get("lang"))
    if named:
        return named
    wished = (language_named(tag) for tag, quality in request.accept_languages if quality > 0)
    return next((one for one in wished if one), "en")


def in_spoken_language(answer: Response) -> Response:
    """Says on an answer with words of which language they are, and that another request may get others."""
    answer.headers["Content-Language"] = spoken()
    answer.vary.add("Accept-Language")
    return answer


def _before() -> None:
    g.language = ExitStack()
    g.language.enter_context(speaking(wished_language()))


def _teardown(_: BaseException | None) -> None:
    stack: ExitStack | None = g.pop("language", None)
    if stack is not None:
        stack.close()
