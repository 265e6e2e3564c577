"""Rules on layers."""

from __future__ import annotations

from collections.abc import Iterator

from service.language.spoken import say, say_many
from service.language.wording import first_few, pages_phrase, quoted
from service.pdf.facts.guide_names import role_of
from service.pdf.facts.ink_names import PROCESS_INKS
from service.pdf.facts.page import Page
from service.pdf.facts.painted.content import HiddenContent, LayerUse
from service.pdf.facts.unknown import Unmeasured
from service.rules.base import LEFT_OUT, Finding, Outcome, always, rule
from service.rules.seen import PagesWithContent, contents_of
from service.rules.sightings import Sightings, bleed_area, within
from service.sheets.model import SpecSheet

_GUIDES = ("guides", "trim", "bleed", "margin", "fold")
BY_FLAGS = "annotation"
"""What the measurements call content that an annotation's flags hide: page.annotation speaks of it."""


@rule(
    "layer.hidden",
    needs=contents_of,
    asks=always,
    asked_by="always",
    level="should",
    source="ISO 32000-2:2020, 8.11.4.4 (usage: View and Print states of layers)",
    measured={"layers": "names of the layers", "prints": "whether their content prints", "shows": "whether it shows on a screen",
              "objects": "how many objects", **LEFT_OUT},
    required={"prints_as_shown": "true: screen and print show the same"},
)
def layer_hidden(pages: PagesWithContent, _: SpecSheet) -> Iterator[Outcome]:
    """What the screen shows is what prints.

    Why: a layer that shows and does not print leaves a hole that nobody saw; one that prints and does not show surprises
    everyone on press.
    Remedy: delete layers that are not to print, and switch the others on, before the export; or export without layers.
    Knows: content on layers whose screen and print states differ, or that are off for both: a cutting outline or a second
    language that was forgotten there is missing on paper.
    Cannot know: whether it is meant so, as for a cutting outline; a printer's software that prints every layer.
    """
    found: dict[tuple[bool, bool], tuple[Sightings, dict[str, None]]] = {}
    for page, content in pages:
        for use in content.hidden:
            places = within(bleed_area(page), use.boxes_mm)
            if _is_by_flags(page, use) or not (places or use.count > len(use.boxes_mm)):
                continue
            seen, layers = found.setdefault((use.prints, use.shows), (Sightings(), {}))
            seen.add(page, places, use.count)
            layers[use.layer] = None
    for (prints, shows), (seen, layers) in found.items():
        yield Finding(
            message=_told(prints, shows, seen.pages, list(layers)),
            remedy=_remedy(prints, shows),
            measured={"layers": list(layers), "prints": prints, "shows": shows, "objects": seen.count},
            required={"prints_as_shown": True},
            pages=seen.pages,
            places=tuple(seen.places),
        )


_ACROSS = 0.7
"""Of the page's width or height: what a guide line or a frame of guides spans. Ours, no source."""


@rule(
    "layer.guides",
    needs=contents_of,
    asks=lambda sheet: sheet if sheet.purpose == "print" else None,
    asked_by="always, for print",
    level="should",
    source="common practice, no source",
    measured={"layers": "names of the layers", "lines": "how many lines", **LEFT_OUT},
    required={"prints": "false"},
)
def layer_guides(pages: PagesWithContent, _: SpecSheet) -> Iterator[Outcome]:
    """The guides of a template do not print.

    Why: the frame of the safe area, folds and the outline of the cut come with the printer's template; left switched on, they
    stand on every copy.
    Remedy: switch the layer off or delete it before the export; a cutting line that the printer asks for has an ink of its own.
    Knows: layers that are named for guides, trim, bleed, margins or folds and hold nothing but lines and words, with a line that
    spans most of the page. Lines in spot inks have plates of their own and are left out.
    Cannot know: guides on a layer of another name, or on none.
    """
    seen, layers = Sightings(), dict[str, None]()
    for page, content in pages:
        for use in content.layers:
            if holds_guides(page, use):
                seen.add(page, within(bleed_area(page), use.boxes_mm), use.lines)
                layers[use.layer] = None
    if layers:
        yield Finding(
            message=say_many(
                "{pages}: the layer {names} holds guide lines, and they print.",
                "{pages}: the layers {names} hold guide lines, and they print.",
                len(layers),
                pages=pages_phrase(seen.pages),
                names=first_few([quoted(name) for name in layers]),
            ),
            remedy=say_many(
                "Switch the layer off or delete it before the export. If it is artwork, leave it and give it another name; a "
                "cutting line that the printer asks for needs a spot ink of its own.",
                "Switch the layers off or delete them before the export. If they are artwork, leave them and give them other "
                "names; a cutting line that the printer asks for needs a spot ink of its own.",
                len(layers),
            ),
            measured={"layers": list(layers), "lines": seen.count},
            required={"prints": False},
            pages=seen.pages,
            places=tuple(seen.places),
        )


def holds_guides(page: Page, use: LayerUse) -> bool:
    if use.others or role_of(use.layer) not in _GUIDES or (use.inks and not {*use.inks} & {*PROCESS_INKS, "All"}):
        return False
    across, down = _ACROSS * page.trim_width_mm, _ACROSS * page.trim_height_mm
    return any(one.width >= across or one.height >= down for one in within(bleed_area(page), use.boxes_mm))


def _remedy(prints: bool, shows: bool) -> str:
    if prints:
        return say(
            "Switch the layer on and look at it. If it is a cutting line or a finish, ask the printer how to send it. If it is "
            "neither and not to print, delete it or switch its printing off before the export."
        )
    if shows:
        return say(
            "If it is to print, switch the layer on for screen and print before the export. If it is a cutting line or a "
            "finish, ask the printer how to send it. If neither, delete it."
        )
    return say(
        "If the printer needs what stands there, such as a cutting line, switch the layer on before the export. If not, "
        "delete it."
    )


def _told(prints: bool, shows: bool, pages: tuple[int, ...], layers: list[str]) -> str:
    names = first_few([quoted(name) for name in layers])
    if not prints and not shows:
        return say_many(
            "{pages}: the layer {names} is switched off, and what stands on it will not print.",
            "{pages}: the layers {names} are switched off, and what stands on them will not print.",
            len(layers),
            pages=pages_phrase(pages),
            names=names,
        )
    if prints:
        return say_many(
            "{pages}: what stands on the layer {names} prints and does not show on the screen.",
            "{pages}: what stands on the layers {names} prints and does not show on the screen.",
            len(layers),
            pages=pages_phrase(pages),
            names=names,
        )
    return say_many(
        "{pages}: what stands on the layer {names} shows on the screen and will not print.",
        "{pages}: what stands on the layers {names} shows on the screen and will not print.",
        len(layers),
        pages=pages_phrase(pages),
        names=names,
    )


def _is_by_flags(page: Page, use: HiddenContent) -> bool:
    """An annotation's flags hide it, not a layer that happens to be called so."""
    annotations = () if isinstance(page.annotations, Unmeasured) else page.annotations
    return use.layer == BY_FLAGS and any((one.prints, one.shows) == (use.prints, use.shows) for one in annotations)
