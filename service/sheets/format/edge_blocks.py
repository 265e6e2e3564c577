"""The blocks on the size of the page and on its edges: trim, bleed, margin, marks."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from marshmallow import fields

from service.language.spoken import say
from service.sheets import model
from service.sheets.format.block import NEEDS, AskingSchema, BlockSchema, in_order
from service.sheets.format.fields import Choice, Many, Whole, length
from service.sheets.format.refusals import Path

EDGES = ("binding", "outer", "head", "foot")


class SizeSchema(BlockSchema):
    makes = model.Size
    width_mm = length("Width of the trimmed page.", data_key="width", required=True)
    height_mm = length("Height of the trimmed page.", data_key="height", required=True)


class TrimSchema(AskingSchema):
    makes = model.TrimAsked
    width_mm = length("Width of the trimmed page.", data_key="width", required=True)
    height_mm = length("Height of the trimmed page.", data_key="height", required=True)
    tolerance_mm = length("How far width and height may differ.", data_key="tolerance", zero=True)
    orientation = Choice(("any", "portrait", "landscape"), "`any` takes width and height swapped.")
    alternatives = Many(fields.Nested(SizeSchema), "Other sizes that are taken as well.")
    scales = Many(Whole("n, for 1 : n."), "Scales 1 : n at which the file may be drawn; without it 1 : 1.")

    def contradictions(self, data: Mapping[str, Any]) -> Iterator[tuple[Path, str]]:
        width, height = data.get("width_mm"), data.get("height_mm")
        if width is None or height is None:
            return
        shape = "portrait" if width < height else "landscape"
        if width != height and data.get("orientation", "any") not in ("any", shape):
            yield ("orientation",), say(
                "is {orientation}, and the width and height are {shape}.", orientation=data["orientation"], shape=shape
            )
        if data.get("tolerance_mm", 0) >= min(width, height):
            yield ("tolerance",), say("must be smaller than the page.")
        for index, other in enumerate(data.get("alternatives") or ()):
            if isinstance(other, model.Size) and (other.width_mm, other.height_mm) == (width, height):
                yield ("alternatives", index), say("is the width and height of the product itself.")

    def get_attribute(self, obj: Any, attr: str, default: Any) -> Any:
        return None if attr == "scales" and obj.scales == (1,) else super().get_attribute(obj, attr, default)


class BleedSchema(AskingSchema):
    makes = model.BleedAsked
    minimum_mm = length("Least bleed on each side.", data_key="minimum", required=True, zero=True)
    maximum_mm = length("Most bleed that is taken.", data_key="maximum", zero=True)
    binding_mm = length("Least bleed where the pages are bound, if it is another.", data_key="binding", zero=True)
    outer_mm = length("Least bleed at the outer edge, if it is another.", data_key="outer", zero=True)
    head_mm = length("Least bleed at the top, if it is another.", data_key="head", zero=True)
    foot_mm = length("Least bleed at the foot, if it is another.", data_key="foot", zero=True)

    def contradictions(self, data: Mapping[str, Any]) -> Iterator[tuple[Path, str]]:
        yield from in_order(data, "minimum_mm", "maximum_mm", "minimum", say("is more than the maximum."))
        for edge in EDGES:
            yield from in_order(data, f"{edge}_mm", "maximum_mm", edge, say("is more than the maximum."))


class MarginSchema(AskingSchema):
    makes = model.MarginAsked
    minimum_mm = length("Safety margin inside the trim.", data_key="minimum", required=True)
    preferred_mm = length("Safety margin that looks right; less is an observation.", data_key="preferred")
    binding_mm = length("Safety margin where the pages are bound, if it is another.", data_key="binding", zero=True)
    outer_mm = length("Safety margin at the outer edge, if it is another.", data_key="outer", zero=True)
    head_mm = length("Safety margin at the top, if it is another.", data_key="head", zero=True)
    foot_mm = length("Safety margin at the foot, if it is another.", data_key="foot", zero=True)

    def contradictions(self, data: Mapping[str, Any]) -> Iterator[tuple[Path, str]]:
        yield from in_order(data, "minimum_mm", "preferred_mm", "preferred", say("is less than the minimum."))


class MarksSchema(AskingSchema):
    makes = model.MarksAsked
    crop_marks = Choice(NEEDS, "Crop marks.")
    offset_minimum_mm = length("Least distance of crop marks from the trim.", data_key="offset_minimum")

    def contradictions(self, data: Mapping[str, Any]) -> Iterator[tuple[Path, str]]:
        if data.get("crop_marks") == "forbidden" and data.get("offset_minimum_mm"):
            yield ("offset_minimum",), say("speaks of crop marks, and marks.crop_marks forbids them.")
