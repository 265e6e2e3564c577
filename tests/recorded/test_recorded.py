"""The recorder itself: two recordings of one service agree, and what has changed is told."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.recorded.check_calls import CARD, send
from tests.recorded.compare import differences
from tests.recorded.files import Made, card
from tests.recorded.play import not_played
from tests.recorded.recorder import Recorder
from tests.recorded.served import served
from tests.recorded.spec_calls import own_sheets


def recorded(folder: Path, **settings: str) -> Path:
    with served(folder.with_name(f"{folder.name}-data"), **settings) as service:
        here = Recorder(folder, service.address)
        own_sheets(here.inside("own-sheets"))
        check = send(here, "check", Made("card", card(bleed=2).bytes()), spec=CARD)
        for name, path in {"result": "", "picture": "/pages/1/picture?ppi=20", "dummy": "/dummy"}.items():
            here.get(name, f"/v1/checks/{check}{path}")
        here.get("start", "/")
    return folder


@pytest.fixture(scope="module")
def before(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return recorded(tmp_path_factory.mktemp("recorded") / "before")


def test_two_recordings_of_the_same_service_agree(before: Path, tmp_path: Path) -> None:
    assert list(differences(before, recorded(tmp_path / "after"))) == []
    assert {"check.txt", "picture.png", "dummy.pdf", "start.txt"} <= {path.name for path in before.iterdir()}


def test_an_answer_that_changed_is_told_with_what_changed_in_it(before: Path, tmp_path: Path) -> None:
    told = list(differences(before, recorded(tmp_path / "after", MAXIMUM_UPLOAD="7 MB")))
    assert [one.partition(":")[0] for one in told] == ["start.txt"]
    assert "7 MB" in told[0]


def test_an_answer_that_is_gone_or_new_is_told(before: Path, tmp_path: Path) -> None:
    (tmp_path / "new.txt").write_text("GET /")
    told = list(differences(before, tmp_path))
    assert "new.txt: is new" in told
    assert "own-sheets/keep.txt: is no longer there" in told


def test_an_address_that_was_not_played_is_named() -> None:
    described: dict[str, dict[str, object]] = {"/v1/specs/{spec_id}": {"get": {}, "put": {}}, "/v1/specs/schema": {"get": {}}}
    played = {("GET", "/v1/specs/schema"), ("PUT", "/v1/specs/card")}
    assert not_played(described, played) == ["GET /v1/specs/{spec_id}"]
