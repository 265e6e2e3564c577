"""The sheets for people: `/specs` lists the products, `/specs/{id}` says what is asked of one, beside its drawing to scale."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby
from urllib.parse import urlencode

from babel import Locale
from flask import Blueprint, Response, request

from service.answers.problems import PROBLEMS
from service.api.http.blueprint import parts
from service.api.http.callers.access import owner
from service.api.http.problem_pages import words_on_page
from service.api.http.problems import Problem
from service.api.specs.kept_sheets import every_sheet, find_kept, sheet_of
from service.language.alphabet import by_letters
from service.language.spoken import say, spoken, translated
from service.language.wording import reason
from service.pdf.facts.unknown import Unmeasured
from service.proofs.drawing.sheet_drawing import UNITS, sheet_drawing
from service.proofs.report.sheet import sheet_part
from service.proofs.report.telling import time_said
from service.sheets.model import SpecSheet
from service.sheets.order import KEYS, OrderRefused, for_order
from service.web.choices import Choice, choices, product_named
from service.web.export_advice import export_advice
from service.web.pages import page_answer

blueprint = Blueprint("sheet_pages", __name__, template_folder="templates")


_MOST_REVISIONS = 20
"""That a page lists; all are at `/v1/specs/{id}/revisions`."""


@dataclass(frozen=True)
class Family:
    name: str
    products: tuple[Choice, ...]


@blueprint.route("/specs")
def products() -> Response:
    """All of them, or those that have all of the words, are of the family, and for the country."""
    words, family, country = (request.args.get(name, "").strip()[:100] for name in ("q", "product", "region"))
    sheets = {sheet.id: sheet for _, sheet in every_sheet() if sheet.id}
    found = [one for one in choices() if _fits(one, sheets[one.id], words, family, country)]
    return page_answer(
        "web/products.html",
        families=_by_family(found, sheets),
        count=len(found),
        asked={"q": words, "product": family, "region": country},
        kinds=sorted(
            {(one.product, product_named(one.product)) for one in sheets.values() if one.product},
            key=lambda one: by_letters(one[1]),
        ),
        countries=_countries(list(sheets.values())),
    )


@blueprint.route("/specs/<spec_id>")
def product(spec_id: str) -> Response:
    """One product, at `?revision=` if that is asked for; the order's numbers make a cover as wide as its spine."""
    revision = request.args.get("revision", "")
    kept = find_kept(spec_id, int(revision) if revision.isascii() and revision.isdecimal() and len(revision) < 10 else None)
    sheet = sheet_of(kept.own.complete)
    order = {name: request.args.get(name, "").strip()[:20] for name in KEYS}
    sheet, facts, refused = _ordered(sheet, order)
    units = request.args.get("units", "mm") if request.args.get("units") in UNITS else "mm"
    drawing = sheet_drawing(sheet)
    return page_answer(
        "web/product.html",
        sheet=sheet,
        part=sheet_part(sheet),
        title=translated(sheet.title) or spec_id,
        family=product_named(sheet.product),
        undrawn=reason(drawing) if isinstance(drawing, Unmeasured) else None,
        seen=None if isinstance(drawing, Unmeasured) else drawing.words,
        query=urlencode([*facts.items(), *([("revision", revision)] if revision else [])]),
        order=order,
        refused=refused,
        units=units,
        asks_order=sheet.spine is not None,
        is_own=kept.origin == "own",
        revisions=_revisions(spec_id) if kept.origin == "own" else [],
        advice=export_advice(sheet),
    )


@blueprint.errorhandler(Problem)
def _problem(problem: Problem) -> Response:
    answer = page_answer("web/problem.html", **words_on_page(problem))
    answer.status_code = PROBLEMS[problem.code].status
    return answer


def _revisions(spec_id: str) -> list[tuple[int, str]]:
    """Number and time of each, the newest first."""
    return [(row.revision, time_said(row.created_at)) for row in parts().sheets.revisions(owner(), spec_id)[:_MOST_REVISIONS]]


def _fits(one: Choice, sheet: SpecSheet, words: str, family: str, country: str) -> bool:
    return (
        all(word in one.words for word in words.casefold().split())
        and family in ("", sheet.product)
        and (not country or not sheet.regions or country.upper() in sheet.regions)
    )


def _by_family(found: Sequence[Choice], sheets: dict[str, SpecSheet]) -> list[Family]:
    def family(one: Choice) -> str:
        return product_named(sheets[one.id].product)

    ordered = sorted(found, key=lambda one: (by_letters(family(one)), by_letters(one.title)))
    return [Family(name, tuple(ones)) for name, ones in groupby(ordered, key=family)]


def _countries(sheets: Sequence[SpecSheet]) -> list[tuple[str, str]]:
    names = Locale(spoken()).territories
    found = {(code, str(names.get(code, code))) for sheet in sheets for code in sheet.regions}
    return sorted(found, key=lambda one: by_letters(one[1]))


def _ordered(sheet: SpecSheet, order: Mapping[str, str]) -> tuple[SpecSheet, dict[str, int | float], str | None]:
    """With what was written into the form, as numbers, and what is wrong with it."""
    try:
        facts = {
            name: int(text) if name == "inner_pages" else float(text.replace(",", ".")) for name, text in order.items() if text
        }
        return for_order(sheet, facts), facts, None
    except OrderRefused as refused:
        return sheet, {}, str(refused.errors[0][1])
    except ValueError:
        words = say("Write a whole number of inner pages, and the thickness of a leaf in millimetres, such as 0.11.")
        return sheet, {}, words
