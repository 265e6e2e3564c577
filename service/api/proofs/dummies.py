"""`/v1/checks/{id}/dummy`: the checked file as a dummy to print, fold and staple on a desk."""

from __future__ import annotations

from typing import Any, get_args

import marshmallow as ma
from flask import Response
from flask.views import MethodView
from marshmallow import fields
from marshmallow.validate import Range

from service.api.http.blueprint import BARE_PDF, IF_NONE_MATCH, Blueprint
from service.api.http.languages import LANG
from service.api.proofs.on_demand import on_demand
from service.api.proofs.proof_pdfs import PDF_HEADERS, pdf_answer
from service.api.proofs.query_fields import choice
from service.proofs.dummy.brief import DUMMY, dummy_brief
from service.proofs.dummy.faces import DummyBrief, DummyKind
from service.proofs.dummy.imposition import BlanksPlace
from service.proofs.dummy.wishes import THICKEST_LEAF_MM, DummyWishes, Flip, PaperName

blueprint = Blueprint("dummies", __name__, url_prefix="/v1/checks", description="A dummy to print, fold and staple on a desk.")


class DummyQuery(ma.Schema):
    paper = choice(PaperName, "What it is printed on. Left out: A4, or Letter where the sheet is for North America.")
    flip = choice(
        Flip, "The edge of the paper about which the printer turns it over to print the back.", usual=DummyWishes.flip
    )
    blanks = choice(
        BlanksPlace,
        "Where blank pages go that make a booklet's count a multiple of four: after the last page, before it (it stays the back "
        "cover), or after the first.",
        usual=DummyWishes.blanks,
    )
    caliper_mm = fields.Float(
        load_default=DummyWishes.caliper_mm,
        validate=Range(0, THICKEST_LEAF_MM),
        metadata={"description": "Thickness of a leaf. Pages of inner sheets move towards the fold by it; 0: they do not."},
    )


_HEADERS = {
    **PDF_HEADERS,
    "Dummy-Kind": {"schema": {"type": "string", "enum": list(get_args(DummyKind))}, "description": "What it is a dummy of."},
    "Dummy-Paper": {"schema": {"type": "string", "enum": list(get_args(PaperName))}, "description": "What to print it on."},
    "Dummy-Scale-Percent": {"schema": {"type": "number"}, "description": "100 is the real size; never more."},
    "Dummy-Sheets": {"schema": {"type": "integer"}, "description": "How many sheets of paper it takes."},
    "Dummy-Blank-Pages": {
        "schema": {"type": "string"},
        "description": "Pages of the booklet that were added: '11, 12' or 'none'.",
    },
}


@blueprint.route("/<check_id>/dummy", parameters=[IF_NONE_MATCH, LANG])
class DummyView(MethodView):
    @blueprint.needs("read", unless="link")
    @blueprint.arguments(DummyQuery, location="query")
    @blueprint.response(
        200, {}, content_type=BARE_PDF, headers=_HEADERS,
        description="The PDF, front and back of each sheet in turn. Its Info dictionary says under Changes what was changed.",
    )
    @on_demand(blueprint)
    def get(self, query: dict[str, Any], check_id: str) -> Response:
        """A folding dummy: a booklet's pages in printing order, a leaflet with its folds, a cover with its spine.

        The sheet says which: folds make a leaflet, a spine a cover, and more than two pages a booklet. A dummy shows order, size
        and folds, not colour.
        """
        return pdf_answer(check_id, DUMMY, dummy_brief, DummyWishes(**query), suffix="dummy", headers=_told)


def _told(dummy: DummyBrief) -> dict[str, str]:
    return {
        "Dummy-Kind": dummy.kind,
        "Dummy-Paper": dummy.paper,
        "Dummy-Scale-Percent": f"{100 * dummy.scale:.1f}",
        "Dummy-Sheets": str(dummy.sheets),
        "Dummy-Blank-Pages": ", ".join(map(str, dummy.blanks)) or "none",
    }
