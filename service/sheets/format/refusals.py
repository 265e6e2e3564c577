"""Why a sheet was refused: every mistake with its place as a JSON pointer (RFC 6901) and a sentence that says what to do."""

from __future__ import annotations

import difflib
from collections.abc import Iterable, Iterator, Mapping, Sequence

from service.language.spoken import say, say_many, to_say
from service.language.wording import listed_or

Path = tuple[str | int, ...]

UNKNOWN_KEY = "an unknown key"
"""What the schema library notes for an unknown key; `BlockSchema` says the same better, so it is dropped here."""

MISSING = to_say("is missing.")
EMPTY = to_say("is empty: give it a value or leave the key out.")
NO_BLOCK = to_say("must be a block of keys and values.")
"""What the schema library is told once, before anybody knows who reads it."""

BLOCK_ITSELF = "_schema"
"""The schema library's name for a mistake of a block as a whole."""

_MOST_ERRORS = 100


class SheetRefused(ValueError):
    """The sheet cannot be used. `errors` are (pointer, detail) pairs; the pointer '' is the sheet as a whole."""

    def __init__(self, errors: Iterable[tuple[str, str]]) -> None:
        self.errors: tuple[tuple[str, str], ...] = tuple(errors)
        super().__init__(" ".join(detail for _, detail in self.errors))


def refusal(mistakes: Iterable[tuple[Path, str]]) -> SheetRefused:
    """The mistakes by place, each once; past a hundred only how many more there are."""
    errors = sorted({(pointer(path), f"{spelled(path)} {message}") for path, message in mistakes})
    if len(errors) > _MOST_ERRORS:
        errors[_MOST_ERRORS:] = [("", _more(len(errors) - _MOST_ERRORS))]
    return SheetRefused(errors)


def _more(count: int) -> str:
    return say_many("The sheet has {count} more mistake.", "The sheet has {count} more mistakes.", count)


def pointer(path: Path) -> str:
    return "".join("/" + str(part).replace("~", "~0").replace("/", "~1") for part in path)


def spelled(path: Path) -> str:
    """('keep_clear', 0, 'box') → 'keep_clear[0].box', to open a sentence."""
    text = "".join(f"[{part}]" if isinstance(part, int) else f".{part}" for part in path)
    return text.removeprefix(".") or say("The sheet")


def mistakes_in(messages: object, path: Path = ()) -> Iterator[tuple[Path, str]]:
    """The nested messages of the schema library as (path, message) pairs."""
    if isinstance(messages, Mapping):
        for key, inner in messages.items():
            yield from mistakes_in(inner, path if key == BLOCK_ITSELF else (*path, key))
    elif isinstance(messages, list | tuple):
        for inner in messages:
            yield from mistakes_in(inner, path)
    elif messages != UNKNOWN_KEY:
        yield path, say(messages) if messages in (MISSING, EMPTY, NO_BLOCK) else str(messages)


def nest(mistakes: Iterable[tuple[Path, str]]) -> dict[str | int, object]:
    """(path, message) pairs as the nested messages that the schema library takes."""
    tree: dict[str | int, object] = {}
    for path, message in mistakes:
        node: dict[str | int, object] = tree
        for part in path:
            inner = node.setdefault(part, {})
            assert isinstance(inner, dict)
            node = inner
        listed = node.setdefault(BLOCK_ITSELF, [])
        assert isinstance(listed, list)
        listed.append(message)
    return tree


def nearest(word: str, known: Iterable[str]) -> str | None:
    """The known word that the writer most likely meant; None where nothing is close."""
    if len(word) > 60:
        return None
    by_lower = {one.lower(): one for one in known}
    close = difflib.get_close_matches(word.lower(), by_lower, n=1, cutoff=0.6)
    return by_lower[close[0]] if close else None


def listed(words: Sequence[str]) -> str:
    """('a', 'b', 'c') → 'a, b or c'."""
    return listed_or(words)
