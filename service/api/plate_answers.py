"""The plates of a page as the answers carry them, and the address of each plate."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, get_args
from urllib.parse import quote

import marshmallow as ma
from marshmallow import fields
from marshmallow.validate import OneOf, Range

from service.api.languages import LANG
from service.api.measurement_answers import box_mm
from service.api.schemas import Answer, box, or_null, says
from service.language.spoken import LANGUAGES, say
from service.pdf.inks_needed import PROCESS_INKS
from service.proofs.ink_scale_asked import TOTAL_BLACK_PERCENT
from service.proofs.plates_asked import (
    DEFAULT_PPI,
    HIGHEST_PPI,
    LOWEST_PPI,
    PlateLook,
    PlatesArea,
    PlatesTold,
    TotalLook,
)

TOTAL = "total"
"""Last step of the address of the map of total ink."""


class PlatesQuery(ma.Schema):
    ppi = fields.Integer(
        load_default=DEFAULT_PPI,
        validate=Range(LOWEST_PPI, HIGHEST_PPI),
        metadata={"description": "Pixels an inch. Very large pages are made coarser; the answer says how fine they are."},
    )
    area = fields.String(
        load_default="bleed",
        validate=OneOf(get_args(PlatesArea)),
        metadata={
            "description": "The page with its bleed, the trimmed page, the whole media with marks and slug, or pixel for pixel "
            "what the page's picture shows."
        },
    )
    lang = fields.String(metadata={"description": LANG["description"], "enum": list(LANGUAGES)})


class TotalQuery(PlatesQuery):
    look = fields.String(
        load_default="grey",
        validate=OneOf(get_args(TotalLook)),
        metadata={
            "description": "`grey`: white to black. `scale`: in colours, with a scale below the map, and stripes where there is "
            "more ink than the sheet takes; finishing inks are left out."
        },
    )


class PlateQuery(PlatesQuery):
    look = fields.String(
        load_default="grey",
        validate=OneOf(get_args(PlateLook)),
        metadata={"description": "`grey`: white to black. `hue`: white to the ink's own colour on a screen."},
    )


class PlateLinks(Answer):
    plate = fields.String(**says("Address of the plate as PNG, for the same ppi and area."))


class ListedPlate(Answer):
    name = fields.String(**says("Name of the ink."))
    kind = fields.String(validate=OneOf(["process", "spot"]), **says("What kind of ink."))
    coverage_percent = fields.Float(**says("Mean over the trimmed page, whatever the area."))
    hue = fields.String(
        **says("Its full tint on a screen: by the output intent, or a spot's alternate colour.", pattern="^#[0-9a-f]{6}$")
    )
    links = fields.Nested(PlateLinks, **says("Where to go from here."))


class ListedTotal(Answer):
    highest_percent = fields.Float(
        **says(
            "The most of all inks together at one pixel, finishing inks too. "
            "A check judges what holds over an area: ink_max_percent."
        )
    )
    black_percent = fields.Float(**says("Total ink that the map shows as black; white is none, and it is linear between."))
    links = fields.Nested(PlateLinks, **says("Where to go from here."))


class PlatesLinks(Answer):
    self = fields.String(**says("Address of this answer."))
    check = fields.String(**says("Address of the check."))


class PlatesAnswer(Answer):
    page = fields.Integer(**says("Counted from 1."))
    area = fields.String(validate=OneOf(get_args(PlatesArea)), **says("As it was asked for."))
    area_mm = box("What the plates show, to whole pixels.")
    width_px = fields.Integer(**says("Of each plate."))
    height_px = fields.Integer(**says("Of each plate."))
    ppi = fields.Float(**says("As the plates are made; lower than asked for on a very large page."))
    converted = fields.Boolean(**says("Whether RGB or Lab colours had to be converted to the process inks: an estimate."))
    conversion = fields.String(**or_null("How they were; null where there are none."))
    inks = fields.List(fields.Nested(ListedPlate), **says("Process inks first, then spots."))
    total = fields.Nested(ListedTotal, **says("All inks together."))
    links = fields.Nested(PlatesLinks, **says("Where to go from here."))


def plates_answer(told: PlatesTold, page_address: str, query: str, *, check: str, page: int, area: str) -> dict[str, Any]:
    """`page_address` ends in '/plates'; `query` is what was asked for."""

    def plate(step: str) -> dict[str, str]:
        return {"plate": f"{page_address}/{quote(step, safe='', errors='replace')}?{query}"}

    steps = plate_steps(tuple(told.coverage_percent))
    return {
        "page": page,
        "area": area,
        "area_mm": box_mm(told.area_mm),
        "width_px": told.width_px,
        "height_px": told.height_px,
        "ppi": round(told.ppi, 1),
        "converted": told.conversion is not None,
        "conversion": say(told.conversion) if told.conversion else None,
        "inks": [
            {
                "name": ink,
                "kind": "process" if ink in PROCESS_INKS else "spot",
                "coverage_percent": round(told.coverage_percent[ink], 1),
                "hue": told.hues[ink],
                "links": plate(step),
            }
            for step, ink in steps.items()
        ],
        "total": {
            "highest_percent": round(told.highest_percent, 1),
            "black_percent": TOTAL_BLACK_PERCENT,
            "links": plate(TOTAL),
        },
        "links": {"self": f"{page_address}?{query}", "check": check},
    }


def plate_steps(inks: Sequence[str]) -> dict[str, str]:
    """The ink of each last step of an address: its name, changed only where that could not stand in an address.

    A server takes '%2F' for the slash that ends a step, a client takes '..' away, and 'total' is the map of total ink.
    """
    steps: dict[str, str] = {}
    for ink in inks:
        step = ink.replace("/", "%2F")
        while step in ("", ".", "..", TOTAL) or step in steps:
            step += " (ink)"
        steps[step] = ink
    return steps
