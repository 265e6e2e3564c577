"""The block on colours and inks."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from marshmallow import fields

from service.language.spoken import say
from service.pdf.facts.painted.colors import NEAR_NOTHING, NEAR_SOLID
from service.sheets.asked import colors as model
from service.sheets.format.block import PERMISSIONS, AskingSchema, BlockSchema, in_order
from service.sheets.format.fields import Choice, Many, Whole, Words, area, percent
from service.sheets.format.lengths import plain_decimal
from service.sheets.format.refusals import Path


class SpotsSchema(BlockSchema):
    makes = model.SpotsAsked
    maximum = Whole("Most spot inks; 0 for none.", least=0)
    allowed = Many(Words("Name of an ink."), "The only spot inks taken.")

    def contradictions(self, data: Mapping[str, Any]) -> Iterator[tuple[Path, str]]:
        if data.get("maximum") == 0 and data.get("allowed"):
            yield ("allowed",), say("names inks, and color.spots.maximum is 0.")


class TintsSchema(BlockSchema):
    makes = model.TintsAsked
    minimum_percent = percent("Least tint that prints, of the strongest ink of a colour.", data_key="minimum")
    maximum_percent = percent("Greatest tint that does not fill in; solid ink is none.", data_key="maximum")

    def contradictions(self, data: Mapping[str, Any]) -> Iterator[tuple[Path, str]]:
        yield from _in_reach(data, "minimum_percent", "minimum", most=100 * NEAR_NOTHING)
        yield from _in_reach(data, "maximum_percent", "maximum", least=100 * NEAR_SOLID, most=100)


class RichBlackSchema(BlockSchema):
    makes = model.RichBlack
    ink_limit_percent = percent("Most ink in total in a black of several inks.", data_key="ink_limit")
    cyan_percent = percent("Cyan of the printer's recipe.", data_key="cyan", zero=True)
    magenta_percent = percent("Magenta of the recipe.", data_key="magenta", zero=True)
    yellow_percent = percent("Yellow of the recipe.", data_key="yellow", zero=True)
    black_percent = percent("Black of the recipe.", data_key="black")

    def contradictions(self, data: Mapping[str, Any]) -> Iterator[tuple[Path, str]]:
        inks = ("cyan_percent", "magenta_percent", "yellow_percent", "black_percent")
        for ink in inks:
            yield from _in_reach(data, ink, ink.removesuffix("_percent"), most=100)
        total = sum(data.get(ink) or 0 for ink in inks)
        if data.get("ink_limit_percent") and total > data["ink_limit_percent"]:
            yield ("ink_limit",), say("is less than the recipe, which adds up to {total} %.", total=plain_decimal(total))


def _in_reach(data: Mapping[str, Any], key: str, at: str, *, least: float = 0, most: float) -> Iterator[tuple[Path, str]]:
    if data.get(key) is not None and not least <= data[key] <= most:
        yield (at,), say("must be between {least} and {most} %.", least=plain_decimal(least), most=plain_decimal(most))


class ColorSchema(AskingSchema):
    makes = model.ColorAsked
    allowed = Many(Choice(("cmyk", "gray", "rgb", "lab"), "A family of colour."), "Families of colour taken. Spots are apart.")
    spots = fields.Nested(SpotsSchema)
    ink_limit_percent = percent("Most ink in total.", data_key="ink_limit")
    ink_area_mm2 = area("How much of a page may be over the limit.", data_key="ink_area", zero=True)
    ink_preferred_percent = percent("Ink in total that prints well; more is an observation.", data_key="ink_preferred")
    ink_minimum_percent = percent("Least ink in total of a colour.", data_key="ink_minimum")
    tint = fields.Nested(TintsSchema)
    rich_black = fields.Nested(RichBlackSchema)
    rgb_level = Choice(("must", "should"), "Level of RGB where it is not allowed.")
    icc_profiles = Choice(PERMISSIONS, "Colours that carry an ICC profile of their own.")

    def contradictions(self, data: Mapping[str, Any]) -> Iterator[tuple[Path, str]]:
        yield from _in_reach(data, "ink_minimum_percent", "ink_minimum", most=100 * NEAR_NOTHING)
        yield from in_order(data, "ink_preferred_percent", "ink_limit_percent", "ink_preferred", say("is more than the limit."))
        if "ink_preferred_percent" in data and "ink_limit_percent" not in data:
            yield ("ink_preferred",), say("belongs to color.ink_limit, which is missing.")
        if data.get("rgb_level") and ("allowed" not in data or "rgb" in data["allowed"]):
            yield ("rgb_level",), say(
                "is for RGB that is not allowed: list the other families in color.allowed, or leave it out."
            )
        if "ink_area_mm2" in data and "ink_limit_percent" not in data:
            yield ("ink_area",), say("belongs to color.ink_limit, which is missing.")

    def get_attribute(self, obj: Any, attr: str, default: Any) -> Any:
        unasked = attr == "ink_area_mm2" and obj.ink_limit_percent is None
        return None if unasked else super().get_attribute(obj, attr, default)
