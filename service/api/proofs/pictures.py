"""`/v1/checks/{id}/pages/{page}/picture`: a page as it will print, its boxes and what was found upon it; crops.

Made on demand from the file of a finished check, in the sandbox, legend and all.
"""

from __future__ import annotations

import logging
from typing import Any

import marshmallow as ma
from flask import Response
from flask.views import MethodView
from marshmallow import fields

from service.api.checks.answer import judgement_of
from service.api.http.blueprint import IF_NONE_MATCH, Blueprint, parts
from service.api.http.languages import LANG, in_spoken_language
from service.api.http.problems import busy
from service.api.proofs.on_demand import kept, on_demand, tag_of, unchanged
from service.api.proofs.page_drawings import PAGE, drawn, file_of, measured_page
from service.api.proofs.query_fields import whole_number
from service.jobs.checking import sheet_of
from service.jobs.children.tasks import DrawingTask
from service.jobs.queue_full import QueueFull
from service.language.spoken import LANGUAGES, say
from service.pdf.facts.unknown import Unmeasured
from service.proofs.picture.crops_brief import CROPS, CropsBrief, read_crops
from service.proofs.picture.markers.page_markup import picture_brief
from service.proofs.picture.page_brief import PICTURE, read_picture
from service.proofs.picture.wishes import SHOWN, PictureWishes, shown_named
from service.proofs.wishes import PAGE_PPI
from service.store.models import CheckRow

log = logging.getLogger(__name__)

_NOT_MADE = "picture-not-made"

blueprint = Blueprint("pictures", __name__, url_prefix="/v1/checks", description="Pages as pictures, with what was found.")


def _is_known(text: str) -> None:
    if shown_named(text) is None:
        raise ma.ValidationError(say("Write {all}, one of the two, or none.", all=",".join(SHOWN)))


class PictureQuery(ma.Schema):
    ppi = whole_number(PAGE_PPI, "Pixels an inch; lines and letters grow with it. Very large pages are made coarser.")
    show = fields.String(
        load_default=",".join(PictureWishes.shown),
        validate=_is_known,
        metadata={
            "description": "What is drawn upon the page, with a legend below it: `boxes` (trim, bleed, safety margin, folds), "
            "`findings` (their places, numbered as in the check's list), both with a comma between; `none`: the bare page."
        },
    )
    lang = fields.String(metadata={"description": LANG["description"], "enum": list(LANGUAGES)})


_HEADERS = {
    "ETag": {"schema": {"type": "string"}, "description": "Stays the same as long as the picture does."},
    "Picture-Made-From": {
        "schema": {"type": "string", "enum": ["plates", "rendering"]},
        "description": "`plates`: of the page's ink plates, as it will print. `rendering`: these cannot be made, and the page is "
        "shown as a common reader shows it, without overprint.",
    },
    "Picture-Colors": {
        "schema": {"type": "string", "enum": ["output intent", "common reader"]},
        "description": "What turned process inks into screen colours: the profile of the file's output intent, or what a common "
        "reader shows.",
    },
    "Picture-Ppi": {"schema": {"type": "number"}, "description": "As made; lower than asked for on a very large page."},
}


@blueprint.route("/<check_id>/pages/<page>/picture", parameters=[PAGE, IF_NONE_MATCH])
class PictureView(MethodView):
    @blueprint.needs("read", unless="link")
    @blueprint.arguments(PictureQuery, location="query")
    @blueprint.response(
        200, {}, content_type="image/png", headers=_HEADERS,
        description="RGB. Trim and bleed with 5 mm around; where the file has no paper, the desk shows. A legend is added below.",
    )
    @on_demand(blueprint)
    def get(self, query: dict[str, Any], check_id: str, page: str) -> Response:
        """A page as it will print, on a screen; its boxes and findings drawn upon it. No proof of colour."""
        row, measured = measured_page(check_id, page, _NOT_MADE)
        judgement = judgement_of(row)
        wishes = PictureWishes(query["ppi"], shown_named(query["show"]) or ())
        brief = picture_brief(measured, sheet_of(row), judgement.findings if judgement else (), wishes)
        tag = tag_of(row, PICTURE, brief)
        if known := unchanged(tag):
            return in_spoken_language(known) if brief.legend else known
        task = DrawingTask(pdf=file_of(row), brief=brief, draw=PICTURE)
        made, png = drawn(task, measured.number, lambda data: read_picture(data, brief), _NOT_MADE)
        answer = kept(Response(png, mimetype="image/png"), tag)
        answer.headers["Picture-Made-From"] = made.of
        answer.headers["Picture-Colors"] = made.colors
        answer.headers["Picture-Ppi"] = f"{brief.frame.ppi:.1f}"
        return in_spoken_language(answer) if brief.legend else answer


# --- For reports --------------------------------------------------------------------------------------------------------


def crops_of(row: CheckRow, brief: CropsBrief) -> tuple[bytes | None, ...]:
    """The pictures as PNG in the order of the brief; None for one that cannot be made of this file, or whose file is gone.

    Raises `Problem` where too many are waiting.
    """
    nothing = (None,) * len(brief.crops)
    if not brief.crops:
        return ()
    try:
        packed = parts().workbench.drawn(DrawingTask(pdf=parts().blobs.path(row.id), brief=brief, draw=CROPS))
    except FileNotFoundError:
        return nothing
    except QueueFull as full:
        raise busy(full) from full
    if isinstance(packed, Unmeasured):
        return nothing
    try:
        return read_crops(packed, brief)
    except ValueError as error:
        log.warning("a drawing process sent what ours does not draw: %.300s", error)
        return nothing
