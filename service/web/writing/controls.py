"""The form of a sheet as plain records: one control a key, made from the format's own declarations.

A control is named by the JSON pointer of its key, so that what the service refuses finds its place by itself. `entered` reads
the same names back.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any, Literal

from marshmallow import Schema, fields

from service.language.spoken import say
from service.language.wording import side_named
from service.sheets.format.blocks import whole_sheet
from service.sheets.format.fields import BoxOnPage, Choice, Flag, Levels, Whole, Words
from service.web.writing.choice_words import choice_said
from service.web.writing.questions import BLOCKS, COUNTED_BY_US, IDENTITY, Question, order_of, question_of

Kind = Literal["line", "text", "choice", "ticks", "tick"]
_LONG_TEXT = 300
"""Characters from which on a text gets more than a line."""
_SIDES = ("left", "top", "right", "bottom")


@dataclass(frozen=True)
class Control:
    name: str
    kind: Kind
    label: str
    hint: str
    value: str
    options: tuple[tuple[str, str], ...] = ()
    """Of a choice and of ticks: word and what it is called."""
    ticked: tuple[str, ...] = ()
    wide: bool = False
    """Whether it needs the whole line: words for people do."""


@dataclass(frozen=True)
class Group:
    """A block, an entry of a list, or four sides of a box."""

    name: str
    label: str
    hint: str
    usual: tuple[Part, ...]
    more: tuple[Part, ...]
    """What few sheets need."""
    open: bool
    told: str = ""
    """What is answered, in short: it stands beside the label while the block is folded."""
    kind: Literal["block", "entry", "box"] = "block"


@dataclass(frozen=True)
class Listing:
    """As many entries as somebody adds."""

    name: str
    label: str
    hint: str
    entries: tuple[Group, ...]
    open: bool
    told: str = ""


Part = Control | Group | Listing


@dataclass(frozen=True)
class Ready:
    """What a form is made with beside the format."""

    levels: Sequence[tuple[str, str, str]] = ()
    """Of each rule its id, what it claims, and the word for its usual strictness."""
    products: Sequence[tuple[str, str]] = ()
    taken: frozenset[str] = field(default_factory=frozenset)
    """Names that are given already and cannot be changed."""


def form_of(document: Mapping[str, Any], ready: Ready) -> tuple[Group | Listing, ...]:
    """Each block in the order of the questions; what has no question comes before the name of the sheet."""
    schema = whole_sheet()
    blocks = {key: one for key, one in _keys(schema, "") if _is_block(one)}
    ordered = [*(key for key in BLOCKS if key in blocks), *(key for key in blocks if key not in BLOCKS)]
    made = [_block(key, blocks[key], document.get(key), ready) for key in ordered]
    loose = [(key, one) for key, one in _keys(schema, "") if not _is_block(one) and key not in COUNTED_BY_US | ready.taken]
    question = BLOCKS[IDENTITY]
    identity = _group("", _Asked(say(question.asks), say(question.hint)), loose, "", document, ready)
    return (*made, replace(identity, name="/", open=True, told=""))


@dataclass(frozen=True)
class _Asked:
    label: str
    hint: str
    usual: bool = True


def _asked(place: str, described: fields.Field[Any], question: Question | None) -> _Asked:
    if question is None:
        return _Asked(str(described.metadata.get("description") or place), "", usual=False)
    return _Asked(say(question.asks), say(question.hint), question.usual)


def _is_block(one: fields.Field[Any]) -> bool:
    return isinstance(one, fields.Nested | Levels) or (isinstance(one, fields.List) and isinstance(one.inner, fields.Nested))


def _keys(schema: Schema, place: str) -> list[tuple[str, fields.Field[Any]]]:
    """The keys of a block in the order in which they are asked for."""
    keys = [(one.data_key or name, one) for name, one in schema.load_fields.items()]
    return sorted(keys, key=lambda key: order_of(f"{place}.{key[0]}" if place else key[0]))


def _block(key: str, one: fields.Field[Any], value: Any, ready: Ready) -> Group | Listing:
    question = BLOCKS.get(key)
    asked = _asked(key, one, question)
    if isinstance(one, Levels):
        return _levels(asked, value or {}, ready)
    made = _part(f"/{key}", key, one, value, asked, ready)
    assert isinstance(made, Group | Listing), "a block holds keys"
    return replace(made, open=bool(question and question.usual), told=_told(key, value))


def _group(
    name: str, asked: _Asked, keys: Sequence[tuple[str, fields.Field[Any]]], place: str, value: Any, ready: Ready
) -> Group:
    document = value if isinstance(value, Mapping) else {}
    usual: list[Part] = []
    more: list[Part] = []
    for key, one in keys:
        inner = f"{place}.{key}" if place else key
        question = _asked(inner, one, question_of(inner))
        part = _part(f"{name}/{key}", inner, one, document.get(key), question, ready)
        (usual if question.usual else more).append(part)
    return Group(name, asked.label, asked.hint, tuple(usual), tuple(more), bool(document))


def _part(name: str, place: str, one: fields.Field[Any], value: Any, asked: _Asked, ready: Ready) -> Part:
    if isinstance(one, fields.Nested):
        return _group(name, asked, _keys(one.schema, place), place, value, ready)
    if isinstance(one, fields.List) and isinstance(one.inner, fields.Nested):
        keys = _keys(one.inner.schema, place)
        values = value if isinstance(value, list) else []
        entries = tuple(_entry(f"{name}/{at}", asked, keys, place, one, ready) for at, one in enumerate(values))
        return Listing(name, asked.label, asked.hint, entries, bool(entries))
    if isinstance(one, BoxOnPage):
        return _box(name, asked, value)
    return _control(name, place, one, value, asked, ready)


def _entry(
    name: str, asked: _Asked, keys: Sequence[tuple[str, fields.Field[Any]]], place: str, value: Any, ready: Ready
) -> Group:
    number = int(name.rpartition("/")[2]) + 1
    made = _group(name, _Asked(say("{things} {number}", things=asked.label, number=number), ""), keys, place, value, ready)
    return replace(made, open=True, kind="entry")


def _box(name: str, asked: _Asked, value: Any) -> Group:
    sides = value if isinstance(value, list | tuple) else []
    texts = [*map(_text, sides), "", "", "", ""][:4]
    controls = (
        Control(f"{name}/{at}", "line", side_named(side), "", text)
        for at, (side, text) in enumerate(zip(_SIDES, texts, strict=True))
    )
    return Group(name, asked.label, asked.hint, tuple(controls), (), open=True, kind="box")


def _control(name: str, place: str, one: fields.Field[Any], value: Any, asked: _Asked, ready: Ready) -> Control:
    label, hint = asked.label, asked.hint
    inner = one.inner if isinstance(one, fields.List) else one
    if place == "product":
        return Control(name, "choice", label, hint, _text(value), _with(ready.products, value))
    if isinstance(inner, Choice):
        options = tuple((word, choice_said(place, word)) for word in inner.words)
        if inner is one:
            return Control(name, "choice", label, hint, _text(value), options)
        return Control(name, "ticks", label, hint, "", options, tuple(map(str, value or ())))
    if isinstance(one, Flag):
        return Control(name, "tick", label, hint, "true" if value is True else "")
    if isinstance(one, fields.List):
        on_one_line = isinstance(inner, Whole) or (isinstance(inner, Words) and inner.form is not None)
        text = (", " if on_one_line else "\n").join(_text(item) for item in value or ())
        return Control(name, "line" if on_one_line else "text", label, hint, text)
    for_people = isinstance(one, Words) and one.form is None
    is_long = isinstance(one, Words) and one.longest > _LONG_TEXT
    return Control(name, "text" if is_long else "line", label, hint, _text(value), wide=for_people)


def _with(options: Sequence[tuple[str, str]], value: Any) -> tuple[tuple[str, str], ...]:
    """A value that is none of the options stays one."""
    known = {word for word, _ in options}
    return (*options, *([(str(value), str(value))] if value and str(value) not in known else []))


def _levels(asked: _Asked, value: Mapping[str, Any], ready: Ready) -> Group:
    """A choice for each rule; what the sheet names and this version does not know stays there."""
    rules = [*ready.levels, *((rule, rule, "") for rule in value if rule not in {one[0] for one in ready.levels})]
    words = tuple((word, choice_said("levels", word)) for word in ("must", "should", "off"))
    controls = tuple(
        Control(f"/levels/{rule}", "choice", claim, usual, _text(value.get(rule)), words) for rule, claim, usual in rules
    )
    return Group("/levels", asked.label, asked.hint, (), controls, open=False, told=str(len(value)) if value else "")


def _told(place: str, value: Any) -> str:
    """The values of a block, its words for people left out; of a list how many entries it has."""
    if isinstance(value, Mapping):
        told = [_told(f"{place}.{key}", one) for key, one in value.items() if key not in ("level", "note")]
        return ", ".join(one for one in told if one)
    if isinstance(value, list | tuple):
        has_entries = any(isinstance(one, Mapping) for one in value)
        return str(len(value)) if has_entries else ", ".join(_told(place, one) for one in value)
    if isinstance(value, bool):
        return ""
    return choice_said(place, str(value)) if isinstance(value, str) else _text(value)


def _text(value: Any) -> str:
    return "" if value is None else str(value)


def every_control(parts: Sequence[Part]) -> Iterator[Control]:
    for part in parts:
        if isinstance(part, Control):
            yield part
        elif isinstance(part, Listing):
            yield from every_control(part.entries)
        else:
            yield from every_control((*part.usual, *part.more))
