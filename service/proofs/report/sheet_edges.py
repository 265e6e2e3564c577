"""What a sheet asks of the trimmed page and its edges, in a few words."""

from __future__ import annotations

from service.language.spoken import say, say_many, to_say, translated
from service.language.wording import asked_length, asked_size, listed, listed_or, millimetres, quoted
from service.sheets.model import EdgesAsked, MarginAsked, OtherSize, Part, TrimAsked

_ORIENTATIONS = {"portrait": to_say("portrait"), "landscape": to_say("landscape")}


def trim_told(trim: TrimAsked) -> list[str]:
    size, tolerance = asked_size(trim.width_mm, trim.height_mm), millimetres(trim.tolerance_mm)
    both = say("{size}, give or take {tolerance}", size=size, tolerance=tolerance)
    others = [_other(one) for one in trim.alternatives]
    others += [_part(one) for one in trim.parts]
    scales = listed_or(f"1 : {one}" for one in trim.scales)
    drawn = [say("drawn at {scales}", scales=scales)] if trim.scales != (1,) else []
    if trim.corner_radius_mm:
        others.append(say("corners rounded with a radius of {radius}", radius=asked_length(trim.corner_radius_mm)))
    return [both, *others, *([say(_ORIENTATIONS[trim.orientation])] if trim.orientation in _ORIENTATIONS else []), *drawn]


def _other(one: OtherSize) -> str:
    size = asked_size(one.width_mm, one.height_mm)
    if not one.folds_mm:
        return say("or {size}", size=size)
    return say("or {size}, folded at {folds}", size=size, folds=listed(millimetres(fold) for fold in one.folds_mm))


def _part(one: Part) -> str:
    said, size = [], asked_size(one.width_mm, one.height_mm)
    if one.first is not None:
        said.append(say_many("the first page", "the first {count} pages", one.first, count=one.first))
    if one.last is not None:
        said.append(say_many("the last page", "the last {count} pages", one.last, count=one.last))
    return say("{size} for {pages} ({name})", size=size, pages=listed(said), name=quoted(translated(one.name)))


def by_edge(asked: EdgesAsked) -> list[str]:
    """Of the edges that have a depth of their own."""
    edges = (
        (asked.binding_mm, to_say("{depth} where it is bound")),
        (asked.outer_mm, to_say("{depth} at the outer edge")),
        (asked.head_mm, to_say("{depth} at the top")),
        (asked.foot_mm, to_say("{depth} at the foot")),
    )
    return [say(words, depth=millimetres(depth)) for depth, words in edges if depth is not None]


def margin_told(margin: MarginAsked) -> list[str]:
    depth = asked_length(margin.minimum_mm)
    said = [say("{depth} inside the trim", depth=depth)]
    if margin.live_area:
        live = asked_size(margin.live_area.width_mm, margin.live_area.height_mm)
        said = [say("text within {size} in the middle of the page", size=live)]
    if margin.preferred_mm:
        said.append(say("preferably {amount}", amount=asked_length(margin.preferred_mm)))
    if not margin.live_area:
        said += by_edge(margin)
    if margin.frames == "forbidden":
        said.append(say("no frame around the page"))
    if margin.frame_minimum_mm is not None:
        said.append(say("a frame around the page at least {depth} inside the trim", depth=asked_length(margin.frame_minimum_mm)))
    if margin.frame_width_mm is not None:
        said.append(say("a frame around the page at least {width} thick", width=asked_length(margin.frame_width_mm)))
    for step in margin.by_pages:
        depths = [asked_length(step.minimum_mm)] if step.minimum_mm is not None else []
        depths += by_edge(EdgesAsked(minimum_mm=0, binding_mm=step.binding_mm, outer_mm=step.outer_mm, head_mm=step.head_mm,
                                      foot_mm=step.foot_mm))
        said.append(say("from {count} pages on {depths}", count=step.from_pages, depths=listed(depths)))
    return said
