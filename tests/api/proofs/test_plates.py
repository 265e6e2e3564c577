"""Plates over HTTP: the list, one ink, the map of total ink, and every way in which there is none."""

from __future__ import annotations

import io
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from pikepdf import Array, Dictionary, Name, Pdf, Stream
from PIL import Image
from werkzeug.test import TestResponse

from tests.api.conftest import Start
from tests.api.contract import Caller
from tests.api.http.test_errors import told
from tests.build import document, page
from tests.build_objects import separation
from tests.patience import until


@pytest.fixture(scope="module")
def two_inks() -> bytes:
    """Cyan to the bleed's edge, a copper box of 30 × 20 mm that knocks it out."""
    return page(85, 55, bleed=3).fill(cyan=1).fill(at=(10, 10, 40, 30), spot=("Copper", 0.7)).bytes()


def plates_of(check: dict[str, Any], number: int | str = 1) -> str:
    return str(check["links"]["plates"]).replace("{page}", str(number))


def opened(answer: TestResponse) -> Image.Image:
    assert (answer.status_code, answer.mimetype) == (200, "image/png"), answer.get_data()[:300]
    return Image.open(io.BytesIO(answer.get_data()))


def grey_at(picture: Image.Image, x_mm: float, y_mm: float, ppi: float = 100) -> Any:
    """Of a plate that shows 3 mm of bleed; mm from the trim's corner."""
    return picture.getpixel((int((x_mm + 3) / 25.4 * ppi), int((y_mm + 3) / 25.4 * ppi)))


def test_the_list_names_each_ink_with_its_coverage_and_leads_to_its_plate(caller: Caller, two_inks: bytes) -> None:
    check = caller.check(two_inks).get_json()
    answer = caller.get(plates_of(check)).get_json()
    assert (answer["page"], answer["ppi"], answer["converted"], answer["area"]) == (1, 100, False, "bleed")
    assert answer["area_mm"] == pytest.approx([-3, -3, 88, 58], abs=0.3)
    copper = 70 * 30 * 20 / (85 * 55)
    assert [(one["name"], one["kind"]) for one in answer["inks"]] == [("Cyan", "process"), ("Copper", "spot")]
    assert answer["inks"][1]["coverage_percent"] == pytest.approx(copper, abs=0.3)
    assert answer["total"]["highest_percent"] == pytest.approx(100, abs=0.5)
    for one, expected in zip(answer["inks"], ((0, 255), (255, pytest.approx(76, abs=1))), strict=True):
        plate = opened(caller.get(one["links"]["plate"]))
        assert plate.size == (answer["width_px"], answer["height_px"])
        assert (grey_at(plate, 5, 5), grey_at(plate, 25, 20)) == expected


def test_the_map_of_total_ink_says_what_its_black_stands_for(caller: Caller, two_inks: bytes) -> None:
    check = caller.check(two_inks).get_json()
    answer = caller.get(f"{plates_of(check)}/total")
    assert float(answer.headers["Plate-Black-Percent"]) == 400
    assert grey_at(opened(answer), 5, 5) == pytest.approx(255 * 0.75, abs=1)
    assert float(caller.get(f"{plates_of(check)}/Cyan").headers["Plate-Black-Percent"]) == 100


def test_a_plate_in_its_own_hue_covers_pixel_for_pixel_what_the_picture_does(caller: Caller, two_inks: bytes) -> None:
    check = caller.check(two_inks).get_json()
    picture = opened(caller.get(f"{check['links']['picture'].replace('{page}', '1')}?show=none&ppi=120"))
    listed = caller.get(f"{plates_of(check)}?area=picture&ppi=120").get_json()
    assert (listed["width_px"], listed["height_px"]) == picture.size
    for ink in listed["inks"]:
        answer = caller.get(f"{ink['links']['plate']}&look=hue")
        plate = opened(answer)
        assert (plate.mode, plate.size) == ("RGB", picture.size)
        assert "Plate-Black-Percent" not in answer.headers
        assert plate.getpixel((2, 2)) == (255, 255, 255)
    assert listed["inks"][0]["hue"] == "#{:02x}{:02x}{:02x}".format(*_pixel(caller, listed["inks"][0], 5, 5))


def _pixel(caller: Caller, ink: dict[str, Any], x_mm: float, y_mm: float) -> Any:
    """Of a plate at 120 ppi that covers what the picture does, 8 mm beyond the trim."""
    plate = opened(caller.get(f"{ink['links']['plate']}&look=hue"))
    return plate.getpixel((int((x_mm + 8) / 25.4 * 120), int((y_mm + 8) / 25.4 * 120)))


