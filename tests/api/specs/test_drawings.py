"""`/v1/specs/{id}/drawing` and `…/template` over HTTP."""

from __future__ import annotations

import io

import pikepdf
import pytest

from tests.api.contract import Caller

CARD = "/v1/specs/business-card-85x55"


def test_a_drawing_is_an_svg_unless_a_pdf_is_wanted(caller: Caller) -> None:
    drawn = caller.get(f"{CARD}/drawing")
    assert (drawn.mimetype, drawn.headers["Content-Disposition"]) == (
        "image/svg+xml", 'inline; filename="business-card-85x55-drawing.svg"',
    )  # fmt: skip
    assert "85 mm" in drawn.get_data(as_text=True)
    for wish in ({"path": f"{CARD}/drawing?format=pdf"}, {"path": f"{CARD}/drawing", "headers": {"Accept": "application/pdf"}}):
        as_pdf = caller.get(**wish)
        assert (as_pdf.mimetype, as_pdf.get_data()[:5]) == ("application/pdf", b"%PDF-")


def test_a_drawing_speaks_the_language_and_the_unit_of_its_reader(caller: Caller) -> None:
    assert "Beschnittzugabe 3\u00a0mm" in caller.get(f"{CARD}/drawing?lang=de").get_data(as_text=True)
    assert "3.5 in" in caller.get("/v1/specs/business-card-us/drawing?units=in").get_data(as_text=True)


def test_a_drawing_that_is_the_same_is_not_sent_again(caller: Caller) -> None:
    tag = caller.get(f"{CARD}/drawing").headers["ETag"]
    assert caller.get(f"{CARD}/drawing", headers={"If-None-Match": tag}).status_code == 304
    assert caller.get(f"{CARD}/drawing?units=in", headers={"If-None-Match": tag}).status_code == 200


def test_a_drawing_opened_by_itself_runs_and_fetches_nothing(caller: Caller) -> None:
    assert caller.get(f"{CARD}/drawing").headers["Content-Security-Policy"] == (
        "default-src 'none'; style-src 'unsafe-inline'; sandbox"
    )


def test_a_cover_needs_what_only_the_order_knows(caller: Caller) -> None:
    refused = caller.get("/v1/specs/book-a5-cover/drawing")
    assert (refused.status_code, refused.get_json()["type"]) == (422, "/problems/sheet-not-drawn")
    drawn = caller.get("/v1/specs/book-a5-cover/drawing?inner_pages=96&caliper_mm=0.11")
    assert "301.9 mm" in drawn.get_data(as_text=True)


def test_a_template_is_a_pdf_of_empty_pages(caller: Caller) -> None:
    made = caller.get("/v1/specs/booklet-a5-stapled/template?pages=12")
    assert made.headers["Content-Disposition"] == 'attachment; filename="booklet-a5-stapled-template.pdf"'
    with pikepdf.open(io.BytesIO(made.get_data())) as pdf:
        assert len(pdf.pages) == 12


def test_a_template_as_svg_holds_the_page_that_is_asked_for(caller: Caller) -> None:
    address = "/v1/specs/envelope-dl-window/template?format=svg"
    front, back = (caller.get(f"{address}&page={page}").get_data() for page in (1, 2))
    assert front != back
    beyond = caller.get(f"{address}&page=3")
    assert (beyond.status_code, beyond.get_json()["detail"]) == (404, "The document has 2 pages.")


@pytest.mark.parametrize("count", [7, 10, 84])
def test_a_template_of_a_count_that_the_sheet_refuses_is_refused(caller: Caller, count: int) -> None:
    refused = caller.get(f"/v1/specs/booklet-a5-stapled/template?pages={count}")
    assert (refused.status_code, refused.get_json()["type"]) == (422, "/problems/sheet-not-drawn")
    assert "a multiple of 4" in refused.get_json()["detail"]


def test_a_sheet_of_ones_own_is_drawn_at_each_of_its_revisions(caller: Caller) -> None:
    sheet = {"id": "halyard-card", "title": "Card", "product": "business-card", "extends": "business-card-85x55"}
    assert caller.post("/v1/specs", json=sheet).status_code == 201
    tag = caller.get("/v1/specs/halyard-card").headers["ETag"]
    wider = {**sheet, "trim": {"width": "90 mm"}}
    assert caller.call("PUT", "/v1/specs/halyard-card", json=wider, headers={"If-Match": tag}).status_code == 200
    assert "90 mm" in caller.get("/v1/specs/halyard-card/drawing").get_data(as_text=True)
    assert "85 mm" in caller.get("/v1/specs/halyard-card/drawing?revision=1").get_data(as_text=True)


@pytest.mark.parametrize(
    ("address", "status"),
    [
        ("/v1/specs/no-such-sheet/drawing", 404),
        (f"{CARD}/drawing?revision=9", 404),
        (f"{CARD}/drawing?units=ells", 422),
        (f"{CARD}/template?pages=0", 422),
        (f"{CARD}/drawing?caliper_mm=0", 422),
    ],
)
def test_what_is_wrong_in_the_address_is_a_problem(caller: Caller, address: str, status: int) -> None:
    assert caller.get(address).status_code == status


def test_another_kind_of_file_is_not_to_be_had(caller: Caller) -> None:
    assert caller.get(f"{CARD}/drawing", headers={"Accept": "image/png"}).status_code == 406
