"""The arguments of `/plates` and what its answer holds, for the OpenAPI description."""

from __future__ import annotations

from typing import get_args

import marshmallow as ma
from marshmallow import fields
from marshmallow.validate import OneOf

from service.api.http.languages import LANG
from service.api.http.shapes import Answer, box, or_null, says
from service.api.proofs.query_fields import choice, whole_number
from service.language.spoken import LANGUAGES
from service.proofs.plates.wishes import USUAL_LOOK, PlateLook, PlatesArea, PlatesWishes, TotalLook
from service.proofs.wishes import PAGE_PPI


class PlatesQuery(ma.Schema):
    ppi = whole_number(PAGE_PPI, "Pixels an inch. Very large pages are made coarser; the answer says how fine they are.")
    area = choice(
        PlatesArea,
        "The page with its bleed, the trimmed page, the whole media with marks and slug, or pixel for pixel what the page's "
        "picture shows.",
        usual=PlatesWishes.area,
    )
    lang = fields.String(metadata={"description": LANG["description"], "enum": list(LANGUAGES)})


class TotalQuery(PlatesQuery):
    look = choice(
        TotalLook,
        "`grey`: white to black. `scale`: in colours, with a scale below the map, and stripes where there is more ink than the "
        "sheet takes; finishing inks are left out.",
        usual=USUAL_LOOK,
    )


class PlateQuery(PlatesQuery):
    look = choice(
        PlateLook, "`grey`: white to black. `hue`: white to the ink's own colour on a screen.", usual=USUAL_LOOK
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