def test_the_map_of_total_ink_comes_in_colours_with_a_scale(caller: Caller, two_inks: bytes) -> None:
    sheet = "trim: {width: 85 mm, height: 55 mm}\nbleed: {minimum: 3 mm}\ncolor: {ink_limit: 90 %}\n"
    check = caller.check(two_inks, spec_sheet=sheet).get_json()
    plain = opened(caller.get(f"{plates_of(check)}/total"))
    answer = caller.get(f"{plates_of(check)}/total?look=scale")
    scaled = opened(answer)
    assert (scaled.mode, scaled.width) == ("RGB", plain.width)
    assert scaled.height > plain.height
    assert answer.headers["Content-Language"] == "en"
    colors = {color for _, color in scaled.crop((0, 0, *plain.size)).getcolors(2**24) or ()}
    assert (168, 58, 8) in colors
    without = caller.check(two_inks).get_json()
    unlimited = opened(caller.get(f"{plates_of(without)}/total?look=scale"))
    assert (168, 58, 8) not in {color for _, color in unlimited.getcolors(2**24) or ()}


@pytest.mark.parametrize(("rest", "question"), [("/total", "look=hue"), ("/Cyan", "look=scale"), ("", "look=hue")])
def test_a_look_that_there_is_not_is_pointed_at(caller: Caller, two_inks: bytes, rest: str, question: str) -> None:
    check = caller.check(two_inks).get_json()
    assert list(told(caller.get(f"{plates_of(check)}{rest}?{question}"), "invalid-request")) == ["/look"]


def test_resolution_and_area_are_asked_for_in_the_address_and_kept_in_the_links(caller: Caller, two_inks: bytes) -> None:
    check = caller.check(two_inks).get_json()
    listed = caller.get(f"{plates_of(check)}?ppi=150&area=trim").get_json()
    assert (listed["ppi"], listed["area"]) == (150, "trim")
    plate = opened(caller.get(listed["inks"][0]["links"]["plate"]))
    assert plate.size == (listed["width_px"], listed["height_px"])
    assert plate.size == (pytest.approx(85 / 25.4 * 150, abs=2), pytest.approx(55 / 25.4 * 150, abs=2))
    assert caller.get(listed["links"]["self"]).get_json() == listed


def test_each_page_has_its_own_inks(caller: Caller) -> None:
    file = document(page(85, 55).fill(magenta=1), page(85, 55)).bytes()
    check = caller.check(file).get_json()
    assert [one["name"] for one in caller.get(plates_of(check, 1)).get_json()["inks"]] == ["Magenta"]
    assert caller.get(plates_of(check, 2)).get_json()["inks"] == []
    assert opened(caller.get(f"{plates_of(check, 2)}/total")).getextrema() == (255, 255)


def test_screen_colours_are_told_to_be_converted(caller: Caller) -> None:
    check = caller.check(page(85, 55).fill(rgb=(0.2, 0.4, 0.6)).bytes()).get_json()
    answer = caller.get(plates_of(check)).get_json()
    assert answer["converted"] is True
    assert answer["conversion"]
    assert [one["name"] for one in answer["inks"]] == ["Cyan", "Magenta", "Yellow", "Black"]


@pytest.mark.parametrize("name", ["Bread Crust 7", "Foil/Gold", "total", "..", "Größe?#&=%2F", "100%"])
def test_an_ink_of_any_name_has_an_address(caller: Caller, name: str) -> None:
    built = page(85, 55).resource("ColorSpace", "S", separation(name)).raw(b"/S cs 1 scn -20 -20 400 400 re f")
    check = caller.check(built.bytes()).get_json()
    (ink,) = caller.get(plates_of(check)).get_json()["inks"]
    assert ink["name"] == name
    answer = caller.get(ink["links"]["plate"])
    assert opened(answer).getextrema() == (0, 0)
    assert answer.headers["Plate-Black-Percent"] == "100"


def test_a_plate_that_the_caller_has_is_not_made_again(caller: Caller, two_inks: bytes, monkeypatch: pytest.MonkeyPatch) -> None:
    check = caller.check(two_inks).get_json()
    addresses = [plates_of(check), f"{plates_of(check)}/Cyan", f"{plates_of(check)}/Copper", f"{plates_of(check)}/total"]
    first = [caller.get(one) for one in addresses]
    assert len({one.headers["ETag"] for one in first}) == 4
    assert all(one.headers["Cache-Control"] == "private, no-cache" for one in first)
    monkeypatch.setattr("service.api.proofs.plates._drawn", lambda *_: pytest.fail("it was drawn again"))
    for address, before in zip(addresses, first, strict=True):
        again = caller.get(address, headers={"If-None-Match": before.headers["ETag"]})
        assert (again.status_code, again.headers["ETag"]) == (304, before.headers["ETag"])


