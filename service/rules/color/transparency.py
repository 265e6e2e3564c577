"""Rules on live transparency."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from service.language.spoken import say, say_many, to_say
from service.language.wording import listed, listed_or, page_list, pages_phrase
from service.rules.base import LEFT_OUT, Finding, Outcome, rule
from service.rules.color.color import blend_in, print_space
from service.rules.seen import NotMeasured, PagesWithContent, contents_of
from service.rules.sightings import Sightings
from service.sheets.model import Block, ColorAsked, SpecSheet

_KINDS = {
    "alpha": to_say("partly transparent objects"),
    "blend mode": to_say("objects that blend with what is below"),
    "soft mask": to_say("objects with soft edges (a soft mask)"),
    "picture with soft mask": to_say("pictures with soft edges"),
}
_FLAT = ("PDF/X-1a", "PDF/X-3")
"""Standards without live transparency (ISO 15930-1, -3, -4 and -6)."""


@dataclass(frozen=True, kw_only=True)
class LiveTransparencyAsked(Block):
    is_required: bool
    flat_forms: tuple[str, ...]
    """Standards without live transparency, of all that the printer takes; empty: he names none."""


def _live_asked(sheet: SpecSheet) -> LiveTransparencyAsked | None:
    asked = sheet.transparency
    if asked is None or asked.live == "allowed":
        return None
    standards = sheet.file.standards if sheet.file else ()
    flat = tuple(name for name in standards if name.startswith(_FLAT))
    return LiveTransparencyAsked(
        is_required=asked.live == "required", flat_forms=flat, level=asked.level, note=asked.note
    )


@rule(
    "transparency.live",
    needs=contents_of,
    asks=_live_asked,
    asked_by="transparency.live",
    level="must",
    source="ISO 32000-2:2020, clause 11 (transparency); whether it may be live is the printer's to say",
    measured={"kinds": "kind (alpha, blend mode, soft mask, picture with soft mask) → how many objects", **LEFT_OUT},
    required={"live": "forbidden: none; required: not flattened"},
)
def transparency_live(pages: PagesWithContent, asked: LiveTransparencyAsked) -> Iterator[Outcome]:
    """Transparency is flattened or live, whichever of the two the printer asks for.

    Why: software that does not know live transparency prints transparent objects as opaque ones, or leaves out what is below.
    Remedy: export to what the printer takes of PDF/X-1a, PDF/X-3 and PDF 1.3, which have no transparency: the export flattens it.
    Knows: every visible object that is see-through, blends or has a soft mask.
    Cannot know: whether transparency was flattened before: a file without any cannot be told from a flattened one.
    """
    found, kinds = Sightings(), dict[str, int]()
    for page, content in pages:
        for use in content.transparency:
            found.add(page, use.boxes_mm, use.count)
            kinds[use.kind] = kinds.get(use.kind, 0) + use.count
    if asked.is_required:
        if not found.count:
            why = say("Nothing in the file is transparent: it had no transparency or was flattened; that cannot be told.")
            yield NotMeasured(why)
    elif found.count:
        yield Finding(
            message=say_many(
                "Page {pages} has live transparency: {kinds}; the printer takes none.",
                "Pages {pages} have live transparency: {kinds}; the printer takes none.",
                len(found.pages),
                pages=page_list(found.pages),
                kinds=listed(say(_KINDS[kind]) for kind in kinds),
            ),
            remedy=_flattened(asked.flat_forms),
            measured={"kinds": kinds},
            required={"live": "forbidden"},
            pages=found.pages,
            places=tuple(found.places),
        )


def _flattened(forms: tuple[str, ...]) -> str:
    if not forms:
        return say(
            "Export again with transparency flattened at high resolution, in a form that the printer takes (PDF/X-1a, "
            "PDF/X-3 or PDF 1.3), and look at the result: flattening can change thin lines and text near transparent objects."
        )
    return say(
        "Export again with transparency flattened at high resolution, as {forms}, and look at the result: flattening can "
        "change thin lines and text near transparent objects.",
        forms=listed_or(forms),
    )


@rule(
    "transparency.space",
    needs=contents_of,
    asks=lambda sheet: sheet.color if sheet.purpose == "print" and sheet.color and sheet.color.allowed else None,
    asked_by="color.allowed",
    level="should",
    source="ISO 32000-2:2020, 11.3.4 and 11.4.7 (blending colour space); the print space is the printer's",
    measured={"families": "families of the spaces that transparency blends in", "groups": "how many groups", **LEFT_OUT},
    required={"family": "family of the print space"},
)
def transparency_space(pages: PagesWithContent, color: ColorAsked) -> Iterator[Outcome]:
    """Transparency blends in the colours of the print.

    Why: transparent objects whose group blends in RGB are converted with all that lies below them: black text turns into four
    inks, and colours shift along the edge of the group.
    Remedy: set the document's transparency blend space to CMYK before the export, and export again.
    Knows: the space of every group with live transparency in it, the page's own included. A group in grey is left alone.
    Cannot know: what the layout intended. Whether the printer takes such a space at all is judged by color.space.
    """
    space = print_space(color.allowed or ())
    found, families = Sightings(), dict[str, None]()
    for page, content in pages:
        for use in content.colors:
            if use.kind == "group" and use.family not in (space, "gray"):
                found.add(page, use.boxes_mm, use.count)
                families[use.family] = None
    if found.count:
        print_in = say(_FAMILY_WORDS[space])
        yield Finding(
            message=say_many(
                "{pages}: transparency blends in {spaces} ({count} group), the print is in {print_space}.",
                "{pages}: transparency blends in {spaces} ({count} groups), the print is in {print_space}.",
                found.count,
                pages=pages_phrase(found.pages),
                spaces=listed(_family(one) for one in families),
                print_space=print_in,
            ),
            remedy=blend_in(print_in),
            measured={"families": list(families), "groups": found.count},
            required={"family": space},
            pages=found.pages,
            places=tuple(found.places),
        )


def _family(family: str) -> str:
    return say(_FAMILY_WORDS[family]) if family in _FAMILY_WORDS else family


_FAMILY_WORDS = {
    "cmyk": "CMYK",
    "gray": to_say("grey"),
    "rgb": "RGB",
    "lab": "Lab",
    "multicolor": to_say("a multichannel space"),
}
