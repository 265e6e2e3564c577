"""What a check holds, for the OpenAPI description."""

from __future__ import annotations

from typing import get_args

from marshmallow import fields
from marshmallow.validate import OneOf

from service.api.checks.links import LinksFacts
from service.api.checks.measurement_shapes import MeasurementsFacts
from service.api.http.shapes import Answer, FileFacts, ProblemAnswer, box, or_null, says
from service.rules.judgement import RuleOutcome, Verdict
from service.sheets.model import Level


class SpecFacts(Answer):
    id = fields.String(**or_null("Null for a sheet that came with the request and has no id."))
    revision = fields.Integer(**or_null("Revision of the stored sheet."))
    title = fields.String(**or_null("Title of the sheet."))
    digest = fields.String(**says("SHA-256 of the sheet's canonical JSON: the same sheet, the same digest."))


class ProgressFacts(Answer):
    stage = fields.String(**says("What is being done, such as 'pages'."))
    page = fields.Integer(**says("How many pages are done."))
    pages = fields.Integer(**says("How many there are."))


class Summary(Answer):
    nonconformities = fields.Integer(**says("Broken musts."))
    observations = fields.Integer(**says("Broken shoulds."))
    headline = fields.String(**says("The result in one line."))


class PlaceFacts(Answer):
    page = fields.Integer(**says("Counted from 1."))
    box_mm = box("Where.")


class FindingFacts(Answer):
    rule = fields.String(**says("Id of the rule; GET /v1/rules explains each."))
    level = fields.String(validate=OneOf(get_args(Level)), **says("must: a nonconformity; should: an observation (RFC 2119)."))
    pages = fields.List(fields.Integer(), **says("Empty for the document as a whole."))
    places = fields.List(fields.Nested(PlaceFacts), **says("Where on the pages."))
    measured = fields.Dict(**says("What was found; the rule's reference lists its keys."))
    required = fields.Dict(**says("What is asked; the rule's reference lists its keys."))
    message = fields.String(**says("Page, place, what was found and what is asked."))
    remedy = fields.String(**says("What to do about it."))
    note = fields.String(**or_null("The printer's own words on this part of the sheet."))


class RuleResult(Answer):
    rule = fields.String(**says("Id of the rule."))
    outcome = fields.String(validate=OneOf(get_args(RuleOutcome)), **says("How it came out."))
    level = fields.String(validate=OneOf(get_args(Level)), **says("Its level under this sheet."))
    reason = fields.String(**or_null("Why it was not measured, or not in full."))


class CheckAnswer(Answer):
    id = fields.String(**says("Id of the check; who knows it may read and delete the check."))
    state = fields.String(
        validate=OneOf(["queued", "running", "finished", "failed"]),
        **says("`failed` is a fault of the service, never of the file."),
    )
    verdict = fields.String(
        validate=OneOf([*get_args(Verdict), None]),
        **or_null("The result; `inconclusive`: nothing broken was found, but a must could not be measured."),
    )
    created_at = fields.DateTime(**says("When the file came."))
    finished_at = fields.DateTime(**or_null("When the result was there."))
    expires_at = fields.DateTime(**says("When the check and its file are forgotten."))
    file = fields.Nested(FileFacts, **says("What was checked."))
    spec = fields.Nested(SpecFacts, **says("What it was checked against."))
    order = fields.Dict(**or_null("What of the order it was judged with, as it was sent; `spec.digest` says nothing of it."))
    progress = fields.Nested(ProgressFacts, **or_null("How far a running check is."))
    problem = fields.Nested(ProblemAnswer, **or_null("Why a failed check failed."))
    summary = fields.Nested(Summary, **or_null("The result in short, once finished."))
    findings = fields.List(fields.Nested(FindingFacts), **says("What does not conform, nonconformities first."))
    rules = fields.List(fields.Nested(RuleResult), **says("How every rule came out."))
    measurements = fields.Nested(
        MeasurementsFacts, **or_null("What was measured, once finished; null where `links.measurements` has more than 2 MB.")
    )
    links = fields.Nested(LinksFacts, **says("Where to go from here."))