def test_another_question_is_another_plate(caller: Caller, two_inks: bytes) -> None:
    check = caller.check(two_inks).get_json()
    tag = caller.get(f"{plates_of(check)}/Cyan").headers["ETag"]
    for question in ("?ppi=101", "?area=trim"):
        assert caller.get(f"{plates_of(check)}/Cyan{question}", headers={"If-None-Match": tag}).status_code == 200


# --- Where there is no plate --------------------------------------------------------------------------------------------


@pytest.mark.parametrize("number", ["2", "0", "-1", "1.5", "x", "999999999999", "²"])
def test_a_page_that_is_not_there_is_told_which_are(caller: Caller, two_inks: bytes, number: str) -> None:
    check = caller.check(two_inks).get_json()
    for rest in ("", "/Cyan", "/total"):
        told(caller.get(plates_of(check, number) + rest), "page-not-found")


@pytest.mark.parametrize("ink", ["Coper", "Magenta", "cyan", "%00", "total%20(ink)"])
def test_an_ink_that_is_not_there_is_told_which_are(caller: Caller, two_inks: bytes, ink: str) -> None:
    check = caller.check(two_inks).get_json()
    answer = caller.get(f"{plates_of(check)}/{ink}")
    told(answer, "ink-not-found")
    assert "Cyan, Copper" in answer.get_json()["detail"]


@pytest.mark.parametrize(
    ("question", "pointer"),
    [("ppi=9", "/ppi"), ("ppi=301", "/ppi"), ("ppi=fine", "/ppi"), ("ppi=", "/ppi"), ("area=slug", "/area"), ("dpi=100", "/dpi"),
     ("ppi=100&ppi=200", "/ppi")],
)
def test_a_question_that_is_wrong_is_pointed_at(caller: Caller, two_inks: bytes, question: str, pointer: str) -> None:
    check = caller.check(two_inks).get_json()
    for rest in ("", "/Cyan", "/total"):
        assert list(told(caller.get(f"{plates_of(check)}{rest}?{question}"), "invalid-request")) == [pointer]


def test_a_check_that_is_not_there_or_was_forgotten_has_no_plates(caller: Caller, two_inks: bytes) -> None:
    told(caller.get("/v1/checks/nothing/pages/1/plates"), "check-not-found")
    check = caller.check(two_inks).get_json()
    caller.delete(check["links"]["self"])
    told(caller.get(f"{plates_of(check)}/Cyan"), "check-not-found")


def test_a_check_that_still_runs_says_when_to_ask_again(start: Start, two_inks: bytes, tmp_path: Path) -> None:
    caller = start(measure="tests.jobs.faults:waits_for_a_file")
    check = caller.check(two_inks, headers={"Prefer": "respond-async"}).get_json()
    assert check["links"]["plates"] is None
    answer = caller.get(f"/v1/checks/{check['id']}/pages/1/plates")
    told(answer, "check-not-finished")
    assert int(answer.headers["Retry-After"]) > 0
    (tmp_path / "data0" / "files" / "go").touch()
    until(lambda: caller.get(check["links"]["self"]).get_json()["state"] == "finished", "finished")
    told(caller.get(f"/v1/checks/{check['id']}/pages/1/plates"), "plates-not-made")


def test_a_check_that_failed_has_no_plates(start: Start, two_inks: bytes) -> None:
    caller = start(measure="tests.jobs.faults:no_such_function")
    check = caller.check(two_inks).get_json()
    assert check["state"] == "failed"
    told(caller.get(f"/v1/checks/{check['id']}/pages/1/plates"), "check-failed")


def test_a_file_that_is_no_longer_kept_has_no_plates(caller: Caller, two_inks: bytes, tmp_path: Path) -> None:
    check = caller.check(two_inks).get_json()
    (tmp_path / "data0" / "files" / f"{check['id']}.pdf").unlink()
    for rest in ("", "/Cyan", "/total"):
        told(caller.get(plates_of(check) + rest), "file-forgotten")


def test_an_unreadable_file_says_why_it_has_no_plates(caller: Caller) -> None:
    check = caller.check(document(page(85, 55).fill(cyan=1)).encrypted(user="secret").bytes()).get_json()
    answer = caller.get(f"/v1/checks/{check['id']}/pages/1/plates")
    told(answer, "plates-not-made")
    assert "password" in answer.get_json()["detail"]


