"""The dummy over HTTP: the PDF, what its headers say, and every way in which there is none."""

from __future__ import annotations

import io
from pathlib import Path
from typing import Any

import pikepdf
import pytest

from tests.api.conftest import Start
from tests.api.contract import Caller
from tests.api.http.test_errors import told
from tests.build import document, page

A6 = "trim: {width: 105 mm, height: 148 mm}\npages: {multiple_of: 4}\n"


@pytest.fixture(scope="module")
def six_pages() -> bytes:
    return document(*(page(105, 148).fill(cyan=0.1 * number) for number in range(6))).bytes()


def checked(caller: Caller, file: bytes, sheet: str = A6) -> dict[str, Any]:
    check: dict[str, Any] = caller.check(file, spec_sheet=sheet).get_json()
    assert check["state"] == "finished"
    return check


def test_a_finished_check_leads_to_its_dummy(caller: Caller, six_pages: bytes) -> None:
    check = checked(caller, six_pages)
    assert check["links"]["dummy"] == f"/v1/checks/{check['id']}/dummy"
    answer = caller.get(check["links"]["dummy"])
    assert (answer.status_code, answer.mimetype) == (200, "application/pdf")
    names = ("Kind", "Paper", "Sheets", "Scale-Percent", "Blank-Pages")
    assert [answer.headers[f"Dummy-{name}"] for name in names] == ["booklet", "A4", "2", "100.0", "7, 8"]
    assert answer.headers["Content-Disposition"] == 'attachment; filename="card-dummy.pdf"'
    with pikepdf.open(io.BytesIO(answer.get_data())) as pdf:
        assert len(pdf.pages) == 4
        assert "2 blank pages were added at the end" in str(pdf.docinfo["/Changes"])


def test_paper_flip_blanks_and_caliper_are_asked_for_in_the_address(caller: Caller, six_pages: bytes) -> None:
    dummy = checked(caller, six_pages)["links"]["dummy"]
    answer = caller.get(f"{dummy}?paper=Tabloid&flip=long&blanks=before-last&caliper_mm=0.11")
    assert (answer.headers["Dummy-Paper"], answer.headers["Dummy-Blank-Pages"]) == ("Tabloid", "6, 7")
    with pikepdf.open(io.BytesIO(answer.get_data())) as pdf:
        assert pdf.Root.ViewerPreferences.Duplex == "/DuplexFlipLongEdge"
        assert [float(one) for one in pdf.pages[0].mediabox][2:] == [pytest.approx(17 * 72, 0.001), pytest.approx(11 * 72, 0.001)]
        assert "0.11 mm" in str(pdf.docinfo["/Changes"])


def test_the_sheet_says_what_is_folded(caller: Caller) -> None:
    leaflet = document(page(297, 210).fill(cyan=0.1), page(297, 210)).bytes()
    check = checked(caller, leaflet, "trim: {width: 297 mm, height: 210 mm}\nfolds: [{at: 97 mm, axis: vertical}]\n")
    assert caller.get(check["links"]["dummy"]).headers["Dummy-Kind"] == "leaflet"
    cover = page(304, 210).fill(cyan=0.1).bytes()
    check = checked(caller, cover, "spine: {page_width: 148 mm}\n")
    assert caller.get(check["links"]["dummy"]).headers["Dummy-Kind"] == "cover"


def test_a_dummy_that_the_caller_has_is_not_made_again(caller: Caller, six_pages: bytes, monkeypatch: pytest.MonkeyPatch) -> None:
    dummy = checked(caller, six_pages)["links"]["dummy"]
    first = caller.get(dummy)
    assert first.headers["Cache-Control"] == "private, no-cache"
    assert caller.get(f"{dummy}?flip=long", headers={"If-None-Match": first.headers["ETag"]}).status_code == 200
    monkeypatch.setattr("service.api.proofs.proof_pdfs._made", lambda *_: pytest.fail("it was made again"))
    again = caller.get(dummy, headers={"If-None-Match": first.headers["ETag"]})
    assert (again.status_code, again.headers["ETag"]) == (304, first.headers["ETag"])


