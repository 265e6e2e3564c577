"""Linearization against qpdf (`--check-linearization`) and poppler's pdfinfo ('Optimized')."""

from __future__ import annotations

import subprocess
from collections.abc import Callable
from pathlib import Path

import pytest

from service.pdf.facts.document import Linearization
from service.pdf.measure import measure
from tests.build import document, page
from tests.outside import producers
from tests.outside_tools import tool


def built() -> bytes:
    return document(*(page(85, 55).fill(cyan=1).text("Rye", size=9, at=(10, 20)) for _ in range(3))).bytes()


@pytest.mark.parametrize("producer", [built, producers.by_reportlab, producers.by_cairo, producers.by_typst])
@pytest.mark.parametrize("state", ["plain", "linearized", "with object streams", "added to"])
def test_fast_viewing_is_what_qpdf_and_poppler_see(producer: Callable[[], bytes], state: str, tmp_path: Path) -> None:
    plain, path = tmp_path / "plain.pdf", tmp_path / "file.pdf"
    plain.write_bytes(producer())
    streams = "generate" if state == "with object streams" else "disable"
    tool("qpdf")(*(() if state == "plain" else ("--linearize",)), f"--object-streams={streams}", plain, path)
    if state == "added to":
        path.write_bytes(path.read_bytes() + b"\n%added\n")
    found = measure(path).document.linearization
    ours = isinstance(found, Linearization) and not found.faults
    assert ours is (state in ("linearized", "with object streams"))
    assert ("Optimized:       yes" in tool("pdfinfo")(path)) is ours
    try:
        checked = "no linearization errors" in tool("qpdf")("--check-linearization", path)
    except subprocess.CalledProcessError:
        checked = False
    assert checked is ours
