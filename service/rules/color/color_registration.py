"""The rule on registration colour in the artwork."""

from __future__ import annotations

from collections.abc import Iterator

from service.language.spoken import say, say_many
from service.language.wording import page_list
from service.rules.base import LEFT_OUT, Finding, Outcome, always, rule
from service.rules.color.color import objects_told
from service.rules.seen import NotMeasured, PagesWithContent, contents_of
from service.rules.sightings import Sightings, within
from service.sheets.model import SpecSheet


@rule(
    "color.registration",
    needs=contents_of,
    asks=always,
    asked_by="always",
    level="must",
    source="ISO 32000-2:2020, 8.6.6.4 (the colorant All paints every plate)",
    measured={"objects": "kind of object → how many, at most", **LEFT_OUT},
    required={"registration": "false: none on the trimmed page"},
)
def color_registration(pages: PagesWithContent, _: SpecSheet) -> Iterator[Outcome]:
    """Registration colour is used for printer's marks only.

    Why: it prints on every plate, 400 % of ink in a four-colour job: it does not dry, sets off on the next sheet, and shows
    every shift of the plates.
    Remedy: use black ink alone (100 % black) for text and lines, and a rich black within the ink limit for areas.
    Knows: objects painted in the colorant All on the trimmed page. Marks outside the trim are cut off and left out.
    Cannot know: a black of 100 % of each process ink that was mixed by hand: ink.total judges how much ink that is.
    """
    found, objects = Sightings(), dict[str, int]()
    for page, content in pages:
        for use in content.colors:
            if use.family != "registration" or use.beyond_bleed:
                continue
            places = within(page.boxes_mm.trim, use.boxes_mm)
            left_out = use.count - len(use.boxes_mm)
            if places:
                found.add(page, places, len(places) + left_out)
                objects[use.kind] = objects.get(use.kind, 0) + len(places) + left_out
            elif left_out:
                yield NotMeasured(
                    say(
                        "Page {page}: {count} objects in registration colour; the first {marks} are marks outside the trim, "
                        "where the others stand is not known.",
                        page=page.number, count=use.count, marks=len(use.boxes_mm),
                    )
                )
    if found.count:
        yield Finding(
            message=say_many(
                "Page {pages} uses registration colour for {objects}: it prints in every ink at once.",
                "Pages {pages} use registration colour for {objects}: it prints in every ink at once.",
                len(found.pages), pages=page_list(found.pages), objects=objects_told(objects),
            ),
            remedy=say_many(
                "Give this object black ink alone (the swatch 'black', not 'registration'), and export again.",
                "Give these objects black ink alone (the swatch 'black', not 'registration'), and export again.",
                found.count,
            ),
            measured={"objects": objects},
            required={"registration": False},
            pages=found.pages,
            places=tuple(found.places),
        )
