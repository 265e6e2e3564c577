"""`python -m tests.bench.catalogue [COUNT]`: a catalogue of 10,000 sheets of its own over HTTP: how long it is looked through.

Prints processor seconds of this process, which serves and asks, the first call apart from the median of those after it.
"""

from __future__ import annotations

import statistics
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from service import create_app
from service.settings import read_settings
from service.wiring import make_parts
from tests.build import page

_TIMES = 7
_ASKED = ("", "&trim=85x55", "&trim=3.35x2.17in&product=flyer", "&trim=85x55&q=product", "&page=200", "&q=halyard")
_SIZES = [(width, height) for width in range(50, 250, 5) for height in range(40, 300, 5)]


def sheets(count: int) -> list[dict[str, object]]:
    return [
        {
            "id": f"product-{number}",
            "extends": "flyer-a6",
            "title": f"Product {number}",
            "trim": {"width": f"{width} mm", "height": f"{height} mm"},
        }
        for number in range(count)
        for width, height in [_SIZES[number % len(_SIZES)]]
    ]


def main(count: int = 10_000) -> None:
    with tempfile.TemporaryDirectory(prefix="catalogue-") as folder:
        parts = make_parts(read_settings({"PRINT_SPEC_DATA": folder, "PRINT_SPEC_WORKERS": "1"}))
        caller = create_app(parts=parts).test_client()
        pdf = page(85, 55, bleed=3).fill(cyan=1).save(Path(folder, "card.pdf")).read_bytes()
        try:
            catalogue = {"id": "bench", "title": "Bench", "defaults": {"bleed": {"minimum": "4 mm"}}, "sheets": sheets(count)}
            spent = _spent(lambda: caller.post("/v1/catalogues", json=catalogue).status_code, 201)
            print(f"kept with {count} sheets: {spent:.2f} s")
            find = "/v1/specs?catalogue=bench"
            for what in _ASKED:
                _tell(find + what, lambda what=what: caller.get(find + what).status_code)  # type: ignore[misc]
            address = "/v1/specs/matches?catalogue=bench"
            _tell("which one is it", lambda: caller.post(address, data=pdf, content_type="application/pdf").status_code)
            _tell("/v1/specs?trim=85x55", lambda: caller.get("/v1/specs?trim=85x55").status_code)
        finally:
            parts.close()


def _tell(what: str, call: Callable[[], int]) -> None:
    first, *others = (_spent(call, 200) for _ in range(_TIMES + 1))
    print(f"{what}: first {first * 1000:.0f} ms, then {statistics.median(others) * 1000:.0f} ms")


def _spent(call: Callable[[], int], expected: int) -> float:
    start = time.process_time()
    status = call()
    assert status == expected, status
    return time.process_time() - start


if __name__ == "__main__":
    main(*map(int, sys.argv[1:]))
