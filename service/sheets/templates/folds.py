"""Folds of an empty document: lines across the page that are named so, or dashed among its guides."""

from __future__ import annotations

from collections.abc import Iterator

from service.language.spoken import say, say_many
from service.language.wording import millimetres, quoted
from service.pdf.facts.geometry import Box
from service.pdf.facts.guides import GuidedPage
from service.sheets.templates.outlines import Named, Outlines, crossing, is_level
from service.sheets.templates.told import Asked, Read, depths_of, neat

_WIDEST_SPINE_MM = 80.0
"""Ours, no source."""


def folds(page: GuidedPage, trim: Box, outlines: Outlines, questions: list[Asked]) -> Iterator[Read]:
    reach = max(*depths_of(page.media_mm, trim), 1.0)
    named = crossing(outlines.lines.get("fold", ()), trim, reach)
    loose = crossing([one for one in outlines.lines.get("guides", ()) if one.dashed], trim, 0.0)
    found = named or loose
    if found:
        told = [_fold(one.box_mm, trim) for one in found]
        names = ", ".join(dict.fromkeys(quoted(one.name) for one in found))
        words = say("the lines named {names}", names=names) if named else say("the dashed lines named {names}", names=names)
        yield Read("/folds", told, words)
        if _look_like_a_spine(found):
            gap = millimetres(found[1].box_mm.x0 - found[0].box_mm.x0)
            seen = say("two folds {gap} apart in the middle", gap=gap)
            questions.append(Asked("spine", say("Is this a cover with a spine? Then each order has its own width."), seen))
    unread = [one for one in outlines.lines.get("fold", ()) if not named]
    if unread:
        seen = say_many("{count} line named {name}", "{count} lines named {name}", len(unread), name=quoted(unread[0].name))
        questions.append(Asked("folds", say("The folds do not run across the page: where is it folded?"), seen))


def _fold(line: Box, trim: Box) -> dict[str, str]:
    if is_level(line):
        return {"at": neat(line.y0 - trim.y0), "axis": "horizontal"}
    return {"at": neat(line.x0 - trim.x0), "axis": "vertical"}


def _look_like_a_spine(found: list[Named]) -> bool:
    """Two upright folds near to each other on a page that is much wider."""
    if len(found) != 2 or any(is_level(one.box_mm) for one in found):
        return False
    return found[1].box_mm.x0 - found[0].box_mm.x0 < min(_WIDEST_SPINE_MM, found[0].box_mm.height / 3)
