"""Bleed and safety margin of an empty document: one depth on every side, or a question."""

from __future__ import annotations

from collections.abc import Iterator

from service.language.spoken import say
from service.language.wording import labelled, set_apart
from service.pdf.facts.geometry import SLACK_MM, Box
from service.pdf.facts.guides import GuidedPage
from service.sheets.templates.outlines import SAME_MM, Named, Outlines
from service.sheets.templates.told import DEEPEST_MM, Asked, Read, all_round, depths_of, neat, rectangle_said, sides_said


def bleed(page: GuidedPage, trim: Box, outlines: Outlines, questions: list[Asked]) -> Iterator[Read]:
    found = [Named(page.bleed_mm, say("the BleedBox of page {page}", page=page.number))] if page.bleed_mm else []
    found += [Named(one.box_mm, rectangle_said(one)) for one in outlines.rectangles.get("bleed", ())]
    found = [one for one in found if min(depths_of(one.box_mm, trim)) >= -SLACK_MM]
    depths = [(one, depths_of(one.box_mm, trim)) for one in found]
    beyond = [(one, depth) for one, sides in depths if max(sides) > SLACK_MM and (depth := all_round(sides)) is not None]
    if beyond and all(abs(depth - beyond[0][1]) <= SAME_MM for _, depth in beyond) and beyond[0][1] <= DEEPEST_MM:
        yield Read("/bleed/minimum", neat(beyond[0][1]), beyond[0][0].name)
    elif any(max(sides) > SLACK_MM for _, sides in depths):
        seen = set_apart(labelled(one.name, sides_said(sides)) for one, sides in depths)
        questions.append(Asked("bleed", say("The bleed is not the same everywhere: how much do you ask on each side?"), seen))
    elif not found and max(sides := depths_of(page.media_mm, trim)) > SLACK_MM:
        seen = say("the page beyond the trim: {sides}", sides=sides_said(sides))
        questions.append(Asked("bleed", say("Nothing says how much of this is bleed: how much do you ask?"), seen))
    else:
        seen = say("the page ends at the trim")
        questions.append(Asked("bleed", say("The template has no room for bleed: do you ask none?"), seen))


def margin(trim: Box, outlines: Outlines, questions: list[Asked]) -> Iterator[Read]:
    named = outlines.rectangles.get("margin", ())
    candidates = named or tuple(one for one in outlines.rectangles.get("guides", ()) if one.dashed)
    inside = [(one, all_round(depths_of(trim, one.box_mm))) for one in candidates]
    even = [(one, depth) for one, depth in inside if depth is not None and SLACK_MM < depth <= DEEPEST_MM]
    if len(even) == 1:
        one, depth = even[0]
        yield Read("/margin/minimum", neat(depth), rectangle_said(one))
    elif named or even:
        seen = set_apart(labelled(rectangle_said(one), sides_said(depths_of(trim, one.box_mm))) for one in candidates)
        questions.append(Asked("margin", say("The safety margin is not one all round: how much do you ask?"), seen))
