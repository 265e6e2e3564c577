"""The schema of a spec sheet: every key with its kind, and what may not stand together within one block.

One schema a block reads the sheet's own format into the records of `service.sheets.model` and writes them back (`block` has what
they share, `file_block` the longest). What blocks say of each other is in `contradictions`.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import cache
from typing import Any

from marshmallow import fields, post_load

from service.language.spoken import say, to_say
from service.sheets import model
from service.sheets.format.block import NEEDS, PERMISSIONS, AskingSchema, BlockSchema, in_order
from service.sheets.format.color_block import ColorSchema
from service.sheets.format.contradictions import between_blocks
from service.sheets.format.edge_blocks import BleedSchema, MarginSchema, MarksSchema, TrimSchema
from service.sheets.format.fields import (
    BoxOnPage,
    Choice,
    Flag,
    Levels,
    Many,
    Whole,
    Words,
    length,
    percent,
    ppi,
    type_size,
)
from service.sheets.format.file_block import FileSchema
from service.sheets.format.refusals import Path
from service.sheets.variants import with_live_area

FOLD_TYPES = ("half", "zigzag", "roll", "gate")
FONT_FORMATS = ("type-1", "truetype", "type-3")
FINISH_KINDS = ("cut", "kiss-cut", "crease", "perforation", "hole", "numbering", "white", "foil", "varnish", "embossing")
BOXES = ("trim", "bleed", "crop", "art", "media")
CORNERS = ("top-left", "top-right", "bottom-left", "bottom-right")
_NAME = r"[a-z0-9]+(-[a-z0-9]+)*"
_NAME_OF_SHEET = rf"({_NAME}/)?{_NAME}"
"""One of a catalogue has the catalogue's name before its own."""
_NAME_SAID = to_say("lowercase words and digits joined by dashes, such as business-card-85x55")


