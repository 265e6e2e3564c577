"""The rule on the spaces of colour that the printer takes."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from service.language.spoken import say, say_many, to_say
from service.language.wording import listed, page_list
from service.pdf.facts.page import Page
from service.pdf.facts.painted.colors import ColorUse
from service.rules.base import LEFT_OUT, Finding, Outcome, Place, rule
from service.rules.seen import PagesWithContent, contents_of
from service.sheets.model import ColorAsked

FAMILY_WORDS = {
    "cmyk": to_say("CMYK"),
    "gray": to_say("grey"),
    "rgb": to_say("RGB"),
    "lab": to_say("Lab"),
    "multicolor": to_say("a multichannel profile"),
}
"""As what a printer takes."""

_COLOURS = {
    "cmyk": to_say("CMYK colour"),
    "gray": to_say("grey colour"),
    "rgb": to_say("RGB colour"),
    "lab": to_say("Lab colour"),
    "multicolor": to_say("multichannel colour"),
}
"""As what a page uses."""

_CONVERT = {
    "rgb": to_say(
        "Convert the RGB colours to CMYK with the printer's profile: pictures in the image editor or at export "
        "('convert to destination'), "
        "colours of text and shapes in the swatches; then export again."
    ),
    "multicolor": to_say("Convert to the printing colours at export ('convert to destination')."),
}


@rule(
    "color.space",
    needs=contents_of,
    asks=lambda sheet: sheet.color if sheet.color and sheet.color.allowed is not None else None,
    asked_by="color.allowed",
    level="must",
    source="ISO 32000-2:2020, 8.6 (colour spaces); which of them print is the printer's to say",
    measured={"family": "cmyk, gray, rgb, lab or multicolor", "written": "the colour spaces as the file has them",
              "objects": "kind of object → how many", **LEFT_OUT},
    required={"allowed": "families that the printer takes"},
)
def color_space(pages: PagesWithContent, color: ColorAsked) -> Iterator[Outcome]:
    """All colours are in spaces that the printer takes.

    Why: a colour in another space is converted by the printer's software, and bright RGB tones turn dull or shift without
    anyone having seen it.
    Remedy: convert colours and pictures with the printer's profile before or at export, and look at the result.
    Knows: every colour that visible objects use, by kind of object. What stands only in a soft mask never prints itself: an
    observation. Marks and slug are cut off and left out, and so is white: in whatever space, it stays paper.
    Cannot know: how a converted colour will look. Spot inks are judged by color.spots, registration colour by a rule of its own.
    """
    allowed = color.allowed or ()
    groups: dict[tuple[str, bool], list[tuple[Page, ColorUse]]] = {}
    for page, content in pages:
        for use in content.colors:
            if use.family in FAMILY_WORDS and use.family not in allowed and not use.beyond_bleed and not use.white:
                groups.setdefault((use.family, use.kind == "soft mask"), []).append((page, use))
    for (family, only_mask), uses in groups.items():
        yield _not_taken(family, only_mask, uses, color)


def _not_taken(family: str, only_mask: bool, uses: list[tuple[Page, ColorUse]], color: ColorAsked) -> Finding:
    allowed = list(color.allowed or ())
    numbers = tuple(sorted({page.number for page, _ in uses}))
    objects: dict[str, int] = {}
    for _, use in uses:
        objects[use.kind] = objects.get(use.kind, 0) + use.count
    level = "should" if only_mask else color.rgb_level if family == "rgb" else None
    takes = listed(say(FAMILY_WORDS[one]) for one in allowed) or say("spot inks only")
    return Finding(
        message=say_many(
            "Page {pages} uses {colour} in {objects}; the printer takes {takes}.",
            "Pages {pages} use {colour} in {objects}; the printer takes {takes}.",
            len(numbers), pages=page_list(numbers), colour=say(_COLOURS[family]), objects=objects_told(objects), takes=takes,
        ),
        remedy=_remedy(family, set(objects), takes, allowed),
        measured={"family": family, "written": sorted({use.written for _, use in uses}), "objects": objects},
        required={"allowed": allowed},
        pages=numbers,
        places=tuple(Place(page.number, box) for page, use in uses for box in use.boxes_mm),
        level=level,
    )


def _remedy(family: str, kinds: set[str], takes: str, allowed: Sequence[str]) -> str:
    """Where groups alone are in that space, the objects have no colours to convert."""
    if kinds == {"group"} and allowed:
        return blend_in(say(FAMILY_WORDS[print_space(allowed)]))
    if family in _CONVERT:
        return say(_CONVERT[family])
    return say("Convert these colours to {takes} in the swatches or at export, and export again.", takes=takes)


def print_space(allowed: Sequence[str]) -> str:
    """The first of the families that a press prints in, where the printer takes several."""
    return next(one for one in ("cmyk", "gray", "rgb", "lab") if one in allowed)


def blend_in(space: str) -> str:
    """The remedy; `space` as it is said."""
    return say("Set the transparency blend space of the document to {print_space}, and export again.", print_space=space)


def objects_told(counts: Mapping[str, int]) -> str:
    """{'image': 3, 'text': 40} → '3 pictures and text': how many pieces text comes in says nothing."""
    return listed(_object_told(kind, count) for kind, count in counts.items())


def _object_told(kind: str, count: int) -> str:
    return {
        "text": say("text"),
        "fill": say_many("{count} filled shape", "{count} filled shapes", count),
        "stroke": say_many("{count} line", "{count} lines", count),
        "image": say_many("{count} picture", "{count} pictures", count),
        "shading": say_many("{count} gradient", "{count} gradients", count),
        "group": say_many("{count} transparency group", "{count} transparency groups", count),
        "soft mask": say_many("{count} soft mask", "{count} soft masks", count),
    }[kind]
