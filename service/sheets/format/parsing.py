"""The text of a sheet, YAML or JSON, as plain objects: dictionaries, lists, text, numbers, true and false.

* Plain words are read as YAML 1.2.2 (10.3, core schema) does, not as 1.1: only `true` and `false` are switches, so that `off` is
  a word, Norway is `NO`, `1_000` and `12:30` are text, and a date is text.
* A key that stands twice is refused (YAML 1.2.2, 3.2.1.3; RFC 8259, 4 leaves it open), and so are tags (`!…`), anchors and
  aliases (`&`, `*`, the way of a small text that unfolds to gigabytes), a second document, and what is too large or too deep.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from typing import Any, Final

import yaml

from service.language.spoken import say, spoken
from service.sheets.format.refusals import Path, SheetRefused, refusal

LARGEST_TEXT_BYTES = 256 * 1024
LARGEST_YAML_BYTES = 2 * 1024 * 1024
"""Some seconds of reading."""
_DEEPEST = 20
_LONGEST_WHOLE_NUMBER = 15

_LOADER: Final = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
_WHOLE = re.compile(r"[-+]?[0-9]+")
_DECIMAL = re.compile(r"[-+]?(\.[0-9]+|[0-9]+(\.[0-9]*)?)([eE][-+]?[0-9]+)?")
_WORDS: dict[str, bool | None] = {
    **dict.fromkeys(("", "~", "null", "Null", "NULL"), None),
    **dict.fromkeys(("true", "True", "TRUE"), True),
    **dict.fromkeys(("false", "False", "FALSE"), False),
}


EXAMPLE = "bleed: {minimum: 3 mm}"
"""A requirement, as it is written."""


def parse_sheet_text(text: str | bytes, largest_bytes: int = LARGEST_TEXT_BYTES) -> object:
    """The object that the text describes; not yet a sheet. YAML is never taken beyond `LARGEST_YAML_BYTES`.

    Raises `SheetRefused` for what is neither JSON nor YAML, with the line and column.
    """
    text = _decoded(text, largest_bytes)
    if text.lstrip().startswith("{"):
        try:
            return _of_whole_characters(json.loads(text, object_pairs_hook=_without_doubles, parse_constant=_not_finite))
        except RecursionError:
            raise refusal([((), say("is nested too deeply."))]) from None
        except SheetRefused:
            raise
        except ValueError as error:
            problem = str(error)
        try:
            return _yaml_object(text)  # `{trim: {width: 85 mm}}` is YAML and no JSON
        except SheetRefused as refused:
            if any(place for place, _ in refused.errors):
                raise
            raise refusal([((), say("is neither JSON ({problem}) nor YAML.", problem=problem))]) from None
    return _yaml_object(text)


def _decoded(text: str | bytes, largest_bytes: int) -> str:
    raw = text.encode("utf-8", "surrogatepass") if isinstance(text, str) else text
    if len(raw) > largest_bytes:
        most = largest_bytes // 1024
        raise refusal([((), say("must be at most {most} KiB of text; this one has {size} bytes.", most=most, size=len(raw)))])
    try:
        decoded = raw.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise refusal([((), say("is not text in UTF-8: save it as UTF-8 and send it again."))]) from None
    if not decoded.strip():
        raise refusal([((), say("is empty: write at least one requirement, such as '{example}'.", example=EXAMPLE))])
    return decoded


def _without_doubles(pairs: list[tuple[str, object]]) -> dict[str, object]:
    block: dict[str, object] = {}
    for key, value in pairs:
        if key in block:
            raise refusal([((), say("has the key '{key}' twice in one block: keep one of them.", key=key[:60]))])
        block[key] = value
    return block


def _of_whole_characters(value: object) -> object:
    """JSON can name half a character (RFC 8259, 8.2), which no text can be kept with."""
    try:
        json.dumps(value, ensure_ascii=False).encode()
    except UnicodeEncodeError:
        raise refusal([((), say("holds half a character, such as '{example}': write whole ones.", example="\\ud800"))]) from None
    return value


def _not_finite(word: str) -> object:
    raise refusal([((), say("holds {word}, which is no number of JSON.", word=word))])


# --- YAML -------------------------------------------------------------------------------------------------------------


def _yaml_object(text: str) -> object:
    if len(text) > LARGEST_YAML_BYTES:
        raise refusal([((), say("is too large for YAML, which is slow to read: send it as JSON."))])
    try:
        events = (event for event in yaml.parse(text, Loader=_LOADER) if not isinstance(event, yaml.StreamStartEvent))
        start = next(events)
        if isinstance(start, yaml.StreamEndEvent):
            raise refusal([((), say("is empty: write at least one requirement, such as '{example}'.", example=EXAMPLE))])
        document = _node(next(events), events, ())
        next(events)  # the end of this document
        if not isinstance(next(events), yaml.StreamEndEvent):
            raise refusal([((), say("holds more than one YAML document: send one sheet at a time."))])
        return document
    except yaml.MarkedYAMLError as error:
        mark = error.problem_mark
        place = None if mark is None else (mark.line + 1, mark.column + 1)
        raise refusal([((), _not_yaml(error.problem or error.context or "", place))]) from None
    except yaml.YAMLError as error:
        raise refusal([((), _not_yaml(" ".join(str(error).split()), None))]) from None


def _not_yaml(problem: str, place: tuple[int, int] | None) -> str:
    """`problem` is the parser's, which speaks English only; `place`: line and column, counted from 1."""
    line, column = place or (0, 0)
    if spoken() != "en":
        return say("is not YAML at line {line}, column {column}.", line=line, column=column) if place else say("is not YAML.")
    if place is None:
        return say("is not YAML: {problem}.", problem=problem)
    return say("is not YAML: {problem} (line {line}, column {column}).", problem=problem, line=line, column=column)


