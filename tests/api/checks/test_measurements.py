"""What was measured: in the check's answer while it is small, some pages at a time at an address of its own."""

from __future__ import annotations

import pytest

from tests.api.conftest import Start
from tests.api.contract import Caller
from tests.build import document, page


@pytest.fixture(scope="module")
def leaflet(tmp_path_factory: pytest.TempPathFactory) -> bytes:
    path = tmp_path_factory.mktemp("pdf") / "leaflet.pdf"
    pages = (page(85, 55, bleed=3).fill(cyan=0.5).text(f"Page {number}", size=8, at=(10, 20)) for number in range(1, 8))
    document(*pages).save(path)
    return path.read_bytes()


@pytest.fixture
def check(caller: Caller, leaflet: bytes) -> str:
    return str(caller.check(leaflet).get_json()["id"])


def numbers(caller: Caller, check: str, wanted: str = "") -> list[int]:
    answer = caller.get(f"/v1/checks/{check}/measurements{wanted}")
    assert answer.status_code == 200
    return [one["number"] for one in answer.get_json()["pages"]]


def test_without_a_wish_they_are_those_of_the_check(caller: Caller, check: str) -> None:
    whole = caller.get(f"/v1/checks/{check}").get_json()
    assert whole["links"]["measurements"] == f"/v1/checks/{check}/measurements"
    assert caller.get(whole["links"]["measurements"]).get_json() == whole["measurements"]


def test_pages_are_named_by_numbers_and_ranges(caller: Caller, check: str) -> None:
    assert numbers(caller, check, "?pages=2-4,7") == [2, 3, 4, 7]
    assert numbers(caller, check, "?pages=7") == [7]


@pytest.mark.parametrize("wish", ["0", "3-1", "2,2", "x", "1-51", "5,", "1-40,41-60", ",".join(map(str, range(1, 60)))])
def test_what_is_no_choice_of_pages_is_refused(caller: Caller, check: str, wish: str) -> None:
    answer = caller.get(f"/v1/checks/{check}/measurements?pages={wish}")
    assert (answer.status_code, answer.get_json()["errors"][0]["pointer"]) == (422, "/pages")


def test_a_page_that_is_not_there_is_said(caller: Caller, check: str) -> None:
    answer = caller.get(f"/v1/checks/{check}/measurements?pages=7-8")
    assert (answer.status_code, answer.get_json()["type"]) == (404, "/problems/page-not-found")


def test_many_pages_come_in_parts_that_name_the_next(caller: Caller, check: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("service.api.checks.measurements.MOST_PAGES", 3)
    found, wish = [], ""
    for _ in range(3):
        answer = caller.get(f"/v1/checks/{check}/measurements{wish}")
        found += [one["number"] for one in answer.get_json()["pages"]]
        wish = answer.headers.get("Link", "").partition(">")[0].lstrip("<")
    assert (found, wish) == ([1, 2, 3, 4, 5, 6, 7], "")


def test_a_check_with_more_than_its_answer_may_hold_says_where_they_are(
    caller: Caller, check: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("service.api.checks.measured.MOST_IN_A_CHECK_BYTES", 100)
    whole = caller.get(f"/v1/checks/{check}").get_json()
    assert (whole["state"], whole["measurements"]) == ("finished", None)
    assert numbers(caller, check) == [1, 2, 3, 4, 5, 6, 7]


def test_judging_again_keeps_no_second_copy(caller: Caller, check: str) -> None:
    def kept() -> int:
        with caller.client.application.extensions["print-spec"].measured._engine.connect() as connection:
            return int(connection.exec_driver_sql("select count(*) from measured").scalar())

    for minimum in (1, 2, 4):
        assert caller.check(check=check, spec_sheet=f"bleed: {{minimum: {minimum} mm}}").status_code == 201
    assert kept() == 1


def test_a_check_that_runs_has_none_yet(start: Start, leaflet: bytes) -> None:
    caller = start(measure="tests.jobs.faults:hangs")
    check = caller.check(leaflet, headers={"Prefer": "respond-async"}).get_json()["id"]
    assert caller.get(f"/v1/checks/{check}/measurements").status_code == 409
    assert caller.get("/v1/checks/nobody/measurements").status_code == 404
