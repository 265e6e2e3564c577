"""A sheet that extends another: its document is laid over that of the sheet that it names.

    extends: business-card-85x55
    bleed: {minimum: 5 mm}          # the rest of the block stays as it is there
    margin: null                    # takes the block out

* A block is laid over the block of the same name, key by key; any other value, and a list, takes the place of the old one.
* `references` come before those of the base, because each tells where other numbers come from; one `about` the same keys takes
  the place of the base's (where both have references, those about a block that is taken out go too), and `references: null` drops
  them all. `id`, `revision` and `aliases` are never inherited.
* What belongs to a value falls away where the sheet sets another of its own that it cannot stand beside: an inherited `preferred`
  that is less than an own minimum, or more than an own limit; where other sizes fold, where the sheet has folds of its own.
* The result has no `extends` left: it is complete, and reads as a sheet does. It is not validated yet.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import Any

from service.language.spoken import say
from service.sheets.format.lengths import NotAQuantity, parse_length_mm, parse_percent, parse_ppi
from service.sheets.format.refusals import Path, SheetRefused, nearest, refusal

EXTENDS = "extends"
LONGEST_CHAIN = 8
"""How many sheets may stand below one another."""

NEVER_INHERITED = ("id", "revision", "aliases", EXTENDS)
_ADDED = "references"

Find = Callable[[str], Mapping[str, Any] | None]
"""The document of a base by its id, which may extend another; None where there is none."""


def resolve(document: object, find: Find, known: Iterable[str] = ()) -> object:
    """The complete document. What extends nothing, or is no block of keys, comes back as it is. `known`: ids to suggest.

    Raises `SheetRefused`: at `/extends` for a base that does not exist, a circle or a long chain, and at its own place for a
    null that takes nothing away.
    """
    if not isinstance(document, Mapping) or EXTENDS not in document:
        return document
    resolved: Mapping[str, Any] = {}
    for layer in reversed(_layers(document, find, known)):
        mistakes: list[tuple[Path, str]] = []
        merged = _overtaken(_laid_over(resolved, layer, (), mistakes), layer) if resolved else dict(layer)
        if mistakes:
            raise refusal(mistakes) if layer is document else _broken_base(layer)
        resolved = merged
        for key in NEVER_INHERITED if layer is not document else (EXTENDS,):
            merged.pop(key, None)
    return resolved


def laid_over_all(document: Mapping[str, Any], defaults: Mapping[str, Any]) -> dict[str, Any]:
    """With the defaults of a catalogue laid over it. A null for a key that it has not takes nothing away, and is no mistake."""
    return _overtaken(_laid_over(document, defaults, (), []), defaults)


def _layers(document: Mapping[str, Any], find: Find, known: Iterable[str]) -> list[Mapping[str, Any]]:
    """The document, its base, the base of that, and so on."""
    layers, names = [document], [str(document["id"])] if isinstance(document.get("id"), str) else []
    while EXTENDS in layers[-1]:
        name = layers[-1][EXTENDS]
        if not isinstance(name, str):
            raise _refused(say("must be the id of one stored sheet, such as business-card-85x55."))
        if name in names:
            raise _refused(say("goes round in a circle: {names}.", names=" → ".join([*names, name])))
        if len(layers) > LONGEST_CHAIN:
            raise _refused(
                say("stands on more than {most} sheets below one another: extend a simpler one.", most=LONGEST_CHAIN)
            )
        base = find(name)
        if base is None:
            near = nearest(name, known)
            if near:
                raise _refused(say("names '{id}', which is no stored sheet; did you mean '{near}'?", id=name[:60], near=near))
            raise _refused(say("names '{id}', which is no stored sheet; GET /v1/specs lists them.", id=name[:60]))
        layers.append(base)
        names.append(name)
    return layers


def _laid_over(base: Mapping[str, Any], over: Mapping[str, Any], path: Path, mistakes: list[tuple[Path, str]]) -> dict[str, Any]:
    merged = dict(base)
    for key, value in over.items():
        old = base.get(key)
        if value is None:
            if key not in base:
                mistakes.append(
                    ((*path, key), say("is null, which takes a key out, and the sheet that this one extends has none."))
                )
            merged.pop(key, None)
        elif isinstance(value, Mapping) and isinstance(old, Mapping):
            merged[key] = _laid_over(old, value, (*path, key), mistakes)
        elif path == () and key == _ADDED and isinstance(value, list) and isinstance(old, list):
            told_anew = [*(_about(own) for own in value), *(one for one in over if over[one] is None)]
            merged[key] = value + [one for one in old if _about(one) not in told_anew]
        else:
            merged[key] = value
    return merged


# --- What an own value overtakes --------------------------------------------------------------------------------------

_Read = Callable[[object], float]
_WISHES: tuple[tuple[tuple[str, ...], str, str, _Read, int], ...] = (
    (("bleed",), "minimum", "preferred", parse_length_mm, 1),
    (("bleed",), "maximum", "preferred", parse_length_mm, -1),
    (("margin",), "minimum", "preferred", parse_length_mm, 1),
    (("images", "contone_ppi"), "minimum", "preferred", parse_ppi, 1),
    (("images", "contone_ppi"), "maximum", "preferred", parse_ppi, -1),
    (("images", "bilevel_ppi"), "minimum", "preferred", parse_ppi, 1),
    (("images", "bilevel_ppi"), "maximum", "preferred", parse_ppi, -1),
    (("color",), "ink_limit", "ink_preferred", parse_percent, -1),
)
"""Block, limit, wish, how they are read; 1: the wish is at least the limit, -1: at most."""


def _overtaken(merged: dict[str, Any], layer: Mapping[str, Any]) -> dict[str, Any]:
    for path, limit, wish, read, sign in _WISHES:
        own, block = _at(layer, path), _at(merged, path)
        if own is None or block is None or limit not in own or wish in own or wish not in block:
            continue
        if _cannot_stand(block.get(limit), block[wish], read, sign):
            merged = _without(merged, path, wish)
    trim, own = _at(merged, ("trim",)) or {}, _at(layer, ("trim",)) or {}
    if "folds" not in layer or "alternatives" in own or not isinstance(sizes := trim.get("alternatives"), list):
        return merged
    kept = [_without(one, (), "folds") if isinstance(one, Mapping) else one for one in sizes]
    return {**merged, "trim": {**trim, "alternatives": kept}}


def _cannot_stand(limit: object, wish: object, read: _Read, sign: int) -> bool:
    """A wish has nothing to go beyond where the limit was taken out. What cannot be read is left for validation to refuse."""
    if limit is None:
        return True
    try:
        return sign * (read(wish) - read(limit)) < 0
    except NotAQuantity:
        return False


def _at(document: Mapping[str, Any], path: tuple[str, ...]) -> Mapping[str, Any] | None:
    found: object = document
    for key in path:
        found = found.get(key) if isinstance(found, Mapping) else None
    return found if isinstance(found, Mapping) else None


def _without(document: Mapping[str, Any], path: tuple[str, ...], key: str) -> dict[str, Any]:
    if not path:
        return {one: document[one] for one in document if one != key}
    return {**document, path[0]: _without(document[path[0]], path[1:], key)}


def _about(reference: object) -> object:
    """The keys that a reference speaks of; what is no reference is left for validation to refuse."""
    return reference.get("about", reference) if isinstance(reference, Mapping) else reference


def _refused(says: str) -> SheetRefused:
    return refusal([((EXTENDS,), says)])


def _broken_base(layer: Mapping[str, Any]) -> SheetRefused:
    return _refused(say("stands on '{id}', which takes out a key that its own base does not have.", id=str(layer.get("id"))))
