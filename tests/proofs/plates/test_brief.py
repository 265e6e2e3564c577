"""What comes back from drawing may come from a process that a file has taken over: only what ours would say is believed."""

from __future__ import annotations

import io
import json
from typing import Any

import pytest
from PIL import Image

from service.pdf.facts.geometry import Box
from service.proofs.plates.brief import PlatesTold, grey_png, told_from_json, told_to_json

HUES = {"Cyan": "#00adef", "Copper": "#b06a3b"}
TOLD = PlatesTold(Box(-3, -3, 88, 58), 359, 241, 100.0, {"Cyan": 12.5, "Copper": 0.0}, 170.0, None, HUES)


def png(mode: str = "L", size: tuple[int, int] = (4, 3)) -> bytes:
    written = io.BytesIO()
    Image.new(mode, size).save(written, "PNG")
    return written.getvalue()


def test_the_facts_come_through_as_they_are() -> None:
    assert told_from_json(told_to_json(TOLD), ("Cyan", "Copper")) == TOLD


@pytest.mark.parametrize(
    "change",
    [
        {"area_mm": [0, 0, 1]}, {"area_mm": [0, 0, 1, "1"]}, {"width_px": 0}, {"width_px": 10**9}, {"height_px": 1.5},
        {"ppi": None}, {"ppi": float("nan")}, {"highest_percent": float("inf")},
        {"coverage_percent": {"Copper": 1.0, "Cyan": 1.0}},
        {"coverage_percent": {"Cyan": 1.0, "Copper": True}}, {"conversion": 7}, {"hues": {"Cyan": "#00adef"}},
        {"hues": {**HUES, "Copper": "red;}"}}, {"hues": {**HUES, "Copper": 7}}, {"hues": {**HUES, "Copper": "#00adef\n"}},
    ],
)
def test_facts_that_ours_would_not_say_are_refused(change: dict[str, Any]) -> None:
    told = json.loads(told_to_json(TOLD)) | change
    with pytest.raises(ValueError, match=r"number|facts|colour"):
        told_from_json(json.dumps(told).encode(), ("Cyan", "Copper"))


@pytest.mark.parametrize("data", [b"", b"[]", b"\xff", b"[" * 100_000, b'{"area_mm": 1}'])
def test_what_is_no_facts_at_all_is_refused(data: bytes) -> None:
    with pytest.raises(ValueError, match=r"."):
        told_from_json(data, ("Cyan", "Copper"))


def test_a_grey_png_is_taken() -> None:
    assert grey_png(png()) == png()


@pytest.mark.parametrize(
    "data", [b"", b"<svg/>", b"GIF89a", png("RGB"), png("1"), png()[:-1], png() + b"<script>", png().replace(b"IHDR", b"IHDS")]
)
def test_another_kind_of_bytes_is_refused(data: bytes) -> None:
    with pytest.raises(ValueError, match="no grey PNG"):
        grey_png(data)
