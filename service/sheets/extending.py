"""A sheet that extends another: its document is laid over that of the sheet that it names.

    extends: business-card-85x55
    bleed: {minimum: 5 mm}          # the rest of the block stays as it is there
    margin: null                    # takes the block out

* A block is laid over the block of the same name, key by key; any other value, and a list, takes the place of the old one.
* `references` come before those of the base, because each tells where other numbers come from; one `about` the same keys takes
  the place of the base's (where both have references, those about a block that is taken out go too), and `references: null` drops
  them all. `id`, `revision` and `aliases` are never inherited.
* The result has no `extends` left: it is complete, and reads as a sheet does. It is not validated yet.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import Any

from service.language.spoken import say
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
        merged = _laid_over(resolved, layer, (), mistakes) if resolved else dict(layer)
        if mistakes:
            raise refusal(mistakes) if layer is document else _broken_base(layer)
        resolved = merged
        for key in NEVER_INHERITED if layer is not document else (EXTENDS,):
            merged.pop(key, None)
    return resolved


def laid_over_all(document: Mapping[str, Any], defaults: Mapping[str, Any]) -> dict[str, Any]:
    """With the defaults of a catalogue laid over it. A null for a key that it has not takes nothing away, and is no mistake."""
    return _laid_over(document, defaults, (), [])


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


def _about(reference: object) -> object:
    """The keys that a reference speaks of; what is no reference is left for validation to refuse."""
    return reference.get("about", reference) if isinstance(reference, Mapping) else reference


def _refused(says: str) -> SheetRefused:
    return refusal([((EXTENDS,), says)])


def _broken_base(layer: Mapping[str, Any]) -> SheetRefused:
    return _refused(say("stands on '{id}', which takes out a key that its own base does not have.", id=str(layer.get("id"))))
