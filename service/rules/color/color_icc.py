"""The rule on colours that carry an ICC profile of their own."""

from __future__ import annotations

from collections.abc import Iterator

from service.language.spoken import say, say_many
from service.language.wording import page_list
from service.rules.base import LEFT_OUT, Finding, Outcome, rule
from service.rules.seen import PagesWithContent, contents_of
from service.rules.sightings import Sightings
from service.sheets.model import ColorAsked


@rule(
    "color.icc",
    needs=contents_of,
    asks=lambda sheet: sheet.color if sheet.color and sheet.color.icc_profiles == "forbidden" else None,
    asked_by="color.icc_profiles",
    level="must",
    source="ISO 32000-2:2020, 8.6.5.5 (ICCBased); whether profiles are taken is the printer's to say",
    measured={"objects": "how many objects carry a profile", **LEFT_OUT},
    required={"profiles": "none: colours in the printer's own inks"},
)
def color_icc(pages: PagesWithContent, _: ColorAsked) -> Iterator[Outcome]:
    """No colour carries an ICC profile of its own.

    Why: software that heeds the profile converts the colour once more: black becomes four inks, and clean colours turn dull.
    Remedy: export without embedded profiles, but for that of the printing condition.
    Knows: the profiles of colours that visible objects inside the bleed use. That of the output intent is none of them.
    Cannot know: profiles that only unused objects hold.
    """
    found = Sightings()
    for page, content in pages:
        for use in content.colors:
            if use.profile is not None and not use.beyond_bleed:
                found.add(page, use.boxes_mm, use.count)
    if found.pages:
        yield Finding(
            message=say_many(
                "Page {pages} has colours that carry an ICC profile; the printer asks for colours without one.",
                "Pages {pages} have colours that carry an ICC profile; the printer asks for colours without one.",
                len(found.pages),
                pages=page_list(found.pages),
            ),
            remedy=say("Export again without including colour profiles, but for that of the output intent."),
            measured={"objects": found.count},
            required={"profiles": 0},
            pages=found.pages,
            places=tuple(found.places),
        )
