"""Where to go from a check: the addresses as its answers carry them, and what the OpenAPI description says of each."""

from __future__ import annotations

from marshmallow import fields

from service.api.http.shapes import Answer, or_null, says


class LinksFacts(Answer):
    self = fields.String(**says("Address of this check."))
    events = fields.String(**says("How far the check is, told as it goes (Server-Sent Events)."))
    report = fields.String(**says("The result for people: an HTML page, or PDF; until then how far the check is."))
    measurements = fields.String(**or_null("What was measured, some pages at a time. Null until finished."))
    picture = fields.String(**or_null("A page's picture (PNG), as a URI template like `plates`. Null until finished."))
    plates = fields.String(
        **or_null("A page's ink plates, as a URI template (RFC 6570): write the page's number for {page}. Null until finished.")
    )
    preview = fields.String(**or_null("A light PDF for the client's mail and screen. Null until finished."))
    dummy = fields.String(**or_null("A dummy to print, fold and staple on a desk (PDF). Null until finished."))
    single_pages = fields.String(**or_null("The file as single pages (PDF): spreads cut, boxes written. Null until finished."))


_BELOW_THE_CHECK = {
    "self": "",
    "events": "/events",
    "report": "/report",
    "measurements": "/measurements",
    "picture": "/pages/{page}/picture",
    "plates": "/pages/{page}/plates",
    "preview": "/preview",
    "dummy": "/dummy",
    "single_pages": "/single-pages",
}
_AT_ONCE = ("self", "events", "report")
"""The others are there once the check is finished."""


def links_answer(check_id: str, *, finished: bool) -> dict[str, str | None]:
    return {
        name: f"/v1/checks/{check_id}{below}" if finished or name in _AT_ONCE else None
        for name, below in _BELOW_THE_CHECK.items()
    }