def test_a_page_whose_content_cannot_be_followed_says_why(caller: Caller) -> None:
    built = document(page(85, 55).fill(cyan=1), page(85, 55).fill(cyan=1))

    def lose(pdf: Pdf) -> None:
        pdf.pages[1].obj.Contents = Array([pdf.pages[1].obj.Contents, pdf.make_indirect(Dictionary())])

    check = caller.check(built.also(lose).bytes()).get_json()
    assert caller.get(plates_of(check, 1)).status_code == 200
    for rest in ("", "/Cyan", "/total"):
        told(caller.get(plates_of(check, 2) + rest), "plates-not-made")


def test_a_plate_that_cannot_be_made_of_what_is_painted_says_why(caller: Caller) -> None:
    """A function of no type that there is: what it would paint is nobody's to guess."""

    def unknown(pdf: Pdf) -> object:
        shading = Dictionary(
            ShadingType=2, ColorSpace=Name.DeviceCMYK, Coords=[0, 0, 99, 99], Function=Dictionary(FunctionType=9)
        )
        return pdf.make_indirect(shading)

    built = page(85, 55).fill(cyan=1).resource("Shading", "S", unknown).raw(b"/S sh")
    check = caller.check(built.bytes()).get_json()
    assert check["state"] == "finished"
    told(caller.get(f"/v1/checks/{check['id']}/pages/1/plates"), "plates-not-made")
    told(caller.get(f"/v1/checks/{check['id']}/pages/1/plates/total"), "plates-not-made")


@pytest.mark.parametrize("fault", ["aborts", "leaves", "raises", "says_garbage", "draws_nothing_known", "has_a_reason"])
def test_a_file_that_upsets_the_drawing_process_is_a_problem_and_no_picture(
    caller: Caller, two_inks: bytes, fault: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    check = caller.check(two_inks).get_json()
    monkeypatch.setattr("service.api.proofs.plates.LIST", f"tests.jobs.drawing_faults:{fault}")
    monkeypatch.setattr("service.api.proofs.plates.PLATE", f"tests.jobs.drawing_faults:{fault}")
    for rest in ("", "/Cyan", "/total"):
        told(caller.get(plates_of(check) + rest), "plates-not-made")
    monkeypatch.undo()
    assert caller.get(f"{plates_of(check)}/Cyan").status_code == 200


def test_a_plate_that_takes_too_long_is_given_up(caller: Caller, two_inks: bytes, monkeypatch: pytest.MonkeyPatch) -> None:
    check = caller.check(two_inks).get_json()
    workbench = caller.client.application.extensions["print-spec"].workbench
    monkeypatch.setattr(workbench, "_limits", replace(workbench._limits, seconds=0.5))
    monkeypatch.setattr("service.api.proofs.plates.PLATE", "tests.jobs.drawing_faults:hangs")
    told(caller.get(f"{plates_of(check)}/Cyan"), "out-of-time")


def test_a_bomb_of_a_picture_ends_as_an_answer(caller: Caller) -> None:
    """Twelve kilobytes that unpack to 1.2 thousand million pixels."""

    def bomb(pdf: Pdf) -> object:
        keys = {"Type": Name.XObject, "Subtype": Name.Image, "Width": 35_000, "Height": 35_000, "ColorSpace": Name.DeviceGray}
        return pdf.make_indirect(Stream(pdf, _zeros(35_000 * 35_000 // 8), **keys, BitsPerComponent=1, Filter=Name.FlateDecode))

    built = page(85, 55).fill(cyan=1).resource("XObject", "B", bomb).raw(b"q 100 0 0 100 0 0 cm /B Do Q")
    check = caller.check(built.bytes()).get_json()
    answer = caller.get(f"/v1/checks/{check['id']}/pages/1/plates/total")
    assert answer.status_code in (200, 422)


def _zeros(size: int) -> bytes:
    import zlib

    packer = zlib.compressobj(9)
    return b"".join(packer.compress(bytes(2**20)) for _ in range(size // 2**20)) + packer.flush()


def test_more_askers_than_workers_are_told_to_wait(start: Start, two_inks: bytes) -> None:
    caller = start(workers=1, wait_seconds=0.0)
    check = caller.check(two_inks, headers={"Prefer": "wait=20"}).get_json()
    until(lambda: caller.get(f"/v1/checks/{check['id']}").get_json()["state"] == "finished", "finished")
    check = caller.get(f"/v1/checks/{check['id']}").get_json()
    workbench = caller.client.application.extensions["print-spec"].workbench
    with workbench.turn():
        answer = caller.get(f"{plates_of(check)}/Cyan")
    told(answer, "queue-full")
    assert int(answer.headers["Retry-After"]) > 0
    assert caller.get(f"{plates_of(check)}/Cyan").status_code == 200
