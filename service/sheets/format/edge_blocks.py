"""The blocks on the size of the page and on its edges: trim, bleed, margin, marks."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from marshmallow import fields, post_load

from service.language.spoken import say
from service.sheets import model
from service.sheets.format.block import NEEDS, PERMISSIONS, AskingSchema, BlockSchema, in_order
from service.sheets.format.fields import Choice, Many, Whole, Words, length
from service.sheets.format.refusals import MISSING, Path

EDGES = ("binding", "outer", "head", "foot")


class SizeSchema(BlockSchema):
    makes = model.Size
    width_mm = length("Width of the trimmed page.", data_key="width", required=True)
    height_mm = length("Height of the trimmed page.", data_key="height", required=True)


class OtherSizeSchema(SizeSchema):
    makes = model.OtherSize
    folds_mm = Many(
        length("Distance of a fold from the left edge, or from the top."),
        "Where this size folds, if elsewhere: one for each of the sheet's folds, in their order.",
        separate=False,
        data_key="folds",
    )


class PartSchema(BlockSchema):
    makes = model.Part
    name = Words("What these pages are, such as: cover.", required=True)
    first = Whole("How many pages at the beginning of the file belong to it.")
    last = Whole("How many pages at the end of the file belong to it.")
    width_mm = length("Width of these pages, trimmed.", data_key="width", required=True)
    height_mm = length("Height of these pages, trimmed.", data_key="height", required=True)

    def contradictions(self, data: Mapping[str, Any]) -> Iterator[tuple[Path, str]]:
        if not {"first", "last"} & set(data):
            yield (), say("does not say which pages it is: give it first, last or both.")


class TrimSchema(AskingSchema):
    makes = model.TrimAsked
    width_mm = length("Width of the trimmed page.", data_key="width", required=True)
    height_mm = length("Height of the trimmed page.", data_key="height", required=True)
    tolerance_mm = length("How far width and height may differ.", data_key="tolerance", zero=True)
    orientation = Choice(("any", "portrait", "landscape"), "`any` takes width and height swapped.")
    alternatives = Many(fields.Nested(OtherSizeSchema), "Other sizes that are taken as well.")
    scales = Many(Whole("n, for 1 : n."), "Scales 1 : n at which the file may be drawn; without it 1 : 1.")

    parts = Many(fields.Nested(PartSchema), "Pages of a size of their own, such as the cover, in one file with the others.")
    corner_radius_mm = length("Radius of the product's rounded corners.", data_key="corner_radius")

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
        if data.get("corner_radius_mm", 0) > min(width, height) / 2:
            yield ("corner_radius",), say("must be at most half of the shorter side.")
        for index, other in enumerate(data.get("alternatives") or ()):
            if isinstance(other, model.Size) and (other.width_mm, other.height_mm) == (width, height):
                yield ("alternatives", index), say("is the width and height of the product itself.")

    def get_attribute(self, obj: Any, attr: str, default: Any) -> Any:
        return None if attr == "scales" and obj.scales == (1,) else super().get_attribute(obj, attr, default)


class BleedSchema(AskingSchema):
    makes = model.BleedAsked
    minimum_mm = length("Least bleed on each side.", data_key="minimum", required=True, zero=True)
    preferred_mm = length("Bleed that is safer; less is an observation.", data_key="preferred")
    maximum_mm = length("Most bleed that is taken.", data_key="maximum", zero=True)
    binding_mm = length("Least bleed where the pages are bound, if it is another.", data_key="binding", zero=True)
    outer_mm = length("Least bleed at the outer edge, if it is another.", data_key="outer", zero=True)
    head_mm = length("Least bleed at the top, if it is another.", data_key="head", zero=True)
    foot_mm = length("Least bleed at the foot, if it is another.", data_key="foot", zero=True)

    def contradictions(self, data: Mapping[str, Any]) -> Iterator[tuple[Path, str]]:
        yield from in_order(data, "minimum_mm", "maximum_mm", "minimum", say("is more than the maximum."))
        yield from in_order(data, "minimum_mm", "preferred_mm", "preferred", say("is less than the minimum."))
        yield from in_order(data, "preferred_mm", "maximum_mm", "preferred", say("is more than the maximum."))
        for edge in EDGES:
            yield from in_order(data, f"{edge}_mm", "maximum_mm", edge, say("is more than the maximum."))


class MarginStepSchema(BlockSchema):
    makes = model.MarginStep
    from_pages = Whole("From so many pages on.", data_key="from", required=True)
    minimum_mm = length("Safety margin then.", data_key="minimum")
    binding_mm = length("Where the pages are bound.", data_key="binding", zero=True)
    outer_mm = length("At the outer edge.", data_key="outer", zero=True)
    head_mm = length("At the top.", data_key="head", zero=True)
    foot_mm = length("At the foot.", data_key="foot", zero=True)

    def contradictions(self, data: Mapping[str, Any]) -> Iterator[tuple[Path, str]]:
        if set(data) == {"from_pages"}:
            yield (), say("says from how many pages on, and no margin: give it minimum, binding, outer, head or foot.")


class MarginSchema(AskingSchema):
    makes = model.MarginAsked
    minimum_mm = length("Safety margin inside the trim; required without live_area.", data_key="minimum")
    preferred_mm = length("Safety margin that looks right; less is an observation.", data_key="preferred")
    binding_mm = length("Safety margin where the pages are bound, if it is another.", data_key="binding", zero=True)
    outer_mm = length("Safety margin at the outer edge, if it is another.", data_key="outer", zero=True)
    head_mm = length("Safety margin at the top, if it is another.", data_key="head", zero=True)
    foot_mm = length("Safety margin at the foot, if it is another.", data_key="foot", zero=True)
    by_pages = Many(fields.Nested(MarginStepSchema), "Margins of a file of many pages; the last that is reached counts.")
    live_area = fields.Nested(SizeSchema)
    frames = Choice(PERMISSIONS, "Whether a frame may be drawn around the page.")
    frame_minimum_mm = length("How far inside the trim a frame stands.", data_key="frame_minimum")
    frame_width_mm = length("How thick a frame is.", data_key="frame_width")

    def contradictions(self, data: Mapping[str, Any]) -> Iterator[tuple[Path, str]]:
        yield from in_order(data, "minimum_mm", "preferred_mm", "preferred", say("is less than the minimum."))
        for key in ("frame_minimum", "frame_width"):
            if data.get("frames") == "forbidden" and data.get(f"{key}_mm"):
                yield (key,), say("speaks of frames, and margin.frames forbids them.")
        if "live_area" not in data:
            if "minimum_mm" not in data:
                yield ("minimum",), say(MISSING)
        elif given := [key for key in ("minimum", *EDGES) if f"{key}_mm" in data]:
            yield (given[0],), say("cannot stand beside margin.live_area: give the size of the area, or the depths.")

    @post_load
    def make(self, data: dict[str, Any], **more: object) -> Any:
        return super().make({"minimum_mm": 0.0, **data}, **more)

    def get_attribute(self, obj: Any, attr: str, default: Any) -> Any:
        """What follows from the live area is not written beside it."""
        follows = obj.live_area is not None and attr in ("minimum_mm", *(f"{edge}_mm" for edge in EDGES))
        return None if follows else super().get_attribute(obj, attr, default)


class MarksSchema(AskingSchema):
    makes = model.MarksAsked
    crop_marks = Choice(NEEDS, "Crop marks.")
    offset_minimum_mm = length("Least distance of crop marks from the trim.", data_key="offset_minimum")

    def contradictions(self, data: Mapping[str, Any]) -> Iterator[tuple[Path, str]]:
        if data.get("crop_marks") == "forbidden" and data.get("offset_minimum_mm"):
            yield ("offset_minimum",), say("speaks of crop marks, and marks.crop_marks forbids them.")
