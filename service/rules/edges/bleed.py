"""The rule on the depth of the bleed."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from service.language.spoken import say, say_many
from service.language.wording import asked_length, just_short, listed, millimetres, page_list, side_named, sides_named
from service.pdf.facts.geometry import SLACK_MM, Box
from service.pdf.facts.page import Page
from service.pdf.facts.unknown import Unmeasured
from service.rules.base import LEFT_OUT, Finding, Outcome, Place, rule
from service.rules.edges.by_edge import DepthsAsked, depths_asked
from service.rules.edges.short_artwork import SIDES
from service.rules.edges.shown_trim import bleed_in_the_trim
from service.rules.seen import Pages, not_measured_on, pages_of
from service.sheets.model import TrimAsked

Short = tuple[tuple[str, float], ...]
"""Sides whose bleed is too shallow, with their depths in mm."""


@rule(
    "bleed.declared",
    needs=pages_of,
    asks=lambda sheet: depths_asked(sheet, sheet.bleed, sheet.bleed.preferred_mm if sheet.bleed else None),
    asked_by="bleed.minimum, bleed.preferred; bleed.binding, outer, head and foot for one edge",
    level="must",
    source="ISO 32000-2:2020, 14.11.2 (BleedBox); the depth is the printer's",
    measured={"top_mm": "bleed beyond the top trim edge, where it is too shallow", "right_mm": "likewise at the right",
              "bottom_mm": "likewise at the bottom", "left_mm": "likewise at the left", **LEFT_OUT},
    required={"minimum_mm": "least bleed on every side", "preferred_mm": "bleed that the printer prefers",
              "top_mm": "least bleed at the top, where the sheet asks by edge",
              "right_mm": "likewise at the right", "bottom_mm": "likewise at the bottom", "left_mm": "likewise at the left"},
)
def bleed_declared(pages: Pages, asked: DepthsAsked) -> Iterator[Outcome]:
    """The page goes on beyond the trim far enough on every side.

    Why: sheets shift by a millimetre or so under the knife; without bleed a white sliver shows at the edge.
    Remedy: extend the background beyond the page edge in the layout, and export with the document's bleed switched on.
    Knows: the BleedBox, or without one what the sheet has beyond the trim, side by side; and from the ink plates whether ink
    stands at the trim edge there. Where crop marks or a cut line show that the trim holds some of the bleed, it counts. A page
    whose paper stays white along every shallow side loses nothing, and nothing is said. Less than the bleed that the sheet
    prefers is an observation.
    Cannot know: whether ink really fills the bleed (that is bleed.reach), or that no bleed is needed at the spine side of a
    facing page, unless the sheet says so.
    """
    groups: dict[Short, list[Page]] = {}
    wishes: dict[float, list[tuple[Page, Short]]] = {}
    doubles = asked.doubles(pages)
    for page in pages:
        depths = _depths(page, asked.size)
        short, shorter_than_wished = (
            tuple((side, round(depth, 1)) for side, depth in depths.items() if depth < wanted(side, page, doubles) - SLACK_MM)
            for wanted in (asked.on, asked.preferred_on)
        )
        if not short and _ink_stands_at(page, shorter_than_wished):
            wishes.setdefault(min(depth for _, depth in shorter_than_wished), []).append((page, shorter_than_wished))
        if short and (unseen := _unseen(page, short)):
            yield not_measured_on((page.number,), unseen)
        elif _ink_stands_at(page, short):
            groups.setdefault(short, []).append(page)
    for least, items in wishes.items():
        yield _less_than_wished(least, items, asked)
    if asked.by_edge:
        yield from _by_edge(groups, asked, doubles)
        return
    yield from _at_the_spine(groups, asked)
    for short, members in groups.items():
        yield _too_shallow(dict(short), members, asked, _advised_mm(asked))


def _advised_mm(asked: DepthsAsked) -> float:
    """Whoever sets a new bleed sets the better one; less that is taken is no advice."""
    return max(asked.preferred_mm or 0.0, asked.edges.minimum_mm)


def _less_than_wished(least_mm: float, items: list[tuple[Page, Short]], asked: DepthsAsked) -> Finding:
    wished_mm = _advised_mm(asked)
    numbers, wished = tuple(page.number for page, _ in items), asked_length(wished_mm)
    return Finding(
        message=say_many(
            "Page {pages} has {depth} of bleed; the printer would rather have {wished}.",
            "Pages {pages} have {depth} of bleed; the printer would rather have {wished}.",
            len(numbers), pages=page_list(numbers), depth=just_short(least_mm, wished_mm), wished=wished,
        ),
        remedy=say(
            "Set the document's bleed to {wished}, extend background and pictures to its edge, and export again.", wished=wished
        ),
        measured={f"{side}_mm": depth for side, depth in items[0][1]},
        required={"preferred_mm": wished_mm},
        pages=numbers,
        places=tuple(
            Place(page.number, _strip(page.boxes_mm.trim, side, wished_mm)) for page, short in items for side, _ in short
        ),
        preferred=True,
    )


def _by_edge(groups: dict[Short, list[Page]], asked: DepthsAsked, doubles: frozenset[int]) -> Iterator[Finding]:
    """What each side asks for, told side by side; pages that have the same bleed all round are told together, for left and
    right change places from page to page.
    """
    alike: dict[tuple[Short, Short], list[tuple[Page, Short]]] = {}
    for short, members in groups.items():
        for page in members:
            wanted = tuple((side, asked.preferred_on(side, page, doubles)) for side, _ in short)
            cut = [side for side, _ in page.bleed_mm.items() if asked.on(side, page, doubles) > SLACK_MM]
            depths = {round(depth, 1) for depth in _depths(page, asked.size).values()}
            whole = len(short) == len(cut) and len({depth for _, depth in wanted}) == len(depths) == 1
            key = (("", short[0][1]),), (("", wanted[0][1]),)
            alike.setdefault(key if whole else (short, wanted), []).append((page, short))
    for (depths_found, wanted), items in alike.items():
        items = sorted(items, key=lambda item: item[0].number)
        page, sides = items[0]
        least = {f"{side}_mm": asked.on(side, page, doubles) for side, _ in sides}
        yield replace(_too_shallow_by_edge(depths_found, wanted, items, asked), required=least)


def _too_shallow_by_edge(short: Short, wanted: Short, items: list[tuple[Page, Short]], asked: DepthsAsked) -> Finding:
    whole = not short[0][0]
    first, sides = items[0]
    wished = asked_length(wanted[0][1]) if whole else sides_with_depths(dict(wanted))
    told = dict.fromkeys(SIDES, short[0][1]) if whole else dict(short)
    depths = dict.fromkeys((side for side, _ in sides), wanted[0][1]) if whole else dict(wanted)
    return replace(
        _too_shallow(dict(sides), [first], asked, max(depths.values())),
        message=say(
            "{told}; the printer asks for {asked}.",
            told=_told_too_shallow(told, tuple(page.number for page, _ in items)),
            asked=wished,
        ),
        pages=tuple(page.number for page, _ in items),
        places=tuple(
            Place(page.number, _strip(page.boxes_mm.trim, side, wanted[0][1] if whole else depths[side]))
            for page, ones in items
            for side, _ in ones
        ),
    )


def _depths(page: Page, size: TrimAsked | None) -> dict[str, float]:
    """On each side what lies beyond the trim, and what of the bleed lies within it."""
    within = dict(bleed_in_the_trim(page, size).items())
    return {side: depth + within[side] for side, depth in page.bleed_mm.items()}


def _unseen(page: Page, short: Short) -> Unmeasured | None:
    """Why nobody knows whether ink stands at these edges: no plates, and objects that may touch them. Boxes only suspect."""
    if not isinstance(page.bleed_reach_mm, Unmeasured):
        return None
    if isinstance(page.content, Unmeasured):
        return page.content
    touched = {side for side, meets in page.content.meets_trim.items() if meets}
    return page.bleed_reach_mm if touched & {side for side, _ in short} else None


def sides_told_to_lack_bleed(page: Page, asked: DepthsAsked | None, doubles: frozenset[int]) -> frozenset[str]:
    """Sides of which this rule says that their bleed is too shallow."""
    if asked is None:
        return frozenset()
    short = tuple((side, depth) for side, depth in page.bleed_mm.items() if depth < asked.on(side, page, doubles) - SLACK_MM)
    return frozenset(side for side, _ in short) if _ink_stands_at(page, short) else frozenset()


def _ink_stands_at(page: Page, short: Short) -> bool:
    if isinstance(page.bleed_reach_mm, Unmeasured):
        return False
    inked = {side for side, reach in page.bleed_reach_mm.items() if reach is not None}
    return bool(inked & {side for side, _ in short})


def _at_the_spine(groups: dict[Short, list[Page]], asked: DepthsAsked) -> Iterator[Finding]:
    """Facing pages whose inner edges alone are short, left on odd pages and right on even ones: taken out, as one finding."""
    for short in list(groups):
        other = tuple(("right", depth) for _, depth in short)
        if [side for side, _ in short] != ["left"] or other not in groups:
            continue
        odd, even = groups[short], groups[other]
        if all(page.number % 2 for page in odd) and not any(page.number % 2 for page in even):
            del groups[short], groups[other]
            yield _inner_edges(short[0][1], odd, even, asked)


def _inner_edges(depth_mm: float, odd: list[Page], even: list[Page], depths: DepthsAsked) -> Finding:
    advised_mm = _advised_mm(depths)
    pages = sorted([*odd, *even], key=lambda page: page.number)
    numbers = tuple(page.number for page in pages)
    listed_pages, asked = page_list(numbers), asked_length(advised_mm)
    if depth_mm <= SLACK_MM:
        message = say(
            "Pages {pages} have no bleed at the inner edge, where they are bound (left on odd pages, right on even ones); the "
            "printer asks for {asked} on every side.",
            pages=listed_pages, asked=asked,
        )
    else:
        message = say(
            "Pages {pages} have only {depth} of bleed at the inner edge, where they are bound (left on odd pages, right on even "
            "ones); the printer asks for {asked} on every side.",
            pages=listed_pages, depth=millimetres(depth_mm), asked=asked,
        )
    return Finding(
        message=message,
        remedy=say(
            "Set the inside bleed to {asked} too and export again; or ask the printer whether he needs bleed at the spine of "
            "this product.",
            asked=asked,
        ),
        measured={"left_mm": round(odd[0].bleed_mm.left, 2), "right_mm": round(even[0].bleed_mm.right, 2)},
        required={"minimum_mm": depths.edges.minimum_mm},
        pages=numbers,
        places=tuple(
            Place(page.number, _strip(page.boxes_mm.trim, "left" if page.number % 2 else "right", advised_mm)) for page in pages
        ),
    )


def _too_shallow(short: dict[str, float], pages: list[Page], depths: DepthsAsked, advised_mm: float) -> Finding:
    numbers, asked = tuple(page.number for page in pages), asked_length(advised_mm)
    return Finding(
        message=say("{told}; the printer asks for {asked} on every side.", told=_told_too_shallow(short, numbers), asked=asked),
        remedy=say(
            "Set the document's bleed to {asked}, extend background and pictures to its edge, and export with the bleed "
            "switched on.",
            asked=asked,
        ),
        measured={f"{side}_mm": round(depth, 2) for side, depth in _depths(pages[0], depths.size).items() if side in short},
        required={"minimum_mm": depths.edges.minimum_mm},
        pages=numbers,
        places=tuple(Place(page.number, _strip(page.boxes_mm.trim, side, advised_mm)) for page in pages for side in short),
    )


def _told_too_shallow(short: dict[str, float], numbers: tuple[int, ...]) -> str:
    """What was found, a clause without its full stop."""
    count, pages, depths = len(numbers), page_list(numbers), set(short.values())
    alike = len(short) == 4 and len(depths) == 1
    if alike and max(depths) <= SLACK_MM:
        return say_many("Page {pages} has no bleed", "Pages {pages} have no bleed", count, pages=pages)
    if alike:
        return say_many(
            "Page {pages} has only {depth} of bleed on every side",
            "Pages {pages} have only {depth} of bleed on every side",
            count, pages=pages, depth=millimetres(depths.pop()),
        )
    if max(depths) <= SLACK_MM:
        return say_many(
            "Page {pages} has no bleed at the {sides}",
            "Pages {pages} have no bleed at the {sides}",
            count, pages=pages, sides=sides_named(short),
        )
    return say_many(
        "Page {pages} has too little bleed ({sides})",
        "Pages {pages} have too little bleed ({sides})",
        count, pages=pages, sides=sides_with_depths(short),
    )


def sides_with_depths(depths: dict[str, float]) -> str:
    """'left 2 mm and top 1 mm'."""
    return listed(f"{side_named(side)} {millimetres(depth)}" for side, depth in depths.items())


def _strip(trim: Box, side: str, depth_mm: float) -> Box:
    """The bleed that should be there on one side, corners included."""
    outer = trim.grown(depth_mm)
    return {
        "top": outer._replace(y1=trim.y0),
        "right": outer._replace(x0=trim.x1),
        "bottom": outer._replace(y0=trim.y1),
        "left": outer._replace(x1=trim.x0),
    }[side]
