"""A sheet while it is written: what the form says, what it stands on, what the service refuses of it and what can be read."""

from __future__ import annotations

import copy
import re
import unicodedata
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from service.api.specs.kept_sheets import Kept, find_kept
from service.language.spoken import say, translated
from service.rules.catalogue import RULES
from service.sheets.catalogue import base_document, laid_over_its_base
from service.sheets.differences import Change, changes, difference, spelled_as
from service.sheets.extending import EXTENDS, NEVER_INHERITED
from service.sheets.format.parsing import parse_sheet_text
from service.sheets.format.refusals import SheetRefused
from service.sheets.format.validation import read_sheet
from service.sheets.format.writing import document_to_yaml
from service.sheets.model import SpecSheet

Errors = tuple[tuple[str, str], ...]
"""(pointer, sentence) pairs, as the service refuses."""
_MOST_ROUNDS = 8
_NO_LETTER_OR_DIGIT = re.compile(r"[^a-z0-9]+")


@dataclass(frozen=True)
class Draft:
    document: Mapping[str, Any]
    """All that the sheet asks, with what it takes from its base; the base's sources are left out."""
    base_id: str | None = None
    """The stored sheet or family that it extends."""

    @cached_property
    def base(self) -> Mapping[str, Any]:
        return complete_base(self.base_id) if self.base_id else {}

    @cached_property
    def errors(self) -> Errors:
        """What the service refuses of it, its name left out of account."""
        return _read(self.document)[1]

    @cached_property
    def readable(self) -> SpecSheet | None:
        """The sheet without the answers that are refused: a drawing need not wait for them. None where nothing is asked."""
        document = copy.deepcopy(dict(self.document))
        for _ in range(_MOST_ROUNDS):
            sheet, errors = _read(document)
            if sheet is not None:
                return sheet
            if not all(_take_out(document, pointer) for pointer, _ in reversed(errors)):
                break
        return None

    @property
    def changes(self) -> list[Change]:
        return changes(self.base, self.document) if self.base_id else []

    def to_send(self) -> dict[str, Any]:
        """As it is kept: of what its base says, only what it says otherwise."""
        if not self.base_id:
            return dict(self.document)
        named = {"id": self.document["id"]} if "id" in self.document else {}
        return {**named, EXTENDS: self.base_id, **difference(self.base, self.document)}

    def yaml(self) -> str:
        written = self.to_send()
        return document_to_yaml(written) if written else ""

    def try_yaml(self) -> str:
        """All of it without a name: what a file is tried on."""
        return document_to_yaml(_without(self.document, ("id",)))


def _read(document: Mapping[str, Any]) -> tuple[SpecSheet | None, Errors]:
    try:
        return read_sheet(document, known_rules=RULES), ()
    except SheetRefused as refused:
        return None, refused.errors


def _take_out(document: dict[str, Any], pointer: str) -> bool:
    """The value at the pointer; where there is none, what it is missing from."""
    *path, last = pointer.removeprefix("/").split("/") if pointer else [""]
    node: Any = document
    for at, part in enumerate(path):
        inner = _inside(node, part)
        if not isinstance(inner, dict | list):
            return _take_out(document, "/" + "/".join(path[: at + 1]))
        node = inner
    if isinstance(node, dict) and last in node:
        del node[last]
    elif isinstance(node, list) and last.isdecimal() and int(last) < len(node):
        del node[int(last)]
    else:
        return bool(path) and _take_out(document, "/" + "/".join(path))
    return True


def _inside(node: Any, part: str) -> Any:
    if isinstance(node, dict):
        return node.get(part)
    return node[int(part)] if isinstance(node, list) and part.isdecimal() and int(part) < len(node) else None


# --- Where a draft comes from -----------------------------------------------------------------------------------------------


def complete_base(base_id: str) -> Mapping[str, Any]:
    """Of a stored sheet or a family, as written. Raises `SheetRefused` where there is none."""
    document = laid_over_its_base({EXTENDS: base_id})
    assert isinstance(document, Mapping), "what extends a sheet is a block of keys"
    return document


