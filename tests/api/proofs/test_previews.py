"""The client preview over HTTP: what comes, what it is called, and every way in which there is none."""

from __future__ import annotations

import io

import pikepdf
import pytest
from werkzeug.test import TestResponse

from service.jobs.children.tasks import Limits
from tests.api.conftest import Start
from tests.api.contract import Caller
from tests.api.http.test_errors import told
from tests.build import document, page


@pytest.fixture(scope="module")
def booklet() -> bytes:
    pages = [page(60, 80).fill(cyan=0.1 * number).text(f"Page {number}", size=12, at=(20, 40)) for number in range(1, 9)]
    return document(*pages).info(Title="Our bread").bytes()


def opened(answer: TestResponse) -> pikepdf.Pdf:
    assert (answer.status_code, answer.mimetype) == (200, "application/pdf"), answer.get_data()[:300]
    return pikepdf.open(io.BytesIO(answer.get_data()))


def widths(answer: TestResponse) -> list[int]:
    """Of the pages, in pages of the booklet."""
    with opened(answer) as pdf:
        return [round(float(one.MediaBox[2]) * 25.4 / 72 / 60) for one in pdf.pages]


def test_a_booklets_preview_comes_as_spreads_under_a_name_of_its_own(caller: Caller, booklet: bytes) -> None:
    sheet = '{"product": "booklet", "pages": {"multiple_of": 4}}'
    check = caller.check(booklet, spec_sheet=sheet).get_json()
    answer = caller.get(check["links"]["preview"])
    assert widths(answer) == [1, 2, 2, 2, 1]
    assert "-preview.pdf" in answer.headers["Content-Disposition"]
    assert answer.headers["ETag"]
    with opened(answer) as pdf:
        assert "cut to the trim" in str(pdf.docinfo["/Changes"])
    again = caller.get(check["links"]["preview"], headers={"If-None-Match": answer.headers["ETag"]})
    assert (again.status_code, again.get_data()) == (304, b"")


def test_arrangement_and_pages_are_chosen_in_the_address(caller: Caller, booklet: bytes) -> None:
    preview = caller.check(booklet).get_json()["links"]["preview"]
    assert widths(caller.get(preview)) == [1] * 8
    assert widths(caller.get(f"{preview}?arrangement=spreads&pages=1-3,8&watermark=For+approval&maximum_size=600kB")) == [1, 2, 1]


@pytest.mark.parametrize(
    ("query", "pointer"),
    [
        ("pages=9", "/pages"), ("pages=2-1", "/pages"), ("ppi=10", "/ppi"), ("quality=99", "/quality"),
        ("maximum_size=600", "/maximum_size"), ("arrangement=piles", "/arrangement"), ("watermark=%E6%89%BF", "/watermark"),
        ("pags=1", "/pags"),
    ],
)
def test_what_cannot_be_asked_is_pointed_at(caller: Caller, booklet: bytes, query: str, pointer: str) -> None:
    preview = caller.check(booklet).get_json()["links"]["preview"]
    assert list(told(caller.get(f"{preview}?{query}"), "invalid-request")) == [pointer]


def test_a_size_that_no_preview_has_is_a_problem_with_the_reason(caller: Caller, booklet: bytes) -> None:
    preview = caller.check(booklet).get_json()["links"]["preview"]
    answer = caller.get(f"{preview}?maximum_size=10kB")
    told(answer, "proof-not-made")
    assert "kB" in answer.get_json()["detail"]


def test_there_is_no_preview_of_an_unknown_check_or_a_locked_file(caller: Caller) -> None:
    told(caller.get("/v1/checks/nothing/preview"), "check-not-found")
    locked = document(page(85, 55)).encrypted(user="secret").bytes()
    preview = caller.check(locked).get_json()["links"]["preview"]
    answer = caller.get(preview)
    told(answer, "proof-not-made")
    assert "password" in answer.get_json()["detail"]


def test_a_preview_that_we_stop_is_not_blamed_on_the_file(
    caller: Caller, booklet: bytes, monkeypatch: pytest.MonkeyPatch
) -> None:
    preview = caller.check(booklet).get_json()["links"]["preview"]
    monkeypatch.setattr("service.api.proofs.previews.PREVIEW", "tests.jobs.drawing_faults:hangs")
    monkeypatch.setattr(caller.client.application.extensions["print-spec"].workbench, "_limits", Limits(0.5, 2**31))
    answer = caller.get(preview)
    told(answer, "out-of-time")
    assert (answer.status_code, answer.headers["Retry-After"]) == (503, "30")


def test_there_is_no_preview_before_the_check_is_finished(start: Start, booklet: bytes) -> None:
    caller = start(measure="tests.jobs.faults:hangs")
    answer = caller.check(booklet, headers={"Prefer": "respond-async"})
    told(caller.get(f"{answer.headers['Location']}/preview"), "check-not-finished")