def test_it_is_described_with_its_questions_and_headers(caller: Caller) -> None:
    item = caller.description["paths"]["/v1/checks/{check_id}/dummy"]
    asked = {one["name"] for one in [*item.get("parameters", []), *item["get"]["parameters"]]}
    assert asked == {"check_id", "paper", "flip", "blanks", "caliper_mm", "If-None-Match", "lang"}
    answer = item["get"]["responses"]["200"]
    assert list(answer["content"]) == ["application/pdf"]
    assert {"ETag", "Dummy-Kind", "Dummy-Paper", "Dummy-Scale-Percent", "Dummy-Sheets", "Dummy-Blank-Pages"} <= set(
        answer["headers"]
    )


def test_a_name_with_other_letters_is_kept_and_made_safe(caller: Caller, six_pages: bytes) -> None:
    form = {"file": (io.BytesIO(six_pages), 'Brötchen "neu".PDF'), "spec_sheet": A6}
    check = caller.post("/v1/checks", data=form, content_type="multipart/form-data").get_json()
    found = caller.get(check["links"]["dummy"]).headers["Content-Disposition"]
    assert found.startswith('attachment; filename="Brotchen')
    assert "filename*=UTF-8''Br%C3%B6tchen" in found
    assert found.count('"') == 2


# --- Where there is none ------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("question", "pointer"),
    [("paper=A5", "/paper"), ("paper=a4", "/paper"), ("flip=left", "/flip"), ("blanks=middle", "/blanks"),
     ("caliper_mm=-1", "/caliper_mm"), ("caliper_mm=1.5", "/caliper_mm"), ("caliper_mm=nan", "/caliper_mm"),
     ("caliper_mm=thick", "/caliper_mm"), ("sides=2", "/sides"), ("flip=short&flip=long", "/flip")],
)
def test_a_question_that_is_wrong_is_pointed_at(caller: Caller, six_pages: bytes, question: str, pointer: str) -> None:
    dummy = checked(caller, six_pages)["links"]["dummy"]
    assert list(told(caller.get(f"{dummy}?{question}"), "invalid-request")) == [pointer]


def test_a_limit_is_told_as_people_write_a_number(caller: Caller, six_pages: bytes) -> None:
    dummy = checked(caller, six_pages)["links"]["dummy"]
    says = told(caller.get(f"{dummy}?caliper_mm=1.5"), "invalid-request")["/caliper_mm"]
    assert says == "Must be greater than or equal to 0 and less than or equal to 1."


def test_a_check_that_is_not_there_runs_or_failed_has_no_dummy(start: Start, six_pages: bytes) -> None:
    running = start(measure="tests.jobs.faults:waits_for_a_file")
    told(running.get("/v1/checks/nothing/dummy"), "check-not-found")
    check = running.check(six_pages, headers={"Prefer": "respond-async"}).get_json()
    assert check["links"]["dummy"] is None
    answer = running.get(f"/v1/checks/{check['id']}/dummy")
    told(answer, "check-not-finished")
    assert int(answer.headers["Retry-After"]) > 0
    failing = start(measure="tests.jobs.faults:no_such_function")
    check = failing.check(six_pages).get_json()
    told(failing.get(f"/v1/checks/{check['id']}/dummy"), "check-failed")


def test_a_file_that_is_no_longer_kept_has_no_dummy(caller: Caller, six_pages: bytes, tmp_path: Path) -> None:
    check = checked(caller, six_pages)
    (tmp_path / "data0" / "files" / f"{check['id']}.pdf").unlink()
    told(caller.get(check["links"]["dummy"]), "file-forgotten")


def test_a_locked_file_says_why_it_has_no_dummy(caller: Caller) -> None:
    check = checked(caller, document(page(85, 55).fill(cyan=1)).encrypted(user="secret").bytes())
    answer = caller.get(check["links"]["dummy"])
    told(answer, "proof-not-made")
    assert "password" in answer.get_json()["detail"]


@pytest.mark.parametrize("fault", ["aborts", "leaves", "raises", "says_garbage", "draws_nothing_known", "has_a_reason"])
def test_a_file_that_upsets_the_drawing_process_is_a_problem_and_no_pdf(
    caller: Caller, six_pages: bytes, fault: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    check = checked(caller, six_pages)
    monkeypatch.setattr("service.api.proofs.dummies.DUMMY", f"tests.jobs.drawing_faults:{fault}")
    told(caller.get(check["links"]["dummy"]), "proof-not-made")
