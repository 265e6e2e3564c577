"""A file of another size: the result says which product it fits, and leads to what was asked."""

from __future__ import annotations

import re
from pathlib import Path

from tests.api.contract import Caller
from tests.build import page


def result(caller: Caller, pdf: bytes, **fields: str) -> str:
    check = caller.check(pdf, **fields).get_json()["id"]
    return caller.get(f"/checks/{check}").get_data(as_text=True)


def flyer(tmp_path: Path) -> bytes:
    path = tmp_path / "flyer.pdf"
    page(148, 210, bleed=3).fill(cyan=1).save(path)
    return path.read_bytes()


def test_a_flyer_sent_as_a_card_is_said_to_fit_the_flyer(caller: Caller, tmp_path: Path) -> None:
    text = result(caller, flyer(tmp_path), spec="business-card-85x55")
    assert 'href="/specs/flyer-a5"' in text
    assert text.count("As it is, the file fits:") == 1


def test_a_file_of_the_right_size_names_no_other_product(caller: Caller, card: bytes) -> None:
    assert "As it is, the file fits:" not in result(caller, card, spec="business-card-85x55")


def test_the_result_leads_to_what_was_asked(caller: Caller, card: bytes) -> None:
    text = result(caller, card, spec="business-card-85x55")
    (address,) = re.findall(r'<p class="about">.*href="([^"]+)"', text)
    assert re.fullmatch(r"/specs/business-card-85x55\?revision=\d+", address)
    assert caller.get(address).status_code == 200


def test_a_sheet_that_came_with_the_file_under_a_stored_name_leads_nowhere(caller: Caller, card: bytes) -> None:
    sheet = "id: business-card-85x55\nrevision: 1\ntitle: Mine\ntrim: {width: 85 mm, height: 55 mm}\n"
    assert "/specs/business-card-85x55" not in result(caller, card, spec_sheet=sheet)
