"""A PDF in, the sheets that it fits out."""

from __future__ import annotations

import io
from pathlib import Path
from typing import Any

import pytest

from tests.api.conftest import Start
from tests.api.contract import Caller
from tests.api.http.test_errors import PNG, told
from tests.api.specs.test_own_sheets import CARD, kept
from tests.build import document, page


def asked(caller: Caller, pdf: bytes, **fields: Any) -> Any:
    form = {"file": (io.BytesIO(pdf), "what-is-it.pdf"), **fields}
    return caller.post("/v1/specs/matches", data=form, content_type="multipart/form-data")


@pytest.fixture(scope="module")
def flyer(tmp_path_factory: pytest.TempPathFactory) -> bytes:
    path = tmp_path_factory.mktemp("pdf") / "flyer.pdf"
    page(99, 210, bleed=0).fill(cyan=1).save(path)
    return path.read_bytes()


def test_a_dl_flyer_without_bleed_is_told_from_an_a5_one(caller: Caller, flyer: bytes) -> None:
    answer = asked(caller, flyer).get_json()
    best = answer["matches"][0]
    assert best["spec"]["id"] == "leaflet-dl"
    assert {one["about"] for one in best["fits"]} >= {"size", "pages"}
    assert [one["about"] for one in best["against"]] == ["bleed"]
    assert not any("a5" in one["spec"]["id"] for one in answer["matches"])
    assert answer["sizes"] == [{"width_mm": 99.0, "height_mm": 210.0, "trim_source": "trim_box", "pages": [1], "page_count": 1}]
    assert (answer["nearest"], answer["file"]["name"], answer["page_count"]) == ([], "what-is-it.pdf", 1)


def test_a_bare_pdf_is_taken_too(caller: Caller, card: bytes) -> None:
    answer = caller.post("/v1/specs/matches?region=GB&most=1", data=card, content_type="application/pdf")
    assert [one["spec"]["id"] for one in answer.get_json()["matches"]] == ["business-card-85x55"]


def test_what_fits_nothing_is_told_the_nearest_and_the_difference(caller: Caller, tmp_path: Path) -> None:
    page(86.4, 55, bleed=3).fill(cyan=1).save(tmp_path / "a.pdf")
    answer = asked(caller, (tmp_path / "a.pdf").read_bytes(), product="business-card", region="GB").get_json()
    assert answer["matches"] == []
    nearest = answer["nearest"][0]
    assert nearest["spec"]["id"] == "business-card-85x55"
    assert nearest["difference_mm"] == {"width": 1.4, "height": 0.0}
    assert [one["about"] for one in nearest["against"]] == ["size"]


def test_ones_own_sheets_are_among_them(caller: Caller, card: bytes) -> None:
    kept(caller, {**CARD, "pages": {"allowed": [1]}})
    found = {one["spec"]["id"]: one["spec"]["origin"] for one in asked(caller, card).get_json()["matches"]}
    assert found["halyard-card"] == "own"
    assert found["business-card-85x55"] == "stored"


def test_nothing_is_kept_of_the_file(caller: Caller, card: bytes, tmp_path: Path) -> None:
    asked(caller, card)
    told(asked(caller, PNG), "not-a-pdf")
    assert not list(tmp_path.rglob("*.pdf"))


def test_a_pdf_that_cannot_be_opened_is_an_answer(caller: Caller) -> None:
    answer = asked(caller, b"%PDF-1.7\nnothing follows\n")
    assert answer.status_code == 200
    assert answer.get_json()["failure"]["kind"] == "broken"
    assert (answer.get_json()["matches"], answer.get_json()["page_count"]) == ([], None)


def test_a_file_that_measuring_fails_on_is_an_answer(start: Start, card: bytes) -> None:
    answer = asked(start(measure="tests.jobs.faults:aborts"), card)
    assert (answer.status_code, answer.get_json()["failure"]["kind"]) == (200, "hostile")


def test_the_upload_is_held_to_the_limits(start: Start, card: bytes) -> None:
    small = start(maximum_upload_bytes=100)
    told(asked(small, card), "too-large")
    told(small.post("/v1/specs/matches", data={}, content_type="multipart/form-data; boundary=x"), "invalid-request")
    assert set(told(asked(small, card, most="0"), "invalid-request")) == {"/most"}


def test_a_booklet_is_found_by_its_pages(caller: Caller, tmp_path: Path) -> None:
    document(*(page(148, 210, bleed=3).fill(cyan=0.1) for _ in range(12))).save(tmp_path / "b.pdf")
    answer = asked(caller, (tmp_path / "b.pdf").read_bytes()).get_json()
    assert answer["matches"][0]["spec"]["id"] == "booklet-a5-stapled"
    assert not any(one["spec"]["product"] == "flyer" for one in answer["matches"])
