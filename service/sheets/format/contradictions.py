"""What the blocks of a sheet say of each other."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from service.language.spoken import say
from service.language.wording import listed_or
from service.sheets.format.lengths import plain_decimal
from service.sheets.format.refusals import Path
from service.sheets.model import Finish, Fold, FoldingAsked, KeepClearArea, MarginAsked, TrimAsked

FOLDS_NEEDED = {"half": (1,), "zigzag": (2, 3, 4, 5, 6), "roll": (2, 3, 4, 5, 6), "gate": (2, 3)}
"""How many folds along one axis each type has. Common practice, no source."""

def between_blocks(data: Mapping[str, Any]) -> Iterator[tuple[Path, str]]:
    """The mistakes among blocks that were each read without one; what was not is passed over here."""
    trim, margin = data.get("trim"), data.get("margin")
    if (
        isinstance(trim, TrimAsked)
        and isinstance(margin, MarginAsked)
        and 2 * margin.minimum_mm >= min(trim.width_mm, trim.height_mm)
    ):
        size = f"{plain_decimal(trim.width_mm)} × {plain_decimal(trim.height_mm)} mm"
        yield ("margin", "minimum"), say("leaves nothing of the trimmed page of {size}.", size=size)
    if isinstance(margin, MarginAsked) and (live := margin.live_area):
        if not isinstance(trim, TrimAsked):
            if "trim" not in data:
                yield ("margin", "live_area"), say("needs the size of the page: give trim its width and height.")
        elif live.width_mm >= trim.width_mm or live.height_mm >= trim.height_mm:
            yield ("margin", "live_area"), say("must be smaller than the page.")
    for index, area in enumerate(data.get("keep_clear") or ()):
        if isinstance(area, KeepClearArea) and area.corner != "top-left" and "trim" not in data:
            yield ("keep_clear", index, "corner"), say("needs the size of the page: give trim its width and height.")
    yield from _folds_of_sizes(trim, data.get("folds") or ())
    yield from _folding(data.get("folding"), data.get("folds") or ())
    inks: list[str] = []
    for index, finish in enumerate(data.get("finishes") or ()):
        if isinstance(finish, Finish):
            for key, names in (("ink", (finish.ink,)), ("also", finish.also)):
                if any(name in inks for name in names):
                    yield ("finishes", index, key), say("stands for two finishes: say all of it in one.")
                inks += names


def _folds_of_sizes(trim: object, folds: Sequence[object]) -> Iterator[tuple[Path, str]]:
    """A size that folds elsewhere has all its folds, in the order of the sheet's, on the page."""
    if not isinstance(trim, TrimAsked) or not all(isinstance(fold, Fold) for fold in folds):
        return
    for index, size in enumerate(trim.alternatives):
        where = ("trim", "alternatives", index, "folds")
        if size.folds_mm and len(size.folds_mm) != len(folds):
            yield where, say(
                "needs one length for each of the sheet's folds: found {found}, and folds has {asked}.",
                found=len(size.folds_mm), asked=len(folds),
            )
        for at, fold in zip(size.folds_mm, folds, strict=False):
            assert isinstance(fold, Fold)
            if at >= (size.width_mm if fold.axis == "vertical" else size.height_mm):
                yield where, say("must lie on the page.")


def _folding(folding: object, folds: Iterable[object]) -> Iterator[tuple[Path, str]]:
    """A type of fold needs its folds, along one axis."""
    if not isinstance(folding, FoldingAsked):
        return
    axes = [fold.axis for fold in folds if isinstance(fold, Fold)]
    needed = FOLDS_NEEDED[folding.type]
    if not axes:
        yield ("folding", "type"), say("needs folds: say where they lie in folds.")
    elif not any(axes.count(axis) in needed for axis in axes):
        counts = listed_or(str(one) for one in needed)
        yield ("folding", "type"), say("is {kind}, which takes {counts} folds along one axis.", kind=folding.type, counts=counts)
    elif folding.single_pages == "allowed" and (folding.type != "half" or axes != ["vertical"]):
        yield ("folding", "single_pages"), say("is for a half fold whose one fold runs from top to bottom.")
