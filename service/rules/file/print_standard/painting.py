"""Demands on what is painted: colour spaces, transparency, fonts. Judged by what visible objects use, never by what the file
merely declares: producers leave unused spaces in their resources.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator

from service.language.spoken import say, say_many, to_say
from service.language.wording import first_few, on_pages, quoted
from service.pdf.facts.document import Document, Feature
from service.pdf.facts.page import Page
from service.pdf.facts.painted.colors import ColorUse
from service.pdf.facts.unknown import Unmeasured
from service.rules.base import Place
from service.rules.file.print_standard.demand import ALL, X_1A, X_3, X_4, Breach, Edition, Told, demand
from service.rules.file.print_standard.intent import intent_profile, pdfx_intents, profile_by_key
from service.rules.seen import PagesWithContent, both, contents_of, document_of, fact_of

_TABLE = "a published table that compares PDF and PDF/X-3 (bvdm, Ifra, Ugra)"


class _Uses:
    """Pages and places, by what was found there."""

    def __init__(self) -> None:
        self.places: dict[str, list[Place]] = {}

    def add(self, what: str, page: Page, boxes: Iterable[tuple[float, float, float, float]]) -> None:
        self.places.setdefault(what, []).extend(Place(page.number, box) for box in boxes)  # type: ignore[arg-type]

    def breach(self, says: Callable[[str, str], str]) -> Iterator[Breach]:
        """One breach for all: `says` gets what was found, and on which pages."""
        places = tuple(place for found in self.places.values() for place in found)
        numbers = tuple(sorted({place.page for place in places}))
        if places:
            yield Breach(says(first_few(list(self.places)), on_pages(numbers)), numbers, places)


def _space(use: ColorUse) -> str:
    """The space that an Indexed one stands for."""
    return use.written[len("Indexed (") : -1] if use.written.startswith("Indexed (") else use.written


def _named(space: str) -> str:
    """As PDF names it; the channels of an ICCBased one are words."""
    channels = re.fullmatch(r"ICCBased \((\d+) channels?\)", space)
    return say_many("ICCBased ({count} channel)", "ICCBased ({count} channels)", int(channels[1])) if channels else space


# --- Colour spaces ----------------------------------------------------------------------------------------------------

_NOT_IN_X_1A = ("DeviceRGB", "Cal", "ICCBased", "Lab")


@demand(
    "inks-only",
    needs=contents_of,
    of=X_1A,
    source=f"{_TABLE}; ISO 32000-2:2020, 8.6 (the spaces)",
    subject="only CMYK, grey and spot inks are painted, without profiles",
    remedy="Convert all colours to CMYK or spot inks at export ('convert to destination'), and leave profiles out.",
)
def inks_only(pages: PagesWithContent, _: Edition) -> Iterator[Told]:
    uses = _Uses()
    for page, content in pages:
        for use in content.colors:
            if use.kind != "group" and (_space(use).startswith(_NOT_IN_X_1A) or use.family in ("rgb", "lab", "multicolor")):
                uses.add(_named(_space(use)), page, use.boxes_mm)
    yield from uses.breach(lambda what, where: say("{on_pages} it paints in {spaces}", on_pages=where, spaces=what))


@demand(
    "spot-substitutes",
    needs=both(contents_of, fact_of(lambda document: document.features)),
    of=X_1A,
    source="ISO 32000-2:2020, 8.6.6.4 (alternate spaces); the demand from memory",
    subject="what stands in for a spot ink is CMYK or grey",
    remedy="Set the swatches of the spot inks to CMYK values (not Lab or RGB), and export again.",
)
def spot_substitutes(seen: tuple[PagesWithContent, tuple[Feature, ...]], _edition: Edition) -> Iterator[Told]:
    """Of the inks in use: a swatch that nothing paints harms nobody."""
    pages, features = seen
    painted = {ink for _, content in pages for use in content.colors for ink in use.inks}
    for one in features:
        names, _, space = one.detail.rpartition(": ")
        if one.kind == "alternate space" and painted & set(names.split(", ")):
            found = say(
                "{on_pages} {space} stands in for the ink {ink}",
                on_pages=on_pages(one.pages),
                space=_named(space),
                ink=quoted(names),
            )
            yield Breach(found, one.pages)


@demand(
    "device-colors",
    needs=both(contents_of, document_of),
    of=(*X_3, *X_4),
    source="the manual of a program that writes PDF/X states the rule; the demand from memory",
    subject="colours without a profile are those of the printing condition",
    remedy="Convert the colours to the printing condition at export, or give the pictures their profiles.",
)
def device_colors(seen: tuple[PagesWithContent, Document], _: Edition) -> Iterator[Told]:
    pages, document = seen
    intents = pdfx_intents(document)
    if len(intents) != 1:
        return  # told by output-intent
    profile = intent_profile(document)
    if profile is None and (intents[0].profile or intents[0].profile_outside):
        return  # it could not be read, or is not in the file
    if profile is not None and profile.damage:
        return  # told by output-profile-kind
    fits = _DEVICE_SPACES.get(profile.space if profile else "CMYK", ("DeviceGray",))
    uses = _Uses()
    for page, content in pages:
        for use in content.colors:
            space = _space(use)
            if space in ("DeviceRGB", "DeviceCMYK") and space not in fits:
                uses.add(space, page, use.boxes_mm)
    yield from uses.breach(
        lambda what, where: say(
            "{on_pages} it paints in {spaces}, which its printing condition does not explain", on_pages=where, spaces=what
        )
    )


_DEVICE_SPACES = {
    "CMYK": ("DeviceCMYK", "DeviceGray"),
    "GRAY": ("DeviceGray",),
    "RGB": ("DeviceRGB", "DeviceGray"),
}
"""What the output intent's profile explains. A registered condition without a profile is taken for CMYK (common practice)."""


