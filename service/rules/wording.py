"""Numbers and page lists as a designer reads them, the same in every message."""

from __future__ import annotations

from collections.abc import Sequence


def number(value: float, digits: int = 1) -> str:
    """1.20 → '1.2', 3.0 → '3'."""
    return f"{value:.{digits}f}".rstrip("0").rstrip(".") if digits else f"{value:.0f}"


def millimetres(value: float) -> str:
    return f"{number(value)} mm"


def size(width_mm: float, height_mm: float) -> str:
    return f"{number(width_mm)} × {number(height_mm)} mm"


def page_list(numbers: Sequence[int]) -> str:
    """(1, 2, 3, 7) → '1–3 and 7'."""
    runs: list[tuple[int, int]] = []
    for one in sorted(set(numbers)):
        if runs and one == runs[-1][1] + 1:
            runs[-1] = (runs[-1][0], one)
        else:
            runs.append((one, one))
    parts = [str(first) if first == last else f"{first}–{last}" for first, last in runs]
    return parts[0] if len(parts) == 1 else f"{', '.join(parts[:-1])} and {parts[-1]}"


def pages_phrase(numbers: Sequence[int]) -> str:
    """'Page 2' or 'Pages 2–5', to open a sentence."""
    return f"{'Page' if len(set(numbers)) == 1 else 'Pages'} {page_list(numbers)}"
