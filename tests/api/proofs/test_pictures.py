"""Pages as pictures over HTTP: what is shown, in which language, and every way in which there is none."""

from __future__ import annotations

import io
from pathlib import Path
from typing import Any

import pytest
from pikepdf import Array, Dictionary, Name, Pdf
from PIL import Image
from werkzeug.test import TestResponse

from service.api.checks.measured import measurements_of, needed
from service.api.proofs.pictures import crops_of
from service.jobs.checking import now
from service.pdf.facts.unknown import Unmeasured
from service.proofs.picture.crops_brief import CropsBrief, thumbnail_brief
from tests.api.conftest import Start
from tests.api.contract import Caller
from tests.api.http.test_errors import told
from tests.build import document, page


def picture_of(check: dict[str, Any], number: int | str = 1) -> str:
    return str(check["links"]["picture"]).replace("{page}", str(number))


def opened(answer: TestResponse) -> Image.Image:
    assert (answer.status_code, answer.mimetype) == (200, "image/png"), answer.get_data()[:300]
    picture = Image.open(io.BytesIO(answer.get_data()))
    assert picture.mode == "RGB"
    return picture


def test_a_finished_check_leads_to_the_picture_of_each_page(caller: Caller) -> None:
    check = caller.check(document(page(85, 55).fill(cyan=1), page(85, 55).fill(magenta=1)).bytes()).get_json()
    assert check["links"]["picture"] == f"/v1/checks/{check['id']}/pages/{{page}}/picture"
    first, second = (opened(caller.get(f"{picture_of(check, number)}?show=none")) for number in (1, 2))
    assert first.size == second.size == (round(101 / 25.4 * 100), round(71 / 25.4 * 100))
    assert first.getpixel((200, 140)) == pytest.approx((0, 174, 239), abs=3)
    assert second.getpixel((200, 140)) == pytest.approx((237, 2, 140), abs=3)


def test_pages_of_a_long_file_are_read_one_by_one(caller: Caller, monkeypatch: pytest.MonkeyPatch) -> None:
    """What is large is read by whoever asks for all of it, and by nobody who asks for a page."""
    check = caller.check(document(page(85, 55).fill(cyan=1), page(148, 210).fill(magenta=1)).bytes()).get_json()
    monkeypatch.setattr("service.api.checks.measured._LARGE_BYTES", 100)
    monkeypatch.setattr("service.api.checks.measured.measurements_from_json", lambda _: pytest.fail("all pages are read"))
    monkeypatch.setattr("service.jobs.again.recent.RecentlyMeasured.get", lambda *_: None)
    first, second = (opened(caller.get(f"{picture_of(check, number)}?show=none")) for number in (1, 2))
    assert first.size < second.size
    assert caller.get(picture_of(check, 3)).status_code == 404


def test_it_is_told_how_the_picture_was_made(caller: Caller, card: bytes) -> None:
    answer = caller.get(picture_of(caller.check(card).get_json()))
    told_by = [answer.headers[f"Picture-{name}"] for name in ("Made-From", "Colors", "Ppi")]
    assert told_by == ["plates", "common reader", "100.0"]
    assert answer.headers["Content-Language"] == "en"


def test_what_was_found_is_drawn_with_a_legend_below(caller: Caller, card_without_bleed: bytes) -> None:
    check = caller.check(card_without_bleed).get_json()
    bare, marked = (opened(caller.get(picture_of(check) + more)) for more in ("?show=none", ""))
    assert marked.width == bare.width
    assert marked.height > bare.height
    colors = {color for _, color in marked.getcolors(2**24) or ()}
    assert (168, 58, 8) in colors
    only_boxes = opened(caller.get(f"{picture_of(check)}?show=boxes"))
    assert (168, 58, 8) not in {color for _, color in only_boxes.getcolors(2**24) or ()}


def test_the_resolution_is_asked_for_in_the_address(caller: Caller, card: bytes) -> None:
    check = caller.check(card).get_json()
    small, large = (opened(caller.get(f"{picture_of(check)}?show=none&ppi={ppi}")) for ppi in (50, 200))
    assert large.size == tuple(pytest.approx(4 * side, abs=3) for side in small.size)


def test_each_question_has_a_tag_of_its_own_and_is_not_drawn_twice(
    caller: Caller, card: bytes, monkeypatch: pytest.MonkeyPatch
) -> None:
    check = caller.check(card).get_json()
    addresses = [picture_of(check) + more for more in ("", "?show=none", "?show=boxes", "?ppi=101")]
    first = [caller.get(one) for one in addresses]
    assert len({one.headers["ETag"] for one in first}) == 4
    assert {one.headers["Cache-Control"] for one in first} == {"private, no-cache"}
    monkeypatch.setattr("service.api.proofs.pictures.drawn", lambda *_: pytest.fail("it was drawn again"))
    for address, before in zip(addresses, first, strict=True):
        again = caller.get(address, headers={"If-None-Match": before.headers["ETag"]})
        assert (again.status_code, again.headers["ETag"]) == (304, before.headers["ETag"])
        assert again.headers.get("Vary") == before.headers.get("Vary")


@pytest.mark.parametrize("show", ["boxes,findings", "findings,boxes", "findings", "boxes", "none"])
def test_what_can_be_shown(caller: Caller, card: bytes, show: str) -> None:
    opened(caller.get(f"{picture_of(caller.check(card).get_json())}?show={show}"))


