"""Numbers and page lists as a designer reads them, the same in every message."""

from __future__ import annotations

from collections.abc import Iterable, Sequence


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
    return listed(str(first) if first == last else f"{first}–{last}" for first, last in runs)


def pages_phrase(numbers: Sequence[int]) -> str:
    """'Page 2' or 'Pages 2–5', to open a sentence."""
    return f"{'Page' if len(set(numbers)) == 1 else 'Pages'} {page_list(numbers)}"


def verb(numbers: Sequence[int], one: str, many: str) -> str:
    """The verb that goes with `pages_phrase`."""
    return one if len(set(numbers)) == 1 else many


def counted(count: int, noun: str, plural: str | None = None) -> str:
    """(1, 'page') → '1 page'; (12, 'page') → '12 pages'."""
    return f"{count} {noun if count == 1 else plural or noun + 's'}"


def listed(words: Iterable[str], last: str = "and") -> str:
    """('a', 'b', 'c') → 'a, b and c'."""
    parts = list(words)
    return f"{', '.join(parts[:-1])} {last} {parts[-1]}" if len(parts) > 1 else "".join(parts)


def first_few(words: Sequence[str], most: int = 5) -> str:
    """The first of many names, and how many more there are."""
    kept = list(words[:most])
    return listed([*kept, f"{len(words) - most} more"] if len(words) > most else kept)


def quoted(text: str, most: int = 60) -> str:
    """Words from the file, safe to show: on one line, without control characters, not endless."""
    plain = " ".join("".join(one if one.isprintable() else " " for one in text).split())
    return f"‘{plain if len(plain) <= most else plain[: most - 1] + '…'}’"
