"""What the answers about spec sheets hold, and the arguments of their lists, for the OpenAPI description."""

from __future__ import annotations

import marshmallow as ma
from marshmallow import fields
from marshmallow.validate import Length, OneOf, Range

from service.api.http.shapes import Answer, or_null, says
from service.sheets.format.blocks import SpecSheetSchema
from service.sheets.format.fields import Words


class SpecsQuery(ma.Schema):
    product = fields.String(metadata={"description": "Only this product, such as business-card."}, validate=Length(max=100))
    region = fields.String(metadata={"description": "Only sheets for this region, such as DE."}, validate=Length(max=100))
    purpose = fields.String(
        metadata={"description": "Only sheets for this purpose."}, validate=OneOf(["print", "client-preview"])
    )
    q = fields.String(
        metadata={"description": "Only sheets whose title, summary or id has these words."}, validate=Length(max=200)
    )
    origin = fields.String(
        metadata={"description": "Only those that came with the service, or only one's own."}, validate=OneOf(["stored", "own"])
    )
    trim = fields.String(
        metadata={"description": "Only sheets of this trimmed size, such as 85x55, 3.5 x 2 in or A5; in any order and unit."},
        validate=Length(max=100),
    )
    catalogue = fields.String(
        metadata={"description": "The sheets of this catalogue, instead of stored and own ones."}, validate=Length(max=64)
    )
    page = fields.Integer(load_default=1, metadata={"description": "Counted from 1."}, validate=Range(1, 100_000))
    page_size = fields.Integer(load_default=20, metadata={"description": "Sheets a page."}, validate=Range(1, 100))


class CatalogueSheetQuery(ma.Schema):
    revision = fields.Integer(metadata={"description": "This revision."}, validate=Range(1, 10**9))
    units = fields.String(
        load_default="mm",
        validate=OneOf(["mm", "in"]),
        metadata={"description": "Lengths in this unit; inches are rounded to 0.0001 in."},
    )


class SpecQuery(CatalogueSheetQuery):
    resolved = fields.Boolean(
        load_default=True,
        truthy={"true", "1"},
        falsy={"false", "0"},
        metadata={"description": "false: the sheet as it was written, with 'extends' and without what comes from there."},
    )


class SpecLinks(Answer):
    self = fields.String(**says("Address of the sheet."))


class SpecSummary(Answer):
    id = fields.String(**says("Id to send as 'spec'; of a catalogue's sheet with the catalogue's before it and '/' between."))
    revision = fields.Integer(**or_null("Counted up with every change."))
    title = fields.String(**or_null("Title of the sheet."))
    product = fields.String(**or_null("Kind of product."))
    regions = fields.List(fields.String(), **says("Where it is customary."))
    purpose = fields.String(**says("What the file is for."))
    summary = fields.String(**or_null("The sheet in a sentence."))
    origin = fields.String(
        validate=OneOf(["stored", "own", "catalogue"]),
        **says("stored: it came with the service; own: somebody sent it; catalogue: it is one of a catalogue's."),
    )
    extends = fields.String(**or_null("The sheet that an own one, or one of a catalogue, was laid over."))
    digest = fields.String(**says("SHA-256 of the sheet's canonical JSON."))
    links = fields.Nested(SpecLinks, **says("Where to go from here."))


class SpecsAnswer(Answer):
    specs = fields.List(fields.Nested(SpecSummary), **says("The sheets of this page, by id."))
    total = fields.Integer(**says("How many sheets there are on all pages."))
    page = fields.Integer(**says("This page."))
    page_size = fields.Integer(**says("Sheets a page."))


class SheetAnswer(SpecSheetSchema):
    extends = Words("The stored sheet that it was laid over.")


class SpecRevision(Answer):
    revision = fields.Integer(**or_null("Number of the revision."))
    created_at = fields.DateTime(**or_null("When it was sent; null for a sheet that came with the service."))
    digest = fields.String(**says("SHA-256 of the complete sheet's canonical JSON, as in a check."))
    links = fields.Nested(SpecLinks, **says("Where to read it."))


class RevisionsAnswer(Answer):
    id = fields.String(**says("Id of the sheet."))
    deleted_at = fields.DateTime(**or_null("When it was deleted."))
    revisions = fields.List(fields.Nested(SpecRevision), **says("The newest first."))
