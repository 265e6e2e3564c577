"""Numbers and page lists as a designer reads them, the same in every message."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import floor, gcd


def number(value: float, digits: int = 1) -> str:
    """1.20 → '1.2', 3.0 → '3'."""
    return f"{value:.{digits}f}".rstrip("0").rstrip(".") if digits else f"{value:.0f}"


def millimetres(value: float) -> str:
    return f"{number(value)} mm"


def size(width_mm: float, height_mm: float) -> str:
    return f"{number(width_mm)} × {number(height_mm)} mm"


def asked_length(value_mm: float) -> str:
    """A length that a sheet asks for; one that was plainly set in inches says so: '3.2 mm (1/8 in)'."""
    return f"{millimetres(value_mm)} ({_inches(value_mm)} in)" if _set_in_inches(value_mm) else millimetres(value_mm)


def asked_size(width_mm: float, height_mm: float) -> str:
    """The size of the product: '152.4 × 101.6 mm (6 × 4 in)' where it was set in inches."""
    both = width_mm, height_mm
    if all(_is_sixteenths(one) for one in both) and any(_set_in_inches(one) for one in both):
        return f"{size(*both)} ({_inches(width_mm)} × {_inches(height_mm)} in)"
    return size(*both)


def _is_sixteenths(value_mm: float) -> bool:
    return abs(value_mm / 25.4 * 16 - round(value_mm / 25.4 * 16)) < 1e-3


def _set_in_inches(value_mm: float) -> bool:
    """Sixteenths of an inch that are no round number of millimetres."""
    return value_mm > 0 and _is_sixteenths(value_mm) and abs(value_mm * 2 - round(value_mm * 2)) > 1e-3


def _inches(value_mm: float) -> str:
    sixteenths = round(value_mm / 25.4 * 16)
    common = gcd(sixteenths, 16)
    return f"{sixteenths // common}/{16 // common}" if sixteenths < 16 else number(sixteenths / 16, 4)


def ppi_under(value: float, limit: float) -> str:
    """A resolution below its limit, in whole ppi that never read like the limit: 71.6 under 72 is '71 ppi'."""
    whole = number(value, 0)
    return f"{floor(value) if float(whole) >= limit else whole} ppi"


def area(square_mm: float) -> str:
    """4220 → '42 cm²': large areas in square centimetres."""
    return f"{number(square_mm / 100, 0)} cm²" if square_mm >= 1000 else f"{number(square_mm, 0)} mm²"


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


def on_pages(numbers: Sequence[int]) -> str:
    """'page 2' or 'pages 2–5', inside a sentence."""
    return f"{'page' if len(set(numbers)) == 1 else 'pages'} {page_list(numbers)}"


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
