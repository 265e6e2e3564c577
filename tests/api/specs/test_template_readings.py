"""`POST /v1/specs/template-readings`: an empty document over HTTP."""

from __future__ import annotations

from tests.api.contract import Caller


def test_our_own_template_becomes_a_draft_that_can_be_kept(caller: Caller) -> None:
    template = caller.get("/v1/specs/leaflet-dl-roll-6/template?format=pdf").get_data()
    answer = caller.post("/v1/specs/template-readings", data=template, content_type="application/pdf").get_json()
    assert answer["draft"] == {
        "trim": {"width": "297 mm", "height": "210 mm"}, "bleed": {"minimum": "3 mm"}, "margin": {"minimum": "3 mm"},
        "folds": [{"at": "97 mm", "axis": "vertical"}, {"at": "197 mm", "axis": "vertical"}],
    }  # fmt: skip
    assert {one["pointer"]: one["source"] for one in answer["values"]}["/bleed/minimum"] == "the BleedBox of page 1"
    assert [one["about"] for one in answer["questions"]] == ["pages"]
    kept = caller.post("/v1/specs", json={"id": "ours", "title": "Ours", "product": "leaflet", **answer["draft"]})
    assert kept.status_code == 201


def test_what_is_no_empty_document_is_refused_or_asked(caller: Caller) -> None:
    for sent, status in ((b"no PDF", 415), (b"%PDF-1.7\nbroken", 422), (b"", 415)):
        answer = caller.post("/v1/specs/template-readings", data=sent, content_type="application/pdf")
        assert answer.status_code == status
    german = caller.post("/v1/specs/template-readings?lang=de", data=b"%PDF-1.7\nbroken", content_type="application/pdf")
    assert german.headers["Content-Language"] == "de"
