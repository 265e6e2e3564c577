"""What the answers about spec sheets and rules hold, and the arguments of their lists, for the OpenAPI description."""

from __future__ import annotations

import marshmallow as ma
from marshmallow import fields
from marshmallow.validate import Length, OneOf, Range

from service.api.schemas import Answer, or_null, says


class SpecsQuery(ma.Schema):
    product = fields.String(metadata={"description": "Only this product, such as business-card."}, validate=Length(max=100))
    region = fields.String(metadata={"description": "Only sheets for this region, such as DE."}, validate=Length(max=100))
    purpose = fields.String(
        metadata={"description": "Only sheets for this purpose."}, validate=OneOf(["print", "client-preview"])
    )
    q = fields.String(
        metadata={"description": "Only sheets whose title, summary or id has these words."}, validate=Length(max=200)
    )
    page = fields.Integer(load_default=1, metadata={"description": "Counted from 1."}, validate=Range(1, 100_000))
    page_size = fields.Integer(load_default=20, metadata={"description": "Sheets a page."}, validate=Range(1, 100))


class SpecQuery(ma.Schema):
    revision = fields.Integer(metadata={"description": "This revision of the sheet."}, validate=Range(1, 10**9))


class SpecLinks(Answer):
    self = fields.String(**says("Address of the sheet."))


class SpecSummary(Answer):
    id = fields.String(**says("Id to send as 'spec'."))
    revision = fields.Integer(**or_null("Counted up with every change."))
    title = fields.String(**or_null("Title of the sheet."))
    product = fields.String(**or_null("Kind of product."))
    regions = fields.List(fields.String(), **says("Where it is customary."))
    purpose = fields.String(**says("What the file is for."))
    summary = fields.String(**or_null("The sheet in a sentence."))
    digest = fields.String(**says("SHA-256 of the sheet's canonical JSON."))
    links = fields.Nested(SpecLinks, **says("Where to go from here."))


class SpecsAnswer(Answer):
    specs = fields.List(fields.Nested(SpecSummary), **says("The sheets of this page, by id."))
    total = fields.Integer(**says("How many sheets there are on all pages."))
    page = fields.Integer(**says("This page."))
    page_size = fields.Integer(**says("Sheets a page."))


class RuleFacts(Answer):
    id = fields.String(**says("Id as it stands in findings and in a sheet's 'levels'."))
    title = fields.String(**says("What the rule claims."))
    why = fields.String(**says("What goes wrong otherwise."))
    remedy = fields.String(**says("What to do about it."))
    knows = fields.String(**says("What it looks at."))
    cannot_know = fields.String(**says("What it does not see."))
    source = fields.String(**says("What it rests on."))
    level = fields.String(validate=OneOf(["must", "should"]), **says("Its level unless the sheet says otherwise."))
    asked_by = fields.String(**says("The sheet's key that asks for it; 'always' for a standing rule."))
    measured = fields.Dict(**says("Key of 'measured' → what it says."))
    required = fields.Dict(**says("Key of 'required' → what it says."))
    measured_by_this_version = fields.Boolean(**says("False for a rule that comes out as not measured whenever it is asked for."))


class RulesAnswer(Answer):
    rules = fields.List(fields.Nested(RuleFacts), **says("Every rule, in the order in which a result lists them."))
