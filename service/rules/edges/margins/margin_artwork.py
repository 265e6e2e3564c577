"""The rule on artwork that ends in the safety margin along the trim."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from service.language.spoken import say, say_many
from service.language.wording import asked_length, just_short, listed, on_pages, on_which, side_named
from service.pdf.facts.geometry import SLACK_MM
from service.pdf.facts.page import Page
from service.pdf.facts.painted.content import Content
from service.pdf.facts.unknown import Unmeasured
from service.rules.base import LEFT_OUT, Finding, Outcome, Place, rule
from service.rules.edges.bleed import sides_told_to_lack_bleed
from service.rules.edges.by_edge import DepthsAsked, depths_asked
from service.rules.edges.margins.margin import margin_asked, stands_in
from service.rules.edges.short_artwork import SIDES, Piece, depth_inside, loose_ends
from service.rules.seen import PagesWithContent, contents_of, not_measured_on
from service.sheets.model import Block, SpecSheet

ENDS_AT_THE_TRIM_MM = 0.3
"""Artwork that ends so near the trim was meant to end there, and lacks its bleed. Common practice, no source."""

_End = tuple[Piece, str, float, float]
"""A piece, the side that it is too near to, how near, and how near it may be, mm."""


@dataclass(frozen=True, kw_only=True)
class ArtworkAsked(Block):
    margin: DepthsAsked
    bleed: DepthsAsked | None
    """The bleed that bleed.declared asks for; None where it is silent."""
    may_bleed: bool
    """False where the sheet asks for no bleed: nobody is sent to the edge of a finished envelope."""


def _artwork_asked(sheet: SpecSheet) -> ArtworkAsked | None:
    margin = margin_asked(sheet)
    if margin is None:
        return None
    bleed = depths_asked(sheet, sheet.bleed) if sheet.levels.get("bleed.declared") != "off" else None
    return ArtworkAsked(
        margin=margin, bleed=bleed, may_bleed=sheet.bleed is not None and sheet.bleed.advised_mm > 0,
        level=margin.level, note=margin.note,
    )


@rule(
    "margin.artwork",
    needs=contents_of,
    asks=_artwork_asked,
    asked_by="margin.minimum, margin.preferred; margin.binding, outer, head and foot for one edge; margin.by_pages; "
    "margin.live_area",
    level="must",
    source="common practice, no source; the safety margin is the printer's",
    measured={"distance_mm": "least distance from a trim edge", "sides": "the sides where it is too small",
              "pictures": "how many pictures", "shapes": "how many lines and areas", **LEFT_OUT},
    required={"minimum_mm": "least distance of artwork that does not bleed", "preferred_mm": "distance that the printer prefers"},
)
def margin_artwork(pages: PagesWithContent, wanted: ArtworkAsked) -> Iterator[Outcome]:
    """Pictures and shapes either bleed or keep out of the safety margin.

    Why: what ends just inside the trim shows an uneven sliver of paper beside it, or is cut off, when the cut wanders.
    Remedy: let the artwork run on into the bleed, or move its edge inwards.
    Knows: the bounds of pictures, lines and areas, side by side: what reaches the trim on a side bleeds there. Slices that
    go on into one another count as one, and so do the pieces of a pattern of which several run off the edge. Of a picture only
    what leaves ink counts, as the plates show: its white or clear rim may lie anywhere.
    Where bleed.declared says that the page has no bleed, artwork that ends at the trim, or a hair inside, is told there.
    Cannot know: a clear rim that lies on other ink, or a frame that is meant to stand at the edge.
    """
    asked = wanted.margin.of_so_many([page for page, _ in pages])
    doubles = asked.doubles([page for page, _ in pages])
    in_spreads = wanted.bleed.doubles([page for page, _ in pages]) if wanted.bleed else frozenset()
    broken: dict[int, list[_End]] = {}
    missed: dict[int, list[_End]] = {}
    for page, content in pages:
        if isinstance(content.artwork, Unmeasured):
            yield not_measured_on((page.number,), content.artwork)
        lacking = sides_told_to_lack_bleed(page, wanted.bleed, in_spreads)
        least = {side: asked.on(side, page, doubles) for side in SIDES}
        if ends := list(_not_told_elsewhere(_inked_ends(page, content, least), lacking)):
            broken[page.number] = ends
        if asked.preferred_mm is not None:
            preferred = {side: asked.preferred_on(side, page, doubles) for side in SIDES}
            too_near = {piece for piece, *_ in ends}
            others = _not_told_elsewhere(_inked_ends(page, content, preferred), lacking)
            if left := [one for one in others if one[0] not in too_near]:
                missed[page.number] = left
    if broken:
        yield _artwork_at_the_edge(broken, preferred=False, may_bleed=wanted.may_bleed)
    if missed:
        yield _artwork_at_the_edge(missed, preferred=True, may_bleed=wanted.may_bleed)


def _not_told_elsewhere(ends: Iterable[_End], lacking: frozenset[str]) -> Iterator[_End]:
    """Without what ends at the trim on a side of which bleed.declared tells already."""
    return (one for one in ends if one[2] > ENDS_AT_THE_TRIM_MM or one[1] not in lacking)


def _inked_ends(page: Page, content: Content, asked_mm: Mapping[str, float]) -> Iterator[_End]:
    """Loose ends by bounds, of which those of pictures are moved to where their ink ends, or left out."""
    trim = page.boxes_mm.trim
    inked = () if isinstance(page.plates, Unmeasured) else page.plates.picture_ink_mm
    ink_of_frame = dict(zip((one.visible_box_mm for one in content.images), inked, strict=False))
    for piece, side, distance in loose_ends(pieces_of(page, content), trim, asked_mm):
        ink = ink_of_frame.get(piece.box_mm, piece.box_mm) if piece.kind == "image" else piece.box_mm
        if ink is not None:
            to_ink = max(distance, depth_inside(ink, trim, side))
            if to_ink < asked_mm[side] - SLACK_MM:
                yield piece._replace(box_mm=ink), side, to_ink, asked_mm[side]


def pieces_of(page: Page, content: Content) -> list[Piece]:
    """Pictures, lines and areas that stand on the trimmed page, by their visible part. A cut or fold line prints nothing."""
    finishing = set() if isinstance(page.plates, Unmeasured) else set(page.plates.left_out)
    artwork = () if isinstance(content.artwork, Unmeasured) else content.artwork
    pieces = [Piece("image", (), one.visible_box_mm) for one in content.images]
    pieces += [Piece(one.kind, one.inks, one.box_mm) for one in artwork if not one.inks or set(one.inks) - finishing]
    return [one for one in pieces if stands_in(one.box_mm, page.boxes_mm.trim)]


def _artwork_at_the_edge(found: dict[int, list[_End]], *, preferred: bool, may_bleed: bool) -> Finding:
    page, (_, side, distance, asked_mm) = min(
        ((number, end) for number, ends in found.items() for end in ends), key=lambda item: item[1][2] - item[1][3]
    )
    pieces = {number: list(dict.fromkeys(piece for piece, *_ in ends)) for number, ends in found.items()}
    pictures = sum(piece.kind == "image" for ones in pieces.values() for piece in ones)
    shapes = sum(len(ones) for ones in pieces.values()) - pictures
    pages = tuple(sorted(found))
    short = just_short(distance, asked_mm)
    nearest = say("{distance} from the {side} edge at the nearest", distance=short, side=side_named(side))
    count, words = pictures + shapes, {
        "artwork": _artwork_counted(pictures, shapes), "on_pages": on_pages(pages),
        "nearest": on_which(nearest, page, pages), "asked": asked_length(asked_mm),
    }
    return Finding(
        message=_bleeding_told(count, words, preferred) if may_bleed else _near_told(count, words, preferred),
        remedy=_remedy(count, asked_length(asked_mm), may_bleed=may_bleed),
        measured={
            "distance_mm": round(distance, 2),
            "sides": [one for one in SIDES if any(side == one for ends in found.values() for _, side, *_ in ends)],
            "pictures": pictures,
            "shapes": shapes,
        },
        required={"preferred_mm" if preferred else "minimum_mm": asked_mm},
        pages=pages,
        places=tuple(Place(number, piece.box_mm) for number, ones in pieces.items() for piece in ones),
        preferred=preferred,
    )


def _bleeding_told(count: int, words: Mapping[str, str], preferred: bool) -> str:
    if preferred:
        return say_many(
            "{artwork} {on_pages} ends just inside the trim without bleeding, {nearest}; the printer would rather have {asked}.",
            "{artwork} {on_pages} end just inside the trim without bleeding, {nearest}; the printer would rather have {asked}.",
            count, **words,
        )
    return say_many(
        "{artwork} {on_pages} ends just inside the trim without bleeding, {nearest}; the printer asks for {asked}.",
        "{artwork} {on_pages} end just inside the trim without bleeding, {nearest}; the printer asks for {asked}.",
        count, **words,
    )


def _near_told(count: int, words: Mapping[str, str], preferred: bool) -> str:
    """Of a product that has no bleed, such as a finished envelope."""
    if preferred:
        return say_many(
            "{artwork} {on_pages} stands near the edge of the product, {nearest}; the printer would rather have {asked}.",
            "{artwork} {on_pages} stand near the edge of the product, {nearest}; the printer would rather have {asked}.",
            count, **words,
        )
    return say_many(
        "{artwork} {on_pages} stands too near the edge of the product, {nearest}; the printer asks for {asked}.",
        "{artwork} {on_pages} stand too near the edge of the product, {nearest}; the printer asks for {asked}.",
        count, **words,
    )


def _remedy(count: int, asked: str, *, may_bleed: bool) -> str:
    if may_bleed:
        return say_many(
            "Let it run past the trim to the bleed edge, or end it at least {asked} inside the trim.",
            "Let them run past the trim to the bleed edge, or end them at least {asked} inside the trim.",
            count, asked=asked,
        )
    return say_many(
        "End it at least {asked} inside the edge: the spec sheet asks for no bleed. If it is to run off the edge, ask the "
        "printer.",
        "End them at least {asked} inside the edge: the spec sheet asks for no bleed. If they are to run off the edge, ask the "
        "printer.",
        count, asked=asked,
    )


def _artwork_counted(pictures: int, shapes: int) -> str:
    told = [say_many("{count} picture", "{count} pictures", pictures)] if pictures else []
    told += [say_many("{count} line or area", "{count} lines or areas", shapes)] if shapes else []
    return listed(told)
