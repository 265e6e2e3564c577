"""The linearization dictionary against the file that it stands in."""

from __future__ import annotations

import re
from pathlib import Path

import pikepdf
import pytest

from service.pdf.facts.document import Linearization
from service.pdf.facts.unknown import Unmeasured
from service.pdf.measure import measure
from tests.build import document, page


@pytest.fixture
def linearized(tmp_path: Path) -> Path:
    """Three pages."""
    plain = document(*(page(85, 55).fill(cyan=1).text("Rye", size=9, at=(10, 20)) for _ in range(3))).save(tmp_path / "plain.pdf")
    with pikepdf.open(plain) as pdf:
        pdf.save(tmp_path / "fast.pdf", linearize=True)
    return tmp_path / "fast.pdf"


def found(path: Path) -> Linearization | Unmeasured | None:
    return measure(path).document.linearization


def test_a_linearized_file_matches_its_dictionary(linearized: Path) -> None:
    assert found(linearized) == Linearization(())


def test_a_plain_file_has_no_such_dictionary(linearized: Path) -> None:
    assert found(linearized.with_name("plain.pdf")) is None


def test_a_file_that_was_added_to_no_longer_matches(linearized: Path) -> None:
    linearized.write_bytes(linearized.read_bytes() + b"\n% a later change\n")
    result = found(linearized)
    assert isinstance(result, Linearization)
    assert len(result.faults) == 1
    assert f"{linearized.stat().st_size:,}" in result.faults[0].english


@pytest.mark.parametrize(("key", "fault"), [(b"N", "pages"), (b"O", "another"), (b"E", "first part"), (b"L", "length")])
def test_a_dictionary_that_states_something_else(linearized: Path, key: bytes, fault: str) -> None:
    data = linearized.read_bytes()
    value = re.search(rb"/" + key + rb" (\d+)", data)
    assert value
    other = b"1".rjust(len(value[1]), b"0") if value[1] != b"1" else b"2"
    linearized.write_bytes(data[: value.start(1)] + other + data[value.end(1) :])
    result = found(linearized)
    assert isinstance(result, Linearization)
    assert [fault in one.english for one in result.faults] == [True]


def test_the_word_somewhere_later_does_not_count(tmp_path: Path) -> None:
    path = document(page(85, 55).fill(cyan=1)).info(Title="/Linearized 1").save(tmp_path / "card.pdf")
    assert found(path) is None