def from_sheet(sheet_id: str) -> Draft:
    """A new one that starts as the sheet or family of that id is. Raises `Problem` for an id that is nobody's."""
    if base_document(sheet_id) is not None:
        return Draft(_without(complete_base(sheet_id), (*NEVER_INHERITED, "title", "references")), sheet_id)
    draft = from_own(find_kept(sheet_id))
    return Draft(_without(draft.document, ("id", "title")), draft.base_id)


def from_own(kept: Kept) -> Draft:
    """A sheet of one's own as it is kept, its values spelled as they were sent."""
    complete, base_id = kept.own.complete, kept.own.extends
    try:
        base = complete_base(base_id) if base_id else {}
        written = laid_over_its_base(kept.own.sent)
    except SheetRefused:  # its base is gone: it stands by itself
        base, base_id, written = {}, None, complete
    document = spelled_as(complete, written) if isinstance(written, Mapping) else dict(complete)
    inherited = base.get("references", ())
    own_sources = [one for one in document.pop("references", ()) if one not in inherited]
    document |= {"references": own_sources} if own_sources else {}
    return Draft(_without(document, ("revision", EXTENDS)), base_id)


def from_yaml(text: str) -> Draft:
    """Raises `SheetRefused`: a form can hold only what is a sheet."""
    written = parse_sheet_text(text)
    complete = laid_over_its_base(written)
    read_sheet(complete, known_rules=RULES)
    assert isinstance(complete, Mapping), "a sheet is a block of keys"
    assert isinstance(written, Mapping), "a sheet is a block of keys"
    base_id = written.get(EXTENDS)
    own_sources = {"references": written["references"]} if written.get("references") else {}
    left_out = ("revision", EXTENDS, *(("references",) if base_id else ()))
    return Draft(_without(complete, left_out) | own_sources, base_id)


def based_on(base_id: str) -> str | None:
    """The id, where it is one that a sheet can extend."""
    return base_id if base_id and base_document(base_id) is not None else None


_SAID = ("note", "summary")
"""Keys whose words a stored sheet says in the reader's language."""


def read_by_the_reader(document: Mapping[str, Any], base: Mapping[str, Any]) -> Any:
    """What the base says to people in the language that is spoken: a form shows it, and `as_the_base_says` takes it back."""
    return _where_words_meet(document, base, lambda words, of_base: translated(of_base) if words == of_base else words)


def as_the_base_says(document: Mapping[str, Any], base: Mapping[str, Any]) -> Any:
    """Words that nobody changed in the form are the base's own again, which every reader has in his language."""
    return _where_words_meet(document, base, lambda words, of_base: of_base if words == translated(of_base).strip() else words)


def _where_words_meet(mine: Any, of_base: Any, say_it: Callable[[str, str], str]) -> Any:
    if isinstance(mine, Mapping) and isinstance(of_base, Mapping):
        return {
            key: say_it(value, of_base[key])
            if key in _SAID and isinstance(value, str) and isinstance(of_base.get(key), str)
            else _where_words_meet(value, of_base.get(key), say_it)
            for key, value in mine.items()
        }
    if isinstance(mine, list) and isinstance(of_base, list) and len(mine) == len(of_base):
        return [_where_words_meet(one, other, say_it) for one, other in zip(mine, of_base, strict=True)]
    return mine


def named(document: Mapping[str, Any]) -> dict[str, Any]:
    """With an id made of its title, where it has none: 'Visitenkarte, 85 × 55 mm' → visitenkarte-85-55-mm."""
    title = document.get("title")
    if document.get("id") or not isinstance(title, str):
        return dict(document)
    plain = unicodedata.normalize("NFKD", title.replace("ß", "ss")).encode("ascii", "ignore").decode().lower()
    made = _NO_LETTER_OR_DIGIT.sub("-", plain)[:60].strip("-")
    return {"id": made, **document} if made else dict(document)


def base_named(base_id: str) -> str:
    title = complete_base(base_id).get("title")
    return str(title) if title else say("the family {family}", family=base_id)


def _without(document: Mapping[str, Any], keys: Iterable[str]) -> dict[str, Any]:
    left = set(keys)
    return {key: value for key, value in document.items() if key not in left}