def _node(event: Any, events: Iterator[Any], path: Path) -> object:
    """One value with all that is in it."""
    if isinstance(event, yaml.AliasEvent) or event.anchor is not None:
        raise refusal([(path, say("uses an anchor or alias (& or *), which a sheet does not take: write the value out."))])
    if event.tag is not None:
        raise refusal([(path, say("carries the tag '{tag}', which a sheet does not take: leave it out.", tag=event.tag[:60]))])
    if len(path) > _DEEPEST:
        raise refusal([(path, say("is nested too deeply."))])
    if isinstance(event, yaml.ScalarEvent):
        return plain_value(event.value) if event.style in (None, "") else event.value
    if isinstance(event, yaml.SequenceStartEvent):
        return _list(events, path)
    return _block(events, path)


def _list(events: Iterator[Any], path: Path) -> list[object]:
    values: list[object] = []
    while not isinstance(event := next(events), yaml.SequenceEndEvent):
        values.append(_node(event, events, (*path, len(values))))
    return values


def _block(events: Iterator[Any], path: Path) -> dict[str, object]:
    block: dict[str, object] = {}
    while not isinstance(event := next(events), yaml.MappingEndEvent):
        key = _key(event, path)
        if key in block:
            line = event.start_mark.line + 1
            raise refusal([((*path, key), say("stands twice (again on line {line}): keep one of them.", line=line))])
        block[key] = _node(next(events), events, (*path, key))
    return block


def _key(event: Any, path: Path) -> str:
    if not isinstance(event, yaml.ScalarEvent) or event.anchor is not None or event.tag is not None or len(event.value) > 200:
        raise refusal([(path, say("has a key on line {line} that is no word.", line=event.start_mark.line + 1))])
    return str(event.value)


def plain_value(word: str) -> str | int | float | bool | None:
    """What an unquoted word of YAML stands for."""
    if word in _WORDS:
        return _WORDS[word]
    if _WHOLE.fullmatch(word) and len(word) <= _LONGEST_WHOLE_NUMBER:
        return int(word)
    if len(word) <= 2 * _LONGEST_WHOLE_NUMBER and _DECIMAL.fullmatch(word):
        return float(word)
    return word
