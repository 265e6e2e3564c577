"""Measurements of other people's files, made once for all the tests that compare them with something."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from service.pdf.facts.measurements import Measurements
from service.pdf.measure import measure


@cache
def measured_once(path: Path) -> Measurements:
    return measure(path)
