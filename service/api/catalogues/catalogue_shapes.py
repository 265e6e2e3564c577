"""What the answers about catalogues hold, for the OpenAPI description."""

from __future__ import annotations

from marshmallow import fields

from service.api.http.shapes import Answer, or_null, says
from service.sheets.printers.document import LONGEST_ID


class CatalogueAnswer(Answer):
    id = fields.String(**says(f"Lowercase words and digits joined by dashes, {LONGEST_ID} characters at most."))
    revision = fields.Integer(**says("Counted up with every change."))
    title = fields.String(**says("The printer's name, or that of the catalogue."))
    defaults = fields.Dict(**says("Keys of a sheet, laid over every sheet of the catalogue."))
    sheets = fields.List(fields.Raw(), **says("Ids of sheets, and whole sheets of the catalogue's own."))


class CatalogueLinks(Answer):
    self = fields.String(**says("Address of the catalogue."))
    specs = fields.String(**says("Its sheets, to be searched."))


class CatalogueSummary(Answer):
    id = fields.String(**says("Id of the catalogue."))
    revision = fields.Integer(**says("Counted up with every change."))
    title = fields.String(**says("The printer's name, or that of the catalogue."))
    sheets = fields.Integer(**says("How many sheets it has."))
    created_at = fields.DateTime(**says("When this revision was sent."))
    digest = fields.String(**says("SHA-256 of what was sent and of every sheet that it came to."))
    links = fields.Nested(CatalogueLinks, **says("Where to go from here."))


class CataloguesAnswer(Answer):
    catalogues = fields.List(fields.Nested(CatalogueSummary), **says("By id."))


class CatalogueRevisionsAnswer(Answer):
    id = fields.String(**says("Id of the catalogue."))
    deleted_at = fields.DateTime(**or_null("When it was deleted."))
    revisions = fields.List(fields.Nested(CatalogueSummary), **says("The newest first."))