class PagesSchema(AskingSchema):
    makes = model.PagesAsked
    allowed = Many(Whole("A count of pages."), "The only counts of pages taken.")
    minimum = Whole("Fewest pages.")
    maximum = Whole("Most pages.")
    multiple_of = Whole("The count of pages must be a multiple of this.")
    arrangement = Choice(("single-pages", "reader-spreads", "any"), "How pages stand in the file.")
    rotation = Choice(PERMISSIONS, "Pages that are turned for display.")
    boxes = Many(Choice(BOXES, "A box of a page (ISO 32000-2:2020, 14.11.2)."), "Boxes that every page is to have.")

    def contradictions(self, data: Mapping[str, Any]) -> Iterator[tuple[Path, str]]:
        allowed, multiple = data.get("allowed"), data.get("multiple_of")
        minimum, maximum = data.get("minimum"), data.get("maximum")
        for key in ("minimum", "maximum"):
            if allowed and data.get(key):
                yield (key,), say("cannot stand beside pages.allowed: list the counts, or give the range.")
        for index, count in enumerate(allowed or ()):
            if multiple and count % multiple:
                yield ("allowed", index), say(
                    "is {count}, which is no multiple of {multiple} as pages.multiple_of asks.", count=count, multiple=multiple
                )
        above = say("is {minimum}, more than the maximum of {maximum}.", minimum=str(minimum), maximum=str(maximum))
        yield from in_order(data, "minimum", "maximum", "minimum", above)
        if multiple and maximum and (minimum or 1) <= maximum < -(-(minimum or 1) // multiple) * multiple:
            yield ("multiple_of",), say(
                "is {multiple}, and no multiple of it lies between {minimum} and {maximum} pages.",
                multiple=multiple, minimum=minimum or 1, maximum=maximum,
            )


class ResolutionSchema(BlockSchema):
    makes = model.Resolution
    minimum_ppi = ppi("Fewest pixels an inch.", data_key="minimum")
    preferred_ppi = ppi("Pixels an inch that look right; fewer are an observation.", data_key="preferred")
    maximum_ppi = ppi("More than this many pixels an inch are of no use.", data_key="maximum")

    def contradictions(self, data: Mapping[str, Any]) -> Iterator[tuple[Path, str]]:
        yield from in_order(data, "minimum_ppi", "preferred_ppi", "preferred", say("is less than the minimum."))
        yield from in_order(data, "minimum_ppi", "maximum_ppi", "minimum", say("is more than the maximum."))
        yield from in_order(data, "preferred_ppi", "maximum_ppi", "preferred", say("is more than the maximum."))


class ImagesSchema(AskingSchema):
    makes = model.ImagesAsked
    contone = fields.Nested(ResolutionSchema, data_key="contone_ppi")
    bilevel = fields.Nested(ResolutionSchema, data_key="bilevel_ppi")
    jpeg = Choice(PERMISSIONS, "Pictures that are stored as JPEG.")


class TextSchema(AskingSchema):
    makes = model.TextAsked
    minimum_size_pt = type_size("Smallest type.", data_key="minimum_size")
    reversed_minimum_size_pt = type_size("Smallest type in white on colour.", data_key="reversed_minimum_size")
    rich_black_minimum_size_pt = type_size("Smallest type in black of several inks.", data_key="rich_black_minimum_size")
    black_alone = Flag("Whether black text must be in black ink alone.")

    def get_attribute(self, obj: Any, attr: str, default: Any) -> Any:
        return None if attr == "black_alone" and not obj.black_alone else super().get_attribute(obj, attr, default)


class LinesSchema(AskingSchema):
    makes = model.LinesAsked
    minimum_width_pt = type_size("Thinnest line.", data_key="minimum_width")
    reversed_minimum_width_pt = type_size("Thinnest white line on colour.", data_key="reversed_minimum_width")


class FontsSchema(AskingSchema):
    makes = model.FontsAsked
    embedded = Choice(("required", "allowed"), "Whether fonts must be in the file.")
    outlines = Choice(("required", "allowed"), "Whether text must be turned to outlines.")
    formats = Many(Choice(FONT_FORMATS, "A kind of font."), "The only kinds of fonts taken.")

    def get_attribute(self, obj: Any, attr: str, default: Any) -> Any:
        return None if attr == "outlines" and obj.outlines == "allowed" else super().get_attribute(obj, attr, default)


class TransparencySchema(AskingSchema):
    makes = model.TransparencyAsked
    live = Choice(NEEDS, "Transparency that is not flattened.")


class KeepClearSchema(AskingSchema):
    makes = model.KeepClearArea
    name = Words("What the area is for.", required=True)
    box_mm = BoxOnPage("[left, top, right, bottom] from the top-left corner of the trimmed page.", data_key="box", required=True)
    pages = Many(Whole("A page."), "Pages that it holds for; without it all.")
    corner = Choice(CORNERS, "The corner that the box is measured from, inwards; without it the top-left one.")
    free_of = Choice(("ink", "text"), "`text`: pictures and colour may stand there.")

    def get_attribute(self, obj: Any, attr: str, default: Any) -> Any:
        unsaid = (attr, getattr(obj, attr, None)) in (("corner", "top-left"), ("free_of", "ink"))
        return None if unsaid else super().get_attribute(obj, attr, default)


class FoldSchema(AskingSchema):
    makes = model.Fold
    at_mm = length("Distance of the fold from the left edge, or from the top.", data_key="at", required=True)
    axis = Choice(("vertical", "horizontal"), "A vertical fold runs from top to bottom.", required=True)


class FoldingSchema(AskingSchema):
    makes = model.FoldingAsked
    type = Choice(FOLD_TYPES, "How the product folds.", required=True)
    single_pages = Choice(PERMISSIONS, "Each panel of an upright half fold as a page of its own, in the order of reading.")


class SpineSchema(AskingSchema):
    makes = model.SpineAsked
    page_width_mm = length("Width of the front or back cover.", data_key="page_width", required=True)
    page_height_mm = length("Height of the cover.", data_key="page_height")
    caliper_mm = length("Thickness of one leaf of the inner paper.", data_key="caliper")
    cover_caliper_mm = length("Thickness of the cover's paper.", data_key="cover_caliper", zero=True)
    inner_pages = Whole("Count of inner pages, two a leaf.", least=2)
    text_free_mm = length("How far text keeps from the folds of the spine.", data_key="text_free", zero=True)
    tolerance_mm = length("How far the spine may differ.", data_key="tolerance", zero=True)


class FinishSchema(AskingSchema):
    makes = model.Finish
    ink = Words("Name of the spot ink that stands for the finish.", required=True)
    kind = Choice(
        FINISH_KINDS,
        "What the finish is; bleed and margin are measured from the line of a `cut`, and of each piece of a `kiss-cut`.",
    )
    also = Many(Words("Name of an ink."), "Other names that its plate may have.")
    must_overprint = Flag("Whether its artwork must overprint.")
    overprint_level = Choice(("must", "should"), "Level of that alone, where it is another than that of the finish.")
    artwork = Choice(("vector", "any"), "Whether pictures may stand on its plate.")
    required = Flag("Whether the plate must be there.")


class PaperSchema(BlockSchema):
    makes = model.Paper
    name = Words("The paper, as an order names it.", required=True)
    ink_limit_percent = percent("Most ink in total on this paper.", data_key="ink_limit")
    maximum_pages = Whole("Most pages of this paper.")


class ReferenceSchema(BlockSchema):
    makes = model.Reference
    name = Words("The standard, publication or practice.", longest=500, required=True)
    about = Words("The keys that rest on it.", required=True)


class SpecSheetSchema(BlockSchema):
    """A whole sheet. `validation.read_sheet` adds what a schema cannot know: the rules, and who stores it."""

    makes = model.SpecSheet
    must_ask = False  # `read_sheet` looks: a sheet with an identity alone asks for nothing either
    id = Words("Name of the sheet.", longest=129, form=_NAME_OF_SHEET, form_said=_NAME_SAID)
    revision = Whole("Counts the versions of the sheet.")
    title = Words("Name of the product, for people.")
    product = Words("Name of the product, the same in every region.", longest=64, form=_NAME, form_said=_NAME_SAID)
    regions = Many(
        Words("A country.", form="[A-Z]{2}", form_said=to_say("a country's two capital letters (ISO 3166-1), such as GB")),
        "Countries that it is for; without it everywhere.",
    )
    purpose = Choice(("print", "client-preview"), "What the file is for.")
    summary = Words("The product in a sentence.", longest=1000)
    names = Many(Words("A name."), "Other names that people look for it by, in any language.")
    aliases = Many(Words("An id.", form=_NAME, form_said=_NAME_SAID), "Other ids under which it is found.")
    references = Many(fields.Nested(ReferenceSchema), "Where the numbers come from.", separate=False)
    note = Words("The printer's own words on the whole sheet.", longest=2000)
    file = fields.Nested(FileSchema)
    pages = fields.Nested(PagesSchema)
    trim = fields.Nested(TrimSchema)
    bleed = fields.Nested(BleedSchema)
    margin = fields.Nested(MarginSchema)
    marks = fields.Nested(MarksSchema)
    color = fields.Nested(ColorSchema)
    images = fields.Nested(ImagesSchema)
    text = fields.Nested(TextSchema)
    lines = fields.Nested(LinesSchema)
    fonts = fields.Nested(FontsSchema)
    transparency = fields.Nested(TransparencySchema)
    keep_clear = Many(fields.Nested(KeepClearSchema), "Areas that stay free.")
    folds = Many(fields.Nested(FoldSchema), "Where the product is folded.")
    folding = fields.Nested(FoldingSchema)
    spine = fields.Nested(SpineSchema)
    finishes = Many(fields.Nested(FinishSchema), "Foil, varnish, cut lines: inks that are not printed in colour.")
    papers = Many(fields.Nested(PaperSchema), "What the papers of the product change; the order says which it is.")
    levels = Levels("Turns a rule up, down or off, by its id.")

    def contradictions(self, data: Mapping[str, Any]) -> Iterator[tuple[Path, str]]:
        return between_blocks(data)

    @post_load
    def make(self, data: dict[str, Any], **more: object) -> Any:
        return with_live_area(super().make(data, **more))


@cache
def whole_sheet() -> SpecSheetSchema:
    """Made once: making one copies every field of every block, which takes longer than reading a sheet."""
    return SpecSheetSchema()


@cache
def _full_keys() -> Mapping[str, str]:
    """Where a key belongs that stands in the wrong block: 'tolerance' → 'trim.tolerance'."""
    homes: dict[str, str] = {}
    for block, field in whole_sheet().load_fields.items():
        if isinstance(field, fields.Nested) and isinstance(field.schema, BlockSchema):
            for key in field.schema.known_keys():
                homes.setdefault(key, f"{block}.{key}")
    return homes


BlockSchema.homes_of_keys = _full_keys
