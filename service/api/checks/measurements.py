"""`/v1/checks/{id}/measurements`: what was measured, some pages at a time."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from typing import Any

import marshmallow as ma
from flask import Response, jsonify
from flask.views import MethodView
from marshmallow import fields
from marshmallow.validate import Length

from service.answers.measurements import measurement_answer
from service.api.checks.kept_checks import found_check
from service.api.checks.measured import needed, reading
from service.api.checks.measurement_shapes import MeasurementsFacts
from service.api.http.blueprint import Blueprint
from service.api.http.languages import LANG, in_spoken_language
from service.api.http.problems import Problem
from service.api.tokens import cross_origin
from service.language.spoken import say, to_say
from service.pdf.facts.page import Page
from service.pdf.facts.unknown import Unmeasured

MOST_PAGES = 50
"""In one answer."""

blueprint = Blueprint("measurements", __name__, url_prefix="/v1/checks", description="What a check has measured.")

_WRITE_PAGES = to_say("Write pages as {example}: numbers from 1, in rising order, {most} at most.")
_EXAMPLE = "1-20,25"


class MeasurementsQuery(ma.Schema):
    pages = fields.String(
        validate=Length(max=200),
        metadata={"description": f"Such as {_EXAMPLE}; {MOST_PAGES} pages at most. Without it the first {MOST_PAGES}."},
    )


@blueprint.route("/<check_id>/measurements", parameters=[LANG])
class MeasurementsView(MethodView):
    @blueprint.needs("read", unless="link")
    @blueprint.arguments(MeasurementsQuery, location="query")
    @blueprint.response(
        200, MeasurementsFacts, description="The file as a whole, and what was measured of these pages.",
        headers={"Link": {"schema": {"type": "string"}, "description": "The next pages (RFC 8288)."}},
    )
    @blueprint.alt_response(404, "NOT_FOUND")
    @blueprint.alt_response(409, "CONFLICT")
    @blueprint.alt_response(422, "UNPROCESSABLE_ENTITY")
    @blueprint.alt_response(429, "TOO_MANY_REQUESTS")
    def get(self, query: dict[str, Any], check_id: str) -> Response:
        """What a check has measured, some pages at a time; images, fonts and inks are those of these pages."""
        row = found_check(check_id)
        cross_origin.let_read(row.origin)
        if row.state in ("queued", "running"):
            detail = say("The check is still waiting or running; its measurements can be had once it is finished.")
            raise Problem("check-not-finished", detail, headers={"Retry-After": "2"})
        if row.state != "finished" or row.measured is None:
            raise Problem("check-failed", say("The check failed, so that nothing was measured. Send the PDF again."))
        wanted = _pages_named(query["pages"]) if query.get("pages") else None
        with reading(row) as found:
            measurements = needed(found)
            pages = measurements.pages
            if isinstance(pages, Unmeasured):
                return _answer(measurement_answer(measurements))
            shown = _chosen(pages, wanted)
            answer = _answer(measurement_answer(replace(measurements, pages=tuple(shown))))
        if shown and shown[-1].number < len(pages):
            following = shown[-1].number + 1
            answer.headers["Link"] = f'<?pages={following}-{min(following + MOST_PAGES - 1, len(pages))}>; rel="next"'
        return answer


def _answer(measured: dict[str, Any]) -> Response:
    answer = jsonify(measured)
    answer.headers["Cache-Control"] = "no-store"
    return in_spoken_language(answer)


def _chosen(pages: Sequence[Page], wanted: Sequence[int] | None) -> Sequence[Page]:
    if wanted is None:
        return pages[:MOST_PAGES]
    if wanted[-1] > len(pages):
        detail = say("The file has {count} pages; there is no page {page}.", count=len(pages), page=wanted[-1])
        raise Problem("page-not-found", detail)
    return [pages[number - 1] for number in wanted]


def _pages_named(text: str) -> list[int]:
    """'1-3,7' → 1, 2, 3, 7. Raises `Problem`."""
    numbers: list[int] = []
    for part in text.split(","):
        found = re.fullmatch(r"\s*([1-9]\d{0,5})(?:-([1-9]\d{0,5}))?\s*", part)
        first, last = (int(found[1]), int(found[2] or found[1])) if found else (0, 0)
        if not found or last < first or last - first >= MOST_PAGES or (numbers and first <= numbers[-1]):
            raise _no_pages()
        numbers.extend(range(first, last + 1))
    if len(numbers) > MOST_PAGES:
        raise _no_pages()
    return numbers


def _no_pages() -> Problem:
    detail = say(_WRITE_PAGES, example=_EXAMPLE, most=MOST_PAGES)
    return Problem("invalid-request", detail, errors=[("/pages", detail)])
