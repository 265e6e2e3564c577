"""Rules on plain colours that a press loses: too faint to be seen, too strong to stay a tint, and blacks of several inks."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from service.language.spoken import say, say_many
from service.language.wording import first_few, ink_named, listed, page_list, percent
from service.pdf.facts.ink_names import PROCESS_INKS
from service.pdf.facts.painted.colors import PlainColor, Tint
from service.rules.base import LEFT_OUT, Finding, Outcome, rule
from service.rules.seen import PagesWithContent, contents_of
from service.rules.sightings import Sightings, bleed_area, within
from service.sheets.model import Block, ColorAsked, RichBlack, SpecSheet

MOST_COLORS = 10
"""How many colours one finding lists."""

BLACK_FROM = 0.9
"""Black ink this strong with other inks is a black and no dark colour. Common practice, no source: conversions of RGB black
have 90 % of it."""

RECIPE_WITHIN = 0.1
"""How far each ink of a rich black may differ from the recipe that the printer gives. Ours, no source."""

_LIMIT_SLACK = 0.011
"""Tints are known to whole percents."""


class _Colors(Sightings):
    """Colours of one fault, with where they stand inside the bleed."""

    def __init__(self) -> None:
        super().__init__()
        self.tints: dict[tuple[Tint, ...], None] = {}

    @property
    def told(self) -> str:
        return first_few([written(one) for one in self.tints], 3)

    @property
    def listed(self) -> list[str]:
        return [plain(one) for one in self.tints][:MOST_COLORS]


def written(tints: Sequence[Tint]) -> str:
    """'Cyan 60 % and Black 100 %', as the reader writes percents."""
    return listed(f"{ink_named(one.ink)} {percent(one.strength * 100, 0)}" for one in tints)


def plain(tints: Sequence[Tint]) -> str:
    """The same for a program."""
    return ", ".join(f"{one.ink} {round(one.strength * 100)}" for one in tints)


def _gathered(pages: PagesWithContent, is_meant: Callable[[PlainColor], bool]) -> _Colors:
    found = _Colors()
    for page, content in pages:
        for color in content.plain_colors:
            places = within(bleed_area(page), color.boxes_mm)
            if is_meant(color) and (places or color.count > len(color.boxes_mm)):
                found.add(page, places, color.count)
                found.tints[color.tints] = None
    return found


_COLORS = {"colors": "the colours, percent of each ink, the first ones", "objects": "how many objects", **LEFT_OUT}


# --- Too faint --------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, kw_only=True)
class FaintAsked(Block):
    tint: float | None
    total: float | None


def _faint_asked(sheet: SpecSheet) -> FaintAsked | None:
    color = sheet.color
    least = color.tint.minimum_percent if color and color.tint else None
    total = color.ink_minimum_percent if color else None
    if color is None or (least is None and total is None):
        return None
    return FaintAsked(tint=_share(least), total=_share(total), level=color.level, note=color.note)


def _share(of_hundred: float | None) -> float | None:
    return None if of_hundred is None else of_hundred / 100


@rule(
    "ink.faint",
    needs=contents_of,
    asks=_faint_asked,
    asked_by="color.tint.minimum, color.ink_minimum",
    level="should",
    source="common practice, no source; the least tint is that of the printer's plates and press",
    measured=_COLORS,
    required={"tint_percent": "least strength of the strongest ink of a colour", "total_percent": "least ink in total"},
)
def ink_faint(pages: PagesWithContent, asked: FaintAsked) -> Iterator[Outcome]:
    """Every colour has ink enough to be seen in print.

    Why: the smallest dots of a plate do not print. A tint of a few percent is there on screen and is bare paper in print.
    Remedy: make the tint stronger, or leave it out.
    Knows: plain opaque colours of text, lines and areas, to a whole percent, by their strongest ink and by all inks together.
    A faint ink beside a strong one is no fault: the colour is seen.
    Cannot know: tints in pictures, gradients and transparent objects; what is covered again by something else; colours beyond
    the first 200 of a page.
    """

    def is_faint(color: PlainColor) -> bool:
        strongest, total = max(one.strength for one in color.tints), sum(one.strength for one in color.tints)
        return _under(strongest, asked.tint) or _under(total, asked.total)

    found = _gathered(pages, is_faint)
    if found.count:
        required = {"tint_percent": asked.tint, "total_percent": asked.total}
        yield Finding(
            message=say_many(
                "Page {pages} has colours so faint that they may not print: {colors}.",
                "Pages {pages} have colours so faint that they may not print: {colors}.",
                len(found.pages), pages=page_list(found.pages), colors=found.told,
            ),
            remedy=_stronger(asked),
            measured={"colors": found.listed, "objects": found.count},
            required={key: round(value * 100, 1) for key, value in required.items() if value is not None},
            pages=found.pages,
            places=tuple(found.places),
        )


def _under(strength: float, limit: float | None) -> bool:
    return limit is not None and strength < limit - _LIMIT_SLACK / 2


def _stronger(asked: FaintAsked) -> str:
    least = asked.tint if asked.total is None else asked.total
    assert least is not None
    return say("Make these colours at least {least} strong, or leave them out.", least=percent(least * 100, 0))


# --- Nearly solid -----------------------------------------------------------------------------------------------------


@dataclass(frozen=True, kw_only=True)
class StrongAsked(Block):
    tint: float


def _strong_asked(sheet: SpecSheet) -> StrongAsked | None:
    color = sheet.color
    if color is None or color.tint is None or color.tint.maximum_percent is None:
        return None
    return StrongAsked(tint=color.tint.maximum_percent / 100, level=color.level, note=color.note)


@rule(
    "ink.near-solid",
    needs=contents_of,
    asks=_strong_asked,
    asked_by="color.tint.maximum",
    level="should",
    source="common practice, no source; the greatest tint is that of the printer's plates and press",
    measured=_COLORS,
    required={"tint_percent": "greatest tint that stays one; solid ink is none"},
)
def ink_near_solid(pages: PagesWithContent, asked: StrongAsked) -> Iterator[Outcome]:
    """Tints stay so light that they do not fill in.

    Why: in a tint of nearly 100 % the last gaps between the dots fill with ink: it prints as solid, or in blotches.
    Remedy: make the tint lighter, or solid.
    Knows: plain opaque colours of text, lines and areas, ink by ink, to a whole percent; 100 % is no tint.
    Cannot know: tints in pictures, gradients and transparent objects; how much the press gains; colours beyond the first 200 of
    a page.
    """

    def fills_in(color: PlainColor) -> bool:
        return any(asked.tint + _LIMIT_SLACK / 2 < one.strength < 1 for one in color.tints)

    found = _gathered(pages, fills_in)
    if found.count:
        most = percent(asked.tint * 100, 0)
        yield Finding(
            message=say_many(
                "Page {pages} has tints that may print as solid ink: {colors}; the printer asks for {most} at most.",
                "Pages {pages} have tints that may print as solid ink: {colors}; the printer asks for {most} at most.",
                len(found.pages), pages=page_list(found.pages), colors=found.told, most=most,
            ),
            remedy=say("Make these tints {most} or lighter, or solid (100 %).", most=most),
            measured={"colors": found.listed, "objects": found.count},
            required={"tint_percent": round(asked.tint * 100, 1)},
            pages=found.pages,
            places=tuple(found.places),
        )


# --- Rich black -------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, kw_only=True)
class RichBlackAsked(Block):
    asked: RichBlack


def _rich_black_asked(sheet: SpecSheet) -> RichBlackAsked | None:
    color: ColorAsked | None = sheet.color
    if color is None or color.rich_black is None:
        return None
    return RichBlackAsked(asked=color.rich_black, level=color.level, note=color.note)


@rule(
    "ink.rich-black",
    needs=contents_of,
    asks=_rich_black_asked,
    asked_by="color.rich_black",
    level="must",
    source="common practice, no source; the recipe is the printer's",
    measured=_COLORS,
    required={"total_percent": "most ink in total of a black", **{ink.lower(): "percent of that ink" for ink in PROCESS_INKS}},
)
def ink_rich_black(pages: PagesWithContent, wanted: RichBlackAsked) -> Iterator[Outcome]:
    """A black of several inks keeps to the printer's limit and recipe.

    Why: too much ink below black does not dry, sets off on the next sheet and smears. A recipe of another colour makes blacks
    of one job differ.
    Remedy: use the printer's recipe for large black areas, and black alone for text.
    Knows: plain opaque colours of text, lines and areas of at least 90 % black and process inks beside it, to a whole percent.
    More than the limit is what the sheet forbids; another recipe, by more than 10 % of an ink, is an observation.
    Cannot know: blacks of pictures, gradients, transparent objects and RGB; colours beyond the first 200 of a page. Black that
    flattening merged with the colour below it is black alone.
    """
    recipe, limit = wanted.asked.recipe, wanted.asked.ink_limit_percent

    def is_too_much(color: PlainColor) -> bool:
        total = sum(one.strength for one in color.tints) * 100
        return is_rich_black(color) and limit is not None and total > limit * (1 + _LIMIT_SLACK)

    def is_another(color: PlainColor) -> bool:
        found = {one.ink: one.strength for one in color.tints}
        differs = any(abs(found.get(ink, 0.0) - strength) > RECIPE_WITHIN + 1e-6 for ink, strength in recipe.items())
        return is_rich_black(color) and differs and not is_too_much(color)

    asked_told = written([Tint(ink, strength) for ink, strength in recipe.items()])
    use_recipe = say("Set large black areas in {recipe}, and text in black alone.", recipe=asked_told) if recipe else ""
    if (found := _gathered(pages, is_too_much)).count:
        assert limit is not None
        yield Finding(
            message=say_many(
                "Page {pages} has a black of several inks with too much ink: {colors}; the printer takes {limit} in a black.",
                "Pages {pages} have blacks of several inks with too much ink: {colors}; the printer takes {limit} in a black.",
                len(found.pages), pages=page_list(found.pages), colors=found.told, limit=percent(limit, 0),
            ),
            remedy=use_recipe or say("Take ink out of cyan, magenta and yellow; black itself may be 100 %."),
            measured={"colors": found.listed, "objects": found.count},
            required={"total_percent": limit},
            pages=found.pages,
            places=tuple(found.places),
        )
    if recipe and (found := _gathered(pages, is_another)).count:
        yield Finding(
            message=say_many(
                "Page {pages} has a black of another recipe than the printer's: {colors}; asked is {recipe}.",
                "Pages {pages} have blacks of another recipe than the printer's: {colors}; asked is {recipe}.",
                len(found.pages), pages=page_list(found.pages), colors=found.told, recipe=asked_told,
            ),
            remedy=use_recipe,
            measured={"colors": found.listed, "objects": found.count},
            required={ink.lower(): round(strength * 100, 1) for ink, strength in recipe.items()},
            pages=found.pages,
            places=tuple(found.places),
            preferred=True,
        )


def is_rich_black(color: PlainColor) -> bool:
    inks = {one.ink for one in color.tints}
    black = max((one.strength for one in color.tints if one.ink == "Black"), default=0.0)
    return black >= BLACK_FROM and len(inks) > 1 and inks <= set(PROCESS_INKS)