@demand(
    "profile-twice",
    needs=both(contents_of, document_of),
    of=X_4,
    source="from memory",
    subject="a CMYK colour with a profile has another one than the output intent",
    remedy="Export again without embedding the printer's profile in the objects: their CMYK values are already meant for it.",
)
def profile_twice(seen: tuple[PagesWithContent, Document], _: Edition) -> Iterator[Told]:
    pages, document = seen
    intended = intent_profile(document)
    if intended is None or intended.space != "CMYK" or not intended.digest:
        return
    profiles = profile_by_key(document)
    uses = _Uses()
    for page, content in pages:
        for use in content.colors:
            profile = profiles.get(use.profile or "")
            if profile is not None and profile.digest == intended.digest:
                uses.add(profile.description or profile.space, page, use.boxes_mm)
    yield from uses.breach(
        lambda what, where: say(
            "{on_pages} objects carry the output intent's own profile once more ({profile})", on_pages=where, profile=what
        )
    )


# --- Transparency -----------------------------------------------------------------------------------------------------


@demand(
    "transparency",
    needs=both(contents_of, document_of),
    of=(*X_1A, *X_3),
    source="ISO 32000-2:2020, 11 (transparency); the demand from memory",
    subject="nothing is transparent",
    remedy="Export again with the PDF/X setting that flattens transparency, or agree on PDF/X-4 with the printer.",
)
def transparency(seen: tuple[PagesWithContent, Document], _: Edition) -> Iterator[Told]:
    pages, document = seen
    uses = _Uses()
    for page, content in pages:
        for use in content.transparency:
            uses.add(say(_TRANSPARENT[use.kind]), page, use.boxes_mm)
    yield from uses.breach(lambda what, where: say("{on_pages} it has live transparency ({kinds})", on_pages=where, kinds=what))
    features = document.features
    groups = () if isinstance(features, Unmeasured) else tuple(one for one in features if one.kind == "transparency group")
    for one in groups if not uses.places else ():
        found = say("{on_pages} objects are set up as transparency groups", on_pages=on_pages(one.pages))
        yield Breach(found, one.pages)


_TRANSPARENT = {
    "alpha": to_say("opacity under 100 %"),
    "blend mode": to_say("blend modes"),
    "soft mask": to_say("soft masks"),
    "picture with soft mask": to_say("pictures with soft edges"),
}


# --- Fonts ------------------------------------------------------------------------------------------------------------


@demand(
    "fonts",
    needs=contents_of,
    of=ALL,
    source=f"{_TABLE}; ISO 32000-2:2020, 9.9 (font programs)",
    subject="all fonts that paint are in the file",
    remedy="Export again with all fonts embedded; if a font's licence forbids it, convert the text to outlines.",
)
def fonts(pages: PagesWithContent, _: Edition) -> Iterator[Told]:
    uses = _Uses()
    for page, content in pages:
        for font in content.fonts:
            if not font.embedded:
                uses.add(quoted(font.name), page, font.boxes_mm)
    missing = len(uses.places)
    yield from uses.breach(
        lambda what, where: say_many(
            "{on_pages} the font {fonts} is not in the file",
            "{on_pages} the fonts {fonts} are not in the file",
            missing,
            on_pages=where,
            fonts=what,
        )
    )