@pytest.mark.parametrize(
    ("question", "pointer"),
    [("ppi=9", "/ppi"), ("ppi=301", "/ppi"), ("ppi=fine", "/ppi"), ("show=", "/show"), ("show=none,boxes", "/show"),
     ("show=marks", "/show"), ("dpi=100", "/dpi")],
)
def test_a_question_that_is_wrong_is_pointed_at(caller: Caller, card: bytes, question: str, pointer: str) -> None:
    check = caller.check(card).get_json()
    assert list(told(caller.get(f"{picture_of(check)}?{question}"), "invalid-request")) == [pointer]


def test_crops_of_a_check_come_in_order(caller: Caller, card: bytes) -> None:
    check = caller.check(card).get_json()
    app = caller.client.application
    with app.app_context():
        parts = app.extensions["print-spec"]
        row = parts.checks.get(check["id"], now())
        pages = needed(measurements_of(row)).pages
        assert not isinstance(pages, Unmeasured)
        brief = CropsBrief((thumbnail_brief(pages[0]), thumbnail_brief(pages[0], height=100)))
        large, small = crops_of(row, brief)
        assert large is not None
        assert small is not None
        with Image.open(io.BytesIO(small)) as picture:
            assert picture.height == 100
        assert crops_of(row, CropsBrief(())) == ()
        parts.blobs.forget(check["id"])
        assert crops_of(row, brief) == (None, None)


@pytest.mark.parametrize("fault", ["aborts", "says_garbage", "draws_nothing_known", "has_a_reason"])
def test_a_report_whose_file_upsets_the_drawing_process_goes_without_crops(
    caller: Caller, card: bytes, fault: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    check = caller.check(card).get_json()
    monkeypatch.setattr("service.api.proofs.pictures.CROPS", f"tests.jobs.drawing_faults:{fault}")
    app = caller.client.application
    with app.app_context():
        row = app.extensions["print-spec"].checks.get(check["id"], now())
        pages = needed(measurements_of(row)).pages
        assert not isinstance(pages, Unmeasured)
        assert crops_of(row, CropsBrief((thumbnail_brief(pages[0]),))) == (None,)


# --- Where there is no picture ------------------------------------------------------------------------------------------


@pytest.mark.parametrize("number", ["2", "0", "-1", "x", "999999999999"])
def test_a_page_that_is_not_there_is_told_which_are(caller: Caller, card: bytes, number: str) -> None:
    told(caller.get(picture_of(caller.check(card).get_json(), number)), "page-not-found")


def test_a_check_that_is_not_there_has_no_picture(caller: Caller, card: bytes) -> None:
    told(caller.get("/v1/checks/nothing/pages/1/picture"), "check-not-found")
    check = caller.check(card).get_json()
    caller.delete(f"/v1/checks/{check['id']}")
    told(caller.get(picture_of(check)), "check-not-found")


def test_a_check_that_runs_has_no_picture_yet(start: Start, card: bytes) -> None:
    caller = start(measure="tests.jobs.faults:hangs")
    check = caller.check(card, headers={"Prefer": "respond-async"}).get_json()
    assert check["links"]["picture"] is None
    told(caller.get(f"/v1/checks/{check['id']}/pages/1/picture"), "check-not-finished")


def test_a_file_that_is_no_longer_kept_has_no_picture(caller: Caller, card: bytes, tmp_path: Path) -> None:
    check = caller.check(card).get_json()
    (tmp_path / "data0" / "files" / f"{check['id']}.pdf").unlink()
    told(caller.get(picture_of(check)), "file-forgotten")


def test_an_unreadable_file_says_why_it_has_no_picture(caller: Caller) -> None:
    check = caller.check(document(page(85, 55).fill(cyan=1)).encrypted(user="secret").bytes()).get_json()
    answer = caller.get(f"/v1/checks/{check['id']}/pages/1/picture")
    told(answer, "picture-not-made")
    assert "password" in answer.get_json()["detail"]


def test_a_page_whose_plates_cannot_be_made_is_shown_all_the_same(caller: Caller) -> None:
    """Its content cannot be followed to the end; what a common reader shows of it is better than nothing, and is told as such."""

    def unknown(pdf: Pdf) -> object:
        keys = {"ShadingType": 2, "ColorSpace": Name.DeviceCMYK, "Coords": [0, 0, 99, 99], "Function": Dictionary(FunctionType=9)}
        return pdf.make_indirect(Dictionary(**keys))

    def lose(pdf: Pdf) -> None:
        pdf.pages[1].obj.Contents = Array([pdf.pages[1].obj.Contents, pdf.make_indirect(Dictionary())])

    shaded = page(85, 55).fill(cyan=1).resource("Shading", "S", unknown).raw(b"q 0 0 5 5 re W n /S sh Q")
    check = caller.check(document(shaded, page(85, 55).fill(cyan=1)).also(lose).bytes()).get_json()
    for number in (1, 2):
        answer = caller.get(f"{picture_of(check, number)}?show=none")
        assert answer.headers["Picture-Made-From"] == "rendering"
        assert opened(answer).getpixel((200, 140)) == pytest.approx((0, 174, 239), abs=3)


@pytest.mark.parametrize("fault", ["aborts", "leaves", "raises", "says_garbage", "draws_nothing_known", "has_a_reason"])
def test_a_file_that_upsets_the_drawing_process_is_a_problem_and_no_picture(
    caller: Caller, card: bytes, fault: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    check = caller.check(card).get_json()
    monkeypatch.setattr("service.api.proofs.pictures.PICTURE", f"tests.jobs.drawing_faults:{fault}")
    told(caller.get(picture_of(check)), "picture-not-made")
    monkeypatch.undo()
    assert caller.get(picture_of(check)).status_code == 200
