"""The guide's table of rooms is that of the code, and every room says what it is for."""

from __future__ import annotations

from tests.rooms import GUIDE, ROOT, purpose, table, used_by, with_table


def test_the_guide_has_the_rooms_that_there_are() -> None:
    text = GUIDE.read_text(encoding="utf-8")
    assert with_table(text) == text, "run `python -m tests.rooms`"


def test_every_room_says_what_it_is_for() -> None:
    silent = [str(one.parent) for one in (ROOT / "service").rglob("*/__init__.py") if not purpose(one.parent).endswith(".")]
    assert not silent


def test_a_room_stands_on_what_its_modules_import() -> None:
    assert used_by(ROOT / "service" / "language") <= {"language"}
    assert {"pdf", "sheets", "language"} <= used_by(ROOT / "service" / "rules")
    assert "| `rules/file/` | " in table()
