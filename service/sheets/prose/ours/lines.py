"""A sheet as lines of prose, one a demand, and such lines as a sheet again.

    Bleed – At least, on each side: 3 mm
    Folds 2 – How far from the left edge, or from the top: 97 mm

* Each line says the place of a demand by its name, in words, and its value; nothing else is said, so that nothing is lost.
* Id, revision and other ids are left out: a text has none.
* What people wrote (names, notes, sources) stands as they wrote it, in whatever language.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator, Mapping
from functools import cache
from typing import Any

from service.language.spoken import LANGUAGES, Language, catalogue, say, spoken, to_say
from service.language.wording import labelled, set_apart
from service.sheets.prose.ours.places import LEFT_OUT, Place, kind_at, kinds
from service.sheets.prose.ours.words import BLOCKS, CHOICES, KEYS

_BETWEEN, _ITEMS = " – ", "; "
_COMMA = frozenset({"de", "fr", "es"})
"""Languages whose decimal mark it is."""
_NUMBER = re.compile(r"(?<![\w.,])(\d+)([.,])(\d+)(?![\w.,]*\d)")
_FILE_SIZE = re.compile(r"([\d.,]+) ?(kB|MB)")
_SIZES = {"kB": to_say("{size} kB"), "MB": to_say("{size} MB")}
_BULLET = re.compile(r"^[\s•·*–-]+")


def lines_of(document: Mapping[str, Any], language: Language) -> list[str]:
    """Of a complete sheet in its own format."""
    return [
        f"{_named(place, language)}: {_value_said(place, value, language)}"
        for place, value in _demands(document, ())
        if place[0] not in LEFT_OUT
    ]


def demand_said(path: str, value: Any) -> str:
    """'Bleed – At least, on each side: 3 mm', in the language that is spoken and as it is set. `path`: 'bleed.minimum'."""
    return labelled(_named(tuple(path.split(".")), spoken()), value_said(path, value))


def value_said(path: str, value: Any) -> str:
    """'3 mm', or 'CMYK; grey' of a list, in the language that is spoken and as it is set."""
    each = value if isinstance(value, list) and value else [value]
    return set_apart(_size_said(_value_said(tuple(path.split(".")), one, spoken())) for one in each)


def _size_said(value: str) -> str:
    """'500 MB' → '500 Mo' in French; a line of ours keeps it as a sheet is written."""
    size = _FILE_SIZE.fullmatch(value)
    return say(_SIZES[size[2]], size=size[1]) if size else value


def place_said(path: str) -> str:
    """'Bleed – At least, on each side', in the language that is spoken."""
    return _named(tuple(path.split(".")), spoken())


def read_line(line: str) -> tuple[Place, Any] | None:
    """The demand that a line of ours makes, whatever language it is in; None: it is none of ours."""
    bare = _BULLET.sub("", line)
    for language in LANGUAGES:
        found = _named_in(bare, language)
        if found is None:
            continue
        place, words = found
        value = _value_read(place, words, language)
        if value is not None:
            return place, value
    return None


def put(document: dict[str, Any], place: Place, value: Any) -> bool:
    """At its place; False where there is another value, or its place in a list is not the next one."""
    node: Any = document
    for key, following in zip(place, [*place[1:], None], strict=True):
        fresh: Any = value if following is None else [] if isinstance(following, int) else {}
        if isinstance(node, list):
            if not isinstance(key, int) or key > len(node):
                return False
            if key == len(node):
                node.append(fresh)
            elif following is None:
                return False
        elif not isinstance(node, dict) or (following is None and key in node):
            return False
        else:
            node.setdefault(key, fresh)
        node = node[key]
    return True


# --- Places -----------------------------------------------------------------------------------------------------------


def _demands(value: Any, place: Place) -> Iterator[tuple[Place, Any]]:
    if isinstance(value, Mapping):
        for key, inner in value.items():
            yield from _demands(inner, (*place, key))
    elif isinstance(value, list) and value and isinstance(value[0], Mapping):
        for index, inner in enumerate(value):
            yield from _demands(inner, (*place, index))
    else:
        yield place, value


def _named(place: Place, language: Language) -> str:
    """In words, with the numbers of lists counted from 1."""
    words: list[str] = []
    path: list[str] = []
    for part in place:
        if isinstance(part, int):
            words[-1] += f" {part + 1}"
        else:
            path.append(part)
            words.append(_word(tuple(path), language))
    return _BETWEEN.join(words)


def _word(path: tuple[str, ...], language: Language) -> str:
    dotted, outer, key = ".".join(path), path[0], path[-1]
    if path[0] == "levels" and len(path) == 2:
        return key
    if len(path) == 1:
        text = BLOCKS.get(dotted) or KEYS.get(dotted)
    else:
        text = KEYS.get(dotted) or KEYS.get(f"{outer}.*.{key}") or KEYS.get(f"*.{key}")
    return str(catalogue(language).gettext(text)) if text else key


@cache
def _names(language: Language) -> Mapping[str, tuple[str, ...]]:
    """Every place of the format without its numbers, by its name as it is compared."""
    return {_plain(_named(path, language)): path for path in kinds()}


def _named_in(line: str, language: Language) -> tuple[Place, str] | None:
    """The name may hold a colon, and a value too: the shortest name that is one counts."""
    at = line.find(":")
    while at >= 0:
        name, words = _plain(line[:at]), line[at + 1 :].strip()
        numbers = [int(one) - 1 if one else None for one in _numbers(name)]
        bare = _BETWEEN.join(re.sub(r" \d+$", "", part) for part in name.split(_BETWEEN))
        path = _names(language).get(bare) or _level(bare, language)
        if path and words and len(path) == len(numbers):
            place: list[str | int] = []
            for key, number in zip(path, numbers, strict=True):
                place += [key] if number is None else [key, number]
            return (tuple(place), words) if min((n for n in numbers if n is not None), default=0) >= 0 else None
        at = line.find(":", at + 1)
    return None


def _numbers(name: str) -> list[str]:
    return [found[1] if (found := re.search(r" (\d{1,4})$", part)) else "" for part in name.split(_BETWEEN)]


def _level(name: str, language: Language) -> tuple[str, ...] | None:
    block, _, rule = name.partition(_BETWEEN)
    is_rule = re.fullmatch(r"[a-z]+(-[a-z]+)*\.[a-z]+(-[a-z]+)*", rule)
    return ("levels", rule) if is_rule and block == _plain(_word(("levels",), language)) else None


# --- Values -----------------------------------------------------------------------------------------------------------


def _value_said(place: Place, value: Any, language: Language) -> str:
    path = _path(place)
    if isinstance(value, list):
        return _ITEMS.join(_one_said(path, one, language) for one in value) or _none(language)
    return _one_said(path, value, language)


def _one_said(path: tuple[str, ...], value: Any, language: Language) -> str:
    kind = kind_at(path)
    if isinstance(value, bool):
        return _yes_no(language)[0 if value else 1]
    if isinstance(value, str) and value in kind.words:
        return _chosen(path, value, language)
    if kind.is_free or kind.words:
        return str(value)
    text = f"{value:g}" if isinstance(value, float) else str(value)
    return _NUMBER.sub(r"\1,\3", text) if language in _COMMA else text


def _value_read(place: Place, words: str, language: Language) -> Any:
    path = _path(place)
    if not kind_at(path).is_list:
        return _one_read(path, words, language)
    read = [] if _plain(words) == _plain(_none(language)) else [_one_read(path, one, language) for one in words.split(_ITEMS)]
    return None if None in read else read


def _one_read(path: tuple[str, ...], words: str, language: Language) -> Any:
    """None: no such value."""
    kind = kind_at(path)
    if kind.is_free:
        return words
    if kind.words:
        return {_plain(_chosen(path, one, language)): one for one in kind.words}.get(_plain(words))
    if kind.is_flag:
        return {_plain(one): one is yes for yes in _yes_no(language)[:1] for one in _yes_no(language)}.get(_plain(words))
    text = _NUMBER.sub(r"\1.\3", words) if language in _COMMA else words
    return int(text) if re.fullmatch(r"\d{1,12}", text) else float(text) if re.fullmatch(r"\d{1,9}\.\d{1,9}", text) else text


def _path(place: Place) -> tuple[str, ...]:
    return tuple(one for one in place if isinstance(one, str))


def _chosen(path: tuple[str, ...], value: str, language: Language) -> str:
    """What a word that is chosen from a list is called; a word that nobody gave a name stands for itself."""
    of = "level" if kind_at(path).words in (("must", "should", "off"), ("must", "should")) else ".".join(path)
    text = CHOICES.get((of, value)) or CHOICES.get(("", value))
    return str(catalogue(language).gettext(text)) if text else value


def _yes_no(language: Language) -> tuple[str, str]:
    said = catalogue(language).pgettext
    return str(said("in the file", "yes")), str(said("in the file", "no"))


def _none(language: Language) -> str:
    return str(catalogue(language).pgettext("bleed", "none"))


def _plain(text: str) -> str:
    """As texts are compared: without what typography does to them."""
    text = unicodedata.normalize("NFKC", text).replace("’", "'").replace("‘", "'")
    text = re.sub(r"[“”„«»]", '"', text).replace("\u2212", "-")
    return re.sub(r"\s+", " ", text.replace("—", "–")).replace(" :", ":").strip()
