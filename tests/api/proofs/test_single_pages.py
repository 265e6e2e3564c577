"""Single pages over HTTP: the PDF, its name and tag, and every way in which there is none."""

from __future__ import annotations

import io
from pathlib import Path

import pikepdf
import pytest
from werkzeug.test import TestResponse

from tests.api.conftest import Start
from tests.api.contract import Caller
from tests.api.http.test_errors import told
from tests.build import document, page

SHEET = "trim: {width: 100 mm, height: 80 mm}\nbleed: {minimum: 3 mm}\npages: {arrangement: single-pages}\n"


@pytest.fixture(scope="module")
def brochure() -> bytes:
    """A cover, a spread, a back."""
    return document(page(100, 80).fill(cyan=1), page(200, 80).fill(cyan=1), page(100, 80).fill(cyan=1)).bytes()


def address_of(caller: Caller, pdf: bytes) -> str:
    check = caller.check(pdf, spec_sheet=SHEET).get_json()
    assert check["links"]["single_pages"] == f"/v1/checks/{check['id']}/single-pages"
    return str(check["links"]["single_pages"])


def widths(answer: TestResponse) -> list[int]:
    """Of the trimmed pages, mm."""
    assert (answer.status_code, answer.mimetype) == (200, "application/pdf"), answer.get_data()[:300]
    with pikepdf.open(io.BytesIO(answer.get_data())) as pdf:
        return [round(float(one.trimbox[2] - one.trimbox[0]) / 72 * 25.4) for one in pdf.pages]


def test_a_spread_comes_back_as_two_pages_that_conform_where_the_spread_did_not(caller: Caller, brochure: bytes) -> None:
    assert "pages.arrangement" in {one["rule"] for one in caller.check(brochure, spec_sheet=SHEET).get_json()["findings"]}
    answer = caller.get(address_of(caller, brochure))
    assert widths(answer) == [100, 100, 100, 100]
    assert answer.headers["Content-Disposition"] == 'attachment; filename="card-single-pages.pdf"'
    again = caller.check(answer.get_data(), spec_sheet=SHEET).get_json()
    assert {one["rule"] for one in again["findings"] if one["level"] == "must"} == set()


@pytest.mark.parametrize(("spreads", "count"), [("none", 3), ("all", 6), ("2", 4), ("1-2", 5)])
def test_the_caller_may_say_which_pages_are_spreads(spreads: str, count: int, caller: Caller, brochure: bytes) -> None:
    assert len(widths(caller.get(f"{address_of(caller, brochure)}?spreads={spreads}"))) == count


def test_what_the_caller_has_is_not_made_again(caller: Caller, brochure: bytes, monkeypatch: pytest.MonkeyPatch) -> None:
    address = address_of(caller, brochure)
    first = caller.get(address)
    assert first.get_data() == caller.get(address).get_data()
    monkeypatch.setattr("service.api.proofs.proof_pdfs._made", lambda *_: pytest.fail("it was made again"))
    again = caller.get(address, headers={"If-None-Match": first.headers["ETag"]})
    assert (again.status_code, again.headers["ETag"]) == (304, first.headers["ETag"])


@pytest.mark.parametrize(
    ("question", "pointer"),
    [
        ("spreads=4", "/spreads"),
        ("spreads=", "/spreads"),
        ("spreads=two", "/spreads"),
        ("pages=1", "/pages"),
        ("spreads=1&spreads=2", "/spreads"),
    ],
)
def test_a_question_that_is_wrong_is_pointed_at(question: str, pointer: str, caller: Caller, brochure: bytes) -> None:
    assert list(told(caller.get(f"{address_of(caller, brochure)}?{question}"), "invalid-request")) == [pointer]


def test_a_check_that_is_not_there_or_whose_file_is_gone_has_none(caller: Caller, brochure: bytes, tmp_path: Path) -> None:
    told(caller.get("/v1/checks/nothing/single-pages"), "check-not-found")
    address = address_of(caller, brochure)
    (tmp_path / "data0" / "files" / f"{address.split('/')[3]}.pdf").unlink()
    told(caller.get(address), "file-forgotten")


def test_a_check_that_still_runs_has_none_yet(start: Start, brochure: bytes) -> None:
    caller = start(measure="tests.jobs.faults:waits_for_a_file")
    check = caller.check(brochure, headers={"Prefer": "respond-async"}).get_json()
    assert check["links"]["single_pages"] is None
    told(caller.get(f"/v1/checks/{check['id']}/single-pages"), "check-not-finished")


def test_a_locked_file_and_one_protected_against_changes_say_so(caller: Caller, brochure: bytes) -> None:
    locked = document(page(100, 80)).encrypted(user="secret").bytes()
    assert "password" in str(told_detail(caller.get(address_of(caller, locked))))
    out = io.BytesIO()
    with pikepdf.open(io.BytesIO(brochure)) as pdf:
        allow = pikepdf.Permissions(modify_assembly=False, modify_other=False)
        pdf.save(out, encryption=pikepdf.Encryption(user="", owner="owner", allow=allow))
    assert "protect" in str(told_detail(caller.get(address_of(caller, out.getvalue()))))


def told_detail(answer: TestResponse) -> str:
    told(answer, "proof-not-made")
    return str(answer.get_json()["detail"])


def test_it_is_described_as_a_pdf_with_its_question(caller: Caller) -> None:
    item = caller.description["paths"]["/v1/checks/{check_id}/single-pages"]
    names = {one["name"] for one in [*item.get("parameters", []), *item["get"]["parameters"]]}
    assert names == {"check_id", "spreads", "If-None-Match", "lang"}
    assert list(item["get"]["responses"]["200"]["content"]) == ["application/pdf"]
    assert {"ETag", "Content-Disposition"} <= set(item["get"]["responses"]["200"]["headers"])
