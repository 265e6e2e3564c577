"""What is drawn while nobody asks is a whole picture: what would be left out, a first caller would wait for."""

from __future__ import annotations

import pytest
from PIL import ImageFont

from service.proofs.picture import screen_inks
from service.proofs.picture.markers import lettering
from service.proofs.picture.page_brief import Made, read_picture
from service.proofs.picture.practised import BRIEF, practise


def test_it_is_a_page_s_picture_made_of_its_plates() -> None:
    drawn = practise()
    assert isinstance(drawn, bytes)
    made, _ = read_picture(drawn, BRIEF)
    assert made == Made("plates", "common reader")


def test_typefaces_and_tables_are_there_afterwards(monkeypatch: pytest.MonkeyPatch) -> None:
    practise()
    monkeypatch.setattr(ImageFont, "truetype", lambda *_, **__: pytest.fail("a typeface is read again"))
    lettering.font(lettering.TEXT)
    assert screen_inks._table.cache_info().currsize == 1
