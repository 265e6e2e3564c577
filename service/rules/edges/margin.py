"""Rules on the quiet zone: text and artwork too near the trim."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from service.language.spoken import say, say_many
from service.language.wording import asked_length, just_short, listed, millimetres, on_pages, on_which, quoted, side_named
from service.pdf.facts.geometry import SLACK_MM, Box
from service.pdf.facts.page import Page
from service.pdf.facts.painted.content import Content
from service.pdf.facts.painted.text import TextRun
from service.pdf.facts.unknown import Unmeasured
from service.rules.base import LEFT_OUT, Finding, Outcome, Place, rule
from service.rules.edges.bleed import sides_told_to_lack_bleed
from service.rules.edges.short_artwork import SIDES, Piece, depth_inside, loose_ends
from service.rules.seen import PagesWithContent, contents_of, not_measured_on
from service.sheets.model import Block, MarginAsked, SpecSheet

MOST_TEXTS = 20
"""How many different texts one finding quotes."""


@rule(
    "margin.text",
    needs=contents_of,
    asks=lambda sheet: sheet.margin,
    asked_by="margin.minimum",
    level="must",
    source="common practice, no source; the quiet zone is the printer's",
    measured={"distance_mm": "least distance from a trim edge, negative where the cut goes through", "side": "of that edge",
              "texts": "the texts, the first ones", "runs": "how many pieces of text", **LEFT_OUT},
    required={"minimum_mm": "least distance of text from every trim edge"},
)
def margin_text(pages: PagesWithContent, margin: MarginAsked) -> Iterator[Outcome]:
    """Text keeps out of the safety margin along the trim.

    Why: the cut wanders by a millimetre or so; text at the edge looks off centre, or loses letters.
    Remedy: move the text inwards, or make the text frame smaller.
    Knows: the outlines of the glyphs of every visible text, which may end well inside its type box, or swing out of it. Blanks
    do not count. Text wholly outside the trim is slug and is left out.
    Cannot know: text turned to outlines or pictures (margin.artwork may see it), or large letters that are cut on purpose.
    """
    groups: dict[bool, list[tuple[int, TextRun, str, float]]] = {}
    for page, content in pages:
        trim, unknown = page.boxes_mm.trim, None
        for run in seen_text(page, content):
            distance, side = min((depth_inside(ink_of(run), trim, side), side) for side in SIDES)
            if distance >= margin.minimum_mm - SLACK_MM:
                continue
            if isinstance(run.ink_mm, Unmeasured):
                unknown = run.ink_mm
            else:
                groups.setdefault(distance < -SLACK_MM, []).append((page.number, run, side, distance))
        if unknown:
            yield not_measured_on((page.number,), unknown)
    for cut, items in sorted(groups.items(), reverse=True):
        yield _text_at_the_edge(cut, items, margin.minimum_mm)


def seen_text(page: Page, content: Content) -> Iterator[TextRun]:
    """Text on the trimmed page that a reader of the print sees."""
    for run in content.text_runs:
        inked = run.ink_mm is not None and bool(run.text.strip()) and (run.on_ink or not run.white)
        if run.visible and inked and stands_in(ink_of(run), page.boxes_mm.trim):
            yield run


def ink_of(run: TextRun) -> Box:
    """Where its ink ends; where that is not known its type box, which may raise a suspicion and must not accuse."""
    return run.ink_mm if isinstance(run.ink_mm, Box) else run.box_mm


def stands_in(box: Box, area: Box) -> bool:
    """Whether it reaches into the area by more than the slack; a hairline has no width and counts too."""
    inner = area.grown(-SLACK_MM)
    return box.x0 < inner.x1 and inner.x0 < box.x1 and box.y0 < inner.y1 and inner.y0 < box.y1


def _text_at_the_edge(cut: bool, items: list[tuple[int, TextRun, str, float]], minimum_mm: float) -> Finding:
    pages = tuple(sorted({page for page, _, _, _ in items}))
    page, worst, side, distance = min(items, key=lambda item: item[3])
    words, asked = on_which(quoted(worst.text), page, pages), asked_length(minimum_mm)
    found = millimetres(-distance) if cut else just_short(max(distance, 0), minimum_mm)
    return Finding(
        message=_text_told(cut, pages, words, side, found, asked),
        remedy=say("Move the text inwards until {asked} stay free, or set it smaller.", asked=asked),
        measured={
            "distance_mm": round(distance, 2),
            "side": side,
            "runs": len(items),
            "texts": texts(run for _, run, _, _ in items),
        },
        required={"minimum_mm": minimum_mm},
        pages=pages,
        places=tuple(Place(page, ink_of(run)) for page, run, _, _ in items),
    )


def _text_told(cut: bool, pages: tuple[int, ...], words: str, side: str, distance: str, asked: str) -> str:
    if cut:
        return say(
            "The cut goes through text {on_pages}: {words} runs {distance} beyond the {side} trim edge; the printer asks for "
            "{asked} between text and every trim edge.",
            on_pages=on_pages(pages),
            words=words,
            distance=distance,
            side=side_named(side),
            asked=asked,
        )
    return say(
        "Text {on_pages} stands too near the trim: {words} is {distance} from the {side} edge; the printer asks for {asked} "
        "between text and every trim edge.",
        on_pages=on_pages(pages),
        words=words,
        distance=distance,
        side=side_named(side),
        asked=asked,
    )


def texts(runs: Iterator[TextRun]) -> list[str]:
    """What the runs say, each once, the first ones."""
    return list(dict.fromkeys(" ".join(run.text.split())[:200] for run in runs))[:MOST_TEXTS]


# --- Artwork ----------------------------------------------------------------------------------------------------------


ENDS_AT_THE_TRIM_MM = 0.3
"""Artwork that ends so near the trim was meant to end there, and lacks its bleed. Common practice, no source."""


@dataclass(frozen=True, kw_only=True)
class ArtworkAsked(Block):
    minimum_mm: float
    bleed_mm: float | None
    """The bleed that bleed.declared asks for; None where it is silent."""


def _artwork_asked(sheet: SpecSheet) -> ArtworkAsked | None:
    margin, bleed = sheet.margin, sheet.bleed
    if margin is None:
        return None
    depth = bleed.minimum_mm if bleed and sheet.levels.get("bleed.declared") != "off" else None
    return ArtworkAsked(minimum_mm=margin.minimum_mm, bleed_mm=depth, level=margin.level, note=margin.note)


@rule(
    "margin.artwork",
    needs=contents_of,
    asks=_artwork_asked,
    asked_by="margin.minimum",
    level="must",
    source="common practice, no source; the quiet zone is the printer's",
    measured={"distance_mm": "least distance from a trim edge", "sides": "the sides where it is too small",
              "pictures": "how many pictures", "shapes": "how many lines and areas", **LEFT_OUT},
    required={"minimum_mm": "least distance of artwork that does not bleed"},
)
def margin_artwork(pages: PagesWithContent, margin: ArtworkAsked) -> Iterator[Outcome]:
    """Pictures and shapes either bleed or keep out of the safety margin.

    Why: what ends just inside the trim shows an uneven sliver of paper beside it, or is cut off, when the cut wanders.
    Remedy: let the artwork run on into the bleed, or move its edge inwards.
    Knows: the bounds of pictures, lines and areas, side by side: what reaches the trim on a side bleeds there. Slices that
    go on into one another count as one, and so do the pieces of a pattern of which several run off the edge. Of a picture only
    what leaves ink counts, as the plates show: its white or clear rim may lie anywhere.
    Where bleed.declared says that the page has no bleed, artwork that ends at the trim, or a hair inside, is told there.
    Cannot know: a clear rim that lies on other ink, or a frame that is meant to stand at the edge.
    """
    found: dict[int, list[tuple[Piece, str, float]]] = {}
    for page, content in pages:
        if isinstance(content.artwork, Unmeasured):
            yield not_measured_on((page.number,), content.artwork)
        lacking = sides_told_to_lack_bleed(page, margin.bleed_mm)
        ends = [
            (piece, side, distance)
            for piece, side, distance in _inked_ends(page, content, margin.minimum_mm)
            if distance > ENDS_AT_THE_TRIM_MM or side not in lacking
        ]
        if ends:
            found[page.number] = ends
    if found:
        yield _artwork_at_the_edge(found, margin.minimum_mm)


def _inked_ends(page: Page, content: Content, minimum_mm: float) -> Iterator[tuple[Piece, str, float]]:
    """Loose ends by bounds, of which those of pictures are moved to where their ink ends, or left out."""
    trim = page.boxes_mm.trim
    inked = () if isinstance(page.plates, Unmeasured) else page.plates.picture_ink_mm
    ink_of_frame = dict(zip((one.visible_box_mm for one in content.images), inked, strict=False))
    for piece, side, distance in loose_ends(pieces_of(page, content), trim, minimum_mm):
        ink = ink_of_frame.get(piece.box_mm, piece.box_mm) if piece.kind == "image" else piece.box_mm
        if ink is not None:
            to_ink = max(distance, depth_inside(ink, trim, side))
            if to_ink < minimum_mm - SLACK_MM:
                yield piece._replace(box_mm=ink), side, to_ink


def pieces_of(page: Page, content: Content) -> list[Piece]:
    """Pictures, lines and areas that stand on the trimmed page, by their visible part. A cut or fold line prints nothing."""
    finishing = set() if isinstance(page.plates, Unmeasured) else set(page.plates.left_out)
    artwork = () if isinstance(content.artwork, Unmeasured) else content.artwork
    pieces = [Piece("image", (), one.visible_box_mm) for one in content.images]
    pieces += [Piece(one.kind, one.inks, one.box_mm) for one in artwork if not one.inks or set(one.inks) - finishing]
    return [one for one in pieces if stands_in(one.box_mm, page.boxes_mm.trim)]


def _artwork_at_the_edge(found: dict[int, list[tuple[Piece, str, float]]], minimum_mm: float) -> Finding:
    page, (_, side, distance) = min(
        ((number, end) for number, ends in found.items() for end in ends), key=lambda item: item[1][2]
    )
    pieces = {number: list(dict.fromkeys(piece for piece, _, _ in ends)) for number, ends in found.items()}
    pictures = sum(piece.kind == "image" for ones in pieces.values() for piece in ones)
    shapes = sum(len(ones) for ones in pieces.values()) - pictures
    pages = tuple(sorted(found))
    short = just_short(distance, minimum_mm)
    nearest = say("{distance} from the {side} edge at the nearest", distance=short, side=side_named(side))
    return Finding(
        message=say_many(
            "{artwork} {on_pages} ends just inside the trim without bleeding, {nearest}; the printer asks for {asked}.",
            "{artwork} {on_pages} end just inside the trim without bleeding, {nearest}; the printer asks for {asked}.",
            pictures + shapes,
            artwork=_artwork_counted(pictures, shapes),
            on_pages=on_pages(pages),
            nearest=on_which(nearest, page, pages),
            asked=asked_length(minimum_mm),
        ),
        remedy=say_many(
            "Let it run past the trim to the bleed edge, or end it at least {asked} inside the trim.",
            "Let them run past the trim to the bleed edge, or end them at least {asked} inside the trim.",
            pictures + shapes,
            asked=asked_length(minimum_mm),
        ),
        measured={
            "distance_mm": round(distance, 2),
            "sides": [one for one in SIDES if any(side == one for ends in found.values() for _, side, _ in ends)],
            "pictures": pictures,
            "shapes": shapes,
        },
        required={"minimum_mm": minimum_mm},
        pages=pages,
        places=tuple(Place(number, piece.box_mm) for number, ones in pieces.items() for piece in ones),
    )


def _artwork_counted(pictures: int, shapes: int) -> str:
    told = [say_many("{count} picture", "{count} pictures", pictures)] if pictures else []
    told += [say_many("{count} line or area", "{count} lines or areas", shapes)] if shapes else []
    return listed(told)
