"""A sheet as prose, over HTTP and at the terminal alike, and back."""

from __future__ import annotations

from dataclasses import replace

import pytest

from service.__main__ import main
from service.sheets.catalogue import stored_sheets
from service.sheets.format.validation import read_sheet
from tests.api.contract import Caller
from tests.api.http.test_errors import told

CARD = "/v1/specs/business-card-85x55"
PROSE = {"Accept": "text/plain"}


def test_a_sheet_is_told_line_by_line_and_read_back(caller: Caller, capsys: pytest.CaptureFixture[str]) -> None:
    answer = caller.get(f"{CARD}?lang=de", headers=PROSE)
    text = answer.get_data(as_text=True)
    assert (answer.mimetype, answer.headers["Content-Language"]) == ("text/plain", "de")
    assert main(["sheets", "show", "business-card-85x55", "--prose", "--lang", "de"]) == 0
    assert capsys.readouterr().out == text
    draft = caller.post("/v1/specs/readings", data=text.encode(), content_type="text/plain").get_json()["draft"]
    assert read_sheet(draft) == replace(stored_sheets()["business-card-85x55"], id=None, revision=None, aliases=())


def test_each_language_has_its_own_tag(caller: Caller) -> None:
    german, english = caller.get(f"{CARD}?lang=de", headers=PROSE), caller.get(CARD, headers=PROSE)
    assert len({german.headers["ETag"], english.headers["ETag"], caller.get(CARD).headers["ETag"]}) == 3
    assert caller.get(CARD, headers={**PROSE, "If-None-Match": english.headers["ETag"]}).status_code == 304
    told(caller.get(CARD, headers={"Accept": "image/png"}), "not-acceptable")
